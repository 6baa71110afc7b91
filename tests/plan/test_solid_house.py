"""The joined sections against the house as one solid: boxes, whose corners are alike, and the demo lot."""

from __future__ import annotations

import math
from typing import Any

import pytest

from foundation.model.solid import SolidCheck
from foundation.plan import Plan
from foundation.plan.heat import heat_of
from foundation.plan.solid_house import solid_house
from foundation.project import Job
from tests.conftest import planned
from tests.plan.test_heat import ANSWER, BASEMENT, SLAB, wide
from tests.plan.test_sections import foam
from tests.plan.walls import wall_tables


def checked(tables: dict[str, Any], fineness: float = 1.0) -> SolidCheck:
    found = solid_house(planned(tables), ANSWER, fineness)
    assert found.imbalance < 1e-9
    return found


@pytest.mark.parametrize(
    ("part", "foams", "by_shape"),
    [
        # Strips are as long as the walls outside: of a floor they take 4 % too much, and at corners
        # of walls foamed outside they leave out 4 % of what the ground spreads.
        (SLAB, {}, -0.043),
        (SLAB, {"under_slab": foam("2 in"), "slab_edge": foam("2 in")}, -0.037),
        (BASEMENT, {"outside": foam("2 in")}, 0.035),
        (BASEMENT, {"inside": foam("2 in")}, 0.000),
    ],
    ids=["slab bare", "slab foamed", "basement outside", "basement inside"],
)
def test_corners_of_a_box(part: dict[str, Any], foams: dict[str, Any], by_shape: float) -> None:
    """What four corners change, regression: on grids from 30,000 to 450,000 cells it moves by 0.3 % at most."""
    tables = wide(**part, foam=foams)
    house = checked(tables).parts["house"]
    assert house.by_shape == pytest.approx(by_shape, abs=0.005)
    assert house.solid.between == 0
    joined = heat_of(planned(tables), ANSWER)
    assert joined is not None
    assert house.joined.total.real == pytest.approx(joined.parts["house"].conductance.likely, rel=1e-9)
    assert house.joined.floor.real == pytest.approx(joined.floors["house"].conductance.likely, rel=1e-9)
    assert house.joined.below_grade.real == pytest.approx(joined.below_grade["house"], rel=1e-9)


@pytest.mark.parametrize("foams", [{}, {"under_slab": foam("2 in"), "slab_edge": foam("2 in")}])
def test_slab_as_a_solid_by_the_standard(foams: dict[str, Any]) -> None:
    """ISO 13370:2017 [formulae memory]: the solid, with its grid's error taken off, is 1 to 10 % over it."""
    tables = wide(**SLAB, foam=foams)
    house = checked(tables, 1.5).parts["house"]
    joined = heat_of(planned(tables), ANSWER)
    assert joined is not None
    solid = house.solid.below_grade.real * house.joined.below_grade.real / house.alike.below_grade.real
    assert 1.0 < solid / joined.standard["house"] < 1.11


def test_demo_lot(demo_plan: Plan) -> None:
    """Stepped footings, walkout, grade that falls, and a garage on the ground beside a basement.

    Together 2 % more than the sections. Of the house's own 6 % a twentieth of all its heat goes through the wall
    between into the ground under the garage, which therefore loses an eighth less than its sections.
    """
    found = solid_house(demo_plan, ANSWER, 0.5)
    assert found.imbalance < 1e-9
    house, garage = found.parts["house"], found.parts["garage"]
    assert 0.0 < found.by_shape < 0.03
    assert 0.04 < house.by_shape < 0.07
    assert -0.14 < garage.by_shape < -0.10
    assert house.solid.between.real == pytest.approx(0.05 * house.solid.total.real, rel=0.1)
    without = house.solid.total.real - house.solid.between.real
    assert without == pytest.approx(house.alike.total.real, rel=0.02)
    for part in found.parts.values():
        assert -0.1 < part.by_grid < 0


def test_turned_lot_is_the_same() -> None:
    """The box turned by 30° about its corner."""
    straight = wide(**SLAB, foam={"outside": foam("2 in")})
    turned = wide(**SLAB, foam={"outside": foam("2 in")})
    for name, corner in straight["corners"].items():
        east, north = (float(corner[way].split()[0]) for way in ("east", "north"))
        c, s = math.cos(math.pi / 6), math.sin(math.pi / 6)
        turned["corners"][name] = {
            "east": f"{c * east - s * north:.9f} ft",
            "north": f"{s * east + c * north:.9f} ft",
        }
    one, other = (checked(each, 0.5).parts["house"].solid for each in (straight, turned))
    assert other.floor.real == pytest.approx(one.floor.real, rel=1e-4)
    assert other.wall.real == pytest.approx(one.wall.real, rel=1e-4)


def test_unheated_parts_are_refused(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["parts"][1] |= {"heated": False, "floor_heated": False}
    with pytest.raises(ValueError, match="Part garage is not heated"):
        solid_house(planned(demo_tables, demo_job.survey), ANSWER)


def test_a_single_wall_is_refused() -> None:
    lone = wall_tables(
        "12 m", ["0 m", "12 m"], ["50 m", "50 m"], "1.2 m", {"slab_top": "50 m", "wall_thickness": "250 mm"}
    )
    with pytest.raises(ValueError, match="No part of the plan has an outline"):
        solid_house(planned(lone), ANSWER)
