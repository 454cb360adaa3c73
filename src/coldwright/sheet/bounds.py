"""How many of a thing a sheet may list: what the solver's records have room for.

More is refused when the sheet is read, so that nothing is ever left out in silence.
"""

MOST_GROUPS = 4
"""Groups of modules."""
MOST_SINKS = 3
"""Sinks on one side, one after another."""
MOST_POINTS = 16
"""Points of a fan curve, rows of a sink's table."""
MOST_SURFACES = 11
"""Surfaces of a place; the wall of a box is one more."""
MOST_LAYERS = 6
"""Layers of a wall."""
