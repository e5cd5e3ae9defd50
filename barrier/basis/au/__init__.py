"""Limit states design in Australia and New Zealand: loads, wind, glass, timber."""

from barrier.basis.au.limit_states import Australia
from barrier.basis.au.new_zealand import NewZealand

__all__ = ["Australia", "NewZealand"]
