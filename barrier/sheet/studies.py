"""The pages of a study: the ladder of blocking rung by rung, and the faults of a site beside the sound job."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.load_path import Walked
from barrier.result import Check, Ending, Standing, tied
from barrier.sheet import caution
from barrier.sheet.blocks import Block, Bullets, Content, Definitions, Heading, Inline, Line, Paragraph, Table, Token
from barrier.sheet.drawings import faults as fault_pictures
from barrier.sheet.drawings import ladder as ladder_picture
from barrier.sheet.drawings.faults import Beside
from barrier.sheet.in_words import in_words
from barrier.sheet.numbers import utilisation_text
from barrier.study import NotRun, Study, has_ratings

LETS_GO = (
    "base_plate.bed",
    "screws.withdrawal",
    "screws.sideways",
    "blocking.end",
)  # other checks without a number follow from these
SQUARES = "screws.combined"  # a sum of squares: its root compares with the others
COLUMNS = (
    ("glass", ("glass.face", "glass.edge")),
    ("pull", ("screws.withdrawal",)),
    ("both", ("screws.combined",)),
    ("edges", ("screws.edge", "screws.a1", "screws.a2")),
    ("tips", ("base_plate.rotation",)),
    ("bearing", ("base_plate.bed", "bearing.mean", "bearing.below")),
    (
        "wood",
        (
            "blocking.bending",
            "blocking.both_ways",
            "blocking.shear",
            "blocking.torsion",
            "blocking.splitting",
            "blocking.whole",
            "edge_joist.bending",
            "edge_joist.shear",
            "edge_joist.torsion",
            "edge_joist.whole",
            "boards.board",
        ),
    ),
    ("ends", ("blocking.end", "edge_joist.end", "boards.screws")),
    ("moves", ("movement",)),
)
LESSONS = (
    "Without blocking the screws hold in a board and nowhere else; with it they reach wood that hands the pull on to the joists.",
    "Wider blocking does not make a screw grip harder; in one piece it lets the screw stand clear of an edge.",
    "Loose pieces count one by one: a screw near a joint stands near an edge, however many pieces lie beside it.",
    "The couple under the mount pulls one piece up and presses another down; the end fixings carry it away to the joists.",
    "Nails driven through a joist stand in end grain; the code credits them with nothing there.",
    "A bracket helps by the rating it states for that direction, and by nothing else.",
)


WORDS: tuple[tuple[str, Line], ...] = (
    ("people side", ("where people stand and lean from; the other is the drop side",)),
    ("bed", ("the timber under the base plate, which can only push",)),
    ("bearing", ("how hard the plate presses into the wood; bed: whether the wood under it is used up altogether",)),
    ("pull, both", ("screws pulled out; and pulled out and pushed sideways at once: a sum of squares, so 4 there is like 2",)),
    ("edges", ("distance of the screws from an edge of their piece, and from one another",)),
    ("tips", ("how far the base plate turns on the wood; beyond the cap it counts as exceeding",)),
    ("wood, ends", ("bending, shear, turning and splitting of the blocking; what holds its ends to the joists",)),
    ("moves", ("how far the top edge of the glass goes, over its limit",)),
    ("lets go", ("it exceeds, and no number says by how much, because nothing holds: the worst of all",)),
    ("?", ("not checked: nobody knows. A ? is not better than a number above 1, nor than lets go",)),
    ("–", ("no such check there, or what stands above it has let go already, so that nothing reaches it",)),
)


def ladder_content(study: Study) -> Content:
    """The ladder as blocks: what to take from it, a table of links, what governs on each rung, words for an apprentice."""
    within = [w.situation.name for w in study.walked if w.ending is Ending.WITHIN]
    summary = (
        f"Of {len(study.walked)} rungs these have every required check within: {', '.join(within)}."
        if within
        else f"Not one of the {len(study.walked)} rungs has every required check within."
    )
    return Content(
        (
            caution.first(study.result.job.units),
            Heading(1, (f"The ladder: {study.result.job.title}",)),
            Paragraph(
                (
                    "The same glass and load on different wood, from boards alone to one solid section. Each number is the "
                    "utilisation of the worst check of its kind: above 1.00 it exceeds. "
                    + summary
                    + " The job as described stands on "
                    + _stands_on(study)
                    + ".",
                )
            ),
            *(() if has_ratings(study.result.job) else (Paragraph((UNRATED,)),)),
            Heading(2, ("What to take from it",)),
            Bullets(tuple((lesson,) for lesson in LESSONS)),
            Heading(2, ("Words and signs",)),
            Definitions(WORDS),
            Heading(2, ("The rungs",)),
            _table(study),
            Paragraph(("What governs on each rung, of what could be checked there:",)),
            _governing(study),
            *ladder_picture.drawings(study),
            Heading(2, ("What changed from rung to rung",)),
            Paragraph(("Plain ends against the plain rung before; rated ends against the same wood with plain ends.",)),
            *_rungs(study),
            *_not_run(study.not_run, study.result.job.units),
            *_never_checked(study),
            caution.last(),
        ),
        study.result.job.units,
    )


UNRATED = (
    "The job states no rating of brackets, and none is made up here: with rated ends the end fixings stay unknown (?), and what "
    "they would have to hold is said below. That the ends then no longer govern does not mean that they hold."
)


def _stands_on(study: Study) -> str:
    job = study.result.job
    names = list(dict.fromkeys(str(m.blocking) for m in job.mounts if m.blocking))
    if not names:
        return " and ".join(dict.fromkeys(f"{'an ' if m.support == 'edge joist' else ''}{m.support}" for m in job.mounts))
    block = job.blocking[names[0]]
    many = f"{block.pieces} {'piece' if block.pieces == 1 else block.laminated + ' pieces'}"
    ends = {getattr(e, "fixing", "nothing") for e in (block.left, block.right)}
    return f"{many} of blocking, ends held by {' and '.join(sorted(ends))}"


def faults_content(study: Study) -> Content:
    """The faults as blocks: those that hurt most first, each beside the sound job."""
    sound = study.result.sound
    ranked = sorted(study.walked, key=lambda w: -tied(_hurt(sound, w)))
    rows = tuple(
        (
            (str(i),),
            (w.situation.name,),
            (
                _words_of(_changes(sound, w))
                or "not harmless: what it takes away counted for nothing before, so no number can get worse",
            ),
        )
        for i, w in enumerate(ranked, 1)
    )
    return Content(
        (
            caution.first(study.result.job.units),
            Heading(1, (f"Faults of the site: {study.result.job.title}",)),
            Paragraph(
                (
                    "One mistake at a time beside the job as described, those that hurt most first. A mistake hurts by how many "
                    "times larger it makes the utilisation that grows most; one that makes a link let go altogether stands "
                    f"before any number. The job as described stands on {_stands_on(study)} and {_ending_words(sound)}.",
                )
            ),
            Heading(2, ("In plain words",)),
            Bullets(tuple((f"{w.situation.name}: {w.situation.words}.",) for w in ranked)),
            Heading(2, ("Words and signs",)),
            Definitions(WORDS),
            Heading(2, ("With numbers, as described → with the mistake",)),
            Table(("no.", "mistake", "what changes"), rows, "rll"),
            *fault_pictures.drawings(tuple(Beside(sound, w, _told(sound, w), study.result.tables) for w in ranked)),
            *_not_run(study.not_run, study.result.job.units),
            *_never_checked(study),
            caution.last(),
        ),
        study.result.job.units,
    )


# ---------------------------------------------------------------- the ladder


def _table(study: Study) -> Block:
    rows = []
    for w in study.walked:
        cells: list[Line] = [(w.situation.name,)]
        cells.extend((_shown_worst(_worst(w, stems)),) for _, stems in COLUMNS)
        rows.append(tuple(cells))
    return Table(("rung", *(name for name, _ in COLUMNS)), tuple(rows), "l" + "r" * len(COLUMNS))


def _governing(study: Study) -> Block:
    return Table(("rung", "what governs it"), tuple(((w.situation.name,), (_governs(w),)) for w in study.walked), "ll")


def _worst(walked: Walked, stems: Sequence[str]) -> Check | None:
    """The check of a kind that is worst: exceeding without a number, then not checked above 1, then the largest number."""
    found = [
        c for c in walked.checks if c.standing is Standing.REQUIRED and any(c.id == s or c.id.startswith(s + ".") for s in stems)
    ]
    if not found:
        return None
    return max(found, key=lambda c: tied(_weight(c)))


def _weight(check: Check) -> float:
    if check.eta is not None:
        return check.eta
    return float("inf") if check.ending is Ending.EXCEEDS else 1.0


def _shown_worst(check: Check | None) -> str:
    if check is None:
        return "–"
    if check.ending is Ending.NOT_CHECKED:
        return "?"
    return utilisation_text(check) if check.eta is not None else "lets go"


def _governs(walked: Walked) -> str:
    check = walked.governing
    return "nothing was checked" if check is None else _without_mount(walked, check.title)


def _rungs(study: Study) -> Iterator[Block]:
    plain: Walked | None = None
    items = []
    for w in study.walked:
        is_rated = w.situation.name.endswith("rated ends")
        changed = "" if plain is None else f" {_words_of(_changes(plain, w)) or 'Nothing moved'}."
        parts: list[Inline] = [f"{w.situation.name}: {w.situation.words}.{changed}"]
        if is_rated:
            for line in _needed(w):
                parts.extend(line)
        else:
            plain = w
        items.append(tuple(parts))
    yield Bullets(tuple(items))


def _without_mount(walked: Walked, title: str) -> str:
    """A title without the mount it is about: on a page of many walks the worse mount stands for both."""
    for mount in walked.job.mounts:
        for words in (f" of mount {mount.name}", f" under mount {mount.name}", f", mount {mount.name}", f" by mount {mount.name}"):
            title = title.replace(words, "")
        title = title.replace(f"mount {mount.name}", "a mount")
    return title


def _needed(walked: Walked) -> Iterator[Line]:
    """What the ends would have to hold where nothing states what they can."""
    for way, words in (("uplift", "held down against"), ("down", "held up under"), ("torque", "held against turning by")):
        open_ends = [
            c
            for c in walked.checks
            if f".{way}." in c.id and c.id.startswith("blocking.end") and c.utilisation is None and c.demand
        ]
        if open_ends:
            worst = max(open_ends, key=lambda c: tied(c.demand.at(c.station)) if c.demand is not None else 0.0)
            assert worst.demand is not None
            per = "" if way == "torque" else " for each piece"
            yield (
                f" Each end wants to be {words} ",
                Token(worst.demand, worst.station),
                f"{per} at the level strength is checked at.",
            )


# ---------------------------------------------------------------- what changed


def _changes(before: Walked, after: Walked) -> list[tuple[Check | None, Check]]:
    """Required checks that moved by a twentieth or ended otherwise, worst first."""
    earlier = {c.id: c for c in before.checks}
    found: dict[str, tuple[Check | None, Check]] = {}
    for c in after.checks:
        was = earlier.get(c.id)
        if c.standing is not Standing.REQUIRED or not (was is None or _moved(was, c)):
            continue
        stem = _without_mount(after, c.title)  # mounts that fare alike are said once, the worse of them
        if stem not in found or tied(_growth(was, c)) > tied(_growth(*found[stem])):
            found[stem] = (was, c)
    return sorted(found.values(), key=lambda pair: -tied(_growth(*pair)))


def _moved(was: Check, now: Check) -> bool:
    if was.eta is None or now.eta is None:
        return was.ending is not now.ending or (was.eta is None) != (now.eta is None)
    return abs(now.eta - was.eta) > 0.05 * max(was.eta, 0.01)


def _growth(was: Check | None, now: Check) -> float:
    """How much worse: a link that lets go counts before any number, what only follows from it counts little."""
    if now.ending is Ending.EXCEEDS and now.eta is None:
        if was is not None and was.ending is Ending.EXCEEDS and was.eta is None:
            return 0.0
        return 1e3 if now.id.startswith(LETS_GO) else 0.01
    if now.eta is None:
        return 0.5
    old = was.eta if was is not None and was.eta is not None else 1.0
    growth = now.eta / max(old, 0.01)
    return (growth**0.5 if now.id.startswith(SQUARES) else growth) - 1.0


def _hurt(sound: Walked, walked: Walked) -> float:
    return max((_growth(*pair) for pair in _changes(sound, walked)), default=0.0)


def _words_of(changes: Sequence[tuple[Check | None, Check]]) -> str:
    """The three largest changes in words."""
    return "; ".join(f"{title}: {before} → {after}" for title, before, after in _figures_of(changes))


def _figures_of(changes: Sequence[tuple[Check | None, Check]]) -> tuple[tuple[str, str, str], ...]:
    """The three largest changes: what, its figure before, its figure after."""
    return tuple((now.title, "–" if was is None else _shown_worst(was), _shown_worst(now)) for was, now in changes[:3])


def _told(before: Walked, after: Walked) -> tuple[tuple[str, str, str], ...]:
    return _figures_of(_changes(before, after))


def _ending_words(walked: Walked) -> str:
    check = walked.governing
    governed = f", governed by {check.title}" if check is not None else ""
    return f"ends as {str(walked.ending).upper() if walked.ending is not Ending.WITHIN else 'within'}{governed}"


def _not_run(not_run: Sequence[NotRun], style: str) -> Iterator[Block]:
    if not_run:
        yield Heading(2, ("Not tried",))
        yield Bullets(tuple((f"{n.name}: {in_words(n.why, style)}.",) for n in not_run))


def _never_checked(study: Study) -> Iterator[Block]:
    """What no walk of the study could check, by title and reason, each once."""
    found: dict[str, None] = {}
    for w in study.walked:
        for c in w.checks:
            if c.ending is Ending.NOT_CHECKED:
                found[f"{_without_mount(w, c.title)}: {c.reason}."] = None
    if found:
        yield Heading(2, ("Not checked somewhere in it",))
        yield Bullets(tuple((text,) for text in found))
