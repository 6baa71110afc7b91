"""The solid against its own sections where no corner is near, and by symmetry."""

from __future__ import annotations

import numpy as np
import pytest

from foundation.heat.solid import Solid, solid_of, strip_of
from foundation.model.section import Section
from foundation.model.solid import Shares, SolidStretch
from tests.heat.sections import FOAM_INCHES, basement, slab_edge

CORNERS = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def ring(section: Section, length: float, width: float, quarter: int = 0) -> list[SolidStretch]:
    """A section round a rectangle, turned by quarters of a turn."""
    turn = np.linalg.matrix_power(np.array([[0.0, -1.0], [1.0, 0.0]]), quarter)
    corners = [tuple(turn @ (x * length, y * width)) for x, y in CORNERS]
    outward = [tuple(np.round(turn @ way)) for way in ((0, -1), (1, 0), (0, 1), (-1, 0))]
    return [
        SolidStretch(corners[n], corners[(n + 1) % 4], outward[n], section)  # type: ignore[arg-type]
        for n in range(4)
    ]


def house(stretches: list[SolidStretch], fineness: float = 1.0) -> Solid:
    return solid_of(stretches, {"house": [each.start for each in stretches]}, None, fineness)


def shares(solid: Solid) -> Shares:
    found, year, imbalance = solid.shares()
    assert year is None
    assert imbalance < 1e-9
    return found["house"]


@pytest.mark.parametrize(
    "section",
    [
        basement(outside=FOAM_INCHES, slope=True),
        basement(inside=FOAM_INCHES, under=FOAM_INCHES),
        slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES),
    ],
    ids=["basement, outside", "basement, inside", "slab edge"],
)
def test_long_house_is_its_sections(section: Section) -> None:
    """What ten metres more lose, far from both ends, is ten metres of two strips, whose floors meet in the middle."""
    width = 2 * (section.half_width - section.inner_face)
    found = []
    for length in (90.0, 100.0):
        stretches = ring(section, length, width)
        found.append(shares(house(stretches)))
    strip = strip_of(stretches, 0).shares()[0]["house"]
    for name in ("floor", "wall", "below_grade", "total"):
        longer = getattr(found[1], name) - getattr(found[0], name)
        assert longer.real == pytest.approx(20 * getattr(strip, name).real, rel=0.003)


def test_turned_and_mirrored() -> None:
    """Rows and columns change places, and grids stay the same."""
    section = basement(3.0, outside=FOAM_INCHES)
    straight = shares(house(ring(section, 12.0, 8.0), 0.5))
    for quarter in (1, 2, 3):
        turned = shares(house(ring(section, 12.0, 8.0, quarter), 0.5))
        assert turned.floor.real == pytest.approx(straight.floor.real, rel=1e-3)
        assert turned.wall.real == pytest.approx(straight.wall.real, rel=1e-3)
    assert straight.between == 0
    assert straight.below_grade.real < straight.total.real


def test_corners_of_foam_outside_lose_more_than_a_straight_wall() -> None:
    """In the ground heat spreads round an outside corner; a straight wall of the same outer length has none."""
    section = basement(3.0, outside=FOAM_INCHES)
    stretches = ring(section, 10.0, 10.0)
    strip = strip_of(stretches, 0).shares()[0]["house"]
    assert 1.0 < shares(house(stretches)).wall.real / (40 * strip.wall.real) < 1.1


def test_year_of_a_solid() -> None:
    """Slow in the ground: the year's wave is less than the steady flow and comes late; both balance."""
    steady, year, imbalance = house(ring(basement(3.0, outside=FOAM_INCHES), 10.0, 8.0), 0.4).shares(
        year=True
    )
    assert imbalance < 1e-9
    assert year is not None
    assert abs(year["house"].total) < steady["house"].total.real
    assert -1.0 < np.angle(year["house"].total) < 0
    assert abs(year["house"].floor) < 0.6 * steady["house"].floor.real


def test_angles_are_refused() -> None:
    stretches = ring(basement(), 10.0, 8.0)
    askew = SolidStretch((0.0, 0.0), (7.0, 7.0), (0.6, -0.8), stretches[0].section)
    with pytest.raises(ValueError, match="stands at an angle to the others"):
        solid_of([askew, *stretches[1:]], {"house": [each.start for each in stretches]}, None)
