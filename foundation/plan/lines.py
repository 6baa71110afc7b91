"""From the parts of a project to wall lines, and from their corners to the network of footings."""

from __future__ import annotations

import math
from dataclasses import replace

from shapely.geometry import LineString, Point, Polygon

from foundation.model.problem import Problem
from foundation.model.walls import LineChain, WallLine
from foundation.project.schema import Part, Project

TOUCH = 0.01 * 0.3048
"""Corners closer to a wall than a hundredth of a foot stand on it. [m]"""


class PlanError(ValueError):
    """Inputs that are each sound but do not make a building together.

    Parameters
    ----------
    problems : tuple of Problem
        All that is wrong.
    """

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("\n".join(problem.sentence for problem in problems))


def position(project: Project, corner: str) -> tuple[float, float]:
    """Plan position of a corner.

    Parameters
    ----------
    project : Project
        The project.
    corner : str
        Name of the corner.

    Returns
    -------
    tuple of float
        East and north. [m]
    """
    at = project.corners[corner]
    return at.east, at.north


def with_tee_corners(project: Project) -> dict[str, tuple[str, ...]]:
    """Corner names round each part, with the corners where other parts tee into its walls put in.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    dict of str to tuple of str
        For each part its corners in order.
    """
    ends = {name for part in project.parts if not part.ring for name in (part.corners[0], part.corners[-1])}
    result = {}
    for part in project.parts:
        names: list[str] = []
        corners = [*part.corners, part.corners[0]] if part.ring else part.corners
        for start, end in zip(corners, corners[1:], strict=False):
            names.append(start)
            wall = LineString([position(project, start), position(project, end)])
            on_wall = [
                name
                for name in ends - set(part.corners)
                if wall.distance(Point(position(project, name))) < TOUCH
            ]
            names += sorted(on_wall, key=lambda name: wall.project(Point(position(project, name))))
        if not part.ring:
            names.append(part.corners[-1])
        result[part.name] = tuple(names)
    return result


def outline(project: Project, part: Part) -> Polygon | None:
    """Plan of the space inside a part.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.

    Returns
    -------
    shapely Polygon or None
        Its outline [m]; None for a single wall.
    """
    if part.use == "interior wall" or len(part.corners) < 3:
        return None
    return Polygon([position(project, name) for name in part.corners])


def wall_lines(project: Project) -> tuple[WallLine, ...]:
    """Every wall line of the project, part by part.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of WallLine
        In the order of the parts and of their corners.

    Raises
    ------
    PlanError
        If walls cross, corners coincide, or a part's outline crosses itself.
    """
    problems: list[Problem] = []
    outlines = {}
    for number, part in enumerate(project.parts, 1):
        polygon = outline(project, part)
        if polygon is not None and not polygon.is_valid:
            problems.append(
                Problem(
                    f"parts[{number}].corners",
                    ", ".join(part.corners),
                    f"The outline of {part.name} crosses itself: name its corners in order, one way round.",
                )
            )
        outlines[part.name] = polygon
    lines = []
    for number, part in enumerate(project.parts, 1):
        names = with_tee_corners(project)[part.name]
        pairs = list(zip(names, names[1:], strict=False)) + ([(names[-1], names[0])] if part.ring else [])
        for start, end in pairs:
            first, second = position(project, start), position(project, end)
            length = math.dist(first, second)
            if length < 0.3:
                problems.append(
                    Problem(
                        f"parts[{number}].corners",
                        f"{start}, {end}",
                        f"Corners {start} and {end} of {part.name} are {length / 0.3048:.2f} ft apart: "
                        "too close for a wall. Check their east and north.",
                    )
                )
                continue
            lines.append(_wall(project, part, start, end, outlines))
    for number, line in enumerate(lines):
        for other in lines[:number]:
            if {line.start, line.end} & {other.start, other.end}:
                continue
            if LineString([line.start_at, line.end_at]).crosses(LineString([other.start_at, other.end_at])):
                problems.append(
                    Problem(
                        "corners",
                        f"{line.name}, {other.name}",
                        f"Walls {line.name} and {other.name} cross: give their meeting point a corner.",
                    )
                )
    named = [
        (f"parts[{n}].walls", size.line, part.name)
        for n, part in enumerate(project.parts, 1)
        for size in part.walls
    ]
    named += [("rules.no_steps", rule.line, "") for rule in project.rules.no_steps]
    named += [("ground.walls", grade.line, "") for grade in project.ground.walls]
    around = project.surroundings
    for key, listed in (("paved", around.paved), ("melted", around.melted), ("surcharge", around.surcharge)):
        named += [(f"surroundings.{key}", name, "") for name in listed]
    for place, name, owner in named:
        known = [line for line in lines if owner in ("", line.part)]
        if all(along_named(project, name, line) is None for line in known):
            problems.append(_unknown_line(place, name, {line.name for line in known}))
    if problems:
        raise PlanError(tuple(problems))
    return tuple(lines)


def along_named(project: Project, named: str, wall: WallLine) -> tuple[float, float] | None:
    """Where a wall line lies on a wall that is named by two corners, tees in between or not.

    Parameters
    ----------
    project : Project
        The project.
    named : str
        Two corners, such as ``A-B``.
    wall : WallLine
        The wall line.

    Returns
    -------
    tuple of float or None
        Distance of the line's start and of its end from the first-named corner [m]; None when the line is no piece
        of the named wall.
    """
    ends = named.split("-")
    if len(ends) != 2 or not set(ends) <= set(project.corners) or ends[0] == ends[1]:
        return None
    straight = LineString([position(project, end) for end in ends])
    places = [Point(wall.start_at), Point(wall.end_at)]
    if any(straight.distance(place) > TOUCH for place in places):
        return None
    return straight.project(places[0]), straight.project(places[1])


def _unknown_line(place: str, name: str, known: set[str]) -> Problem:
    return Problem(
        place, name, f"{place} names wall {name}, which is not among the walls: {', '.join(sorted(known))}."
    )


def _wall(
    project: Project, part: Part, start: str, end: str, outlines: dict[str, Polygon | None]
) -> WallLine:
    first, second = position(project, start), position(project, end)
    length = math.dist(first, second)
    along = ((second[0] - first[0]) / length, (second[1] - first[1]) / length)
    left = (-along[1], along[0])
    middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)

    def spaces(side: tuple[float, float]) -> list[str]:
        point = Point(middle[0] + 0.15 * side[0], middle[1] + 0.15 * side[1])
        return [name for name, polygon in outlines.items() if polygon is not None and polygon.contains(point)]

    right = (-left[0], -left[1])
    own = outlines[part.name]
    # The own part's space is inside; a single wall's outward side is the one with less building on it.
    outward = right if part.name in spaces(left) or (own is None and not spaces(right)) else left
    beyond = [name for name in spaces(outward) if name != part.name]
    wall = WallLine(
        name=f"{start}-{end}",
        part=part.name,
        start=start,
        end=end,
        start_at=first,
        end_at=second,
        length=length,
        outward=outward,
        beyond=beyond[0] if beyond else "",
        wall_thickness=part.wall_thickness,
        wall_top=wall_top(project, part),
        footing_width=part.footing_width,
        footing_thickness=part.footing_thickness,
    )
    for size in part.walls:
        if size.thickness is not None and along_named(project, size.line, wall) is not None:
            wall = replace(wall, wall_thickness=size.thickness)
    return wall


def slab_top(project: Project, part: Part) -> float:
    """Level of a part's slab: typed, else from its wall top, else the main part's.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.

    Returns
    -------
    float
        Level of the top of slab. [m]
    """
    if part.slab_top is not None:
        return part.slab_top
    if part.use in ("garage", "porch", "slab on grade"):
        return wall_top(project, part)
    if part.wall_top is not None:
        return part.wall_top - part.wall_height + part.build_up
    return slab_top(project, project.parts[0])


def wall_top(project: Project, part: Part) -> float:
    """Level of a part's wall top: typed, else the main part's, else from the main part's slab.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.

    Returns
    -------
    float
        Level of the top of wall. [m]
    """
    if part.wall_top is not None:
        return part.wall_top
    main = project.parts[0]
    if part is not main:
        return wall_top(project, main)
    assert main.slab_top is not None  # the schema asks for one of the two
    if main.use in ("garage", "porch", "slab on grade"):
        return main.slab_top
    return main.slab_top - main.build_up + main.wall_height


def chains(project: Project, lines: tuple[WallLine, ...]) -> tuple[LineChain, ...]:
    """The network of footings: wall lines joined into chains between tees.

    Parameters
    ----------
    project : Project
        The project.
    lines : tuple of WallLine
        Its wall lines.

    Returns
    -------
    tuple of LineChain
        Part by part. A part's end on another part's wall is a tee; the other part's footing runs through it.
    """
    names = with_tee_corners(project)
    by_part = {part.name: [line for line in lines if line.part == part.name] for part in project.parts}
    ends = {
        corner: [p for p in project.parts if not p.ring and corner in (names[p.name][0], names[p.name][-1])]
        for corner in project.corners
    }
    holders = {corner: [p for p in project.parts if corner in names[p.name]] for corner in project.corners}
    tees = {corner for corner in project.corners if ends[corner] and len(holders[corner]) > 1}

    def branches(corner: str | None, part: Part) -> bool:
        """Whether the part ends at a corner that some other part's footing runs through."""
        return (
            corner in tees
            and any(other is not part and other not in ends[corner] for other in holders[corner])
            and part in ends[corner]
        )

    result = []
    for part in project.parts:
        walls = by_part[part.name]
        if part.ring:
            cuts = [number for number, line in enumerate(walls) if line.start in tees]
            if not cuts:
                result.append(
                    LineChain(tuple(line.name for line in walls), None, None, False, False, closed=True)
                )
                continue
            walls = walls[cuts[0] :] + walls[: cuts[0]]
        groups: list[list[WallLine]] = []
        for line in walls:
            if not groups or line.start in tees:
                groups.append([])
            groups[-1].append(line)
        for group in groups:
            start = group[0].start if group[0].start in tees else None
            end = group[-1].end if group[-1].end in tees else None
            result.append(
                LineChain(
                    tuple(line.name for line in group),
                    start,
                    end,
                    branches(start, part),
                    branches(end, part),
                    False,
                )
            )
    return tuple(result)
