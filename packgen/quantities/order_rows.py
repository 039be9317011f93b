"""Rows of the order list, each with the arithmetic that made it."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.figures import half_up, plain, round_up
from packgen.core.worked import COUNTED, ON_PLAN, Assumed, Given, Worked
from packgen.project.given import given
from packgen.project.work_model import BoardOnTop
from packgen.quantities.model import OrderLine
from packgen.trade.amounts import Weighed, amount, amount_rule, assumed_amount


class Rows:
    """Collects lines with the arithmetic that made them."""

    def __init__(self) -> None:
        self.lines: list[OrderLine] = []
        self.worked: list[Worked] = []
        self.assumed: dict[str, Assumed] = {}
        self.further: list[Worked] = []

    def spare(self, rule: str, used_for: str) -> str:
        """Notes the rule as assumed; its share in words."""
        self.assumed.setdefault(rule, assumed_amount(rule, used_for))
        return f"{plain(amount(rule) * 100, 1)} %"

    def count(
        self,
        group: str,
        item: str,
        rule: str,
        net: float,
        mass: float | None,
        for_: str,
        unit: str = "pieces",
        price: float | None = None,
    ) -> None:
        """A number of pieces, spare added and rounded up; `price` is that of one."""
        key = f"order/{item}"
        total = round_up(net * (1 + amount(rule)))
        numbers = f"ceil({plain(net)} x (1 + {plain(amount(rule), 4)}))"
        formula, source = "number x (1 + spare), rounded up", amount_rule(rule).source
        figures = (Given(f"{item}: counted", net, unit, COUNTED), rule_given(rule))
        self.worked.append(Worked(key, item, formula, numbers, total, 0, unit, source, (), figures))
        spare = self.spare(rule, "order list")
        self.lines.append(OrderLine(group, item, total, 0, unit, spare, mass, for_, unit_price=price, key=key))

    def measured(self, group: str, item: str, rule: str, net: float, unit: str, for_: str) -> float:
        """A length or an area, spare added and rounded up to one decimal."""
        key = f"order/{item}"
        total = round_up(net * (1 + amount(rule)), 1)
        numbers = f"ceil({plain(net, 2)} x (1 + {plain(amount(rule), 4)}) x 10) / 10"
        what = "area" if unit == "m²" else "length"
        formula = f"{what} x (1 + spare), rounded up to 0.1"
        figures = (Given(f"{what} of what it covers", half_up(net, 2), unit, ON_PLAN), rule_given(rule))
        source = amount_rule(rule).source
        self.worked.append(Worked(key, item, formula, numbers, total, 1, unit, source, (), figures))
        self.lines.append(OrderLine(group, item, total, 1, unit, self.spare(rule, "order list"), None, for_, key=key))
        return total

    def board_mass(self, key: str, item: str, total: float, board: Board) -> float:
        """Mass of the boards bought, to whole kg."""
        thickness, density = board.file.thickness, board.found
        mass = half_up(total * (thickness / 1000 * density.kg_m3), 0)
        numbers = f"{plain(total, 2)} x {plain(thickness)} / 1000 x {plain(density.kg_m3)}"
        figures = (
            given(board.file, "thickness", f"thickness of {item}", thickness),
            Given(f"density of {density.word}", half_up(density.kg_m3, 3), "kg/m³", density.source),
        )
        formula = "area bought x thickness / 1000 x density"
        self.further.append(
            Worked(f"{key}/mass", f"mass of {item}", formula, numbers, mass, 0, "kg", density.source, (key,), figures)
        )
        return mass


@dataclass(frozen=True, slots=True)
class Board:
    file: BoardOnTop
    found: Weighed


def rule_given(rule: str) -> Given:
    """An addition or an assumed amount as a figure with its source."""
    found = amount_rule(rule)
    return Given(found.says, found.value, found.unit, found.source)
