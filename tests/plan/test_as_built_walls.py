"""Quantities count the walls as they stand: doors and openings out, lowered tops lower."""

from __future__ import annotations

from typing import Any

import pytest

from foundation.plan import Plan
from tests.conftest import planned

FOOT = 0.3048


def test_a_window_comes_out_of_concrete_and_forms(
    demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any
) -> None:
    window = {"name": "window", "kind": "window", "line": "A-B", "start": "10 ft", "width": "3 ft"}
    demo_tables["openings"].append({**window, "bottom": "210 ft", "height": "4 ft"})
    plan = planned(demo_tables, demo_job.survey)
    before, after = demo_plan.steppings[0].quantities, plan.steppings[0].quantities
    face = 12 * FOOT**2
    assert before.forms - after.forms == pytest.approx(2 * face, abs=1e-9)
    assert before.concrete - after.concrete == pytest.approx(face * 10 / 12 * FOOT, abs=1e-9)
    money = 12 * 10 / 12 / 27 * 190 + 2 * 12 * 7
    assert before.money - after.money == pytest.approx(money, abs=0.01)
    assert all(
        (plan.steppings[0].bottoms[k] == demo_plan.steppings[0].bottoms[k]).all()
        for k in plan.steppings[0].bottoms
    )


def test_the_garage_wall_is_lowered_at_its_door(
    demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any
) -> None:
    demo_tables["openings"] = []
    full = planned(demo_tables, demo_job.survey).steppings[0].quantities
    # 16 ft of wall from 214.50 down to 213.17 ft.
    face = 16 * (214.50 - 213.17) * FOOT**2
    assert full.forms - demo_plan.steppings[0].quantities.forms == pytest.approx(2 * face, abs=1e-6)
