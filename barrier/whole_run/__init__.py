"""A whole run: from what its file says to sides set out, findings, distinct conditions, and the check of each condition.

``lay_out`` reads no loads and checks nothing; ``check_run`` walks each distinct condition, by the load path every job goes; a side
under a rail is walked as one job, whole and with each of its panels lost.
"""

from barrier.whole_run.checked import CheckedRun, Row, check_run, unchecked
from barrier.whole_run.conditions import Condition
from barrier.whole_run.laid import LaidOut, lay_out

__all__ = ["CheckedRun", "Condition", "LaidOut", "Row", "check_run", "lay_out", "unchecked"]
