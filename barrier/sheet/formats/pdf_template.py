"""The template of the PDF, run by its library: data in, bytes out, and a letter that no font has by its number.

The library keeps some 200 MB of every document in the memory of its process for good, so each is made in one that ends: ten
sheets of a run need no more than one does.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
from functools import cache
from importlib.resources import files
from typing import Any

from barrier.errors import CalculationError
from barrier.sheet.formats.pdf_child import REFUSED

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
        made, fault = _made(inputs)
        if made is not None:
            return made
        found = {c for text in _NO_GLYPH.findall(fault) for c in text} - missing
        if not found:
            break
        missing |= found
    raise CalculationError(f"the PDF could not be made: {fault}")


def _made(inputs: dict[str, str]) -> tuple[bytes | None, str]:
    """The PDF, or nothing and what the library says against the document; in a process that ends."""
    asked = json.dumps({"path": sys.path, "template": _source("sheet.typ"), "inputs": inputs}).encode()
    if not sys.executable:
        raise CalculationError("the PDF could not be made: this Python cannot be started a second time; take HTML and print it")
    try:
        done = subprocess.run([sys.executable, "-P", "-c", _source("pdf_child.py")], input=asked, capture_output=True, check=False)
    except OSError as fault:
        raise CalculationError(f"the PDF could not be made: no process could be started for it ({fault})") from fault
    said = done.stderr.decode(errors="replace").strip()
    if done.returncode not in (0, REFUSED):
        last = said.splitlines()[-1] if said else f"it ended with {done.returncode}"
        raise CalculationError(f"the PDF could not be made: the process that makes it did not finish: {last}")
    return (None, said) if done.returncode else (done.stdout, "")


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
def _source(name: str) -> str:
    return (files("barrier.sheet.formats") / name).read_text(encoding="utf-8")
