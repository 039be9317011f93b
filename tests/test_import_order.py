"""A room imports only the rooms above it, and each outside library comes in by its one door."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

TOP = Path(__file__).parent.parent / "packgen"
ORDER = (
    "core",
    "trade",
    "project",
    "survey",
    "layout",
    "heights",
    "quantities",
    "sequence",
    "purchase",
    "review",
    "plan",
    "explain",
    "record",
    "exercise",
    "booklet",
    "generate",
    "school",
    "fieldwork",
    "cli",
    "__main__",
)
DOORS = {
    "shapely": ("core/",),
    "scipy": ("layout/patterns.py",),
    "yaml": ("project/",),
    "pydantic": ("project/",),
    "matplotlib": ("booklet/",),
    "jinja2": ("booklet/",),
    "markupsafe": ("booklet/",),
    "weasyprint": ("booklet/pdf.py",),
    "pydyf": ("booklet/pdf.py",),
}
HEAVY = ("scipy", "matplotlib", "weasyprint", "jinja2", "pydyf")
RUN = ("generate", "cli")
OF_ONE_COMMAND = ("packgen.booklet.", "packgen.exercise.", "packgen.school", "packgen.fieldwork", "packgen.explain")


def imports(file: Path) -> Iterator[tuple[int, str, bool]]:
    """Line, module and whether the import stands inside a function, of each import of a file."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    inner = {
        id(node)
        for made in ast.walk(tree)
        if isinstance(made, (ast.FunctionDef, ast.AsyncFunctionDef))
        for node in ast.walk(made)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, a.name, id(node) in inner) for a in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.lineno, "." * node.level + (node.module or ""), id(node) in inner


def room(file: Path) -> str:
    part = file.relative_to(TOP).parts[0]
    return part.removesuffix(".py")


def test_rooms_import_only_what_stands_above_them() -> None:
    wrong = []
    for file in sorted(TOP.rglob("*.py")):
        here = room(file)
        if here == "__init__":
            continue
        for line, module, _ in imports(file):
            if module.startswith("."):
                wrong.append(f"{file.relative_to(TOP)}:{line}: relative import")
            if module.startswith("packgen."):
                there = module.split(".")[1]
                if ORDER.index(there) > ORDER.index(here):
                    wrong.append(f"{file.relative_to(TOP)}:{line}: {here} may not import {there}")
    assert not wrong, "\n".join(wrong)


def test_each_library_comes_in_by_its_door() -> None:
    wrong = []
    for file in sorted(TOP.rglob("*.py")):
        name = file.relative_to(TOP).as_posix()
        for line, module, _ in imports(file):
            doors = DOORS.get(module.split(".")[0])
            if doors and not name.startswith(doors):
                wrong.append(f"packgen/{name}:{line}: {module} belongs in {doors}")
    assert not wrong, "\n".join(wrong)


def test_only_heavy_renderers_are_imported_inside_functions() -> None:
    """`check` must not wait for a renderer or another command; any other import stands at the head of its file."""
    wrong = []
    for file in sorted(TOP.rglob("*.py")):
        for line, module, inside in imports(file):
            heavy = module.split(".")[0] in HEAVY or (room(file) in RUN and module.startswith(OF_ONE_COMMAND))
            if inside and not heavy:
                wrong.append(f"{file.relative_to(TOP)}:{line}: {module} imported inside a function")
            if heavy and not inside and module.split(".")[0] in ("matplotlib", "weasyprint", "pydyf"):
                wrong.append(f"{file.relative_to(TOP)}:{line}: {module} imported at the head of a file")
    assert not wrong, "\n".join(wrong)


def test_no_code_in_package_heads_and_no_utils() -> None:
    for file in TOP.rglob("__init__.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        assert all(isinstance(n, (ast.Expr, ast.Assign)) for n in tree.body), file
    assert not list(TOP.rglob("util*.py"))
