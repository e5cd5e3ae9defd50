"""What validation found, in our words: key, line, what stands there, what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import get_close_matches

from pydantic import ValidationError

from barrier.errors import Fault
from barrier.job.entries import TableOfEntries
from barrier.job.mount import Mount, MountType
from barrier.job.written import Items, Node, Section, Written
from barrier.value import JobEntry

MOST = 200  # faults shown of one file


def unknown_key(key: str, known: Sequence[str]) -> str:
    """The sentence for a key that is not known, with the nearest that is.

    >>> unknown_key("hieght", ["width", "height"])
    'is not a known key; did you mean "height"?'
    """
    near = get_close_matches(key.casefold(), known, n=1, cutoff=0.6)
    return "is not a known key; " + (f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(known)}")


def no_such(what: str, asked: str, known: Sequence[str]) -> str:
    """The sentence for a name that refers to nothing, with the nearest that is there.

    >>> print(no_such("blocking", "b1", ["B1", "B2"]))
    names the blocking 'b1', which is not there; did you mean "B1"?
    """
    near = get_close_matches(asked.casefold(), [k.casefold() for k in known], n=1, cutoff=0.5)
    found = next((k for k in known if near and k.casefold() == near[0]), None)
    hint = f'did you mean "{found}"?' if found else f"there is {', '.join(known[:12]) or 'none'}"
    shown = repr(asked if len(asked) <= 60 else asked[:57] + "...")
    return f"names the {what} {shown}, which is not there; {hint}"


def faults_of(error: ValidationError, document: Section) -> Iterator[Fault]:
    """Every fault of a validation, each once however many mounts share the entry."""
    for e in error.errors(include_url=False, include_input=False):
        context = e.get("ctx", {})
        if e["type"] == "refused":
            entry: JobEntry = context["entry"]
            yield Fault(entry.path or _path(document, e["loc"]), context["text"], entry.line)
        elif e["type"] == "contradiction":
            for found, text in context["found"]:
                yield Fault(found.path, text, found.line)
        else:
            yield from _structural(e["type"], e["loc"], document)


def each_once(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Faults without repetition, in the order of the file; of a flood the first, and how many more there are."""
    unique = {(f.key, f.text, f.line): f for f in faults}
    found = sorted(unique.values(), key=lambda f: (f.line is None, f.line or 0))
    if len(found) <= MOST:
        return tuple(found)
    return (*found[:MOST], Fault("", f"has {len(found) - MOST} more faults; mend these first"))


def _structural(kind: str, loc: tuple[int | str, ...], document: Section) -> Iterator[Fault]:
    """Faults of shape: a key missing or not known, a table where a value belongs and the other way round."""
    around, here = _node(document, loc[:-1]), _node(document, loc)
    path, line = _path(document, loc), _line_of(here) or _line_of(around)
    key = str(loc[-1]) if loc else ""
    model = around.model if isinstance(around, Section) else None
    if kind == "missing":
        if getattr(around, "broken", False):
            return
        yield Fault(path, f"is missing; {_wanted(model, key, path)}", _line_of(around))
    elif kind == "extra_forbidden":
        yield Fault(path, unknown_key(key, list(model.model_fields) if model else []), line)
    elif kind == "too_short":
        if isinstance(here, Items) and here:  # its elements could not be read, which is said of each
            return
        yield Fault(path, f"is an empty list; at least one is needed, each under [[{_header(path)}]]", line)
    elif kind == "too_long":
        yield Fault(
            path,
            f"has {len(here) if isinstance(here, Items) else 'too many'} elements, more than one job may have",
            line,
        )
    elif isinstance(here, Section):
        yield Fault(path, f"is one table and must be a list of tables; write [[{_header(path)}]] with double brackets", line)
    elif isinstance(here, Items):
        yield Fault(path, f"is a list and must be one table; write [{_header(path)}] with single brackets", line)
    else:
        yield Fault(path, f"is a single entry; {_wanted(model, key, path)}", line)


def _wanted(model: type[TableOfEntries] | None, key: str, path: str) -> str:
    """What belongs under a key."""
    info, entry = model.entries().get(key, (None, None)) if model is not None else (None, None)
    if entry is not None:
        words = entry.expected()
        return f"expected {words}" + (f"; {entry.unknown}" if entry.unknown else "")
    if model is not None and issubclass(model, Mount) and key in MountType.model_fields:
        doubled = "tuple" in str(MountType.model_fields[key].annotation)
        return (
            "write " + (f"[[mount_types.NAME.{key}]]" if doubled else f"[mount_types.NAME.{key}]") + " for the type of this mount"
        )
    if info is not None and "tuple" in str(info.annotation):
        return f"it is a list of tables, each under [[{_header(path)}]]"
    return f"it is a table; write [{_header(path)}]"


def _header(path: str) -> str:
    """A path as a header of a table would name it: elements of lists carry no name there."""
    parts = path.split(".")
    if parts[0] in ("panels", "mounts", "situations"):
        return ".".join([parts[0], *(p for p in parts[2:] if not p.isdigit())])
    return ".".join(p for p in parts if not p.isdigit())


def _node(document: Section, loc: tuple[int | str, ...]) -> Node | None:
    node: Node = document
    for part in loc:
        if isinstance(node, Section):
            node = node.get(str(part))
        elif isinstance(node, Items) and isinstance(part, int):
            node = node[part] if part < len(node) else None
        else:
            return None
    return node


def _path(document: Section, loc: tuple[int | str, ...]) -> str:
    """The path of a place as a reader names it."""
    here = _node(document, loc)
    if isinstance(here, Written):
        return here.entry.path
    if here is not None:
        return str(here.path)
    if not loc:
        return ""
    above = _path(document, loc[:-1])
    part = str(loc[-1] + 1) if isinstance(loc[-1], int) else loc[-1]
    return f"{above}.{part}" if above else part


def _line_of(node: Node | None) -> int | None:
    return node.entry.line if isinstance(node, Written) else getattr(node, "line", None)
