"""Hatching by our own clipped lines: a pattern with a diagonal breaks at its tile edge, these lines do not."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from packgen.core.plane import Point

Rings = Sequence[Sequence[Point]]
Stroke = tuple[Point, Point]


def chords(rings: Rings, at: Point, angle_deg: float) -> list[tuple[float, float]]:
    """Where a line through `at` lies inside the rings (even-odd): stretches along the line, measured from `at`."""
    ux, uy = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    cuts = []
    for ring in rings:
        side = [(p[1] - at[1]) * ux - (p[0] - at[0]) * uy for p in ring]
        for i, p in enumerate(ring):
            q, s, t = ring[(i + 1) % len(ring)], side[i], side[(i + 1) % len(ring)]
            if (s > 0) != (t > 0):
                f = s / (s - t)
                x, y = p[0] + (q[0] - p[0]) * f, p[1] + (q[1] - p[1]) * f
                cuts.append((x - at[0]) * ux + (y - at[1]) * uy)
    cuts.sort()
    return list(zip(cuts[::2], cuts[1::2], strict=False))


def hatched(shapes: Iterable[Rings], angle_deg: float, spacing: float, phase: float = 0.0) -> list[Stroke]:
    """Hatch lines over several shapes, each a list of rings (even-odd), paper mm.

    The lines stand at whole multiples of `spacing` from the sheet's own corner, whatever the shape: neighbours join
    without a seam, and stretches that touch become one stroke.
    """
    ux, uy = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    rows: dict[int, list[tuple[float, float]]] = {}
    for rings in shapes:
        across = [y * ux - x * uy for ring in rings for x, y in ring]
        if not across:
            continue
        for k in range(math.ceil((min(across) - phase) / spacing), math.floor((max(across) - phase) / spacing) + 1):
            off = k * spacing + phase
            rows.setdefault(k, []).extend(chords(rings, (-uy * off, ux * off), angle_deg))
    out = []
    for k, runs in sorted(rows.items()):
        off = k * spacing + phase
        for a, b in joined(runs):
            if b - a > 0.15:
                out.append(((-uy * off + ux * a, ux * off + uy * a), (-uy * off + ux * b, ux * off + uy * b)))
    return out


def joined(runs: Iterable[tuple[float, float]], gap: float = 0.02) -> list[tuple[float, float]]:
    """Stretches on one line with those that touch made one."""
    out: list[tuple[float, float]] = []
    for a, b in sorted(runs):
        if out and a <= out[-1][1] + gap:
            out[-1] = (out[-1][0], max(out[-1][1], b))
        else:
            out.append((a, b))
    return out
