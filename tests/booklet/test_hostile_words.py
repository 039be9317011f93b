"""Words of the project file are printed as typed, whatever they look like."""

from __future__ import annotations

import html
import re
from pathlib import Path

from packgen.booklet.make import make_pack
from packgen.booklet.pack import Pack
from packgen.booklet.paper import pages_of
from packgen.booklet.screen import index_page, pack_page
from packgen.plan import make_plan
from packgen.project.read import read_project

FILE = Path(__file__).parent.parent.parent / "projects" / "02-extension-heated.yaml"
HOSTILE = {
    "Garden extension": "<script>alert(1)</script> & {{ 7 * 7 }} {% raw %}",
    "flooring contractor": "</style><b onload=x>'\"",
    "a heated floor flush with the old kitchen tiles": "url(http://127.0.0.1/x) \u202egnirts \u4e2d \u200b end",
    "sliding door, in": "</svg><script>x</script>, in",
}


def hostile_pack() -> Pack:
    text = FILE.read_text(encoding="utf-8")
    for old, new in HOSTILE.items():
        old_key = old.removesuffix(", in")
        quoted = new.removesuffix(", in").replace("\\", "\\\\").replace('"', '\\"')
        text = text.replace(f": {old_key}", f': "{quoted}"', 1)
    read = read_project(text.encode(), FILE.name)
    assert read.project is not None, read.faults
    return make_pack(make_plan(read.project), "site")


def test_printed_as_typed_and_never_obeyed() -> None:
    pack = hostile_pack()
    assert pack.facts.name == HOSTILE["Garden extension"]
    screen = pack_page(pack)
    papers = [p.document for p in pages_of(pack)]
    for text in (screen, index_page([pack], False), *papers):
        own = re.sub(r"<script>\n\(\(\)=>.*?</script>", "", text, flags=re.DOTALL)
        assert "<script" not in own
        assert "onload=x>" not in own.replace("onload=x&gt;", "")
        assert "\u202e" not in text
        assert "\u200b" not in text
        assert "49" not in re.findall(r"<title>(.*?)</title>", text)[0].split(",")[0]
    typed = html.unescape(re.sub("<[^>]+>", " ", papers[0]))
    assert "<script>alert(1)</script> & {{ 7 * 7 }} {% raw %}" in typed
    assert "[U+202E]gnirts [U+4E2D]" in typed
    door = next(p for p in papers if "/svg" in p and "&lt;/svg&gt;" in p)
    assert "&lt;script&gt;x" in door


def test_every_drawing_is_still_closed_svg() -> None:
    for page in pages_of(hostile_pack()):
        assert page.document.count("<svg") == page.document.count("</svg>"), page.slug
