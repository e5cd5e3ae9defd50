"""What leans and pushes on the barrier: the table of the basis, each of its loads as the reader gives it or leaves it out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from barrier.basis import Action, ActionKind
from barrier.job.site import OFF
from barrier.links.walk import Walk
from barrier.result import Finding, Lack, NotChecked
from barrier.value import Value


class Load(NamedTuple):
    """A load of the job's table of loads: its entry, and the action of a basis it stands for."""

    entry: str
    id: str
    title: str
    kind: ActionKind


LOADS = (
    Load("line", "line", "line load", "line"),
    Load("infill", "infill", "infill pressure", "pressure"),
    Load("infill_point", "infill point", "point load on the infill", "patch"),
    Load("point", "point", "point load at the top edge", "point"),
)


class LoadsOn(NamedTuple):
    """The actions on the barrier; what is lacking of them, if anything is."""

    actions: tuple[Action, ...]
    lacking: NotChecked | None


def loads_on(walk: Walk) -> LoadsOn:
    """Every action of the basis, those the reader gives in place of their own, without those he leaves out; wind is apart."""
    table = walk.basis.actions(walk.job.site.use)
    known = () if isinstance(table, NotChecked) else table
    loads = walk.job.loads
    said = {load.id: (load, getattr(loads, load.entry)) for load in LOADS}
    found = []
    for own in known:
        load, size = said.pop(own.id, (None, None))
        if load is not None and isinstance(size, Value):
            found.append(_given(walk, load, size, own))
        elif size != OFF:
            found.append(_at_the_height_given(walk, own))
    further = (_given(walk, load, size, None) for load, size in said.values() if isinstance(size, Value))
    actions = (*found, *further)
    if isinstance(table, NotChecked) and not isinstance(loads.line, Value):
        return LoadsOn(actions, table)
    if not actions:
        return LoadsOn((), NotChecked(Lack.INPUT, "the job leaves every load on the barrier out; nothing of it is looked at"))
    return LoadsOn(actions, None)


def given_actions(walk: Walk) -> tuple[Action, ...] | NotChecked:
    """The actions on the barrier, or what is lacking where there is none."""
    found = loads_on(walk)
    return found.lacking if found.lacking is not None and not found.actions else found.actions


def _given(walk: Walk, load: Load, size: Value, own: Action | None) -> Action:
    source = f"given in the job: {walk.job.loads.reference}"
    height = walk.job.loads.height if load.kind == "line" else None
    side = own.side if own is not None else None
    title = own.title if own is not None else load.title
    return Action(load.id, title, load.kind, size, "barrier", True, source, height, side)


def _at_the_height_given(walk: Walk, own: Action) -> Action:
    """A line load of the table, at the reader's height where he gives one."""
    loads = walk.job.loads
    if own.kind != "line" or loads.height is None:
        return own
    return replace(own, height=loads.height, source=f"{own.source}; height given in the job: {loads.reference}")


def left_out(walk: Walk) -> Iterator[Finding]:
    """Every load of the code the reader leaves out, loud; every one he gives himself."""
    table = walk.basis.actions(walk.job.site.use)
    known = {} if isinstance(table, NotChecked) else {a.id: a.title for a in table}
    loads = walk.job.loads
    for load in LOADS:
        said, title = getattr(loads, load.entry), known.get(load.id, load.title)
        opening = f"{title[0].upper()}{title[1:]}"
        if said == OFF:
            yield Finding(f'{opening} is left out of this job by loads.{load.entry} = "{OFF}": {loads.reference}.', loud=True)
        elif isinstance(said, Value) and load.id in known:
            yield Finding(f"{opening}: as given in the job, in place of that of the table ({loads.reference}).")
