"""The house set higher by one number: every building level moves, no grade does."""

from __future__ import annotations

from typing import Any

import pytest

from foundation.plan import Plan
from tests.conftest import planned

FOOT = 0.3048


def test_one_number_moves_the_house(demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any) -> None:
    demo_tables["raise_by"] = "8 in"
    plan = planned(demo_tables, demo_job.survey)
    up = 8 * 0.0254
    for before, after in zip(demo_plan.lines, plan.lines, strict=True):
        assert after.wall.wall_top - before.wall.wall_top == pytest.approx(up, abs=1e-9)
        assert after.existing == pytest.approx(before.existing, nan_ok=True)
    # The main footing hangs from the floor and rises with it; the frost line does not.
    assert plan.steppings[0].bottoms["A-B"] - demo_plan.steppings[0].bottoms["A-B"] == pytest.approx(
        [up] * len(plan.steppings[0].bottoms["A-B"]), abs=1e-9
    )
    frost = [
        next(limit for limit in each.line("C-D").limits if limit.reason == "frost").highest
        for each in (demo_plan, plan)
    ]
    assert frost[0] == pytest.approx(frost[1], abs=1e-9)
    assert plan.project.openings[0].bottom - demo_plan.project.openings[0].bottom == pytest.approx(
        up, abs=1e-9
    )
