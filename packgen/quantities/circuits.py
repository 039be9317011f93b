"""Length of pipe in each heating circuit."""

from __future__ import annotations

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, ON_PLAN, Given, Worked
from packgen.layout.model import Layout
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.room_model import Service
from packgen.quantities.model import CircuitLength


def circuits(project: Project, layout: Layout) -> tuple[tuple[CircuitLength, ...], tuple[Worked, ...]]:
    """length = area / spacing + leads, metres; circuits without area or spacing are left out."""
    found, lines = [], []
    runs = {run.name: run for run in layout.services}
    for service in project.services:
        if service.heating and service.zone is not None and service.spacing:
            circuit, line = _over_zone(service, runs[service.name].covers_mm2)
            found.append(circuit)
            lines.append(line)
            continue
        size = _size(service)
        if size is None:
            continue
        along, across, spacing = size
        leads = (service.leads or 0.0) / 1000
        length = half_up(half_up(along, 3) * half_up(across, 3) / spacing + leads, 1)
        allowed = service.longest_allowed / 1000 if service.longest_allowed is not None else None
        found.append(CircuitLength(service.name, length, leads, allowed, allowed is None or length <= allowed))
        lines.append(
            Worked(
                f"circuit/{service.name}",
                f"pipe in {service.name}",
                "length x width of its area / spacing + leads",
                f"{plain(along)} x {plain(across)} / {plain(spacing)} + {plain(leads)}",
                length,
                1,
                "m",
                FILE,
                given=_figures(service, size, leads),
            )
        )
    return tuple(found), tuple(lines)


def _over_zone(service: Service, covers_mm2: float) -> tuple[CircuitLength, Worked]:
    """A circuit that covers a zone: its area as laid out, to 2 decimals."""
    area, spacing = half_up(covers_mm2 / 1e6, 2), (service.spacing or 0.0) / 1000
    leads = (service.leads or 0.0) / 1000
    length = half_up(area / spacing + leads, 1)
    allowed = service.longest_allowed / 1000 if service.longest_allowed is not None else None
    line = Worked(
        f"circuit/{service.name}",
        f"pipe in {service.name}",
        "area that it covers / spacing + leads",
        f"{plain(area, 2)} / {plain(spacing)} + {plain(leads)}",
        length,
        1,
        "m",
        FILE,
        given=(
            Given(f"zone {service.zone} less its edges", area, "m²", ON_PLAN),
            given(service, "spacing", "spacing", spacing, "m"),
            given(service, "leads", "both leads", leads, "m"),
        ),
    )
    return CircuitLength(service.name, length, leads, allowed, allowed is None or length <= allowed), line


def _figures(service: Service, size: tuple[float, float, float], leads: float) -> tuple[Given, ...]:
    along, across, spacing = size
    return (
        given(service, "area", "length of its area along wall 1", along, "m"),
        given(service, "area", "length of its area into the room", across, "m"),
        given(service, "spacing", "spacing", spacing, "m"),
        given(service, "leads", "both leads", leads, "m"),
    )


def _size(service: Service) -> tuple[float, float, float] | None:
    """Sides of the area and the spacing, m."""
    if not service.heating or service.area is None or not service.spacing:
        return None
    (x0, y0), (x1, y1) = service.area.start, service.area.end
    return abs(x1 - x0) / 1000, abs(y1 - y0) / 1000, service.spacing / 1000
