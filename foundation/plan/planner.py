"""Project to plan: the only place that chains topics."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations

import numpy as np
import shapely

from foundation import cautions
from foundation.footing.cover import bottom_at, frost_cover, inch_stations
from foundation.model.cover import Cover
from foundation.model.levels import LevelBook
from foundation.model.walls import FootingLine, Run, Stepping, StepRules, WallLine
from foundation.plan.as_built_walls import with_walls_as_built
from foundation.plan.beside import SECTION, Beside, grades_at_corners, ground_of
from foundation.plan.cautioning import cautions_of, falls_of
from foundation.plan.floor_cautions import cautions_before_solving
from foundation.plan.foam_cautions import foam_cautions
from foundation.plan.footings import FROST, answers, counted_grade, footing_lines, unit_prices
from foundation.plan.ground import UNITS, Survey, contours_of, walls_without_shots
from foundation.plan.levelling import level_book, reading
from foundation.plan.lines import PlanError
from foundation.plan.lines import chains as chains_of
from foundation.plan.own import own_stepping
from foundation.plan.raised import raised
from foundation.plan.result import Diagonal, PlacedExtra, Plan, ScheduleRow, Stake
from foundation.plan.rules import step_rules
from foundation.plan.section_foam import foam_problems
from foundation.plan.takeoff_cautions import drain_cautions
from foundation.plan.walls import openings_of, walls_of
from foundation.project import Project, assumptions

STAKE_OFFSET = 5 * 0.3048
"""Distance of offset stakes from a corner, clear of the dig's edge [practice]. [m]"""


def plan(project: Project, survey: str = "") -> Plan:
    """Plan a project.

    Parameters
    ----------
    project : Project
        The inputs.
    survey : str
        Text of the shot file, "" for none.

    Returns
    -------
    Plan
        Everything computed from them.

    Raises
    ------
    PlanError
        If the inputs make no building, no ground, or no stepping; each problem is one sentence.
    """
    typed, project = project, raised(project)
    ground, walls, beside = ground_of(project, survey)
    if problems := foam_problems(project):
        raise PlanError(problems)
    rules = step_rules(project)
    lines = footing_lines(project, walls, beside, rules)
    chains = chains_of(project, walls)
    steppings = answers(project, lines, chains, rules)
    own = own_stepping(project, steppings[0], lines, chains, rules)
    steppings = (*steppings, own) if own is not None else steppings
    walls_on = {each.name: walls_of(project, each, lines, beside, ground) for each in steppings}
    prices = unit_prices(project)
    steppings = tuple(with_walls_as_built(each, walls_on[each.name], lines, prices) for each in steppings)
    book = level_book(project)
    covers = {stepping.name: covers_of(project, stepping, lines, beside) for stepping in steppings}
    schedules = {
        stepping.name: schedule_of(stepping, lines, covers[stepping.name], book) for stepping in steppings
    }
    extras = extras_of(project, ground, lines, beside, book, rules)
    notices = (ground.notices + walls_without_shots(project, ground, walls)) if ground else ()
    notices += tuple(problem for problem in openings_of(project, lines)[1] if not problem.fatal)
    made = Plan(
        project=project,
        assumptions=assumptions(typed),
        notices=notices,
        shots=ground.shots if ground else None,
        existing=ground.existing if ground else None,
        finished=ground.finished if ground else None,
        corner_grades=grades_at_corners(project, ground, walls, beside),
        contours=contours_of(ground, UNITS["ft" if project.units == "us" else "m"]) if ground else (),
        falls=falls_of(project, lines, beside, ground),
        lines=lines,
        chains=chains,
        rules=rules,
        steppings=steppings,
        covers=covers,
        walls=walls_on,
        level_book=book,
        schedules=schedules,
        extras=extras,
        diagonals=diagonals_of(project),
        stakes=stakes_of(walls),
        cautions={
            stepping.name: cautions_of(
                project,
                stepping,
                lines,
                beside,
                covers[stepping.name],
                schedules[stepping.name],
                walls_on[stepping.name],
                book,
                ground,
                rules,
                extras,
            )
            for stepping in steppings
        },
    )
    of_floors = cautions_before_solving(made)
    found = {
        name: cautions.worst_first(
            [*before, *foam_cautions(made, name), *drain_cautions(made, name), *of_floors]
        )
        for name, before in made.cautions.items()
    }
    return replace(made, cautions=found)


def covers_of(
    project: Project, stepping: Stepping, lines: tuple[FootingLine, ...], beside: Mapping[str, Beside]
) -> dict[str, Cover]:
    """Frost cover of a stepping at every inch of its outdoor walls.

    Parameters
    ----------
    project : Project
        The project.
    stepping : Stepping
        The answer.
    lines : tuple of FootingLine
        Its footing lines.
    beside : mapping of str to Beside
        Grade beside each.

    Returns
    -------
    dict of str to Cover
        For each wall line that frost can reach.
    """
    to_top = project.frost.measured_to == "top of footing"
    covers = {}
    for line in lines:
        if not any(limit.reason == FROST for limit in line.limits):
            continue
        ground = beside[line.wall.name]
        station = inch_stations(line.wall.length)
        section = counted_grade(project, ground.section_existing, ground.section_finished)
        edge = counted_grade(
            project,
            np.interp(station, ground.existing.station, ground.existing.grade),
            np.interp(station, ground.finished.station, ground.finished.grade),
        )
        section = np.column_stack([edge, section[:, 1:]])
        bottom = bottom_at(station, line.node, stepping.bottoms[line.wall.name])
        measured_from = line.wall.footing_thickness if to_top else 0.0
        covers[line.wall.name] = frost_cover(
            station, bottom, measured_from, SECTION[: section.shape[1]], section, project.frost.depth
        )
    return covers


def schedule_of(
    stepping: Stepping, lines: tuple[FootingLine, ...], covers: Mapping[str, Cover], book: LevelBook
) -> tuple[ScheduleRow, ...]:
    """What the crew reads, run by run.

    Parameters
    ----------
    stepping : Stepping
        The answer.
    lines : tuple of FootingLine
        Its footing lines.
    covers : mapping of str to Cover
        Its frost cover.
    book : LevelBook
        Marks and set-ups.

    Returns
    -------
    tuple of ScheduleRow
        In the order of the lines and stations.
    """
    by_name = {line.wall.name: line for line in lines}
    rows = []
    for run in stepping.runs:
        wall = by_name[run.line].wall
        step = next(
            (
                s
                for s in stepping.steps
                if s.line == run.line and abs(s.station - run.end) < 1e-6 and s.station > 1e-6
            ),
            None,
        )
        rows.append(
            ScheduleRow(
                line=run.line,
                start=run.start,
                end=run.end,
                bottom=reading(book, run.bottom),
                top=reading(book, run.top),
                wall_height=wall.wall_top - run.top,
                least_cover=_least_cover(run, covers.get(run.line)),
                binds=run.binds,
                binds_at=run.binds_at,
                step=step.number if step else None,
                rise=step.after - step.before if step else 0.0,
            )
        )
    return tuple(rows)


def _least_cover(run: Run, cover: Cover | None) -> float:
    if cover is None:
        return math.nan
    inside = (cover.station >= run.start - 1e-9) & (cover.station <= run.end + 1e-9)
    values = cover.straight_down[inside]
    return float(np.nanmin(values)) if np.isfinite(values).any() else math.nan


def extras_of(
    project: Project,
    survey: Survey | None,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    book: LevelBook,
    rules: StepRules,
) -> tuple[PlacedExtra, ...]:
    """Pads, stoops and porch footings, each at the level that its place asks for.

    Parameters
    ----------
    project : Project
        The project.
    survey : Survey or None
        Its survey.
    lines : tuple of FootingLine
        Its footing lines.
    beside : mapping of str to Beside
        Grade beside each wall.
    book : LevelBook
        Marks and set-ups.
    rules : StepRules
        The step rules; extras keep to the same module.

    Returns
    -------
    tuple of PlacedExtra
        In the order of the project.
    """
    from foundation.plan.extras import place

    return tuple(place(project, extra, survey, lines, beside, book, rules) for extra in project.extras)


def diagonals_of(project: Project) -> tuple[Diagonal, ...]:
    """Check distances between all corners of each part that no wall joins.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of Diagonal
        Part by part.
    """
    found = []
    for part in project.parts:
        count = len(part.corners)
        for first, second in combinations(range(count), 2):
            beside = second - first == 1 or (part.ring and second - first == count - 1)
            if beside:
                continue
            start, end = part.corners[first], part.corners[second]
            a, b = project.corners[start], project.corners[end]
            found.append(Diagonal(part.name, start, end, math.dist((a.east, a.north), (b.east, b.north))))
    return tuple(found)


def stakes_of(walls: tuple[WallLine, ...]) -> tuple[Stake, ...]:
    """Two offset stakes at each end of each outdoor wall line, on the line produced.

    Parameters
    ----------
    walls : tuple of WallLine
        Wall lines.

    Returns
    -------
    tuple of Stake
        Outside the building only.
    """
    building = shapely.union_all([shapely.linestrings([wall.start_at, wall.end_at]) for wall in walls])
    found = []
    for wall in walls:
        along = tuple((b - a) / wall.length for a, b in zip(wall.start_at, wall.end_at, strict=True))
        for corner, at, sign in ((wall.start, wall.start_at, -1), (wall.end, wall.end_at, 1)):
            east, north = at[0] + sign * STAKE_OFFSET * along[0], at[1] + sign * STAKE_OFFSET * along[1]
            if building.distance(shapely.Point(east, north)) > STAKE_OFFSET / 2:
                found.append(Stake(f"{corner} on {wall.name} produced", east, north, STAKE_OFFSET))
    return tuple(found)
