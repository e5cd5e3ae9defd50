"""Setting out a whole run: lengths divided into panels and gaps, mounts placed in the bays between joists.

Arithmetic of the tape: millimetres in, millimetres out, every position a distance from one datum. It knows no job and no
code; distances of screws from ends and edges come in as lengths.
"""
