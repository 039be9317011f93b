"""The wall table: length, turn at the end, what wall."""

from __future__ import annotations

from packgen.booklet.blank.blocks import Block, Drawing, Field, Fields, Form, Steps, filled, left_mm, rows_of
from packgen.booklet.blank.example import WALLS
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.blank.walk_picture import walk_picture
from packgen.booklet.rows import Column, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.core.figures import plain
from packgen.project.room_model import Room

TITLE = "Walls"
PURPOSE = "Once round with your left hand on the wall: how long, and which way the corner turns."
STEPS = (
    "Start at corner 1. Walk along wall 1, your left hand on the wall.",
    "Measure from corner to corner, at the height of the floor, plaster to plaster.",
    "At its end tick how you go on: right is an ordinary inside corner; left goes round something that sticks out; "
    "skew is a corner that is not square.",
    "Go on until you are back at corner 1. Measure every short return too.",
)
LAST = Fields(((Field("ceiling, lowest", 26), Field("highest", 26), Field("plaster still to come", 24, unit="thick")),))


def sheets(job: SurveyJob) -> tuple[Sheet, ...]:
    """One blank form; with a file a form a room, with what the file says."""
    if not job.rooms or job.begun is None:
        return (_blank(job),)
    out = []
    for room in job.begun.rooms:
        out += _of_room(job, room)
    return tuple(
        survey_sheet(
            "walls",
            TITLE,
            "What the file says. Measure again what you doubt; write what is missing.",
            blocks,
            part=n,
            parts=len(out),
        )
        for n, blocks in enumerate(out, 1)
    )


def _turns(turn: str) -> tuple[str, str, str]:
    yes = "✓"
    return (yes if turn == "right" else " ", yes if turn == "left" else " ", yes if turn.startswith("skew") else " ")


def _blank(job: SurveyJob) -> Sheet:
    wide = job.paper.sheet_mm
    columns = (
        Column("wall", "text", 24),
        Column("length", "write", 36, "mm"),
        Column("turn right", "tick", 15),
        Column("turn left", "tick", 15),
        Column("skew", "tick", 15),
        Column("what wall", "write", None, "plaster, window, free edge …"),
    )
    name, length, turn, what = WALLS[0]
    example = (f"like {name}", length, *_turns(turn), what)

    def table(rows: int) -> Table:
        names = [str(n) for n in range(1, rows + 1)]
        return Table(columns, rows_of([example], names, 6), "", wide)

    svg, high = walk_picture(wide)
    blocks = filled(job.paper, (Steps(STEPS), Drawing(svg, high)), table, (LAST,))
    return survey_sheet("walls", TITLE, PURPOSE, blocks)


def _of_room(job: SurveyJob, room: Room) -> list[tuple[Block, ...]]:
    wide = job.paper.sheet_mm
    columns = (
        Column("wall", "text", 24),
        Column("in the file", "number", 24, "mm"),
        Column("turn at its end", "text", 32),
        Column("measured again", "write", 36, "mm"),
        Column("what wall", "write", None),
    )
    free = {int(ref) for ref in room.free_edges}
    rows = [
        (
            f"wall {w.number}",
            plain(w.length),
            f"{w.turn}{f' {plain(w.angle)}°' if w.angle is not None else ''}",
            "",
            "free edge" if int(w.number) in free else "",
        )
        for w in room.walls
    ]
    whole = Table(columns, rows_of(rows, (), 5), f"Walls of {room.name}", wide)
    svg, high = walk_picture(wide)
    how: tuple[Block, ...] = (Steps(STEPS), Drawing(svg, high))
    parts = parted(whole, left_mm(job.paper, (*how, LAST)), left_mm(job.paper, (LAST,)))
    return [
        ((*how, Form(t)) if k == 0 else (Form(t),)) + ((LAST,) if t is parts[-1] else ()) for k, t in enumerate(parts)
    ]
