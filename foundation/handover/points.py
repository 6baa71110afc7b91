"""Points for the stake-out, as total stations read them: number, north, east, level, description."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from foundation import units
from foundation.model.ground import ShotKind
from foundation.model.walls import WallLine
from foundation.plan import Plan
from foundation.plan.ground import UNITS
from foundation.plan.lines import slab_top
from foundation.plan.takeoff_drain import PIPE, drains_of
from foundation.project import Project

CORNERS, STAKES, STEPS, DRAINS, EXTRAS, MARKS = 1001, 2001, 3001, 4001, 5001, 9001
"""First number of each kind of point. [-]"""
SAME = 1e-4
"""Levels closer than this are one level. [m]"""


@dataclass(frozen=True)
class SetPoint:
    """A point to set out.

    Attributes
    ----------
    number : int
        Its number. [-]
    north, east : float
        Its place. [m]
    level : float
        What is set there. [m]
    description : str
        What it is, and what its level is.
    """

    number: int
    north: float
    east: float
    level: float
    description: str


def stake_points(plan: Plan, answer: str) -> tuple[SetPoint, ...]:
    """Points of an answer.

    Corners stand on the outside of concrete, each with the top of the footing there: two where the walls that meet have
    footings at two levels. They are the ends of the check distances, too. Offset stakes have the level of their corner.
    At a step there are four: on the footing's centre and on its outer edge, for the top of footing before and after it.
    Footing drains have their inverts at both ends of each pipe.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of SetPoint
        Corners, stakes, steps, drains, pads and other extras, survey marks.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    plan.stepping(answer)
    corners = _corners(plan, answer)
    kinds = (
        (CORNERS, corners),
        (STAKES, _stakes(plan, corners)),
        (STEPS, _steps(plan, answer)),
        (DRAINS, [*_floor_drains(plan.project), *_footing_drains(plan, answer)]),
        (EXTRAS, _extras(plan)),
        (MARKS, _marks(plan)),
    )
    return tuple(
        SetPoint(first + place, float(north), float(east), float(level), description)
        for first, found in kinds
        for place, ((east, north), level, description) in enumerate(found)
    )


def points_csv(plan: Plan, answer: str, revision: str, unit: str | None = None) -> str:
    """Points as text of the columns P, N, E, Z, D.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    revision : str
        The revision hash.
    unit : {"ft", "m"}, optional
        Unit of the numbers; that of the shots when left out, and without shots that of the sheets.

    Returns
    -------
    str
        A header line with the unit and the hash, and a line for each point, to three places.
    """
    project = plan.project
    unit = unit or project.ground.shot_unit or ("ft" if project.units == "us" else "m")
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(["P", f"N [{unit}]", f"E [{unit}]", f"Z [{unit}]", f"D [revision {revision}]"])
    for point in stake_points(plan, answer):
        numbers = (f"{value / UNITS[unit]:z.3f}" for value in (point.north, point.east, point.level))
        writer.writerow([str(point.number), *numbers, _described(point.description)])
    return stream.getvalue()


def numbers_of_corners(points: Iterable[SetPoint]) -> dict[str, int]:
    """Number of the first point at each corner.

    Parameters
    ----------
    points : iterable of SetPoint
        The points.

    Returns
    -------
    dict of str to int
        By the corner's name. [-]
    """
    found: dict[str, int] = {}
    for point in points:
        if CORNERS <= point.number < STAKES:
            found.setdefault(point.description.split()[1], point.number)
    return found


Found = tuple[tuple[float, float], float, str]


def _corners(plan: Plan, answer: str) -> list[Found]:
    """Each corner with the top of footing of the walls that meet there."""
    levels: dict[str, dict[str, float]] = {}
    places: dict[str, tuple[float, float]] = {}
    stepping = plan.stepping(answer)
    for line in plan.lines:
        wall = line.wall
        bottoms = stepping.bottoms[wall.name]
        for name, place, bottom in (
            (wall.start, wall.start_at, bottoms[0]),
            (wall.end, wall.end_at, bottoms[-1]),
        ):
            places[name] = place
            levels.setdefault(name, {})[wall.name] = float(bottom) + wall.footing_thickness
    found = []
    for name, own in levels.items():
        left = dict(own)
        while left:
            level = next(iter(left.values()))
            alike = [wall for wall, other in left.items() if abs(other - level) < SAME]
            found.append((places[name], level, f"CORNER {name} top of footing {' '.join(alike)}"))
            left = {wall: other for wall, other in left.items() if wall not in alike}
    return found


def _stakes(plan: Plan, corners: Sequence[Found]) -> list[Found]:
    found = []
    for stake in plan.stakes:
        corner, _, wall = stake.name.split()[:3]
        own = [each for each in corners if each[2].split()[1] == corner]
        level = next((z for _, z, said in own if wall in said.split()), own[0][1])
        away = _spoken(stake.offset, plan.project.units)
        found.append(
            ((stake.east, stake.north), level, f"STAKE {stake.name} {away} off; Z top of footing {corner}")
        )
    return found


def _steps(plan: Plan, answer: str) -> list[Found]:
    found = []
    for step in plan.stepping(answer).steps:
        wall = plan.line(step.line).wall
        for where, out in (("centre", -wall.wall_thickness / 2), ("outer edge", wall.projection)):
            place = _place(wall, step.station, out)
            for side, bottom in (("before", step.before), ("after", step.after)):
                said = f"STEP {step.number} {step.line} footing {where}; Z top of footing {side} it"
                found.append((place, bottom + wall.footing_thickness, said))
    return found


def _place(wall: WallLine, station: float, out: float) -> tuple[float, float]:
    """East and north of a station, so far out from the wall's face."""
    along = (np.array(wall.end_at) - wall.start_at) / wall.length
    east, north = np.array(wall.start_at) + along * station + np.array(wall.outward) * out
    return float(east), float(north)


def _floor_drains(project: Project) -> list[Found]:
    parts = {part.name: part for part in project.parts}
    found = []
    for each in project.obstacles:
        if each.kind == "drain" and each.part in parts:
            box = each.box
            middle = ((box.start_east + box.end_east) / 2, (box.start_north + box.end_north) / 2)
            level = slab_top(project, parts[each.part])
            found.append((middle, level, f"DRAIN {each.name}; Z top of slab {each.part}"))
    return found


def _footing_drains(plan: Plan, answer: str) -> list[Found]:
    """Both ends of each pipe, laid against the footing's outer edge."""
    found = []
    for drain in drains_of(plan, answer):
        for pipe in drain.pipes:
            wall = plan.line(pipe.line).wall
            out = wall.projection + PIPE / 2
            for end, station, invert in (
                ("low end", pipe.low_at, pipe.low),
                ("high end", pipe.high_at, pipe.high),
            ):
                said = f"DRAIN {drain.part} {pipe.line} {end}; Z invert"
                found.append((_place(wall, station, out), invert, said))
    return found


def _extras(plan: Plan) -> list[Found]:
    return [
        (
            (each.east, each.north),
            each.bottom.level + each.thickness,
            f"{each.kind.upper()} {each.name}; Z top",
        )
        for each in plan.extras
    ]


def _marks(plan: Plan) -> list[Found]:
    shots = plan.shots
    if shots is None:
        return []
    return [
        (
            (shots.east[i], shots.north[i]),
            shots.elevation[i],
            f"MARK {shots.point[i]} {shots.note[i]}".strip(),
        )
        for i, kind in enumerate(shots.kind)
        if kind is ShotKind.MARK
    ]


def _spoken(length: float, system: str) -> str:
    """A distance without a mark that CSV would have to quote."""
    return units.decimal_feet(length) if system == "us" else units.metres(length, 2)


def _described(text: str) -> str:
    """One line that no spreadsheet takes for a formula; it begins with a word of ours."""
    return " ".join(text.split())
