"""The walls on a stepping: from the project's sizes, openings and grades to what the walls topic answers."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.footing.cover import bottom_at, inch_stations
from foundation.model.concrete import Fill, Headroom, Ledge, Opening, TopOfWall, WallPiece, Walls
from foundation.model.ground import Profile
from foundation.model.problem import Problem
from foundation.model.walls import FootingLine, Run, Stepping, WallLine
from foundation.plan.beside import Beside
from foundation.plan.footings import part_of
from foundation.plan.ground import Survey
from foundation.plan.lines import PlanError, along_named, slab_top, wall_top
from foundation.project import Project
from foundation.project.schema import Part
from foundation.project.schema_walls import OpeningInput, WallSize
from foundation.site.profile import profile_along
from foundation.walls.bare import bare_concrete
from foundation.walls.fill import support_stages, unbalanced_fill
from foundation.walls.ledge import ledge_of
from foundation.walls.openings import SLACK, check_foot, check_overlaps, check_top
from foundation.walls.panels import panel_row
from foundation.walls.pieces import pieces_of
from foundation.walls.top import GradedLine, tops_of

Array = NDArray[np.float64]
Placed = tuple[Opening, str]
"""An opening and its path in the project file."""

WOOD_ABOVE_GRADE = 8 * 0.0254
"""Height that wood keeps above finished grade where concrete drops to a framed wall [practice]. [m]"""
DUG_OUT = ("basement", "crawl space")
"""Uses whose floor lies at the foot of the wall, under a deck; under any other floor the walls hold fill."""


def walls_of(
    project: Project,
    stepping: Stepping,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    survey: Survey | None = None,
) -> Walls:
    """Everything about the walls on one stepping.

    Parameters
    ----------
    project : Project
        The project.
    stepping : Stepping
        The answer that they stand on.
    lines : tuple of FootingLine
        Its footing lines.
    beside : mapping of str to Beside
        Grade beside each.
    survey : Survey or None
        The survey: with it grade is taken at the wall's very face, without it the lower one of face and footing's
        edge stands for both.

    Returns
    -------
    Walls
        Pieces with their forms, tops, fill, bare concrete, openings, ledges and headroom.

    Raises
    ------
    PlanError
        If an opening, a low top or a ledge does not fit its wall; each problem is one sentence.
    """
    placed, problems = openings_of(project, lines)
    runs = {line.wall.name: [run for run in stepping.runs if run.line == line.wall.name] for line in lines}
    faces = {
        line.wall.name: face_grade(project, line.wall, beside[line.wall.name], survey)
        for line in lines
        if _outdoors(project, line.wall)
    }
    tops = _tops(project, lines, faces)
    problems += _below_footing(project, placed, runs) + _misfits(project, lines, runs, tops)
    fatal = tuple(problem for problem in problems if problem.fatal)
    if fatal:
        raise PlanError(fatal)
    pieces: list[WallPiece] = []
    rows, fills, bare = [], [], []
    for wall in (line.wall for line in lines):
        openings = [opening for opening, _ in placed if opening.line == wall.name]
        own = pieces_of(wall, runs[wall.name], tops.get(wall.name), openings, project.forms.heights)
        pieces += own
        rows.append(panel_row(wall.name, wall.length, project.forms.widths))
        if part_of(project, wall.part).use != "interior wall":
            fills.append(_fill(project, wall, runs[wall.name], faces.get(wall.name)))
        if wall.name in faces:
            station = inch_stations(wall.length)
            bare.append(bare_concrete(wall.name, station, faces[wall.name], own, openings))
    return Walls(
        pieces=tuple(pieces),
        rows=tuple(rows),
        tops=tuple(tops[line.wall.name] for line in lines if line.wall.name in tops),
        fills=tuple(fills),
        bare=tuple(bare),
        openings=tuple(opening for opening, _ in placed),
        ledges=_ledges(project, lines),
        headrooms=tuple(
            Headroom(part.name, wall_top(project, part) - slab_top(project, part))
            for part in project.parts
            if part.use in DUG_OUT
        ),
    )


def openings_of(
    project: Project, lines: tuple[FootingLine, ...]
) -> tuple[tuple[Placed, ...], tuple[Problem, ...]]:
    """Openings in the wall lines that they fall into, and what is wrong with them on any stepping.

    Parameters
    ----------
    project : Project
        The project.
    lines : tuple of FootingLine
        Its footing lines.

    Returns
    -------
    placed : tuple of tuple
        Each opening that lies in a wall, stations from its line's first corner, with its path in the project file.
    problems : tuple of Problem
        What is wrong; not all of it fatal.
    """
    say = functools.partial(units.length, system=project.units)
    walls = {line.wall.name: line.wall for line in lines}
    placed: list[Placed] = []
    problems: list[Problem] = []
    for number, typed in enumerate(project.openings, 1):
        place = f"openings[{number}]"
        found = _placed(project, typed, place, list(walls.values()))
        if isinstance(found, Problem):
            problems.append(found)
            continue
        placed.append((found, place))
        problems += check_top(found, place, walls[found.line], say)
    problems += check_overlaps([opening for opening, _ in placed], [place for _, place in placed])
    return tuple(placed), tuple(problems)


def _placed(
    project: Project, typed: OpeningInput, place: str, walls: Sequence[WallLine]
) -> Opening | Problem:
    say = functools.partial(units.length, system=project.units)
    pieces = [(wall, along_named(project, typed.line, wall)) for wall in walls]
    known = [(wall, piece) for wall, piece in pieces if piece is not None]
    if not known:
        names = ", ".join(wall.name for wall in walls)
        return Problem(
            f"{place}.line",
            typed.line,
            f"{place}.line names wall {typed.line}, which is not among the walls: {names}.",
        )
    end = typed.start + typed.width
    for wall, (first, last) in known:
        if min(first, last) - SLACK <= typed.start and end <= max(first, last) + SLACK:
            start = typed.start - first if first < last else first - end
            start = min(max(0.0, start), wall.length)
            return Opening(
                typed.name,
                typed.kind,
                wall.name,
                start,
                min(start + typed.width, wall.length),
                typed.bottom,
                typed.bottom + typed.height,
            )
    longest = max(max(piece) for _, piece in known)
    name = f"{typed.kind.capitalize()} {typed.name}"
    if end > longest + SLACK:
        return Problem(
            f"{place}.start",
            say(typed.start),
            f"{name} reaches to {say(end)} on wall {typed.line}, which is {say(longest)} long: "
            "check its start, measured from the first-named corner, and its width.",
        )
    return Problem(
        f"{place}.start",
        say(typed.start),
        f"{name} on wall {typed.line} stands where another wall meets it: move it to one side.",
    )


def face_grade(project: Project, wall: WallLine, beside: Beside, survey: Survey | None) -> Profile:
    """Finished grade at a wall's outer face.

    Frost cover asks for the lower one of face and footing's edge; soil against the wall, and the concrete that shows,
    are told by the face alone, which stands higher where the ground falls away.

    Parameters
    ----------
    project : Project
        The project.
    wall : WallLine
        An outdoor wall line.
    beside : Beside
        Grade beside it.
    survey : Survey or None
        The survey.

    Returns
    -------
    Profile
        The typed table where there is one, else the surface at the face.
    """
    typed = any(
        table.surface != "existing" and along_named(project, table.line, wall) is not None
        for table in project.ground.walls
    )
    if survey is None or typed:
        return beside.finished
    face = _surveyed_face(survey, wall)
    station = np.union1d(face.station, beside.finished.station)
    # Where the face itself has no ground, the footing's edge tells.
    grade = np.fmax(
        np.interp(station, face.station, face.grade),
        np.interp(station, beside.finished.station, beside.finished.grade),
    )
    return Profile(station, grade)


@functools.lru_cache(maxsize=256)
def _surveyed_face(survey: Survey, wall: WallLine) -> Profile:
    return profile_along(survey.finished, wall.start_at, wall.end_at)


def _outdoors(project: Project, wall: WallLine) -> bool:
    return not wall.beyond and part_of(project, wall.part).use != "interior wall"


def _sized(
    project: Project, lines: Sequence[FootingLine]
) -> Iterator[tuple[str, Part, WallSize, list[WallLine]]]:
    """Each wall that differs from its part's: its path in the project file, and its lines in order."""
    for number, part in enumerate(project.parts, 1):
        for count, size in enumerate(part.walls, 1):
            places = [
                (along, line.wall)
                for line in lines
                if line.wall.part == part.name
                and (along := along_named(project, size.line, line.wall)) is not None
            ]
            # A ring's lines on one straight wall all run the same way, with the name or against it.
            against = bool(places) and places[0][0][0] > places[0][0][1]
            places.sort(key=lambda place: place[0][0], reverse=against)
            yield f"parts[{number}].walls[{count}]", part, size, [wall for _, wall in places]


def _tops(
    project: Project, lines: Sequence[FootingLine], faces: Mapping[str, Profile]
) -> dict[str, TopOfWall]:
    found: dict[str, TopOfWall] = {}
    for _, _, size, walls in _sized(project, lines):
        if size.low_top is None:
            continue
        names = {wall.name for wall in walls}
        round_corners = tuple(
            _grade_at_corner(corner, [line.wall for line in lines if line.wall.name not in names], faces)
            for corner in (walls[0].start, walls[-1].end)
        )
        graded = [GradedLine(wall.name, inch_stations(wall.length), faces.get(wall.name)) for wall in walls]
        for top in tops_of(
            graded, walls[0].wall_top, size.low_top, WOOD_ABOVE_GRADE, (round_corners[0], round_corners[1])
        ):
            found[top.line] = top
    return found


def _grade_at_corner(corner: str, walls: Sequence[WallLine], faces: Mapping[str, Profile]) -> float:
    """Highest grade at a corner by the faces of the outdoor walls that meet there, nan for none."""
    ends = [
        faces[wall.name].grade[0 if wall.start == corner else -1]
        for wall in walls
        if wall.name in faces and corner in (wall.start, wall.end)
    ]
    return float(max(ends)) if ends else math.nan


def _below_footing(
    project: Project, placed: Sequence[Placed], runs: Mapping[str, Sequence[Run]]
) -> tuple[Problem, ...]:
    say = functools.partial(units.length, system=project.units)
    problems: list[Problem] = []
    for opening, place in placed:
        under = [
            run.top
            for run in runs[opening.line]
            if run.start < opening.end - SLACK and run.end > opening.start + SLACK
        ]
        problems += check_foot(opening, place, max(under, default=-math.inf), say)
    return tuple(problems)


def _misfits(
    project: Project,
    lines: Sequence[FootingLine],
    runs: Mapping[str, Sequence[Run]],
    tops: Mapping[str, TopOfWall],
) -> tuple[Problem, ...]:
    """Low tops and ledges at levels where their wall has no concrete."""
    say = functools.partial(units.length, system=project.units)
    found = []
    for place, _, size, walls in _sized(project, lines):
        levels = [("low_top", "low top", size.low_top)] if size.low_top is not None else []
        levels += [("ledge.level", "ledge", size.ledge.level)] if size.ledge is not None else []
        for field, what, level in levels:
            feet = [
                run.top
                for wall in walls
                for run in runs[wall.name]
                if what == "ledge" or _drops_over(tops.get(wall.name), run)
            ]
            lowest = (min if what == "ledge" else max)(feet, default=-math.inf)
            top = walls[0].wall_top
            if level > top - SLACK or level < lowest + (0.0 if what == "ledge" else SLACK):
                found.append(
                    Problem(
                        f"{place}.{field}",
                        say(level),
                        f"The {what} of wall {size.line} is at {say(level)}: give a level below the top of wall, "
                        f"{say(top)}" + (f", and above the top of footing, {say(lowest)}." if feet else "."),
                    )
                )
    return tuple(found)


def _drops_over(top: TopOfWall | None, run: Run) -> bool:
    if top is None or top.drop_from is None or top.drop_to is None:
        return False
    return run.start < top.drop_to - SLACK and run.end > top.drop_from + SLACK


def _fill(project: Project, wall: WallLine, runs: Sequence[Run], face: Profile | None) -> Fill:
    station = inch_stations(wall.length)
    node = np.array([0.0, *(run.end for run in runs)])
    # At a step the lower footing counts, beside which the fill stands higher.
    footing = -bottom_at(station, node, -np.array([run.top for run in runs]))
    spaces = [part_of(project, name) for name in (wall.part, wall.beyond) if name]
    inside = _floor_side(project, spaces[0], footing)
    outside = (
        np.interp(station, face.station, face.grade)
        if face is not None
        else _floor_side(project, spaces[-1], footing)
    )
    stage = project.stage
    carries_deck = any(space.use in DUG_OUT for space in spaces)
    supports = support_stages(stage.deck_before_backfill, stage.slab_before_backfill, carries_deck)
    return unbalanced_fill(wall.name, station, outside, inside, supports)


def _floor_side(project: Project, part: Part, footing_top: Array) -> Array:
    """What stands against a wall on the side of a part's space.

    A dug-out space has its slab there only if that is poured before the backfill; until then nothing does, down to
    the top of footing. Under any other floor there is fill up to the slab.
    """
    if part.use not in DUG_OUT:
        return np.full(len(footing_top), slab_top(project, part) - part.slab_thickness)
    if project.stage.slab_before_backfill == "yes":
        return np.full(len(footing_top), slab_top(project, part))
    return footing_top


def _ledges(project: Project, lines: Sequence[FootingLine]) -> tuple[Ledge, ...]:
    found = []
    for _, part, size, walls in _sized(project, lines):
        if size.ledge is None:
            continue
        room = slab_top(project, part) - part.slab_thickness - size.ledge.level
        for wall in walls:
            found.append(
                ledge_of(
                    line=wall.name,
                    level=size.ledge.level,
                    wall=wall.wall_thickness,
                    upper=size.ledge.upper,
                    foam=size.ledge.foam,
                    bearing=size.ledge.bearing,
                    gap=size.ledge.gap,
                    carries=math.nan if size.carries is None else size.carries,
                    veneer=size.ledge.veneer,
                    # What lies between is foam as far as there is room for it.
                    foam_below=min(part.foam_over_footing, room),
                )
            )
    return tuple(found)
