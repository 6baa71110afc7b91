"""Footings, digs and trenches beside each other in plan, for the rules of digging."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from foundation.cautions.site_work import DigFooting, Near
from foundation.model.concrete import Opening
from foundation.model.walls import FootingLine, Run, Stepping, WallLine
from foundation.plan.footings import DIG, part_of
from foundation.plan.result import PlacedExtra
from foundation.project import Project

DUG_OUT = ("basement", "crawl space")


@dataclass(frozen=True, eq=False)
class Bed:
    """A level piece of footing in plan.

    Attributes
    ----------
    name : str
        What it is called in a sentence.
    owner : str
        Name of the part or the pad that it belongs to.
    plan : shapely Polygon
        Its outline. [m]
    axis : shapely geometry
        What its distance from a dig is measured to: the wall's face, or a pad's outline. [m]
    bottom, top : float
        Its levels. [m]
    spared : float
        How much higher everything but the basement's dig would let it be, 0 where the dig does not govern. [m]
    wall : WallLine or None
        Its wall, None for a pad.
    start : float
        Station where it begins. [m]
    inside : str
        Part in whose space a pad stands.
    """

    name: str
    owner: str
    plan: shapely.Polygon
    axis: shapely.Geometry
    bottom: float
    top: float
    spared: float
    wall: WallLine | None = None
    start: float = 0.0
    inside: str = ""

    def place(self, other: shapely.Geometry) -> tuple[str, float]:
        """Where on its wall line it comes nearest to something.

        Parameters
        ----------
        other : shapely geometry
            Something else in plan. [m]

        Returns
        -------
        tuple
            Name of the line, "" for a pad, and the station. [m]
        """
        if self.wall is None:
            return "", 0.0
        nearest = shapely.get_point(shapely.shortest_line(self.axis, other), 0)
        line = shapely.linestrings([self.wall.start_at, self.wall.end_at])
        return self.wall.name, float(shapely.line_locate_point(line, nearest))


def beds_of(
    project: Project, stepping: Stepping, lines: tuple[FootingLine, ...], extras: tuple[PlacedExtra, ...]
) -> tuple[Bed, ...]:
    """Every level piece of footing of one stepping, and the pads.

    Parameters
    ----------
    project : Project
        The project.
    stepping : Stepping
        The answer.
    lines : tuple of FootingLine
        Its footing lines.
    extras : tuple of PlacedExtra
        Footings beside the network.

    Returns
    -------
    tuple of Bed
        Walls first.
    """
    by_name = {line.wall.name: line for line in lines}
    beds = [_bed_of_run(by_name[run.line], run) for run in stepping.runs]
    inside = {extra.name: extra.inside for extra in project.extras}
    for extra in extras:
        half = extra.length / 2, extra.width / 2
        plan = shapely.box(
            extra.east - half[0], extra.north - half[1], extra.east + half[0], extra.north + half[1]
        )
        bottom = extra.bottom.level
        spared = math.inf if extra.binds == DIG else 0.0
        top = bottom + extra.thickness
        beds.append(
            Bed(extra.name, extra.name, plan, plan, bottom, top, spared, inside=inside.get(extra.name, ""))
        )
    return tuple(beds)


def _bed_of_run(line: FootingLine, run: Run) -> Bed:
    wall = line.wall
    spared = 0.0
    if run.binds == DIG:
        here = (line.node[:-1] < run.end - 1e-6) & (line.node[1:] > run.start + 1e-6)
        others = [float(limit.highest[here].min()) for limit in line.limits if limit.reason != DIG]
        spared = min(others, default=math.inf) - run.bottom
    return Bed(
        f"the footing of wall {wall.name}",
        wall.part,
        _strip(wall, run, wall.projection),
        shapely.linestrings([_at(wall, run.start, 0.0), _at(wall, run.end, 0.0)]),
        run.bottom,
        run.top,
        spared,
        wall,
        run.start,
    )


def _strip(wall: WallLine, run: Run, beyond: float) -> shapely.Polygon:
    """A run's wall in plan, with something beyond each face."""
    inner = -(wall.wall_thickness + beyond)
    corners = [(run.start, inner), (run.end, inner), (run.end, beyond), (run.start, beyond)]
    return shapely.Polygon([_at(wall, station, out) for station, out in corners])


def _at(wall: WallLine, station: float, out: float) -> tuple[float, float]:
    share = station / wall.length
    east, north = (a + share * (b - a) for a, b in zip(wall.start_at, wall.end_at, strict=True))
    return east + out * wall.outward[0], north + out * wall.outward[1]


def footings_beside_dig(
    project: Project, stepping: Stepping, lines: tuple[FootingLine, ...], beds: tuple[Bed, ...]
) -> list[DigFooting]:
    """Footings of garages, porches and pads against the dig of the basement's chosen levels.

    The dig runs along each run of the basement's footing, its projection and the working room wide on both sides,
    and rises from its foot at the slope of its side.

    Parameters
    ----------
    project : Project
        The project.
    stepping : Stepping
        The answer.
    lines : tuple of FootingLine
        Its footing lines.
    beds : tuple of Bed
        All footings.

    Returns
    -------
    list of DigFooting
        One for each such footing.
    """
    by_name = {line.wall.name: line.wall for line in lines}
    digs = [
        (run.bottom, wall, _strip(wall, run, wall.projection + project.digging.working_room))
        for run in stepping.runs
        for wall in [by_name[run.line]]
        if part_of(project, wall.part).use in DUG_OUT
    ]
    found = []
    for bed in beds:
        if bed.wall is not None and part_of(project, bed.wall.part).use in ("basement", "interior wall"):
            continue
        beside = [
            (bottom + float(shapely.distance(bed.axis, dig)) * project.digging.side_slope, dig)
            for bottom, wall, dig in digs
            if wall.part not in (bed.inside, bed.owner)
        ]
        if beside:
            ground, dig = min(beside, key=lambda pair: pair[0])
            found.append(DigFooting(bed.owner, bed.bottom, ground, bed.spared, *bed.place(dig)))
    return found


def separate_footings(project: Project, beds: tuple[Bed, ...]) -> list[Near]:
    """Pairs of footings that do not join and of which one lies lower.

    A footing beside a basement's dig is left to the rule of the dig, which asks for more.

    Parameters
    ----------
    project : Project
        The project.
    beds : tuple of Bed
        All footings.

    Returns
    -------
    list of Near
        Pairs inside the 1 to 1 line.
    """
    plans = np.array([bed.plan for bed in beds])
    bottom = np.array([bed.bottom for bed in beds])
    distance = shapely.distance(plans[:, None], plans[None, :])
    found = []
    for high, low in np.argwhere(bottom[:, None] - bottom[None, :] > distance):
        upper, lower = beds[high], beds[low]
        if upper.owner == lower.owner or _joined(upper, lower) or _beside_basement(project, upper, lower):
            continue
        pad = next((bed for bed in (upper, lower) if bed.wall is None), lower)
        place = upper.place(lower.plan) if upper.wall is not None else lower.place(upper.plan)
        found.append(
            Near(
                pad.name,
                upper.name,
                lower.name,
                float(bottom[high] - bottom[low]),
                float(distance[high, low]),
                *place,
            )
        )
    return found


def _joined(one: Bed, other: Bed) -> bool:
    """Whether two walls meet at a corner: between them the step rules hold."""
    if one.wall is None or other.wall is None:
        return False
    return bool({one.wall.start, one.wall.end} & {other.wall.start, other.wall.end})


def _beside_basement(project: Project, one: Bed, other: Bed) -> bool:
    for dug, beside in ((one, other), (other, one)):
        if dug.wall is None or part_of(project, dug.wall.part).use not in DUG_OUT:
            continue
        if beside.wall is None and beside.inside != dug.owner:
            return True
        if beside.wall is not None and part_of(project, beside.wall.part).use not in (
            "basement",
            "interior wall",
        ):
            return True
    return False


def trenches_below(project: Project, beds: tuple[Bed, ...]) -> list[Near]:
    """Trenches that lie lower than the bottom of a footing.

    Parameters
    ----------
    project : Project
        The project.
    beds : tuple of Bed
        All footings.

    Returns
    -------
    list of Near
        Every such pair.
    """
    return [
        Near(
            name,
            bed.name,
            name,
            bed.bottom - bottom,
            float(shapely.distance(bed.plan, line)),
            *bed.place(line),
        )
        for name, bottom, line in _trenches(project)
        for bed in beds
        if bed.bottom > bottom
    ]


def pipes_across(project: Project, beds: tuple[Bed, ...], openings: Iterable[Opening]) -> list[Near]:
    """Trenches and sleeves that cross a footing in plan, the deepest crossing of each.

    Parameters
    ----------
    project : Project
        The project.
    beds : tuple of Bed
        All footings.
    openings : iterable of Opening
        Openings of the walls.

    Returns
    -------
    list of Near
        ``drop`` is from the top of footing.
    """
    found = [
        Near(name, bed.name, name, bed.top - bottom, 0.0, *bed.place(line))
        for name, bottom, line in _trenches(project)
        for bed in beds
        if shapely.intersects(bed.plan, line)
    ]
    for sleeve in openings:
        if sleeve.kind != "sleeve":
            continue
        under = [bed for bed in beds if bed.wall is not None and bed.wall.name == sleeve.line]
        # The last piece of footing that begins before the sleeve's end carries it, and so may the ones before.
        crossed = [
            bed
            for bed, after in zip(under, [*(b.start for b in under[1:]), math.inf], strict=True)
            if bed.start < sleeve.end and after > sleeve.start
        ]
        found += [
            Near(sleeve.name, bed.name, sleeve.name, bed.top - sleeve.bottom, 0.0, sleeve.line, sleeve.start)
            for bed in crossed
        ]
    deepest: dict[str, Near] = {}
    for near in found:
        if near.subject not in deepest or near.drop > deepest[near.subject].drop:
            deepest[near.subject] = near
    return list(deepest.values())


def _trenches(project: Project) -> list[tuple[str, float, shapely.LineString]]:
    return [
        (
            trench.name,
            trench.bottom,
            shapely.linestrings(
                [(trench.start_east, trench.start_north), (trench.end_east, trench.end_north)]
            ),
        )
        for trench in project.surroundings.trenches
    ]
