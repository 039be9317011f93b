"""Bad project files: every edit in tests/cases is told as listed there, where it stands, and nothing else is told."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from packgen.project.codes import CODES
from packgen.project.read import ReadResult, read_project
from packgen.project.show import show_fault
from packgen.project.starter import starter

TOP = Path(__file__).parents[2]
CASES = TOP / "tests" / "cases"
PROJECTS = TOP / "projects"
ELSEWHERE = {"not-understood", "not-yaml"}  # never wanted; of another kind of file

AS: dict[str, Callable[[str], bytes]] = {
    "": lambda t: t.encode(),
    "bom": lambda t: b"\xef\xbb\xbf" + t.encode(),
    "utf-16": lambda t: t.encode("utf-16"),
    "utf-16-le": lambda t: t.encode("utf-16-le"),
    "utf-16 less one byte": lambda t: t.encode("utf-16")[:-1],
    "utf-32": lambda t: t.encode("utf-32"),
    "cp1252": lambda t: t.encode("cp1252"),
    "crlf": lambda t: t.replace("\n", "\r\n").encode(),
    "cr": lambda t: t.replace("\n", "\r").encode(),
    "no last line end": lambda t: t.rstrip("\n").encode(),
    "trailing blanks": lambda t: t.replace("\n", "  \n").encode(),
    "no-break spaces": lambda t: t.replace(": ", ":\u00a0").replace("\n  ", "\n\u00a0\u00a0").encode(),
    "tabs": lambda t: t.replace("\n  ", "\n\t").encode(),
    "png": lambda t: b"\x89" + t.encode(),
    "50 MB": lambda t: t.encode() * 10_000_000,
    "longest line": lambda t: t.encode() + b"x" * 20_000,
    "many keys": lambda t: t.encode() + b"".join(b"  k%d: v\n" % i for i in range(50_000)),
    "many brackets": lambda t: t.encode() + b"[" * 5000,
    "deep blocks": lambda _: b"project:\n" + b"\n".join(b" " * i + b"a:" for i in range(1, 300)),
    "directive": lambda t: b"%YAML 1.2\n---\n" + t.encode(),
    "one document": lambda t: b"---\n" + t.encode() + b"...\n",
    "twice": lambda t: t.encode() * 2,
    "letters in readings": lambda t: re.sub(r"(?<= 1[34])(\d)(?=\d)", "O", t).encode(),
}


def load(path: Path) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = tomllib.loads(path.read_text(encoding="utf-8"))["case"]
    return found


EDITS = [(p.stem, n, c) for p in sorted(CASES.glob("*.toml")) if p.stem != "files" for n, c in enumerate(load(p), 1)]
FILES = load(CASES / "files.toml")


def told(read: ReadResult) -> list[str]:
    return [f"{f.place} {f.code}" for f in read.faults]


def edited(case: dict[str, Any]) -> bytes:
    base = case["base"]
    text = (
        starter(base)
        if base == "starter"
        else _without_book()
        if base == "book"
        else (PROJECTS / f"{base}.yaml").read_text(encoding="utf-8")
    )
    assert case["was"] in text, "the edit does not fit the project file any more"
    return text.replace(case["was"], case["typed"], 1).encode("utf-8", "surrogatepass")


def _without_book() -> str:
    """The extension with its level book in a file beside it."""
    text = (PROJECTS / "02-extension-heated.yaml").read_text(encoding="utf-8")
    start, end = text.index("  setups:\n    - name: S1"), text.index("\ncrew:")
    return f"{text[:start]}  readings file: levels.csv\n{text[end:]}"


@pytest.mark.parametrize(("name", "number", "case"), EDITS, ids=[f"{p}-{n}" for p, n, _ in EDITS])
def test_edit_is_told(name: str, number: int, case: dict[str, Any]) -> None:
    lying = case.get("beside", {})
    read = read_project(
        edited(case), "case.yaml", lambda name: lying[name].encode() if name in lying else "is not there"
    )
    shown = [show_fault(f, "case.yaml", read.lines) for f in read.faults]
    assert told(read) == case["faults"], "\n".join(shown)
    assert (read.project is None) == bool(case["faults"])
    for word in case.get("says", ()):
        assert word.lower() in shown[0].lower(), shown[0]
    if read.faults:
        assert read.faults[0].guess == case.get("guess"), shown[0]


@pytest.mark.parametrize("case", FILES, ids=[c["about"] for c in FILES])
def test_file_is_told(case: dict[str, Any]) -> None:
    text = case["text"] if "text" in case else (PROJECTS / f"{case['base']}.yaml").read_text(encoding="utf-8")
    read = read_project(AS[case.get("as", "")](text), "case.yaml")
    if "codes" in case:
        assert {f.code for f in read.faults} == set(case["codes"])
        return
    assert told(read) == case["faults"]
    for word in case.get("says", ()):
        assert word in read.faults[0].says


def test_every_code_has_a_case() -> None:
    told_of = {f.rsplit(" ", 1)[1] for _, _, c in EDITS for f in c["faults"]}
    told_of |= {f.split(" ", 1)[1] for c in FILES for f in c.get("faults", ())}
    told_of |= {code for c in FILES for code in c.get("codes", ())}
    assert told_of == set(CODES) - ELSEWHERE


def test_every_code_of_the_source_is_in_the_table() -> None:
    """Codes are the words with hyphens that stand as an argument where a fault is made."""
    makers = {"Fault", "fault", "fault_at", "_refuse", "_end", "NotUnderstood"}
    found: set[str] = set()
    for path in [*(TOP / "packgen" / "project").glob("*.py"), TOP / "packgen" / "core" / "lengths.py"]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Call)
                and (getattr(node.func, "id", "") or getattr(node.func, "attr", "")) in makers
            ):
                constants = [a for arg in node.args for a in ast.walk(arg) if isinstance(a, ast.Constant)]
                words = [c.value for c in constants if isinstance(c.value, str)]
                found |= {w for w in words if re.fullmatch(r"[a-z]+(-[a-z0-9]+)+", w)}
    assert found - set(CODES) == set()
