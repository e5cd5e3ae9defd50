"""Allowable stress design in the United States: ASCE 7 / IBC guard loads, IBC glass factor, NDS lag screws.

A first part only: what it does not have is answered with *not in this basis*.
"""

from barrier.basis.us.allowable import AllowableStress

__all__ = ["AllowableStress"]
