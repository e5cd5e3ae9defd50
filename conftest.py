"""Loaded by pytest before all else: one thread for the matrices of a panel, as the command line asks for."""

import os

# They are small: more threads wait for one another, and beside a second worker take four times as long.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # read once, when numpy is loaded
