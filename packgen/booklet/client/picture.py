"""A picture judged by its content: PNG and JPEG here, SVG in svg_picture. Only what draws the picture is kept."""

from __future__ import annotations

import base64
import struct
import zlib
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from packgen.booklet.client.svg_picture import clean_svg

Kind = Literal["png", "jpeg", "svg+xml"]

MOST_BYTES = 1_000_000
LEAST_PIXELS, MOST_PIXELS = 20, 4000
MOST_RATIO = 12.0  # of the sides: a longer picture would be a line on paper
PNG = b"\x89PNG\r\n\x1a\n"
PNG_KEPT = (b"IHDR", b"PLTE", b"tRNS", b"gAMA", b"sRGB", b"IDAT", b"IEND")
PNG_SAMPLES = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # samples a pixel by colour type
PNG_DEPTHS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
ADAM7 = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))


class Unfit(ValueError):
    """Why a file is no picture that can be printed, as the end of a sentence: "it is ..."."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that was looked through, without whatever else its file held. Sides in pixels or user units."""

    kind: Kind
    data: bytes
    width: float
    height: float

    def markup(self, says: str, wide_mm: float, high_mm: float) -> Markup:
        """The picture in a box of paper, as large as it fits; `says` is its spoken text."""
        scale = min(wide_mm / self.width, high_mm / self.height)
        return Markup('<img alt="{}" src="data:image/{};base64,{}" style="width:{:.2f}mm;height:{:.2f}mm">').format(
            says, self.kind, base64.b64encode(self.data).decode("ascii"), self.width * scale, self.height * scale
        )


def picture_from(data: bytes) -> Picture:
    """The picture in a file's bytes, told by what they are and not by a name. Unfit where it cannot be printed."""
    if len(data) > MOST_BYTES:
        raise Unfit(f"larger than {MOST_BYTES // 1000} kB")
    if data.startswith(PNG):
        return _png(data)
    if data.startswith(b"\xff\xd8\xff"):
        return _jpeg(data)
    if data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        try:
            clean, width, height = clean_svg(data)
        except ValueError as fault:
            raise Unfit(str(fault)) from fault
        return Picture("svg+xml", clean, *_sides(width, height, least=0.0))
    raise Unfit("neither PNG nor JPEG nor SVG by its content")


def _sides(width: float, height: float, least: float = LEAST_PIXELS) -> tuple[float, float]:
    if not (least < width and least < height) or max(width, height) > MOST_PIXELS:
        raise Unfit(f"{width:.0f} x {height:.0f} large; {LEAST_PIXELS} to {MOST_PIXELS} a side can be printed")
    if max(width, height) > MOST_RATIO * min(width, height):
        raise Unfit(f"{width:.0f} x {height:.0f}, too long and thin to be seen")
    return width, height


# ------------------------------------------------------------------------------ PNG


def _png(data: bytes) -> Picture:
    chunks = _chunks(data)
    if not chunks or chunks[0][0] != b"IHDR" or len(chunks[0][1]) != 13 or chunks[-1][0] != b"IEND":
        raise Unfit("a damaged PNG: its first or last part is missing")
    width, height, depth, colour, compression, filters, interlaced = struct.unpack(">IIBBBBB", chunks[0][1])
    _sides(width, height)
    if depth not in PNG_DEPTHS.get(colour, ()) or compression or filters or interlaced > 1:
        raise Unfit("a PNG of a kind that does not exist")
    if colour == 3 and not any(name == b"PLTE" for name, _ in chunks):
        raise Unfit("a damaged PNG: its colours are missing")
    wanted = _raw_size(width, height, depth * PNG_SAMPLES[colour], bool(interlaced))
    packed = b"".join(body for name, body in chunks if name == b"IDAT")
    try:
        raw = zlib.decompressobj().decompress(packed, wanted + 1)
    except zlib.error as fault:
        raise Unfit("a damaged PNG: its pixels cannot be unpacked") from fault
    if len(raw) != wanted:
        raise Unfit("a damaged PNG: it has not as many pixels as it says")
    kept = b"".join(_chunk(name, body) for name, body in chunks if name in PNG_KEPT)
    return Picture("png", PNG + kept, width, height)


def _chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    found: list[tuple[bytes, bytes]] = []
    at = len(PNG)
    while at + 12 <= len(data):
        (size,) = struct.unpack_from(">I", data, at)
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        end = at + 12 + size
        if end > len(data) or zlib.crc32(name + body) != struct.unpack_from(">I", data, end - 4)[0]:
            raise Unfit("a damaged PNG: a part of it has the wrong check sum")
        found.append((name, body))
        at = end
        if name == b"IEND":
            break
    return found


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def _raw_size(width: int, height: int, bits: int, interlaced: bool) -> int:
    """Bytes of all rows with their filter bytes."""
    if not interlaced:
        return height * (1 + -(-width * bits // 8))
    total = 0
    for x0, y0, dx, dy in ADAM7:
        across, down = -(-(width - x0) // dx), -(-(height - y0) // dy)
        if across > 0 and down > 0:
            total += down * (1 + -(-across * bits // 8))
    return total


# ------------------------------------------------------------------------------ JPEG


def _jpeg(data: bytes) -> Picture:
    """Keeps what draws the picture; drops remarks, places, thumbnails."""
    kept, size = [b"\xff\xd8"], None
    at = 2
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            raise Unfit("a damaged JPEG")
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        (length,) = struct.unpack_from(">H", data, at + 2)
        end = at + 2 + length
        if length < 2 or end > len(data):
            raise Unfit("a damaged JPEG: it ends too early")
        if marker in (0xC0, 0xC1, 0xC2):
            size = _frame(data[at + 4 : end])
        elif 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            raise Unfit("a JPEG of a kind that few programs read; save it as an ordinary one")
        if not (0xE1 <= marker <= 0xED or marker in (0xEF, 0xFE)):
            kept.append(data[at:end])
        at = end
        if marker == 0xDA:
            stop = data.rfind(b"\xff\xd9")
            if stop < at or size is None:
                raise Unfit("a damaged JPEG: its end is missing")
            return Picture("jpeg", b"".join(kept) + data[at : stop + 2], *_sides(*size))
    raise Unfit("a damaged JPEG: it holds no picture")


def _frame(body: bytes) -> tuple[int, int]:
    if len(body) < 6:
        raise Unfit("a damaged JPEG")
    depth, height, width, parts = struct.unpack_from(">BHHB", body)
    if depth != 8 or parts not in (1, 3):
        raise Unfit("a JPEG for printing presses; save it in RGB or grey with 8 bits")
    return width, height
