"""The catalogue of findings: every code the review may use, its kinds, its gate, and what lifts its stop."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.finding import Gate, Kind, Lift


@dataclass(frozen=True, slots=True)
class Code:
    """One row. `kinds` are those it may come as; `gate` the one its stop closes; `lift` what lifts the stop."""

    code: str
    kinds: tuple[Kind, ...]
    gate: Gate | None
    lift: Lift | None
    meaning: str


_STOPS: tuple[tuple[str, Gate, Lift, str], ...] = (
    ("no-height-fits", "order", "numbers", "no finished level satisfies every rule"),
    ("level-undecided", "order", "numbers", "the finished level is left open, and nobody has decided it"),
    ("board-mismatch", "order", "numbers", "the layers and the fill name different boards"),
    ("tapes-disagree", "order", "numbers", "check tapes do not agree with the walls"),
    ("rooms-overlap", "order", "numbers", "rooms joined through doorways would lie on one another"),
    ("load-over-allowed", "order", "numbers", "the finished floor is heavier than the structure may carry"),
    ("engineer-open", "order", "paper", "nobody responsible has said that the structure can carry the floor"),
    ("fall-wrong", "order", "numbers", "the surface falls too little, or towards the house"),
    ("fill-wrong-place", "order", "numbers", "this fill does not belong in this place"),
    ("circuit-too-long", "order", "numbers", "a heating circuit is longer than allowed"),
    ("drain-does-not-fit", "order", "numbers", "a drain is higher than the room there is for it"),
    ("floor-unclaimed", "order", "numbers", "a part of the floor belongs to no zone"),
    ("finish-too-late", "order", "numbers", "the floor is not ready by the date asked for"),
    ("asbestos-unknown", "base", "paper", "an old covering has not been sampled for asbestos"),
    ("gas-in-floor", "base", "paper", "a gas pipe lies in the floor"),
    ("leg-out-of-range", "grid", "numbers", "a leg cannot be set with the parts in the file"),
    ("rail-over-border", "grid", "numbers", "a rail runs over a border at which the rail tops differ"),
    ("pipe-blocks-rail", "grid", "numbers", "a rail does not pass over a pipe"),
    ("saddle-no-room", "grid", "numbers", "a saddle under a foot leaves too little height for its leg"),
    ("foot-load", "grid", "numbers", "a foot carries more than it is good for"),
    ("foot-pressure", "grid", "numbers", "a foot presses more than what lies under it bears"),
    ("insulation-unknown", "grid", "paper", "nobody knows how much the insulation under the feet bears"),
    ("survey-too-thin", "grid", "numbers", "too few readings of the base for so many legs"),
    ("step-unread", "grid", "numbers", "a step of the base that does not part its readings"),
    ("misclosure-large", "grid", "numbers", "the levels do not close"),
    ("boards-loose", "grid", "paper", "the boards of the base are not known to be fast"),
    ("joists-notched", "grid", "paper", "services are let into the joists"),
    ("stair-edge-open", "grid", "paper", "an open drop beside the work has no guard"),
    ("structural-joint-crossed", "grid", "numbers", "rails or fill bridge a joint of the building"),
    ("movement-joint-crossed", "grid", "numbers", "a rail piece crosses a movement joint"),
    ("old-covering-left", "grid", "paper", "the feet would stand on an old covering"),
    ("no-membrane", "grid", "paper", "nothing keeps ground water out"),
    ("separating-layer-missing", "grid", "numbers", "foil or edge strip is not in the file"),
    ("outside-waterproof-open", "grid", "paper", "the waterproofing under the feet is not done, or not protected"),
    ("screw-into-service", "grid", "numbers", "board screws come through a rail over a service"),
    ("depth-too-small", "fill", "numbers", "the fill is too thin somewhere"),
    ("depth-too-great", "fill", "numbers", "the fill is too deep somewhere"),
    ("pipe-cover-small", "fill", "numbers", "too little fill over a pipe"),
    ("load-while-working", "fill", "numbers", "wet fill, people and bags are too heavy together"),
    ("damp-base", "fill", "paper", "the base is too damp, or nobody has measured it"),
    ("wetroom-open", "fill", "paper", "a wet room has no waterproofing named"),
    ("drain-blocked", "fill", "numbers", "water cannot reach a drain"),
    ("pressure-test-open", "fill", "paper", "a heating circuit has no valid pressure test"),
    ("frost-night", "fill", "numbers", "a night is too cold for fresh fill, or its forecast is missing"),
    ("working-time", "fill", "numbers", "one batch is too much for the working time"),
    ("trapped", "fill", "numbers", "a bay has no dry way out"),
    ("escape-blocked", "fill", "paper", "people behind the room could not get out"),
    ("heat-too-soon", "cover", "numbers", "heating starts before the screed is old enough"),
    ("heat-log-open", "cover", "paper", "no record that the heating was run up"),
    ("moisture-open", "cover", "paper", "no passed test of residual moisture"),
)

_BOTH: tuple[tuple[str, Gate, Lift, str], ...] = (
    ("step-at-door", "order", "numbers", "the step at a door is over the limit"),
    ("services-unknown", "base", "paper", "holes or grinding, and nobody has looked for cables and pipes"),
    ("hot-works", "base", "paper", "work with flame or sparks"),
    ("foot-on-pipe", "grid", "numbers", "a foot stands on a pipe or too near to it"),
    ("joint-missing", "fill", "numbers", "a field of screed is too large, or has no joint where it needs one"),
    ("rain-on-fill", "fill", "numbers", "rain is expected in the days of filling"),
    ("edge-bay-open", "fill", "numbers", "an edge has to be closed before filling"),
    ("co-heater", "fill", "paper", "a burner or engine indoors"),
    ("laser-unproved", "handover", "paper", "nobody has tested that the laser line is level"),
)

_CAUTIONS: tuple[tuple[str, Gate | None, str], ...] = (
    ("threshold-low-outside", "order", "the sill stands too little above the surface outside"),
    ("step-at-obstacle", "order", "a step at something that stays"),
    ("step-between-zones", "order", "a step where two zones meet"),
    ("board-span", "order", "boards span too far between rails"),
    ("small-piece", "order", "a rail piece is too short to clip"),
    ("doorway-off", "order", "the two sides of a doorway do not meet on the plan"),
    ("shape-unchecked", "order", "the tapes fix the room with none to spare"),
    ("wet-unknown", "order", "a room whose name sounds wet, and the file does not say"),
    ("start-not-working-day", "order", "the start is not a working day"),
    ("start-before-plan", "order", "the start lies before the date of the plan"),
    ("base-between-readings", "grid", "legs stand far from any reading of the base"),
    ("reading-off-neighbours", "grid", "a reading stands off all its neighbours"),
    ("on-a-step", "grid", "a leg or a reading stands on a step of the base"),
    ("laser-moved", "grid", "a point read again reads otherwise"),
    ("levels-not-closed", "grid", "the levels were not closed on a known height"),
    ("base-green", "grid", "young concrete, or nobody knows its age"),
    ("foil-on-timber", "grid", "plastic foil on timber"),
    ("fall-of-base-low", "grid", "the base below falls too little, or holds water"),
    ("names-clash", "grid", "a reading and a leg of one name in different spots"),
    ("structural-joint-open", "grid", "a joint of the building that has to stay open"),
    ("rail-raised", "grid", "a rail is raised locally so that a pipe passes below it"),
    ("pipe-through-joint", "grid", "a heating pipe goes through a movement joint"),
    ("stack-too-heavy", "fill", "how many bags may stand on a square metre"),
    ("hot-or-windy", "fill", "sun and wind on fresh fill"),
    ("day-too-long", "fill", "a day of filling ends after working hours"),
    ("curing-conflict", "fill", "the way in crosses fill that is not walkable yet"),
    ("cement-out-of-date", "fill", "bags are past their date"),
    ("paper-old", "fill", "a reading or paper is older than the plan"),
    ("little-left", None, "a limit is kept with little to spare"),
    ("not-by-paper", None, "an entry tries to lift a stop that goes only with the numbers"),
    ("lift-fits-nothing", None, "an entry under `lifted` fits no stop"),
    ("cement-burn", None, "wet cement on skin and eyes"),
    ("silica-dust", None, "dust of cement, sand and stone"),
    ("lifting", None, "heavy pieces and many bags"),
    ("electric-wet", None, "electricity and water together"),
    ("mixer", None, "hands in a mixer"),
    ("noise-vibration", None, "noise and vibration of machines"),
    ("laser-eye", None, "laser light"),
    ("headroom", None, "low ceiling"),
    ("trip-edge", None, "open grid to trip over"),
    ("children-pets", None, "other people in the house"),
    ("alone", None, "one person works alone"),
    ("waste-water", None, "wash water"),
    ("stepladder-on-fresh", None, "loads on fresh fill"),
)

_NOTES: tuple[tuple[str, str], ...] = (
    ("extension", "legs that need an extension or packing"),
    ("comparison-fails", "a fill that was compared and fails"),
    ("load", "the weight against what is allowed"),
    ("step-outside", "a drop to the outside, printed and not judged"),
)

CODES: dict[str, Code] = {
    **{c: Code(c, ("stop",), gate, lift, says) for c, gate, lift, says in _STOPS},
    **{c: Code(c, ("stop", "caution"), gate, lift, says) for c, gate, lift, says in _BOTH},
    **{c: Code(c, ("caution",), gate, None, says) for c, gate, says in _CAUTIONS},
    **{c: Code(c, ("note",), None, None, says) for c, says in _NOTES},
}
