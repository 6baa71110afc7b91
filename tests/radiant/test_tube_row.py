"""The row of tubes against finite elements (scikit-fem), and what holds of any floor."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foundation.model.radiant import FloorBuildUp, Tube
from foundation.radiant.tube_row import (
    floor_output,
    floor_output_for,
    floor_profile,
    largest_flux,
    row_resistances,
)
from tests.radiant.row_mesh import RowMesh

TUBE = Tube("1/2", 0.015875, 0.012075, 0.41, 0.127, 91.44)
FLOOR = FloorBuildUp(0.1016, 1.73, 0.0508, 0.2286, TUBE, 0.0, 1.761)
ROOM, BELOW, WATER = 20.0, 10.0, 40.0

floors = st.builds(
    lambda thickness, conductivity, place, spacing, finish, below, film: FloorBuildUp(
        thickness,
        conductivity,
        0.012 + place * (thickness - 0.024),
        spacing,
        TUBE,
        finish,
        below,
        film,
    ),
    st.floats(0.05, 0.2),
    st.floats(0.5, 2.5),
    st.floats(0, 1),
    st.floats(0.08, 0.45),
    st.floats(0, 0.4),
    st.floats(0.2, 8),
    st.floats(6, 12),
)
temperatures = st.floats(-20, 60)


@pytest.mark.parametrize(
    ("thickness", "conductivity", "depth", "spacing", "finish", "below", "film"),
    [
        (0.1016, 1.73, 0.0508, 0.1524, 0.0, 1.761, inf),
        (0.1016, 1.73, 0.0508, 0.2286, 0.0, 1.761, inf),
        (0.1016, 1.73, 0.0508, 0.3048, 0.0, 1.761, 2000.0),
        (0.1016, 1.40, 0.0508, 0.2286, 0.1, 1.761, inf),
        (0.1016, 1.73, 0.0508, 0.2286, 0.3, 0.5, 130.0),
        (0.1016, 1.73, 0.0816, 0.2286, 0.0, 1.761, inf),
        (0.1016, 1.73, 0.0300, 0.3048, 0.12, 3.0, inf),
        (0.1524, 1.73, 0.0762, 0.4000, 0.0, 1.761, inf),
        (0.1524, 1.00, 0.1200, 0.3048, 0.05, 1.0, inf),
    ],
)
def test_against_finite_elements(
    thickness: float,
    conductivity: float,
    depth: float,
    spacing: float,
    finish: float,
    below: float,
    film: float,
) -> None:
    """Fluxes to 0.1 %, peak over the room to 0.3 %."""
    floor = FloorBuildUp(thickness, conductivity, depth, spacing, TUBE, finish, below)
    ours = floor_output(floor, ROOM, BELOW, WATER, film)
    theirs = RowMesh(floor).steady(ROOM, BELOW, WATER, film)
    assert ours.up == pytest.approx(theirs.up, rel=1e-3)
    assert ours.down == pytest.approx(theirs.down, rel=1e-3)
    assert ours.floor_peak - ROOM == pytest.approx(theirs.peak - ROOM, rel=3e-3)


@pytest.mark.parametrize(
    ("thickness", "conductivity", "depth", "spacing", "finish"),
    [
        (0.1016, 2.0, 0.0111, 0.3048, 0.3),
        (0.1016, 1.0, 0.0111, 0.3048, 0.0),
        (0.0381, 1.0, 0.019, 0.3048, 0.0),
    ],
)
def test_close_to_the_surface(
    thickness: float, conductivity: float, depth: float, spacing: float, finish: float
) -> None:
    """A line source is less like a tube here: fluxes still to 0.1 %, the peak over the room to 0.45 %."""
    floor = FloorBuildUp(thickness, conductivity, depth, spacing, TUBE, finish, 1.761)
    ours, theirs = floor_output(floor, ROOM, BELOW, WATER), RowMesh(floor).steady(ROOM, BELOW, WATER)
    assert ours.up == pytest.approx(theirs.up, rel=1e-3)
    assert ours.down == pytest.approx(theirs.down, rel=1e-3)
    assert ours.floor_peak - ROOM == pytest.approx(theirs.peak - ROOM, rel=4.5e-3)


@pytest.mark.parametrize("spacing", [0.2286, 0.3048])
def test_tube_lying_on_the_foam(spacing: float) -> None:
    """The docstring's 0.4 %: the foam turns the heat round the tube's underside, which line sources overlook."""
    floor = replace(FLOOR, spacing=spacing, axis_depth=0.1016 - 0.00795)
    ours, theirs = floor_output(floor, ROOM, BELOW, WATER), RowMesh(floor).steady(ROOM, BELOW, WATER)
    assert 0.002 < ours.up / theirs.up - 1 < 0.004
    assert 0 < ours.down / theirs.down - 1 < 0.002


def test_mesh_has_settled() -> None:
    """The finite elements are ten times finer than what they judge."""
    coarse = RowMesh(FLOOR).steady(ROOM, BELOW, WATER)
    fine = RowMesh(FLOOR, arc=128, wall=6, rays=40).steady(ROOM, BELOW, WATER)
    assert coarse.up == pytest.approx(fine.up, rel=1e-4)
    assert coarse.peak - ROOM == pytest.approx(fine.peak - ROOM, rel=2e-4)


@given(floors, temperatures, temperatures, temperatures)
@settings(max_examples=60, deadline=None)
def test_what_the_water_gives_goes_up_and_down(
    floor: FloorBuildUp, room: float, below: float, water: float
) -> None:
    found = floor_output(floor, room, below, water, 1500.0)
    way = row_resistances(floor, 1500.0)
    given_off = (water - found.slab_temperature) / way.water
    assert given_off == pytest.approx(found.up + found.down, rel=1e-9, abs=1e-9)


@given(floors, temperatures, temperatures, temperatures)
@settings(max_examples=60, deadline=None)
def test_the_inverse_returns(floor: FloorBuildUp, room: float, below: float, water: float) -> None:
    there = floor_output(floor, room, below, water)
    back = floor_output_for(floor, room, below, there.up)
    assert back.water_temperature == pytest.approx(water, abs=1e-8)
    assert back.floor_peak == pytest.approx(there.floor_peak, abs=1e-8)


@given(floors, st.floats(1, 30))
@settings(max_examples=60, deadline=None)
def test_largest_flux_meets_the_limit(floor: FloorBuildUp, over: float) -> None:
    most = largest_flux(floor, ROOM, BELOW, ROOM + over)
    assert floor_output_for(floor, ROOM, BELOW, most).floor_peak == pytest.approx(ROOM + over, abs=1e-9)


@given(floors)
@settings(max_examples=60, deadline=None)
def test_order_of_the_floor(floor: FloorBuildUp) -> None:
    found = floor_output(floor, ROOM, BELOW, WATER)
    assert BELOW < found.floor_least <= found.floor_mean <= found.floor_peak < WATER
    assert BELOW < found.slab_temperature < WATER


@given(floors, st.floats(1.05, 3))
@settings(max_examples=60, deadline=None)
def test_more_foam_loses_less(floor: FloorBuildUp, factor: float) -> None:
    less = floor_output(floor, ROOM, BELOW, WATER)
    more = floor_output(replace(floor, resistance_below=floor.resistance_below * factor), ROOM, BELOW, WATER)
    assert more.down < less.down
    assert more.up > less.up


def test_profile_repeats_and_keeps_its_mean() -> None:
    found = floor_output(FLOOR, ROOM, BELOW, WATER)
    across = np.linspace(0, 2 * FLOOR.spacing, 241)
    floor = floor_profile(FLOOR, found, across)
    assert floor[0] == pytest.approx(found.floor_peak, rel=1e-12)
    assert floor[60] == pytest.approx(found.floor_least, rel=1e-12)
    assert floor[120:] == pytest.approx(floor[:121], rel=1e-12)
    assert floor[:-1].mean() == pytest.approx(found.floor_mean, rel=1e-12)
    assert floor.max() == floor[0]


def test_equal_temperatures_move_nothing() -> None:
    found = floor_output(FLOOR, 15.0, 15.0, 15.0)
    assert found.up == pytest.approx(0, abs=1e-12)
    assert found.floor_peak == pytest.approx(15.0, abs=1e-12)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"slab_thickness": 0.0}, "the thickness of the slab is 0 m; it has to be more than 0"),
        ({"axis_depth": 0.005}, "the depth of the tube's axis below the top of the slab is 0.005 m; 0.0079"),
        ({"axis_depth": 0.1}, "the depth of the tube's axis below the top of the slab is 0.1 m"),
        ({"spacing": 0.01}, "the spacing of the tubes is 0.01 m; 0.015875 or more would do"),
        ({"finish_resistance": -0.1}, "the resistance of the finish is -0.1 m²·K/W; 0 or more would do"),
        ({"resistance_below": float("nan")}, "the resistance below the slab is nan"),
        ({"tube": replace(TUBE, inside_diameter=0.02)}, "outside less inside diameter of the tube is -0.004"),
    ],
)
def test_refuses_what_cannot_be(change: dict[str, object], sentence: str) -> None:
    with pytest.raises(ValueError) as caught:  # noqa: PT011 - the sentence is compared below
        floor_output(replace(FLOOR, **change), ROOM, BELOW, WATER)
    assert str(caught.value).startswith(sentence)
