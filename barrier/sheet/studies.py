"""The pages of a study: the ladder of blocking rung by rung, and the faults of a site beside the sound job."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.load_path import Walked
from barrier.result import Check, Ending, Standing
from barrier.sheet import caution
from barrier.sheet.blocks import Block, Bullets, Content, Heading, Inline, Line, Paragraph, Table, Token
from barrier.sheet.numbers import utilisation_text
from barrier.study import NotRun, Study

LETS_GO = ("base_plate.bed", "screws.withdrawal", "blocking.end")  # other checks without a number follow from these
SQUARES = "screws.combined"  # a sum of squares: its root compares with the others
COLUMNS = (
    ("glass", ("glass.face", "glass.edge")),
    ("screws pull out", ("screws.withdrawal",)),
    ("edges", ("screws.edge", "screws.a1", "screws.a2")),
    ("bearing", ("base_plate.bed", "bearing.mean")),
    ("wood", ("blocking.bending", "blocking.shear", "blocking.torsion", "blocking.splitting", "blocking.board", "blocking.whole")),
    ("end fixings", ("blocking.end", "blocking.board_screws")),
    ("movement", ("movement",)),
)
LESSONS = (
    "Wider blocking does not make a screw grip harder; it lets the screw stand clear of an edge.",
    "Loose pieces count one by one: a screw near a joint stands near an edge, however many pieces lie beside it.",
    "The couple under the mount pulls one piece up and presses another down; the end fixings carry it away to the joists.",
    "Nails driven through a joist stand in end grain; the code credits them with nothing there.",
    "A bracket helps by the rating it states for that direction, and by nothing else.",
)


def ladder_content(study: Study) -> Content:
    """The ladder as blocks: a table of links, what governs on each rung, and words for an apprentice."""
    return Content(
        (
            caution.first(),
            Heading(1, (f"The ladder: {study.result.job.title}",)),
            Paragraph(
                (
                    "The same job, glass and load on different wood. Each number is the utilisation of the worst check of its "
                    "kind: above 1.00 it exceeds. none: it exceeds, and no number says by how much, because nothing holds. "
                    "?: not checked. –: no such check there.",
                )
            ),
            _table(study),
            Heading(2, ("Rung by rung",)),
            *_rungs(study),
            Heading(2, ("What to take from it",)),
            Bullets(tuple((lesson,) for lesson in LESSONS)),
            *_not_run(study.not_run),
            *_never_checked(study),
            caution.last(),
        ),
        study.result.job.units,
    )


def faults_content(study: Study) -> Content:
    """The faults as blocks: those that hurt most first, each beside the sound job."""
    sound = study.result.sound
    ranked = sorted(study.walked, key=lambda w: -_hurt(sound, w))
    rows = tuple(
        (
            (str(i),),
            (w.situation.name,),
            (_words_of(_changes(sound, w)) or "nothing that was checked moved: it exceeded before",),
        )
        for i, w in enumerate(ranked, 1)
    )
    return Content(
        (
            caution.first(),
            Heading(1, (f"Faults of the site: {study.result.job.title}",)),
            Paragraph(
                (
                    "One mistake at a time beside the job as described, those that hurt most first: by how much the check that "
                    "grows most grows, and before any number a link that lets go altogether. The job as described "
                    f"{_ending_words(sound)}.",
                )
            ),
            Table(("no.", "mistake", "what changes"), rows, "rll"),
            Heading(2, ("In plain words",)),
            Bullets(tuple((f"{w.situation.name}: {w.situation.words}.",) for w in ranked)),
            *_not_run(study.not_run),
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
        cells.append((_governs(w),))
        rows.append(tuple(cells))
    return Table(("rung", *(name for name, _ in COLUMNS), "governs"), tuple(rows), "l" + "r" * len(COLUMNS) + "l")


def _worst(walked: Walked, stems: Sequence[str]) -> Check | None:
    """The check of a kind that is worst: exceeding without a number, then not checked above 1, then the largest number."""
    found = [
        c for c in walked.checks if c.standing is Standing.REQUIRED and any(c.id == s or c.id.startswith(s + ".") for s in stems)
    ]
    if not found:
        return None
    return max(found, key=_weight)


def _weight(check: Check) -> float:
    if check.eta is not None:
        return check.eta
    return float("inf") if check.ending is Ending.EXCEEDS else 1.0


def _shown_worst(check: Check | None) -> str:
    if check is None:
        return "–"
    if check.ending is Ending.NOT_CHECKED:
        return "?"
    return utilisation_text(check) if check.eta is not None else "none"


def _governs(walked: Walked) -> str:
    check = walked.governing
    return "nothing was checked" if check is None else _without_mount(walked, check.title)


def _rungs(study: Study) -> Iterator[Block]:
    before: Walked | None = None
    items = []
    for w in study.walked:
        changed = "" if before is None else f" Against the rung before: {_words_of(_changes(before, w)) or 'nothing moved'}."
        parts: list[Inline] = [f"{w.situation.name}: {w.situation.words}.{changed}"]
        for line in _needed(w):
            parts.extend(line)
        items.append(tuple(parts))
        before = w
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
            worst = max(open_ends, key=lambda c: c.demand.at(c.station) if c.demand is not None else 0.0)
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
        if stem not in found or _growth(was, c) > _growth(*found[stem]):
            found[stem] = (was, c)
    return sorted(found.values(), key=lambda pair: -_growth(*pair))


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
    parts = []
    for was, now in changes[:3]:
        old = "–" if was is None else _shown_worst(was)
        parts.append(f"{now.title}: {old} → {_shown_worst(now)}")
    return "; ".join(parts)


def _ending_words(walked: Walked) -> str:
    check = walked.governing
    governed = f", governed by {check.title}" if check is not None else ""
    return f"ends as {str(walked.ending).upper() if walked.ending is not Ending.WITHIN else 'within'}{governed}"


def _not_run(not_run: Sequence[NotRun]) -> Iterator[Block]:
    if not_run:
        yield Heading(2, ("Could not be walked",))
        yield Bullets(tuple((f"{n.name}: {n.why}.",) for n in not_run))


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
