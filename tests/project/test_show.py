"""How faults and findings are shown: the user's own line, a caret under the place, nothing that steers a terminal."""

from __future__ import annotations

import datetime

from packgen.core.finding import Fault, Finding, LiftedBy
from packgen.core.place import Place
from packgen.project.show import show_fault, show_finding

LINES = ("kit:", "  rail: {width: 35, height: 2O}", "  name: \u202eabc\x1b[31m")


def test_the_caret_stands_under_the_place() -> None:
    shown = show_fault(
        Fault(Place(2, 29), "letter-in-number", "height: '2O' has the letter 'O' in it", "20"), "a.yaml", LINES
    )
    first, line, caret, guess = shown.split("\n")
    assert first == "a.yaml:2:29: height: '2O' has the letter 'O' in it"
    assert line[caret.index("^") :].startswith("2O")
    assert guess.strip() == "did you mean '20'?"


def test_characters_that_steer_a_terminal_are_written_out() -> None:
    shown = show_fault(Fault(Place(3, 10), "empty", "a\x07b"), "x\x1b.yaml", LINES)
    assert not set(shown) & {"\u202e", "\x1b", "\x07"}
    assert "\\u202eabc\\x1b[31m" in shown
    line, caret = shown.split("\n")[1:3]
    assert line[caret.index("^") :].startswith("abc")


def test_a_wide_letter_takes_two_columns() -> None:
    line, caret = show_fault(Fault(Place(1, 4), "empty", "x"), "a", ("床の b",)).split("\n")[1:3]
    assert len(caret) - len(caret.lstrip()) == 4 + 5  # indent, two wide letters, a blank
    assert line.endswith("床の b")


def test_a_long_line_is_cut_round_the_place() -> None:
    line = "x" * 5000 + "HERE" + "y" * 5000
    shown = show_fault(Fault(Place(1, 5001), "line-too-long", "long"), "a", (line,))
    text, caret = shown.split("\n")[1:3]
    assert len(text) < 130
    assert text[caret.index("^") :].startswith("HERE")


def test_an_indent_fault_shows_the_line_above() -> None:
    shown = show_fault(Fault(Place(2, 3), "indent", "starts too far in"), "a", ("kit:", "   rail: x"))
    assert shown.split("\n")[1:3] == ["    kit:", "       rail: x"]


def test_a_place_outside_the_file_shows_no_line() -> None:
    assert show_fault(Fault(Place(9, 1), "x", "says"), "a", LINES) == "a:9:1: says"


def test_a_finding_says_its_kind_gate_code_and_cures() -> None:
    finding = Finding(
        "stop",
        "engineer-open",
        "Nobody has said that the joists carry it.",
        gate="order",
        lift="paper",
        cures=("ask an engineer",),
        place=Place(1, 1),
        lifted_by=LiftedBy("A. N. Other", datetime.date(2027, 1, 18), "L-17"),
    )
    shown = show_finding(finding, "a.yaml", LINES)
    assert shown.split("\n") == [
        "a.yaml:1:1: stop before order [engineer-open]: Nobody has said that the joists carry it.",
        "    kit:",
        "    ^",
        "    do: ask an engineer",
        "    lifted by A. N. Other on 2027-01-18: L-17",
    ]


def test_a_finding_without_a_place_has_no_line() -> None:
    shown = show_finding(Finding("caution", "lifting", "Heavy bags."), "a.yaml", LINES)
    assert shown == "a.yaml: caution [lifting]: Heavy bags."
