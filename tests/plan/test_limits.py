"""What keeps a footing down, one rule at a time, and the frost cover read again without the optimiser."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from foundation.footing.audit import audit
from foundation.footing.cover import frost_cover, inch_stations
from foundation.footing.problem import stepping_problem
from foundation.plan import Plan
from tests.conftest import planned

FOOT, INCH = 0.3048, 0.0254


def limit(plan: Plan, line: str, reason: str) -> np.ndarray:
    return next(each.highest for each in plan.line(line).limits if each.reason == reason)


def reasons(plan: Plan, line: str) -> set[str]:
    return {each.reason for each in plan.line(line).limits}


@pytest.fixture
def survey(demo_job: Any) -> str:
    return str(demo_job.survey)


def test_cover_of_every_answer_at_every_inch(demo_plan: Plan) -> None:
    """Straight from the surfaces: lower of the two grades at the wall's face and at the footing's edge."""
    assert demo_plan.existing is not None
    assert demo_plan.finished is not None
    for stepping in demo_plan.steppings:
        for line in demo_plan.lines:
            if line.wall.beyond:
                continue
            wall = line.wall
            station = inch_stations(wall.length)
            share = station / wall.length
            for out in (0.0, wall.projection):
                east = wall.start_at[0] + share * (wall.end_at[0] - wall.start_at[0]) + out * wall.outward[0]
                north = wall.start_at[1] + share * (wall.end_at[1] - wall.start_at[1]) + out * wall.outward[1]
                grade = np.fmin(demo_plan.existing.grade(east, north), demo_plan.finished.grade(east, north))
                cell = np.clip(np.searchsorted(line.node, station, side="right") - 1, 0, len(line.node) - 2)
                cover = grade - stepping.bottoms[wall.name][cell]
                assert np.nanmin(cover) >= demo_plan.project.frost.depth - 1e-6, (stepping.name, wall.name)


def test_every_rule_is_kept(demo_plan: Plan) -> None:
    """The audit reads the rules again in plain loops, independent of the optimiser."""
    from foundation.footing.forms import panel_heights
    from foundation.plan.footings import levels, unit_prices

    project = demo_plan.project
    level = levels(project, demo_plan.lines, demo_plan.rules)
    problem = stepping_problem(
        demo_plan.lines,
        demo_plan.chains,
        level,
        demo_plan.rules,
        unit_prices(project),
        project.digging.working_room,
        panel_heights(project.forms.heights, 8.0),
    )
    for objective, stepping in enumerate(demo_plan.steppings):
        rows = [
            np.concatenate([np.searchsorted(level, stepping.bottoms[name] - 1e-6) for name in chain.lines])
            for chain in demo_plan.chains
        ]
        tees = {"B": int(rows[0][0]), "H": int(rows[0][-1])}
        assert audit(problem, rows, tees, objective) == ()
        for step in stepping.steps:
            assert step.rise <= 24 * INCH + 1e-9
            assert min(step.run_before, step.run_after) >= 24 * INCH - 1e-9
            lower = step.run_after if step.after < step.before else step.run_before
            assert step.rise <= 0.75 * lower + 1e-9
            assert step.rise / (8 * INCH) == pytest.approx(round(step.rise / (8 * INCH)), abs=1e-6)


def test_smaller_frost_depth_is_never_dearer(demo_tables: dict[str, Any], survey: str) -> None:
    money = []
    for inches in (36, 42, 48, 54, 60):
        demo_tables["frost"]["depth"] = f"{inches} in"
        money.append([each.quantities.money for each in planned(demo_tables, survey).steppings])
    assert (np.diff(np.array(money)[:, 0]) >= -0.01).all()


def test_depth_to_the_top_adds_the_footing(demo_plan: Plan, demo_tables: dict[str, Any], survey: str) -> None:
    demo_tables["frost"]["measured_to"] = "top of footing"
    plan = planned(demo_tables, survey)
    assert limit(plan, "C-D", "frost") == pytest.approx(
        limit(demo_plan, "C-D", "frost") - 10 * INCH, abs=1e-9
    )
    assert limit(plan, "E-F", "frost") == pytest.approx(limit(demo_plan, "E-F", "frost") - 8 * INCH, abs=1e-9)


def test_fill_counts_only_when_the_office_says_so(
    demo_plan: Plan, demo_tables: dict[str, Any], survey: str
) -> None:
    demo_tables["frost"]["fill_counts"] = True
    plan = planned(demo_tables, survey)
    # 1.45 ft of fill at A by the lot's table: existing 212.38, finished 213.83.
    gained = limit(plan, "D-A", "frost")[-2] - limit(demo_plan, "D-A", "frost")[-2]
    assert gained / FOOT == pytest.approx(1.45, abs=0.12)
    assert (limit(plan, "C-D", "frost") >= limit(demo_plan, "C-D", "frost") - 1e-9).all()


def test_an_unheated_garage_lets_frost_in(demo_plan: Plan, demo_tables: dict[str, Any], survey: str) -> None:
    cold = "frost under the unheated floor"
    assert cold not in reasons(demo_plan, "B-H")
    demo_tables["parts"][1]["heated"] = False
    plan = planned(demo_tables, survey)
    # Slab at 214.00 ft is outdoor grade for the wall beside it and for the garage's own walls.
    assert limit(plan, "B-H", cold) / FOOT == pytest.approx(np.full(56, 214.0 - 4.5), abs=1e-9)
    assert cold in reasons(plan, "F-G")
    assert cold not in reasons(plan, "C-D")


def test_undisturbed_ground_and_bearing(demo_tables: dict[str, Any], survey: str) -> None:
    demo_tables["frost"] |= {"depth": "6 in", "into_undisturbed": "30 in", "bearing_level": "204.00 ft"}
    plan = planned(demo_tables, survey)
    line = plan.line("C-D")
    lowest = np.minimum(line.existing[:-1], line.existing[1:])
    assert (limit(plan, "C-D", "undisturbed ground") <= lowest - 30 * INCH + 1e-9).all()
    assert limit(plan, "C-D", "bearing ground") / FOOT == pytest.approx(np.full(176, 204.0), abs=1e-9)
    assert all(bottom.max() / FOOT <= 204.0 + 1e-6 for bottom in plan.steppings[0].bottoms.values())


def test_a_wall_inside_the_building_sees_no_frost(demo_tables: dict[str, Any], survey: str) -> None:
    demo_tables["corners"] |= {
        "P": {"east": "2122 ft", "north": "5220 ft"},
        "Q": {"east": "2122 ft", "north": "5190 ft"},
    }
    demo_tables["parts"].append(
        {
            "name": "bearing wall",
            "use": "interior wall",
            "corners": ["P", "Q"],
            "ring": False,
            "slab_top": "206'-0 1/2\"",
            "foam_over_footing": "2 1/2 in",
        }
    )
    plan = planned(demo_tables, survey)
    assert "frost" not in reasons(plan, "P-Q")
    assert {"P-Q", "A-P", "P-B", "Q-D"} <= {line.wall.name for line in plan.lines}
    bottoms = plan.steppings[0].bottoms
    # It tees into the house at both ends: level with it or a step at the tee, never above the floor build-up.
    assert (bottoms["P-Q"] <= (204 + 2 / 3) * FOOT + 1e-6).all()
    assert any(
        chain.lines == ("P-Q",) and chain.start_branches and chain.end_branches for chain in plan.chains
    )


def test_pads_and_stoops_find_their_level(demo_tables: dict[str, Any], survey: str) -> None:
    size = {"length": "3 ft", "width": "3 ft", "thickness": "12 in"}
    demo_tables["extras"] = [
        {"name": "post", "east": "2122 ft", "north": "5205 ft", "inside": "house", **size},
        {"name": "stoop", "kind": "stoop", "east": "2095 ft", "north": "5205 ft", **size},
        {"name": "porch post", "kind": "porch footing", "east": "2110 ft", "north": "5224 ft", **size},
    ]
    plan = planned(demo_tables, survey)
    post, stoop, porch = plan.extras
    floor = (206 + 0.5 / 12 - 4 / 12 - 2.5 / 12 - 1) * FOOT
    assert post.binds == "floor build-up"
    assert floor - 8 * INCH < post.bottom.level <= floor + 1e-9
    for extra in (stoop, porch):
        assert plan.existing is not None
        grade = float(plan.existing.grade(extra.east, extra.north))
        assert extra.bottom.level <= grade - 4.5 * FOOT + 0.6
    # Four feet from the house the dig's side has risen 4 - 1.5 - 2.92 < 0: it stands on the dig's floor or below.
    assert porch.binds == "the basement's dig"
    assert porch.bottom.level <= (204 + 2 / 3) * FOOT + 1e-6


def test_side_frost_sees_a_drop_off() -> None:
    """Beside a bank that falls a footing's full cover, open air comes closer than straight up."""
    station = inch_stations(10.0)
    offset = np.arange(0.0, 2.01, 0.2)
    level = np.zeros(len(station))
    flat = np.full((len(station), len(offset)), 1.4)
    cover = frost_cover(station, level, 0.0, offset, flat, 1.4)
    assert cover.straight_down == pytest.approx(np.full(len(station), 1.4))
    assert cover.nearest_air == pytest.approx(np.full(len(station), 1.4))
    assert (cover.nearest_air >= cover.side_allowance).all()
    # A retaining wall 0.4 m out whose foot is a metre lower.
    drop = flat.copy()
    drop[:, offset > 0.3] = 0.4
    near = frost_cover(station, level, 0.0, offset, drop, 1.4)
    assert near.straight_down == pytest.approx(np.full(len(station), 1.4))
    assert near.nearest_air == pytest.approx(np.full(len(station), np.hypot(0.4, 0.4)))
    # Along the wall: past 5 m the grade lies a metre lower.
    along = flat.copy()
    along[station > 5.0] = 0.4
    ends = frost_cover(station, level, 0.0, offset, along, 1.4)
    just = int(np.argmin(abs(station - 4.9)))
    assert ends.nearest_air[just] < 0.55
    assert ends.nearest_air[0] == pytest.approx(1.4)


def test_an_even_slope_passes_from_the_side() -> None:
    # Closed form: over an even slope s, the way to the surface is cover × cos(atan s) [derived].
    station, offset = inch_stations(8.0), np.arange(0.0, 2.01, 0.02)
    slope = 0.3
    grade = 1.4 - slope * offset[None, :] + np.zeros((len(station), 1))
    cover = frost_cover(station, np.zeros(len(station)), 0.0, offset, grade, 1.4)
    assert cover.nearest_air == pytest.approx(np.full(len(station), 1.4 / np.hypot(1, slope)), rel=1e-3)
    assert (cover.nearest_air >= cover.side_allowance).all()
