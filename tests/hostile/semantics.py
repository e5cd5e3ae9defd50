"""What must be so whatever the numbers are, over random valid jobs: a script with a seed; a small slice of it runs with the tests.

    python tests/hostile/semantics.py --jobs 1000 --seed 7

Each job is a bundled one with many of its quantities a little larger or smaller; what the reader of jobs refuses is drawn
again. Then one thing is changed of which the effect is known without any calculation: more load (no required utilisation
falls), left for right, inches for millimetres, panels in another order (nothing changes), one screw more (no mount holds less),
thicker glass (no stress rises). And whichever it is: no required check comes or goes, but for those named in MAY_GO.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal, localcontext
from pathlib import Path

from barrier.errors import JobRefused
from barrier.job import Job, job_from_text
from barrier.load_path import Result, check
from barrier.result import Check, Ending, Lack, Standing

ROOT = Path(__file__).resolve().parents[2]
QUICK = ("garden_deck", "everyday_deck", "au_deck", "australian_deck", "nz_deck", "boards_only")  # metric, a third of a second each
# Relative. Ties are settled and the contact model closes within 1e-6; a bed that is all but used up turns further for each bit of
# that, so it is taken times the utilisation where this is above 1 (a turn of 13 times the limit was found 1.4e-5 apart).
SOLVED = 2e-6
MOVED = re.compile(r'= "(\d+(?:\.\d+)?) (mm|kN|kN/m|kN/m2|MPa|N/mm3|kN/mm|kg|kN m)"')
STAY = ("barrier_height", "height", "nominal", "minimum", "length", "map_speed", "run_length", "from_end", "fall_height")
# Ids that a change may take away or bring, by property, with the reason. None is known.
MAY_GO: dict[str, dict[str, str]] = {}

INCH, POUND = Decimal("25.4"), Decimal("4.4482216152605")  # exact by definition
FOOT = 12 * INCH
TURNED = {
    "mm": ("in", INCH), "m": ("ft", FOOT / 1000), "kN": ("lbf", POUND / 1000), "kN/m": ("lbf/ft", POUND / FOOT),
    "kN/m2": ("lbf/ft2", POUND / FOOT**2 * 1000), "MPa": ("psi", POUND / INCH**2), "N/mm3": ("lbf/in3", POUND / INCH**3),
    "kN m": ("lbf ft", POUND * FOOT / 1_000_000), "kg": ("lb", Decimal("0.45359237")),
}  # fmt: skip
QUANTITY = re.compile(r'"(-?[0-9.]+) (' + "|".join(sorted(TURNED, key=len, reverse=True)) + r')"')


@dataclass
class Tally:
    """What came of it: comparisons by property, jobs refused while drawing, every violation with its job."""

    compared: Counter[str] = field(default_factory=Counter)
    jobs: Counter[str] = field(default_factory=Counter)
    refused: int = 0
    violations: list[str] = field(default_factory=list)


def drawn(draw: random.Random, name: str) -> str:
    """A bundled job with a third of its quantities moved by up to a twelfth."""
    lines = (ROOT / "worked_examples" / f"{name}.toml").read_text(encoding="utf-8").splitlines()
    for i, line in enumerate(lines):
        if line.lstrip().startswith(("#", *STAY)) or draw.random() > 0.33:
            continue
        lines[i] = MOVED.sub(lambda m: f'= "{float(m[1]) * draw.uniform(0.92, 1.08):.4g} {m[2]}"', line, count=1)
    return "\n".join(lines) + "\n"


def required(result: Result) -> dict[str, Check]:
    """The required checks of the job as it is described, by id."""
    return {c.id: c for c in result.sound.checks if c.standing is Standing.REQUIRED}


def gone(c: Check) -> bool:
    """Whether a check lets go: it exceeds without a number, or is not reached because something before it does."""
    return (c.ending is Ending.EXCEEDS and c.eta is None) or c.lack is Lack.REACH


def worse(less: Check, more: Check, slack: float = SOLVED) -> str:
    """What is wrong where ``more`` should be no better than ``less``; empty where nothing is."""
    if gone(less):
        return "" if gone(more) else f"{less.id} let go and has a number where more is asked"
    if less.eta is not None and more.eta is not None and more.eta < less.eta * (1 - slack):
        return f"{less.id} fell from {less.eta} to {more.eta}"
    if less.ending is Ending.EXCEEDS and more.ending is not Ending.EXCEEDS and more.lack is not Lack.REACH:
        return f"{less.id} no longer exceeds"
    return ""


def same(a: Check, b: Check) -> str:
    """What differs of two checks that should be one."""
    if (a.eta is None) is not (b.eta is None):
        return f"{a.id} has a number once only"
    if a.eta is not None and b.eta is not None and abs(a.eta - b.eta) > SOLVED * max(a.eta, 1e-6) * max(a.eta, 1.0):
        return f"{a.id}: {a.eta} and {b.eta}"
    if a.ending is not b.ending and (a.eta is None or abs(a.eta - 1) > SOLVED):
        return f"{a.id}: {a.ending} and {b.ending}"
    return ""


# ---------------------------------------------------------------- the properties: pairs of jobs and what is compared

Pair = tuple[dict[str, Check], dict[str, Check], Callable[[Check, Check], str]]


def _walked(job: Job) -> dict[str, Check]:
    return required(check(job))


def more_load(text: str, draw: random.Random) -> Pair:
    """Every load across the glass a little larger."""
    job, times = job_from_text(text), draw.uniform(1.02, 2.5)
    sizes = {
        "line": ("kN/m", draw.uniform(0.2, 1.2)),
        "point": ("kN", draw.uniform(0.1, 0.8)),
        "infill": ("kN/m2", draw.uniform(0.2, 1.2)),
    }

    def loaded(factor: float) -> Job:
        return job.with_({"loads.reference": "drawn"} | {f"loads.{k}": f"{s * factor!r} {u}" for k, (u, s) in sizes.items()})

    less, more = _walked(loaded(1.0)), _walked(loaded(times))

    def not_better(a: Check, b: Check) -> str:
        return "" if _case_is_not_reached(a, b, more) else worse(a, b)

    return less, more, not_better


def _case_is_not_reached(less: Check, more: Check, among: dict[str, Check]) -> bool:
    """Whether a number fell because the case that decided no longer comes so far: the mount lets go in it, and another decides.

    It must still exceed; what would be within in the cases that are left is not reached, and ``worse`` sees to that.
    """
    mount = more.id.rsplit(".", 1)[-1]
    lets_go = any(gone(c) and c.ending is Ending.EXCEEDS and c.id.endswith(f".{mount}") for c in among.values())
    return lets_go and more.ending is Ending.EXCEEDS and more.case != less.case


def in_inches(text: str, draw: random.Random) -> Pair:
    """The same job in inches and pounds, divided in 40 digits and written with 25."""

    def turned(match: re.Match[str]) -> str:
        unit, factor = TURNED[match[2]]
        with localcontext() as context:
            context.prec = 40
            return f'"{Decimal(match[1]) / factor:.25f} {unit}"'

    return _walked(job_from_text(text)), _walked(job_from_text(QUANTITY.sub(turned, text))), same


def mirrored(text: str, draw: random.Random) -> Pair:
    """Left for right: mounts, bays, ends and screws; the wind, which knows a left and a right, is one pressure."""
    draws = f'\n[wind]\npressure = "{draw.uniform(0.2, 1.2):.3f} kN/m2"\nreference = "drawn"\n'
    job = job_from_text(re.sub(r"^\[wind\]\n(?:(?!\[).*\n)*", "", text, flags=re.MULTILINE) + draws)
    width, changes = float(job.panels[0].width.x), dict[str, object]()
    for m in job.mounts:
        changes[f"mounts.{m.name}.x"] = f"{width - m.x.x!r} mm"
        bay = job.joists.spacing if m.blocking is None else job.blocking[m.blocking].length
        changes[f"mounts.{m.name}.in_bay"] = f"{bay.x - m.in_bay.x!r} mm"
    lines = re.sub(r'^(\s*x = )"(-?)([\d.]+ mm)"', _turned_x(width), job.text.decode(), flags=re.MULTILINE)
    other = job_from_text(_ends_swapped(lines)).with_(changes)
    a, b = _walked(job), _walked(other)
    swap = {"left": "right", "right": "left"}
    b = {".".join(swap.get(part, part) for part in id.split(".")): c for id, c in b.items()}
    return a, b, same


def _turned_x(width: float) -> Callable[[re.Match[str]], str]:
    """Places of screws, packers and holes from the middle of a mount change their sign; those of mounts are set afterwards."""

    def turned(match: re.Match[str]) -> str:
        if float(match[3].split()[0]) > 150 or float(match[3].split()[0]) == 0:  # of a mount, from the end of the glass
            return match[0]
        return f'{match[1]}"{"" if match[2] else "-"}{match[3]}"'

    return turned


def _ends_swapped(text: str) -> str:
    return re.sub(
        r"^(\[blocking\.\w+\.)(left|right)\]", lambda m: f"{m[1]}{'right' if m[2] == 'left' else 'left'}]", text, flags=re.MULTILINE
    )


def another_order(text: str, draw: random.Random) -> Pair:
    """A second panel with mounts of its own; then panels and mounts the other way round in the file."""
    first = re.search(r'^\[\[panels\]\].*?name = "(\w+)"', text, re.MULTILINE | re.DOTALL)
    assert first is not None
    blocks = re.split(r"^(?=\[\[?[a-z])", text, flags=re.MULTILINE)
    is_panel = [b.startswith(("[[panels", "[panels")) for b in blocks]
    is_mount = [b.startswith("[[mounts]]") for b in blocks]
    panel = "".join(b for b, p in zip(blocks, is_panel, strict=True) if p)
    mounts = [b for b, m in zip(blocks, is_mount, strict=True) if m]
    rest = "".join(b for b, p, m in zip(blocks, is_panel, is_mount, strict=True) if not p and not m)
    new = MOVED.sub(lambda m: m[0], panel).replace(f'name = "{first[1]}"', 'name = "other"')
    new = re.sub(r'^width = "([\d.]+) mm"', lambda m: f'width = "{float(m[1]) * 1.03:.6g} mm"', new, count=1, flags=re.MULTILINE)
    more = [m.replace(f'panel = "{first[1]}"', 'panel = "other"').replace('name = "M', 'name = "N') for m in mounts]
    more = [re.sub(r'^blocking = "(\w+)"', r'blocking = "other\1"', m, flags=re.MULTILINE) for m in more]
    named = sorted(set(re.findall(r'^blocking = "(\w+)"', "".join(mounts), re.MULTILINE)))
    rest += "".join(f'\n[blocking.other{b}]\nsame_as = "{b}"\n' for b in named)
    head, _, tail = rest.partition("[mount_types")
    one = f"{head}{panel}{new}{''.join(mounts)}{''.join(more)}[mount_types{tail}"
    two = f"{head}{new}{panel}{''.join(reversed(more))}{''.join(mounts)}[mount_types{tail}"
    return _walked(job_from_text(one)), _walked(job_from_text(two)), same


def one_screw_more(text: str, draw: random.Random) -> Pair:
    """One of the screws of a mount is there, and is not: what they hold together does not grow by its absence."""
    job = job_from_text(text)
    mount = draw.choice(job.mounts).name
    screw = f"mounts.{mount}.screws.S{draw.randint(1, 4)}.present"

    def held(less: Check, more: Check) -> str:
        about = less.id.startswith(("screws.withdrawal", "screws.moment", "mount.moment")) and less.id.endswith(mount)
        return worse(less, more) if about else ""

    return _walked(job), _walked(job.with_({screw: False})), held


def thicker_glass(text: str, draw: random.Random) -> Pair:
    """The next thickness, with the weight that it has: no stress of the glass rises."""
    sizes = ["10 mm", "12 mm", "15 mm", "19 mm", "25 mm"]
    now = re.search(r'^nominal = "([^"]+)"', text, re.MULTILINE)
    assert now is not None
    thin = draw.choice(sizes[:-1])
    thick = sizes[sizes.index(thin) + 1]

    def stress(thicker: Check, thinner: Check) -> str:
        return worse(thicker, thinner) if thicker.id.startswith("glass.") else ""

    job = job_from_text(re.sub(r"^minimum = .*\n", "", text, flags=re.MULTILINE))
    return _walked(job.with_({"panels.1.layers.1.nominal": thick})), _walked(job.with_({"panels.1.layers.1.nominal": thin})), stress


PROPERTIES: dict[str, Callable[[str, random.Random], Pair]] = {
    "more load": more_load,
    "inches": in_inches,
    "mirrored": mirrored,
    "another order": another_order,
    "one screw more": one_screw_more,
    "thicker glass": thicker_glass,
}


def tried(jobs: int, seed: int, names: tuple[str, ...] = QUICK, budget: float = float("inf")) -> Tally:
    """So many jobs, the properties in turn."""
    draw, tally, begun, made = random.Random(seed), Tally(), time.monotonic(), 0
    while made < jobs and time.monotonic() - begun < budget:
        name, which = draw.choice(names), list(PROPERTIES)[made % len(PROPERTIES)]
        text, own = drawn(draw, name), random.Random(draw.random())
        try:
            job_from_text(text)
        except JobRefused:
            tally.refused += 1
            continue
        try:
            a, b, compare = PROPERTIES[which](text, own)
        except JobRefused as fault:
            tally.violations.append(f"{which}, {name}: a valid job is refused when changed: {fault}\n{text}")
            made += 1
            continue
        made += 1
        tally.jobs[which] += 1
        found = [f"{id} comes or goes" for id in sorted(a.keys() ^ b.keys()) if id not in MAY_GO.get(which, {})]
        for id in a.keys() & b.keys():
            if wrong := compare(a[id], b[id]):
                found.append(wrong)
            tally.compared[which] += 1
        tally.violations += [f"{which}, {name}: {'; '.join(found[:6])}\n{text}"] if found else []
    return tally


def main() -> None:
    """See the head of the file."""
    asked = argparse.ArgumentParser(description="What must be so whatever the numbers are, over random valid jobs.")
    asked.add_argument("--jobs", type=int, default=1000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--budget", type=float, default=float("inf"), help="seconds")
    given = asked.parse_args()
    tally = tried(given.jobs, given.seed, budget=given.budget)
    for which in PROPERTIES:
        print(f"{which:16}{tally.jobs[which]:6} jobs {tally.compared[which]:8} comparisons")
    print(f"{tally.refused} drawn and refused, {len(tally.violations)} violations")
    for text in tally.violations[:20]:
        print("-" * 72, text.splitlines()[0], sep="\n")
    if tally.violations:
        Path("semantics_violations.txt").write_text("\n\n".join(tally.violations), encoding="utf-8")
        sys.exit(1)


if __name__ == "__main__":
    main()
