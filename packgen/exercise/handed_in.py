"""Answers as they are handed in, CSV or YAML text, to rows: one an answer."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from packgen.exercise.mark_model import AnswerRow
from packgen.project.plain_file import plain_tree
from packgen.project.tree import Listing, Mapping, Node, Scalar

HEADS = {
    **dict.fromkeys(("pupil", "pupil no", "pupil number", "group", "version", "no"), "pupil"),
    **dict.fromkeys(("question", "blank", "q", "question no", "question number"), "question"),
    **dict.fromkeys(("answer", "value", "answered"), "answer"),
    **dict.fromkeys(("working", "working shown", "method"), "working"),
    **dict.fromkeys(("tidy", "unit", "units", "units and tidiness"), "tidy"),
}
PUPIL = re.compile(r"(?:pupil|group|version|no|nr|p|#)?[ .:]*(?:no|nr)?[ .:]*([0-9]{1,6})")
YES, NO = ("yes", "y", "true", "1", "x", "shown"), ("no", "n", "false", "0", "none", "missing")


def decoded(data: bytes) -> str:
    """Text of a file as spreadsheets save it: UTF-8, UTF-16 with its mark, or the old Western code page."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


class AnswersFault(ValueError):
    """Answers that cannot be read. `str()` is one sentence with the line."""


def read_answers(text: str, yaml: bool) -> tuple[AnswerRow, ...]:
    """Rows of a file of answers.

    CSV: a head row with pupil, question, answer, and if wanted working and tidy (yes or no). Comma, semicolon or tab.
    YAML: pupils by number, each with its questions: `{7: {12: 103 below, 13: 49}}`, also under a key `answers`; an
    answer may be `{answer: 103 below, working: no}`.
    AnswersFault where that is not so.
    """
    rows = tuple(_from_yaml(text) if yaml else _from_csv(text))
    if not rows:
        raise AnswersFault("no answers stand in this file")
    return rows


def _from_csv(text: str) -> Iterator[AnswerRow]:
    plain = text.lstrip("\ufeff")
    first = next((line for line in plain.splitlines() if line.strip() and not line.startswith("#")), "")
    sign = max(",;\t", key=first.count)
    rows = csv.reader(io.StringIO(plain, newline=""), delimiter=sign)
    heads: list[str] | None = None
    for cells in rows:
        cells = [c.strip() for c in cells]
        if not any(cells) or cells[0].startswith("#"):
            continue
        if heads is None:
            heads = [HEADS.get(" ".join(c.casefold().replace(".", "").split()), "") for c in cells]
            missing = [h for h in ("pupil", "question", "answer") if h not in heads]
            if missing:
                raise AnswersFault(f"line {rows.line_num}: the head row lacks {' and '.join(missing)}")
            continue
        found = {h: c for h, c in zip(heads, cells, strict=False) if h}
        yield AnswerRow(
            _pupil(found.get("pupil", ""), rows.line_num),
            found.get("question", ""),
            found.get("answer", ""),
            _yes(found.get("working", "")),
            _yes(found.get("tidy", "")),
            rows.line_num,
        )


def _pupil(text: str, line: int) -> int:
    found = PUPIL.fullmatch(" ".join(text.casefold().split()))
    if found is None:
        raise AnswersFault(f"line {line}: '{text}' is not a pupil's number")
    return int(found[1])


def _yes(text: str) -> bool | None:
    plain = text.casefold()
    return True if plain in YES else False if plain in NO else None


def _from_yaml(text: str) -> Iterator[AnswerRow]:
    tree, faults = plain_tree(text)
    if faults:
        raise AnswersFault(f"line {faults[0].place.line}: {faults[0].says}")
    if isinstance(tree, Mapping) and isinstance(inner := tree.get("answers"), Mapping):
        tree = inner
    if isinstance(tree, Listing):
        yield from (_listed(item) for item in tree.items)
        return
    if not isinstance(tree, Mapping):
        raise AnswersFault("line 1: pupils by number are wanted, each with its questions")
    for name, answers in tree.entries:
        number = _pupil(str(name), name.place.line)
        if not isinstance(answers, Mapping):
            raise AnswersFault(f"line {name.place.line}: pupil {number} has no questions")
        for question, answer in answers.entries:
            found = _by_head(answer) if isinstance(answer, Mapping) else {"answer": _text(answer)}
            yield AnswerRow(
                number,
                str(question),
                found.get("answer", ""),
                _yes(found.get("working", "")),
                _yes(found.get("tidy", "")),
                question.place.line,
            )


def _listed(item: Node) -> AnswerRow:
    if not isinstance(item, Mapping):
        raise AnswersFault(f"line {item.place.line}: an answer is {{pupil: 7, question: 12, answer: 103 below}}")
    found = _by_head(item)
    return AnswerRow(
        _pupil(found.get("pupil", ""), item.place.line),
        found.get("question", ""),
        found.get("answer", ""),
        _yes(found.get("working", "")),
        _yes(found.get("tidy", "")),
        item.place.line,
    )


def _by_head(item: Mapping) -> dict[str, str]:
    return {HEADS.get(str(k).casefold(), ""): _text(v) for k, v in item.entries}


def _text(node: Node) -> str:
    return str(node) if isinstance(node, Scalar) else ""
