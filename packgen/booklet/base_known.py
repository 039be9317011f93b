"""How well the base is known under the legs, and where a further reading is worth its while, in words and a table."""

from __future__ import annotations

from packgen.booklet.base_spots import place_words, room_words
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import listed, number, plain
from packgen.plan import Plan


def known_words(plan: Plan) -> str:
    """Which levels are read, which are taken between readings, which beyond them, and how well they are known."""
    legs = plan.heights.legs
    read = sum(leg.known == "read" for leg in legs)
    between = sum(leg.known == "between" for leg in legs)
    beyond = [leg.node for leg in legs if leg.known == "beyond"]
    text = f"The base was read under {read} of {len(legs)} legs; under {between} it is taken between readings, a guess."
    if beyond:
        text += f" Beyond the outermost readings: {listed(beyond)}."
    known, steps = plan.survey.certainty, plan.survey.steps
    spreads = [leg.base_spread_mm for leg in legs if leg.base_spread_mm is not None]
    if known is None or not spreads:
        return text
    best, worst = number(min(spreads), 1), number(max(spreads), 1)
    text += f" Known to {best} mm at best and {worst} at worst, up or down, two times in three: "
    text += (
        f"an upper figure, from foretelling {known.tested} readings by their neighbours."
        if known.tested
        else "from practice, since too few readings have others all round them."
    )
    parted = sum(s.state == "parts" for s in steps)
    if parted:
        text += f" {'A step parts' if parted == 1 else f'{parted} steps part'} the readings: nothing is taken across."
    if not plan.heights.read_next:
        text += " No further reading is worth its while."
    return text


def read_next_table(plan: Plan) -> Table | None:
    """The places to read next, the best first, with a blank for what is read."""
    rows = []
    rooms = len(plan.survey.rooms) > 1
    for n, r in enumerate(plan.heights.read_next, 1):
        along, into = place_words(plan, r.at)
        where = f"{r.node}, {room_words(plan, r.at)}" if rooms else r.node
        s = r.spread
        far = f"{plain(s.distance_m)} m from {s.near}" + (", beyond all readings" if s.beyond_m else "")
        rows.append(Row((str(n), where, along, into, far, number(s.mm, 1), str(r.helps), "")))
    columns = (
        Column("", "number", 8),
        Column("at leg", "text", 24 if rooms else 18),
        Column("along wall 1", "number", 25, "from corner 1"),
        Column("into the room", "number", 25, "from wall 1"),
        Column("now", "text", None),
        Column("known to", "number", 20, "mm"),
        Column("helps legs", "number", 17),
        Column("reading", "write", 24),
    )
    return Table(columns, tuple(rows), "Read the base here next, the most useful first") if rows else None
