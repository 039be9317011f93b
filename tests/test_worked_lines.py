"""Every printed line of arithmetic is worked again, by another road than the program's."""

from __future__ import annotations

import ast
import math
import operator
from collections import Counter
from collections.abc import Callable

import pytest

from packgen.core.figures import half_up
from packgen.explain.lines import Lines
from packgen.plan import Plan

OPS: dict[type, Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
CALLS: dict[str, Callable[..., float]] = {
    "ceil": lambda v: float(math.ceil(round(v, 9))),
    "floor": lambda v: float(math.floor(round(v, 9))),
    "max": max,
    "min": min,
    "sqrt": math.sqrt,
}


def calculate(text: str) -> float:
    """What a person with a pocket calculator gets from the numbers as printed."""
    plain = text.replace("×", "*").replace("÷", "/").replace("−", "-").replace("\u202f", "").replace(" x ", " * ")
    return _value(ast.parse(plain.strip(), mode="eval").body)


def _value(node: ast.expr) -> float:
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        return float(node.value)
    if isinstance(node, ast.BinOp):
        return OPS[type(node.op)](_value(node.left), _value(node.right))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_value(node.operand)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return CALLS[node.func.id](*(_value(a) for a in node.args))
    raise ValueError(ast.unparse(node))


def test_each_printed_line_gives_its_result(plan: Plan) -> None:
    wrong = []
    for line in plan.worked:
        try:
            got = calculate(line.numbers)
        except (ValueError, SyntaxError, KeyError) as fault:
            wrong.append(f"{line.key}: cannot be worked: {line.numbers!r} ({fault})")
            continue
        if abs(half_up(got, line.digits) - half_up(line.value, line.digits)) > 1e-9:
            wrong.append(f"{line.key}: {line.numbers} gives {got:.6g}, printed {line.value} ({line.digits} decimals)")
    assert not wrong, f"{len(wrong)} of {len(plan.worked)}:\n" + "\n".join(wrong[:20])


def test_each_line_has_its_own_key_and_what_it_needs_exists(plan: Plan) -> None:
    """What a line needs is printed, or made when `packgen explain` asks for it."""
    lines = (*plan.worked, *plan.further)
    keys = Counter(line.key for line in lines)
    assert [k for k, n in keys.items() if n > 1] == []
    known = Lines(plan)
    assert not [n for line in lines for n in line.needs if known.find(n) is None]


@pytest.mark.parametrize(("text", "value"), [("1405 + 18", 1423), ("ceil(672 / 12.5)", 54), ("(2 + 3) x 4", 20)])
def test_the_calculator_itself(text: str, value: float) -> None:
    assert calculate(text) == value
