"""The design winter at a station of a plan."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from foundation.heat.sections.winter import design_winter
from foundation.heat.sections.winter_air import winter_air
from foundation.model.heat import ClimateUsed
from foundation.model.section import Section
from foundation.model.walls import WallLine
from foundation.model.winter import DesignWinter
from foundation.plan.climate import climate_of
from foundation.plan.footings import part_of
from foundation.plan.lines import along_named
from foundation.plan.result import Plan
from foundation.plan.sections import section_at, shape_key
from foundation.project import Project

BARE = 0.7
"""Freezing n-factor of bare soil without snow, UFC 3-130-06 table 2-4 [read]: turf has 0.5, which nobody can count on
beside a new house. [-]"""
PAVED = 0.75
"""Of concrete kept free of snow, the same table [read]. [-]"""
KEPT = 100
"""Winters that are kept for sections of the same shape, about 0.1 MB each. [-]"""


def winter_at(plan: Plan, answer: str, line: str, station: float, weather: str = "") -> DesignWinter | None:
    """The design winter at a station, with the likely soil under bare ground.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    line : str
        Name of the wall line.
    station : float
        Station on it. [m]
    weather : str
        Text of the weather file, "" for none.

    Returns
    -------
    DesignWinter or None
        None where there is none: `no_winter` says why.

    Raises
    ------
    KeyError
        If no answer or no wall line has that name.
    PlanError
        If the climate that was entered is none, or a board is not known.
    """
    climate = climate_of(plan.project, weather)
    if why_no_winter(plan.project, climate, plan.line(line).wall):
        return None
    assert climate is not None  # without one there is a reason
    section = section_at(plan, answer, line, station)
    inside = part_of(plan.project, section.inside)
    return winter_of(
        section,
        inside.air if inside.is_heated else None,
        climate,
        surface_of(plan.project, plan.line(line).wall),
    )


def no_winter(plan: Plan, line: str, weather: str = "") -> str:
    """Why no design winter is shown along a wall line.

    Parameters
    ----------
    plan : Plan
        The plan.
    line : str
        Name of the wall line.
    weather : str
        Text of the weather file, "" for none.

    Returns
    -------
    str
        A sentence, "" where one is shown.

    Raises
    ------
    KeyError
        If no wall line has that name.
    PlanError
        If the climate that was entered is none.
    """
    return why_no_winter(plan.project, climate_of(plan.project, weather), plan.line(line).wall)


def why_no_winter(project: Project, climate: ClimateUsed | None, wall: WallLine) -> str:
    """Why a wall has no design winter.

    Parameters
    ----------
    project : Project
        The project.
    climate : ClimateUsed or None
        The year outdoors.
    wall : WallLine
        The wall.

    Returns
    -------
    str
        A sentence, "" where it has one.
    """
    if wall.beyond or part_of(project, wall.part).use == "interior wall":
        return f"Wall {wall.name} does not stand outdoors: the winter is shown at the outer walls."
    if climate is None:
        return "No climate is known: type the degree days of a mean year, and the design winter's freezing index."
    if climate.design_index is None:
        return (
            "No design winter is known: type its freezing index under the climate, from the office or a long record, "
            "the coldest winter in 30 years or in 100."
        )
    try:
        winter_air(climate.mean, climate.amplitude, climate.design_index)
    except ValueError as error:
        return str(error)
    return ""


def surface_of(project: Project, wall: WallLine) -> float:
    """How cold the ground's surface before a wall gets.

    Parameters
    ----------
    project : Project
        The project.
    wall : WallLine
        The wall.

    Returns
    -------
    float
        Its freezing index over the air's: bare ground, or paving that is kept free of snow. [-]
    """
    melted = any(along_named(project, name, wall) is not None for name in project.surroundings.melted)
    return PAVED if melted else BARE


def winter_of(section: Section, inside: float | None, climate: ClimateUsed, surface: float) -> DesignWinter:
    """The design winter over a section, kept for sections of the same shape.

    Parameters
    ----------
    section : Section
        The section.
    inside : float or None
        Air inside; None where nobody heats. [°C]
    climate : ClimateUsed
        The year outdoors, its design index known.
    surface : float
        Freezing index of the ground's surface over the air's. [-]

    Returns
    -------
    DesignWinter
        What it freezes.
    """
    if climate.design_index is None:
        raise ValueError("No design winter is known: type its freezing index under the climate.")
    found = _winter(
        shape_key(section), inside, climate.mean, climate.amplitude, climate.design_index, surface
    )
    return replace(found, section=section)


@lru_cache(maxsize=KEPT)
def _winter(
    section: Section, inside: float | None, mean: float, amplitude: float, index: float, surface: float
) -> DesignWinter:
    return design_winter(section, inside, mean, amplitude, index, surface)
