"""What of a job file nobody measured or knows, as questions; and the file with their answers written in, all else untouched."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from barrier.errors import Fault, JobRefused
from barrier.job.entries import Choice, Entry, Flag, Quantity, Whole
from barrier.job.entries_in_tables import Names
from barrier.job.job import Job
from barrier.job.question import DONT_KNOW, Doubt, Question, check_answer
from barrier.job.read import job_from_text
from barrier.job.spoken import spoken
from barrier.job.written import UNKNOWN, Written, sections
from barrier.value import JobEntry

YES_OR_NO = ("yes", "no")
ASSUMED = r"\{\s*value\s*=.*\}"
IN_ORDER = ("site", "panels", "mounts", "mount_types", "decking", "blocking", "joists", "wind", "timber", "loads", "limits")


@dataclass(frozen=True, slots=True)
class Gap:
    """An entry of the file that is unknown or assumed: where it stands, what it is taken as (empty where unknown), how to find
    out, and the question for it; ``kind`` is what may stand there."""

    entry: JobEntry
    kind: Entry
    how: str
    weight: int

    @property
    def taken_as(self) -> str:
        """What it is assumed to be; empty where it is not known."""
        return self.entry.text if self.entry.assumed else ""

    @property
    def question(self) -> Question:
        """The entry as a question."""
        now = f" (now taken as {self.taken_as})" if self.taken_as else ""
        text, kind = f"{spoken(self.entry.path).capitalize()}{now}", self.kind
        if isinstance(kind, Choice):
            return Question(self.entry.path, text, self.how, choices=tuple(c for c in kind.choices if c != UNKNOWN))
        if isinstance(kind, Flag):
            return Question(self.entry.path, text, self.how, choices=YES_OR_NO)
        if isinstance(kind, (Quantity, Whole)):
            return Question(self.entry.path, text, self.how, kinds=(kind,))
        return Question(self.entry.path, text, self.how, free=True)

    def as_toml(self, answer: str, basis: str) -> str:
        """An answer as it stands in the file."""
        if isinstance(self.kind, Flag):
            return "true" if answer == "yes" else "false"
        if isinstance(self.kind, Whole):
            return answer
        if isinstance(self.kind, Names):
            return f'{{ {basis} = "{answer}" }}'
        return f'"{answer}"'


def gaps(job: Job) -> tuple[Gap, ...]:
    """The gaps of a job file in the order one walks a site: place, glass, mounts, deck, wind.

    Only what stands in the file as ``"unknown"`` or assumed; what it leaves out is not a gap of it.
    """
    return tuple(sorted(_gaps(job), key=lambda g: (_part(g.entry.path), g.entry.line or 0)))


def _part(path: str) -> int:
    top = path.partition(".")[0]
    return IN_ORDER.index(top) if top in IN_ORDER else len(IN_ORDER)


def _gaps(job: Job) -> Iterator[Gap]:
    asked = {e.path: e.reason for e in job.unknowns()}
    for section in sections(job.written):
        if section.model is None:
            continue
        skipped = section.model.beside_the_point(section)
        entries = section.model.entries()
        for key, node in section.items():
            kind = entries.get(key, (None, None))[1]
            if not isinstance(node, Written) or kind is None or key in skipped or node.entry.line is None:
                continue
            if node.entry.assumed:
                yield Gap(node.entry, kind, node.entry.reason, kind.weight)
            elif node.raw == UNKNOWN and (kind.unknown or asked.get(node.entry.path)):
                yield Gap(node.entry, kind, kind.unknown or asked[node.entry.path], kind.weight)


def filled(text: str, answers: Mapping[int, tuple[str, str]]) -> str:
    """A job file with entries replaced: by line number from one, the key that stands there and its new value as TOML.

    Everything else stays as it was, comments too. Raises ValueError where no such entry stands on a line.

    >>> filled('a = 1\\nwidth = "unknown"   # of one\\n', {2: ("width", '"45 mm"')})
    'a = 1\\nwidth = "45 mm"   # of one\\n'
    """
    lines = text.split("\n")
    for number, (key, value) in answers.items():
        place = re.compile(rf'^(\s*{re.escape(key)}\s*=\s*)(?:"{UNKNOWN}"|{ASSUMED})(\s*(?:#.*)?)$')
        line, end = lines[number - 1].removesuffix("\r"), "\r" if lines[number - 1].endswith("\r") else ""
        match = place.match(line)
        if match is None:
            raise ValueError(f"line {number} holds no entry {key} that is unknown or assumed")
        lines[number - 1] = f"{match[1]}{value}{match[2]}{end}"
    return "\n".join(lines)


def ask_gaps(job: Job, prompt: Callable[[str], str], say: Callable[[str], None]) -> str:
    """The job file with what was answered written into it; Enter leaves an entry as it is.

    An answer the job cannot take (it contradicts another entry) is said and asked for again.
    """
    text = job.text.decode("utf-8-sig")
    for gap in gaps(job):
        while True:
            answer = _answer(gap, job.units, prompt)
            if answer is None:
                break
            if isinstance(answer, Fault):
                say(f"  {answer.text}")
                continue
            assert gap.entry.line is not None
            key = gap.entry.path.rpartition(".")[2]
            tried = filled(text, {gap.entry.line: (key, gap.as_toml(answer, job.basis))})
            try:
                job_from_text(tried, job.file)
            except JobRefused as refused:
                say("\n".join(f"  {f.key} {f.text}" for f in refused.faults))
                continue
            text = tried
            break
    return text


def _answer(gap: Gap, units: str, prompt: Callable[[str], str]) -> str | Fault | None:
    """An answer as the file takes it; None where the entry stays as it is."""
    question = gap.question
    typed = prompt(f"{question.shown}\n  ({question.help})")
    if typed.strip().casefold() in DONT_KNOW:
        return None
    answer = check_answer(question, typed, units)
    if isinstance(answer, Doubt):
        said = prompt(f"  {answer.text} [Enter for yes, or the size with its unit]")
        answer = answer.kept if said.strip().casefold() in ("", "y", "yes") else check_answer(question, said, units)
    return Fault(question.key, answer.text) if isinstance(answer, Doubt) else answer
