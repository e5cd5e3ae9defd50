"""The result as JSON: stable, versioned keys for programs that read on.

Numbers are in N, mm, MPa, rad and kg/m3 with seven significant digits; every number has its unit beside it. A key that
is once here stays; what is new comes under a new key, and ``version`` counts changes of meaning. ``source`` holds what
``barrier verify`` recomputes the sheet from (:mod:`barrier.sheet.source`).
"""

from __future__ import annotations

import json
from typing import Any

import barrier
from barrier.links.blocking.force_sets import ForceSet
from barrier.load_path import Result, Walked
from barrier.result import Check, LinkResult, Shown
from barrier.sheet.content import caution
from barrier.sheet.content.exclusions import NEVER_CHECKED
from barrier.sheet.content.origins import DOUBTFUL, all_values, assumptions, origins
from barrier.sheet.numbers import base_unit, seven
from barrier.sheet.source import source
from barrier.value import Cell, JobEntry, Value

FORMAT = "barrier result"
VERSION = 1


def json_text(result: Result) -> str:
    """The whole document as text; NaN and infinity are refused, keys keep their order."""
    return json.dumps(document(result), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def document(result: Result) -> dict[str, Any]:
    """The document as plain dicts and lists."""
    governing = result.governing
    return {
        "format": FORMAT,
        "version": VERSION,
        "tool_version": barrier.__version__,
        "caution": list(caution.LONG),
        "units": "N, mm, MPa, rad, kg/m3; every quantity names its own",
        "ending": str(result.ending),
        "governing": governing.id if governing is not None else None,
        "job": _job(result),
        "basis": {
            "key": result.basis.key,
            "title": result.basis.title,
            "editions": list(result.basis.editions),
            "national": result.basis.national,
        },
        "fingerprints": {"job": result.job.fingerprint(), "tables": result.tables.fingerprint()},
        "situations": [_situation(w) for w in result.walked],
        "cases": [_case(c) for c in result.handed_on.all_cases],
        "forces": _forces(result),
        "origins": _origins(result),
        "assumptions": [_entry(e) for e in assumptions(result)],
        "unknown": [_entry(e) for e in result.job.unknowns()],
        "unread": [_entry(e) for e in result.job.unread()],
        "never_checked": [{"what": what, "more": more} for what, more in NEVER_CHECKED],
        "source": source(result),
    }


def _job(result: Result) -> dict[str, Any]:
    job = result.job
    return {
        "title": job.title,
        "date": job.date,
        "invented": job.invented,
        "sheet_units": job.units,
        "text": job.text.decode("utf-8", errors="replace"),
        "changes": [{"path": path, "value": value} for path, value in job.changes],
    }


def _entry(entry: JobEntry) -> dict[str, Any]:
    return {
        "path": entry.path, "text": entry.text, "line": entry.line, "defaulted": entry.defaulted, "assumed": entry.is_assumed,
        "reason": entry.reason,
    }  # fmt: skip


def quantity(value: Value | None, station: int = 0) -> dict[str, Any] | None:
    """A value at a station: number, unit, kind, symbol."""
    if value is None:
        return None
    x = value.at(station if value.stations > 1 else 0)
    return {"value": seven(x), "unit": base_unit(value.kind), "kind": value.kind, "symbol": value.symbol}


def _situation(walked: Walked) -> dict[str, Any]:
    governing = walked.governing
    return {
        "name": walked.situation.name,
        "standing": str(walked.situation.standing),
        "changes": {path: value for path, value in walked.situation.changes.items()},
        "ending": str(walked.ending),
        "governing": governing.id if governing is not None else None,
        "links": [_link(link) for link in walked.links],
    }


def _link(link: LinkResult) -> dict[str, Any]:
    return {
        "id": link.id,
        "title": link.title,
        "checks": [_check(c, link) for c in link.checks],
        "shown": [_shown(s) for s in link.shown],
        "findings": [
            {"text": f.text, "source": f.source, "loud": f.loud, **({"length": quantity(f.length, 0)} if f.length else {})}
            for f in link.findings
        ],
    }


def _check(check: Check, link: LinkResult) -> dict[str, Any]:
    compared = check.demand or check.resistance
    return {
        "link": link.id,
        "id": check.id,
        "title": check.title,
        "ending": str(check.ending),
        "standing": str(check.standing),
        "demand": _number(check.demand, check.station),
        "resistance": _number(check.resistance, check.station),
        "unit": base_unit(compared.kind) if compared is not None else None,
        "utilisation": seven(check.eta) if check.eta is not None else None,
        "reason": check.reason,
        "where": check.where,
        "combination": check.combination,
        "case": check.case,
    }


def _number(value: Value | None, station: int) -> float | None:
    return None if value is None else seven(value.at(station if value.stations > 1 else 0))


def _shown(shown: Shown) -> dict[str, Any]:
    return {"title": shown.title, "remark": shown.remark, **(quantity(shown.value, shown.station) or {})}


def _case(case: Any) -> dict[str, Any]:
    return {
        "id": case.id,
        "title": case.title,
        "panel": case.panel.name,
        "standing": str(case.standing),
        "given": quantity(case.action.size),
        "resultant": quantity(case.resultant),
        "height": quantity(case.height),
        "factor": quantity(case.strength.factor),
        "combination": case.strength.id,
        "level": case.strength.level,
        "source": case.action.source,
        "at_once": [{"case": p.case.id, "share": quantity(p.share)} for p in case.parts],
    }


def _forces(result: Result) -> list[dict[str, Any]]:
    """The force table of every mount: a value by row and column, null where there is no equilibrium; and its sets of forces that
    come at once."""
    return [
        {
            "mount": t.mount.model.name,
            "columns": list(t.columns),
            "rows": [{"what": r.words, "values": [None if v is None else quantity(v) for v in r.values]} for r in t.rows],
            "sets": [_at_once(s) for s in t.sets],
        }
        for t in result.handed_on.tables
    ]


def _at_once(forces: ForceSet) -> dict[str, Any]:
    push, moment, twist = map(quantity, forces.action)
    rows = [{"what": words, "values": [quantity(v) for v in values]} for words, values in forces.rows]
    return {
        "direction": forces.sign, "state": forces.words, "push": push, "moment": moment, "twist": twist,
        "columns": list(forces.columns), "rows": rows,
    }  # fmt: skip


def _origins(result: Result) -> dict[str, Any]:
    of = origins(tuple(all_values(result.walked)))
    provenances = [v.origin.provenance for v in of.cells if isinstance(v.origin, Cell)]
    return {
        "job_entries": len(of.entries),
        "table_cells": {p: provenances.count(p) for p in sorted(set(provenances))},
        "equations": {p: len(of.equations_of(p)) for p in sorted({e.provenance for e in of.equations})},
        "to_confirm": [_cell(v) for p in DOUBTFUL for v in of.cells_of(p)]
        + [
            {"equation": e.result.name, "title": e.title, "source": e.source, "provenance": e.provenance}
            for p in DOUBTFUL
            for e in of.equations_of(p)
        ],
        "numerical_without_inputs": list(of.closed),
    }


def _cell(value: Value) -> dict[str, Any]:
    cell = value.origin
    assert isinstance(cell, Cell)
    return {
        "table": cell.table, "key": cell.key, "column": cell.column, **(quantity(value) or {}),
        "source": cell.source, "clause": cell.clause, "provenance": cell.provenance, "note": cell.note,
    }  # fmt: skip


__all__ = ["FORMAT", "VERSION", "document", "json_text", "quantity"]
