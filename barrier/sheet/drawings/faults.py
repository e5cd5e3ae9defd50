"""A mistake of the site beside the job as described: the same small drawing twice, and the figures before and after."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from barrier.job.schema import Blocking, Mount
from barrier.load_path import Walked
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings import elevation, plan, section
from barrier.sheet.drawings.facts import Say, loose_corner, mount_forces, stand, worst_corner
from barrier.sheet.drawings.svg import LINE, WIDTH, Sketch, View
from barrier.tables import Tables

HALF = WIDTH / 2
ROOM = HALF - 26.0  # units for one of the two
TALL = 170.0

Pictogram = Callable[[Sketch, "Beside", Walked, float, float], float]


@dataclass(frozen=True, eq=False)
class Beside:
    """A mistake beside the sound job; ``changed`` are check, figure before, figure after, the worst first."""

    sound: Walked
    walked: Walked
    changed: Sequence[tuple[str, str, str]]
    tables: Tables

    @property
    def paths(self) -> tuple[str, ...]:
        """What was changed in the job."""
        return tuple(self.walked.situation.changes)

    @property
    def mount(self) -> str:
        """The mount that was changed, else the first."""
        names = [m.name for m in self.sound.job.mounts]
        return next((p.split(".")[1] for p in self.paths if p.startswith("mounts.") and p.split(".")[1] in names), names[0])


def drawings(pairs: Sequence[Beside]) -> list[Drawing]:
    """A picture of every mistake."""
    found = []
    for i, pair in enumerate(pairs, 1):
        caption = f"As described, and with the mistake: {pair.walked.situation.name}"
        found.append(Drawing(f"fault-{i}", (caption,), lambda p=pair: draw(p)))  # type: ignore[misc]
    return found


def draw(pair: Beside) -> Picture:
    """Draw a mistake beside the sound job."""
    sketch = Sketch()
    pictogram = _pictogram(pair)
    sketch.words(0.0, "as described", bold=True, width=HALF - 6)
    y = sketch.words(0.0, "with the mistake", x=HALF + 6, bold=True, width=HALF - 8)
    low = max(pictogram(sketch, pair, pair.sound, 12.0, y + 6), pictogram(sketch, pair, pair.walked, HALF + 12.0, y + 6))
    sketch.line(HALF, 2, HALF, low + 4, "dim")
    y = sketch.words(low + 6, pair.walked.situation.name, bold=True)
    y = sketch.words(y, pair.walked.situation.words + ".")
    for title, before, after in pair.changed:
        y = sketch.words(y, f"{title}: {before} → {after}")
    if not pair.changed:
        sketch.words(y, "No number gets worse; that does not make it harmless.")
    changed = "; ".join(f"{title} from {before} to {after}" for title, before, after in pair.changed) or "no number gets worse"
    return Picture(sketch.svg(), f"{pair.walked.situation.name}, beside the job as described: {changed}.")


def _pictogram(pair: Beside) -> Pictogram:
    """Which small drawing shows what was changed."""
    if any(p.endswith((".present", ".packers")) for p in pair.paths):
        return _plan
    if any(p.count(".") == 1 and p.startswith("mounts.") for p in pair.paths):
        return _elevation
    if any(p.startswith("blocking.") and p.rsplit(".", 1)[-1] in ("left", "right") for p in pair.paths):
        return _ends
    return _section


def _plan(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> float:
    s = stand(walked.job, pair.tables, next(m for m in walked.job.mounts if m.name == pair.mount))
    forces = next((f for f in mount_forces(walked) if f.model.name == pair.mount), None)
    corner, loose = worst_corner(forces), loose_corner(forces)
    view = _down(plan.fitted(s, ROOM, x0, TALL), y)
    plan.parts(sketch, view, s, corner)
    low = view.y(plan.extent(s)[0][1])
    if corner is None:
        sketch.text(x0 + ROOM / 2, low + LINE, f"no equilibrium {loose.sign}" if loose is not None else "not solved", "middle")
        return low + LINE
    return low


def _elevation(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> float:
    job = walked.job
    panel = next(p for p in job.panels if p.name == pair.sound.job.panel_of(_sound_mount(pair)).name)
    stands = [stand(job, pair.tables, m) for m in job.mounts_of(panel)]
    every = [stand(pair.sound.job, pair.tables, m) for m in pair.sound.job.mounts_of(panel)]
    low, high = elevation.extent(panel, every)
    tall = float(panel.height.x) + float(panel.bottom_gap.x)
    scale = min(ROOM / (high - low), TALL / tall)
    view = View(scale, x0 + (ROOM - scale * (high - low)) / 2 - scale * low, y + scale * tall)
    lowest = elevation.parts(sketch, view, panel, stands)
    for s in every:
        if s.mount.name not in {t.mount.name for t in stands}:
            x, z = view.x(float(s.mount.x.x)), view.y(float(panel.bottom_gap.x)) - 5
            sketch.line(x - 7, z - 7, x + 7, z + 7, "warn")
            sketch.line(x - 7, z + 7, x + 7, z - 7, "warn")
            sketch.text(x, z - 10, f"{s.mount.name} lost", "middle")
    return max(lowest, view.y(-30.0))


def _sound_mount(pair: Beside) -> Mount:
    return next(m for m in pair.sound.job.mounts if m.name == pair.mount)


def _section(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> float:
    """A section of the mount; both of a pair are drawn in one view."""
    s, before, after = (
        stand(job, pair.tables, next(m for m in job.mounts if m.name == pair.mount))
        for job in (walked.job, pair.sound.job, pair.walked.job)
    )
    view = _down(section.fitted((before, after), ROOM, x0, TALL, broken=True), y)
    section.parts(sketch, view, s, broken=True)
    low = max(view.y(section.bottom_of_all(t, broken=True)) for t in (before, after))
    words = ""
    if "site.service_class" in pair.paths:
        words = f"service class {walked.job.site.service_class}"
    if "decking.gap_under" in pair.paths and walked.job.decking.gap_under is not None:
        words = f"gap {Say(walked.job.units)(walked.job.decking.gap_under)}"
    if words:
        sketch.text(x0 + ROOM / 2, low + LINE, words, "middle")
        return low + LINE
    return low


def _ends(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> float:
    """A piece of blocking between its joists, with what holds its ends."""
    s = stand(walked.job, pair.tables, next(m for m in walked.job.mounts if m.name == pair.mount))
    block = s.model.blocking
    if block is None:
        return _section(sketch, pair, walked, x0, y)
    first, last = -float(s.mount.in_bay.x), float(block.length.x) - float(s.mount.in_bay.x)
    joist = 45.0 if s.job.joists.width is None else float(s.job.joists.width.x)
    scale = ROOM / (last - first + 2 * joist)
    view = View(scale, x0 + scale * (joist - first), y + 14)
    half = float(s.mount.plate.along.x) / 2
    top, low = view.y(0.0), view.y(-s.depth)
    sketch.rect(view.x(-half), top - 6, view.x(half), top, "steel")
    sketch.rect(view.x(first), top, view.x(last), low, "timber", what="piece")
    for a, b in ((first - joist, first), (last, last + joist)):
        sketch.rect(view.x(a), top, view.x(b), low, "timber", what="joist")
        sketch.line(view.x(a), top, view.x(b), low, "thin")
        sketch.line(view.x(a), low, view.x(b), top, "thin")
    _fixing(sketch, view.x(first), top, low, 1, block, "left")
    _fixing(sketch, view.x(last), top, low, -1, block, "right")
    words = [getattr(getattr(block, side), "fixing", "not said") for side in ("left", "right")]
    sketch.text(view.x(first), low + LINE, words[0])
    sketch.text(view.x(last), low + LINE, words[1], "end")
    return low + LINE + 4


def _fixing(sketch: Sketch, x: float, top: float, low: float, inward: int, block: Blocking, side: str) -> None:
    end = getattr(block, side)
    kind = end.fixing if end is not None else "none"
    middle = (top + low) / 2
    if kind in ("nails", "screws"):
        for share in (0.3, 0.7):
            at = top + share * (low - top)
            sketch.line(x - 12 * inward, at, x + 16 * inward, at, "ink", what=f"{kind} {side}")
    elif kind == "bracket":
        sketch.polyline([(x, top + 6), (x, low), (x + 18 * inward, low)], "ink", what=f"bracket {side}")
    else:
        at = x + 8 * inward
        sketch.line(at - 6, middle - 6, at + 6, middle + 6, "warn", what=f"nothing {side}")
        sketch.line(at - 6, middle + 6, at + 6, middle - 6, "warn")


def _down(view: View, y: float) -> View:
    return View(view.scale, view.x0, view.y0 + y)
