"""How each kind of fill is placed and finished, in the order of doing. Common practice, no source, unless said."""

from __future__ import annotations

from packgen.core.figures import number, plain
from packgen.plan import Plan
from packgen.project.work_model import Fill

Step = tuple[str, str]  # what to do; "You see it is right when ..."

STRIKE_OVER_MM = 10  # fill stands so much over the rails before it is struck off
FLOAT_EDGE_MM = 10  # leading edge of the float, at most
RIGHT = "You see it is right when"


def placing_steps(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    """Six steps at most for a fill."""
    return {
        "sand-cement": _screed,
        "calcium sulfate": _screed,
        "other": _screed,
        "bead": _bead,
        "granulate": _granulate,
        "drainage": _drainage,
        "wool": _wool,
    }[fill.family if fill.mixed or fill.family in ("granulate", "wool") else "granulate"](plan, fill)


def _edges(plan: Plan) -> Step:
    starred = any(t.close_edge for p in plan.sequence.pours for t in p.turns)
    which = "of the bays marked * on the pour sheet" if starred else "at doors and open sides"
    return (
        f"Close the open edges {which} first: upright board or foam, wedged, the strip left standing.",
        f"{RIGHT} a push with the boot does not move it.",
    )


def _screed(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    depth = number(plan.heights.depth.mean_mm)
    foil = plan.project.base.separating_layer or plan.project.base.membrane == "yes"
    return (
        _edges(plan),
        (
            f"Fill the bay half deep, about half of {depth}, and press the fill down at the edges and under the rails."
            + (" No water on the foil." if foil else ""),
            f"{RIGHT} no hollow shows under the rail and fill comes out at the other side.",
        ),
        (
            f"Fill the rest 5 to {STRIKE_OVER_MM} over the rails. Lay a straight board on two rails and strike off, "
            "sawing to and fro.",
            f"{RIGHT} the board touches both rails over its whole way.",
        ),
        (
            f"Float with the leading edge up {FLOAT_EDGE_MM} at most. Keep the float clean.",
            f"{RIGHT} no streak stays behind the float.",
        ),
        (
            "Go over it with the large float in circles, from rail to rail. Fill holes and rub them at once.",
            f"{RIGHT} the rail tops are clean and level with the fill: a rule laid across does not rock.",
        ),
        (
            "Cover the bays as they are finished. Nobody steps on them; the way out is over empty bays.",
            f"{RIGHT} the cover touches everywhere and no draught comes under it.",
        ),
    )


def _bead(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    walk = fill.walk_on_after
    days = f"{walk} days" if walk else "the bag's days"
    return (
        _edges(plan),
        (
            "Tip the fill into the bay and rake it out. Do not press it hard: it is light because of the beads.",
            f"{RIGHT} the bay is full under the rails and the beads are whole.",
        ),
        (
            f"Let it stand 5 to {STRIKE_OVER_MM} over the rails. Strike off with a straight board on two rails.",
            f"{RIGHT} the board touches both rails over its whole way.",
        ),
        (
            "Close the surface with one light pass of the float. More brings the cement up and the beads out.",
            f"{RIGHT} the beads are held and do not come off under the glove.",
        ),
        ("Wipe the rail tops.", f"{RIGHT} a rule laid over two rails touches steel, not fill."),
        (
            f"Keep off for {days}, then board or screed over it: this fill is no surface to walk on for good.",
            f"{RIGHT} a thumb leaves no mark.",
        ),
    )


def _granulate(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    over = (
        f"{plain(fill.settles * 100)} %, {number(over_mm(plan, fill))} on the mean depth,"
        if fill.settles
        else "a little"
    )
    return (
        (
            "Check that every gap at walls, pipes and boards is closed: loose grains find each hole.",
            f"{RIGHT} a lamp held below shows no light.",
        ),
        (
            "Pour from the far wall towards the door, one bay after the other.",
            f"{RIGHT} you stand on the base or on a board, never on the fill.",
        ),
        (
            f"Rake it {over} over the rails, then rap the rails and the fill lightly with a board.",
            f"{RIGHT} rapping makes it sink no more.",
        ),
        (
            "Strike off with a straight board on two rails, pulled once, towards you.",
            f"{RIGHT} the rail tops are bare and the fill lies level with them.",
        ),
        (
            "Brush the rail tops clean.",
            f"{RIGHT} no grain lies where a board will lie.",
        ),
        (
            "Board the bay at once, before the next one is filled. On loose fill lay a board to kneel on.",
            f"{RIGHT} no open fill is left at the end of the day.",
        ),
    )


def _drainage(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    zone = next((z for z in plan.heights.zones if z.fall_per_m), None)
    fall = f" The fall, {zone.falls_in_words}, is in the rails." if zone else ""
    return (
        _edges(plan),
        (
            "Mix it as damp as earth. Tip it into the bay and spread it; press it down with the rake's back.",
            f"{RIGHT} a handful holds together and no water runs from it.",
        ),
        (
            f"Let it stand 5 to {STRIKE_OVER_MM} over the rails. Strike off with a straight board on two rails, along "
            f"the fall.{fall}",
            f"{RIGHT} the board touches both rails over its whole way.",
        ),
        (
            "Do not trowel it closed: water must run through. Press down only what stands up.",
            f"{RIGHT} the grains are seen, each touching the next.",
        ),
        (
            "Keep channels and gratings free.",
            f"{RIGHT} a cup of water poured on the mortar comes out at the drain side.",
        ),
        (
            "Cover it against rain, sun and wind until it can be walked on.",
            f"{RIGHT} the cover is held down and lies clear of the surface.",
        ),
    )


def _wool(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    return (
        (
            "Fix every leg to the base, by screw or glue: wool holds none of them.",
            f"{RIGHT} a leg pushed by hand at its rail does not turn.",
        ),
        (
            "Cut pieces 5 to 10 larger than the bay, each way.",
            f"{RIGHT} a piece holds by itself between the rails.",
        ),
        (
            "Push them in dry, under the rails too, without pressing them thinner than they are.",
            f"{RIGHT} the wool ends level with the rail tops and no gap shows.",
        ),
        ("Wear gloves, goggles and a mask while cutting.", f"{RIGHT} the offcuts are in a closed bag."),
        (
            "Board the bays the same day.",
            f"{RIGHT} no open wool is left at the end of the day.",
        ),
    )


def board_steps(plan: Plan, fill: Fill) -> tuple[Step, ...]:
    """The steps for boards over the rails."""
    board, kit = fill.board_on_top, plan.project.kit
    if board is None:
        return ()
    most = plain(board.thickness + kit.rail.height)
    screw = f"Screws no longer than {most}, board and rail together: no tip comes below the rail."
    if kit.screw:
        tip = kit.screw - board.thickness
        screw = (
            f"Screw of {plain(kit.screw)}: its tip comes {plain(tip)} below the rail top; the rail is "
            f"{plain(kit.rail.height)} high."
        )
    return (
        (
            f"Lay {plain(board.thickness)} {board.material} boards with their ends on rails. Keep "
            f"{plain(kit.edge_strip)} free at every wall.",
            f"{RIGHT} no board end hangs between two rails.",
        ),
        (
            f"Stagger the rows by one module, {plain(kit.module)}, or more.",
            f"{RIGHT} no four corners meet.",
        ),
        (
            f"Screw every 200 along the edges and every 300 within. {screw}",
            f"{RIGHT} the heads lie just below the surface and no screw spins.",
        ),
        (
            "Leave out screws where the pipe sheet lists a service under the rail, and mark the place on the board.",
            f"{RIGHT} every marked place has a photograph.",
        ),
        (
            "Walk over each board when it is down.",
            f"{RIGHT} nothing springs and nothing creaks.",
        ),
    )


def over_mm(plan: Plan, fill: Fill) -> float:
    """How far loose fill stands over the rails before it is rapped, on the mean depth, mm."""
    return plan.heights.depth.mean_mm * fill.settles
