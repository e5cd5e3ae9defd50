"""Reading a sheet that may be broken or hostile: what it is, what stands on it, what it carries. Refused in words."""

from __future__ import annotations

import json
import os
import re
import zlib
from dataclasses import dataclass
from html.parser import HTMLParser
from typing import Any, NoReturn

from barrier.errors import BarrierError
from barrier.reading import Unreadable, bytes_of
from barrier.sheet.formats import json as json_sheet
from barrier.sheet.pages import AGAIN, PAGES
from barrier.sheet.source import ELEMENT, FORMAT, KINDS, VERSION

LARGEST = 20_000_000  # bytes; the largest sheet is a few hundred kilobytes
LARGEST_TEXT = 1_000_000  # of a job or a table, as a job file may have
MOST_FILES = 200
MOST_CHANGES = 2_000
DEEPEST = 40  # lists and tables within one another; a sheet needs ten
_PLAIN_NAME = re.compile(r"[a-z][a-z0-9_]{0,63}", re.ASCII)
_FINGERPRINT = re.compile(r"[0-9a-f]{12}", re.ASCII)


class SheetRefused(BarrierError):
    """A sheet that cannot be read or cannot be made again: file and reason in words."""

    def __init__(self, file: str, text: str) -> None:
        super().__init__(f"{file}: {text}")


@dataclass(frozen=True, slots=True)
class Source:
    """What a sheet carries to be made again, checked for shape and size; its words are still anybody's."""

    kind: str
    tool_version: str
    job: str
    changes: tuple[tuple[str, Any], ...]
    situations: tuple[dict[str, Any], ...]
    tables: tuple[tuple[str, str], ...]
    each: dict[str, str]
    raw: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet as read: its file, its form ("JSON", "HTML", "text", "Markdown", "PDF"), the kind of page, bytes, document."""

    file: str
    form: str
    kind: str
    data: bytes
    source: Source | None = None
    document: dict[str, Any] | None = None
    attached: str = ""

    @property
    def text(self) -> str:
        """The bytes as text."""
        return self.data.decode("utf-8")


def read_sheet(path: str | os.PathLike[str]) -> Sheet:
    """A sheet from a file. Raises SheetRefused."""
    file = os.fspath(path)
    data = _content(file)
    if data.startswith(b"%PDF-"):
        return Sheet(file, "PDF", _kind_of_pdf(data), data, attached=_attached(file, data))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise SheetRefused(file, "is neither a PDF nor text in UTF-8; it is no sheet of this tool") from None
    start = text.lstrip("\ufeff \t\r\n")
    if start.startswith(("{", "[")):
        document = _json(file, text)
        if document.get("format") != json_sheet.FORMAT:
            raise SheetRefused(file, f"is JSON, but no sheet: its key format does not say {json_sheet.FORMAT!r}")
        found = _source(file, document.get("source")) if "source" in document else None
        return Sheet(file, "JSON", found.kind if found else "check", data, found, document)
    if re.match(r"<!doctype html|<html", start, re.IGNORECASE):
        carried = _block(file, text)
        found = _source(file, _json(file, carried)) if carried is not None else None
        return Sheet(file, "HTML", found.kind if found else "check", data, found)
    if start.startswith("┏") and "CAUTION" in start[:400]:
        return Sheet(file, "text", _kind_of_text(text), data)
    if start.startswith("# ") and "> **CAUTION" in start[:4000]:
        return Sheet(file, "Markdown", _kind_of_text(text), data)
    raise SheetRefused(file, "is no sheet of this tool: neither JSON, HTML, PDF nor a text or Markdown that opens with the caution")


def _content(file: str) -> bytes:
    try:
        data = bytes_of(file, LARGEST, "a sheet")
    except Unreadable as why:
        raise SheetRefused(file, str(why)) from None
    if not data.strip():
        raise SheetRefused(file, "is empty")
    return data


# ---------------------------------------------------------------- JSON


def _json(file: str, text: str) -> dict[str, Any]:
    """A JSON object without duplicate keys, NaN, or depth without end."""

    def pairs(found: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = [k for k, _ in found]
        if len(set(keys)) < len(keys):
            twice = next(k for k in keys if keys.count(k) > 1)
            raise SheetRefused(file, f"has the key {twice[:60]!r} twice in one place; which is meant cannot be known")
        return dict(found)

    def constant(name: str) -> NoReturn:
        raise SheetRefused(file, f"has {name} where a number should stand")

    try:
        document = json.loads(text.removeprefix("\ufeff"), object_pairs_hook=pairs, parse_constant=constant)
    except json.JSONDecodeError as fault:
        raise SheetRefused(file, f"is cut off or broken: line {fault.lineno}, column {fault.colno}: {fault.msg}") from None
    except RecursionError:
        raise SheetRefused(file, "is nested deeper than any sheet") from None
    except ValueError:  # a whole number of thousands of digits
        raise SheetRefused(file, "has a number that cannot be read") from None
    if not isinstance(document, dict):
        raise SheetRefused(file, "is JSON, but no sheet: a sheet is an object with keys")
    if _depth(document, DEEPEST + 1) > DEEPEST:
        raise SheetRefused(file, "is nested deeper than any sheet")
    return document


def _depth(node: object, limit: int) -> int:
    children = node.values() if isinstance(node, dict) else node if isinstance(node, list) else None
    if children is None or limit == 0:
        return 0
    return 1 + max((_depth(c, limit - 1) for c in children), default=0)


# ---------------------------------------------------------------- what it carries


def _source(file: str, found: Any) -> Source:
    """The source with its shape and sizes checked."""

    def refuse(text: str) -> NoReturn:
        raise SheetRefused(file, f"what it carries to be made again is broken: {text}")

    def words(value: Any, name: str, most: int = 200) -> str:
        if not isinstance(value, str):
            refuse(f"{name} is no text")
        if len(value) > most:
            refuse(f"{name} is longer than {most} letters")
        try:
            value.encode("utf-8")
        except UnicodeEncodeError:
            refuse(f"{name} has half a letter in it")
        return str(value)

    def entries(value: Any, name: str, most: int) -> list[dict[str, Any]]:
        if not isinstance(value, list) or not all(isinstance(v, dict) for v in value):
            refuse(f"{name} is no list of objects")
        if len(value) > most:
            refuse(f"{name} has {len(value)} entries; {most} at most")
        return list(value)

    if not isinstance(found, dict) or found.get("format") != FORMAT:
        refuse(f"it does not say {FORMAT!r}")
    if found.get("version") != VERSION:
        refuse(f"its version {found.get('version')!r} is not the one this tool reads ({VERSION})"[:200])
    kind = words(found.get("kind"), "kind")
    if kind not in KINDS:
        refuse(f"kind is none of {', '.join(KINDS)}")
    tables = []
    for entry in entries(found.get("tables"), "tables", MOST_FILES):
        name = words(entry.get("name"), "the name of a table")
        if not _PLAIN_NAME.fullmatch(name):
            refuse(f"{name!r} is no name of a table; it is letters, digits and underscores")
        tables.append((name, words(entry.get("text"), f"table {name}", LARGEST_TEXT)))
    changes = [
        (words(c.get("path"), "the path of a change"), c.get("value"))
        for c in entries(found.get("changes"), "changes", MOST_CHANGES)
    ]
    situations = entries(found.get("situations"), "situations", MOST_FILES)
    for s in situations:
        words(s.get("name"), "the name of a situation"), words(s.get("words"), "the words of a situation", 2000)
        if not isinstance(s.get("changes"), dict) or s.get("standing") not in ("required", "information"):
            refuse(f"situation {s['name']!r} has no changes or no standing")
    prints = found.get("fingerprints")
    each = prints.get("each") if isinstance(prints, dict) else None
    if not isinstance(each, dict) or not all(isinstance(v, str) and _FINGERPRINT.fullmatch(v) for v in each.values()):
        refuse("the fingerprints of the tables are missing")
    job = words(found.get("job"), "the job", LARGEST_TEXT)
    version = words(found.get("tool_version"), "tool_version")
    return Source(kind, version, job, tuple(changes), tuple(situations), tuple(tables), dict(each), found)


class _Blocks(HTMLParser):
    """Finds the blocks of data that carry the source."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[str] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "script" and dict(attrs).get("id") == ELEMENT:
            self._inside = True
            self.found.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self._inside = False

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.found[-1] += data


def _block(file: str, text: str) -> str | None:
    parser = _Blocks()
    try:
        parser.feed(text)
        parser.close()
    except (AssertionError, RecursionError, ValueError):
        raise SheetRefused(file, "is HTML that cannot be read") from None
    if len(parser.found) > 1:
        raise SheetRefused(file, "carries more than one job; which is meant cannot be known")
    if not re.search(r"</html>\s*$", text, re.IGNORECASE):
        raise SheetRefused(file, "is cut off: the page has no end")
    return parser.found[0] if parser.found else None


def _kind_of_text(text: str) -> str:
    openings = {p.opening: p.name for p in PAGES if p.opening and p.verified == AGAIN}
    found = re.search(rf"^(?:#+ )?({'|'.join(map(re.escape, openings))}): ", text, re.IGNORECASE | re.MULTILINE)
    return "check" if found is None else openings[found[1].casefold()]


def _attached(file: str, data: bytes) -> str:
    """The job file attached to a PDF of ours, empty where there is none: one embedded file, compressed or not."""
    found = list(_EMBEDDED.finditer(data))
    if len(found) > 1:
        raise SheetRefused(file, "carries more than one file; which is meant cannot be known")
    if not found:
        return ""
    start = found[0].end()
    packed = data[start : start + int(found[0]["length"])]
    try:
        unpack = zlib.decompressobj()
        plain = unpack.decompress(packed, LARGEST_TEXT + 1) if b"FlateDecode" in found[0][0] else packed
        if len(plain) > LARGEST_TEXT:
            raise SheetRefused(file, "carries a job larger than a job file may be")
        return plain.decode("utf-8")
    except (zlib.error, UnicodeDecodeError):
        raise SheetRefused(file, "carries a job that cannot be read") from None


# The dictionary of an embedded file as the library writes it, in any order, up to its stream.
_EMBEDDED = re.compile(
    rb"<<(?=[^\n]{0,300}?/Type ?/EmbeddedFile)(?=[^\n]{0,300}?/Length (?P<length>\d{1,8}))[^\n]{0,300}?>>\r?\nstream\r?\n"
)


def _kind_of_pdf(data: bytes) -> str:
    found = re.search(rf"page ({'|'.join(KINDS)})\b".encode(), data)
    return found[1].decode() if found else "check"
