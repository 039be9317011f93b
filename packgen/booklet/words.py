"""The trade's words, each in one sentence, and which of them a pack uses.

Meanings follow EN 13318 (screeds, definitions) and general surveying; the sentences are our own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from packgen.booklet.textsize import lines_of

COLUMN_MM = 84.0
UNEVEN_MM = 14.0  # two columns never end at one height

# (word, other forms that mean it, meaning), in the order in which a reader meets them
WORDS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("base", (), "the floor we build on, concrete or boards"),
    ("datum", (), "the height everything is measured from"),
    ("TBM", ("temporary bench mark",), "temporary bench mark: a lasting spot whose height we call zero"),
    ("staff", (), "a stick with millimetres, or a stiff rule, held upright"),
    ("backsight", (), "the first reading, on the TBM: it tells how high the laser is today"),
    ("target", (), "what the staff must show when the rail is right"),
    ("change point", (), "a spot read from two laser positions to carry the height on"),
    ("misclosure", (), "what is missing when we come back to the TBM"),
    ("two-peg test", (), "two marks read from the middle and from one end: is the laser line level?"),
    ("finished level", ("finished floor level",), "top of the covering"),
    ("build-up", (), "all layers above the rail"),
    ("sill", ("threshold",), "the strip at a door that the floor must meet"),
    ("rail", (), "straight bar that stays in and guides the striking board"),
    ("leg", (), "adjustable foot that holds the rail"),
    ("extension", (), "part that makes a leg longer"),
    ("packing", (), "hard plates under a foot, never wood wedges"),
    ("node", (), "where lines cross and a leg stands"),
    ("line", (), "a row of rails, with a letter or a number"),
    ("module", (), "distance from line to line"),
    ("master", (), "a leg set by laser; the others are set from it"),
    ("straightedge", (), "a long straight bar to lay between masters"),
    ("support block", (), "a block at a wall that carries the finished mark and the rail-top mark"),
    ("bay", (), "the box between rails that is filled in one go"),
    ("pour", (), "what is filled in one go on one day"),
    ("batch", ("batches",), "one mixer filling"),
    ("screed", (), "layer laid on site to bring a floor to height or to carry a covering"),
    ("bead screed", (), "cement with foam beads: light, and not a surface to walk on"),
    ("dry granulate", (), "loose light grains under boards"),
    ("drainage mortar", (), "mortar without fine sand, for outside: water runs through"),
    ("separating layer", (), "foil that keeps the fill from sticking to the base"),
    ("perimeter strip", ("edge strip",), "soft strip at the walls, so that the floor can move"),
    ("movement joint", (), "gap that stays open in all layers"),
    ("structural joint", (), "gap in the building itself"),
    ("day joint", (), "where one day's work ends"),
    ("stop line", (), "the line where filling may end for the day"),
    ("strike off", ("struck off",), "to draw a straight board across two rails"),
    ("float", (), "flat tool that closes the surface"),
    ("curing", (), "keeping cement damp so that it hardens"),
    ("drying", (), "water leaving afterwards"),
    ("residual moisture", (), "water still in it when it is tested"),
    ("CM test", ("CM-%",), "a crushed sample in a pressure bottle"),
    ("hygrometer box", (), "sealed box that reads how damp the air over the floor is"),
    ("relative humidity", ("% RH",), "how full of water the air is"),
    ("mean depth", (), "average of the fill, for ordering"),
    ("smallest depth", (), "the thinnest place, for strength"),
    ("greatest depth", (), "the thickest place, for drying"),
    ("dry weight", (), "the floor for good"),
    ("fresh weight", (), "the floor on the day of filling"),
    ("settles", (), "how far loose fill sinks when it is rapped"),
    ("offcut", (), "what is left of a bar after cutting"),
    ("saw cut", ("kerf",), "width that the saw takes"),
    ("hold", (), "something that must be put right before a gate may be passed"),
    ("gate", (), "a point in the job that an open hold closes"),
    ("fall", (), "how many mm a floor goes down per metre"),
    ("channel", (), "a drain along a door"),
    ("headroom", (), "height from the floor to the ceiling"),
    ("RCD", (), "a switch that cuts the power in a fault"),
)

# explained first where not all have room: nobody can set a leg without them
FIRST = (
    "TBM staff backsight target rail leg node master bay hold gate base finished_level sill screed batch "
    "mean_depth smallest_depth greatest_depth straightedge perimeter_strip separating_layer stop_line drying "
    "movement_joint residual_moisture extension pour line module"
)


def words_used(bodies: Iterable[str], titles: Iterable[str], room_mm: float) -> tuple[tuple[str, str], ...]:
    """The words that stand on the sheets with their meaning, in the order of the list.

    room_mm: height of two columns; where not all fit, those are kept without which nobody can set a leg.
    """
    text = re.sub(r"<[^>]+>", " ", " ".join([*bodies, *titles])).lower()
    used = [(word, meaning) for word, forms, meaning in WORDS if any(_stands(f, text) for f in (word, *forms))]
    rank = {word.replace("_", " "): i for i, word in enumerate(FIRST.split())}
    kept: list[tuple[str, str]] = []
    tall = 0.0
    for entry in sorted(used, key=lambda u: rank.get(u[0], len(rank))):
        high = lines_of(f"{entry[0]}: {entry[1]}.", 10, COLUMN_MM) * 4.5 + 1.0
        if tall + high > 2 * room_mm - UNEVEN_MM:
            break
        kept.append(entry)
        tall += high
    return tuple(u for u in used if u in kept)


def _stands(form: str, text: str) -> bool:
    return re.search(rf"(?<!\w){re.escape(form.lower())}s?(?!\w)", text) is not None
