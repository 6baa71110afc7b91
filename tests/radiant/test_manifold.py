"""Loops of a manifold: heat, pressure and volume close, whatever the loops."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foundation.model.radiant import Loop
from foundation.radiant.fluids import WATER, fluid_state, propylene_glycol
from foundation.radiant.manifold import (
    balance,
    expansion_volume,
    flows_at,
    glycol_volume,
    loops_volume,
    valve_coefficients,
)
from foundation.radiant.pipe import pex_tubes

HALF = pex_tubes()["1/2"]

loops_of_any_kind = st.lists(
    st.builds(
        Loop,
        st.sampled_from(["a", "b"]),
        st.sampled_from(list(pex_tubes().values())),
        st.floats(10, 150),
        st.floats(100, 3000),
        st.floats(3, 12),
    ),
    min_size=1,
    max_size=6,
)
fluids = st.sampled_from([WATER, propylene_glycol(0.3), propylene_glycol(0.5)])


@given(loops_of_any_kind, fluids)
@settings(max_examples=50, deadline=None)
def test_heat_and_pressure_close(loops: list[Loop], fluid) -> None:
    found = balance(loops, fluid, 35.0)
    for loop, flow in zip(loops, found.loops, strict=True):
        assert flow.delta_t == pytest.approx(loop.delta_t, rel=1e-12)
        carried = flow.flow.mass_flow * found.state.heat_capacity * flow.delta_t
        assert carried == pytest.approx(loop.heat, rel=1e-12)
        assert flow.pressure + flow.valve == pytest.approx(found.pressure, rel=1e-12)
        assert flow.valve >= 0
    assert min(flow.valve for flow in found.loops) == 0
    carried = found.mass_flow * found.state.heat_capacity * found.delta_t
    assert carried == pytest.approx(sum(loop.heat for loop in loops), rel=1e-12)
    assert found.pressure == pytest.approx(found.head * found.state.density * 9.80665, rel=1e-12)


@given(loops_of_any_kind, fluids)
@settings(max_examples=25, deadline=None)
def test_set_valves_give_the_flows_back(loops: list[Loop], fluid) -> None:
    set_up = balance(loops, fluid, 35.0)
    run = flows_at(loops, fluid, 35.0, set_up.pressure, valve_coefficients(set_up))
    for wanted, found in zip(set_up.loops, run.loops, strict=True):
        assert found.flow.mass_flow == pytest.approx(wanted.flow.mass_flow, rel=1e-8)
        assert found.delta_t == pytest.approx(wanted.delta_t, rel=1e-8)


@given(loops_of_any_kind, fluids, st.floats(500, 60_000))
@settings(max_examples=25, deadline=None)
def test_flows_at_a_pressure(loops: list[Loop], fluid, pressure: float) -> None:
    found = flows_at(loops, fluid, 35.0, pressure)
    for loop, flow in zip(loops, found.loops, strict=True):
        assert flow.pressure == pytest.approx(pressure, rel=1e-6)
        carried = flow.flow.mass_flow * found.state.heat_capacity * flow.delta_t
        assert carried == pytest.approx(loop.heat, rel=1e-12)


def test_the_short_loop_starves_the_long_one_until_its_valve_is_set() -> None:
    loops = [Loop("long", HALF, 91.0, 1500.0, 8.0), Loop("short", HALF, 60.0, 1500.0, 8.0)]
    found = balance(loops, WATER, 35.0)
    assert found.loops[0].valve == 0
    assert found.loops[1].valve == pytest.approx(found.pressure * (1 - 60 / 91), rel=1e-12)
    unset = flows_at(loops, WATER, 35.0, found.pressure)
    assert unset.loops[0].flow.mass_flow == pytest.approx(
        unset.loops[0].loop.heat / (8 * found.state.heat_capacity)
    )
    assert unset.loops[1].flow.mass_flow > 1.2 * unset.loops[0].flow.mass_flow


def test_volumes() -> None:
    """1/2 in tube holds 0.921 gal per 100 ft [read]; water grows by its density, 999.70 to 983.20 kg/m³ [memory]."""
    volume = loops_volume([Loop("a", HALF, 3.048, 1.0, 1.0), Loop("b", HALF, 27.432, 1.0, 1.0)])
    assert volume / 0.003785411784 == pytest.approx(0.921, abs=0.0005)
    assert glycol_volume(propylene_glycol(0.4), volume) == pytest.approx(0.4 * volume, rel=1e-12)
    assert glycol_volume(WATER, volume) == 0
    assert expansion_volume(WATER, 1.0, 10.0, 60.0) == pytest.approx(999.70 / 983.20 - 1, rel=0.02)
    assert expansion_volume(propylene_glycol(0.4), 1.0, 10.0, 60.0) > 1.5 * expansion_volume(
        WATER, 1.0, 10.0, 60.0
    )
    assert expansion_volume(WATER, 1.0, 20.0, 20.0) == 0


def test_mass_does_not_change_in_warming() -> None:
    glycol = propylene_glycol(0.3)
    grown = 0.2 + expansion_volume(glycol, 0.2, 5.0, 50.0)
    assert grown * fluid_state(glycol, 50.0).density == pytest.approx(0.2 * fluid_state(glycol, 5.0).density)


def test_refusals() -> None:
    loop = Loop("east", HALF, 60.0, 1500.0, 8.0)
    with pytest.raises(ValueError, match="the manifold has 0 loops; at least one would do"):
        balance([], WATER, 35.0)
    with pytest.raises(ValueError, match="the fall of temperature of east is 0 K; it has to be more than 0"):
        balance([Loop("east", HALF, 60.0, 1500.0, 0.0)], WATER, 35.0)
    with pytest.raises(ValueError, match="there are 2 valves for 1 loops; one for each would do"):
        flows_at([loop], WATER, 35.0, 1e4, [0.0, 0.0])
    with pytest.raises(ValueError, match="hot less cold temperature is -10 K; 0 or more would do"):
        expansion_volume(WATER, 1.0, 30.0, 20.0)
