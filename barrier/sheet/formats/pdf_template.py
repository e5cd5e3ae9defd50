"""The template of the PDF, run by its library: data in, bytes out, and a letter that no font has by its number."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.resources import files
from typing import Any

import typst

from barrier.errors import CalculationError

Data = dict[str, Any]
TRIES = 12  # letters without a glyph are named some at a time
_NO_GLYPH = re.compile(r'the text `"(.+?)"` could not be displayed')


def compiled(document: Data, attachment: bytes) -> bytes:
    """The PDF of a document with a file attached. Letters that no font has are named by the library, and go by number then."""
    missing: set[str] = set()
    fault = ""
    for _ in range(TRIES):
        written = _with_numbers(document, missing)
        if missing:
            written["missing"] = (
                "A letter that the fonts of this page do not have is written here by its Unicode number in brackets: "
                + ", ".join(_number(c) for c in sorted(missing))
                + ". The job file holds it as it was written."
            )
        inputs = {"doc": json.dumps(written, ensure_ascii=False), "job": attachment.decode("utf-8", errors="replace")}
        try:
            made = typst.compile(
                _template(), format="pdf", sys_inputs=inputs, ignore_system_fonts=True, timestamp=0, pdf_standards=["ua-1"]
            )
        except typst.TypstError as refused:
            fault = str(refused)
            found = {c for text in _NO_GLYPH.findall(fault) for c in text} - missing
            if not found:
                break
            missing |= found
            continue
        assert isinstance(made, bytes)
        return made
    raise CalculationError(f"the PDF could not be made: {fault}")


def _number(letter: str) -> str:
    return f"[U+{ord(letter):04X}]"


def _with_numbers(node: Any, missing: set[str]) -> Any:
    """The document with every missing letter written by its number; marks that combine with one go with it."""
    if not missing:
        return dict(node)
    table = str.maketrans({c: _number(c) for c in missing})

    def changed(n: Any) -> Any:
        match n:
            case str():
                return n.translate(table)
            case list():
                return [changed(x) for x in n]
            case dict():
                return {k: changed(x) for k, x in n.items()}
        return n

    found: Data = changed(node)
    return found


@cache
def _template() -> bytes:
    return (files("barrier.sheet.formats") / "sheet.typ").read_bytes()
