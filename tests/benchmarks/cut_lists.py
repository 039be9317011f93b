"""How good cut lists are, and what they cost, against their bound and against a general solver.

Run from the checkout, about two minutes:

    python tests/benchmarks/cut_lists.py

Three ratios of each list: stock bought against the bound (1 is proven the least), against best-fit decreasing, and
processor time of the general solver against ours. The general solver is HiGHS with a variable for each piece in each
bar, which is how the job is put when nothing is known of it; it is stopped after some seconds. Nothing is asserted.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from packgen.layout.best_fit import best_fit, fewest_bars
from packgen.layout.cut_list import least_stock
from packgen.layout.model import Stock

KERF, PATIENCE_S = 3, 20.0


def lists() -> list[tuple[str, int, list[int]]]:
    """Name, stock, pieces: a room, a house of rooms, a skew room, short pieces, a hall of 10,000 m2."""
    draw = random.Random(3)
    return [
        ("room, 3000", 3000, [2471, 521, 640] * 8 + [1380] * 12),
        ("five rooms, 3000", 3000, [draw.choice([380, 725, 910, 1480, 1835, 2210]) for _ in range(60)]),
        ("skew room, 3000", 3000, [700 + 37 * i for i in range(22)]),
        ("short pieces, 2000", 2000, [draw.randint(150, 700) for _ in range(40)]),
        ("hall, 6000", 6000, [4080] * 167 + [2210] * 167 + [1835, 3140, 5260] * 20),
        ("hall, all lengths, 6000", 6000, [draw.randint(150, 5990) for _ in range(700)]),
    ]


def general(lengths: Sequence[int], stock: int, most: int) -> tuple[int | None, bool, float]:
    """Bars, whether proven, processor seconds."""
    start = time.process_time()
    n = len(lengths)
    size = np.array(lengths) + KERF
    cost = np.concatenate([np.ones(most), np.zeros(n * most)])
    rows: list[np.ndarray] = []
    low: list[float] = []
    high: list[float] = []
    for i in range(n):
        row = np.zeros(len(cost))
        row[most + i * most : most + (i + 1) * most] = 1
        rows.append(row)
        low.append(1)
        high.append(1)
    for j in range(most):
        row = np.zeros(len(cost))
        row[j] = -(stock + KERF)
        row[most + j :: most] = size
        rows.append(row)
        low.append(-np.inf)
        high.append(0)
    result = milp(
        cost,
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(np.array(rows), low, high),
        options={"time_limit": PATIENCE_S},
    )
    bars = None if result.x is None else round(result.fun)
    return bars, result.status == 0, time.process_time() - start


def main() -> None:
    say = sys.stdout.write
    say(f"{'list':26}{'pieces':>7}{'bars':>6}{'/bound':>8}{'/best fit':>10}{'general':>14}{'its time / ours':>17}\n")
    for name, stock, pieces in lists():
        down = sorted(pieces, reverse=True)
        start = time.process_time()
        taken, bound = least_stock(down, [Stock(stock)], KERF, False)
        mine = max(time.process_time() - start, 1e-4)
        quick = len(best_fit(down, stock, KERF))
        say(f"{name:26}{len(down):7}{len(taken):6}{len(taken) * stock / bound:8.4f}{len(taken) / quick:10.4f}")
        if len(down) * len(taken) > 4000:
            say(f"{'too large':>14}\n")
            continue
        bars, proven, spent = general(down, stock, max(quick, fewest_bars(down, stock, KERF)))
        say(f"{f'{bars} proven' if proven else f'{bars} at the end':>14}{spent / mine:17.2f}\n")


if __name__ == "__main__":
    main()
