"""Bytes to lines: what kind of file it is, how it is encoded, and the characters that no project file holds."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, field

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.guess import top_keys

MOST_BYTES = 1_000_000  # readings of a hall of 10 000 m² take some 200 000
LONGEST_LINE = 10_000
TOP = Place(1, 1)

_KINDS = (
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a zipped file (a spreadsheet or a word-processor document, perhaps)"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet or word-processor document"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"{\\rtf", "formatted text (RTF)"),
    (b"\x1f\x8b", "a compressed file"),
)
_BLANKS = re.compile("[\u00a0\u1680\u2000-\u200b\u2028\u2029\u202f\u205f\u3000\ufeff]")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffe\uffff]")
_MARKER = re.compile(r"(---|\.\.\.)(?:\s.*)?")


@dataclass
class Lines:
    """The file's own lines, the lines to parse (same number, same columns), and what was found on the way.

    `over` tells that nothing more can be read.
    """

    own: tuple[str, ...]
    clean: list[str]
    faults: list[Fault] = field(default_factory=list)
    over: bool = False


def _end(code: str, says: str, own: tuple[str, ...] = (), place: Place = TOP) -> Lines:
    return Lines(own, [], [Fault(place, code, says)], True)


def read_lines(data: bytes) -> Lines:
    """The lines of a file, blanks of all sorts made plain."""
    if not data.strip():
        return _end("empty-file", "the file is empty")
    for magic, kind in _KINDS:
        if data.startswith(magic):
            return _end(
                "not-a-text-file", f"this is {kind}, and a project file is plain text: save it as plain text (UTF-8)"
            )
    if len(data) > MOST_BYTES:
        says = (
            f"the file has {len(data) / 1_000_000:.1f} MB, and a project file has less than "
            f"{MOST_BYTES // 1_000_000}: is it the right file?"
        )
        return _end("too-large", says)
    text, fault = _decoded(data)
    if text is None:
        assert fault is not None
        return Lines((), [], [fault], True)
    own = tuple(re.split(r"\r\n|\n|\r", text))
    found = [fault] if fault else []
    control = [(n, m.start()) for n, line in enumerate(own) for m in [_CONTROL.search(line)] if m]
    if sum(len(_CONTROL.findall(line)) for line in own) * 20 > len(text):
        return _end("not-a-text-file", "this is no text file: a project file is plain text, saved as UTF-8", own[:1])
    for n, at in control:
        code = ord(own[n][at])
        name = "a NUL character" if code == 0 else f"an invisible control character (code {code})"
        found.append(
            Fault(Place(n + 1, at + 1), "control-character", f"{name} stands in this line: type the line again")
        )
    if re.match(r"\s*<(?:!doctype|html|\?xml)", own[0], re.IGNORECASE):
        return _end(
            "not-a-text-file",
            "this is a web page or XML, and a project file is plain text with lines 'key: value'",
            own,
        )
    clean = [_BLANKS.sub(" ", _CONTROL.sub(" ", line)) for line in own]
    lines = Lines(own, clean, found)
    _long_lines(lines)
    _tabs(lines)
    _markers(lines)
    _bullets(lines)
    _sections(lines)
    _remarks(lines)
    if all(not line.strip() or line.lstrip().startswith("#") for line in clean) and not lines.faults:
        return _end("empty-file", "the file is empty: it holds only remarks", own)
    return lines


def _decoded(data: bytes) -> tuple[str | None, Fault | None]:
    for mark, name in (
        (codecs.BOM_UTF32_LE, "utf-32"),
        (codecs.BOM_UTF32_BE, "utf-32"),
        (codecs.BOM_UTF16_LE, "utf-16"),
        (codecs.BOM_UTF16_BE, "utf-16"),
    ):
        if data.startswith(mark):
            return _or_fault(data, name)
    half = len(data) // 2
    if half and data[1::2].count(0) * 10 > half * 9:
        return _or_fault(data, "utf-16-le")
    if half and data[0::2].count(0) * 10 > half * 9:
        return _or_fault(data, "utf-16-be")
    try:
        return data.decode("utf-8-sig"), None
    except UnicodeDecodeError as why:
        before = data[: why.start]
        line = before.count(b"\n") + 1
        column = len(before[before.rfind(b"\n") + 1 :].decode("utf-8", "replace")) + 1
        says = "the file is not saved as UTF-8: in your editor choose 'save as' and the encoding UTF-8"
        odd = sum((b < 32 and b not in (9, 10, 13)) or b > 126 for b in data)
        if odd * 4 > len(data):
            return None, Fault(
                TOP, "not-a-text-file", "this is no text file: a project file is plain text, saved as UTF-8"
            )
        return data.decode("cp1252", "replace"), Fault(Place(line, column), "not-utf-8", says)


def _or_fault(data: bytes, name: str) -> tuple[str | None, Fault | None]:
    try:
        return data.decode(name).removeprefix("\ufeff"), None
    except UnicodeDecodeError:
        return None, Fault(
            TOP, "not-utf-8", f"the file begins like {name.upper()} and goes on otherwise: save it as UTF-8"
        )


def _long_lines(lines: Lines) -> None:
    for n, line in enumerate(lines.clean):
        if len(line) > LONGEST_LINE and not re.match(r"\s*[^#:]*:\s*[\[{]{3}", line):
            says = f"this line has {len(line)} characters, and none of a project file has more than {LONGEST_LINE}"
            lines.faults.append(Fault(Place(n + 1, LONGEST_LINE + 1), "line-too-long", says))
            lines.over = True


def _tabs(lines: Lines) -> None:
    """A tab in front of a remark or at the end does no harm; any other is one fault for the whole file."""
    where: list[tuple[int, int]] = []
    for n, line in enumerate(lines.clean):
        if "\t" not in line:
            continue
        content = re.split(r"(?:^|\s)#", line, maxsplit=1)[0].rstrip()
        if "\t" in content:
            where.append((n, content.index("\t")))
        lines.clean[n] = line.replace("\t", " ")
    if not where:
        return
    n, at = where[0]
    indents = not lines.clean[n][:at].strip()
    says = (
        "a tab indents this line: put blanks in its place"
        if indents
        else "a tab stands in this line: put blanks in its place"
    )
    if len(where) > 1:
        others = [str(m + 1) for m, _ in where[1:7]] + (["..."] if len(where) > 7 else [])
        says += f"; so in line{'s' if len(where) > 2 else ''} {', '.join(others)}"
    lines.faults.append(Fault(Place(n + 1, at + 1), "tab", says))
    lines.over = lines.over or any(not lines.clean[m][:a].strip() for m, a in where)


def _remarks(lines: Lines) -> None:
    """`House #12`: what was meant as text is a remark for the reader of the file."""
    for n, line in enumerate(lines.clean):
        found = re.match(r"\s*(?:- )?([A-Za-z][^#:\"'{\[]*): ([^#\"'{\[|>]*[^\s#\"'{\[|>]) (#[0-9A-Za-z].*)$", line)
        if found:
            says = (
                f"'{found[3][:40]}' is a remark, because it begins with '#': put the text in quotes, "
                "or a blank behind '#'"
            )
            guess = f'{found[1]}: "{found[2]} {found[3]}"'
            lines.faults.append(Fault(Place(n + 1, found.start(3) + 1), "remark", says, guess))


def _sections(lines: Lines) -> None:
    """A section's own line that does not start in the first column; what stands under it moves with it."""
    for n, line in enumerate(lines.clean):
        found = re.match(r" +([a-z][a-z ]*):\s*(?:#.*|\[\].*|\{.*)?$", line)
        if not found or found[1] not in top_keys():
            continue
        indent = len(line) - len(line.lstrip())
        says = f"'{found[1]}' is a section of its own: let it start in the first column (indentation)"
        lines.faults.append(Fault(Place(n + 1, indent + 1), "indent", says))
        lines.clean[n] = line.lstrip()
        for m in range(n + 1, len(lines.clean)):
            below = lines.clean[m]
            if below.strip() and len(below) - len(below.lstrip()) <= indent:
                break
            lines.clean[m] = below[indent:]


def _bullets(lines: Lines) -> None:
    """Items that begin with a bullet or a long dash in place of '-'."""
    for n, line in enumerate(lines.clean):
        found = re.match(r"( *)([–—−‒•·‣◦*]) +(?=[^:]+: |\{)", line)
        if found:
            says = f"an item begins with '- ' (a plain hyphen), not with '{found[2]}'"
            lines.faults.append(
                Fault(
                    Place(n + 1, len(found[1]) + 1),
                    "dash",
                    says,
                    f"- {line[found.end() :].split(chr(32) + chr(35))[0].strip()}",
                )
            )
            lines.clean[n] = f"{found[1]}-{line[len(found[1]) + 1 :]}"


def _markers(lines: Lines) -> None:
    """`---` is allowed before all else, `...` after all else; in between they would cut the file in two."""
    filled = [n for n, line in enumerate(lines.clean) if line.strip() and not line.lstrip().startswith("#")]
    for n in filled:
        line = lines.clean[n]
        marker = _MARKER.fullmatch(line)
        if marker and not (marker[1] == "---" and n == filled[0]) and not (marker[1] == "..." and n == filled[-1]):
            says = f"the line '{marker[1]}' cuts the file in two documents: take it away"
            lines.faults.append(Fault(Place(n + 1, 1), "two-documents", says))
        if marker:
            lines.clean[n] = line.replace(marker[1], "   ", 1)
        elif line.startswith("%"):
            says = (
                "a line that starts with '%' is an instruction to the reader of the file, which "
                "project files do not use: take it away"
            )
            lines.faults.append(Fault(Place(n + 1, 1), "directive", says))
            lines.clean[n] = ""
