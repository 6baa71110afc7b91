"""The row of tubes: figures from its formula and from finite elements, made apart from this code [derived]."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from foundation.model.radiant import FloorBuildUp, Loop, Tube
from foundation.radiant.fluids import WATER, fluid_state
from foundation.radiant.manifold import balance
from foundation.radiant.pipe import pex_tubes
from foundation.radiant.tube_row import floor_output, floor_output_for, largest_flux

INCH, FOOT = 0.0254, 0.3048
FLUX = 3.15459  # one Btu/(h·ft²) [W/m²]
RESISTANCE = 0.176110  # R-1 [m²·K/W]
R_10 = 1.761  # as the figures have it [m²·K/W]
GPM = 6.30902e-5  # [m³/s]

TUBE = Tube("1/2", 0.015875, 0.015875 - 2 * 0.0019, 0.41, 0.127, 91.44)
FLOOR = FloorBuildUp(4 * INCH, 1.73, 2 * INCH, 9 * INCH, TUBE, 0.0, R_10)
WIDE = replace(FLOOR, spacing=12 * INCH)
ROOM, GROUND = 20.0, 10.0


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32


@pytest.mark.parametrize(
    ("floor", "up", "down"),
    [
        (FLOOR, 5.4204, 0.3692),
        (WIDE, 4.6030, 0.3135),
        (replace(FLOOR, finish_resistance=0.1), 3.4717, 0.4304),
        (replace(FLOOR, slab_conductivity=1.40), 4.9967, 0.3583),
    ],
)
def test_per_kelvin(floor: FloorBuildUp, up: float, down: float) -> None:
    found = floor_output(floor, 0.0, 0.0, 1.0)
    assert found.up == pytest.approx(up, abs=0.00005, rel=0)
    assert found.down == pytest.approx(down, abs=0.00005, rel=0)


@pytest.mark.parametrize(("floor", "most"), [(FLOOR, 86.21), (WIDE, 77.15)])
def test_peak_of_29(floor: FloorBuildUp, most: float) -> None:
    assert largest_flux(floor, ROOM, GROUND, 29.0) == pytest.approx(most, abs=0.005, rel=0)


def test_bare_floor_at_22_btu() -> None:
    found = floor_output_for(FLOOR, ROOM, GROUND, 69.4)
    assert found.water_temperature == pytest.approx(33.13, abs=0.005, rel=0)
    assert found.down == pytest.approx(10.31, abs=0.005, rel=0)
    assert found.floor_mean == pytest.approx(26.43, abs=0.005, rel=0)
    assert found.floor_peak == pytest.approx(27.26, abs=0.005, rel=0)


def test_hardwood_at_22_btu() -> None:
    """3/4 in, R-0.68."""
    found = floor_output_for(replace(FLOOR, finish_resistance=0.68 * RESISTANCE), ROOM, GROUND, 69.4)
    assert found.water_temperature == pytest.approx(41.74, abs=0.005, rel=0)
    assert found.down == pytest.approx(14.95, abs=0.005, rel=0)


@pytest.mark.parametrize(
    ("floor", "middle", "on_foam"), [(FLOOR, 33.1, 36.54), (WIDE, 35.6, 39.88)], ids=["9 in", "12 in"]
)
def test_depth_costs_water(floor: FloorBuildUp, middle: float, on_foam: float) -> None:
    """Tube at mid-depth, and on the foam; the latter by finite elements, which the formula meets to 0.1 K."""
    found = floor_output_for(floor, ROOM, GROUND, 69.4).water_temperature
    assert found == pytest.approx(middle, abs=0.05, rel=0)
    deep = replace(floor, axis_depth=4 * INCH - TUBE.outside_diameter / 2)
    assert floor_output_for(deep, ROOM, GROUND, 69.4).water_temperature == pytest.approx(
        on_foam, abs=0.1, rel=0
    )


@pytest.mark.parametrize(("btu", "share"), [(22, 14.9), (15, 18.6), (10, 24.5)])
def test_share_that_goes_down(btu: float, share: float) -> None:
    """R-10 over ground at 10 °C, in % of what goes up."""
    found = floor_output_for(FLOOR, ROOM, GROUND, btu * FLUX)
    assert 100 * found.down / found.up == pytest.approx(share, abs=0.05, rel=0)


@pytest.mark.parametrize(("btu", "least"), [(22, 15), (15, 18), (10, 25)])
def test_foam_for_a_tenth_downward(btu: float, least: float) -> None:
    """R-15, R-18 or a little more, R-25."""

    def share(r_value: float) -> float:
        found = floor_output_for(
            replace(FLOOR, resistance_below=r_value * RESISTANCE), ROOM, GROUND, btu * FLUX
        )
        return found.down / found.up

    assert share(least + 1) < 0.1 < share(least - 1)


def test_end_to_end() -> None:
    """600 ft² at 22 Btu/h·ft² from a slab of 4 in with 1/2 in tube at 9 in, R-10 over ground at 50 °F."""
    half = pex_tubes()["1/2"]
    floor = FloorBuildUp(4 * INCH, 1.73, 2 * INCH, 9 * INCH, half, 0.0, R_10)
    room, ground, up = celsius(68), celsius(50), 22 * FLUX
    bare = floor_output_for(floor, room, ground, up, inf)
    assert 600 * bare.up / FLUX == pytest.approx(13_200, abs=0.5, rel=0)
    assert 600 * bare.down / FLUX == pytest.approx(1_962, abs=0.5, rel=0)
    assert fahrenheit(bare.water_temperature) == pytest.approx(91.6, abs=0.05, rel=0)

    # 800 ft of tube in three loops, each with two leaders of 10 ft.
    tube = 600 * FOOT**2 / floor.spacing / FOOT
    length = tube / 3 + 20
    assert tube == pytest.approx(800, abs=1e-6, rel=0)
    assert length == pytest.approx(287, abs=0.5, rel=0)
    area = 600 * FOOT**2
    heat = (bare.up + bare.down) * area
    by_rule = 600 * (bare.up + bare.down) / FLUX / (500 * 15)  # 500 Btu/h for each gpm and °F [gpm]
    assert by_rule == pytest.approx(2.02, abs=0.005, rel=0)

    loops = [Loop(f"loop {number}", half, length * FOOT, heat / 3, 15 / 1.8) for number in (1, 2, 3)]
    for at, feet in ((100, 5.8), (92, 6.0)):
        state = fluid_state(WATER, celsius(at))
        # The rule's flow, which the printed heads go with: heat that makes the real ρc give it.
        heat_by_rule = by_rule / 3 * GPM * state.density * state.heat_capacity * 15 / 1.8
        ruled = balance([replace(loop, heat=heat_by_rule) for loop in loops], WATER, celsius(at))
        assert ruled.volume_flow / GPM == pytest.approx(by_rule, rel=1e-12)
        assert ruled.head / FOOT == pytest.approx(feet, abs=0.05, rel=0)

    manifold = balance(loops, WATER, celsius(92))
    wet = floor_output_for(floor, room, ground, up, manifold.loops[0].flow.film)
    assert fahrenheit(wet.water_temperature) == pytest.approx(92.0, abs=0.05, rel=0)
    assert fahrenheit(wet.water_temperature) + 15 / 2 == pytest.approx(99.5, abs=0.05, rel=0)
    assert manifold.mass_flow * manifold.state.heat_capacity * manifold.delta_t == pytest.approx(
        (wet.up + wet.down) * area, rel=1e-12
    )
    # The rule of 500 asks 0.7 % less flow than the water's own heat capacity at 100 °F.
    own = balance(loops, WATER, celsius(100)).volume_flow / GPM
    assert 100 * (1 - by_rule / own) == pytest.approx(0.7, abs=0.05, rel=0)


def test_end_to_end_against_a_chart() -> None:
    """A textbook chart gives 98 °F supply with a 20 °F drop, 88 °F mean [read]; it has no slab of its own."""
    half = pex_tubes()["1/2"]
    floor = FloorBuildUp(4 * INCH, 1.73, 2 * INCH, 9 * INCH, half, 0.0, R_10)
    found = floor_output_for(floor, celsius(68), celsius(50), 22 * FLUX, 2300.0)
    assert fahrenheit(found.water_temperature) == pytest.approx(88, abs=5)


def test_cover_of_a_tube_at_mid_depth() -> None:
    """1.69 in over a 1/2 in tube in a 4 in slab, which fails a rule of 2 in."""
    cover = FLOOR.axis_depth - TUBE.outside_diameter / 2
    assert cover / INCH == pytest.approx(1.69, abs=0.005, rel=0)
