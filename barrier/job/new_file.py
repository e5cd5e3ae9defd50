"""Writes a first job file from answers: what was answered as it was answered, everything else marked as not known.

Three marks: an answer stands as it was given; ``"unknown"`` where the job file takes that; else an ordinary figure with
``NOT MEASURED`` beside it, which is there to be replaced.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from barrier.job.quantity import parse
from barrier.job.wind_questions import wind_lines

NOT_MEASURED = "NOT MEASURED"

# Stand-ins for sizes that were not answered. Common practice, no source; the file says of each that it was not measured.
STAND_IN = {
    "width": "1200 mm", "top": "1100 mm", "gap": "50 mm", "thickness": "10 mm", "mounts": "2", "edge": "150 mm",
    "grip": "70 mm", "plate": "100 mm", "screw": "8 mm x 100 mm", "decking": "28 mm", "piece": "45 mm x 195 mm",
}  # fmt: skip
BASIS = {
    "uk": ("en", "uk", "metric"), "germany": ("en", "", "metric"), "other europe": ("en", "", "metric"), "us": ("us", "", "us"),
    "australia": ("au", "", "metric"), "new zealand": ("nz", "", "metric"),
}  # fmt: skip
# Row of the load table for each answer; where the use is not known, the heaviest row.
USE = {
    "en": {"home": "A2", "shared": "C3", "crowd": "C5", "unknown": "C5"},
    "us": {"home": "one_two_family", "shared": "guard", "crowd": "guard", "unknown": "guard"},
    "au": {"home": "C3", "shared": "C3", "crowd": "C5", "unknown": "C5"},
    "nz": {"home": "domestic_deck", "shared": "commercial_deck", "crowd": "public", "unknown": "public"},
}
JOIST_SPACING, JOIST_WIDTH = 450.0, 45.0  # mm, common practice, no source


def job_file(answers: Mapping[str, str]) -> str:
    """The text of a job file.

    Argument: ``answers`` by key, checked; keys that are missing are not known. Returns TOML text.
    """
    return "\n".join([*_head(answers), *_panel(answers), *_mounts(answers), *_type(answers), *_deck(answers)]) + "\n"


def _mark(answers: Mapping[str, str], key: str, what: str) -> str:
    """The comment beside a figure."""
    return f"# {what}" if key in answers else f"# {NOT_MEASURED}: {what}"


def _of(answers: Mapping[str, str], key: str) -> str:
    return answers.get(key, STAND_IN[key])


def _mm(text: str) -> float:
    x = parse(text, "length")
    assert isinstance(x, float), x
    return x


def _written(x: float) -> str:
    return f'"{x:.10g} mm"'


def _head(answers: Mapping[str, str]) -> Iterator[str]:
    country = answers.get("country", "other europe")
    basis, national, units = BASIS[country]
    use = answers.get("use", "unknown")
    yield "# A first job file. Every line marked NOT MEASURED is a stand-in: measure it and replace the figure."
    yield '# Every "unknown" keeps a check from being made, or makes it assume the worse. Nothing here is a design.'
    yield 'title = "New job"'
    yield "invented = false"
    yield f'units = "{units}"'
    yield f'basis = "{basis}"' + ("" if "country" in answers else "                    # not known whose codes apply: ask")
    yield f'national = "{national}"' + (
        "" if national or basis != "en" else "                   # no national table of loads: give them under [loads]"
    )
    yield ""
    yield "[site]"
    heaviest = "" if "use" in answers else "   # use not known: the heaviest row of the table; find out and replace it"
    if (basis, use) == ("nz", "crowd"):
        heaviest = "   # the table has no row for crowds: ask the engineer for the loads and give them under [loads]"
    yield f'use = "{USE[basis][use]}"{heaviest}'
    yield "outdoors = true"
    yield f'fall_height = "{answers.get("fall", "unknown")}"'
    yield 'below = "unknown"               # garden | paving | people pass | water'
    yield "service_class = 3               # wet"
    yield 'treated_timber = "unknown"      # true | false'
    yield 'pool = "unknown"                # true | false'
    yield ""
    yield '# [loads]                       # each in place of its own in the table, if an engineer gives it; "none" leaves it out'
    yield '# line = "0.74 kN/m"'
    yield '# reference = "whose letter, which date"'
    yield from wind_lines(answers)


def _panel(answers: Mapping[str, str]) -> Iterator[str]:
    top, gap = _mm(_of(answers, "top")), _mm(_of(answers, "gap"))
    height = "top" if "top" in answers and "gap" in answers else ""
    yield ""
    yield "[[panels]]"
    yield 'name = "P1"'
    yield f'width = "{_of(answers, "width")}"  {_mark(answers, "width", "one panel")}'
    shown = "of the glass: top above the decking less the gap below"
    yield f"height = {_written(top - gap)}  " + (f"# {shown}" if height else f"# {NOT_MEASURED}: {shown}")
    yield f'bottom_gap = "{_of(answers, "gap")}"  {_mark(answers, "gap", "decking to the bottom edge of the glass")}'
    yield 'edge = "unknown"                # polished | seamed | cut'
    yield 'surface = "float"               # float | patterned | sandblasted | acid-etched'
    yield 'rail = "none"                   # none | interlinking | cap'
    yield "drilled = false                 # drilled or notched glass is refused"
    layers = _of(answers, "thickness").split(" + ")
    for layer in layers:
        yield "[[panels.layers]]"
        yield f'glass = "{answers.get("glass", "unknown")}"'
        yield f'nominal = "{layer}"  {_mark(answers, "thickness", "nominal thickness of this layer")}'
    if len(layers) > 1:
        yield "[panels.interlayer]"
        yield 'kind = "unknown"                # ask the glass supplier'
        yield f'thickness = "1.52 mm"           # {NOT_MEASURED}: thickness of the interlayer'


def _mounts(answers: Mapping[str, str]) -> Iterator[str]:
    count, width = int(_of(answers, "mounts")), _mm(_of(answers, "width"))
    first = _mm(_of(answers, "edge")) + _mm(_of(answers, "plate")) / 2
    known = all(k in answers for k in ("mounts", "width", "edge", "plate"))
    for i in range(count):
        x = first + (width - 2 * first) * i / (count - 1)
        yield ""
        yield "[[mounts]]"
        yield f'name = "M{i + 1}"'
        yield 'panel = "P1"'
        yield f"x = {_written(x)}  # {'' if known else NOT_MEASURED + ': '}centre of the mount from the left end of the glass"
        yield 'type = "T1"'
        if _blocked(answers):
            yield 'support = "blocking"'
            yield f'blocking = "B{i + 1}"'
            middle = (JOIST_SPACING - JOIST_WIDTH) / 2
            yield f"in_bay = {_written(middle)}  # {NOT_MEASURED}: from the left end of the blocking"
            yield f'offset = "0 mm"  # {NOT_MEASURED}: from the centre line of the blocking, + towards the drop side'
        else:
            seen = "no blocking under it" if answers.get("blocking") == "0" else "what is below was not seen: look"
            yield f'support = "decking only"        # blocking | edge joist | decking only; {seen}'


def _blocked(answers: Mapping[str, str]) -> bool:
    return answers.get("blocking", "0") != "0"


def _type(answers: Mapping[str, str]) -> Iterator[str]:
    side, screw = _mm(_of(answers, "plate")), _of(answers, "screw").split(" x ")
    yield ""
    yield "[mount_types.T1]"
    yield "drilled = false                 # drilling a solid mount voids its rating"
    yield 'material = "unknown"'
    yield 'spreader = "unknown"            # is there a rigid plate between grub screw and liner?'
    yield 'earthed = "unknown"             # yes | no; ask an electrician'
    yield 'rating = "unknown"              # of the supplier: ask for it, see the worked example for what to ask'
    yield "[[mount_types.T1.pads]]"
    yield f"width = {_written(side / 2)}  # {NOT_MEASURED}: width of the clamp on the glass"
    yield 'bottom = "0 mm"'
    yield f'top = "{_of(answers, "grip")}"  {_mark(answers, "grip", "how far up the glass the clamp reaches")}'
    yield "[mount_types.T1.plate]"
    yield 'shape = "rectangle"             # rectangle | round'
    for key in ("along", "across"):
        yield f'{key} = "{_of(answers, "plate")}"  {_mark(answers, "plate", "base plate")}'
    yield f'thickness = "8 mm"              # {NOT_MEASURED}: thickness of the base plate'
    yield 'yield_strength = "unknown"      # ask the supplier'
    yield 'clamp_reach = "unknown"         # half depth of the clamp post on the plate'
    yield "[mount_types.T1.screw]"
    yield f'diameter = "{screw[0]}"  {_mark(answers, "screw", "outer thread diameter")}'
    yield f'length = "{screw[1]}"  {_mark(answers, "screw", "whole length under the head")}'
    yield 'root = "unknown"                # measure the core between the threads'
    yield 'threaded = "unknown"            # measure the thread, tip included'
    yield 'material = "unknown"            # stainless | coated | plain'
    yield 'ultimate_strength = "unknown"   # ask the supplier'
    inset = max(min(0.35 * side, side / 2 - _mm(screw[0]) / 2), 0.0)
    for i, (sx, sy) in enumerate(((-1, -1), (1, -1), (-1, 1), (1, 1)), 1):
        yield "[[mount_types.T1.screws]]"
        yield f'name = "S{i}"'
        yield f"x = {_written(sx * inset)}  # {NOT_MEASURED}: along the glass, from the centre of the plate"
        yield f"y = {_written(sy * inset)}  # {NOT_MEASURED}: across, + towards the drop side"


def _deck(answers: Mapping[str, str]) -> Iterator[str]:
    yield ""
    yield "[decking]"
    yield f'thickness = "{_of(answers, "decking")}"  {_mark(answers, "decking", "one board")}'
    yield 'board_width = "unknown"'
    yield 'gap = "unknown"'
    yield 'direction = "unknown"           # along | across the glass line'
    yield "grooved = true                  # false if the boards are flat on both sides"
    yield f'gap_under = "{answers.get("gap_under", "unknown")}"           # between boards and blocking: look from below'
    yield 'material = "unknown"            # { en = "C24" } or { us = "Douglas Fir-Larch" }: read the stamp'
    yield 'board_screws = "unknown"'
    if _blocked(answers):
        yield from _blocking(answers)
    yield ""
    yield "[joists]"
    yield f"spacing = {_written(JOIST_SPACING)}  # {NOT_MEASURED}: centre to centre"
    yield 'width = "unknown"'
    yield 'depth = "unknown"'
    yield 'direction = "unknown"           # across | along the glass line'
    yield 'material = "unknown"'
    yield 'span = "unknown"                # between the two supports nearest the glass'
    yield 'overhang = "0 mm"               # NOT MEASURED: beyond the outer support'
    yield 'mount_from_end = "unknown"      # from the outer end of a joist to the middle of the mounts'
    yield 'dead_load = "unknown"           # what one joist carries at all times: ask the engineer'
    yield 'imposed_load = "unknown"        # people and goods on one joist: ask the engineer'
    yield "# [joists.outer] and [joists.inner]: bearer or bracket, see the worked example"
    yield ""
    yield "[limits]"
    yield 'top_movement = "unknown"        # agree it with the engineer, with limits.reference'


def _blocking(answers: Mapping[str, str]) -> Iterator[str]:
    width, depth = _of(answers, "piece").split(" x ")
    yield ""
    yield "[blocking.B1]"
    yield f"pieces = {answers['blocking']}"
    yield f'width = "{width}"  {_mark(answers, "piece", "of one piece")}'
    yield f'depth = "{depth}"  {_mark(answers, "piece", "of one piece")}'
    yield f"length = {_written(JOIST_SPACING - JOIST_WIDTH)}  # {NOT_MEASURED}: clear between the joists"
    yield f'direction = "along"             # {NOT_MEASURED}: along | across the glass line'
    yield 'laid = "unknown"                # upright | flat'
    yield 'laminated = "unknown"           # loose | factory; pieces glued on site are loose'
    yield 'material = "unknown"            # { en = "C24" } or { us = "Douglas Fir-Larch" }: read the stamp'
    for side in ("left", "right"):
        yield f"[blocking.B1.{side}]"
        yield f'fixing = "{answers.get("ends", "unknown")}"'
        if answers.get("ends") == "bracket":
            yield "# uplift, down, sideways, torque, meaning and reference: without the bracket's rating nothing is credited"
            yield "# stiffness: force per slip, for the movement; highest, lowest: screws from the lower and the upper edge"
        if answers.get("ends") in ("nails", "screws"):
            yield 'number = "unknown"              # per piece'
            yield 'diameter = "unknown"'
            yield 'length = "unknown"'
            yield 'grain = "end"                   # end: driven through the joist into the end of the piece | side'
    for i in range(2, int(_of(answers, "mounts")) + 1):
        yield f"[blocking.B{i}]"
        yield 'same_as = "B1"'
