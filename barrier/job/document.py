"""From what is written to what is meant: types written into mounts, ``same_as`` followed, changes made, gaps filled.

Everything works on trees of :mod:`barrier.job.written` and collects faults; nothing here judges a number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barrier.errors import Fault
from barrier.job.faults import no_such, unknown_key
from barrier.job.quantity import parse
from barrier.job.schema import File, MountType, Wind
from barrier.job.wind import unsaid
from barrier.job.written import NAME, Items, Node, Section, Wrapper, Written, copied, is_unknown, name_of, sections
from barrier.value import JobEntry

Change = tuple[str, object]
LONGEST_CHAIN = 20  # of blocking that is the same as another
END_PANEL = "not said where in its run the panel stands; the end of the run is assumed, where the wind is highest"
HALF_BAY = "not given; mid-way between joists is assumed, where boards and joist are worst off"


@dataclass(frozen=True, slots=True)
class Expanded:
    """A document ready to be validated, what was found wrong on the way, and tables that were said to be unknown."""

    document: Section
    raw: Section
    faults: tuple[Fault, ...]
    unknown_tables: tuple[JobEntry, ...]


def expand(source: Section, changes: Sequence[Change], wrapper: Wrapper) -> Expanded:
    """Write types into mounts, follow same_as, make the changes, fill what was left out."""
    faults: list[Fault] = []
    document: Section = copied(source)
    early = [c for c in changes if _belongs_to_source(c[0], source)]
    for path, value in early:
        _change(document, path, value, wrapper, faults)
    _mounts(document, faults)
    _blocking(document, faults)
    for path, value in changes:
        if (path, value) not in early:
            _change(document, path, value, wrapper, faults)
    document.pop("mount_types", None)
    raw = copied(document)
    unknown = _complete(document, wrapper.invented)
    return Expanded(document, raw, tuple(faults), tuple(unknown))


def _belongs_to_source(path: str, source: Section) -> bool:
    """Whether a change is made where the file says it, and not in a mount or copy that is complete by then."""
    top, _, rest = path.partition(".")
    if top == "mounts":
        return not rest or (path.endswith(".type") and path.count(".") == 2)
    if top != "blocking" or path.endswith(".same_as"):
        return True
    blocking = source.get("blocking")
    named = blocking.get(rest.split(".")[0]) if isinstance(blocking, Section) else None
    return not (isinstance(named, Section) and "same_as" in named)


# ---------------------------------------------------------------- mount types and same_as


def _mounts(document: Section, faults: list[Fault]) -> None:
    types = document.get("mount_types", Section("mount_types", None))
    mounts = document.get("mounts")
    if not isinstance(types, Section):
        faults.append(Fault("mount_types", "must hold tables; write [mount_types.NAME]", _line(types)))
        return
    for name, section in types.items():
        if not isinstance(section, Section):
            faults.append(Fault(f"mount_types.{name}", f"must be a table; write [mount_types.{name}]", _line(section)))
            continue
        for key in [k for k in section if k not in MountType.model_fields]:
            faults.append(Fault(f"{section.path}.{key}", unknown_key(key, list(MountType.model_fields)), _line(section[key])))
            del section[key]
    if isinstance(mounts, Items):
        for mount in mounts:
            if isinstance(mount, Section):
                _one_mount(mount, types, faults)


def _one_mount(mount: Section, types: Section, faults: list[Fault]) -> None:
    written = mount.get("type")
    if not isinstance(written, Written) or not isinstance(written.raw, str):
        return
    kind = types.get(written.raw)
    if kind is None:
        faults.append(Fault(written.entry.path, no_such("mount type", written.raw, list(types)), written.entry.line))
        mount.broken = True
    elif isinstance(kind, Section):
        _merge(mount, kind)


def _merge(into: Section, kind: Section) -> None:
    """Write what a type has into a mount that does not have it; tables are merged, lists are replaced whole.

    An end fixing that says what it is, is its own: the size of a nail is nothing to take over into a bracket.
    """
    for key, node in kind.items():
        if key not in into:
            into[key] = copied(node)
        elif isinstance(node, Section) and isinstance(into[key], Section) and "fixing" not in into[key]:
            _merge(into[key], node)


def _blocking(document: Section, faults: list[Fault]) -> None:
    blocking = document.get("blocking")
    if not isinstance(blocking, Section):
        return
    for name, section in blocking.items():
        if not NAME.fullmatch(name):
            text = f"{name!r} cannot be the name of a blocking; use letters, digits, - and _, with at least one letter"
            faults.append(Fault("blocking", text, _line(section)))
    for name in blocking:
        _same_as(blocking, name, (name,), faults)


def _same_as(blocking: Section, name: str, trail: tuple[str, ...], faults: list[Fault]) -> None:
    section = blocking[name]
    written = section.pop("same_as", None) if isinstance(section, Section) else None
    if written is None:
        return
    path, line = f"{section.path}.same_as", _line(written)
    other = written.raw if isinstance(written, Written) else None
    if not isinstance(other, str):
        faults.append(Fault(path, "must be the name of another blocking, in quotes", line))
    elif other in trail:
        faults.append(Fault(path, f"goes round in a circle: {', '.join((*trail, other))}; describe one of them", line))
    elif other not in blocking:
        faults.append(Fault(path, no_such("blocking", other, [n for n in blocking if n != name]), line))
    elif len(trail) > LONGEST_CHAIN:
        faults.append(Fault(path, f"is the end of more than {LONGEST_CHAIN} that each name the next; name the described one", line))
    elif isinstance(blocking[other], Section):
        _same_as(blocking, other, (*trail, other), faults)
        _merge(section, blocking[other])
        section.broken = blocking[other].broken
        return
    # Its missing keys are no fault of their own: the one fault says why nothing could be taken over.
    section.broken = True


# ---------------------------------------------------------------- changes


def _change(document: Section, path: str, value: object, wrapper: Wrapper, faults: list[Fault]) -> None:
    parts = path.split(".")
    node: Node = document
    for i, part in enumerate(parts[:-1]):
        below = _step(node, part)
        if below is None and isinstance(node, Section) and value is not None:
            model, each = node.below(part)
            if (model or each) and node.model is not None:
                below = node[part] = Section(".".join(parts[: i + 1]), None, model, each)
        if below is None:
            if value is None and isinstance(node, Section) and node.model and part in node.model.model_fields:
                return
            faults.append(Fault(path, _no_step(node, part), None))
            return
        node = below
    last = parts[-1]
    if isinstance(node, Section):
        if last not in node and node.model is not None and last not in node.model.model_fields:
            faults.append(Fault(path, _no_step(node, last), None))
        elif value is None:
            node.pop(last, None)
        else:
            node[last] = wrapper.wrap(value, f"{node.path}.{last}" if node.path else last, (), *node.below(last))
    elif isinstance(node, Items) and (there := _step(node, last)) is not None:
        at = next(i for i, n in enumerate(node) if n is there)
        if value is None:
            del node[at]
        else:
            node[at] = wrapper.wrap(value, path, (), getattr(there, "model", None))
    else:
        faults.append(Fault(path, _no_step(node, last), None))


def _step(node: Node, part: str) -> Node | None:
    """What stands under a key, a name, or a number from one."""
    if isinstance(node, Section):
        return node.get(part)
    if isinstance(node, Items):
        for i, child in enumerate(node):
            if part == name_of(child, i) or part == str(i + 1):
                return child
    return None


def find(document: Section, path: str) -> Node | None:
    """The node at a path, None where a known entry is not given. Raises KeyError with the fault's text otherwise."""
    node: Node = document
    for part in path.split("."):
        below = _step(node, part)
        if below is None:
            if isinstance(node, Section) and node.model is not None and part in node.model.model_fields:
                return None
            raise KeyError(_no_step(node, part))
        node = below
    return node


def _no_step(node: Node, part: str) -> str:
    if isinstance(node, Section):
        known = list(node.model.model_fields) if node.model is not None else list(node)
        return no_such("entry", part, known)
    if isinstance(node, Items):
        return no_such("element", part, [name_of(child, i) for i, child in enumerate(node)])
    return f"leads below a single entry; there is nothing named {part!r} in it"


# ---------------------------------------------------------------- what was left out


def _complete(document: Section, invented: bool) -> list[JobEntry]:
    """Fill every table's defaults; returns tables whose content was said to be unknown."""
    unknown: list[JobEntry] = []
    for key, info in File.model_fields.items():
        table, _ = File.table_of(key)
        if key in document or table is None:
            continue
        if (table.may_be_left_out and info.is_required()) or document.says("basis") in table.filled_for:
            document[key] = Section(key, None, table)
    for section in list(sections(document)):
        if section.model is None:
            continue
        for key, (info, entry) in section.model.entries().items():
            node = section.get(key)
            if entry is None and not info.is_required() and is_unknown(node):
                unknown.append(section.pop(key).entry)
        section.model.fill(section, invented)
    _in_bay(document, invented)
    _in_the_run(document, invented)
    return unknown


def _in_bay(document: Section, invented: bool) -> None:
    """A mount that stands on no blocking and does not say where between the joists is mid-way."""
    joists, mounts = document.get("joists"), document.get("mounts")
    spacing = joists.get("spacing") if isinstance(joists, Section) else None
    if not isinstance(spacing, Written) or not isinstance(mounts, Items):
        return
    x = parse(spacing.raw, "length") if isinstance(spacing.raw, str) else ""
    for mount in mounts:
        if not isinstance(mount, Section) or not isinstance(x, float):
            continue
        if mount.says("support") != "blocking" and ("in_bay" not in mount or is_unknown(mount["in_bay"])):
            text = f"{x / 2:.10g} mm"
            mount["in_bay"] = Written(text, JobEntry(f"{mount.path}.in_bay", text, None, True, HALF_BAY, invented))


def _in_the_run(document: Section, invented: bool) -> None:
    """A panel stands where [wind] says all do; where nobody says, at the end of its run, which is the worst place."""
    wind, panels = document.get("wind"), document.get("panels")
    if not isinstance(wind, Section) or not isinstance(panels, Items) or not Wind.by_place(wind):
        return
    for panel in panels:
        if not isinstance(panel, Section) or not (unsaid(panel, "place") and unsaid(panel, "from_end")):
            continue
        said = next((key for key in ("from_end", "place") if not unsaid(wind, key)), None)
        if said is not None:
            panel[said] = wind[said]
        else:
            entry = JobEntry(f"{panel.path}.from_end", "0 m", None, True, END_PANEL, invented)
            panel["from_end"] = Written("0 m", entry)


def _line(node: Node) -> int | None:
    return node.entry.line if isinstance(node, Written) else getattr(node, "line", None)
