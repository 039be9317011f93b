"""What a hazard is on this very job, and why one is not met here. Only from the plan and the project file."""

from __future__ import annotations

from collections.abc import Callable

from packgen.booklet.client.tables import bag_word
from packgen.booklet.pour_words import counted, fills_in_use
from packgen.booklet.tools import cement, mixed
from packgen.core.figures import day, listed, number, plain
from packgen.plan import Plan
from packgen.trade.human import human
from packgen.trade.risk import Risk


def met(plan: Plan, risk: Risk) -> bool:
    """Whether a row is printed: the review found it, or the plan itself shows it."""
    if any(f.code in risk.codes and f.kind != "note" for f in plan.findings):
        return True
    shown = {
        "cement": cement(plan),
        "lifting": True,
        "trips": True,
        "services": bool(plan.layout.services),
        "overload": plan.project.base.suspended,
        "laser": _laser(plan) is not None,
        "occupants": plan.project.project.house_lived_in != "no",
        "silica": True,
    }
    return shown.get(risk.key, False)


def here(plan: Plan, risk: Risk) -> str:
    """The hazard on this job, in a sentence with its numbers."""
    words = HERE.get(risk.key)
    if words is not None and (text := words(plan)):
        return text
    found = next((f for f in plan.findings if f.code in risk.codes and f.kind != "note"), None)
    return found.says if found else ""


def why_not(plan: Plan, risk: Risk) -> str:
    """Why a hazard is not met here."""
    base = plan.project.base
    reasons = {
        "cement": "no fill with cement",
        "asbestos": f"old covering: {base.old_covering}" if base.old_covering != "none" else "no old covering",
        "services": "no pipe or cable in the file",
        "electricity": "no water is mixed in",
        "mixer": "no mixer in the plant",
        "headroom": "no ceiling lower than a person in the file",
        "overload": "the base is no floor over joists and no suspended slab",
        "fumes": "no burner, heater or engine in the plant",
        "noise": "no breaker, saw, grinder or whisk in the plant",
        "laser": "no laser in the plant",
        "occupants": "the file says that nobody lives in the house",
        "fire": "no flame, grinder or welding in the plant; none is planned",
        "weather": "no night too cold and no rain in the forecast of the file",
        "alone": f"{_crew(plan)} persons work on each day",
    }
    return reasons.get(risk.key, "nothing of it in the plan")


def _crew(plan: Plan) -> int:
    return sum(p.number for p in plan.project.crew)


def _laser(plan: Plan) -> str | None:
    return next((p.item for p in plan.project.plant if p.number and "laser" in p.item.lower()), None)


def _cement(plan: Plan) -> str:
    fills = [f for f in fills_in_use(plan) if f.cement]
    litres = sum(p.volume_l for p in plan.sequence.pours)
    return f"{number(litres)} L of {listed([f.kind for f in fills])}, on {counted(len(plan.sequence.pours), 'day')}"


def _lifting(plan: Plan) -> str:
    delivery, most = plan.purchase.delivery, max((p.bags for p in plan.sequence.pours), default=0)
    lift, often = human("lift"), human("lift_often")
    stairs = any("stair" in o.leads_to.lower() or "landing" in o.leads_to.lower() for o in plan.project.openings)
    up = ", up the stairs" if stairs else ""
    return (
        f"{counted(delivery.bags, bag_word(plan))}, {number(most)} on one day{up}; heaviest piece "
        f"{plain(delivery.heaviest_kg)} kg; guideline {plain(lift.value)} kg, {plain(often.value)} at two lifts a "
        "minute"
    )


def _dust(plan: Plan) -> str:
    cuts = sum(p.cut for p in plan.layout.pieces)
    tasks = [f"{counted(cuts, 'rail piece')} cut"] if cuts else []
    if plan.quantities.boards_m2:
        tasks.append(f"{number(plan.quantities.boards_m2, 2)} m² of boards cut")
    if mixed(plan):
        tasks.append(f"{counted(plan.purchase.delivery.bags, bag_word(plan))} opened and mixed")
    else:
        tasks.append(f"{counted(plan.purchase.delivery.bags, bag_word(plan))} emptied")
    return f"{listed(tasks)}; sweeping of the base"


def _services(plan: Plan) -> str:
    names = [s.name for s in plan.layout.services]
    crossed = len(plan.layout.service_crossings)
    rails = f"; {counted(crossed, 'crossing')} of rails over them" if crossed else ""
    close = len(plan.layout.foot_clashes)
    feet = f"; {counted(close, 'foot', 'feet')} on or too near them" if close else ""
    return f"In the floor: {listed(names, most=5)}{rails}{feet}" if names else ""


def _overload(plan: Plan) -> str:
    w = plan.quantities.weight
    allowed = f"{number(w.allowed_dry_kn_m2, 2)} allowed" if w.allowed_dry_kn_m2 is not None else "allowed: not stated"
    bags = f"; not more than {w.bags_per_m2} bags on a square metre" if w.bags_per_m2 is not None else ""
    return (
        f"For good {number(w.dry_kn_m2, 2)} kN/m² ({allowed}), while working "
        f"{number(w.fresh_with_people_kn_m2, 2)}{bags}"
    )


def _trips(plan: Plan) -> str:
    return f"{counted(len(plan.layout.rails), 'rail')} lie open until they are filled"


def _laser_words(plan: Plan) -> str:
    return _laser(plan) or ""


def _occupants(plan: Plan) -> str:
    if plan.project.project.house_lived_in == "yes":
        return "The house is lived in"
    return "Lived in or not: not stated, treated as lived in"


def _electricity(plan: Plan) -> str:
    machine = _mixer(plan)
    leads = f"{machine} with its lead" if machine else "Lamps and tools with their leads"
    water = [p.water_l for p in plan.sequence.pours if p.water_l]
    most = f", {number(max(w[1] for w in water))} L of water on the day with most" if water else ""
    return leads + most if mixed(plan) else ""


def _mixer(plan: Plan) -> str:
    words = ("mix", "whisk", "paddle")
    return next((p.item for p in plan.project.plant if p.number and any(w in p.item.lower() for w in words)), "")


def _found_at(code: str) -> Callable[[Plan], str]:
    """Where the review found it."""

    def words(plan: Plan) -> str:
        return listed([f.where for f in plan.findings if f.code == code and f.kind != "note" and f.where], most=3)

    return words


def _headroom(plan: Plan) -> str:
    return listed(
        [
            f"{plain(r.ceiling.lowest)} mm at the low side of {r.name}"
            for r in plan.project.rooms
            if r.ceiling is not None and any(f.code == "headroom" and f.where == r.name for f in plan.findings)
        ],
        most=3,
    )


def _weather(plan: Plan) -> str:
    missed = [f"{day(m.date)} ({m.why})" for m in plan.sequence.missed]
    if missed:
        return f"Not filled on {listed(missed, most=3)}"
    return next((f.says for f in plan.findings if f.code in ("frost-night", "rain-on-fill", "hot-or-windy")), "")


def _asbestos(plan: Plan) -> str:
    base = plan.project.base
    return f"Old covering: {base.old_covering}; built: {base.built or 'not stated'}"


HERE: dict[str, Callable[[Plan], str]] = {
    "cement": _cement,
    "lifting": _lifting,
    "silica": _dust,
    "asbestos": _asbestos,
    "services": _services,
    "electricity": _electricity,
    "mixer": _mixer,
    "trips": _trips,
    "headroom": _headroom,
    "overload": _overload,
    "noise": _found_at("noise-vibration"),
    "laser": _laser_words,
    "occupants": _occupants,
    "fire": _found_at("hot-works"),
    "weather": _weather,
}
