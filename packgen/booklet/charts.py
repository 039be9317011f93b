"""The only door to matplotlib: charts as SVG in paper mm in the pack's own fonts, the same bytes each time."""

from __future__ import annotations

import datetime
import hashlib
import io
import re
from collections.abc import Callable
from functools import cache
from typing import Any

from markupsafe import Markup, escape

from packgen.booklet.templates import templates_folder
from packgen.core.figures import day, number

FONT_FILES = ("pack-regular.ttf", "pack-bold.ttf", "sym-regular.ttf")
FAMILIES = ["Noto Sans", "DejaVu Sans"]  # the names inside those files; Pack and Sym in the pack


@cache
def _style() -> dict[str, Any]:
    from matplotlib import font_manager

    for name in FONT_FILES:
        font_manager.fontManager.addfont(str(templates_folder() / "fonts" / name))
    return {
        "svg.hashsalt": "packgen",
        "svg.fonttype": "none",
        "font.family": FAMILIES,
        "font.size": 9,
        "axes.linewidth": 0.25 / 25.4 * 72,
        "lines.linewidth": 0.5 / 25.4 * 72,
        "xtick.major.width": 0.25 / 25.4 * 72,
        "ytick.major.width": 0.25 / 25.4 * 72,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "path.simplify": False,
    }


def chart(draw: Callable[[Any], None], width_mm: float, height_mm: float, title: str) -> Markup:
    """A chart by `draw`, which gets matplotlib's axes. `title` is what a screen reader says of it."""
    import matplotlib
    from matplotlib.figure import Figure

    with matplotlib.rc_context(_style()):  # type: ignore[arg-type]
        figure = Figure(figsize=(width_mm / 25.4, height_mm / 25.4))
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        draw(axes)
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None})
    return _own(out.getvalue(), width_mm, height_mm, title)


def _own(svg: str, width_mm: float, height_mm: float, title: str) -> Markup:
    """Only the drawing: own font names, size in mm, a title, no metadata, no style element that would leak."""
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<!--.*?-->\s*", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<style[^>]*>.*?</style>", "", svg, flags=re.DOTALL)
    svg = re.sub(r"'Noto Sans', 'DejaVu Sans'|'Noto Sans'|'DejaVu Sans'", "Pack, Sym", svg)
    svg = re.sub(r' style="([^"]*)"', lambda m: _attributes(m.group(1)), svg)
    used = set(re.findall(r'(?:href="#|url\(#)([^")]+)', svg))
    svg = re.sub(r' id="([^"]*)"', lambda m: m.group(0) if m.group(1) in used else "", svg)
    for name in sorted(used):  # two charts on one screen page must not share a name
        own = f"{name}-{hashlib.sha256(title.encode()).hexdigest()[:6]}"
        svg = svg.replace(f'id="{name}"', f'id="{own}"').replace(f"#{name}", f"#{own}")
    box = re.search(r'viewBox="[^"]*"', svg)
    view = box.group(0) if box else ""
    body = svg[svg.index(">") + 1 :]
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{width_mm}mm" height="{height_mm}mm" {view} stroke-linejoin="round" stroke-linecap="butt">'
    )
    return Markup(f"{head}<title>{escape(title)}</title>{body}")


def _attributes(style: str) -> str:
    """A style of the drawing as attributes: inside a page a style attribute is read as the page's CSS."""
    out = []
    for part in filter(None, (p.strip() for p in style.split(";"))):
        name, value = (t.strip() for t in part.split(":", 1))
        if name == "font":
            size = re.search(r"([\d.]+)px", value)
            weight = ' font-weight="700"' if "bold" in value or "700" in value else ""
            out.append(f'font-size="{size.group(1) if size else 9}" font-family="Pack, Sym"{weight}')
        else:
            out.append(f'{name}="{value}"')
    return f" {' '.join(out)}" if out else ""


def drying_chart(
    steps: tuple[tuple[datetime.date, float], ...], width_mm: float, height_mm: float, title: str
) -> Markup:
    """What is left to dry, in mm of depth, against the date. steps: dates with the mm left, from the pour on."""

    def draw(axes: Any) -> None:
        axes.set_position((0.09, 0.24, 0.86, 0.68))
        start = steps[0][0]
        days = [(when - start).days for when, _ in steps]
        left = [mm for _, mm in steps]
        axes.plot(days, left, color="black")
        axes.plot(days[-1], 0, marker="o", color="black", markersize=5, clip_on=False, zorder=5)
        axes.set_xlim(0, days[-1] * 1.02 + 1)
        axes.set_ylim(0, left[0] * 1.15)
        axes.set_ylabel("mm left to dry")
        ticks = sorted({0, *days})
        shown = [t for i, t in enumerate(ticks) if i == 0 or t - ticks[i - 1] > days[-1] * 0.14 or t == days[-1]]
        axes.set_xticks(shown, [f"{day(start + datetime.timedelta(days=t))}\nday {t}" for t in shown])
        axes.tick_params(length=3)
        marks = sorted({left[0], *left})
        axes.set_yticks(marks, [number(mm) for mm in marks])
        for when, mm in zip(days, left, strict=True):
            if mm > 0:
                axes.plot([when, when], [0, mm], color="black", linewidth=0.25 / 25.4 * 72, linestyle=(0, (4, 3)))

    return chart(draw, width_mm, height_mm, title)


def heat_chart(flows: tuple[tuple[int, float], ...], days: int, width_mm: float, height_mm: float) -> Markup:
    """The flow temperature asked for on each day of the first heating, as steps. flows: (day, degrees C)."""

    def draw(axes: Any) -> None:
        axes.set_position((0.09, 0.2, 0.88, 0.72))
        xs = [x for n, _ in flows for x in (n - 0.5, n + 0.5)]
        ys = [t for _, t in flows for _ in (0, 1)]
        axes.plot(xs, ys, color="black")
        last = flows[-1]
        axes.plot([last[0] + 0.5, days + 0.5], [last[1], 20], color="black", linestyle=(0, (4, 3)))
        axes.set_xlim(0.5, days + 0.6)
        axes.set_ylim(15, max(t for _, t in flows) + 6)
        axes.set_xticks(range(1, days + 1), [str(n) for n in range(1, days + 1)])
        levels = sorted({t for _, t in flows})
        axes.set_yticks([20, *levels], ["20", *(number(t) for t in levels)])
        axes.set_ylabel("flow, °C")
        axes.set_xlabel("day of the programme")
        for t in levels:
            axes.plot([0.5, days + 0.5], [t, t], color="black", linewidth=0.25 / 25.4 * 72, linestyle=(0, (1, 3)))

    return chart(draw, width_mm, height_mm, "Flow temperature asked for, day by day")
