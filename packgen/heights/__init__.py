"""Thresholds and finishes to the rail-top surface; the window of levels; the leg at every node; depth everywhere."""
