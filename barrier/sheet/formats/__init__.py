"""The formats of a sheet: each writes the same blocks, and nothing but a token prints a number."""
