"""A section solved through the year: what leaves in the heating season."""

from __future__ import annotations

import math
from dataclasses import dataclass

from foundation.heat.conduction import annual
from foundation.heat.sections.assemble import assemble
from foundation.heat.sections.loss import DAY, TURN, Flows, floor_temperature, flows_of
from foundation.heat.sections.respond import surface_of, unit_patches
from foundation.model.heat import ClimateUsed, Picture, SectionResponse
from foundation.model.section import Section
from foundation.plan.heat import BELOW_FRAME

FOOT = 0.3048
ROOM = 38 / 1.8
"""Room that the base of degree days is meant for, 70 °F [practice]. [°C]"""


@dataclass(frozen=True)
class HeatingSeason:
    """The time of the year that a part is heated in: the wave outdoors below its balance temperature.

    The balance lies as far below the part's air as the base of degree days lies below 70 °F; sun and people make up
    for the rest.

    Attributes
    ----------
    half : float
        From its start to the coldest day, in turns of the year by 2π. [rad]
    degree_days : float
        Below the balance temperature. [K·d]
    """

    half: float
    degree_days: float

    def heat(self, flow: Flows) -> float:
        """Heat that leaves in the season.

        Parameters
        ----------
        flow : Flows
            What leaves, time from the coldest day.

        Returns
        -------
        float
            The integral of mean + Re(swing e^(i turn t)) over the season. [J]
        """
        return DAY * 2 / TURN * (flow.mean * self.half + flow.swing.real * math.sin(self.half))


def heating_season(climate: ClimateUsed, base: float, air: float) -> HeatingSeason:
    """When a part is heated.

    Parameters
    ----------
    climate : ClimateUsed
        The year outdoors.
    base : float
        Base of the degree days, for a room at 70 °F. [°C]
    air : float
        Air of the part. [°C]

    Returns
    -------
    HeatingSeason
        The season.
    """
    over = climate.mean - (air - (ROOM - base))
    half = (
        math.acos(min(1.0, max(-1.0, over / climate.amplitude)))
        if climate.amplitude
        else math.pi * (over < 0)
    )
    return HeatingSeason(half, 2 / TURN * (climate.amplitude * math.sin(half) - over * half))


@dataclass(frozen=True)
class Season:
    """What leaves through floor and concrete wall of a metre of a section.

    Attributes
    ----------
    heat : float
        In the heating season. [J/m]
    conductance : float
        Steady. [W/(m·K)]
    floor_temperature : float
        Coldest floor 1 ft inside the wall. [°C]
    """

    heat: float
    conductance: float
    floor_temperature: float


@dataclass(frozen=True)
class Task:
    """A section to solve through the year.

    Attributes
    ----------
    section : Section
        The section.
    air : float
        Air inside. [°C]
    climate : ClimateUsed
        The year outdoors.
    season : HeatingSeason
        When it is heated.
    fineness : float
        Of the grid. [-]
    """

    section: Section
    air: float
    climate: ClimateUsed
    season: HeatingSeason
    fineness: float


def solve_season(task: Task) -> Season:
    """Solve a section through the year on one grid.

    The grid's lines follow the blocks alone, so that sets of foam are compared on grids of like error; a grid fitted
    to each section would be nearer, but not by the same.

    Parameters
    ----------
    task : Task
        What to solve.

    Returns
    -------
    Season
        What leaves in the heating season.
    """
    assembled = assemble(task.section, task.fineness)
    wave = annual(assembled.body, unit_patches(assembled))
    x, z = assembled.grid.lines
    response = SectionResponse(
        section=task.section,
        surface=surface_of(assembled, wave),
        picture=Picture(x, z, wave.mean.temperature, wave.swing.temperature),
        error=math.nan,
        imbalance=wave.mean.imbalance,
        cells=assembled.cells,
    )
    flow = flows_of(response, task.air, task.climate, BELOW_FRAME)
    return Season(
        task.season.heat(flow),
        flow.conductance,
        floor_temperature(response, task.air, task.climate, FOOT),
    )
