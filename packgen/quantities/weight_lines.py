"""The arithmetic of weights: dry for good, fresh on the day, at the mean and over the worst square metre."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import KILONEWTON_PER_KG, half_up, plain
from packgen.core.worked import FILE, ON_PLAN, Given, Source, Worked
from packgen.heights.model import Heights
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import Fill, Zone
from packgen.quantities.model import Weights
from packgen.quantities.weight import ZoneWeight, as_load, imposed, zone_parts, zone_weights
from packgen.trade.amounts import amount_rule, layer_density

GRAVITY = "9.80665"
STANDARD_GRAVITY = Given("standard gravity", 9.80665, "m/s²", Source("CGPM 1901, exact by definition", known="read"))


def density_given(fill: Fill, dry: bool) -> Given:
    key, value = ("hardened density", fill.hardened_density) if dry else ("fresh density", fill.fresh_density)
    return given(fill, key, key, value, "kg/m³")


def kit_given(project: Project) -> Given:
    return given(project.kit, "mass", "rails and legs", project.kit.mass, "kg/m²")


def people_given(weights: Weights) -> Given:
    rule = amount_rule("people")
    return Given(rule.says, weights.people_kn_m2, rule.unit, rule.source)


def imposed_given(project: Project, weights: Weights) -> Given:
    """The imposed load: the file's, else the one assumed."""
    assumed = imposed(project)[1]
    if assumed is None:
        return given(project.base, "imposed load", "imposed load", weights.imposed_kn_m2, "kN/m²")
    return Given(assumed.what, weights.imposed_kn_m2, "kN/m²", assumed.source)


def layers_needs(project: Project, zone: ZoneWeight) -> tuple[tuple[str, ...], tuple[Given, ...]]:
    """Where the weight of a zone's layers comes from: the file, or the line that adds them up."""
    file = next(z for z in project.finishes if z.zone == zone.zone)
    if file.weight_of_layers is None:
        return (f"zone/{zone.zone}/layers",), ()
    return (), (given(file, "weight of layers", f"layers of {zone.zone}", zone.layers_kg_m2, "kg/m²"),)


def weight_lines(project: Project, weights: Weights, heights: Heights) -> tuple[Worked, ...]:
    """Dry and fresh weight at the mean depth, in kg and kN."""
    parts = zone_parts(zone_weights(project), heights)
    kit = plain(project.kit.mass)
    lines = []
    for name, what in (("dry", "hardened density"), ("fresh", "fresh density")):
        dry = name == "dry"
        terms = []
        needs: list[str] = []
        figures: list[Given] = []
        for zone, area, mean in parts:
            density = zone.fill.hardened_density if dry else zone.fill.fresh_density
            one = f"{plain(mean, 1)} / 1000 x {plain(density)}"
            needs.append("depth/mean" if len(parts) == 1 else f"zone/{zone.zone}/mean depth")
            figures.append(density_given(zone.fill, dry))
            if dry:
                one += f" + {plain(zone.layers_kg_m2)}"
                more, own = layers_needs(project, zone)
                needs += more
                figures += own
            if len(parts) > 1:
                figures.append(Given(f"floor of {zone.zone}", area, "m²", ON_PLAN))
            terms.append(one if len(parts) == 1 else f"{plain(area, 4)} x ({one})")
        joined = " + ".join(terms)
        if len(parts) > 1:
            whole = half_up(sum(a for _, a, _ in parts), 4)
            joined = f"({joined}) / {plain(whole, 4)}"
            figures.append(Given("floor in all", whole, "m²", ON_PLAN))
        value = weights.dry_kg_m2 if dry else weights.fresh_kg_m2
        formula = f"mean depth x {what}{' + layers' if dry else ''} + kit"
        if len(parts) > 1:
            formula += ", zone by zone by area"
        figures.append(kit_given(project))
        lines.append(
            Worked(
                f"weight/{name}",
                f"{name} weight",
                formula,
                f"{joined} + {kit}",
                value,
                1,
                "kg/m²",
                FILE,
                tuple(needs),
                tuple(figures),
            )
        )
        lines.append(_as_load(f"weight/{name}/force", f"{name} weight as a load", f"weight/{name}", value))
    lines.append(
        Worked(
            "weight/working",
            "load while working",
            "fresh weight + people",
            f"{plain(weights.fresh_kg_m2, 1)} x {GRAVITY} / 1000 + {plain(weights.people_kn_m2)}",
            half_up(weights.fresh_with_people_kn_m2, 2),
            2,
            "kN/m²",
            amount_rule("people").source,
            ("weight/fresh",),
            (STANDARD_GRAVITY, people_given(weights)),
        )
    )
    return tuple(lines)


def _as_load(key: str, name: str, need: str, kg_m2: float) -> Worked:
    return Worked(
        key,
        name,
        "kg/m² x standard gravity / 1000",
        f"{plain(kg_m2, 1)} x {GRAVITY} / 1000",
        half_up(as_load(kg_m2), 2),
        2,
        "kN/m²",
        needs=(need,),
        given=(STANDARD_GRAVITY,),
    )


# --------------------------------------------------------------------------------- needed by others, not printed


def more_weight_lines(project: Project, weights: Weights, heights: Heights) -> Iterator[Worked]:
    """Layers and mean depths of zones, the worst square metre, what may be loaded, and how many bags may stand."""
    zones = zone_weights(project)
    for file in project.finishes:
        yield _layers(file, zones[file.zone])
    if len(zones) > 1:
        for z in heights.by_zone:
            yield _mean(z.zone, z.depth.volume_l, z.depth.area_mm2 / 1e6, half_up(z.depth.mean_mm, 1))
    yield from _worst(project, weights, zones)
    yield _worst_working(weights)
    yield from _allowed(project, weights, zones)


def _layers(file: Zone, zone: ZoneWeight) -> Worked:
    key, name = f"zone/{file.zone}/layers", f"weight of the layers of {file.zone}"
    if file.weight_of_layers is not None:
        figure = given(file, "weight of layers", name, zone.layers_kg_m2, "kg/m²")
        return Worked(
            key, name, "as given", plain(zone.layers_kg_m2), zone.layers_kg_m2, 2, "kg/m²", FILE, (), (figure,)
        )
    terms, figures = [], []
    for layer in file.layers:
        if layer.mass is not None:
            terms.append(plain(layer.mass))
            figures.append(given(layer, "mass", layer.name, layer.mass, "kg/m²"))
            continue
        found = layer_density(layer.name)
        density = half_up(found.kg_m3, 3)
        terms.append(f"{plain(layer.thickness)} / 1000 x {plain(density)}")
        figures.append(given(layer, "thickness", layer.name, layer.thickness))
        figures.append(Given(f"density of {found.word}", density, "kg/m³", found.source))
    if not terms:
        figures.append(Given("layers: the file names none", 0, "kg/m²", FILE, file.marks.start))
    numbers = " + ".join(terms) or "0"
    formula = "thickness / 1000 x density, layer by layer"
    return Worked(key, name, formula, numbers, zone.layers_kg_m2, 2, "kg/m²", FILE, (), tuple(figures))


def _mean(zone: str, litres: float, area_m2: float, mean_mm: float) -> Worked:
    for digits in (2, 3, 4, 6):
        top, floor = half_up(litres, digits), half_up(area_m2, digits)
        if half_up(top / floor, 1) == mean_mm:
            break
    volume = Source("volume between rail tops and base, prism by prism", known="calculated")
    return Worked(
        f"zone/{zone}/mean depth",
        f"mean depth of {zone}",
        "litres / floor",
        f"{plain(top, digits)} / {plain(floor, digits)}",
        mean_mm,
        1,
        "mm",
        volume,
        given=(
            Given(f"litres of {zone}, not rounded bay by bay", top, "L", volume),
            Given(f"floor of {zone}", floor, "m²", ON_PLAN),
        ),
    )


def _worst(project: Project, weights: Weights, zones: dict[str, ZoneWeight]) -> Iterator[Worked]:
    """Weights over the heaviest square metre; of several zones as they were added up over its raster."""
    raster = Source("added up over a raster of 100 on the plan", known="calculated")
    for name, load in (("dry", weights.worst_dry_kn_m2), ("fresh", weights.worst_fresh_kn_m2)):
        key = f"weight/worst/{name}"
        title = f"{name} weight of the heaviest square metre, round {weights.worst_at}"
        zone, dry = next(iter(zones.values())), name == "dry"
        density = zone.fill.hardened_density if dry else zone.fill.fresh_density
        more = (zone.layers_kg_m2 if dry else 0.0) + project.kit.mass
        kg = load / KILONEWTON_PER_KG
        needs, own = layers_needs(project, zone) if dry else ((), ())
        if len(zones) == 1:
            mean = half_up((kg - more) / density * 1000, 6)
            terms = f"{plain(mean, 6)} / 1000 x {plain(density)}" + (f" + {plain(zone.layers_kg_m2)}" if dry else "")
            numbers = f"({terms} + {plain(project.kit.mass)}) x {GRAVITY} / 1000"
            figures = (
                Given("mean depth over that square", mean, "mm", raster),
                density_given(zone.fill, dry),
                *own,
                kit_given(project),
                STANDARD_GRAVITY,
            )
            formula = f"(mean depth x density{' + layers' if dry else ''} + kit) x standard gravity / 1000"
        else:
            numbers, needs, formula = f"{plain(kg, 6)} x {GRAVITY} / 1000", (), "kg/m² x standard gravity / 1000"
            figures = (Given("weight over that square", half_up(kg, 6), "kg/m²", raster), STANDARD_GRAVITY)
        digits = 2 if dry else 3
        yield Worked(key, title, formula, numbers, half_up(load, digits), digits, "kN/m²", raster, needs, figures)


def _worst_working(weights: Weights) -> Worked:
    """Fresh weight of the heaviest square metre with people on it."""
    fresh = half_up(weights.worst_fresh_kn_m2, 3)
    return Worked(
        "weight/worst/working",
        f"load while working on the heaviest square metre, round {weights.worst_at}",
        "fresh weight there + people",
        f"{plain(fresh)} + {plain(weights.people_kn_m2)}",
        half_up(fresh + weights.people_kn_m2, 2),
        2,
        "kN/m²",
        amount_rule("people").source,
        ("weight/worst/fresh",),
        (people_given(weights),),
    )


def _allowed(project: Project, weights: Weights, zones: dict[str, ZoneWeight]) -> Iterator[Worked]:
    allowed, working = weights.allowed_dry_kn_m2, weights.allowed_working_kn_m2
    if allowed is None or working is None:
        return
    load = imposed_given(project, weights)
    yield Worked(
        "weight/allowed working",
        "load allowed while working",
        "extra load allowed + imposed load",
        f"{plain(allowed)} + {plain(load.value)}",
        half_up(working, 3),
        3,
        "kN/m²",
        FILE,
        given=(given(project.base, "extra load allowed", "extra load allowed", allowed, "kN/m²"), load),
    )
    if weights.bags_per_m2 is None:
        return
    fill = max((z.fill for z in zones.values()), key=lambda f: f.bag.mass)
    worst = half_up(weights.worst_fresh_kn_m2, 3)
    left = f"({plain(half_up(working, 3))} - {plain(weights.people_kn_m2)} - {plain(worst)})"
    yield Worked(
        "weight/bags",
        "bags that may stand on a square metre",
        "(allowed while working - people - fresh) / (standard gravity / 1000) / mass of a bag, rounded down",
        f"max(0, floor({left} / ({GRAVITY} / 1000) / {plain(fill.bag.mass)}))",
        weights.bags_per_m2,
        0,
        "bags",
        FILE,
        ("weight/allowed working", "weight/worst/fresh"),
        (people_given(weights), STANDARD_GRAVITY, given(fill.bag, "mass", "mass of a bag", fill.bag.mass, "kg")),
    )
