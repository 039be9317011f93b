"""Makes a blank with the weight and tolerance of its kind."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from packgen.exercise.model import Answers, Blank, Goal, Slip, Tolerance, Way, Writing
from packgen.trade.classroom import kind_rules

GOALS: dict[str, Goal] = {
    **dict.fromkeys(("rise or fall", "height of collimation", "misclosure", "correction", "level"), "G1"),
    "rail top": "G2",
    "target reading": "G3",
    **dict.fromkeys(("leg", "parts", "rail length"), "G4"),
    "hold": "G6",
}
GOAL_WORDS: dict[Goal, str] = {
    "G1": "level book: reduce readings, find and share out the misclosure",
    "G2": "heights: take a build-up off a finished level, and say above or below",
    "G3": "setting out: turn a level into today's target reading",
    "G4": "parts: choose leg, extension or packing, and see what cannot fit",
    "G5": "quantities: mean depth, litres, bags, water, rounded once a pour",
    "G6": "judgement: find the hold and say what lifts it",
    "G7": "honesty: read without knowing the target, and report the difference",
}


def make(
    id: str,
    kind: str,
    asks: str,
    rule: str,
    unit: str,
    work: Callable[[Answers], Way],
    *,
    needs: Sequence[str] = (),
    slips: Sequence[Slip] = (),
    writing: Writing = "number",
    digits: int = 0,
    choices: Sequence[str] = (),
) -> Blank:
    """A blank without its number yet. KeyError for a kind that classroom.toml lacks."""
    r = kind_rules()[kind]
    return Blank(
        number=0,
        id=id,
        kind=kind,
        goal=GOALS.get(kind, "G5"),
        asks=asks,
        rule=rule,
        unit=unit,
        digits=digits,
        writing=writing,
        tolerance=Tolerance(r.tolerance, r.relative),
        steps=r.steps,
        needs=tuple(needs),
        work=work,
        slips=tuple(slips),
        choices=tuple(choices),
    )


def slip(code: str, work: Callable[..., Way | None], *given: Any, near: bool = False, **more: Any) -> Slip:
    """A mistake whose way is `work` with what is given beforehand; the pupil's answers come last."""
    return Slip(code, partial(work, *given, **more), near)
