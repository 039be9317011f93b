"""Packs of the demo projects: as HTML once a session, as files where a test asks for them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from packgen.booklet.make import make_pack, write_pack_files
from packgen.booklet.pack import Pack
from packgen.booklet.pdf import weasyprint_or_why
from packgen.generate import plan_file

PROJECTS = Path(__file__).parent.parent.parent / "projects"
SCENARIOS = (
    "01-attic-studio",
    "02-extension-heated",
    "05-terrace-with-falls",
    "07-school-exercise-bay",
    "08-skew-old-house-room",
)


@cache
def packed(name: str) -> Pack:
    plan = plan_file(PROJECTS / f"{name}.yaml").plan
    assert plan is not None
    return make_pack(plan, "site")


@pytest.fixture(scope="session", params=SCENARIOS)
def pack(request: pytest.FixtureRequest) -> Pack:
    """The pack of each of the five projects in turn."""
    return packed(request.param)


@pytest.fixture(scope="session")
def extension() -> Pack:
    """The pack of the heated extension."""
    return packed("02-extension-heated")


@pytest.fixture(scope="session")
def written(pack: Pack, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of each of the five packs, PDF included."""
    if weasyprint_or_why()[0] is None:
        pytest.skip(str(weasyprint_or_why()[1]))
    folder = tmp_path_factory.mktemp("packs") / pack.facts.reference
    write_pack_files(pack, folder)
    return folder
