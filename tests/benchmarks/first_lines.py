"""The search for the first lines: against brute force at 1 mm, and how its cost grows with the floor.

    python tests/benchmarks/first_lines.py [ROOMS]      200 rooms unless told: about ten minutes

Small random rooms (a module of 60): every table and the chosen pair are held against laying every pair line by line.
Then halls of 20 to 10,000 m²: processor seconds of search and layout, and against the hall ten times smaller (10 is
linear). Ends with 1 where brute force disagrees.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import get_args

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
from brute_grid import MODULE, OFF, PLAIN, SIZES, best_of, figures_of, room, worst_of
from halls import hall

from packgen.layout.arrange import arrange
from packgen.layout.merits import COUNTED, field_of, merits
from packgen.layout.offsets import best, shifted
from packgen.project.read import read_project
from packgen.project.work_model import Merit
from packgen.survey.reduce import survey_project

AREAS_M2 = (20, 200, 1_000, 10_000)


def against_brute_force(rooms: int) -> bool:
    right, brute_s, search_s = 0, 0.0, 0.0
    for seed in range(rooms):
        ground, corner, aims = room(seed)
        if not ground.floor:
            right += 1
            continue
        start = time.process_time()
        found = figures_of(ground, corner, aims)
        by_hand = best_of(worst_of(found), get_args(Merit))
        middle = time.process_time()
        tables = merits(field_of(ground, corner, SIZES, aims))
        live = np.ones((MODULE, MODULE), dtype=bool)
        pick = best(shifted(tables, OFF), get_args(Merit), PLAIN, live)
        brute_s, search_s = brute_s + middle - start, search_s + time.process_time() - middle
        same = pick.firsts == by_hand and all(
            tables[name][pair] == figures[name] for pair, figures in found.items() for name in COUNTED
        )
        right += same
        if not same:
            sys.stdout.write(f"room {seed}: search {pick.firsts}, brute force {by_hand}\n")
    sys.stdout.write(
        f"{right} of {rooms} rooms agree in every table and in the pair; search takes {search_s / brute_s:.3f} of the "
        "time of brute force\n"
    )
    return right == rooms


def growth() -> None:
    sys.stdout.write("floor m2     legs   survey and layout s   against the hall ten times smaller\n")
    spent: dict[int, float] = {}
    for area in AREAS_M2:
        project = read_project(hall(area).encode(), "hall.yaml").project
        assert project is not None
        survey = survey_project(project)
        start = time.process_time()
        layout = arrange(project, survey)
        spent[area] = time.process_time() - start
        before = spent.get(area // 10)
        ratio = f"{spent[area] / before:8.1f}" if before else ""
        sys.stdout.write(f"{area:8} {len(layout.nodes):8} {spent[area]:12.2f}          {ratio}\n")


if __name__ == "__main__":
    agreed = against_brute_force(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
    growth()
    sys.exit(0 if agreed else 1)
