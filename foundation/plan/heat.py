"""What leaves through the ground: the sections along the wall line joined to the house."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from foundation import materials
from foundation.heat.sections.loss import Flows, below_grade, coldest, dew_point, floor_temperature, flows_of
from foundation.heat.sections.pencil import gaps_of, with_heat
from foundation.heat.sections.respond import respond, steady_conductance
from foundation.model.heat import (
    Band,
    ClimateUsed,
    EdgeHeat,
    HouseHeat,
    Loss,
    SectionResponse,
    StretchHeat,
)
from foundation.model.section import InsulationGap, Material, Section, Situation, SoilLayer
from foundation.plan.climate import climate_of
from foundation.plan.footings import part_of
from foundation.plan.heat_standards import by_residential_method, by_standard
from foundation.plan.result import Plan
from foundation.plan.sections import PlacedSection, bare, section_at, sections_along, shape_key
from foundation.project import Project

FOOT = 0.3048
BELOW_FRAME = ("floor", "wall")
"""Groups of faces that the ground's heat goes through; the framed wall is the house's own matter."""
COARSE = 0.02
"""Error that the ends of the soil's band are solved to; the band itself is a hundred times wider. [-]"""
USUAL = 0.005
"""Error that sections are solved to. [-]"""
KEPT = 300
"""Answers that are kept for sections of the same shape, about 0.3 MB each. [-]"""


@lru_cache(maxsize=KEPT)
def _answer_of(section: Section, tolerance: float) -> SectionResponse:
    return respond(section, tolerance)


@lru_cache(maxsize=KEPT)
def _gaps(section: Section) -> tuple[InsulationGap, ...]:
    return gaps_of(section)


@lru_cache(maxsize=KEPT)
def _solved_gaps(section: Section) -> tuple[InsulationGap, ...]:
    return with_heat(section, _gaps(section))


@lru_cache(maxsize=KEPT)
def _bare_edge(section: Section) -> float:
    loss = steady_conductance(section)
    return loss.floor + loss.wall


def answer_of(section: Section, tolerance: float = USUAL) -> SectionResponse:
    """How a section answers to the air outside, kept for sections of the same shape.

    Parameters
    ----------
    section : Section
        The section.
    tolerance : float
        Error asked for. [-]

    Returns
    -------
    SectionResponse
        Its answer, with the section itself.
    """
    return replace(_answer_of(shape_key(section), tolerance), section=section)


def soil_layers(project: Project) -> tuple[tuple[SoilLayer, ...], ...]:
    """The ground with low, likely and high conductivity.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of tuple of SoilLayer, length 3
        Ground of each.
    """
    return tuple((SoilLayer(math.inf, material),) for material in soils(project))


def soils(project: Project) -> tuple[Material, Material, Material]:
    """The soil with low, likely and high conductivity.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of Material, length 3
        The soils.
    """
    soil = project.soil
    return materials.soil_band(
        soil.ground,
        dry_density=soil.dry_density,
        moisture=soil.moisture,
        low=soil.conductivity_low,
        likely=soil.conductivity,
        high=soil.conductivity_high,
    )


@dataclass(frozen=True, eq=False)
class _Joined:
    """One stretch with what goes through it, for each of the three soils."""

    placed: PlacedSection
    part: str
    all_faces: tuple[Flows, Flows, Flows]
    floor: tuple[Flows, Flows, Flows]


def heat_of(plan: Plan, answer: str, weather: str = "") -> HouseHeat | None:
    """What leaves through the ground of the whole house.

    Sections of equal shape are solved once. A part's floor is the sum of its exposed stretches, each with half the
    characteristic dimension, so that their floors add up to the part's area. Walls between two heated parts are
    solved too, but what goes through them stays in the house and is in no total.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    weather : str
        Text of the weather file, "" for none.

    Returns
    -------
    HouseHeat or None
        None without a climate, or where nothing is heated.

    Raises
    ------
    PlanError
        If the climate that was entered is none.
    """
    project = plan.project
    climate = climate_of(project, weather)
    if climate is None:
        return None
    by_soil = [sections_along(plan, answer, soil) for soil in soil_layers(project)]
    if not by_soil[1]:
        return None
    joined = _join_all(project, climate, by_soil)
    outdoors = [each for each in joined if each.placed.section.situation is not Situation.BETWEEN]
    parts = list(dict.fromkeys(each.part for each in outdoors))
    stretches = tuple(_stretch(project, climate, each) for each in joined)
    low, conductivity, high = (soil.conductivity for soil in soils(project))
    return HouseHeat(
        climate=climate,
        soil=soils(project)[1].name,
        conductivity=Band(low, conductivity, high),
        stretches=stretches,
        edges=_edges(stretches),
        parts={part: _loss(e.all_faces for e in outdoors if e.part == part) for part in parts},
        floors={part: _loss(e.floor for e in outdoors if e.part == part) for part in parts},
        walls={
            line: _loss(e.all_faces for e in joined if e.placed.section.line == line)
            for line in dict.fromkeys(e.placed.section.line for e in joined)
        },
        total=_loss(e.all_faces for e in outdoors),
        below_grade={
            part: sum(
                below_grade(answer_of(e.placed.section), BELOW_FRAME) * (e.placed.end - e.placed.start)
                for e in outdoors
                if e.part == part
            )
            for part in parts
        },
        standard={part: by_standard([e.placed for e in outdoors if e.part == part]) for part in parts},
        residential={
            part: value
            for part in parts
            if (value := by_residential_method([e.placed for e in outdoors if e.part == part])) is not None
        },
    )


def air_outside(project: Project, climate: ClimateUsed, section: Section) -> ClimateUsed | float:
    """What a section faces: the year outdoors, or the air of another heated part.

    Parameters
    ----------
    project : Project
        The project.
    climate : ClimateUsed
        The year outdoors.
    section : Section
        The section.

    Returns
    -------
    ClimateUsed or float
        The year, or the air's temperature. [°C]
    """
    if section.situation is not Situation.BETWEEN:
        return climate
    return part_of(project, section.outside).air


def _join_all(
    project: Project, climate: ClimateUsed, by_soil: Sequence[Sequence[PlacedSection]]
) -> list[_Joined]:
    """What goes through every stretch.

    The soil's ends are solved for the longest stretch of each wall line and situation; the stretches beside it, which
    differ in depth alone, are taken to change in the same proportion.
    """
    found: dict[int, _Joined] = {}
    longest: dict[tuple[str, str, str], int] = {}
    order = sorted(range(len(by_soil[1])), key=lambda n: by_soil[1][n].start - by_soil[1][n].end)
    for number in order:
        placed = by_soil[1][number]
        alike = (placed.section.line, placed.section.inside, str(placed.section.situation))
        if alike not in longest:
            longest[alike] = number
            found[number] = _join(project, climate, [soil[number] for soil in by_soil])
            continue
        own = _join(project, climate, [placed])
        like = found[longest[alike]]
        every, floor = (
            (own_flows[1].like(flows[1], flows[0]), own_flows[1], own_flows[1].like(flows[1], flows[2]))
            for own_flows, flows in ((own.all_faces, like.all_faces), (own.floor, like.floor))
        )
        found[number] = replace(own, all_faces=every, floor=floor)
    return [found[number] for number in range(len(found))]


def _join(project: Project, climate: ClimateUsed, placed: Sequence[PlacedSection]) -> _Joined:
    """What goes through one stretch, with the likely soil alone or with low, likely and high."""
    likely = placed[len(placed) // 2]
    inside = part_of(project, likely.section.inside)
    outside = air_outside(project, climate, likely.section)
    groups = _counted(likely.section)
    both = []
    for each in placed:
        response = _answer_of(shape_key(each.section), USUAL if each is likely else COARSE)
        both.append(
            [
                flows_of(response, inside.air, outside, counted).times(each.end - each.start)
                for counted in (groups, ("floor",))
            ]
        )
    first, middle, last = both[0], both[len(both) // 2], both[-1]
    return _Joined(likely, inside.name, (first[0], middle[0], last[0]), (first[1], middle[1], last[1]))


def _counted(section: Section) -> tuple[str, ...]:
    """Groups of faces that count: behind a wall between two parts the floor belongs to stretches that face outdoors."""
    return ("wall",) if section.situation is Situation.BETWEEN else BELOW_FRAME


def _loss(flows: Iterable[tuple[Flows, Flows, Flows]]) -> Loss:
    low, likely, high = (sum(each, start=Flows()) for each in zip(*flows, strict=True))

    def band(value: Callable[[Flows], float]) -> Band:
        # The soil's ends are solved on coarser grids; where it hardly matters they may cross by a hair.
        middle = value(likely)
        first, last = sorted((value(low), value(high)))
        return Band(min(first, middle), middle, max(last, middle))

    months = [flow.monthly() for flow in (low, likely, high)]
    return Loss(
        conductance=band(lambda flow: flow.conductance),
        design=None if math.isnan(likely.design) else band(lambda flow: flow.design),
        mean=band(lambda flow: flow.mean),
        peak=band(lambda flow: flow.peak),
        peak_day=likely.peak_day,
        monthly=tuple(Band(min(values), values[1], max(values)) for values in zip(*months, strict=True)),
        yearly=band(lambda flow: flow.yearly),
    )


def _stretch(project: Project, climate: ClimateUsed, joined: _Joined) -> StretchHeat:
    placed = joined.placed
    section = placed.section
    response = answer_of(section)
    inside = part_of(project, section.inside)
    outside = air_outside(project, climate, section)
    temperatures = coldest(response.surface, inside.air, outside)
    worst = int(np.argmin(temperatures))
    length = placed.end - placed.start
    edge = sorted(flow.conductance / length for flow in joined.all_faces)
    return StretchHeat(
        line=section.line,
        start=placed.start,
        end=placed.end,
        response=response,
        edge_factor=Band(edge[0], joined.all_faces[1].conductance / length, edge[2]),
        bare_edge_factor=_bare_edge(shape_key(bare(section))),
        coldest_surface=float(temperatures[worst]),
        coldest_at=(float(response.surface.x[worst]), float(response.surface.z[worst])),
        floor_temperature=floor_temperature(response, inside.air, outside, FOOT),
        dew_margin=float(temperatures[worst]) - dew_point(inside.air, inside.humidity),
        gaps=_gaps(shape_key(section)),
    )


def _edges(stretches: Sequence[StretchHeat]) -> tuple[EdgeHeat, ...]:
    """Neighbouring stretches of one line and situation together, F-factors as their means along it."""
    groups: list[tuple[tuple[str, str], list[StretchHeat]]] = []
    for stretch in stretches:
        section = stretch.response.section
        door = any(block.name == "door" for block in section.blocks)
        alike = (stretch.line, "door" if door else str(section.situation))
        if groups and groups[-1][0] == alike:
            groups[-1][1].append(stretch)
        else:
            groups.append((alike, [stretch]))
    found = []
    for (line, situation), alike_ones in groups:
        lengths = [each.end - each.start for each in alike_ones]

        def along(values: Sequence[float], lengths: Sequence[float] = lengths) -> float:
            return float(np.average(values, weights=lengths))

        band = Band(
            *(along([getattr(e.edge_factor, end) for e in alike_ones]) for end in ("low", "likely", "high"))
        )
        bare_one = along([each.bare_edge_factor for each in alike_ones])
        found.append(EdgeHeat(line, situation, alike_ones[0].start, alike_ones[-1].end, band, bare_one))
    return tuple(found)


@dataclass(frozen=True, eq=False)
class SectionView:
    """One station looked at closely.

    Attributes
    ----------
    section : Section
        The section there.
    foamed, bare : SectionResponse
        How it answers, with its foam and without any.
    gaps : tuple of InsulationGap
        Breaks of its line of insulation, solved for.
    inside : float
        Air inside. [°C]
    outside : ClimateUsed, float or None
        The year outdoors, or the air of another part; None without a climate. [°C]
    stretch : StretchHeat or None
        A metre of it in that climate.
    """

    section: Section
    foamed: SectionResponse
    bare: SectionResponse
    gaps: tuple[InsulationGap, ...]
    inside: float
    outside: ClimateUsed | float | None
    stretch: StretchHeat | None


def look_at(plan: Plan, answer: str, line: str, station: float, climate: ClimateUsed | None) -> SectionView:
    """Look at one station closely.

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
    climate : ClimateUsed or None
        The year outdoors.

    Returns
    -------
    SectionView
        What is there.
    """
    project = plan.project
    section = section_at(plan, answer, line, station, soil_layers(project)[1])
    outside = stretch = None
    if climate is not None:
        outside = air_outside(project, climate, section)
        stretch = _stretch(
            project, climate, _join(project, climate, [PlacedSection(station - 0.5, station + 0.5, section)])
        )
    return SectionView(
        section=section,
        foamed=answer_of(section),
        bare=answer_of(bare(section), COARSE),
        gaps=_solved_gaps(shape_key(section)),
        inside=part_of(project, section.inside).air,
        outside=outside,
        stretch=stretch,
    )
