"""Writes a first job file from answers: what was answered as it was answered, everything else assumed or not known.

Three kinds of entry: an answer stands as it was given; ``"unknown"`` where the job file takes that; else a figure of common
practice that the entry itself calls assumed, and that the sheet marks wherever it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import hypot

from barrier.job.new_deck import deck
from barrier.job.stand_ins import BASIS, CORE, THREAD, Answers, assumed, mm_of, written
from barrier.job.wind_questions import wind_lines

__all__ = ["BASIS", "job_file"]

# Row of the load table for each answer; where the use is not known, the heaviest row.
USE = {
    "en": {"home": "A2", "shared": "C3", "crowd": "C5", "unknown": "C5"},
    "us": {"home": "one_two_family", "shared": "guard", "crowd": "guard", "unknown": "guard"},
    "au": {"home": "C3", "shared": "C3", "crowd": "C5", "unknown": "C5"},
    "nz": {"home": "domestic_deck", "shared": "commercial_deck", "crowd": "public", "unknown": "public"},
}
# Line load EN 1991-1-1 Table 6.12 recommends where a country says nothing else, from memory; where the use is not known, of crowds.
RECOMMENDED = {"home": "0.5 kN/m", "shared": "0.8 kN/m", "crowd": "3.0 kN/m", "unknown": "3.0 kN/m"}
HEAVIEST = "the heaviest row of the table; find out who uses it"
SERVICE_CLASS = {"weather": 3, "under a roof": 2, "indoors": 1}


def job_file(answers: Mapping[str, str]) -> str:
    """The text of a job file.

    Argument: ``answers`` by key, checked; keys that are missing are not known. Returns TOML text.
    """
    a = Answers(answers)
    return "\n".join([*_head(a), *wind_lines(answers), *_panel(a), *_mounts(a), *_type(a), *deck(a)]) + "\n"


def _head(a: Answers) -> Iterator[str]:
    use = a.get("use")
    yield "# A first job file. What is marked as assumed is a stand-in of common practice: measure it and write the figure alone."
    yield '# Every "unknown" keeps a check from being made, or makes it assume the worse. Nothing here is a design.'
    yield 'title = "New job"'
    yield "invented = false"
    yield f'units = "{a.units}"'
    yield f'basis = "{a.basis}"' + ("" if "country" in a else "                    # not known whose codes apply: ask")
    yield f'national = "{a.national}"' + (
        "" if a.national or a.basis != "en" else "                   # no national table of loads: give them under [loads]"
    )
    yield ""
    yield "[site]"
    row = f'"{USE[a.basis][use]}"'
    told = "   # the table has no row for crowds: ask the engineer for the loads, under [loads]" if use == "crowd" else ""
    yield f"use = {row}{told if a.basis == 'nz' else ''}" if "use" in a else assumed("use", row, HEAVIEST)
    if "exposure_to_weather" in a:
        yield f"outdoors = {'false' if a.get('exposure_to_weather') == 'indoors' else 'true'}"
        yield (
            f"service_class = {SERVICE_CLASS[a.get('exposure_to_weather')]}".ljust(32) + "# 1 indoors, 2 under a roof, 3 rained on"
        )
    else:
        yield assumed("outdoors", "true", "not said; outdoors is the worse")
        yield assumed("service_class", "3", "not said; wet is the worst")
    yield f'fall_height = "{a.get("fall")}"'
    yield f'below = "{a.get("below")}"               # garden | paving | people pass | water'
    yield f'barrier_height = "{a.get("top")}"         # top of the glass above the decking'
    yield 'treated_timber = "unknown"      # true | false'
    yield 'pool = "unknown"                # true | false'
    if a.basis in ("au", "nz"):
        yield ""
        yield "[timber]"
        yield assumed("category", "2", "no text names a barrier; 1 is a minor member of a house, 2 is more")
        yield assumed("tropics", "false", "not coastal Queensland north of 25 S, elsewhere not north of 16 S")
    yield ""
    if a.basis == "en" and not a.national:
        told = "EN 1991-1-1 recommends so, as remembered; the national annex decides: ask the engineer"
        yield "[loads]"
        yield assumed("line", f'"{RECOMMENDED[use]}"', told)
        yield 'reference = "recommended value of EN 1991-1-1 Table 6.12, as remembered; not that of a country"'
        return
    yield '# [loads]                       # each in place of its own in the table, if an engineer gives it; "none" leaves it out'
    yield '# line = "0.74 kN/m"'
    yield '# reference = "whose letter, which date"'


def _panel(a: Answers) -> Iterator[str]:
    yield ""
    yield "[[panels]]"
    yield 'name = "P1"'
    yield a.entry("width", "width", "measure one panel along the barrier")
    yield a.size("height", a.mm("top") - a.mm("gap"), "of the glass: its top above the decking less the gap below", "top", "gap")
    yield a.entry("bottom_gap", "gap", "measure from the decking to the bottom edge of the glass")
    yield f'edge = "{a.get("finish")}"               # polished | seamed | cut'
    yield 'surface = "float"               # float | patterned | sandblasted | acid-etched'
    yield f'rail = "{a.get("rail", "none")}"                   # none | interlinking | cap'
    yield "drilled = false                 # drilled or notched glass is refused"
    layers = a.of("thickness").split(" + ")
    for layer in layers:
        yield "[[panels.layers]]"
        yield f'glass = "{a.get("glass")}"'
        how = "look at the stamp in a corner, or measure at an edge"
        yield (
            f'nominal = "{layer}"  # nominal thickness of this layer'
            if "thickness" in a
            else assumed("nominal", f'"{layer}"', a.why(how))
        )
    if len(layers) > 1:
        yield "[panels.interlayer]"
        yield 'kind = "unknown"                # ask the glass supplier'
        yield assumed("thickness", '"1.52 mm"', "a usual film; ask the glass supplier")


def _mounts(a: Answers) -> Iterator[str]:
    count, width = int(a.of("mounts")), a.mm("width")
    first = a.mm("edge") + a.mm("plate") / 2
    for i in range(count):
        x = first + (width - 2 * first) * i / (count - 1)
        yield ""
        yield "[[mounts]]"
        yield f'name = "M{i + 1}"'
        yield 'panel = "P1"'
        yield a.size("x", x, "centre of the mount from the left end of the glass", "mounts", "width", "edge", "plate")
        yield 'type = "T1"'
        if a.get("blocking", "0") != "0":
            yield 'support = "blocking"'
            yield f'blocking = "B{i + 1}"'
            clear = a.mm("joist_spacing") - mm_of(a.of("joist").split(" x ")[0])
            yield a.size("in_bay", clear / 2, "measure from the left end of the blocking to the middle of the mount")
            yield assumed("offset", '"0 mm"', "on the centre line of the blocking; measure how far off it, + towards the drop side")
        else:
            seen = "no blocking under it" if a.get("blocking") == "0" else "what is below was not seen: look"
            yield f'support = "decking only"        # blocking | edge joist | decking only; {seen}'


def _type(a: Answers) -> Iterator[str]:
    diameter, length = (mm_of(part) for part in a.of("screw").split(" x "))
    yield ""
    yield "[mount_types.T1]"
    yield "drilled = false                 # drilling a solid mount voids its rating"
    yield 'material = "unknown"'
    yield 'spreader = "unknown"            # is there a rigid plate between grub screw and liner?'
    yield 'earthed = "unknown"             # yes | no; ask an electrician'
    yield 'rating = "unknown"              # of the supplier: ask for it, see the worked example for what to ask'
    yield "[[mount_types.T1.pads]]"
    yield a.entry("width", "clamp_width", "measure the clamp on the glass, along the barrier")
    yield 'bottom = "0 mm"'
    yield a.entry("top", "grip", "measure how far up the glass the clamp reaches")
    yield "[mount_types.T1.plate]"
    yield f'shape = "{a.get("plate_shape", "rectangle")}"             # rectangle | round'
    for key in ("along", "across"):
        yield a.entry(key, "plate", "measure the base plate")
    yield a.entry("thickness", "plate_thickness", "measure the base plate at its edge")
    yield 'yield_strength = "unknown"      # ask the supplier'
    yield 'clamp_reach = "unknown"         # half depth of the clamp post on the plate'
    yield "[mount_types.T1.screw]"
    yield f'kind = "{a.get("screw_kind")}"'.ljust(32) + "# coach screw | wood screw | structural screw"
    yield a.entry("diameter", "screw", "measure over the thread", 0)
    yield a.entry("length", "screw", "take one out and measure it under its head", 1)
    for name, key, share, how in (
        ("root", "core", CORE * diameter, f"{CORE:g} of the diameter; measure the core between the threads with a calliper"),
        ("threaded", "thread", THREAD * length, f"{THREAD:g} of the length; take one out and measure the thread, tip included"),
    ):  # fmt: skip
        yield f'{name} = "{a.get(key)}"' if key in a else assumed(name, written(round(share, 1), "metric"), f"not measured: {how}")
    yield 'material = "unknown"            # stainless | coated | plain'
    yield 'ultimate_strength = "unknown"   # ask the supplier'
    yield from _holes(a, diameter)


def _holes(a: Answers, diameter: float) -> Iterator[str]:
    """Four screws, as far apart as was said if they fit on the plate, else as far as it leaves room for."""
    x, y = (mm_of(part) / 2 for part in a.of("holes").split(" x "))
    round_plate, half = a.get("plate_shape") == "round", a.mm("plate") / 2
    fits = hypot(x, y) + diameter / 2 <= half if round_plate else max(x, y) + diameter / 2 <= half
    if not (fits and "holes" in a):
        room = max(half - diameter / 2, 0.0)
        x = y = room * 0.65 if round_plate else min(0.7 * half, room)
    for i, (sx, sy) in enumerate(((-1, -1), (1, -1), (-1, 1), (1, 1)), 1):
        yield "[[mount_types.T1.screws]]"
        yield f'name = "S{i}"'
        for axis, at, how in (("x", sx * x, "along the glass"), ("y", sy * y, "across, + towards the drop side")):
            how = f"from the centre of the plate, {how}"
            if fits or "holes" not in a:
                yield a.size(axis, at, how, "holes")
            else:
                yield assumed(axis, written(at, a.units), f"{a.of('holes')} apart does not fit on the plate; measure again {how}")
