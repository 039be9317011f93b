"""Fill under channels and drains: they are cut out of the bays and still set in fill."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.beside import beside
from packgen.core.plane import centroid
from packgen.core.surface import depths
from packgen.core.worked import PRACTICE, Assumed
from packgen.heights.model import Heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.survey.model import CutOut, Survey
from packgen.trade.amounts import amount


@dataclass(frozen=True, slots=True)
class Bed:
    """The part of a drain's bed that is filled with a bay beside it."""

    drain: str
    bay: str
    area_m2: float
    volume_l: float


def drain_beds(project: Project, survey: Survey, layout: Layout, heights: Heights) -> tuple[Bed, ...]:
    """The bed of every channel and drain, shared among the bays beside it by the length of their common edge.

    Litres = area x (mean depth - height of the body where the file gives it); else the body is not taken off.
    """
    drains = [(room.name, cut) for room in survey.rooms for cut in room.cut_outs if cut.kind != "obstacle"]
    out: list[Bed] = []
    for room, cut in drains:
        found = depths(heights.rail_top, survey.base, [cut.shape])[0]
        mean = max(0.0, found.mean_mm - (_body_mm(project, cut) or 0.0))
        shares = _shares(layout, room, cut)
        whole = sum(shares.values())
        for bay, share in shares.items():
            area = found.area_mm2 / 1e6 * share / whole
            out.append(Bed(cut.name, bay, area, area * mean))
    return tuple(out)


def _body_mm(project: Project, cut: CutOut) -> float | None:
    """Height of a drain's body below the grating, by the name it was given; None where the file does not say."""
    for d in project.drains:
        if cut.name in (d.name, d.kind, f"channel along wall {d.along}"):
            return d.body_height
    return None


def _shares(layout: Layout, room: str, cut: CutOut) -> dict[str, float]:
    """Common edge with each bay beside a drain; the nearest bay alone where none touches it."""
    bays = [b for b in layout.bays if b.room == room]
    links = beside([cut.shape, *(b.shape for b in bays)], amount("joint_open"))
    found = {bays[k.second - 1].name: k.shared_mm for k in links if k.first == 0}
    if found or not bays:
        return found
    x, y = centroid(cut.shape)
    middles = {b.name: centroid(b.shape) for b in bays}
    nearest = min(middles, key=lambda n: ((middles[n][0] - x) ** 2 + (middles[n][1] - y) ** 2, n))
    return {nearest: 1.0}


def bed_assumed(project: Project, beds: tuple[Bed, ...]) -> tuple[Assumed, ...]:
    """Drains whose body is not taken off the fill."""
    if beds and any(d.body_height is None for d in project.drains):
        what = "channels and drains set in fill, their own body not taken off"
        return (Assumed(what, "0", "mm", PRACTICE, "drains: body height", "litres, bags"),)
    return ()
