"""An SVG written anew from a short list of shapes, so that nothing in it can run, load or name anything outside it."""

from __future__ import annotations

import re
from xml.etree import ElementTree as Tree

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = frozenset(
    [
        "svg",
        "g",
        "path",
        "rect",
        "circle",
        "ellipse",
        "line",
        "polyline",
        "polygon",
        "defs",
        "linearGradient",
        "radialGradient",
        "stop",
        "clipPath",
    ]
)
SILENT = frozenset(("title", "desc", "metadata"))
NUMBERS = frozenset(
    [
        "d",
        "x",
        "y",
        "x1",
        "y1",
        "x2",
        "y2",
        "cx",
        "cy",
        "r",
        "rx",
        "ry",
        "fx",
        "fy",
        "points",
        "width",
        "height",
        "viewBox",
        "transform",
        "offset",
        "gradientUnits",
        "gradientTransform",
        "spreadMethod",
        "clipPathUnits",
        "preserveAspectRatio",
        "id",
    ]
)
PAINT = frozenset(
    [
        "fill",
        "fill-rule",
        "fill-opacity",
        "stroke",
        "stroke-width",
        "stroke-linecap",
        "stroke-linejoin",
        "stroke-miterlimit",
        "stroke-dasharray",
        "stroke-dashoffset",
        "stroke-opacity",
        "opacity",
        "clip-path",
        "clip-rule",
        "stop-color",
        "stop-opacity",
        "color",
        "display",
        "visibility",
    ]
)
VALUE = re.compile(r"[\w#.,%()\s+\-]*")
INSIDE = re.compile(r"url\(\s*['\"]?#[\w.\-]+['\"]?\s*\)")
LENGTH = re.compile(r"\s*([\d.]+(?:e[+\-]?\d+)?)\s*(px|pt|pc|mm|cm|in)?\s*")
MOST_ELEMENTS, MOST_DEEP = 5000, 40
WHAT_TO_DO = {
    "text": "letters: turn them to outlines",
    "tspan": "letters: turn them to outlines",
    "style": "a style sheet: save it with colours as attributes",
    "image": "a picture inside the picture: save it as PNG instead",
    "use": "a shape used again: expand it",
}


def clean_svg(data: bytes) -> tuple[bytes, float, float]:
    """The SVG with nothing but shapes, and its sides in user units.

    ValueError, as the end of a sentence that begins "it is", where it holds something else than shapes.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise ValueError("an SVG that is not saved as UTF-8") from fault
    if re.search(r"<!ENTITY|<!DOCTYPE[^>]*\[", text, re.IGNORECASE):
        raise ValueError("an SVG with entities, which can hide what is in it")
    try:
        root = Tree.fromstring(text)  # entities are ruled out above
    except (Tree.ParseError, ValueError) as fault:
        raise ValueError("a damaged SVG") from fault
    if _local(root) != "svg" or not root.tag.startswith(SVG):
        raise ValueError("no SVG, though it looks like one")
    if sum(1 for _ in root.iter()) > MOST_ELEMENTS:
        raise ValueError(f"an SVG of more than {MOST_ELEMENTS} parts")
    box, width, height = _box(root)
    clean = Tree.Element("svg", {"xmlns": SVG[1:-1], "viewBox": box, "width": f"{width:g}", "height": f"{height:g}"})
    clean.attrib.update({k: v for k, v in _attributes(root).items() if k in PAINT})
    for child in root:
        _copy(child, clean, 1)
    if len(clean) == 0:
        raise ValueError("an SVG without a shape")
    return Tree.tostring(clean, encoding="utf-8"), width, height


def _local(element: Tree.Element) -> str:
    tag = element.tag
    return tag.rsplit("}", 1)[-1] if isinstance(tag, str) else ""


def _copy(element: Tree.Element, into: Tree.Element, deep: int) -> None:
    if not isinstance(element.tag, str) or not element.tag.startswith(SVG) or _local(element) in SILENT:
        return
    name = _local(element)
    if name not in SHAPES:
        raise ValueError(f"an SVG with {WHAT_TO_DO.get(name, f'a part named {name[:20]}')}")
    if deep > MOST_DEEP:
        raise ValueError("an SVG of groups within groups without end")
    made = Tree.SubElement(into, name, _attributes(element))
    for child in element:
        _copy(child, made, deep + 1)


def _attributes(element: Tree.Element) -> dict[str, str]:
    """Known attributes with harmless values; declarations of a `style` as attributes."""
    given = {k: v for k, v in element.attrib.items() if "}" not in k}
    if any(k.lower().startswith("on") for k in given):
        raise ValueError("an SVG that wants to run a program")
    for declaration in given.pop("style", "").split(";"):
        key, _, value = declaration.partition(":")
        if key.strip() in PAINT:
            given[key.strip()] = value.strip()
    links = [v for k, v in element.attrib.items() if k.rsplit("}", 1)[-1] == "href"]
    if any(not v.startswith("#") for v in links):
        raise ValueError("an SVG that loads something from elsewhere")
    kept = {k: v for k, v in given.items() if k in NUMBERS or k in PAINT}
    for key, value in kept.items():
        if not VALUE.fullmatch(INSIDE.sub("", value)):
            raise ValueError(f"an SVG whose {key} is '{value[:30]}'")
        if "url(" in INSIDE.sub("", value):
            raise ValueError("an SVG that loads something from elsewhere")
    if links and _local(element).endswith("Gradient"):
        kept["href"] = links[0]
    return kept


def _box(root: Tree.Element) -> tuple[str, float, float]:
    """viewBox and sides; sides alone make a box, a box alone makes sides."""
    view = [_number(v) for v in re.split(r"[\s,]+", root.get("viewBox", "").strip()) if v]
    if len(view) == 4 and view[2] > 0 and view[3] > 0:
        return " ".join(f"{v:g}" for v in view), view[2], view[3]
    sides = [LENGTH.fullmatch(root.get(k, "")) for k in ("width", "height")]
    if not all(sides):
        raise ValueError("an SVG that does not say how large it is")
    width, height = (float(m.group(1)) for m in sides if m)
    return f"0 0 {width:g} {height:g}", width, height


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError as fault:
        raise ValueError("an SVG whose viewBox is not four numbers") from fault
