"""Mounts that fare alike: their checks are written out once, under the first of them; the others are named beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.equation import Step
from barrier.load_path import Walked
from barrier.result import TIE, About, Check, Shown
from barrier.value import Value


@dataclass(frozen=True, slots=True, eq=False)
class Alike:
    """Which checks repeat an earlier one for another mount: ``first`` by what the check that repeats it is about."""

    first: dict[About, Check]

    def repeats(self, check: Check) -> Check | None:
        """The earlier check with the same figures, or None."""
        return self.first.get(check.about)

    def title(self, check: Check, title: str = "") -> str:
        """The title of a check, or another of it, with the mounts it stands for as well."""
        title = title or check.title
        others = [about.mount for about, c in self.first.items() if c is check]
        if not others:
            return title
        own = check.about.mount
        return title.replace(f"mount {own}", f"mounts {', '.join((own, *others))}")


def alike(walked: Walked) -> Alike:
    """Find the checks of a walk that say the same of another mount: same kind, ending, demand, resistance, utilisation."""
    seen: dict[About, list[Check]] = {}
    first: dict[About, Check] = {}
    for check in walked.checks:
        if not check.about.mount:
            continue
        stem = check.about.anywhere
        same = next((c for c in seen.get(stem, ()) if _same(c, check)), None)
        if same is not None:
            first[check.about] = same
        else:
            seen.setdefault(stem, []).append(check)
    return Alike(first)


def shown_alike(shown: Sequence[Shown]) -> dict[int, Shown]:
    """Shown values that say the same of another mount: position of the one that repeats, and the earlier one."""
    seen: dict[tuple[str, str, int], list[Shown]] = {}
    first: dict[int, Shown] = {}
    for i, s in enumerate(shown):
        if not s.mount:
            continue
        origin = s.value.origin
        stem = (s.value.symbol, s.value.kind, id(origin.equation) if isinstance(origin, Step) else 0)
        same = next(
            (
                o for o in seen.get(stem, ())
                if o.mount != s.mount and o.remark == s.remark and _close(o.value, o.station, s.value, s.station)
            ),
            None,
        )  # fmt: skip
        if same is not None:
            first[i] = same
        else:
            seen.setdefault(stem, []).append(s)
    return first


def _same(a: Check, b: Check) -> bool:
    if a.ending is not b.ending or a.reason != b.reason:
        return False
    pairs = ((a.demand, b.demand), (a.resistance, b.resistance), (a.utilisation, b.utilisation))
    return all(_close(x, a.station, y, b.station) for x, y in pairs)


def _close(x: Value | None, i: int, y: Value | None, j: int) -> bool:
    if x is None or y is None:
        return x is y
    return abs(x.at(i) - y.at(j)) <= TIE * max(abs(x.at(i)), TIE)


def without_mount(walked: Walked, title: str) -> str:
    """A title without the mount it is about: on a page of many walks the worse mount stands for both."""
    for mount in walked.job.mounts:
        for words in (f" of mount {mount.name}", f" under mount {mount.name}", f", mount {mount.name}", f" by mount {mount.name}"):
            title = title.replace(words, "")
        title = title.replace(f"mount {mount.name}", "a mount")
    return title
