"""One table of codes: every code of the program stands in it, is used, and has a case among the tests."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import pytest

from packgen.review.codes import CODES
from packgen.review.say import found

HERE = Path(__file__).parent
REVIEW = HERE.parent.parent / "packgen" / "review"


def literals(file: Path) -> set[str]:
    """Texts in the code of a file, docstrings and f-strings left out."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    return {n.value for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)}


def test_every_code_is_used() -> None:
    used = set().union(*(literals(f) for f in REVIEW.glob("*_checks.py")), literals(REVIEW / "lifted.py"))
    assert set(CODES) - used == set()


def test_every_code_and_kind_has_a_case() -> None:
    cases = tomllib.loads((HERE / "cases.toml").read_text(encoding="utf-8"))["case"]
    tested = {(c["code"], c.get("kind", "stop")) for c in cases}
    on_records = (HERE / "test_on_records.py").read_text(encoding="utf-8")
    tested |= {(c, k) for k, c in re.findall(r'"(stop|caution|note)", "([a-z0-9-]+)"', on_records)}
    wanted = {(c.code, kind) for c in CODES.values() for kind in c.kinds}
    assert wanted - tested == set()


def test_a_stop_names_its_gate_and_what_lifts_it() -> None:
    for code in CODES.values():
        if "stop" in code.kinds:
            assert code.gate, code
            assert code.lift, code
        else:
            assert code.lift is None, code


def test_a_code_comes_only_in_its_kinds_and_a_stop_never_without_cure() -> None:
    with pytest.raises(ValueError, match="does not come as stop"):
        found("stop", "headroom", "low", cures=("kneel",))
    with pytest.raises(ValueError, match="without a cure"):
        found("stop", "trapped", "nobody could leave")
    with pytest.raises(KeyError):
        found("note", "no-such-code", "")
