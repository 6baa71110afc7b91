"""Flow in a tube: what holds of any flow; published figures stand in tests/sources/test_pipe_friction.py."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.radiant import Regime
from foundation.radiant.fluids import WATER, fluid_state, propylene_glycol
from foundation.radiant.pipe import bore, pex_tubes, pipe_flow

HALF = pex_tubes()["1/2"]
STATES = [fluid_state(WATER, 38.0), fluid_state(propylene_glycol(0.4), 30.0)]


@given(st.sampled_from(STATES), st.floats(1e-4, 0.5), st.floats(1.001, 2))
def test_more_flow_loses_more(state, mass_flow: float, factor: float) -> None:
    less, more = pipe_flow(HALF, state, mass_flow), pipe_flow(HALF, state, mass_flow * factor)
    assert more.gradient > less.gradient
    assert more.film >= less.film


@pytest.mark.parametrize("edge", [2300.0, 4000.0])
def test_regimes_join(edge: float) -> None:
    state = STATES[0]
    at = edge * state.viscosity * bore(HALF) / HALF.inside_diameter
    below, above = pipe_flow(HALF, state, at * (1 - 1e-9)), pipe_flow(HALF, state, at * (1 + 1e-9))
    assert below.regime != above.regime
    assert above.gradient == pytest.approx(below.gradient, rel=1e-7)
    assert above.film == pytest.approx(below.film, rel=1e-7)


@pytest.mark.parametrize(
    ("reynolds", "regime"),
    [(2000, Regime.LAMINAR), (2301, Regime.TRANSITION), (3999, Regime.TRANSITION), (4001, Regime.TURBULENT)],
)
def test_regime_is_told(reynolds: float, regime: Regime) -> None:
    state = STATES[0]
    found = pipe_flow(HALF, state, reynolds * state.viscosity * bore(HALF) / HALF.inside_diameter)
    assert found.reynolds == pytest.approx(reynolds, rel=1e-12)
    assert found.regime is regime


def test_laminar_flow_is_poiseuille() -> None:
    """Hagen and Poiseuille's exact law: gradient = 8 µ Q / (π r⁴)."""
    state, mass_flow = STATES[1], 0.005
    found = pipe_flow(HALF, state, mass_flow)
    exact = (
        8
        * state.viscosity
        * mass_flow
        / state.density
        / (3.141592653589793 * (HALF.inside_diameter / 2) ** 4)
    )
    assert found.regime is Regime.LAMINAR
    assert found.gradient == pytest.approx(exact, rel=1e-12)


def test_refuses_no_flow() -> None:
    with pytest.raises(ValueError, match="the flow in the tube is 0 kg/s; it has to be more than 0"):
        pipe_flow(HALF, STATES[0], 0.0)
