"""The base: what it is, how sound, how damp; and when others decide."""

from __future__ import annotations

from packgen.booklet.blank.blocks import Block, Field, Fields, Heading, Note, filled, rows_of
from packgen.booklet.blank.one_sheet import survey_sheet
from packgen.booklet.blank.survey_job import SurveyJob
from packgen.booklet.rows import Column, Table
from packgen.booklet.sheet import Sheet

TITLE = "Base and damp"
PURPOSE = "What the floor is built on. Tick what you see; write unknown where you do not know."
OLD = (
    "Old tiles, sheet flooring, black or brown glue can hold asbestos. Do not scrape, sand, break or sweep it. A "
    "sample is taken by somebody licensed; until its paper is there, nothing is touched."
)
HANGING = (
    "Boards on joists, or a slab with a room below: whether it carries more weight is the engineer's word, on paper. "
    "Soft, wet or springy places: keep off, and ask."
)
FIELDS = Fields(
    (
        (Field("kind", ticks=("concrete on ground", "concrete over a room", "joists and boards", "unknown")),),
        (Field("built in year", 24), Field("poured, days ago", 24)),
        (Field("membrane against ground water", ticks=("yes", "no", "unknown")),),
        (Field("insulation", ticks=("none", "under the slab", "on the slab")), Field("of what, thick", 36)),
        (Field("old covering", ticks=("none", "unknown")), Field("or what", 46), Field("year laid", 20)),
        (Field("surface", ticks=("cracks", "hollow", "loose", "oily", "springy", "wet")),),
    )
)
JOISTS = Fields(
    (
        (Field("joists: width", 22), Field("depth", 22), Field("apart", 22), Field("free span", 24)),
        (Field("they run along wall", 18), Field("boards: thick", 22), Field("their state", 44)),
    )
)
DAMP = (
    "A foil taped down for a day that is wet below says: damp. Dry below proves nothing. The reading decides, by the "
    "method that the maker of the covering asks for."
)


def sheet(job: SurveyJob) -> Sheet:
    """Ticks, joists and the damp readings."""
    columns = (
        Column("place", "write", None),
        Column("method", "write", 50),
        Column("reading", "write", 24),
        Column("unit", "write", 30, "% RH or CM-%"),
        Column("date", "write", 32),
    )
    first = [("e.g. middle of the room", "hygrometer box 72 h", "71", "% RH", "2027-03-29")]

    def table(rows: int) -> Table:
        return Table(columns, rows_of(first, [""] * rows, 5), "", job.paper.sheet_mm)

    before: tuple[Block, ...] = (
        FIELDS,
        Note(OLD, True),
        JOISTS,
        Note(HANGING, True),
        Heading("Damp"),
        Note(DAMP),
    )
    return survey_sheet("base", TITLE, PURPOSE, filled(job.paper, before, table, most=6))
