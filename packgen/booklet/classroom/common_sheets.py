"""Pupil's sheets that are alike for all: rules, the real bay, the check of another's paper, room to work."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.classroom.blocks import (
    BODY_MM,
    Cell,
    Flow,
    Form,
    FormColumn,
    FormRow,
    Heading,
    Said,
    Squares,
    TableBlock,
    squared,
)
from packgen.booklet.classroom.words import conventions, rules_of
from packgen.booklet.rows import SHEET_MM, Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.exercise.model import Blank, Case

MOST_SET = 6
WHERE = {
    "height of collimation": "Level book",
    "rise or fall": "Level book",
    "misclosure": "Level book",
    "correction": "Level book",
    "level": "Level book",
    "change point": "Level book",
    "rail top": "Heights",
    "leg": "Heights",
    "parts": "Heights",
    "hold": "Heights",
    "target reading": "Heights",
    "rail length": "Heights",
    "dry weight": "Weight and time",
    "fresh weight": "Weight and time",
    "drying": "Weight and time",
    "date": "Weight and time",
}


def rules_sheet(case: Case, blanks: Sequence[Blank], level: int) -> Sheet:
    """Rules and formulae; at level 3 only what is agreed and the units."""
    tables: list[Table] = []
    if level < 3:
        groups: dict[str, list[Row]] = {}
        for kind, rule in rules_of(blanks):
            rows = groups.setdefault(WHERE.get(kind, "Fill"), [])
            rows.append(Row((kind, f"{rule[:1].upper()}{rule[1:]}."), "light" if rows else ""))
        columns = (Column("", width_mm=42), Column(""))
        tables = [Table(columns, tuple(rows), title) for title, rows in groups.items()]
    tables.append(_words(blanks))
    flow = Flow()
    flow.add(*(TableBlock(t) for t in tables))
    if level == 3:
        flow.add(Heading("Agreed for all"), Said(conventions(case)))
    flow.add(Squares())
    return Sheet(
        slug="rules",
        title="Rules and formulae" if level < 3 else "What is agreed",
        purpose="The same for everybody: use this sheet in all tasks."
        if level < 3
        else "The same for everybody. Formulae are yours to know at this level.",
        template="class-blocks.html",
        view={"blocks": flow.finished()[0]},
    )


def _words(blanks: Sequence[Blank]) -> Table:
    kinds = {b.kind for b in blanks}
    rows = [
        ("height of collimation", "height of the laser line above the datum"),
        ("backsight, foresight", "first reading of a set-up on a point of known level; last reading before a move"),
        ("misclosure", "what is missing when the book comes back to the datum"),
        ("rail top", "top of the rail, on which the board or the straightedge lies"),
        ("leg", "from the base to the top of the rail"),
        ("mean depth", "average over the area: 1 mm on 1 m² is 1 L"),
        ("settles, waste", "how far loose fill sinks when rapped; what stays in the bucket"),
    ]
    booked = {"rise or fall", "height of collimation", "misclosure", "correction", "level"} & kinds
    needs = {
        **dict.fromkeys((r[0] for r in rows[:3]), booked),
        **dict.fromkeys(("rail top", "leg"), {"rail top", "leg", "target reading"} & kinds),
        **dict.fromkeys(("mean depth", "settles, waste"), {"volume"} & kinds),
    }
    wanted = [r for r in rows if needs[r[0]]]
    return Table(
        (Column("", width_mm=42), Column("")),
        tuple(Row(r, "light" if i else "") for i, r in enumerate(wanted)),
        "Words",
    )


def bay_sheet(case: Case) -> Sheet:
    """Setting out in the real bay: the setter's part with blank targets, the reader's part without any."""
    legs = case.legs[:MOST_SET]
    set_columns = (
        FormColumn("leg", 22),
        FormColumn("target reading", 36, "write", "mm"),
        FormColumn("set", 16),
        FormColumn("read by the other group", 40, "write", "mm"),
        FormColumn("difference", 36, "write", "high or low"),
    )
    read_columns = (FormColumn("leg", 22), FormColumn("reading", 50, "write", "mm"), FormColumn("sure?", 40))
    box = Cell("", "blank")
    tick = Cell("", "ticks", ("",))
    yes = Cell("", "ticks", ("yes", "no"))
    return Sheet(
        slug="bay",
        title="In the real bay",
        purpose="Set these legs with staff and laser. Another group reads them without knowing your targets.",
        template="class-bay.html",
        view={
            "datum": case.datum,
            "pupil": str(case.pupil),
            "setters": Form(
                "Legs to set", set_columns, tuple(FormRow((Cell(leg.node), box, tick, box, box)) for leg in legs)
            ),
            "readers": Form("Legs to read", read_columns, tuple(FormRow((Cell(leg.node), box, yes)) for leg in legs)),
        },
    )


PAPER = "The paper"
CHECKS: dict[str, tuple[tuple[str, str], ...]] = {  # what is ticked, and the kind of blank it belongs to
    "Level book": (
        ("Every level says above or below", ""),
        ("Each reading hangs from the line of its own set-up", "change point"),
        ("The change point is carried on", "change point"),
        ("The book is closed", "misclosure"),
        ("The misclosure is shared out", "correction"),
        ("Every figure says rise or fall", "rise or fall"),
        ("In each set-up rises less falls give first reading less last", "rise or fall"),
        ("Backsights less foresights give what the book ends on", "misclosure"),
    ),
    "Heights": (
        ("All layers above the rail are counted", "rail top"),
        ("The rail top lies below the finished floor", "rail top"),
        ("Every leg has its parts ticked", "parts"),
        ("The target starts from today's backsight", "target reading"),
        ("The leg that does not fit is named, and what lifts the hold", "hold"),
    ),
    "Fill": (
        ("Depths are means over the area", "mean depth"),
        ("Litres, not m³", "volume"),
        ("Settling and waste are multiplied in", "litres to order"),
        ("Bags are whole, rounded up once a pour", "bags"),
    ),
    PAPER: (
        ("Working is shown for every answer", ""),
        ("Every answer has its unit", ""),
        ("A check is written under each box of working", ""),
        ("Crossed-out figures can still be read", ""),
    ),
}


def exchange_sheet(blanks: Sequence[Blank]) -> Sheet:
    """The check of another's paper: ticks only, for the tasks that are asked."""
    asked = {WHERE.get(b.kind, "Fill") for b in blanks}
    kinds = {"change point" if b.id.startswith("point/") else b.kind for b in blanks}
    columns = (
        Column("", width_mm=122),
        Column("yes", "tick", 18),
        Column("no", "tick", 18),
        Column("look again", "tick", 20),
    )
    tables = tuple(
        Table(
            columns, tuple(Row((text, "", "", ""), "light") for text, kind in texts if not kind or kind in kinds), title
        )
        for title, texts in CHECKS.items()
        if title == PAPER or title in asked
    )
    return Sheet(
        slug="exchange",
        title="Check another paper",
        purpose="Exchange papers when both are finished. You look at the way, not at the answers.",
        template="class-exchange.html",
        view={"tables": tables},
    )


def room_sheet(number: int = 1) -> Sheet:
    """Squared paper, so that a pupil's sheets end on the back of a leaf."""
    return Sheet(
        slug="room" if number == 1 else f"room-{number}",
        title="Room to work",
        purpose="Name the question beside each piece of working.",
        template="class-room.html",
        view={"squares": squared(SHEET_MM, BODY_MM - 4.0)},
    )
