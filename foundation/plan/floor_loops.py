"""Tube laid in the zones: where each zone's loops begin, what they keep to, and the coils that they are cut from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from shapely.geometry import Point, Polygon

from foundation import units
from foundation.model.floors import Coil
from foundation.model.loops import Barrier, FloorArea, Laying, LayingRules
from foundation.model.problem import Problem
from foundation.model.zones import ZoneShape
from foundation.plan.floor_build import tube_of
from foundation.plan.floor_zones import FIT, PartFloor
from foundation.plan.lines import outline
from foundation.project import Project
from foundation.radiant.loops import Zone, lay_zones

KEPT = 200
"""Layings that are kept for zones that did not change. [-]"""


@dataclass(frozen=True)
class PlacedManifold:
    """A manifold where it stands.

    Attributes
    ----------
    name, part : str
        What it is called, and the part that it serves.
    at : tuple of float
        East and north. [m]
    """

    name: str
    part: str
    at: tuple[float, float]


def manifolds_of(
    project: Project, floors: Mapping[str, PartFloor]
) -> tuple[tuple[PlacedManifold, ...], tuple[Problem, ...]]:
    """Manifolds of all parts with zones; one that nobody has placed stands in its part's first corner.

    Parameters
    ----------
    project : Project
        The project.
    floors : mapping of str to PartFloor
        Floors of the parts that zones lie in.

    Returns
    -------
    manifolds : tuple of PlacedManifold
        In the order of the project, then those that were assumed.
    problems : tuple of Problem
        Manifolds outside their part, fatal; those that were assumed, not fatal.
    """
    found, problems = [], []
    for number, typed in enumerate(project.manifolds, 1):
        if typed.part not in floors:
            continue
        at = typed.at.east, typed.at.north
        whole = outline(project, floors[typed.part].part)
        if whole is not None and whole.distance(Point(at)) > FIT:
            problems.append(
                Problem(
                    f"manifolds[{number}].at",
                    typed.name,
                    f"Manifold {typed.name} stands outside {typed.part}, whose loops it serves: place it within.",
                )
            )
        found.append(PlacedManifold(typed.name, typed.part, at))
    for name, floor in floors.items():
        if all(manifold.part != name for manifold in found):
            corners = np.asarray(floor.floor.exterior.coords)
            named = floor.part.corners[0]
            corner = project.corners[named]
            near = corners[np.argmin(np.hypot(corners[:, 0] - corner.east, corners[:, 1] - corner.north))]
            found.append(PlacedManifold(f"{name} manifold", name, (float(near[0]), float(near[1]))))
            problems.append(
                Problem(
                    "manifolds",
                    name,
                    f"Nobody has said where the loops of {name} begin: its manifold is taken in corner {named}.",
                    fatal=False,
                )
            )
    return tuple(found), tuple(problems)


def longest_loop(project: Project) -> float:
    """Longest loop with its leaders: as typed, else what the trade allows the tube.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    float
        Length. [m]
    """
    typed = project.floors.longest_loop
    return typed if typed is not None else tube_of(project).longest_loop


def laying_rules(project: Project, spacing: float) -> LayingRules:
    """What laid tube keeps to at a spacing.

    Parameters
    ----------
    project : Project
        The project.
    spacing : float
        Between the axes of neighbouring rows. [m]

    Returns
    -------
    LayingRules
        The rules.
    """
    floors = project.floors
    return LayingRules(
        spacing=spacing,
        bend_radius=tube_of(project).bend_radius,
        from_edge=floors.from_wall,
        from_barrier=floors.from_joint,
        longest=longest_loop(project),
        equal_within=floors.equal_within,
    )


def loops_of_zones(
    project: Project, zones: Sequence[tuple[ZoneShape, float]], manifolds: Sequence[PlacedManifold]
) -> tuple[dict[str, tuple[str, tuple[Laying, ...]]], tuple[Problem, ...]]:
    """Loops of all zones, each from the manifold of its part that is nearest; those of one manifold are laid together.

    Parameters
    ----------
    project : Project
        The project.
    zones : sequence of tuple
        Each zone and the spacing of its tube. [m]
    manifolds : sequence of PlacedManifold
        Those of the job, at least one for each part.

    Returns
    -------
    laid : dict of str to tuple
        For each zone where its loops begin, and its loops piece by piece.
    problems : tuple of Problem
        Zones that no tube could be laid in, or not in all of them, not fatal.
    """
    served: dict[PlacedManifold, list[tuple[ZoneShape, float]]] = {}
    for shape, spacing in zones:
        own = [manifold for manifold in manifolds if manifold.part == shape.part]
        largest = Polygon(max(shape.areas, key=lambda area: Polygon(area.outline).area).outline)
        near = min(own, key=lambda manifold: largest.distance(Point(manifold.at)))
        served.setdefault(near, []).append((shape, spacing))
    laid: dict[str, tuple[str, tuple[Laying, ...]]] = {}
    problems = []
    for manifold, own_zones in served.items():
        pieces = [(shape, area, spacing) for shape, spacing in own_zones for area in shape.areas]
        keys = tuple((_key(area), laying_rules(project, spacing)) for _, area, spacing in pieces)
        try:
            found = _laid(keys, manifold.at)
        except ValueError as reason:
            problems += [_no_tube(shape, str(reason)) for shape, _ in own_zones]
            found = ()
        for shape, _ in own_zones:
            mine = [laying for (each, _, _), laying in zip(pieces, found, strict=False) if each is shape]
            laid[shape.name] = manifold.name, _numbered(mine)
            problems += [
                _no_tube(shape, " ".join(laying.reasons)) for laying in mine if not laying.loops and found
            ]
    return laid, tuple(problems)


def _numbered(layings: Sequence[Laying]) -> tuple[Laying, ...]:
    """Layings of one zone, their loops numbered through."""
    count = 0
    numbered = []
    for laying in layings:
        loops = tuple(
            replace(loop, name=f"{loop.zone} {count + n}") for n, loop in enumerate(laying.loops, 1)
        )
        count += len(loops)
        numbered.append(replace(laying, loops=loops))
    return tuple(numbered)


def coils_of(
    project: Project, layings: Mapping[str, Sequence[Laying]]
) -> tuple[tuple[Coil, ...], tuple[Problem, ...]]:
    """Coils to buy, and what is cut from each; no loop has a joint in it.

    The longest loop is cut first, each from the coil that leaves least over.

    Parameters
    ----------
    project : Project
        The project.
    layings : mapping of str to sequence of Laying
        Loops of each zone.

    Returns
    -------
    coils : tuple of Coil
        The coils.
    problems : tuple of Problem
        Loops longer than a coil, not fatal.
    """
    whole = project.floors.coil
    loops = [loop for each in layings.values() for laying in each for loop in laying.loops]
    fit = sorted((loop for loop in loops if loop.length <= whole), key=lambda loop: -loop.length)
    coils: list[Coil] = []
    for loop in fit:
        room = [coil for coil in coils if coil.left >= loop.length]
        best = min(room, key=lambda coil: coil.left, default=Coil(whole, (), whole))
        if room:
            coils.remove(best)
        coils.append(replace(best, loops=(*best.loops, loop.name), left=best.left - loop.length))
    return tuple(coils), tuple(
        Problem(
            "floors.coil",
            loop.name,
            f"Loop {loop.name} of {units.length(loop.length, project.units)} is longer than a coil of "
            f"{units.length(whole, project.units)}: take longer coils, or shorter loops.",
            fatal=False,
        )
        for loop in loops
        if loop.length > whole
    )


def _no_tube(shape: ZoneShape, reason: str) -> Problem:
    return Problem(
        f"zones[{shape.number}]",
        shape.name,
        f"No tube could be laid in zone {shape.name} or in a piece of it: {reason}",
        fatal=False,
    )


_Points = tuple[tuple[float, ...], ...]
_Key = tuple[
    str,
    _Points,
    tuple[_Points, ...],
    tuple[tuple[tuple[float, float], tuple[float, float]], ...],
    tuple[Barrier, ...],
]


def _key(area: FloorArea) -> _Key:
    def points(corners: Iterable[Iterable[float]]) -> _Points:
        return tuple(tuple(float(value) for value in corner) for corner in corners)

    holes = tuple(points(hole) for hole in area.holes)
    return area.zone, points(area.outline), holes, area.walls, area.barriers


@lru_cache(maxsize=KEPT)
def _laid(keys: tuple[tuple[_Key, LayingRules], ...], manifold: tuple[float, float]) -> tuple[Laying, ...]:
    zones = [
        Zone(
            FloorArea(zone, np.array(corners), tuple(np.array(hole) for hole in holes), walls, barriers),
            rules,
        )
        for (zone, corners, holes, walls, barriers), rules in keys
    ]
    return lay_zones(zones, manifold)
