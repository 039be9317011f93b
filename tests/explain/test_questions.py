"""What people type, and what they are told."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from packgen.cli import main
from packgen.explain.answer import Answer, explain
from packgen.explain.tell import WIDEST
from packgen.plan import Plan

PROJECTS = Path(__file__).parent.parent.parent / "projects"
PlanOf = Callable[[str], Plan]


def told(plan: Plan, *words: str) -> Answer:
    lines = (PROJECTS / plan.project.file_name).read_text(encoding="utf-8").splitlines()
    return explain(plan, "room.yaml", lines, words)


def test_a_leg_is_told_down_to_the_reading_and_the_line_of_the_file(plan_of: PlanOf) -> None:
    """Attic: C4 was read as 1394 from S1 on line 150; rail top 39 below TBM. The figures are the file's own."""
    text = told(plan_of("01-attic-studio"), "node", "C4").text
    assert text.startswith("Leg at C4: 42 mm. Why?\n   = 81 - 39   (rail top above base)")
    assert "1394 mm   reading on C4 from S1: line 150 of the file" in text
    quoted = text[text.index("The lines of room.yaml") :].splitlines()
    row = next(k for k, line in enumerate(quoted) if "line 150 |" in line)
    assert quoted[row][quoted[row + 1].index("^") :].startswith("1394")


def test_each_line_is_opened_once(plan: Plan) -> None:
    node = plan.layout.nodes[len(plan.layout.nodes) // 2].id
    rows = told(plan, "node", node).text.splitlines()
    opened = [a.strip() for a, b in pairwise(rows) if b.strip().startswith("= ")]
    assert len(opened) == len(set(opened))


def test_a_wide_sum_is_a_table_and_no_row_is_wider_than_a_terminal(plan: Plan) -> None:
    text = told(plan, "pour", "1").text
    table = re.findall(r"^ +\d+ L +litres of bay \S+ +=", text, re.M)
    assert len(table) > 6
    assert len({len(row) for row in table}) < len(table)
    words = [line for line in text.splitlines() if len(line) > WIDEST + 20]
    assert not words


@pytest.mark.parametrize(
    ("words", "first"),
    [
        (("node", "C4"), "Leg at C4"),
        (("Node", "c4"), "Leg at C4"),
        (("C4",), "Leg at C4"),
        (("node/C4/leg",), "Leg at C4"),
        (("node", "C4", "base"), "Base at C4"),
        (("bay", "CD-34"), "Litres of bay CD-34"),
        (("bay", "CD-34", "prism", "1"), "Depth at the middle of prism 1 of bay CD-34"),
        (("pour", "1"), "Litres of pour 1"),
        (("date", "walk on pour 1"), "Walk on pour 1: Fri 16 Apr 2027"),
        (("date", "first walk"), "Walk on pour 1"),
        (("walking on",), "Walk on pour 1"),
        (("test_not_before",), "Test pour 1 not before: Fri 6 Aug 2027"),
        (("date", "cooled"), "Cooled down"),
        (("date", "2027-04-16"), "Walk on pour 1"),
        (("Fri 16 Apr 2027",), "Walk on pour 1"),
        (("little-left",), "Caution little-left"),
        (("finding", "foot-on-pipe", "circuit 2"), "Caution foot-on-pipe, circuit 2"),
        (("money",), "Total: 3682.56 EUR"),
        (("order", "tape for laps"), "Tape for laps"),
        (("price", "grid"), "Price of grid"),
        (("misclosure",), "Misclosure"),
        (("reading", "C3"), "Level of C3"),
        (("zone", "extension"), "Rail top of extension"),
        (("weight",), "Dry weight"),
        (("door",), "Step at kitchen opening"),
        (("pipe", "circuit 1"), "Cover over circuit 1"),
    ],
)
def test_questions_find_what_they_mean(plan_of: PlanOf, words: tuple[str, ...], first: str) -> None:
    answer = told(plan_of("02-extension-heated"), *words)
    assert answer.known, answer.text
    assert answer.text.startswith(first), answer.text.splitlines()[0]


@pytest.mark.parametrize(
    ("words", "guess"),
    [
        (("litte-left",), "finding little-left"),
        (("nod", "C4"), "node C4"),
        (("node", "C44"), "node C4"),
        (("money", "totl"), "money/total"),
        (("bay", "w"), "bay wA-w1"),
        (("bay",), "bay wA-w1"),
    ],
)
def test_what_is_not_known_is_guessed(plan_of: PlanOf, words: tuple[str, ...], guess: str) -> None:
    answer = told(plan_of("02-extension-heated"), *words)
    assert answer.known is False or answer.text.startswith("Leg at C4")
    if not answer.known:
        assert f"packgen explain room.yaml {guess}" in answer.text


def test_without_a_question_it_lists_what_can_be_asked(plan: Plan) -> None:
    answer = told(plan)
    assert answer.known
    for kind in ("node", "bay", "pour", "date", "finding", "reading", "zone", "weight", "money"):
        assert re.search(rf"^   {kind}\b", answer.text, re.M), kind
    for words in re.findall(r"^   packgen explain room\.yaml (.+)$", answer.text, re.M):
        asked = [w.strip('"') for w in re.findall(r'"[^"]+"|\S+', words)]
        assert told(plan, *asked).known, words


def test_every_subject_has_an_answer_without_a_sign_before_a_height(plan: Plan) -> None:
    for kind in ("money", "weight", "levels", "window", "depth", "fill", "delivery", "work"):
        text = told(plan, kind).text
        assert "Why?" in text
        assert not re.search(r"(?<![\w)] )(?<!\d )-\d+ mm", text)


def test_no_answer_is_too_long_to_be_read(plan: Plan) -> None:
    """Money, bags and dates rest on every bay; a chain goes down, and leaves the other bays to their own question."""
    for kind in ("money", "delivery", "room", "work"):
        assert len(told(plan, kind).text.splitlines()) < 200, kind
    for waited in plan.sequence.waiting[-1:]:
        text = told(plan, "date", waited.event).text
        assert "line" in text
        assert len(text.splitlines()) < 150


def test_the_command_answers_and_returns_what_the_other_commands_return(capsys: pytest.CaptureFixture[str]) -> None:
    held, free = str(PROJECTS / "01-attic-studio.yaml"), str(PROJECTS / "07-school-exercise-bay.yaml")
    assert main(["explain", held, "node", "C4"]) == 1
    assert "Why?" in capsys.readouterr().out
    assert main(["explain", free, "node", "B2"]) == 0
    assert main(["explain", free]) == 0
    capsys.readouterr()
    assert main(["explain", free, "no", "such", "thing"]) == 3
    said = capsys.readouterr()
    assert said.out == ""
    assert "nothing is called 'no such thing'" in said.err


def test_a_file_that_is_refused_is_refused_here_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("pack layout: 1\n", encoding="utf-8")
    assert main(["explain", str(bad), "node", "C4"]) == 2
    assert "nothing was written" in capsys.readouterr().out


def test_words_of_a_file_cannot_steer_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (PROJECTS / "07-school-exercise-bay.yaml").read_text(encoding="utf-8")
    assert text.count("linoleum") >= 1
    odd = tmp_path / "odd.yaml"
    odd.write_text(text.replace("linoleum", "lino\u202eleum"), encoding="utf-8")
    main(["explain", str(odd), "node", "B2"])
    said = capsys.readouterr().out
    assert "\u202e" not in said
    assert "lino\\u202eleum" in said
