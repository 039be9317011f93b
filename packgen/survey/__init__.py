"""Tapes to outlines, staff readings to levels, levels to the surface of the base."""
