"""Project files of plain halls of any size: a column every 15 m or so, a reading every 5 m."""

from __future__ import annotations

import math
from pathlib import Path

DEMO = Path(__file__).parents[2] / "projects" / "02-extension-heated.yaml"
COLUMN_MM, EDGE_MM = 400, 50
COLUMN_EACH_M2 = 250  # 40 columns on 10,000 m2
READING_EACH_MM = 5000


def hall(area_m2: float) -> str:
    """A square hall of that floor area as the text of a project file: conduit, joint, columns, readings, one fill."""
    side = round(math.sqrt(area_m2) * 1000)
    head, rest = DEMO.read_text(encoding="utf-8").split("rooms:\n")
    finishes = "finishes:\n" + rest.split("finishes:\n")[1].split("services:\n")[0]
    kit = "kit:" + rest.split("kit:")[1].split("heating:\n")[0]
    kit = kit.replace("least: 61", "least: 50").replace("45 mm plus the 16 mm pipe, heated", "unbonded, not heated")
    crew = "crew:\n" + rest.split("crew:\n")[1]
    services = (
        f"services:\n  - {{name: cable, kind: conduit, outside: 20, lies on: slab, "
        f"from: [0, {side // 4}], to: [{side}, {side // 4}]}}\n\n"
    )
    joints = f"joints:\n  - {{kind: movement, from: [0, {side // 2}], to: [{side}, {side // 2}], width: 10}}\n\n"
    return (
        head
        + _room(side)
        + finishes.replace("extension", "hall")
        + services
        + joints
        + kit
        + _levels(side)
        + crew.replace("mixer 65 l, number: 1, output: 420", "mixer 500 l, number: 2, output: 4000")
    )


def _room(side: int) -> str:
    across = round(side * math.sqrt(2))
    walls = "".join(f"      - wall {n}: {side}, turn right\n" for n in range(1, 5))
    text = f"rooms:\n  - name: hall\n    start: corner by the gate\n    walls:\n{walls}    check tapes:\n"
    text += f"      - corner 1 to corner 3: {across}\n      - corner 2 to corner 4: {across}\n"
    columns = [
        f"      - {{name: column {n + 1}, shape: rectangle, from: [{x}, {y}], to: [{x + COLUMN_MM}, {y + COLUMN_MM}], "
        "stays: yes}\n"
        for n, (x, y) in enumerate(_column_corners(side))
    ]
    text += "    obstacles:\n" + "".join(columns) if columns else ""
    return text + (
        "\nopenings:\n  - {name: gate, in: wall 1, from: 1000, width: 2400, leads to: yard, "
        "floor there: same as TBM, sill: none}\n\n"
    )


def _column_corners(side: int) -> list[tuple[int, int]]:
    count = round(side * side / 1e6 / COLUMN_EACH_M2)
    if count == 0:
        return []
    wide = max(1, round(math.sqrt(count * 1.6)))
    deep = math.ceil(count / wide)
    spots = [
        (round((i + 0.5) * side / wide) + 107, round((j + 0.5) * side / deep) + 61)
        for j in range(deep)
        for i in range(wide)
    ]
    return spots[:count]


def _levels(side: int) -> str:
    """One set-up; the slab waves by 14 mm in all, so that no two triangles are alike."""
    steps = max(2, round(side / READING_EACH_MM) + 1)
    at = [round(EDGE_MM + i * (side - 2 * EDGE_MM) / (steps - 1)) for i in range(steps)]
    names = [chr(ord("A") + i) if i < 26 else "A" + chr(ord("A") + i - 26) for i in range(steps)]
    rows = "".join(
        f"        {j + 1:<4}"
        + "".join(
            f"{1489 + round(4 * math.sin(at[i] / 4100) + 3 * math.cos(at[j] / 5300 + i)):>7}" for i in range(steps)
        )
        + "\n"
        for j in range(steps)
    )
    columns = ", ".join(f"{n}: {x}" for n, x in zip(names, at, strict=True))
    row_list = ", ".join(f"{j + 1}: {y}" for j, y in enumerate(at))
    return (
        "levels:\n  read as: staff readings\n  largest misclosure: 3\n"
        f"  columns at: {{{columns}}}\n  rows at: {{{row_list}}}\n"
        "  setups:\n    - name: S1\n      date: 2027-04-02\n      by: contractor\n"
        "      start on: {point: TBM, reading: 1405}\n      readings: |\n"
        f"        row {''.join(f'{n:>7}' for n in names)}\n{rows}"
        "      close on: {point: TBM, reading: 1405}\n\n"
    )
