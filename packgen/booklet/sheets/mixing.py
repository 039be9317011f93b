"""Mixing: every batch alike. One sheet a pour for fill that is mixed, one for the job where it is dry."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.booklet.pour_words import batches_said, counted, fill_of, fills_in_use, pack_word, range_of
from packgen.booklet.sheet import Sheet
from packgen.core.figures import clock, day, number, plain
from packgen.plan import Plan
from packgen.project.work_model import Fill
from packgen.sequence.model import Pour

STRIP = 42  # boxes of the tally strip that one sheet holds; beyond it a box stands for several batches
FIRST_WATER = "two thirds"  # common practice


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One a pour of mixed fill; one for the whole job of each loose fill."""
    pours = plan.sequence.pours
    out: list[Sheet] = []
    for fill in fills_in_use(plan):
        mine = [p for p in pours if fill_of(plan, p) is fill]
        if fill.mixed:
            out += [_sheet(len(out) + k, *_mixing(plan, p)) for k, p in enumerate(mine)]
        elif mine:
            title = "Opening the packs" if fill.family == "wool" else "Opening the bags"
            out.append(_sheet(len(out), title, "No water, no mixer: from the bag into the bay.", _dry(fill, mine)))
    return tuple(out)


def _mixing(plan: Plan, pour: Pour) -> tuple[str, str, dict[str, object]]:
    days = len(plan.sequence.pours)
    title = "Mixing" if days == 1 else f"Mixing, day {pour.number} of {days}"
    return title, "Every batch alike: the same bags, the same water, the same time.", _mixed(plan, pour)


def _sheet(before: int, title: str, purpose: str, view: dict[str, object]) -> Sheet:
    slug = f"mixing-{before + 1}" if before else "mixing"
    return Sheet(slug=slug, title=title, purpose=purpose, template="mixing.html", view=view, behind="fill")


def _mixed(plan: Plan, pour: Pour) -> dict[str, object]:
    fill = fill_of(plan, pour)
    figures = [
        (
            "Batches today",
            number(pour.batches),
            "",
            f"{batches_said(pour)}; {counted(pour.bags, 'bag')} in all",
        ),
        ("Bags in a batch", number(min(pour.bags_per_batch, pour.bags)), "", f"bags of {plain(fill.bag.mass)} kg"),
    ]
    if pour.water_per_batch_l:
        figures.append(("Water in a batch", range_of(pour.water_per_batch_l), "L", "never more, never by eye"))
    facts = [("day", f"{day(pour.date)}, from {clock(pour.starts_at)}")]
    if pour.last_batch_water_l and pour.last_batch_bags != pour.bags_per_batch and pour.batches > 1:
        facts.append(
            (
                f"last batch, {counted(pour.last_batch_bags, 'bag')}",
                f"{range_of(pour.last_batch_water_l)} L of water",
            )
        )
    if pour.water_l:
        facts.append(("water for the day", f"{range_of(pour.water_l, 0)} L, clean, from the tap"))
    facts += [
        ("mixing time, rest", f"{plain(fill.mixing_time)} min, rest by the bag" if fill.mixing_time else ""),
        ("placed and finished within", f"{plain(fill.working_time)} min of adding water" if fill.working_time else ""),
        (
            "air and base",
            f"at least {plain(fill.lowest_temperature)} °C, now and through the night"
            if fill.lowest_temperature is not None
            else "",
        ),
    ]
    said = "From the bag" if any(not v for _, v in facts) else ""
    return {
        "figures": figures,
        "facts": facts,
        "from_bag": said,
        "signed": "Mixed by",
        "steps": _steps(fill, pour),
        "tally": _tally(pour.batches),
        "tally_head": f"Tally, day {pour.number}: {counted(pour.batches, 'batch', 'batches')}"
        + _each(pour.batches, "batch", "batches"),
    }


def _steps(fill: Fill, pour: Pour) -> tuple[tuple[str, str], ...]:
    water = f"{range_of(pour.water_per_batch_l)} L" if pour.water_per_batch_l else "the water the bag asks for"
    bags = counted(min(pour.bags_per_batch, pour.bags), "bag")
    old = f"{plain(fill.working_time)} minutes" if fill.working_time else "the bag's working time"
    return (
        (
            f"Measure {water} for {bags}. Mark the bucket at both figures.",
            "You see it is right when every batch starts from the same mark.",
        ),
        (
            f"Put {FIRST_WATER} of the water into the running mixer, then {bags}, then the rest little by little.",
            "You see it is right when no dry powder is left at the wall of the drum.",
        ),
        (
            "Press a handful.",
            "You see it is right when it holds its shape and the glove stays without a film of water.",
        ),
        (
            "Strike one box of the tally and write the water of every tenth batch beside it.",
            "You see it is right when the boxes struck are the empty batches of bags.",
        ),
        (
            f"Bring it to the bay at once. What is older than {old} is not placed and not made wet again.",
            "You see it is right when the bay is struck off before the next batch is tipped.",
        ),
        (
            "Switch off and unplug before a hand or a scraper goes into the drum. Wash tools in a tub; let it settle, "
            "take it away.",
            "You see it is right when no wash water has gone into a drain or the garden.",
        ),
    )


def _dry(fill: Fill, pours: Sequence[Pour]) -> dict[str, object]:
    word = pack_word(fill)
    total = sum(p.bags for p in pours)
    volume = f"{plain(fill.bag.makes)} L"
    steps: tuple[tuple[str, str], ...]
    if fill.family == "wool":
        steps = (
            (
                "Open one pack at a time and let the pieces rise.",
                "You see it is right when a piece has its full depth back.",
            ),
            (
                "Cut pieces 5 to 10 larger than the bay, dry and outside the floor.",
                "You see it is right when a piece holds by itself between the rails.",
            ),
            ("Keep every pack dry; what got wet goes out.", "You see it is right when nothing feels heavy or cold."),
        )
    else:
        steps = (
            (
                "Open the bag low, inside the bay, and pour along the wall first.",
                "You see it is right when hardly any dust rises.",
            ),
            (
                "Rake it out from the wall towards the door.",
                f"You see it is right when the fill stands {plain(fill.settles * 100)} % over the rails before rapping."
                if fill.settles
                else "You see it is right when the fill stands just over the rails.",
            ),
            (
                "Strike one box of the tally for each bag.",
                "You see it is right when the boxes struck are the empty bags.",
            ),
            (
                "Keep the bags dry. Grains that got wet go out.",
                "You see it is right when a handful runs through the fingers.",
            ),
        )
    return {
        "figures": [
            (f"{word.capitalize()}s in all", number(total), "", f"{plain(fill.bag.mass)} kg and {volume} each"),
            ("Water", "none", "", "this fill stays dry"),
        ],
        "facts": [(f"day {p.number}, {day(p.date)}", counted(p.bags, word)) for p in pours[:12]],
        "from_bag": "",
        "signed": "Opened by",
        "steps": steps,
        "tally": _tally(total),
        "tally_head": f"Tally: {counted(total, word)}" + _each(total, word, f"{word}s"),
    }


def _each(count: int, one: str, many: str) -> str:
    size = _box_of(count)
    return f", a box is {size} {many}" if size > 1 else f", a box is one {one}"


def _box_of(count: int) -> int:
    return max(1, math.ceil(count / STRIP))


def _tally(count: int) -> list[str]:
    """Numbers of the boxes: one a batch, or the last batch of each box where there are very many."""
    size = _box_of(count)
    return [str(min(i, count)) for i in range(size, count + size, size)]
