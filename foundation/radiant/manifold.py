"""Loops of one manifold: what flows, what each valve adds, what the pump lifts, and what the system holds.

A loop gives its heat, up and down, as mass flow times heat capacity times the fall of temperature; friction takes
the fluid at one mean temperature. Pressure of the heater, mains and open valves comes on top.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from scipy.optimize import brentq

from foundation.model.radiant import Fluid, FluidState, Loop, LoopFlow, ManifoldFlow
from foundation.radiant.fluids import fluid_state, volume_fraction_from_mass
from foundation.radiant.limits import positive, within
from foundation.radiant.pipe import bore, pipe_flow

GRAVITY = 9.80665
"""Standard. [m/s²]"""
_LEAST, _MOST = 1e-9, 1e3  # flows that any tube's lies between [kg/s]


def balance(loops: Sequence[Loop], fluid: Fluid, mean_temperature: float) -> ManifoldFlow:
    """Flow of each loop for its heat and fall of temperature, and what the valves add to make the loops alike.

    Parameters
    ----------
    loops : sequence of Loop
        The loops, at least one.
    fluid : Fluid
        What runs.
    mean_temperature : float
        Of the fluid. [°C]

    Returns
    -------
    ManifoldFlow
        Flows, pressures and head; the loop that loses most has its valve wide open, adding nothing.

    Raises
    ------
    ValueError
        If there is no loop, or a loop's number is not positive.
    """
    _check(loops)
    state = fluid_state(fluid, mean_temperature)
    flows = [loop.heat / (state.heat_capacity * loop.delta_t) for loop in loops]
    lost = [_lost(loop, state, flow) for loop, flow in zip(loops, flows, strict=True)]
    return _manifold(loops, fluid, state, flows, max(lost))


def flows_at(
    loops: Sequence[Loop],
    fluid: Fluid,
    mean_temperature: float,
    pressure: float,
    valves: Sequence[float] | None = None,
) -> ManifoldFlow:
    """Flow of each loop at a pressure that the pump gives.

    Parameters
    ----------
    loops : sequence of Loop
        The loops, at least one; their wanted falls of temperature do not enter.
    fluid : Fluid
        What runs.
    mean_temperature : float
        Of the fluid. [°C]
    pressure : float
        Between the two bars of the manifold, > 0. [Pa]
    valves : sequence of float, optional
        What each valve takes per square of the flow, as `valve_coefficients` gives it; wide open without.
        [Pa·s²/kg²]

    Returns
    -------
    ManifoldFlow
        Flows, and the fall of temperature that each loop's heat then takes.

    Raises
    ------
    ValueError
        If there is no loop, a number is not positive, or the valves are not as many as the loops.
    """
    _check(loops)
    positive(pressure, "the pressure on the manifold", "Pa")
    given = (0.0,) * len(loops) if valves is None else tuple(valves)
    if len(given) != len(loops):
        raise ValueError(f"there are {len(given)} valves for {len(loops)} loops; one for each would do")
    state = fluid_state(fluid, mean_temperature)

    def flow(loop: Loop, valve: float) -> float:
        within(valve, 0.0, float("inf"), f"the valve of {loop.name}", "Pa·s²/kg²")
        return float(
            brentq(
                lambda mass_flow: _lost(loop, state, mass_flow) + valve * mass_flow**2 - pressure,
                _LEAST,
                _MOST,
                xtol=1e-15,
                rtol=1e-13,
            )
        )

    flows = [flow(loop, valve) for loop, valve in zip(loops, given, strict=True)]
    return _manifold(loops, fluid, state, flows, pressure)


def valve_coefficients(manifold: ManifoldFlow) -> tuple[float, ...]:
    """How far the valves of a balanced manifold are closed.

    Parameters
    ----------
    manifold : ManifoldFlow
        The manifold as balanced.

    Returns
    -------
    tuple of float
        What each valve takes per square of the flow. [Pa·s²/kg²]
    """
    return tuple(loop.valve / loop.flow.mass_flow**2 for loop in manifold.loops)


def loops_volume(loops: Iterable[Loop]) -> float:
    """Fluid that the loops hold.

    Parameters
    ----------
    loops : iterable of Loop
        The loops.

    Returns
    -------
    float
        Volume; heater, mains and manifold come on top. [m³]
    """
    return sum(bore(loop.tube) * loop.length for loop in loops)


def glycol_volume(fluid: Fluid, volume: float) -> float:
    """Pure glycol to buy for a volume of mixture.

    Parameters
    ----------
    fluid : Fluid
        The mixture.
    volume : float
        Of the whole system, ≥ 0. [m³]

    Returns
    -------
    float
        Volume of glycol; the shrinkage of less than 1 % in mixing is left out. [m³]

    Raises
    ------
    ValueError
        If the volume is less than 0.
    """
    within(volume, 0.0, float("inf"), "the volume of the system", "m³")
    return volume * volume_fraction_from_mass(fluid.glycol_mass_fraction)


def expansion_volume(fluid: Fluid, volume: float, cold_temperature: float, hot_temperature: float) -> float:
    """What the expansion tank has to take in.

    Parameters
    ----------
    fluid : Fluid
        What runs.
    volume : float
        Of the whole system, filled cold, ≥ 0. [m³]
    cold_temperature, hot_temperature : float
        When filled, and at the hottest. [°C]

    Returns
    -------
    float
        Growth of the fluid; that of tube and steel, which eases it, is left out. [m³]

    Raises
    ------
    ValueError
        If the volume is less than 0, or hot is colder than cold.
    """
    within(volume, 0.0, float("inf"), "the volume of the system", "m³")
    within(hot_temperature - cold_temperature, 0.0, float("inf"), "hot less cold temperature", "K")
    cold, hot = fluid_state(fluid, cold_temperature), fluid_state(fluid, hot_temperature)
    return volume * (cold.density / hot.density - 1)


def _check(loops: Sequence[Loop]) -> None:
    if not loops:
        raise ValueError("the manifold has 0 loops; at least one would do")
    for loop in loops:
        positive(loop.length, f"the length of {loop.name}", "m")
        positive(loop.heat, f"the heat of {loop.name}", "W")
        positive(loop.delta_t, f"the fall of temperature of {loop.name}", "K")


def _lost(loop: Loop, state: FluidState, mass_flow: float) -> float:
    """Pressure that a flow loses along the tube. [Pa]"""
    return pipe_flow(loop.tube, state, mass_flow).gradient * loop.length


def _manifold(
    loops: Sequence[Loop], fluid: Fluid, state: FluidState, flows: Sequence[float], pressure: float
) -> ManifoldFlow:
    done = []
    for loop, mass_flow in zip(loops, flows, strict=True):
        flow = pipe_flow(loop.tube, state, mass_flow)
        lost = flow.gradient * loop.length
        done.append(
            LoopFlow(
                loop=loop,
                flow=flow,
                volume_flow=mass_flow / state.density,
                delta_t=loop.heat / (mass_flow * state.heat_capacity),
                pressure=lost,
                valve=max(pressure - lost, 0.0),  # less than 0 by rounding alone
            )
        )
    total, heat = sum(flows), sum(loop.heat for loop in loops)
    return ManifoldFlow(
        loops=tuple(done),
        fluid=fluid,
        state=state,
        mass_flow=total,
        volume_flow=total / state.density,
        heat=heat,
        delta_t=heat / (total * state.heat_capacity),
        pressure=pressure,
        head=pressure / (state.density * GRAVITY),
    )
