"""A structural check toolkit for base-mounted glass barriers.

A load walks from a hand on the glass down to the joist (glass on its clamps, mount, screws, blocking, joist, movement at the
top); each link compares what comes with what it holds by the tables of a family of codes, and every step writes down what it did.
It never says that a barrier may be used: local codes and a licensed engineer decide.

A job is read from a file, walked, and looked at:

>>> from barrier import check, read_job
>>> from barrier.worked import example_path
>>> result = check(read_job(example_path()))         # check("job.toml") does both
>>> str(result.ending), result.governing.id          # within, exceeds, or not checked
('within', 'blocking.end.left.together.M1')
>>> round(result["glass.face"].eta, 3)                # utilisation of one check, by its id
0.375
>>> result.link("screws").title                       # one link of the path
'Screws'
>>> len(result.to_frame()) > 100                      # all checks as a pandas frame; to_json() as the sheet's JSON
True

A copy of a job with entries changed is ``job.with_({"panels.P3.width": "1200 mm"})``; a job, a result and a study pickle, so a
pool of processes can walk many. Numbers are in N, mm, MPa, rad, kg/m3 and know where they come from (``value.origin``): an
entry of the job, a cell of a table, a step of an equation. With the extra ``units``, ``value.quantity`` is a quantity of pint
and ``with_`` takes one; with ``symbols``, ``value.origin.equation.sympy`` is an equation to solve, and
:func:`barrier.symbolic.expression` all that stands behind a number.

Rooms: ``barrier.job`` (the file, validated once), ``barrier.load_path`` (check, situations), ``barrier.links`` (the links, in
walking order), ``barrier.basis`` (a family of codes each), ``barrier.tables`` and ``barrier.editions`` (published figures and which
edition), ``barrier.mechanics`` (plate, contact, fastener group, torsion: numbers in, numbers out), ``barrier.ways`` (what if, ways
out, limits, many walks), ``barrier.compare`` and ``barrier.study`` (bases side by side, blocking, mistakes of a site),
``barrier.sheet`` (the sheet and the only place that formats a number), ``barrier.verify`` (a sheet made again and compared).
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from barrier.notebook import written_by

if TYPE_CHECKING:
    from barrier.job import Job as Job
    from barrier.job import read_job as read_job
    from barrier.load_path import Result as Result
    from barrier.load_path import check as check

__version__ = "0.2.0"

_PLACES = {"Job": "barrier.job", "read_job": "barrier.job", "Result": "barrier.load_path", "check": "barrier.load_path"}
__all__ = ["Job", "Result", "check", "read_job"]


def _first_page(subject: Any) -> str:
    """What a notebook shows; the sheet is loaded when it is asked for and not before."""
    page: str = import_module("barrier.sheet").first_page(subject)
    return page


def _json(result: Any) -> str:
    text: str = import_module("barrier.sheet").json_text(result)
    return text


written_by(_first_page, _json)


def __getattr__(name: str) -> Any:
    if name in _PLACES:
        return getattr(import_module(_PLACES[name]), name)
    raise AttributeError(f"module 'barrier' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
