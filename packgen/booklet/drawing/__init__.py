"""Compact SVG of our own, in paper millimetres at a stated true scale."""
