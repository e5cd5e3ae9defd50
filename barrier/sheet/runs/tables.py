"""The tables of the paper: set-out, joists, findings, cut list, glass, fixings, cover; each a block, and a file of its own."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from barrier.job.schema import Panel as Glass
from barrier.run.ask import Impossible
from barrier.run.conflicts import Weight
from barrier.run.lists import cut, with_spare
from barrier.run.side import Mount, Piece, SideSet
from barrier.sheet.blocks import ROOM, TICK, Table
from barrier.sheet.numbers import ending_text, utilisation_text
from barrier.whole_run import CheckedRun, LaidOut

_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")
SAID = {Weight.CLASH: "CLASH", Weight.OPEN: "NOT CHECKED", Weight.NOTE: "note"}


def _table(head: Sequence[str], rows: Sequence[Sequence[str]], align: str) -> Table:
    return Table(tuple(head), tuple(tuple((cell,) for cell in row) for row in rows), align)


def set_out_table(laid: LaidOut, side: SideSet) -> Table:
    """Everything that is marked on the deck, in the order of the tape, with room for a tick; empty columns are left out."""
    head = (
        "mark", "from 0", "tick", "see", "screw lines", "bay", "from joist", "to piece ends", "piece", "deck down", "level read",
    )  # fmt: skip
    rows: list[tuple[str, ...]] = []
    for p in side.panels:
        rows.append(_edge_row(side, f"{p.name} begins", p.strip.left))
        rows += [_mount_row(laid, side, m) for m in p.mounts]
        rows.append(_edge_row(side, f"{p.name} ends", p.strip.right))
    rows.append(_edge_row(side, side.end, side.division.line))
    used = [i for i in range(len(head)) if any(row[i] for row in rows)]
    made = _table([head[i] for i in used], [[row[i] for i in used] for row in rows], "l" + "r" * (len(used) - 1))
    return replace(made, whole=True, large=True, heavy=(0, 1))


def _edge_row(side: SideSet, mark: str, at: int) -> tuple[str, ...]:
    return mark, f"{at}", TICK, "", "", "", "", "", "", _level(side, at), ""


def _mount_row(laid: LaidOut, side: SideSet, m: Mount) -> tuple[str, ...]:
    fixing = laid.fixing_of(next(p.name for p in side.panels if m in p.mounts))
    half = fixing.half_along
    lines = f"{m.at - half:g} / {m.at + half:g}"
    bay = face = ends = piece = ""
    if m.place is not None:
        near, far = m.place.ends(fixing)
        bay, face, ends = f"{m.place.bay + 1}", f"{m.place.from_face:g}", f"{near:g} / {far:g}"
    elif not side.ground.across:
        bay, piece = "1", next(f"{q.low:g} to {q.high:g}" for q in side.pieces if m.name in q.mounts)
    return f"{m.name} MOUNT", f"{m.at:g}", TICK, _see(laid, m), lines, bay, face, ends, piece, _level(side, m.at), TICK


def _see(laid: LaidOut, m: Mount) -> str:
    """The numbers of the findings for which a mount may not be marked as it stands here."""
    return ", ".join(str(i) for i, c in enumerate(laid.conflicts, 1) if m.name in c.whom and c.weight is not Weight.NOTE)


def _level(side: SideSet, at: float) -> str:
    return f"{side.fall_at(at):.0f}" if side.fall else ""


def findings_table(laid: LaidOut) -> Table:
    """What does not go together: number as on the plan, weight, where, by how much, what would cure it."""
    rows = [
        (f"{i}", SAID[c.weight], f"{c.side} at {c.at:.0f}" + (f": {few(c.whom)}" if c.whom else ""), f"{c.kind}: {c.what}", c.cure)
        for i, c in enumerate(laid.conflicts, 1)
    ]
    return _table(("no.", "weight", "where", "what", "cure"), rows, "lllll")


def few(names: Sequence[str]) -> str:
    """Names, all of them where they are few."""
    return ", ".join(names) if len(names) <= 8 else f"{names[0]} to {names[-1]}, {len(names)} of them"


def joists_table(side: SideSet) -> Table:
    """The middle of every joist from the zero of the tape, with room to write what is measured, and the bay behind it.

    Joists that run along the line are two: how far in from the deck edge their middles are.
    """
    g = side.ground
    rows: list[tuple[str, ...]] = []
    if not g.across:
        first = g.rim - g.joist / 2
        for name, at in (("edge joist", first), ("the next joist", first + g.next_joist)):
            rows.append((name, f"{at:g} in from the deck edge", ROOM, "1" if at == first else ""))
        return replace(_table(("joist", "middle", "measured", "bay to the next"), rows, "lrll"), large=True, heavy=(1,))
    for i, j in enumerate(g.joists, 1):
        clear = f"{g.joists[i] - j - g.joist:g}" if i < len(g.joists) else ""
        rows.append((f"{i}", f"{j:g}", ROOM, f"{i}" if clear else "", clear))
    made = _table(("joist", "middle, from 0", "measured", "bay to the next", "clear"), rows, "rrlrr")
    return replace(made, whole=True, large=True, heavy=(1,))


def cut_table(laid: LaidOut) -> Table:
    """Pieces of one length together, with how many, the bays they are for, and how the length is known."""
    rows = []
    for side in laid.sides:
        alike: dict[tuple[float, str], list[Piece]] = {}
        for q in side.pieces:
            alike.setdefault((round(q.length, 1), laid.not_by_rule(q)), []).append(q)
        how = "measured" if side.ground.measured else "NOMINAL: measure first"
        for (length, other), pieces in alike.items():
            bays = [_bay(side, q.mounts[0]) for q in pieces]
            where = f"bays {_numbers(bays)}" if side.ground.across else "bay 1, edge joist to the next, one at each mount"
            where += f"; {other}" if other else ""
            rows.append(
                (f"{len(pieces)} off", f"{length:g}", f"side {side.name}, {where}", run_of([q.mark for q in pieces]), how, TICK)
            )
    return replace(_table(("number", "length", "for", "marks", "by", "cut"), rows, "rrllll"), heavy=(0, 1))


def pieces_table(laid: LaidOut) -> Table:
    """Every piece by itself, for a spreadsheet."""
    rows = []
    for side in laid.sides:
        for q in side.pieces:
            bay = f"{_bay(side, q.mounts[0])}" if side.ground.across else "1"
            how = "measured" if side.ground.measured else "nominal"
            rows.append((q.mark, side.name, bay, f"{q.length:g}", f"{q.low:g}", f"{q.high:g}", how, ", ".join(q.mounts)))
    return _table(("piece", "side", "bay", "length", "from", "to", "by", "for mounts"), rows, "lllrrrll")


def _numbers(numbers: Sequence[int]) -> str:
    """Numbers in words that leave none out.

    >>> _numbers([1, 2, 3, 5, 8, 9])
    '1 to 3, 5, 8, 9'
    """
    return run_of([str(n) for n in numbers])


def _bay(side: SideSet, mount: str) -> int:
    m = next(m for m in side.mounts if m.name == mount)
    return m.place.bay + 1 if m.place is not None else 0


def stock_table(laid: LaidOut) -> Table:
    """Which pieces come out of which length, and what is left of it."""
    asked = laid.file.run.blocking
    stock, saw = float(asked.stock.x), float(asked.saw.x)
    kinds: dict[tuple[object, ...], list[Piece]] = {}  # a length of stock has one section
    for piece in (q for s in laid.sides for q in s.pieces):
        own = laid.blocking_of(laid.on(piece))
        each = 1 if own.laminated == "factory" else own.pieces
        kinds.setdefault((float(own.width.x), float(own.depth.x), str(own.material), own.laminated), []).extend([piece] * each)
    try:
        sorted_bars = [(kind, bar) for kind, pieces in kinds.items() for bar in cut(pieces, 1, stock, saw)]
    except Impossible as no:
        return _table(("length", "pieces", "left"), [("none", str(no), "")], "llr")
    bars, first = [bar for _, bar in sorted_bars], next(iter(kinds))
    alike = [(kind, [x for _, x in bar.pieces]) for kind, bar in sorted_bars]
    rows, i = [], 0
    while i < len(bars):  # lengths that are cut alike stand together
        kind, sizes = alike[i]
        many = next((n for n in range(i, len(bars)) if alike[n] != alike[i]), len(bars)) - i
        cuts = ", ".join(f"{sizes.count(x)} x {x:g}" for x in dict.fromkeys(sizes))
        cuts += f", of {kind[0]:g} x {kind[1]:g}" if kind != first else ""
        rows.append((f"{many} x {stock:g}", cuts, f"{bars[i].left:g}" + (" each" if many > 1 else "")))
        i += many
    waste, pieces = sum(b.left for b in bars), sum(len(b.pieces) for b in bars)
    rows.append((f"{len(bars)} in all", f"{pieces} pieces", f"{waste:g} ({100 * waste / (stock * len(bars)):.0f} %)"))
    return _table(("lengths", "pieces", "left over"), rows, "llr")


def glass_table(laid: LaidOut) -> Table:
    """Panels by size: width, height, build-up, edge, number, mass, who lifts it."""
    sizes: dict[tuple[int, float, str, str], list[str]] = {}
    for s in laid.sides:
        for p in s.panels:
            panel = laid.job_of(p.name).panels[0]
            sizes.setdefault((p.strip.width, float(panel.height.x), _build(panel), str(panel.edge)), []).append(p.name)
    lift = float(laid.file.run.lift.x)
    rows = []
    for (width, height, build, edge), names in sorted(sizes.items()):
        kg = laid.masses[names[0]]
        people = "three persons or a lifter" if kg > lift else "two persons"
        rows.append((f"{width}", f"{height:g}", build, edge, f"{len(names)}",
                     f"{kg:.0f}", people, ", ".join(names)))  # fmt: skip
    return _table(("width", "height", "glass, mm", "edge", "number", "kg", "lift", "panels"), rows, "rrllrrll")


def _build(panel: Glass) -> str:
    """Layers of a panel with their glass."""
    build = " + ".join(f"{float(layer.nominal.x):g}" if layer.nominal else "?" for layer in panel.layers)
    film = f", film {float(panel.interlayer.thickness.x):g}" if panel.interlayer is not None else ""
    return f"{build}{film} {panel.layers[0].glass}"


def fixings_table(laid: LaidOut) -> Table:
    """Counts of what is bought, with a twentieth more of what gets lost."""
    count: dict[str, Counter[str]] = {"mounts": Counter(), "screws": Counter()}
    ends: Counter[tuple[str, str]] = Counter()  # by what holds them, and whose that is
    for p in (p for s in laid.sides for p in s.panels):
        own_mounts = laid.job_of(p.name).mounts  # one after another as the tape runs; alike where the panel is by the rule
        for i, _ in enumerate(p.mounts):
            one = own_mounts[min(i, len(own_mounts) - 1)]
            long = "?" if one.screw.length is None else f"{float(one.screw.length.x):g}"
            count["mounts"][str(one.type)] += 1
            count["screws"][f"{float(one.screw.diameter.x):g} x {long} mm"] += len(one.screws)
    for piece in (q for s in laid.sides for q in s.pieces):
        own = laid.blocking_of(laid.on(piece))
        held = "fixing" if own.left is None else str(own.left.fixing)
        whose = "ask which" if own.left is None or own.left.reference is None else str(own.left.reference)
        ends[held, whose] += 2 * (1 if own.laminated == "factory" else own.pieces)
    rows = [
        (what, kind, f"{n}", f"{n if what == 'mounts' else with_spare(n)}") for what, of in count.items() for kind, n in of.items()
    ]  # fmt: skip
    rows += [(f"ends of pieces, each with its {held}", whose, f"{n}", f"{with_spare(n)}") for (held, whose), n in ends.items()]
    mounts = sum(len(s.mounts) for s in laid.sides)
    if any(s.fall for s in laid.sides):
        rows.append(
            ("packers, a set at each mount", "by its level reading, under the full plate", f"{mounts}", f"{with_spare(mounts)}")
        )
    return _table(("what", "kind", "needed", "with spares"), rows, "llrr")


def cover_table(run: CheckedRun) -> Table:
    """One row a distinct condition: the panels it covers, what governs, how it ends, which findings stand against it."""
    rows = []
    for i, r in enumerate(run.rows, 1):
        check, governs = r.governing, r.governs
        number = "?" if check is None else utilisation_text(check)
        against = ", ".join(str(n) for n in r.held_up) or "none"
        words = f"side {r.condition.side}: {r.condition.words}"
        rows.append((f"{i}. {run_of(r.condition.panels)}", ending_text(r.ending), number, governs, words, against))
    return _table(("row, panels", "ending", "utilisation", "governs", "condition", "findings"), rows, "llllll")


def run_of(names: Sequence[str]) -> str:
    """Names in words that leave none out: neighbours as *to*.

    >>> run_of(["A2", "A3", "A4", "A7"])
    'A2 to A4, A7'
    """
    groups: list[list[str]] = []
    for name in names:
        number = int(name[len(_letters(name)) :])
        before = groups[-1][-1] if groups else ""
        if before and _letters(before) == _letters(name) and int(before[len(_letters(before)) :]) == number - 1:
            groups[-1].append(name)
        else:
            groups.append([name])
    return ", ".join(g[0] if len(g) == 1 else f"{g[0]} to {g[-1]}" if len(g) > 2 else f"{g[0]}, {g[1]}" for g in groups)


def _letters(name: str) -> str:
    """A name of a panel without its number."""
    return name.rstrip("0123456789")


def all_tables(run: CheckedRun) -> Iterator[tuple[str, Table]]:
    """Every table with a name for a file."""
    laid = run.laid
    for side in laid.sides:
        yield f"set_out_{side.name}", set_out_table(laid, side)
    yield "findings", findings_table(laid)
    for side in laid.sides:
        yield f"joists_{side.name}", joists_table(side)
    yield "cut_list", cut_table(laid)
    yield "pieces", pieces_table(laid)
    yield "stock", stock_table(laid)
    yield "glass", glass_table(laid)
    yield "fixings", fixings_table(laid)
    yield "cover", cover_table(run)


def as_csv(table: Table) -> str:
    """A table as comma-separated values, its head first; a cell that a spreadsheet would take for a formula, and is no number, is
    made harmless; room for a pencil is an empty cell."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    cells = (["" if cell in ((TICK,), (ROOM,)) else "".join(map(str, cell)) for cell in row] for row in table.rows)
    for row in (table.head, *cells):
        writer.writerow([f"'{cell}" if cell[:1] in ("=", "+", "-", "@") and not _NUMBER.fullmatch(cell) else cell for cell in row])
    return out.getvalue()
