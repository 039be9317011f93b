"""The contractor's logo: only pictures, only from the project's folder, and nothing but the picture is kept."""

from __future__ import annotations

import base64
import struct
import zlib
from pathlib import Path

import pytest

from packgen.booklet.client.picture import MOST_BYTES, PNG, Unfit, picture_from
from packgen.generate import build_file, plan_file

DEMO = Path(__file__).parents[3] / "projects" / "02-extension-heated.yaml"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">{}</svg>'
RECT = '<rect width="40" height="20" fill="#000"/>'


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png(width: int = 60, height: int = 40, extra: bytes = b"", raw: bytes | None = None) -> bytes:
    rows = b"".join(b"\0" + bytes([200]) * width for _ in range(height)) if raw is None else raw
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
    return PNG + head + extra + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def jpeg(extra: bytes = b"", parts: int = 3, end: bytes = b"\xff\xd9") -> bytes:
    """The markers of a baseline JPEG of 60 x 40; what it draws is of no matter here."""
    frame = struct.pack(">BHHB", 8, 40, 60, parts) + b"\x01\x11\x00" * parts
    app0 = b"\xff\xe0" + struct.pack(">H", 16) + b"JFIF\0\1\1\0\0\1\0\1\0\0"
    sof = b"\xff\xc0" + struct.pack(">H", len(frame) + 2) + frame
    sos = b"\xff\xda" + struct.pack(">H", 12) + b"\x03\x01\x00\x02\x00\x03\x00\x00\x3f\x00"
    return b"\xff\xd8" + app0 + extra + sof + sos + b"\x12\x34\x56" + end


def project(folder: Path, logo: str) -> Path:
    party = f"  reader: client\n  contractor: {{name: Sample Floors, address: 1 Sample Lane, logo: {logo}}}\n"
    file = folder / "job.yaml"
    file.write_text(DEMO.read_text(encoding="utf-8").replace("  reader: client\n", party), encoding="utf-8")
    return file


# ------------------------------------------------------------------------------ content


def test_kind_is_told_by_content() -> None:
    assert (picture_from(png()).kind, picture_from(png()).width, picture_from(png()).height) == ("png", 60, 40)
    assert (picture_from(jpeg()).kind, picture_from(jpeg()).width) == ("jpeg", 60)
    drawn = picture_from(SVG.format(RECT).encode())
    assert (drawn.kind, drawn.width, drawn.height) == ("svg+xml", 40, 20)


def test_only_the_picture_is_kept() -> None:
    secret = chunk(b"tEXt", b"Comment\0secret") + chunk(b"eXIf", b"secret place")
    assert b"secret" not in picture_from(png(extra=secret)).data
    exif = b"\xff\xe1" + struct.pack(">H", 14) + b"Exif\0\0secret"
    assert b"secret" not in picture_from(jpeg(extra=exif)).data
    noted = SVG.format(f"<metadata>secret</metadata><title>secret</title>{RECT}")
    assert b"secret" not in picture_from(noted.encode()).data
    editor = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:e="http://e" viewBox="0 0 9 9"><e:view secret="1"/>{}</svg>'
    assert b"secret" not in picture_from(editor.format('<path e:note="secret" d="M0 0h9"/>').encode()).data


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"GIF89a" + bytes(40), "neither PNG nor JPEG nor SVG"),
        (b"", "neither PNG"),
        (b"project:\n  name: x\n", "neither PNG"),
        (png()[:-12], "first or last part"),
        (png().replace(b"IDAT", b"IDAX"), "check sum"),
        (png(raw=b"\0" * 7), "not as many pixels"),
        (png(width=5), "can be printed"),
        (png(width=5000, height=30, raw=b""), "can be printed"),
        (png(width=2000, height=30), "too long and thin"),
        (jpeg(parts=4), "printing presses"),
        (jpeg(end=b""), "end is missing"),
        (jpeg()[:30], "damaged JPEG"),
        (PNG + bytes(MOST_BYTES), "larger than"),
    ],
)
def test_what_is_no_picture_is_refused(data: bytes, why: str) -> None:
    with pytest.raises(Unfit, match=why):
        picture_from(data)


def test_a_small_file_that_unpacks_to_much_is_refused() -> None:
    bomb = png(width=3000, height=3000, raw=bytes(40_000_000))
    assert len(bomb) < MOST_BYTES
    with pytest.raises(Unfit, match="not as many pixels"):
        picture_from(bomb)


@pytest.mark.parametrize(
    "inside",
    [
        "<script>1</script>",
        f'<g onload="x()">{RECT}</g>',
        '<image href="file:///etc/hosts" width="9" height="9"/>',
        "<foreignObject><p>x</p></foreignObject>",
        '<use href="other.svg#a"/>',
        "<style>@import url(http://x)</style>",
        '<rect width="9" height="9" fill="url(http://x/a)"/>',
        '<rect width="9" height="9" style="fill:url(file:///etc/hosts)"/>',
        '<linearGradient href="http://x"/>',
        "<text>letters</text>",
        '<a href="http://x"><rect width="9" height="9"/></a>',
        '<rect width="9" height="9" fill="expression(1);"/>',
        "",
        "<g>" * 60 + "</g>" * 60,
        RECT * 6000,
        "<rect",
    ],
)
def test_an_svg_is_shapes_and_nothing_else(inside: str) -> None:
    with pytest.raises(Unfit):
        picture_from(SVG.format(inside).encode())


def test_an_svg_with_entities_is_refused_and_a_plain_doctype_is_not() -> None:
    entity = f'<!DOCTYPE svg [<!ENTITY a "aaaa">]>{SVG.format(RECT)}'
    with pytest.raises(Unfit, match="entities"):
        picture_from(entity.encode())
    plain = f'<?xml version="1.0"?>\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd">{SVG.format(RECT)}'
    assert picture_from(plain.encode()).kind == "svg+xml"


def test_style_attributes_become_plain_ones() -> None:
    data = picture_from(SVG.format('<path d="M0 0h9v9z" style="fill:#123456;-x-y:1"/>').encode()).data
    assert b'fill="#123456"' in data
    assert b"style" not in data
    assert b"-x-y" not in data


def test_it_fills_its_box_without_being_stretched() -> None:
    shown = str(picture_from(png(60, 40)).markup("Logo of A & B", 56, 20))
    assert "width:30.00mm;height:20.00mm" in shown
    assert 'alt="Logo of A &amp; B"' in shown
    coded = shown.split("base64,")[1].split('"')[0]
    assert base64.b64decode(coded).startswith(PNG)


# ------------------------------------------------------------------------------ place


@pytest.mark.parametrize("path", ["../logo.png", "/etc/logo.png", "sub/../../logo.png"])
def test_a_path_out_of_the_folder_is_refused(tmp_path: Path, path: str) -> None:
    (tmp_path / "logo.png").write_bytes(png())
    folder = tmp_path / "job"
    folder.mkdir()
    outcome = plan_file(project(folder, path))
    assert outcome.plan is None
    assert [f.code for f in outcome.faults] == ["path-outside"]


def test_a_link_out_of_the_folder_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    (tmp_path / "other.png").write_bytes(png())
    folder = tmp_path / "job"
    folder.mkdir()
    (folder / "logo.png").symlink_to(tmp_path / "other.png")
    outcome = build_file(project(folder, "logo.png"), tmp_path / "out", "client")
    (fault,) = outcome.faults
    assert fault.code == "logo-unfit"
    assert "outside the folder" in fault.says
    assert outcome.lines[fault.place.line - 1].find("logo.png") == fault.place.column - 1
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(("data", "why"), [(None, "is not there"), (b"text", "neither PNG")])
def test_a_missing_or_unfit_file_is_a_fault(tmp_path: Path, data: bytes | None, why: str) -> None:
    if data is not None:
        (tmp_path / "logo.png").write_bytes(data)
    (fault,) = plan_file(project(tmp_path, "logo.png")).faults
    assert why in fault.says


def test_the_letterhead_shows_name_address_and_logo(tmp_path: Path) -> None:
    from packgen.booklet.make import make_pack

    (tmp_path / "logo.png").write_bytes(png())
    outcome = plan_file(project(tmp_path, "logo.png"))
    assert outcome.plan is not None
    first = str(make_pack(outcome.plan, "client", outcome.logo).sheets[0].body)
    for text in ("Sample Floors", "1 Sample Lane", 'alt="Logo of Sample Floors"', "data:image/png;base64,"):
        assert text in first
    assert "Contractor: not stated" not in first
    site = make_pack(outcome.plan, "site", outcome.logo)
    assert not any("data:image/png" in str(s.body) for s in site.sheets)
