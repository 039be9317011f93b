"""A channel from wall to wall parts the floor, and people step over it."""

from __future__ import annotations

from pathlib import Path

from packgen.generate import plan_file
from packgen.sequence.ways_out import walk_ground

SHOWER = Path(__file__).parents[2] / "projects" / "10-shower-room-to-a-channel.yaml"


def test_nobody_is_trapped_behind_a_channel_that_is_stepped_over() -> None:
    plan = plan_file(SHOWER).plan
    assert plan is not None
    assert plan.sequence.trapped == ()
    ground = walk_ground(plan.project, plan.survey, plan.layout.bays)
    left = {i for i, b in enumerate(plan.layout.bays) if max(x for x, _ in b.shape.shell) <= 1850}
    over = [(i, j) for i in left for j in ground.steps[i] if j not in left]
    assert len(over) >= 4
    assert len(left) < len(plan.layout.bays)
