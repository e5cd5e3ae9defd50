"""A mistake of the site beside the job as described: the same small drawing twice, and the figures before and after."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from barrier.job.schema import Blocking, Mount
from barrier.load_path import Walked
from barrier.sheet.blocks import Drawing, Picture
from barrier.sheet.drawings import elevation, plan
from barrier.sheet.drawings.facts import Say, Stand, loose_corner, mount_forces, stand, worst_corner
from barrier.sheet.drawings.section_parts import fitted, frame, parts
from barrier.sheet.drawings.svg import LINE, Sketch, View
from barrier.tables import Tables

WIDE = 300.0  # units: narrower than other pictures, for two of them stand beside one another on a page
HALF = WIDE / 2
ROOM = HALF - 20.0  # units for one of the two
TALL = 124.0
FIGURES = 3  # of a length, as elsewhere on the page

HARMLESS = "no number gets worse, for what it takes away counted for nothing before or is not known; that does not make it harmless"

Pictogram = Callable[[Sketch, "Beside", Walked, float, float], tuple[float, str]]  # to its lowest point and its label


@dataclass(frozen=True, eq=False)
class Beside:
    """A mistake beside the sound job: what it does in plain words; ``changed`` are check, figure before, figure after."""

    sound: Walked
    walked: Walked
    words: str
    changed: Sequence[tuple[str, str, str]]
    tables: Tables

    @property
    def paths(self) -> tuple[str, ...]:
        """What was changed in the job."""
        return tuple(self.walked.situation.changes)

    @property
    def mount(self) -> str:
        """The mount that was changed, else the first of the panel that was, else the first."""
        job = self.sound.job
        names = [m.name for m in job.mounts]
        panel = next((job.panels[int(p.split(".")[1]) - 1] for p in self.paths if p.startswith("panels.")), job.panels[0])
        of_panel = [m.name for m in job.mounts_of(panel)] or names
        return next((p.split(".")[1] for p in self.paths if p.startswith("mounts.") and p.split(".")[1] in names), of_panel[0])


def drawings(pairs: Sequence[Beside]) -> list[Drawing]:
    """A picture of every mistake; its caption says what it does and by how much."""
    return [
        Drawing(f"fault-{i}", (_caption(i, pair),), lambda p=pair: draw(p))  # type: ignore[misc]
        for i, pair in enumerate(pairs, 1)
    ]


def _caption(i: int, pair: Beside) -> str:
    figures = "; ".join(f"{title}: {before} → {after}" for title, before, after in pair.changed)
    figures = f"{figures[:1].upper()}{figures[1:]}." if figures else f"{HARMLESS[:1].upper()}{HARMLESS[1:]}."
    return f"{i}. {pair.walked.situation.name}: {pair.words} {figures}"


def draw(pair: Beside) -> Picture:
    """Draw a mistake beside the sound job, in one view and one frame."""
    sketch = Sketch(WIDE)
    pictogram, what = _pictogram(pair)
    sketch.words(0.0, "as described", bold=True, width=HALF - 6)
    y = sketch.words(0.0, "with the mistake", x=HALF + 6, bold=True, width=HALF - 8)
    left, before = pictogram(sketch, pair, pair.sound, 10.0, y + 6)
    right, after = pictogram(sketch, pair, pair.walked, HALF + 10.0, y + 6)
    sketch.line(HALF, 2, HALF, max(left, right) + 4, "dim")
    labels = f": {before}; {after}" if before and after else ""
    return Picture(sketch.svg(), f"{what}, as described and with the mistake{labels}.")


def _pictogram(pair: Beside) -> tuple[Pictogram, str]:
    """Which small drawing shows what was changed, and what it is."""
    if any(p.endswith((".present", ".packers")) for p in pair.paths):
        return _plan, f"Base plate of mount {pair.mount} from above"
    if any(p.count(".") == 1 and p.startswith("mounts.") for p in pair.paths):
        return _elevation, "The panel seen from the people side"
    if any(p.startswith("blocking.") and p.rsplit(".", 1)[-1] in ("left", "right") for p in pair.paths):
        return _ends, f"A piece of blocking under mount {pair.mount} between its joists"
    return _section, f"Section through mount {pair.mount}"


def _plan(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> tuple[float, str]:
    s = stand(walked.job, pair.tables, next(m for m in walked.job.mounts if m.name == pair.mount))
    forces = next((f for f in mount_forces(walked) if f.model.name == pair.mount), None)
    corner, loose = worst_corner(forces), loose_corner(forces)
    view = _down(plan.fitted(s, ROOM, x0, TALL), y)
    plan.parts(sketch, view, s, corner)
    low = view.y(plan.extent(s)[0][1])
    if corner is None:
        return _labelled(sketch, x0, low, f"lets go {loose.sign}" if loose is not None else "not solved")
    return _labelled(sketch, x0, low, f"plate balances, pushed {corner.sign}")


def _labelled(sketch: Sketch, x0: float, low: float, label: str) -> tuple[float, str]:
    """What a small drawing shows, named beneath it."""
    if not label:
        return low, ""
    sketch.text(x0 + ROOM / 2, low + LINE, label, "middle")
    return low + LINE, label


def _elevation(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> tuple[float, str]:
    job = walked.job
    panel = next(p for p in job.panels if p.name == pair.sound.job.panel_of(_sound_mount(pair)).name)
    stands = [stand(job, pair.tables, m) for m in job.mounts_of(panel)]
    every = [stand(pair.sound.job, pair.tables, m) for m in pair.sound.job.mounts_of(panel)]
    low, high = elevation.extent(panel, every)
    tall = float(panel.height.x) + float(panel.bottom_gap.x)
    scale = min(ROOM / (high - low), TALL / tall)
    view = View(scale, x0 + (ROOM - scale * (high - low)) / 2 - scale * low, y + scale * tall)
    lowest = elevation.parts(sketch, view, panel, stands)
    lost = "every clamp in place"
    for s in every:
        if s.mount.name not in {t.mount.name for t in stands}:
            x, z = view.x(float(s.mount.x.x)), view.y(float(panel.bottom_gap.x)) - 5
            sketch.line(x - 7, z - 7, x + 7, z + 7, "warn")
            sketch.line(x - 7, z + 7, x + 7, z - 7, "warn")
            lost = f"{s.mount.name} lost"
            sketch.text(x, z - 10, lost, "middle")
    return max(lowest, view.y(-30.0)), lost


def _sound_mount(pair: Beside) -> Mount:
    return next(m for m in pair.sound.job.mounts if m.name == pair.mount)


def _section(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> tuple[float, str]:
    """A section of the mount; both of a pair are drawn in one view and one frame."""
    s, *both = (
        stand(job, pair.tables, next(m for m in job.mounts if m.name == pair.mount))
        for job in (walked.job, pair.sound.job, pair.walked.job)
    )
    around = frame(both, broken=True)
    view = _down(fitted(around, ROOM, x0, TALL), y)
    parts(sketch, view, s, around)
    return _labelled(sketch, x0, view.y(around.bottom), _differs(pair, s))


def _differs(pair: Beside, s: Stand) -> str:
    """What of a mount the mistake changed, as it is in this one."""
    say, m, gap = Say(s.job.units), s.mount, s.job.decking.gap_under
    held = m.held[1] - m.held[0]
    layers = len(s.panel.layers)
    named = (
        (".interlayer", "one layer of glass" if layers == 1 else f"{layers} layers of glass"),
        ("site.service_class", f"service class {s.job.site.service_class}"),
        ("decking.gap_under", f"gap {say(gap, 0, FIGURES)}" if gap is not None else "gap not known"),
        (".screw.length", f"screws {say(m.screw.length, 0, FIGURES)} long" if m.screw.length is not None else ""),
        (".grain", "screws in end grain" if m.grain == "end" else "screws across grain"),
        (".offset", f"{say(m.offset, 0, FIGURES)} off its mark" if float(m.offset.x) else "on its mark"),
        (".pads", f"pad {say.of(held, 'length', FIGURES)} high"),
        (".top", f"pad {say.of(held, 'length', FIGURES)} high"),
    )
    return next((words for end, words in named if any(p.endswith(end) for p in pair.paths)), "")


def _ends(sketch: Sketch, pair: Beside, walked: Walked, x0: float, y: float) -> tuple[float, str]:
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
    return low + LINE + 4, f"left end {words[0]}, right end {words[1]}"


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
