"""What changed between two walks of a study, in the figures and signs of its pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from barrier.load_path import Walked
from barrier.result import About, Check, Ending, Kind, Lack, Standing, tied
from barrier.sheet.numbers import DISTANCES, linear_text

NONE, UNREACHED, UNKNOWN_SIGN = "–", "↑", "?"
BED, TIPS = ("base_plate", "bed"), ("base_plate", "rotation")
NOTHING_HOLDS = (
    BED,
    ("screws", "withdrawal"),
    ("screws", "sideways"),
    ("blocking", "end"),
    ("edge_joist", "end"),
    ("boards", "screws"),
)
# Without a number these only repeat that a base plate has no equilibrium; that is said once.
FOLLOWS = (("base_plate", "plate"), ("screws", "steel"), ("bearing", "mean"), ("movement",))
COLUMNS: tuple[tuple[str, tuple[Kind, ...]], ...] = (
    ("glass", (("glass", "face"), ("glass", "edge"))),
    ("pull", (("screws", "withdrawal"),)),
    ("both", (("screws", "combined"),)),
    ("edges", DISTANCES),
    ("tips", (TIPS,)),
    ("bearing", (BED, ("bearing", "mean"), ("bearing", "below"))),
    (
        "wood",
        (
            ("blocking", "bending"),
            ("blocking", "both_ways"),
            ("blocking", "shear"),
            ("blocking", "torsion"),
            ("blocking", "splitting"),
            ("edge_joist", "bending"),
            ("edge_joist", "shear"),
            ("edge_joist", "torsion"),
            ("edge_joist", "whole"),
            ("boards", "board"),
        ),
    ),
    ("ends", (("blocking", "end"), ("edge_joist", "end"), ("boards", "screws"))),
    ("moves", (("movement",),)),
)
SHOWN = 3  # changes told of each walk
SMALL = 1.0  # below it a utilisation that got better is no news

# Where a change without a number stands among those told of a walk, before every number or after them.
NO_HOLD, NO_BALANCE, BED_OF_IT, NO_DISTANCE, HOLDS_AGAIN, UNKNOWN, FOLLOWING = 1e6, 5e5, 4e5, 3e5, 2e5, 0.5, 0.01


class Change(NamedTuple):
    """One figure before and after."""

    title: str
    before: str
    after: str

    @property
    def words(self) -> str:
        """As it is printed."""
        return f"{self.title}: {self.before} → {self.after}"


# ---------------------------------------------------------------- the figures of one walk


def lets_go(check: Check) -> bool:
    """Whether a check exceeds without a number."""
    return check.ending is Ending.EXCEEDS and check.eta is None


def tipped(walked: Walked) -> tuple[str, ...]:
    """The mounts whose base plate has no equilibrium under the action strength is compared with."""
    return tuple(
        m.name for m in walked.job.mounts if any(c.about == About(*TIPS, mount=m.name) and lets_go(c) for c in walked.checks)
    )


def told_tipped(sound: Walked, walked: Walked) -> str:
    """That base plates have no equilibrium, and whether they had it before, in one sentence; empty where all have it."""
    mounts = tipped(walked)
    if not mounts:
        return ""
    load = "Even so" if walked.situation.after_damage else "Under the design load"
    load = "As before the mistake" if set(mounts) <= set(tipped(sound)) else load
    if len(mounts) > 1:
        return f"{load} the base plates of mounts {_and(mounts)} have no equilibrium: they let go."
    return f"{load} the base plate of mount {mounts[0]} has no equilibrium: it lets go."


def _and(names: Sequence[str]) -> str:
    return " and ".join([*([", ".join(names[:-1])] if len(names) > 1 else []), *names[-1:]])


def column_of(about: About) -> str:
    """The column of the table a check stands in, empty where it has none."""
    return next((name for name, kinds in COLUMNS if about.one_of(kinds)), "")


def shown(check: Check | None) -> str:
    """The figure or sign of a check of a walk; None where there is no such check."""
    if check is None:
        return NONE
    return UNREACHED if check.lack is Lack.REACH else linear_text(check)


def worst(walked: Walked, kinds: Sequence[Kind]) -> Check | None:
    """The check of a kind that is worst: exceeding without a number, then not checked above 1, then the largest number."""
    found = [c for c in walked.checks if c.standing is Standing.REQUIRED and c.about.one_of(kinds)]
    return max(found, key=lambda c: tied(_weight(c))) if found else None


def _weight(check: Check) -> float:
    if check.eta is not None:
        return check.eta
    return float("inf") if check.ending is Ending.EXCEEDS or check.lack is Lack.REACH else 1.0


# ---------------------------------------------------------------- what changed


def told(before: Walked, after: Walked, both_ways: bool = False) -> tuple[Change, ...]:
    """The largest changes, one of each kind, those without a number first; ``both_ways`` counts what got better as well."""
    found: dict[object, tuple[float, Check | None, Check]] = {}
    for was, now in _moved(before, after):
        place = _place(was, now, bool(tipped(after)), both_ways)
        kind = BED if now.about.one_of((BED,)) else column_of(now.about) or now.about.anywhere
        if place > 0.0 and (kind not in found or tied(place) > tied(found[kind][0])):
            found[kind] = (place, was, now)
    ranked = sorted(found.values(), key=lambda f: -tied(f[0]))[:SHOWN]
    return tuple(Change(now.title, shown(was), shown(now)) for _, was, now in ranked)


def in_words(changes: Sequence[Change]) -> str:
    """Changes in one line; empty where there are none."""
    return "; ".join(c.words for c in changes)


def hurt(sound: Walked, walked: Walked) -> tuple[bool, float]:
    """How much a mistake hurts, to sort by: whether something lets go that did not, then the largest growth of a figure."""
    growths = [_growth(was, now) for was, now in _moved(sound, walked)]
    return bool(newly_gone(sound, walked)), tied(max(growths, default=0.0))


def newly_gone(sound: Walked, walked: Walked) -> str:
    """What lets go that did not before: base plates by their mounts, anything else by its title; empty where nothing does."""
    gone = [now for _, now in _moved(sound, walked) if lets_go(now)]
    plates = [now.about.mount for now in gone if now.about.one_of((TIPS,))]
    titles = [now.title for now in gone if now.about.one_of(NOTHING_HOLDS)]
    which = f"base plate{'s' if len(plates) > 1 else ''} of {_and(plates)} {'let' if len(plates) > 1 else 'lets'} go"
    return "; ".join([*([which] if plates else []), *(f"{title}: lets go" for title in titles)])


def grows_most(sound: Walked, walked: Walked) -> Change | None:
    """The utilisation that grows by the largest factor; None where none grows."""
    found = [(tied(_growth(was, now)), was, now) for was, now in _moved(sound, walked) if now.eta is not None]
    growth, was, now = max(found, key=lambda f: f[0], default=(0.0, None, None))
    if now is None or growth <= 0.0:
        return None
    return Change(now.title, shown(was), shown(now))


def _moved(before: Walked, after: Walked) -> Iterator[tuple[Check | None, Check]]:
    """Required checks that moved by a twentieth or ended otherwise, but for those that only follow."""
    earlier = {c.about: c for c in before.checks}
    for now in after.checks:
        was = earlier.get(now.about)
        if now.standing is not Standing.REQUIRED or now.lack is Lack.REACH or (lets_go(now) and now.about.one_of(FOLLOWS)):
            continue
        if was is None:
            yield None, now
        elif was.eta is None or now.eta is None:
            if was.ending is not now.ending or (was.eta is None) != (now.eta is None):
                yield was, now
        elif abs(now.eta - was.eta) > 0.05 * max(was.eta, 0.01):
            yield was, now


def _place(was: Check | None, now: Check, tips: bool, both_ways: bool) -> float:
    """Where a change stands among those told of a walk."""
    if lets_go(now):
        if now.about.one_of((TIPS,)):
            return NO_BALANCE
        return NO_HOLD if now.about.one_of(NOTHING_HOLDS) else NO_DISTANCE if now.about.one_of(DISTANCES) else FOLLOWING
    if tips and now.about.one_of((BED,)) and now.eta is not None and now.eta > 1.0:
        return BED_OF_IT  # the number that says how far the base plate is from equilibrium
    if both_ways and was is not None and lets_go(was) and now.eta is not None:
        return FOLLOWING if was.about.one_of(FOLLOWS) else HOLDS_AGAIN
    if both_ways and now.eta is not None and was is not None and was.eta is not None:
        old, new = max(was.eta, SMALL), max(now.eta, SMALL)
        return max(old / new, new / old) - 1.0
    return _growth(was, now)


def _growth(was: Check | None, now: Check) -> float:
    """How many times larger a figure is, less one: without bound where nothing holds, little where nobody knows."""
    if lets_go(now):
        # A plate without equilibrium is measured by its bed, a distance used up by what comes of it.
        return NO_HOLD if now.about.one_of(NOTHING_HOLDS) else FOLLOWING
    if now.eta is None:
        return UNKNOWN
    old = was.rank if was is not None and was.rank is not None else 1.0
    return (now.rank or 0.0) / max(old, 0.01) - 1.0
