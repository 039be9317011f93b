"""What hurts a person on this kind of job: a heading, who is meant, and what to do if it happens, by finding code.

The sentence with the number and the cure come from the finding; the last word is always with local rules and with
people who are licensed for it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Hazard:
    """title: heads the row. who: who is meant. if_it_happens: first help or first action."""

    title: str
    who: str
    if_it_happens: str


@dataclass(frozen=True, slots=True)
class Standing:
    """A hazard of every such job, printed also where no finding names it."""

    code: str
    where: str
    says: str
    do: str


HAZARDS: dict[str, Hazard] = {
    "cement-burn": Hazard(
        "Wet cement",
        "who mixes and places",
        "Wash at once with much clean water. Eye: rinse 20 minutes, then a doctor.",
    ),
    "lifting": Hazard("Heavy bags", "who carries", "Stop at the first pain in the back. Two persons from then on."),
    "silica-dust": Hazard("Dust", "who cuts, mixes, sweeps", "Fresh air. Cough or tight chest that stays: a doctor."),
    "electric-wet": Hazard(
        "Electricity and water", "everybody", "Power off before you touch anybody. Then call emergency."
    ),
    "trip-edge": Hazard("Open rails and legs", "everybody who comes in", "Leave a hurt person lying, call help."),
    "children-pets": Hazard(
        "Children and animals", "the household", "Cement on skin or in eyes: rinse, then a doctor."
    ),
    "mixer": Hazard("Turning mixer", "who mixes", "Emergency stop, plug out. Nobody frees a hand with the motor on."),
    "co-heater": Hazard(
        "Fumes of burners and engines", "everybody inside", "Headache, sickness: all out, call emergency."
    ),
    "noise-vibration": Hazard(
        "Noise and vibration", "who holds the tool", "White or numb fingers: no tool for the day."
    ),
    "laser-eye": Hazard("Laser light", "everybody", "Dazzled: look away, sit down. Sight stays bad: an eye doctor."),
    "headroom": Hazard("Low ceiling", "everybody", "A blow on the head with sickness or sleepiness: a doctor."),
    "alone": Hazard("Working alone", "who works alone", "A call at set times; no call, and somebody comes to look."),
    "hot-works": Hazard(
        "Flame and sparks", "who does hot work", "Extinguisher at hand; fire: all out, call the brigade."
    ),
    "stair-edge-open": Hazard("Open edge", "everybody", "A fall: do not move the person, call emergency."),
    "asbestos-unknown": Hazard(
        "Asbestos not ruled out", "everybody in the house", "Scraped it already? Stop, shut the room, ask a specialist."
    ),
    "gas-in-floor": Hazard(
        "Gas pipe", "everybody", "Smell of gas: no switch, windows open, out, call the gas supplier."
    ),
    "services-unknown": Hazard(
        "Hidden cables and pipes", "who drills, grinds, cuts", "Hit one: stop, power or water off."
    ),
    "escape-blocked": Hazard("Way out blocked", "people behind the room", "Fire: across the fresh fill. People first."),
    "waste-water": Hazard("Wash water", "who cleans", "Spilt into a drain: stop, block it, tell whoever runs it."),
    "stepladder-on-fresh": Hazard(
        "Loads on fresh fill", "all trades", "Mark the place, put it in the log, let it be judged."
    ),
}

STANDING: tuple[Standing, ...] = (
    Standing("lifting", "store and way in", "Bags and boards are heavy.", "Two persons, or a trolley; breaks"),
    Standing(
        "silica-dust", "cutting place", "Cutting and sweeping make dust.", "Cut wet or with extraction; mask FFP3"
    ),
    Standing("electric-wet", "leads and tools", "Leads lie on a damp floor.", "RCD tested; leads hung up or dry"),
    Standing("trip-edge", "open grid", "Rails lie open until they are filled.", "Boards over the grid on the way"),
    Standing("children-pets", "door", "Open rails and wet fill hurt.", "Lock the door; hang the notice"),
)
CEMENT = Standing(
    "cement-burn", "mixing place and bays", "Wet cement burns without hurting at first.", "Gloves, goggles"
)

NOT_YOURS: tuple[str, ...] = (
    "mains electricity, gas, heating circuits: opening, changing, testing",
    "cutting into joists, walls or slabs that carry",
    "anything that may hold asbestos: scraping, grinding, drilling",
    "waterproofing under tiles in wet rooms and outside, where local rules ask for a licensed person",
)
