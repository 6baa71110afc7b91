"""A stepping of the user's own: priced like the answers, its broken rules told, the optimum one click away."""

from __future__ import annotations

from typing import Any

import pytest

from foundation.plan import Plan, PlanError
from foundation.plan.own import OWN, moved_step
from tests.conftest import planned

FOOT = 0.3048


def test_without_runs_there_is_none(demo_plan: Plan) -> None:
    assert [stepping.name for stepping in demo_plan.steppings] == ["least cost", "fewest steps", "no fillers"]


def test_same_levels_cost_the_same(demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any) -> None:
    runs = [run for run in demo_plan.steppings[0].runs if run.line == "D-A"]
    demo_tables["own_runs"] = [
        {"line": "D-A", "start": f"{r.start!r} m", "end": f"{r.end!r} m", "bottom": f"{r.bottom!r} m"}
        for r in runs
    ]
    own = planned(demo_tables, demo_job.survey).stepping(OWN)
    assert own.quantities.money == pytest.approx(demo_plan.steppings[0].quantities.money, abs=1e-6)
    assert own.steps == demo_plan.steppings[0].steps


def test_a_step_moved_uphill_costs_more_and_is_covered(
    demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any
) -> None:
    base = demo_plan.steppings[0]
    step = next(step for step in base.steps if step.line == "D-A")
    runs = moved_step(base, demo_plan.line("D-A"), step.station, step.station + 1.3 * FOOT)
    demo_tables["own_runs"] = [
        {"line": "D-A", "start": f"{a!r} m", "end": f"{b!r} m", "bottom": f"{z!r} m"} for a, b, z in runs
    ]
    plan = planned(demo_tables, demo_job.survey)
    own = plan.stepping(OWN)
    moved = next(each for each in own.steps if each.line == "D-A")
    assert moved.station - step.station == pytest.approx(1.25 * FOOT, abs=1e-9)  # the nearest node
    # 1.25 ft of wall 2 ft lower: concrete 10 in, two faces of forms, a trench of 5'-8".
    face = 1.25 * 2
    extra = face * 10 / 12 / 27 * 190 + 2 * face * 7 + face * (20 / 12 + 4) / 27 * 14
    assert own.quantities.money - base.quantities.money == pytest.approx(extra, abs=0.01)
    assert not [c for c in plan.cautions[OWN] if c.trap.key == "frost-cover-short"]


def test_a_step_moved_downhill_is_short_of_cover(
    demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any
) -> None:
    base = demo_plan.steppings[0]
    step = next(step for step in base.steps if step.line == "D-A")
    runs = moved_step(base, demo_plan.line("D-A"), step.station, step.station - 2 * FOOT)
    demo_tables["own_runs"] = [
        {"line": "D-A", "start": f"{a!r} m", "end": f"{b!r} m", "bottom": f"{z!r} m"} for a, b, z in runs
    ]
    plan = planned(demo_tables, demo_job.survey)
    short = [c for c in plan.cautions[OWN] if c.trap.key == "frost-cover-short"]
    assert [c.line for c in short] == ["D-A"]
    assert short[0].amounts["short"].value > 0.1


def test_a_forty_six_inch_drop_misses_the_walkout_dip(demo_tables: dict[str, Any], demo_job: Any) -> None:
    # The lot's own trap: 46 in of drop covers the corners C and D and misses the dip between them.
    bottom = 204 + 2 / 3 - 46 / 12
    demo_tables["own_runs"] = [{"line": "C-D", "start": "0 ft", "end": "44 ft", "bottom": f"{bottom!r} ft"}]
    plan = planned(demo_tables, demo_job.survey)
    [short] = [c for c in plan.cautions[OWN] if c.trap.key == "frost-cover-short" and c.line == "C-D"]
    assert short.station / FOOT == pytest.approx(23, abs=0.6)  # 2121 E is 23 ft from C
    assert short.amounts["cover"].value / 0.0254 == pytest.approx(52.4, abs=0.4)


def test_a_run_on_no_wall_is_refused(demo_tables: dict[str, Any], demo_job: Any) -> None:
    demo_tables["own_runs"] = [{"line": "A-C", "start": "0 ft", "end": "4 ft", "bottom": "200 ft"}]
    with pytest.raises(PlanError, match="lies on no wall"):
        planned(demo_tables, demo_job.survey)


def test_no_step_there(demo_plan: Plan) -> None:
    with pytest.raises(KeyError, match="no step stands"):
        moved_step(demo_plan.steppings[0], demo_plan.line("A-B"), 1.0, 2.0)
