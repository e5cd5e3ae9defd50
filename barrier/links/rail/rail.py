"""Link 2, rail: what comes to a rail over a run of panels, whole or with a panel gone; to its ends, joints and grip.

It hands on every panel under the rail, solved with it: the glass and all below it are then looked at as they stand under the rail.
A rail of which too little is known is *not checked* and silences nothing: its panels are then walked as if they had none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from barrier.links.loads.cases import Case
from barrier.links.rail import by_hand, checks
from barrier.links.rail.loads import run_cases
from barrier.links.rail.solve import RunSolved, solve
from barrier.links.rules import rail_asked, rail_title
from barrier.links.under_rail import Line, joints_of, line_of, under_rail
from barrier.links.walk import Walk
from barrier.result import About, Check, Finding, Lack, LinkResult, NotChecked, Shown, Standing, fails, not_checked

NOT_DESCRIBED = (
    "a rail is named and nothing of it is worked out. Write [rail] with its section, the gap between panels and how many stand in "
    "the line, what holds its ends, its joints, how it grips the glass; and what each of them bears"
)


FALLS = "a piece of it between joints, over an opening, has no glass and nothing at its ends that holds it, and falls"
SUDDEN = (
    "Somebody who leans on the glass when it breaks comes to the rail at once, up to twice the force for a moment: no rule that "
    "was read asks for it, and it is not checked."
)


def rail(walk: Walk, cases: Sequence[Case]) -> tuple[LinkResult, RunSolved | None]:
    """Solve the run under the rail and compare what comes to the rail; hand the run on. ``cases``: those of all panels alone."""
    title = "The rail over the run of panels"
    panels = under_rail(walk.job)
    if not panels:
        return LinkResult("rail", title, ()), None
    standing = standing_of(walk)
    if walk.job.rail is None:
        return LinkResult("rail", title, tuple(_not_described(walk))), None
    line = line_of(walk.job)
    if isinstance(line, Line) and _falls(walk, line):
        made = tuple(_fallen(a, standing) for a in asked(walk))
        return LinkResult("rail", title, made, (), (Finding(f"The rail has no equilibrium: {FALLS}.", loud=True),)), None
    found = line if isinstance(line, NotChecked) else _solved(walk, line, cases)
    if isinstance(found, NotChecked):
        made = tuple(not_checked(a.about, a.title, found, standing) for a in asked(walk))
        text = "The rail is not worked out. The panels under it are walked as if they had none, and no panel is taken away."
        both = tuple(by_hand.either_way(walk, cases))
        return LinkResult("rail", title, made, both, (Finding(text, loud=True),)), None
    made = tuple(checks.all_of(walk, found, standing))
    shown: tuple[Shown, ...] = tuple(by_hand.shown(walk, found))
    return LinkResult("rail", title, made, shown, tuple(_findings(walk, found))), found


def _falls(walk: Walk, line: Line) -> bool:
    """Whether a piece of the rail between joints has nothing that holds it."""
    entry = walk.job.rail
    assert entry is not None and entry.left is not None and entry.right is not None
    return line.falls(joints_of(entry, line), entry.left.holding, entry.right.holding)


def _fallen(a: RailAsked, standing: Standing) -> Check:
    """The checks of a rail that falls: its bending exceeds without a number, the others are not reached."""
    if a.about.kind == "bending":
        return fails(a.about, a.title, FALLS, standing=standing)
    return not_checked(a.about, a.title, NotChecked(Lack.REACH, FALLS), standing)


def _solved(walk: Walk, line: Line, own: Sequence[Case]) -> RunSolved | NotChecked:
    cases = run_cases(walk, line, own)
    if not cases:
        return NotChecked(Lack.REACH, "no load on the barrier is known, so nothing comes to the rail")
    return solve(walk, line, cases, own)


def standing_of(walk: Walk) -> Standing:
    """Required where a panel under the rail is a single layer, gone when it breaks; else information."""
    return Standing.REQUIRED if any(rail_asked(p) for p in under_rail(walk.job)) else Standing.INFORMATION


def _not_described(walk: Walk) -> Iterator[Check]:
    """Every rail the job names and does not describe; it decides where a single layer of glass counts on it."""
    for panel in under_rail(walk.job):
        standing = Standing.REQUIRED if rail_asked(panel) else Standing.INFORMATION
        yield not_checked(About("rail", panel=panel.name), rail_title(panel), NotChecked(Lack.BASIS, NOT_DESCRIBED), standing)


# ---------------------------------------------------------------- what is asked


class RailAsked(NamedTuple):
    """A check a rail must get: its id and title."""

    about: About
    title: str


def asked(walk: Walk) -> Iterator[RailAsked]:
    """Every check a described rail must get, from the job and its basis alone."""
    entry = walk.job.rail
    if entry is None or not under_rail(walk.job):
        return
    yield RailAsked(About("rail", "bending"), checks.BENDING)
    for n, _ in enumerate(entry.splices, 1):
        yield RailAsked(About("rail", "splice", detail=str(n)), checks.splice_title(n))
    for side in ("left", "right"):
        end = getattr(entry, side)
        if end is None or end.fixing is None or end.holding or (end.fixing == "corner" and end.joined is None):
            yield RailAsked(About("rail", side), checks.end_title(side, end))
    yield RailAsked(About("rail", "grip"), checks.GRIP)
    line = line_of(walk.job)
    if isinstance(line, Line):
        yield from (RailAsked(*a) for a in checks.asked_down(walk, line))


# ---------------------------------------------------------------- findings


def _findings(walk: Walk, found: RunSolved) -> Iterator[Finding]:
    line, entry = found.line, walk.job.rail
    assert entry is not None and entry.left is not None and entry.right is not None
    gone = [p.number for p in line.places if p.panel is None]
    held = entry.left.holding and entry.right.holding
    rule = walk.basis.rule("top_rail")
    enough = len(line.places) >= 3 or held
    ends = "both of its ends are held" if held else "not both of its ends are held"
    count = f"{len(line.places)} panels stand under the rail and {ends}"
    words = f"{count}: a count of panels is no check of what the rail does when one is gone; that is looked at by itself"
    yield Finding(f"{words}.", rule[2] if rule is not None else "", not enough)
    if entry.line:
        alike = [f"{p.name} as {p.panel.name}" for p in line.places if p.panel is not None and p.name != f"panel {p.panel.name}"]
        if alike:
            yield Finding(f"Some places stand as others do, and are checked under their names: {'; '.join(alike)}.")
    for side, end in (("left", entry.left), ("right", entry.right)):
        if not end.holding:
            why = "it turns a corner and is not joined there" if end.fixing == "corner" else "nothing holds it across the glass"
            text = f"The {side} end of the rail is free: {why}. When the panel beside it is gone, the rail hangs over the opening"
            cure = "a bracket there, with its own fixing, is what mends it"
            yield Finding(f"{text} from one side, on the mounts of one panel; {cure}.", loud=True)
    for n, at in enumerate(joints_of(entry, line), 1):
        for p in line.standing:
            if p.start < at < p.end:
                text = (
                    f"Joint {n} of the rail lies on the glass of {p.name}: with that gone, it hangs from both sides in two pieces"
                )
                yield Finding(f"{text}, held by its grip alone.", loud=True)
    if gone:
        yield Finding("The opening itself is open: somebody may fall through it under the rail. Guard it at once.", loud=True)
        yield Finding(SUDDEN, loud=True)
        lost = walk.basis.rule("lost_panel")
        if lost is not None:
            yield Finding(f"With a panel lost: {lost[1]}.", lost[2], True)
        yield from _pressed_down(walk, line)
    if not walk.basis.any_direction and not any(checks.down_actions(walk)):
        yield Finding("This basis has no load that presses the rail down: bending of the rail under one is not looked at.")
    yield Finding("The rail is a beam bent across the glass: its twist, shear and pull along are not in it, its joints are hinges.")
    yield Finding(
        "Buckling of the walls of the rail, and of the rail sideways where it spans an opening, are not checked.", loud=True
    )
    if any(c.action.height is not None for c in found.cases if c.action.kind == "line"):
        yield Finding("The line load is put on the rail at the top of the glass, wherever below it the code has it: cautious.")
    if found.alone:
        yield Finding("While all the glass is there every panel is looked at without its rail as well, and the worse counts.")
    yield from _too_far(walk, found)
    if any(len(p.panel.layers) > 1 for p in line.standing if p.panel is not None):
        yield Finding("Under a rail laminated glass is taken with layers that slide on one another: cautious for its stress.")


def _pressed_down(walk: Walk, line: Line) -> Iterator[Finding]:
    """What becomes of a load that presses the rail down over an opening."""
    entry = walk.job.rail
    assert entry is not None and entry.left is not None and entry.right is not None
    if not any(checks.down_actions(walk)):
        return
    text = (
        "A load that presses the rail down over the opening is in the checks of the mounts beside it, the rail stiff in the plane "
        "of its panel: five eighths of it with the moment of the held end, as of a beam held there and hinged at its other end; "
        "all of it, with its lever, where the rail hangs"
    )
    yield Finding(f"{text}. Panels further off are not credited.")
    ends = ((entry.left, line.start), (entry.right, line.end))
    if any(end.holding and at in opening for end, at in ends for opening in line.openings):
        text = "What holds the end of the rail across the glass is taken to hold it up as well; its rating does not say so"
        yield Finding(f"{text}: not checked, ask.", loud=True)


def _too_far(walk: Walk, found: RunSolved) -> Iterator[Finding]:
    """A rail that moves further than small movements are: what is said of it is then no figure."""
    small, number = walk.tables.value("site_angles", "small"), by_hand.line_case(found)
    heights = [float(p.panel.height.x) + float(p.panel.bottom_gap.x) for p in found.line.standing if p.panel is not None]
    if number is not None and abs(float(found.nominal.largest_deflection[0][number])) > float(small.x) * min(heights):
        text = (
            "The rail would move further than this tool's model of small movements holds for: in practice it lets go or hangs, and"
        )
        yield Finding(
            f"{text} its movement is no figure. Largest lean it is read as one for.", "convention of this project", True, small
        )
