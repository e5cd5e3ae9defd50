"""Comparing a sheet with the same made again: every number and every word that stands on it."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from typing import Any

import barrier
from barrier.sheet.source import fingerprints
from barrier.verify.again import Again
from barrier.verify.pages import Piece, paired, pieces_of_html, pieces_of_text
from barrier.verify.read import Sheet, SheetRefused
from barrier.verify.verdict import Difference, Verdict

PRINTED = 7  # significant digits of a JSON sheet
LABELS = ("id", "name", "title", "mount", "path", "what", "equation")
_NUMBER = re.compile(r"\d")


def compared(sheet: Sheet, made: Again) -> Verdict:
    """The verdict on a sheet beside the same made again."""
    _same_version(sheet)
    again = made.written(sheet.form)
    if again is None:
        raise SheetRefused(sheet.file, f"this version makes no {sheet.form} page of the kind {made.kind!r} to compare it with")
    match sheet.form:
        case "JSON":
            return _json(sheet, made, str(again))
        case "PDF":
            return _pdf(sheet, made, bytes(again) if isinstance(again, bytes) else b"")
        case _:
            return _page(sheet, made, str(again))


def _same_version(sheet: Sheet) -> None:
    """Refuse a sheet that says another version made it, anywhere in it: what differs then could be anything."""
    document = sheet.document or {}
    stated = [document["tool_version"]] if "tool_version" in document else []
    stated += [sheet.source.tool_version] if sheet.source is not None else []
    stated += _VERSION.findall(sheet.text) if sheet.form in ("text", "Markdown") else []
    for theirs in stated:
        if theirs != barrier.__version__:
            raise SheetRefused(
                sheet.file,
                f"says that version {_shown(theirs)} of this tool made it, and this is {barrier.__version__}: another version may "
                "set and calculate otherwise, so nothing of it could be compared. Make the sheet again from its job, or verify it "
                "with that version",
            )


_VERSION = re.compile(r"^[-* ]*Tool version[*:]*\s+(\S+)", re.MULTILINE)

# ---------------------------------------------------------------- JSON


def _json(sheet: Sheet, made: Again, again: str) -> Verdict:
    printed, recomputed = sheet.document or {}, json.loads(again)
    walk = _Walk()
    differences = tuple(walk.differences("", printed, recomputed))
    notes = []
    if walk.last_digit:
        notes.append(f"{walk.last_digit} numbers differ by one in their seventh digit: another machine may round so")
    same = sheet.data == again.encode("utf-8")
    return Verdict("JSON", walk.numbers, differences, _tables(sheet, made), tuple(notes), same)


class _Walk:
    """Walks two documents side by side."""

    def __init__(self) -> None:
        self.numbers = 0
        self.last_digit = 0

    def differences(self, where: str, a: Any, b: Any) -> Iterator[Difference]:
        """``a`` as printed, ``b`` as recomputed."""
        match a, b:
            case dict(), dict():
                yield from self._objects(where, a, b)
            case list(), list():
                yield from self._lists(where, a, b)
            case _:
                yield from self._leaves(where, a, b)

    def _objects(self, where: str, a: dict[str, Any], b: dict[str, Any]) -> Iterator[Difference]:
        for key in a:
            if key not in b:
                yield Difference(_within(where, key), _shown(a[key]), "")
            else:
                yield from self.differences(_within(where, key), a[key], b[key])
        for key in (k for k in b if k not in a):
            yield Difference(_within(where, key), "", _shown(b[key]))

    def _lists(self, where: str, a: list[Any], b: list[Any]) -> Iterator[Difference]:
        ours, theirs = [_label(x) for x in b], [_label(x) for x in a]
        named = "" not in ours and len(set(ours)) == len(ours) and len(set(theirs)) == len(theirs)
        if named and ours != theirs:
            missing, more = [x for x in ours if x not in theirs], [x for x in theirs if x not in ours]
            words = "in another order" if not missing and not more else ", ".join(more)
            yield Difference(where, words, ", ".join(missing) or "the order of the sheet")
            by_label = dict(zip(ours, b, strict=True))
            pairs = [(label, x, by_label[label]) for label, x in zip(theirs, a, strict=True) if label in by_label]
        else:
            if len(a) != len(b):
                yield Difference(where, f"{len(a)} entries", f"{len(b)} entries")
            pairs = [(ours[i] or str(i + 1), x, y) for i, (x, y) in enumerate(zip(a, b, strict=False))]
        for label, x, y in pairs:
            yield from self.differences(_within(where, label), x, y)

    def _leaves(self, where: str, a: Any, b: Any) -> Iterator[Difference]:
        if _is_number(b):
            self.numbers += 1
        if type(a) is type(b) and a == b:
            return
        if _is_number(a) and _is_number(b) and isinstance(b, float):
            if float(a) == b:
                return
            if _one_in_the_last(float(a), b):
                self.last_digit += 1
                return
        yield Difference(where, _shown(a), _shown(b))


def _within(where: str, name: str) -> str:
    return f"{where} › {name}" if where else name


def _label(node: Any) -> str:
    """What an entry of a list is known by: its id, its name, its title; a word is its own."""
    if not isinstance(node, dict):
        return ""
    if "table" in node and "key" in node:
        return f"{node['table']} {node['key']} {node.get('column', '')}".strip()
    return next((str(node[k]) for k in LABELS if isinstance(node.get(k), str) and node[k]), "")


def _is_number(x: Any) -> bool:
    return isinstance(x, (int, float)) and not isinstance(x, bool)


def _one_in_the_last(a: float, b: float) -> bool:
    """Whether two numbers of seven digits differ by one in the last: a tie that another machine rounds the other way."""
    size = max(abs(a), abs(b))
    return math.isfinite(size) and abs(a - b) <= 1.01 * 10.0 ** (math.floor(math.log10(size)) - PRINTED + 1)


def _shown(value: Any) -> str:
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    text = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return text if len(text) <= 80 else f"{text[:77]}..."


# ---------------------------------------------------------------- pages


def _page(sheet: Sheet, made: Again, again: str) -> Verdict:
    """HTML or text: the same pieces in the same order."""
    cut = pieces_of_html if sheet.form == "HTML" else pieces_of_text
    printed, recomputed = cut(sheet.text), cut(again)
    same = sheet.data == again.encode("utf-8")
    differences = () if same else tuple(paired(printed, recomputed))
    numbers = sum(1 for piece in recomputed if not piece.markup for word in piece.text.split() if _NUMBER.search(word))
    notes = ("white space differs; no word and no number does",) if not same and not differences else ()
    return Verdict(sheet.form, numbers, differences, _tables(sheet, made), notes, same)


def _tables(sheet: Sheet, made: Again) -> tuple[str, ...]:
    """Names of the tables whose fingerprints are not those of the sheet."""
    if sheet.source is None:
        return ()
    ours, theirs = fingerprints(made.result.tables), sheet.source.each
    return tuple(name for name in sorted({*ours, *theirs}) if ours.get(name) != theirs.get(name))


# ---------------------------------------------------------------- PDF


def _pdf(sheet: Sheet, made: Again, again: bytes) -> Verdict:
    """The same bytes, or not; what a PDF carries are fingerprints, its figures are not read."""
    theirs, ours = _keywords(sheet.data), _keywords(again)
    versions = (theirs.get("barrier", ""), barrier.__version__)
    if sheet.data == again:
        return Verdict("PDF", 0, (), bytes_agree=True)
    differences = [
        Difference(f"fingerprint of the {words}", theirs.get(key, ""), ours[key])
        for key, words in (("job", "job file"), ("tables", "tables"))
        if theirs.get(key) != ours[key]
    ]
    if differences:
        return Verdict("PDF", 0, tuple(differences))
    made_by = [re.search(rb"Typst [0-9.]+", data) for data in (sheet.data, again)]
    names = [found[0].decode() if found else "an unnamed library" for found in made_by]
    if versions[0] != versions[1] or names[0] != names[1]:
        raise SheetRefused(
            sheet.file,
            f"has the fingerprints of this job and these tables, but was made by {versions[0]} with {names[0]}; this is "
            f"{versions[1]} with {names[1]}, so its bytes differ and its figures could not be compared",
        )
    return Verdict("PDF", 0, (Difference("the file", "other bytes", "the PDF of this job: something in it was changed"),))


def _keywords(data: bytes) -> dict[str, str]:
    """Version and fingerprints, as they stand in the plain keywords of the file."""
    found = re.search(rb"barrier ([0-9][\w.+-]*), page \w+, job ([0-9a-f]{12}), tables ([0-9a-f]{12})", data)
    return dict(zip(("barrier", "job", "tables"), (g.decode() for g in found.groups()), strict=True)) if found else {}


__all__ = ["Piece", "compared"]
