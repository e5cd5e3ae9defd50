"""Numbers in, numbers out: plate on clamps, base plate on timber, screw groups, torsion. Imports nothing of ours."""
