"""A structural check toolkit for base-mounted glass barriers.

>>> from barrier import check, read_job
>>> from barrier.worked import example_path
>>> result = check(read_job(example_path()))
>>> str(result.ending)
'within'
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
