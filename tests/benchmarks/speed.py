"""How the cost of planning grows with the floor, and what `check` costs beside importing its libraries.

Run from the checkout, on an idle machine, about a minute:

    python tests/benchmarks/speed.py

Prints ratios, since seconds are those of one machine: the processor time of planning a hall against the hall ten
times smaller (10 is linear growth), and that of `packgen check` against an interpreter that imports numpy, shapely,
pydantic and yaml and does nothing. Not a test: nothing is asserted.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from halls import DEMO, hall

AREAS_M2 = (20, 200, 1_000, 2_000, 10_000)
RUNS = 3  # the least of these counts: whatever else the machine does only adds
LIBRARIES = "import numpy, shapely, pydantic, yaml"
PLAN = """
import sys, time
from pathlib import Path
from packgen.generate import plan_file
plan_file(Path(sys.argv[1]))  # the first plan builds the models
start = time.process_time()
nodes = len(plan_file(Path(sys.argv[2])).plan.layout.nodes)
print(time.process_time() - start, nodes)
"""


def processor_s(command: Sequence[str]) -> float:
    """Processor seconds of a whole process, user and system, the least of a few runs."""
    least = float("inf")
    for _ in range(RUNS):
        before = os.times()
        subprocess.run(command, stdout=subprocess.DEVNULL, check=False)
        after = os.times()
        spent = after.children_user - before.children_user + after.children_system - before.children_system
        least = min(least, spent)
    return least


def planned(small: Path, file: Path) -> tuple[float, int]:
    """Processor seconds of planning a file, and how many legs it has."""
    runs = [
        subprocess.run([sys.executable, "-c", PLAN, str(small), str(file)], capture_output=True, text=True, check=True)
        for _ in range(RUNS if file.stat().st_size < 20_000 else 1)
    ]
    return min((float(seconds), int(nodes)) for seconds, nodes in (run.stdout.split() for run in runs))


def say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        files = {area: Path(folder) / f"hall-{area}.yaml" for area in AREAS_M2}
        for area, file in files.items():
            file.write_text(hall(area), encoding="utf-8")
        found = {area: planned(files[AREAS_M2[0]], file) for area, file in files.items()}
    say("floor m2     legs   planning s   s per 1000 legs   against the hall ten times smaller")
    for area, (seconds, nodes) in found.items():
        before = found.get(area // 10)
        growth = f"{seconds / before[0]:6.1f}  (legs {nodes / before[1]:.1f})" if before else ""
        say(f"{area:8} {nodes:8} {seconds:12.2f} {seconds / nodes * 1000:17.2f}   {growth}")
    check = processor_s([sys.executable, "-m", "packgen", "check", str(DEMO)])
    libraries = processor_s([sys.executable, "-c", LIBRARIES])
    say(f"check {DEMO.name}: {check:.2f} s, its libraries alone {libraries:.2f} s: {check / libraries:.1f} times")


if __name__ == "__main__":
    main()
