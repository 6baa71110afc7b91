"""The water of each manifold: flow and film of its loops, head, what they hold, and the water that each zone takes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from foundation.model.floors import FinishCase, ManifoldWater, ResetPoint
from foundation.model.loops import LaidLoop
from foundation.model.radiant import Fluid, Loop, ManifoldFlow, Tube
from foundation.plan.floor_choice import Ask
from foundation.radiant.fluids import freezing_temperature
from foundation.radiant.manifold import balance, expansion_volume, glycol_volume, loops_volume
from foundation.radiant.tube_row import floor_output_for

ROUNDS = 20
SETTLED = 1e-4
"""Water has settled when it moves no more than this. [K]"""
FILLED_AT = 10.0
"""Water when the loops are filled [practice]. [°C]"""
RESET_POINTS = 5
HOTTEST_FLUID = 99.0
"""Properties of the fluid end at 100 °C; a floor that would take more is computed with them there. [°C]"""


@dataclass(frozen=True, eq=False)
class ZoneLoops:
    """A zone's loops on a manifold, and how its water follows from their film.

    Attributes
    ----------
    name : str
        The zone.
    loops : tuple of LaidLoop
        Its loops, at least one.
    drop : float
        Supply over return. [K]
    case : callable
        The zone's case for a film. [W/(m²·K)]
    """

    name: str
    loops: tuple[LaidLoop, ...]
    drop: float
    case: Callable[[float], FinishCase]


def settle(zones: Sequence[ZoneLoops], tube: Tube, fluid: Fluid) -> tuple[ManifoldFlow, Mapping[str, float]]:
    """Flow of all loops, and each zone's film, when the water has settled.

    The film depends on the water's temperature, which depends on the film: a few rounds settle both. A zone's film is
    that of its slowest loop.

    Parameters
    ----------
    zones : sequence of ZoneLoops
        The manifold's zones, at least one.
    tube : Tube
        Their tube.
    fluid : Fluid
        What runs.

    Returns
    -------
    flow : ManifoldFlow
        All loops, zone by zone.
    films : mapping of str to float
        For each zone. [W/(m²·K)]
    """
    films = {zone.name: math.inf for zone in zones}
    last = math.inf
    for _ in range(ROUNDS):
        cases = {zone.name: zone.case(films[zone.name]) for zone in zones}
        heat = sum(case.heat for case in cases.values())
        mean = sum(case.heat * case.output.water_temperature for case in cases.values()) / heat
        loops = [loop for zone in zones for loop in _loops(zone, tube, cases[zone.name].heat)]
        flow = balance(loops, fluid, min(mean, HOTTEST_FLUID))
        films = {}
        begin = 0
        for zone in zones:
            own = flow.loops[begin : begin + len(zone.loops)]
            films[zone.name] = min(each.flow.film for each in own)
            begin += len(zone.loops)
        if abs(mean - last) < SETTLED:
            break
        last = mean
    return flow, films


def manifold_water(
    name: str,
    part: str,
    at: tuple[float, float],
    fluid: Fluid,
    flow: ManifoldFlow,
    supplies: Mapping[str, float],
) -> ManifoldWater:
    """A manifold with what its loops hold.

    Parameters
    ----------
    name, part : str
        What it is called, and its part.
    at : tuple of float
        East and north. [m]
    fluid : Fluid
        What runs.
    flow : ManifoldFlow
        Flow of its loops.
    supplies : mapping of str to float
        For each zone the water that goes out to it. [°C]

    Returns
    -------
    ManifoldWater
        The manifold.
    """
    volume = loops_volume([each.loop for each in flow.loops])
    supply = max(supplies.values())
    return ManifoldWater(
        name=name,
        part=part,
        at=at,
        fluid=fluid,
        freezing=_freezing(fluid),
        flow=flow,
        supply=supply,
        supplies=supplies,
        volume=volume,
        glycol=glycol_volume(fluid, volume),
        expansion=expansion_volume(fluid, volume, FILLED_AT, min(max(supply, FILLED_AT), HOTTEST_FLUID)),
    )


def reset_line(case: FinishCase, ask: Ask, design_temperature: float | None) -> tuple[ResetPoint, ...]:
    """Supply against the air outdoors, at the design day's flow; the load falls in proportion to room over outdoors.

    Parameters
    ----------
    case : FinishCase
        The zone on the design day.
    ask : Ask
        What is asked of it.
    design_temperature : float or None
        Air outdoors then. [°C]

    Returns
    -------
    tuple of ResetPoint
        From the design day to the air of the room; empty without a design temperature or a load.
    """
    if design_temperature is None or ask.load is None or design_temperature >= ask.air:
        return ()
    points = []
    for step in range(RESET_POINTS):
        outdoors = design_temperature + (ask.air - design_temperature) * step / (RESET_POINTS - 1)
        up = ask.load * (1 - step / (RESET_POINTS - 1))
        output = floor_output_for(case.build_up, ask.air, ask.ground.temperature, up, case.output.water_film)
        # The flow stays, so that supply over return falls with the heat.
        share = (output.up + output.down) / (case.output.up + case.output.down)
        points.append(ResetPoint(outdoors, output.water_temperature + ask.drop * share / 2))
    return tuple(points)


def _loops(zone: ZoneLoops, tube: Tube, heat: float) -> list[Loop]:
    """Loops that share a zone's heat by the floor that they cover."""
    area = sum(loop.area for loop in zone.loops)
    return [Loop(loop.name, tube, loop.length, heat * loop.area / area, zone.drop) for loop in zone.loops]


def _freezing(fluid: Fluid) -> float | None:
    try:
        return freezing_temperature(fluid)
    except ValueError:
        return None
