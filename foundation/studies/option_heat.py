"""Heat of several plans at once: sections of equal shape, of whichever plan, are solved once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foundation.heat.sections.loss import COLDEST_DAY, DAY, MONTHS, TURN, Flows, floor_temperature, flows_of
from foundation.model.heat import Band, ClimateUsed, SectionResponse
from foundation.model.options import OptionHeat
from foundation.model.section import Section, Situation
from foundation.plan import Plan
from foundation.plan.footings import part_of
from foundation.plan.heat import BELOW_FRAME, COARSE, FOOT, USUAL, answer_of, soil_layers
from foundation.plan.sections import PlacedSection, sections_along, shape_key
from foundation.studies.foam_house import NOT_LIVED_IN
from foundation.studies.foam_season import HeatingSeason, heating_season
from foundation.studies.running import Runner

LIKELY = 1
Task = tuple[Section, float]
"""A section's shape, and the error that it is solved to."""
Answers = Mapping[Task, SectionResponse]
YEAR = 365.0


@dataclass(frozen=True)
class HeatedPlan:
    """A plan whose heat is asked for.

    Attributes
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    climate : ClimateUsed
        The year outdoors.
    by_soil : tuple of tuple of PlacedSection, length 3
        Its stretches that face outdoors, with low, likely and high soil.
    """

    plan: Plan
    answer: str
    climate: ClimateUsed
    by_soil: tuple[tuple[PlacedSection, ...], ...]


@dataclass(frozen=True)
class PlanHeat:
    """Heat of one plan.

    Attributes
    ----------
    seasons : tuple of float, length 3
        That leaves in the heating season, with low, likely and high soil. [J]
    heat : OptionHeat
        The same as it is shown, and what else is told of it.
    """

    seasons: tuple[float, float, float]
    heat: OptionHeat


def heated_plan(plan: Plan, answer: str, climate: ClimateUsed) -> HeatedPlan | None:
    """Cut a plan into its sections.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    climate : ClimateUsed
        The year outdoors.

    Returns
    -------
    HeatedPlan or None
        None where no heated part has a wall that faces outdoors.
    """
    by_soil = tuple(
        tuple(
            placed
            for placed in sections_along(plan, answer, soil)
            if placed.section.situation is not Situation.BETWEEN
        )
        for soil in soil_layers(plan.project)
    )
    return HeatedPlan(plan, answer, climate, by_soil) if by_soil[LIKELY] else None


def solve(plans: Iterable[HeatedPlan], runner: Runner, share: tuple[float, float]) -> Answers:
    """Solve every section of some plans, each shape once.

    Parameters
    ----------
    plans : iterable of HeatedPlan
        The plans.
    runner : Runner
        What runs the solves.
    share : tuple of float
        Share of the study at start and end. [-]

    Returns
    -------
    mapping of tuple to SectionResponse
        How each shape answers.
    """
    tasks = list(dict.fromkeys(task for plan in plans for _, _, task in _tasks(plan)))
    return dict(zip(tasks, runner.run(solve_section, tasks, share, "Solving the sections"), strict=True))


def solve_section(task: Task) -> SectionResponse:
    """Solve one section; shapes that this process has solved before are kept.

    Parameters
    ----------
    task : tuple
        The shape, and the error that it is solved to. [-]

    Returns
    -------
    SectionResponse
        How it answers.
    """
    return answer_of(*task)


def _tasks(heated: HeatedPlan) -> list[tuple[int, int, Task]]:
    """Stretch, soil and task of every solve.

    As in the house's heat, the soil's ends are solved for the longest stretch of each line and situation; those
    beside it differ in depth alone and change in the same proportion.
    """
    likely = heated.by_soil[LIKELY]
    found = [(at, LIKELY, (shape_key(each.section), USUAL)) for at, each in enumerate(likely)]
    found += [
        (at, soil, (shape_key(heated.by_soil[soil][at].section), COARSE))
        for at in dict.fromkeys(_longest(likely))
        for soil in (0, 2)
    ]
    return found


def _longest(placed: Sequence[PlacedSection]) -> list[int]:
    """For each stretch the longest one of its line and situation."""
    longest: dict[tuple[str, str, str], int] = {}
    alike = [(each.section.line, each.section.inside, str(each.section.situation)) for each in placed]
    for at in sorted(range(len(placed)), key=lambda n: placed[n].start - placed[n].end):
        longest.setdefault(alike[at], at)
    return [longest[each] for each in alike]


def heat_of_plan(heated: HeatedPlan, answers: Answers) -> PlanHeat:
    """Join a plan's solved sections.

    Parameters
    ----------
    heated : HeatedPlan
        The plan.
    answers : mapping of tuple to SectionResponse
        From :func:`solve`.

    Returns
    -------
    PlanHeat
        Its heat.
    """
    project, climate = heated.plan.project, heated.climate
    likely = heated.by_soil[LIKELY]
    airs = {each.section.inside: part_of(project, each.section.inside).air for each in likely}
    seasons = {part: heating_season(climate, project.climate.base, air) for part, air in airs.items()}
    solved = {(at, soil): answers[task] for at, soil, task in _tasks(heated)}
    flows = {
        (at, soil): flows_of(response, airs[likely[at].section.inside], climate, BELOW_FRAME).times(
            likely[at].end - likely[at].start
        )
        for (at, soil), response in solved.items()
    }
    by_part: list[dict[str, Flows]] = []
    for soil in range(3):
        parts: dict[str, Flows] = {}
        for at, longest in enumerate(_longest(likely)):
            own = flows.get((at, soil))
            if own is None:
                own = flows[at, LIKELY].like(flows[longest, LIKELY], flows[longest, soil])
            part = likely[at].section.inside
            parts[part] = parts.get(part, Flows()) + own
        by_part.append(parts)
    low, middle, high = (sum(seasons[part].heat(flow) for part, flow in parts.items()) for parts in by_part)
    months = [
        np.sum([season_by_month(seasons[part], flow) for part, flow in parts.items()], axis=0)
        for parts in by_part
    ]
    worst = min(
        (
            part_of(project, each.section.inside).use in NOT_LIVED_IN,
            each.section.situation is not Situation.EDGE,
            floor_temperature(solved[at, LIKELY], airs[each.section.inside], climate, FOOT),
            at,
        )
        for at, each in enumerate(likely)
    )
    coldest = likely[worst[3]]
    designs = [sum(parts.values(), start=Flows()).design for parts in by_part]
    return PlanHeat(
        seasons=(low, middle, high),
        heat=OptionHeat(
            yearly=band(low, middle, high),
            monthly=tuple(band(*(float(each) for each in month)) for month in zip(*months, strict=True)),
            design_load=band(*designs) if climate.design_temperature is not None else None,
            floor_temperature=worst[2],
            floor_part=coldest.section.inside,
            floor_line=coldest.section.line,
            floor_station=(coldest.start + coldest.end) / 2,
        ),
    )


def season_by_month(season: HeatingSeason, flow: Flows) -> list[float]:
    """Heat of a season, month by month.

    Parameters
    ----------
    season : HeatingSeason
        When the part is heated.
    flow : Flows
        What leaves, time from the coldest day.

    Returns
    -------
    list of float
        From January on; they add up to the season's heat. [J]
    """
    ends = np.cumsum((0, *MONTHS)) - COLDEST_DAY
    half = season.half / TURN
    heat = np.zeros(len(MONTHS))
    # The year begins within one season and ends within the next.
    for middle in (0.0, YEAR):
        cut = np.clip(ends, middle - half, middle + half)
        wave = np.real(flow.swing * np.exp(1j * TURN * cut) / (1j * TURN))
        heat += DAY * (flow.mean * np.diff(cut) + np.diff(wave))
    return [float(each) for each in heat]


def band(low: float, likely: float, high: float) -> Band:
    """Three values as a band.

    Parameters
    ----------
    low, likely, high : float
        Values of three cases; the outer two may lie the other way round, or all but on each other. [unit of its
        place]

    Returns
    -------
    Band
        Rising or equal.
    """
    return Band(min(low, likely, high), likely, max(low, likely, high))
