"""What goes wrong on such a floor, said for a wet moment. Common practice, no source, unless a row says otherwise."""

from __future__ import annotations

from dataclasses import dataclass

GRID, FILL, SURFACE, AFTER = "Setting the grid", "Filling", "The surface", "After the fill"


@dataclass(frozen=True, slots=True)
class Fault:
    """needs: what the job must have for the fault to happen, by the names in `sheets/faults.py`."""

    at: str
    see: str
    cause: str
    now: str
    later: str = ""
    needs: tuple[str, ...] = ()


FAULTS: tuple[Fault, ...] = (
    Fault(
        GRID,
        "a rail rocks when stepped on",
        "foot on dust or a fold, leg not down",
        "lift, clear, turn down, read again",
        "read the masters on both sides again",
    ),
    Fault(
        GRID,
        "all readings 6 high in the afternoon",
        "laser moved, or sun on the tripod",
        "read TBM; over 1 off: read all since then again",
        "stand the laser on the base, out of the sun",
    ),
    Fault(
        GRID,
        "TBM at the end 4 off",
        "tripod knocked",
        "read again all since the last",
        "write it in the log",
    ),
    Fault(
        GRID,
        "one node high, the others right",
        "staff on the clip, turned wrong",
        "clean, read again; bigger reading is low: turn up",
        "lay the straightedge over it",
    ),
    Fault(
        GRID,
        "leg at its end and still low",
        "base lower than read",
        "extension or hard packing; note the base",
        "reading into the file, print again",
    ),
    Fault(
        GRID,
        "rail does not fit at the wall",
        "wall not straight, plaster",
        "cut to leave the strip, both ends on legs",
        "note the true length",
    ),
    Fault(
        FILL,
        "fill runs out at an edge",
        "edge bay left open",
        "close with board or foam, pull back",
        "close edges before the next bay",
    ),
    Fault(
        FILL,
        "mixer stops in a batch",
        "overload; RCD has tripped",
        "unplug; finish the bay by hand; go to the next stop",
        "spare mixer at hand next day",
        ("mixer",),
    ),
    Fault(
        FILL,
        "water on top, paste on the rail",
        "too much water",
        "add none; take the paste off; note the batch",
        "hardness test before covering",
        ("screed",),
    ),
    Fault(
        FILL,
        "cement runs off the grains",
        "too much water",
        "add none; lift out what drips; note the batch",
        "water must run through it",
        ("drainage",),
    ),
    Fault(
        FILL,
        "beads float, cement sinks",
        "too much water, mixed too long",
        "do not place it; next batch with the least water",
        "note the batch and its bay",
        ("bead",),
    ),
    Fault(
        FILL,
        "bag hard or out of date",
        "damp, or old",
        "do not use it",
        "count the bags again",
        ("cement",),
    ),
    Fault(
        FILL,
        "grains damp or clotted",
        "bag stood wet",
        "do not use it",
        "count the bags again",
        ("loose",),
    ),
    Fault(
        FILL,
        "pressure falls",
        "pipe hit",
        "stop, mark it, hold pressure, call fitter",
        "not covered untested",
        ("heated",),
    ),
    Fault(
        FILL,
        "night too cold",
        "frost forecast",
        "do not start; filled: cover, electric heat",
        "log the temperatures",
        ("cement",),
    ),
    Fault(
        SURFACE,
        "streaks",
        "float tilted over 10, or dirty",
        "float flatter, wash it, work in circles",
        "rub down when it has set",
        ("trowelled",),
    ),
    Fault(
        SURFACE,
        "holes, nests",
        "too dry, not pressed down",
        "fill and rub at once",
        "do not leave them for the covering",
        ("trowelled",),
    ),
    Fault(
        SURFACE,
        "closed, shining skin",
        "trowelled too long",
        "scratch it open while fresh; stop trowelling",
        "pour a cup of water: it must run through",
        ("drainage",),
    ),
    Fault(
        SURFACE,
        "rail top shows 2 above the fill",
        "settled, or struck too low",
        "top up the same day while fresh",
        "thin filler, or shim under boards",
        ("mixed",),
    ),
    Fault(
        SURFACE,
        "fill sinks under the boards",
        "not rapped, not over-filled",
        "lift that board, fill, rap, strike off",
        "order more for settling",
        ("loose", "boards"),
    ),
    Fault(
        SURFACE,
        "a board springs",
        "joint off the rail, a screw missed",
        "one more screw; rail piece under the joint",
        "",
        ("boards",),
    ),
    Fault(
        AFTER,
        "crumbles when scratched",
        "too little water, dry air, frost",
        "cover, keep damp, note the bays",
        "test; it may have to come out",
        ("cement",),
    ),
    Fault(
        AFTER,
        "crack along a rail",
        "thin there, movement, early load",
        "mark it, do not fill it yet",
        "look up joints; resin when dry",
        ("screed",),
    ),
    Fault(
        AFTER,
        "edges lift",
        "the top dried too fast",
        "cover again, no heater",
        "wait, test, grind (verify)",
        ("screed", "dries"),
    ),
)
