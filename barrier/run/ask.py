"""What cannot be set out, said with the reason and what would help."""

from __future__ import annotations


class Impossible(ValueError):
    """A division or a place that does not exist: why, and what to change."""

    def __init__(self, why: str, cure: str) -> None:
        super().__init__(f"{why}; {cure}")
        self.why, self.cure = why, cure
