"""Spacing and water for a zone's load within the limits of its floor, and what is missing where none will do."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from foundation import materials
from foundation.heat.sections.loss import TURN
from foundation.model.floors import FinishCase, Remedy, SpacingChoice
from foundation.model.heat import ClimateUsed
from foundation.model.radiant import FloorBuildUp, Fluid, Tube
from foundation.model.zones import GroundResponse
from foundation.plan.floor_build import HOTTEST_SUPPLY, Finish
from foundation.plan.floor_ground import GROUND, ground_temperature
from foundation.radiant.fluids import fluid_state
from foundation.radiant.pipe import pipe_flow
from foundation.radiant.standards import second_opinions
from foundation.radiant.tube_row import (
    floor_output,
    floor_output_for,
    floor_profile,
    largest_flux,
    row_resistances,
)
from foundation.radiant.warm_up import time_constant

BASE = 65 / 1.8 - 32 / 1.8
"""Days colder than 65 °F are days of the heating season. [°C]"""
STRIPE = 65
"""Places across two tubes that the floor's surface is told at. [-]"""
MORE_FOAM = 10 * 0.1761101838
"""Foam that a floor is given to see what that brings, R-10. [m²·K/W]"""


@dataclass(frozen=True)
class Ask:
    """What is asked of a zone's floor.

    Attributes
    ----------
    air : float
        Air over it. [°C]
    limit : float
        Hottest that it may be anywhere. [°C]
    drop : float
        Supply over return. [K]
    ground : GroundResponse
        What lies below.
    load : float or None
        What it has to give; None where nobody has told. [W/m²]
    """

    air: float
    limit: float
    drop: float
    ground: GroundResponse
    load: float | None


def can_give(floor: FloorBuildUp, ask: Ask, film: float = math.inf) -> float:
    """Most that a floor gives within its own limit and the water's.

    Parameters
    ----------
    floor : FloorBuildUp
        The floor.
    ask : Ask
        What is asked of it.
    film : float
        From the water to the tube, inf to leave it out. [W/(m²·K)]

    Returns
    -------
    float
        Flux to the room, 0 where nothing is left to give. [W/m²]
    """
    by_floor = largest_flux(floor, ask.air, ask.ground.temperature, ask.limit)
    hottest = HOTTEST_SUPPLY - ask.drop / 2
    by_water = floor_output(floor, ask.air, ask.ground.temperature, hottest, film).up
    return max(min(by_floor, by_water), 0.0)


def slow_film(tube: Tube, fluid: Fluid) -> float:
    """Film of laminar flow at 40 °C, the least that a floor's loops have.

    Parameters
    ----------
    tube : Tube
        The tube.
    fluid : Fluid
        What runs in it.

    Returns
    -------
    float
        From the fluid to the tube. [W/(m²·K)]
    """
    state = fluid_state(fluid, 40.0)
    return pipe_flow(tube, state, 1e-4).film


def choices(
    floor_at: Callable[[float], FloorBuildUp], spacings: tuple[float, ...], ask: Ask, film: float
) -> tuple[SpacingChoice, ...]:
    """What each spacing would do for the load.

    Parameters
    ----------
    floor_at : callable
        The floor for a spacing.
    spacings : tuple of float
        Spacings, rising. [m]
    ask : Ask
        What is asked, with a load.
    film : float
        From the water to the tube; no flow is known yet. [W/(m²·K)]

    Returns
    -------
    tuple of SpacingChoice
        In their order.
    """
    assert ask.load is not None  # without a load there is nothing to choose by
    found = []
    for spacing in spacings:
        floor = floor_at(spacing)
        output = floor_output_for(floor, ask.air, ask.ground.temperature, ask.load, film)
        most = can_give(floor, ask, film)
        found.append(
            SpacingChoice(spacing, output.water_temperature, output.floor_peak, most, most >= ask.load)
        )
    return tuple(found)


def widest(found: tuple[SpacingChoice, ...]) -> float:
    """The widest spacing that carries the load; the closest where none does.

    Parameters
    ----------
    found : tuple of SpacingChoice
        What there is, by rising spacing.

    Returns
    -------
    float
        Spacing. [m]
    """
    return next((each.spacing for each in reversed(found) if each.carries), found[0].spacing)


def case_of(
    floor: FloorBuildUp,
    finish: Finish,
    ask: Ask,
    film: float,
    area: float,
    closest: float,
    climate: ClimateUsed | None,
) -> FinishCase:
    """A zone with one finish: water, floor, verdict, and what would close a gap.

    Parameters
    ----------
    floor : FloorBuildUp
        The floor.
    finish : Finish
        What covers it.
    ask : Ask
        What is asked of it.
    film : float
        From the water to the tube, inf while no flow is known. [W/(m²·K)]
    area : float
        Of the zone. [m²]
    closest : float
        Closest spacing that may be laid. [m]
    climate : ClimateUsed or None
        The year outdoors.

    Returns
    -------
    FinishCase
        The case.
    """
    most = can_give(floor, ask, film)
    up = ask.load if ask.load is not None else most
    output = floor_output_for(floor, ask.air, ask.ground.temperature, up, film)
    carries = None if ask.load is None else most >= ask.load
    heat = (output.up + output.down) * area
    lag = time_constant(floor, materials.CONCRETE.heat_capacity, film)
    alone = replace(floor, resistance_below=max(ask.ground.foam, 1e-3))
    foam_only = floor_output_for(alone, ask.air, GROUND, up, film)
    across = np.linspace(0.0, 2 * floor.spacing, STRIPE)  # two tubes, half a spacing from either end
    surface = floor_profile(floor, output, across - floor.spacing / 2)
    return FinishCase(
        finish=finish.name,
        build_up=floor,
        output=output,
        can_give=most,
        carries=carries,
        missing=0.0 if carries is not False or ask.load is None else ask.load - most,
        remedies=_remedies(floor, ask, film, closest) if carries is False else (),
        heat=heat,
        supply=output.water_temperature + ask.drop / 2,
        back=output.water_temperature - ask.drop / 2,
        down_share=_share(output.down, output.up),
        down_share_season=_season(floor, ask, climate),
        down_share_foam=_share(foam_only.down, foam_only.up),
        time_constant=lag,
        warm_up=lag * math.log(10),
        second_opinions=second_opinions(floor, output),
        across=tuple(across.tolist()),
        surface=tuple(surface.tolist()),
    )


def _share(down: float, up: float) -> float:
    return down / up if up > 0 else math.inf


def _season(floor: FloorBuildUp, ask: Ask, climate: ClimateUsed | None) -> float | None:
    """What goes down over what goes up on all days of the mean year that are colder than 65 °F.

    The load falls in proportion to room over outdoors, without gains of sun and people; the slab keeps up with it.
    """
    if climate is None or climate.design_temperature is None or ask.load is None or not ask.ground.solved:
        return None
    if climate.design_temperature >= ask.air:
        return None
    day = np.arange(365.0)
    outdoors = climate.mean - climate.amplitude * np.cos(TURN * day)
    part = (ask.air - outdoors) / (ask.air - climate.design_temperature)
    heating = (outdoors < min(BASE, ask.air)) & (part > 0)
    if not heating.any():
        return None
    up = ask.load * part[heating]
    way = row_resistances(floor)
    down = (ask.air + up * way.up - ground_temperature(ask.ground, day)[heating]) / way.down
    return float(down.sum() / up.sum())


def _remedies(floor: FloorBuildUp, ask: Ask, film: float, closest: float) -> tuple[Remedy, ...]:
    """Changes one at a time: the closest tube, no finish, more foam; and a second emitter for the rest."""
    assert ask.load is not None
    load = ask.load
    tried: list[tuple[str, float, str, FloorBuildUp]] = []
    if closest < floor.spacing - 1e-6:
        tried.append(("closer tube", closest, "inches", replace(floor, spacing=closest)))
    if floor.finish_resistance > 0:
        tried.append(("no finish", 0.0, "resistance", replace(floor, finish_resistance=0.0)))
    tried.append(
        (
            "more foam under the slab",
            MORE_FOAM,
            "resistance",
            replace(floor, resistance_below=floor.resistance_below + MORE_FOAM),
        )
    )
    found = [
        Remedy(what, amount, kind, most, most >= load)
        for what, amount, kind, changed in tried
        if (most := can_give(changed, ask, film)) > can_give(floor, ask, film) + 1e-9
    ]
    missing = load - can_give(floor, ask, film)
    return (*found, Remedy("a second emitter", missing, "heat_flux", load, closes=True))
