"""Links 4 to 7: the base plate on its timber, its screws, loads in the plane of the glass, bearing."""
