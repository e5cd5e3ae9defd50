"""The page of the mistakes of a site, one at a time beside the job as described."""

from __future__ import annotations

from barrier.load_path import Walked
from barrier.result import About, Ending
from barrier.sheet.blocks import Content, Heading, Line, Paragraph, Table
from barrier.sheet.content import caution
from barrier.sheet.drawings import faults as pictures
from barrier.sheet.drawings.faults import HARMLESS, Beside
from barrier.sheet.numbers import utilisation_text
from barrier.sheet.studies import changes, words
from barrier.study import Study

NEAR = 0.8  # of a bed: from here on little is left


PICTURES = (
    "Both pictures of a pair have one scale. Seen from above, a ring is a screw that pulls, hatching is where the plate presses. "
    "What one mount gives up the glass puts on the other, so a mistake at one may make both let go. Words and signs are explained "
    "below the pictures."
)


def faults_content(study: Study) -> Content:
    """The faults as blocks: those that hurt most first, each with its picture beside the sound job."""
    result, style = study.result, study.result.job.units
    sound = result.sound
    hurts = {id(w): changes.hurt(sound, w) for w in study.walked}
    ranked = sorted(study.walked, key=lambda w: tuple(-x for x in hurts[id(w)]))
    told = [changes.told(sound, w) for w in ranked]
    rows = tuple(_row(i, sound, w) for i, w in enumerate(ranked, 1))
    beside = tuple(Beside(sound, w, _sentence(sound, w), found, result.tables) for w, found in zip(ranked, told, strict=True))
    return Content(
        (
            caution.first(style),
            Heading(1, (f"Faults of the site: {result.job.title}",)),
            Paragraph(
                (
                    "One mistake at a time beside the job as described, those that hurt most first: before all others those "
                    "that make something let go, and within each group the one that makes a utilisation grow by the largest "
                    f"factor. The job as described stands on {words.stands_on(study)} and {_ending_words(sound)}.{_near(study)}",
                )
            ),
            *words.job_block(study),
            Heading(2, ("The mistakes, as described → with the mistake",)),
            Table(("no.", "mistake", "what lets go by it; what grows most"), rows, "rll"),
            Heading(2, ("One by one",)),
            Paragraph((PICTURES,)),
            *pictures.drawings(beside),
            *words.words_and_signs(study),
            *words.not_tried(study.not_run, style),
            *words.never_checked(study),
            caution.last(),
        ),
        style,
    )


def _row(i: int, sound: Walked, walked: Walked) -> tuple[Line, ...]:
    """A mistake in the table: what lets go by it, and which utilisation grows most."""
    gone, grown = changes.newly_gone(sound, walked), changes.grows_most(sound, walked)
    told = "; ".join(part for part in (gone, grown.words if grown else "") if part)
    return (str(i),), (walked.situation.name,), (told or HARMLESS,)


def _sentence(sound: Walked, walked: Walked) -> str:
    """What a mistake does, in plain words."""
    tipped = changes.told_tipped(sound, walked)
    return " ".join(part for part in (f"{walked.situation.words}.", _shifted(sound, walked) if tipped else "", tipped) if part)


def _shifted(sound: Walked, walked: Walked) -> str:
    """That a mount which was changed takes less than it did, so that its neighbours take more; empty where it does not."""
    changed = {path.split(".")[1] for path in walked.situation.changes if path.startswith("mounts.")}
    before, after = ({c.about: c.eta for c in w.checks if c.eta is not None} for w in (sound, walked))
    for name in sorted(changed):
        bed = About(*changes.BED, mount=name)
        if after.get(bed, 0.0) < 0.95 * before.get(bed, 0.0) and bed in after:
            return f"{name} grows soft, and what it no longer takes goes to its neighbours."
    return ""


def _near(study: Study) -> str:
    """How little is left of the bed as described, where mistakes use it up."""
    bed = changes.worst(study.result.sound, (changes.BED,))
    tipped = sum(bool(changes.tipped(w)) for w in study.walked)
    if bed is None or bed.eta is None or not NEAR < bed.eta <= 1.0 or not tipped:
        return ""
    return (
        f" The bed under a mount stands at {utilisation_text(bed)} as described: little is left before a base "
        f"plate lets go, and {tipped} of these {len(study.walked)} mistakes use it up."
    )


def _ending_words(walked: Walked) -> str:
    check = walked.governing
    governed = f", governed by {check.title}" if check is not None else ""
    return f"ends as {str(walked.ending).upper() if walked.ending is not Ending.WITHIN else 'within'}{governed}"
