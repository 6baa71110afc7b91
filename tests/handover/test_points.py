"""Points for the stake-out, read back by the shot reader and compared with the plan's own geometry."""

from __future__ import annotations

import csv
import io
import math
from typing import Any

import numpy as np
import pytest
import shapely

from foundation.handover.points import CORNERS, DRAINS, EXTRAS, STAKES, STEPS, points_csv, stake_points
from foundation.plan import Plan
from foundation.project import Job
from foundation.site.shots import read_shots
from tests.conftest import planned
from tests.handover.samples import HOSTILE, named

FOOT = 0.3048
HASH = "0123456789"


@pytest.fixture(scope="module")
def text(demo_plan: Plan) -> str:
    return points_csv(demo_plan, demo_plan.steppings[0].name, HASH)


def rows(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_five_columns_with_unit_and_hash(text: str) -> None:
    head, *points = rows(text)
    assert head == ["P", "N [ft]", "E [ft]", "Z [ft]", f"D [revision {HASH}]"]
    assert {len(point) for point in points} == {5}
    numbers = [point[0] for point in points]
    assert len(set(numbers)) == len(numbers)
    assert all(number.isdigit() for number in numbers)
    for point in points:
        assert all(len(value.partition(".")[2]) == 3 for value in point[1:4])
    assert "#" not in text


def test_a_survey_reader_takes_them(text: str, demo_plan: Plan) -> None:
    shots, problems = read_shots(text, FOOT)
    assert not [problem for problem in problems if "column" in problem.sentence]
    wanted = stake_points(demo_plan, demo_plan.steppings[0].name)
    assert shots.point == tuple(str(point.number) for point in wanted)
    # Three places of a foot: half of the last one.
    for found, name in ((shots.north, "north"), (shots.east, "east"), (shots.elevation, "level")):
        np.testing.assert_allclose(found, [getattr(point, name) for point in wanted], atol=0.00051 * FOOT)


def test_corners_are_the_projects(text: str, demo_job: Job, demo_plan: Plan) -> None:
    """Every corner once for each level of footing there, at its place, with the top of footing."""
    stepping = demo_plan.steppings[0]
    tops: dict[str, set[float]] = {}
    for run in stepping.runs:
        wall = demo_plan.line(run.line).wall
        if run.start < 1e-6:
            tops.setdefault(wall.start, set()).add(round(run.top / FOOT, 3))
        if run.end > wall.length - 1e-6:
            tops.setdefault(wall.end, set()).add(round(run.top / FOOT, 3))
    found: dict[str, set[float]] = {}
    for number, north, east, level, said in rows(text)[1:]:
        if CORNERS <= int(number) < STAKES:
            name = said.split()[1]
            corner = demo_job.project.corners[name]
            assert (float(north), float(east)) == pytest.approx((corner.north / FOOT, corner.east / FOOT))
            found.setdefault(name, set()).add(float(level))
    assert found == tops


def test_stakes_stand_off_on_the_walls_line(demo_plan: Plan) -> None:
    points = stake_points(demo_plan, demo_plan.steppings[0].name)
    stakes = [point for point in points if STAKES <= point.number < STEPS]
    assert len(stakes) == len(demo_plan.stakes)
    corners = [point for point in points if CORNERS <= point.number < STAKES]
    for stake in stakes:
        name, wall = stake.description.split()[1], stake.description.split()[3]
        own = [point for point in corners if point.description.split()[1] == name]
        assert min(math.dist((p.east, p.north), (stake.east, stake.north)) for p in own) == pytest.approx(
            5 * FOOT
        )
        line = demo_plan.line(wall).wall
        ends = np.array([line.start_at, line.end_at])
        side = ends[1] - ends[0]
        away = np.array([stake.east, stake.north]) - ends[0]
        assert abs(side[0] * away[1] - side[1] * away[0]) / line.length < 1e-9
        assert stake.level in {point.level for point in own}


def test_steps_stand_on_the_footing(demo_plan: Plan) -> None:
    """Centre and outer edge are half a footing's width apart, at the step's station from the wall's first corner."""
    stepping = demo_plan.steppings[0]
    points = [point for point in stake_points(demo_plan, stepping.name) if STEPS <= point.number < DRAINS]
    assert len(points) == 4 * len(stepping.steps)
    for place, step in enumerate(stepping.steps):
        wall = demo_plan.line(step.line).wall
        four = points[4 * place : 4 * place + 4]
        axis = shapely.LineString([wall.start_at, wall.end_at])
        for point in four:
            assert axis.project(shapely.Point(point.east, point.north)) == pytest.approx(step.station)
        apart = math.dist((four[0].east, four[0].north), (four[2].east, four[2].north))
        assert apart == pytest.approx(wall.footing_width / 2)
        assert [point.level for point in four] == pytest.approx(
            [step.before + wall.footing_thickness, step.after + wall.footing_thickness] * 2
        )


def test_drains(demo_plan: Plan) -> None:
    """The floor drain in the middle of its box; pipes outside the footing that never rise on their way out."""
    points = [p for p in stake_points(demo_plan, demo_plan.steppings[0].name) if DRAINS <= p.number < EXTRAS]
    floor = points[0]
    assert (floor.east / FOOT, floor.north / FOOT) == pytest.approx((2138.5, 5212.5))
    assert floor.level == pytest.approx((206 + 0.5 / 12) * FOOT)
    pipes = points[1:]
    assert pipes
    footing = shapely.union_all(
        [
            shapely.LineString([line.wall.start_at, line.wall.end_at]).buffer(line.wall.projection)
            for line in demo_plan.lines
            if line.wall.part == "house"
        ]
    )
    for low, high in zip(pipes[::2], pipes[1::2], strict=True):
        assert low.level <= high.level
        assert not footing.contains(shapely.Point(low.east, low.north))


def test_metres_where_the_shots_are_in_metres(demo_tables: dict[str, Any], demo_job: Job) -> None:
    plan = planned(demo_tables, demo_job.survey)
    answer = plan.steppings[0].name
    feet, metres = (rows(points_csv(plan, answer, HASH, unit=unit)) for unit in ("ft", "m"))
    assert metres[0][1] == "N [m]"
    for one, other in zip(feet[1:], metres[1:], strict=True):
        assert float(one[1]) * FOOT == pytest.approx(float(other[1]), abs=7e-4)


@pytest.mark.parametrize("name", HOSTILE)
def test_names_come_out_as_text(name: str) -> None:
    plan = named(name)
    found = rows(points_csv(plan, plan.steppings[0].name, HASH))
    assert {len(row) for row in found} == {5}
    said = [row[4] for row in found]
    assert f"PAD {name[:60]}; Z top" in said
    assert not [each for each in said if each.startswith(("=", "+", "-", "@"))]
