"""The Eurocode family: EN 1990, EN 1991-1-1 with a national load table, EN 16612, EN 338, EN 1995-1-1."""

from barrier.basis.en.eurocode import Eurocode

__all__ = ["Eurocode"]
