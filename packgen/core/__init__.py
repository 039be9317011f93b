"""Words everyone shares: places, findings, sources, worked lines, printing of figures, plane geometry, surfaces."""
