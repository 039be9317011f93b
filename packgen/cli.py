"""The commands. The only place that prints. What only one command needs is imported when that command is asked for.

Exit codes: 0 built, nothing held; 1 built, with a standing stop; 2 the file was refused and nothing was written;
3 wrong usage; 4 something is missing on the machine (the rest was written).
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Literal, NoReturn

from packgen import __version__
from packgen.core.finding import GATES, gate_holds
from packgen.generate import Outcome, build_file, plan_file, wants_class
from packgen.project.read import BegunResult, ReadResult
from packgen.project.schema import json_schema
from packgen.project.show import show_fault, show_finding, visible
from packgen.project.starter import starter

BUILT, HELD, REFUSED, USAGE, MISSING = 0, 1, 2, 3, 4


class Usage(argparse.ArgumentParser):
    """argparse with this program's exit code for wrong usage."""

    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        self.exit(USAGE, f"{self.prog}: {message}\n")


def commands() -> argparse.ArgumentParser:
    top = Usage(
        prog="packgen",
        description="From a measured room to a printable work pack for a level floor on an adjustable-leg grid.",
        epilog="Exit codes: 0 built; 1 built with a standing stop; 2 file refused; 3 wrong usage; "
        "4 something missing on this machine.",
    )
    top.add_argument("--version", action="version", version=f"packgen {__version__}")
    todo = top.add_subparsers(dest="command", required=True, metavar="COMMAND", parser_class=Usage)
    build = todo.add_parser("build", help="plan a project file and write its pack (HTML, PDF, plan.json, CSV)")
    build.add_argument("file", type=Path, metavar="FILE")
    build.add_argument(
        "--edition",
        choices=("site", "client", "class", "all"),
        help="default: the site pack, and beside it what the file's reader needs: method statement or class set",
    )
    build.add_argument("--out", type=Path, default=Path("build"), metavar="DIR", help="default: build")
    for name, text in (
        ("check", "print the findings only; nothing is written"),
        ("plan", "print plan.json; nothing is written"),
    ):
        todo.add_parser(name, help=text).add_argument("file", type=Path, metavar="FILE")
    why = todo.add_parser(
        "explain", help="print where a number comes from, down to the reading or the line of the file"
    )
    why.add_argument("file", type=Path, metavar="FILE")
    why.add_argument(
        "words", nargs="*", metavar="WHAT", help='such as: node C4, bay CD-34, pour 1, date "walk on pour 1", a finding'
    )
    school = todo.add_parser("class", help="make a class set: pupils' sheets, the teacher's book, the key for marking")
    school.add_argument("file", type=Path, metavar="FILE")
    school.add_argument("--pupils", type=int, metavar="N", help="default: the versions the file asks for")
    school.add_argument("--level", type=int, choices=(1, 2, 3), default=2, help="how much is given: 1 most, 3 least")
    school.add_argument("--out", type=Path, default=Path("build"), metavar="DIR", help="default: build")
    marks = todo.add_parser("mark", help="mark a file of answers (CSV or YAML) against a class set")
    marks.add_argument("answers", type=Path, metavar="ANSWERS")
    marks.add_argument(
        "--set",
        type=Path,
        dest="folder",
        metavar="FOLDER",
        help="the set's folder; default: the one that ANSWERS stands in, or the only one in build",
    )
    survey = todo.add_parser("survey-sheet", help="print sheets to measure a room on; with a file those of its rooms")
    survey.add_argument("file", type=Path, nargs="?", metavar="FILE", help="a project file; its rooms are enough")
    survey.add_argument("--paper", choices=("a4", "letter"), default="a4", help="default: a4")
    survey.add_argument("--out", type=Path, default=Path("build"), metavar="DIR", help="default: build")
    new = todo.add_parser("new", help="write a commented starter file that builds as it is")
    new.add_argument("name", metavar="NAME", help="a name, or a path ending in .yaml")
    todo.add_parser("schema", help="print the JSON Schema of the project file, for editors")
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit code."""
    asked = commands().parse_args(argv)
    try:
        match asked.command:
            case "build":
                return build(asked.file, asked.out, asked.edition)
            case "check":
                return check(asked.file)
            case "plan":
                return plan(asked.file)
            case "explain":
                return explain_number(asked.file, asked.words)
            case "class":
                return make_class(asked.file, asked.pupils, asked.level, asked.out)
            case "mark":
                return mark_answers(asked.answers, asked.folder)
            case "survey-sheet":
                return survey_sheet(asked.file, asked.paper, asked.out)
            case "new":
                return new(asked.name)
            case _:
                print(json.dumps(json_schema(), indent=2, ensure_ascii=False))
                return BUILT
    except BrokenPipeError:
        return BUILT
    except OSError as fault:
        name = fault.filename or getattr(asked, "file", None) or getattr(asked, "name", "")
        return _say(f"packgen: {name}: {(fault.strerror or str(fault)).lower()}", USAGE)


def build(file: Path, out: Path, edition: str | None) -> int:
    if edition == "class" and plan_file(file).plan is not None:
        return BUILT if class_too(file, out, edition) else REFUSED
    outcome = build_file(file, out, edition)
    if outcome.plan is None or outcome.written is None:
        return refused(outcome, file)
    for f in outcome.plan.findings:
        if f.kind != "note":
            print(show_finding(f, file.name, outcome.lines))
    print(summary(outcome))
    for path in outcome.written.paths:
        print(f"wrote {path}")
    if wants_class(edition, outcome.plan.project.project.reader):
        class_too(file, out, edition)
    if outcome.written.no_pdf:
        return _say(f"packgen: {outcome.written.no_pdf}", MISSING)
    return HELD if outcome.held else BUILT


def class_too(file: Path, out: Path, edition: str | None) -> bool:
    """The class set, or one line that says why it was left out."""
    from packgen.school import class_beside

    made = class_beside(file, out, asked=edition != "all")
    if isinstance(made, str):
        print(f"left out: the class set ({made})")
        return False
    for line in (*made.says, *(f"wrote {path}" for path in made.paths)):
        print(line)
    return True


def check(file: Path) -> int:
    outcome = plan_file(file)
    if outcome.plan is None:
        return refused(outcome, file)
    for f in outcome.plan.findings:
        print(show_finding(f, file.name, outcome.lines))
    print(summary(outcome))
    return HELD if outcome.held else BUILT


def plan(file: Path) -> int:
    outcome = plan_file(file)
    if outcome.plan is None:
        return refused(outcome, file)
    from packgen.booklet.plan_json import plan_as_data

    print(json.dumps(plan_as_data(outcome.plan), indent=1, ensure_ascii=False))
    return HELD if outcome.held else BUILT


def explain_number(file: Path, words: Sequence[str]) -> int:
    outcome = plan_file(file)
    if outcome.plan is None:
        return refused(outcome, file)
    from packgen.explain.answer import explain

    answer = explain(outcome.plan, str(file), outcome.lines, words)
    shown = "\n".join(visible(row) for row in answer.text.split("\n"))
    if not answer.known:
        return _say(f"packgen: {shown}", USAGE)
    print(shown)
    return HELD if outcome.held else BUILT


def make_class(file: Path, pupils: int | None, level: int, out: Path) -> int:
    from packgen.exercise.model import NotPossible
    from packgen.school import class_file

    try:
        read, written = class_file(file, pupils, level, out)
    except NotPossible as why:
        return _say(f"packgen: {file.name}: {why}", REFUSED)
    if written is None:
        return refused(read, file)
    for line in (*written.says, *(f"wrote {path}" for path in written.paths)):
        print(line)
    return _say(f"packgen: {written.no_pdf}", MISSING) if written.no_pdf else BUILT


def mark_answers(answers: Path, folder: Path | None) -> int:
    from packgen.exercise.handed_in import AnswersFault
    from packgen.exercise.key import KeyFault
    from packgen.school import mark_file

    try:
        marked = mark_file(answers, folder, Path("build"))
    except (AnswersFault, KeyFault, UnicodeDecodeError) as why:
        return _say(f"packgen: {answers.name}: {why}", REFUSED)
    for line in (*marked.says, *(f"wrote {path}" for path in marked.paths)):
        print(line)
    return _say(f"packgen: {marked.no_pdf}", MISSING) if marked.no_pdf else BUILT


def survey_sheet(file: Path | None, paper: Literal["a4", "letter"], out: Path) -> int:
    from packgen.fieldwork import survey_sheets

    read, written = survey_sheets(file, paper, out)
    if written is None:
        return refused(read, file) if read is not None and file is not None else REFUSED
    for path in written.paths:
        print(f"wrote {path}")
    return _say(f"packgen: {written.no_pdf}", MISSING) if written.no_pdf else BUILT


def new(name: str) -> int:
    path = Path(name if name.endswith((".yaml", ".yml")) else f"{name}.yaml")
    if path.exists():
        return _say(f"packgen: {path} is there already; nothing was written", USAGE)
    path.write_text(starter(path.stem), encoding="utf-8")
    print(f"wrote {path}: now put your own room in, then run: packgen check {path}")
    return BUILT


def refused(outcome: Outcome | ReadResult | BegunResult, file: Path) -> int:
    for fault in outcome.faults:
        print(show_fault(fault, file.name, outcome.lines))
    count = len(outcome.faults)
    print(f"{count} {'fault' if count == 1 else 'faults'} in {file.name}; nothing was written.")
    return REFUSED


def summary(outcome: Outcome) -> str:
    """One line: how many findings of each kind, and which gate is the first that is held."""
    findings = outcome.plan.findings if outcome.plan else ()
    count = {kind: sum(f.kind == kind for f in findings) for kind in ("stop", "caution", "note")}
    lifted = sum(f.kind == "stop" and not f.open_stop for f in findings)
    held = [f"{g} {len(gate_holds(findings, g))}" for g in GATES if gate_holds(findings, g)]
    said = ", ".join(f"{n} {kind}{'' if n == 1 else 's'}" for kind, n in count.items())
    return f"{said}{f', {lifted} of the stops lifted' if lifted else ''}. Gates held: {', '.join(held) or 'none'}."


def _say(text: str, code: int) -> int:
    print(text, file=sys.stderr)
    return code
