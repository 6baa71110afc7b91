"""Warming of the slab against the slowest mode of two-dimensional conduction (scikit-fem), and against stepping."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from foundation.radiant.tube_row import row_resistances
from foundation.radiant.warm_up import time_constant, warm_up_time
from tests.radiant.row_mesh import RowMesh
from tests.radiant.test_tube_row import BELOW, FLOOR, ROOM

CAPACITY = 2.0e6  # concrete [J/(m³·K)] [practice]


@pytest.mark.parametrize("finish", [0.0, 0.1])
@pytest.mark.parametrize("spacing", [0.1524, 0.2286, 0.3048])
@pytest.mark.parametrize(
    ("depth", "least", "most"), [(0.0508, 1.0, 1.125), (0.03, 1.0, 4 / 3), (0.0936, 0.89, 4 / 3)]
)
def test_lump_against_the_slowest_mode(
    depth: float, least: float, most: float, spacing: float, finish: float
) -> None:
    """The bounds that the module states."""
    floor = replace(FLOOR, spacing=spacing, axis_depth=depth, finish_resistance=finish)
    assert least <= RowMesh(floor).slowest(CAPACITY) / time_constant(floor, CAPACITY) <= most


def test_heater_against_stepping() -> None:
    found = warm_up_time(FLOOR, CAPACITY, 150.0, ROOM, BELOW, 10.0, 28.0)
    way = row_resistances(FLOOR)
    slab, time, step = 10.0, 0.0, 1.0
    while slab < 28.0:
        slab += step * (150.0 - (slab - ROOM) / way.up - (slab - BELOW) / way.down) / (CAPACITY * 0.1016)
        time += step
    assert found == pytest.approx(time, rel=1e-3)


def test_never_and_already() -> None:
    assert warm_up_time(FLOOR, CAPACITY, 20.0, ROOM, BELOW, 10.0, 28.0) == inf
    assert warm_up_time(FLOOR, CAPACITY, 150.0, ROOM, BELOW, 28.0, 28.0) == 0
    with pytest.raises(ValueError, match="the heat input is 0 W/m²; it has to be more than 0"):
        warm_up_time(FLOOR, CAPACITY, 0.0, ROOM, BELOW, 10.0, 28.0)
