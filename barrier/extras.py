"""Libraries that come with an extra: loaded when they are asked for, and named where they are not there."""

from __future__ import annotations

from importlib import import_module
from typing import Any


def wanted(library: str, extra: str) -> Any:
    """A library of an extra. Raises ImportError that says how it is installed.

    >>> wanted("math", "units").pi > 3
    True
    """
    try:
        return import_module(library)
    except ImportError as fault:
        raise ImportError(f"this wants {library}, which is not here: pip install 'barrier-loadwalk[{extra}]'") from fault
