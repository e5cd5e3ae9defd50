"""What both pages of a study say: the job they stand on, their words and signs, what was not tried and not checked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barrier.load_path import Result
from barrier.result import Ending, Lack
from barrier.sheet.alike import without_mount
from barrier.sheet.blocks import Block, Bullets, Definitions, Heading, Line, Token
from barrier.sheet.content.job_words import line_case, standing
from barrier.sheet.in_words import in_words
from barrier.sheet.studies.changes import NONE, TIPS, UNKNOWN_SIGN, UNREACHED, worst
from barrier.study import NotRun, Study

Row = tuple[str, Line]

MISTAKES: tuple[Row, ...] = (
    ("grub screw", ("the small screw in a clamp that presses its pad on the glass",)),
    ("spreader", ("the plate between grub screw and pad: it spreads the push over the whole pad, not the tip of the screw alone",)),
    ("packer", ("a thin piece pushed under a part of the base plate to set the mount upright",)),
)
RUNGS: tuple[Row, ...] = (
    ("plain ends", ("each piece held by two nails at each end, driven through the joist into its end grain",)),
    (
        "bracket ends",
        ("each piece held in a bracket at each end, with the ratings the job states, and with none where it states none",),
    ),
)


def job_block(study: Study) -> Iterator[Block]:
    """The job as described: what every number of the page stands on."""
    yield from job_block_of(study.result)


def job_block_of(result: Result) -> Iterator[Block]:
    """The job of a result, as every page says it."""
    yield Heading(2, ("The job this page stands on",))
    yield Definitions(standing(result))


def words_and_signs(study: Study) -> Iterator[Block]:
    """Every word and sign of the page that a newcomer to the trade may not know."""
    job = study.result.job
    rows: list[Row] = [
        (", ".join(m.name for m in job.mounts), ("the mounts: each a clamp for the glass on a base plate with its screws",)),
        ("people side", ("where people stand and lean from; the other is the drop side",)),
        *_design_load(study),
        *(RUNGS if study.kind == "ladder" else MISTAKES),
        ("glass", ("how hard the glass bends on its clamps: the largest stress on a face or at an edge, over its strength",)),
        ("pull, both", ("screws pulled out; and pulled out and pushed sideways at once: a sum of squares, so 4 there is like 2",)),
        ("edges", ("distance of the screws from an edge of their piece, and from one another: needed over there",)),
        *_tips(study),
        ("bed", ("the timber under the base plate, which can only push: the load over what the bed can balance",)),
        ("bearing", ("how hard the plate presses into the wood, over its strength; or the bed, where that is worse",)),
        ("wood, ends", ("bending, shear, turning and splitting of the blocking; what holds its ends to the joists",)),
        ("moves", ("how far the top edge of the glass goes, over its limit",)),
        (
            "lets go",
            (
                "it exceeds, and without a number: nothing balances it under the design load, or nothing that counts holds it. "
                "The worst of all. Where bed or pull beside it have a number, that says how many times too large the load is "
                "for them",
            ),
        ),
        ("none left", ("it exceeds, and without a number: once the tolerance of the site is taken off there is no distance left",)),
        (UNREACHED, ("nothing reaches it, for a link nearer to the hand has let go already: no better than lets go",)),
        (UNKNOWN_SIGN, ("not checked: nobody knows. A ? is not better than a number above 1, nor than lets go",)),
        (NONE, ("there is no such check there",)),
    ]
    yield Heading(2, ("Words and signs",))
    yield Definitions(tuple(rows))


def _design_load(study: Study) -> Iterator[Row]:
    case = line_case(study.result)
    if case is not None:
        yield (
            "design load",
            ("the load times the factor the code puts on it, here ", Token(case.strength.factor), "; strength is compared with it"),
        )


def _tips(study: Study) -> Iterator[Row]:
    words = "how far the base plate turns on the wood under the design load, over the largest turn that is let be"
    for walked in (study.result.sound, *study.walked):
        check = worst(walked, (TIPS,))
        if check is not None and check.resistance is not None:
            yield "tips", (f"{words}, ", Token(check.resistance), "; beyond it counts as exceeding")
            return
    yield "tips", (f"{words}; beyond it counts as exceeding",)


def stands_on(study: Study) -> str:
    """What the mounts of the job as described stand on, in words."""
    job = study.result.job
    names = list(dict.fromkeys(str(m.blocking) for m in job.mounts if m.blocking))
    if not names:
        return " and ".join(dict.fromkeys(f"{'an ' if m.support == 'edge joist' else ''}{m.support}" for m in job.mounts))
    block = job.blocking[names[0]]
    many = f"{block.pieces} {'piece' if block.pieces == 1 else block.laminated + ' pieces'}"
    ends = {getattr(e, "fixing", "nothing") for e in (block.left, block.right)}
    return f"{many} of blocking, ends held by {' and '.join(sorted(ends))}"


def not_tried(not_run: Sequence[NotRun], style: str) -> Iterator[Block]:
    """Rungs or mistakes that could not be walked, and why."""
    if not_run:
        yield Heading(2, ("Not tried",))
        yield Bullets(tuple((f"{n.name}: {in_words(n.why, style)}.",) for n in not_run))


def never_checked(study: Study) -> Iterator[Block]:
    """What no walk of the study could check, by title and reason, each once."""
    found: dict[str, None] = {}
    for w in study.walked:
        for c in w.checks:
            if c.ending is Ending.NOT_CHECKED and c.lack is not Lack.REACH:
                found[f"{without_mount(w, c.title)}: {c.reason}."] = None
    if found:
        yield Heading(2, ("Not checked somewhere in it",))
        yield Bullets(tuple((text,) for text in found))
