"""ASHRAE Fundamentals, residential below-grade walls and floors: equations [memory], tables as printed [memory]."""

from __future__ import annotations

import pytest

from foundation.heat.residential import below_grade_floor_transmittance, below_grade_wall_transmittance

FOOT = 0.3048  # [m]
TRANSMITTANCE = 5.678263  # one Btu/(h·ft²·°F) [W/(m²·K)]
CONDUCTIVITY = 1.730735  # one Btu/(h·ft·°F) [W/(m·K)]
GROUND = 0.8 * CONDUCTIVITY
BARE = 1.47  # wall or floor with its film [h·ft²·°F/Btu]


@pytest.mark.parametrize(
    ("foam", "depth", "printed"),
    [
        (0, 1, 0.432),
        (0, 4, 0.235),
        (0, 8, 0.157),
        (10, 1, 0.080),
        (10, 4, 0.066),
        (10, 8, 0.055),
    ],
)
def test_wall(foam: float, depth: float, printed: float) -> None:
    found = below_grade_wall_transmittance(0, depth * FOOT, GROUND, (BARE + foam) / TRANSMITTANCE)
    assert found / TRANSMITTANCE == pytest.approx(printed, abs=0.0005, rel=0)


@pytest.mark.parametrize(("width", "printed"), [(20, 0.042), (28, 0.035)])
def test_floor(width: float, printed: float) -> None:
    found = below_grade_floor_transmittance(width * FOOT, 4 * FOOT, GROUND, BARE / TRANSMITTANCE)
    assert found / TRANSMITTANCE == pytest.approx(printed, abs=0.0005, rel=0)


def test_strips_add_up() -> None:
    """Two strips carry what the whole wall carries [derived]."""
    upper = below_grade_wall_transmittance(0, 1.0, GROUND, 0.5) * 1.0
    lower = below_grade_wall_transmittance(1.0, 2.4, GROUND, 0.5) * 1.4
    assert upper + lower == pytest.approx(
        below_grade_wall_transmittance(0, 2.4, GROUND, 0.5) * 2.4, rel=1e-12
    )


def test_refuses_a_strip_upside_down() -> None:
    with pytest.raises(ValueError, match="height of the strip of wall is -1 m; it has to be more than 0"):
        below_grade_wall_transmittance(2.0, 1.0, GROUND, 0.5)
