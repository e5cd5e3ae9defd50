"""What a first job file takes where nobody answered: sizes of common practice by country, marked as assumed in the file itself.

Dimensions only: no strength, grade or rating is ever taken for granted. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from barrier.job.quantity import parse

BASIS = {
    "uk": ("en", "uk", "metric"), "germany": ("en", "", "metric"), "other europe": ("en", "", "metric"), "us": ("us", "", "us"),
    "australia": ("au", "", "metric"), "new zealand": ("nz", "", "metric"),
}  # fmt: skip
_METRIC = {
    "width": "1200 mm", "top": "1100 mm", "gap": "50 mm", "thickness": "12 mm", "mounts": "2", "edge": "150 mm",
    "grip": "70 mm", "clamp_width": "50 mm", "plate": "100 mm", "plate_thickness": "8 mm", "holes": "70 mm x 70 mm",
    "screw": "8 mm x 100 mm", "decking": "28 mm", "joist_spacing": "450 mm", "joist": "45 mm x 195 mm", "piece": "45 mm x 195 mm",
    "overhang": "0 mm",
}  # fmt: skip
_INCHES = {
    "width": "48 in", "top": "42 in", "gap": "2 in", "thickness": "1/2 in", "mounts": "2", "edge": "6 in", "grip": "3 in",
    "clamp_width": "2 in", "plate": "4 in", "plate_thickness": "3/8 in", "holes": "2 3/4 in x 2 3/4 in", "screw": "5/16 in x 4 in",
    "decking": "1 in", "joist_spacing": "16 in", "joist": "1 1/2 in x 7 1/4 in", "piece": "1 1/2 in x 7 1/4 in",
    "overhang": "0 in",
}  # fmt: skip
_SOUTH = {"screw": "10 mm x 100 mm", "decking": "22 mm", "joist": "45 mm x 190 mm", "piece": "45 mm x 190 mm"}
CORE, THREAD = 0.68, 0.6  # of the diameter and of the length of a screw: usual, no source


class Answers:
    """Answers by key, with the stand-ins of the country behind them."""

    def __init__(self, answers: Mapping[str, str]) -> None:
        self.said = answers
        self.country = answers.get("country", "other europe")
        self.basis, self.national, self.units = BASIS[self.country]
        stand_in = dict(_INCHES if self.units == "us" else _METRIC)
        self.stand_in = stand_in | (_SOUTH if self.country in ("australia", "new zealand") else {})

    def __contains__(self, key: str) -> bool:
        return key in self.said

    def of(self, key: str) -> str:
        """The answer, or what stands in for it."""
        return self.said.get(key, self.stand_in[key])

    def get(self, key: str, otherwise: str = "unknown") -> str:
        """The answer, or another word."""
        return self.said.get(key, otherwise)

    def mm(self, key: str) -> float:
        """A size in mm."""
        return mm_of(self.of(key))

    def known(self, *keys: str) -> bool:
        """Whether all of these were answered."""
        return all(k in self.said for k in keys)

    def why(self, how: str) -> str:
        """Why a figure is assumed, and how to find the true one."""
        where = "" if "country" not in self.said else f" in {COUNTRY[self.country]}"
        return f"common practice{where}, not measured; {how}"

    def entry(self, name: str, key: str, how: str, part: int | None = None) -> str:
        """A line of the file: the answer as given, or the stand-in as assumed. ``part`` of an answer of several sizes."""
        text = self.of(key) if part is None else self.of(key).split(" x ")[part]
        return f'{name} = "{text}"  # {how}' if key in self.said else assumed(name, f'"{text}"', self.why(how))

    def size(self, name: str, x: float, how: str, *keys: str) -> str:
        """A line for a size in mm that follows from others: assumed if one of these is."""
        text = written(x, self.units)
        return f"{name} = {text}  # {how}" if self.known(*keys) and keys else assumed(name, text, self.why(how))


COUNTRY = {
    "uk": "Britain", "germany": "Germany", "other europe": "Europe", "us": "the US", "australia": "Australia",
    "new zealand": "New Zealand",
}  # fmt: skip


def assumed(name: str, value: str, why: str) -> str:
    """A line for an entry that nobody measured; ``value`` as TOML has it."""
    return f'{name} = {{ value = {value}, assumed = "{why}" }}'


def mm_of(text: str) -> float:
    """A size that was checked, in mm."""
    x = parse(text, "length")
    assert isinstance(x, float), x
    return x


def line_load(x: float, units: str) -> str:
    """A line load of so many kN/m (which are N/mm) as the file has it.

    >>> line_load(0.9, "metric"), line_load(0.78, "us")
    ('"0.9 kN/m"', '"53 lbf/ft"')
    """
    return f'"{x / 4.4482216 * 304.8:.0f} lbf/ft"' if units == "us" else f'"{round(x, 2):g} kN/m"'


def written(x: float, units: str) -> str:
    """A computed size as the file has it: in mm, or in inches where the file is in inches and they come out in sixteenths."""
    sixteenths = x / 25.4 * 16
    if units == "us" and abs(sixteenths - round(sixteenths)) < 1e-6:
        whole, rest = divmod(round(abs(sixteenths)), 16)
        sign = "-" if x < 0 else ""
        for step in (8, 4, 2, 1):
            if rest % step == 0:
                part = f"{rest // step}/{16 // step}"
                break
        text = f"{sign}{whole}" if not rest else f"{sign}{whole} {part}" if whole else f"{sign}{part}"
        return f'"{text} in"'
    return f'"{x:.10g} mm"'
