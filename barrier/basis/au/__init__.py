"""Limit states design in Australia and New Zealand: loads, wind, glass; timber as far as its values may be had."""

from barrier.basis.au.limit_states import Australia, NewZealand

__all__ = ["Australia", "NewZealand"]
