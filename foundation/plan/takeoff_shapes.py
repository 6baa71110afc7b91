"""Plan shapes of the count: strips along wall lines, mitred where lines meet, and solids over them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon

from foundation.model.walls import WallLine
from foundation.plan.result import Plan

PARALLEL = 0.05
"""Lines that turn by less than about 3 degrees go on straight: their ends are square. [-]"""
EMPTY = 1e-9
"""Overlaps smaller than this are none. [m³]"""

End = tuple[WallLine, float, float]
"""A line that another one meets at a corner, and the inner and outer side of its strip there. [m]"""


@dataclass(frozen=True, eq=False)
class Solid:
    """An upright body of one plan.

    Attributes
    ----------
    name : str
        What it is.
    owner : str
        Part or pad that it belongs to.
    plan : Polygon
        Its plan. [m]
    bottom, top : float
        Its levels. [m]
    """

    name: str
    owner: str
    plan: Polygon
    bottom: float
    top: float


@dataclass(frozen=True)
class Corner:
    """What mitring adds at a corner, negative where square ends count something twice.

    Attributes
    ----------
    area : float
        In plan. [m²]
    inner, outer : float
        Along the inner and the outer sides of both strips. [m]
    """

    area: float
    inner: float
    outer: float


def neighbours(plan: Plan) -> dict[str, tuple[WallLine | None, WallLine | None]]:
    """Lines of the same part that a line meets at an angle.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    dict of str to tuple
        For each line the one at its start and the one at its end; None at a free end, at another part's wall, or
        where the wall goes straight on.
    """
    walls = [line.wall for line in plan.lines]
    found: dict[str, tuple[WallLine | None, WallLine | None]] = {}
    for wall in walls:
        own = [w for w in walls if w.part == wall.part and abs(_turn(w, wall)) > PARALLEL]
        before = next((w for w in own if w.end == wall.start), None)
        after = next((w for w in own if w.start == wall.end), None)
        found[wall.name] = before, after
    return found


def place(wall: WallLine, station: float, out: float) -> tuple[float, float]:
    """A point beside a wall line.

    Parameters
    ----------
    wall : WallLine
        The line.
    station : float
        Along it. [m]
    out : float
        Outward of its face, negative inward. [m]

    Returns
    -------
    tuple of float
        East and north. [m]
    """
    share = station / wall.length
    east, north = (a + share * (b - a) for a, b in zip(wall.start_at, wall.end_at, strict=True))
    return east + out * wall.outward[0], north + out * wall.outward[1]


def strip(
    wall: WallLine,
    start: float,
    end: float,
    inner: float,
    outer: float,
    before: End | None = None,
    after: End | None = None,
) -> Polygon:
    """A strip along a wall line, its ends square, or mitred with the strips that it meets.

    Parameters
    ----------
    wall : WallLine
        The line.
    start, end : float
        Stations of its ends. [m]
    inner, outer : float
        Its sides, outward of the wall's face. [m]
    before, after : tuple or None
        Line that it meets at its start and at its end, with the sides of that one's strip; None for a square end.

    Returns
    -------
    Polygon
        Its plan. [m]
    """
    first, last = (start, start), (end, end)
    if before is not None:
        first = _meets(wall, inner, before[0], before[1]), _meets(wall, outer, before[0], before[2])
    if after is not None:
        last = _meets(wall, inner, after[0], after[1]), _meets(wall, outer, after[0], after[2])
    corners = ((first[0], inner), (last[0], inner), (last[1], outer), (first[1], outer))
    return Polygon([place(wall, station, out) for station, out in corners])


def corner_of(first: End, second: End) -> Corner:
    """What mitring adds to two square-ended strips at the corner where the first line ends and the second begins.

    Strips measured along the outside face count an outer corner twice and leave an inner one out.

    Parameters
    ----------
    first, second : tuple
        The lines, each with the inner and outer side of its strip. [m]

    Returns
    -------
    Corner
        What is gained; negative where it was counted twice.
    """
    area, longer = 0.0, [0.0, 0.0]
    for (wall, inner, outer), other, at_end in ((first, second, True), (second, first, False)):
        own = wall.length if at_end else 0.0
        ends = [
            _meets(wall, out, other[0], beside) for out, beside in zip((inner, outer), other[1:], strict=True)
        ]
        gains = [end - own if at_end else own - end for end in ends]
        area += sum(gains) / 2 * (outer - inner)
        longer = [before + gain for before, gain in zip(longer, gains, strict=True)]
    return Corner(area, *longer)


def meetings(solids: Sequence[Solid]) -> list[tuple[Solid, Solid, float]]:
    """Concrete that two bodies of different owners share: it is poured once.

    Parameters
    ----------
    solids : sequence of Solid
        The bodies, those that run through before those that meet them.

    Returns
    -------
    list of tuple
        The body that runs through, the one that meets it, and the volume that they share. [m³]
    """
    found = []
    for number, later in enumerate(solids):
        for earlier in solids[:number]:
            height = min(later.top, earlier.top) - max(later.bottom, earlier.bottom)
            if later.owner == earlier.owner or height <= 0:
                continue
            volume = height * float(shapely.area(shapely.intersection(later.plan, earlier.plan)))
            if volume > EMPTY:
                found.append((earlier, later, volume))
    return found


def _turn(one: WallLine, other: WallLine) -> float:
    (ax, ay), (bx, by) = _along(one), _along(other)
    return ax * by - ay * bx


def _along(wall: WallLine) -> tuple[float, float]:
    east, north = ((b - a) / wall.length for a, b in zip(wall.start_at, wall.end_at, strict=True))
    return east, north


def _meets(wall: WallLine, out: float, other: WallLine, other_out: float) -> float:
    """Station where a line beside one wall crosses a line beside another."""
    own, along = np.array(place(wall, 0.0, out)), np.array(_along(wall))
    gap = np.array(place(other, 0.0, other_out)) - own
    (ex, ey) = _along(other)
    return float((gap[0] * ey - gap[1] * ex) / (along[0] * ey - along[1] * ex))
