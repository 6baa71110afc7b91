"""A path of corners made into tube that can be bent: rounded corners, bulbs where rows lie too near for a turn."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, atan2, ceil, cos, floor, hypot, pi, sin, sqrt, tan

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString

CHORD_ANGLE = pi / 20
"""Longest chord of a bend, as an angle: a tenth of a quarter turn; the chords are 0.1 % shorter than the arc."""
BESIDE_BULB = 2 * 0.0254
"""Bulbs side by side keep 2 in between their axes. [m]"""
JOG = 0.004
"""Corners this near to a straight line are left out. [m]"""
STRAIGHT = 1e-3
"""Turns below this are no bend. [rad]"""


@dataclass(frozen=True, eq=False)
class Bent:
    """A path with its bends.

    Attributes
    ----------
    path : ndarray, shape (n, 2)
        East and north, bends as chords. [m]
    length : float
        Straights and true arcs. [m]
    bends, bulbs, tight : int
        Turns in all; turns widened because the rows are nearer than two radii; turns that had no room for the
        radius. [-]
    """

    path: NDArray[np.float64]
    length: float
    bends: int
    bulbs: int
    tight: int


@dataclass
class _Turn:
    """One corner, or two that make a turn back (``width`` > 0), and what it takes of the straights beside it."""

    first: int
    last: int
    width: float
    needs: float
    radius: float
    tight: bool = False


def bulb_length(radius: float, width: float) -> float:
    """Length that a turn back takes along its rows, widened where they are nearer than two radii.

    Parameters
    ----------
    radius : float
        Bend radius. [m]
    width : float
        Between the rows. [m]

    Returns
    -------
    float
        From its tip to where both rows are straight again. [m]

    Examples
    --------
    >>> bulb_length(5.0, 10.0)
    5.0
    >>> round(bulb_length(5.0, 6.0), 6)
    11.0
    """
    return radius + sqrt(max(0.0, 4 * radius**2 - (width / 2 + radius) ** 2))


def bulge(radius: float, width: float) -> float:
    """How far a turn back reaches beyond its rows to each side.

    Parameters
    ----------
    radius : float
        Bend radius. [m]
    width : float
        Between the rows. [m]

    Returns
    -------
    float
        Beyond each row. [m]
    """
    return max(0.0, radius - width / 2)


def drawn_back(corners: NDArray[np.float64], pitch: float, low: float, radius: float) -> NDArray[np.float64]:
    """Draw every other turn of a walk back, where bulbs side by side would come too near to each other.

    Parameters
    ----------
    corners : ndarray, shape (n, 2)
        East and north, rows east and west. [m]
    pitch : float
        Between rows. [m]
    low : float
        North of one of the rows. [m]
    radius : float
        Bend radius, to the centre line. [m]

    Returns
    -------
    ndarray, shape (n, 2)
        The walk. [m]
    """
    if 2 * pitch - 2 * radius >= BESIDE_BULB:
        return corners
    points = np.array(corners, dtype=float)
    back = 2 * radius
    for index in range(1, len(points) - 2):
        one, two = points[index], points[index + 1]
        before, after = points[index - 1] - one, points[index + 2] - two
        upright = abs(one[0] - two[0]) < 1e-9 and abs(abs(one[1] - two[1]) - pitch) < 1e-6
        turns_back = upright and abs(before[1]) + abs(after[1]) < 1e-9 and before[0] * after[0] > 0
        room = min(abs(before[0]), abs(after[0])) - 2 * bulb_length(radius, pitch)
        if turns_back and room > 2 * back and floor(((one[1] + two[1]) / 2 - low) / (2 * pitch)) % 2:
            points[[index, index + 1], 0] += np.sign(before[0]) * back
    return points


def bend(corners: NDArray[np.float64], radius: float) -> Bent:
    """Round the corners of a path.

    Parameters
    ----------
    corners : ndarray, shape (n, 2)
        East and north. [m]
    radius : float
        Bend radius, to the centre line. [m]

    Returns
    -------
    Bent
        The path with its bends.

    Examples
    --------
    >>> turned = bend(np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]]), 0.5)
    >>> round(turned.length, 6) == round(1 + np.pi / 4, 6)
    True
    """
    # jogs of a few millimetres are drawn, not bent
    smooth = LineString(np.asarray(corners, dtype=float)).simplify(JOG)
    points = _without_straights(np.array(smooth.coords))
    turns = _turns(points, radius)
    _share_straights(points, turns, radius)
    path: list[tuple[float, float]] = [(float(points[0, 0]), float(points[0, 1]))]
    length, here = 0.0, path[0]
    for turn in turns:
        arcs = _bulb(points, turn) if turn.width else _corner(points, turn)
        for start, centre, size, angle in arcs:
            length += hypot(start[0] - here[0], start[1] - here[1]) + size * abs(angle)
            path.append(start)
            chords = max(1, ceil(abs(angle) / CHORD_ANGLE - 1e-9))
            begin = atan2(start[1] - centre[1], start[0] - centre[0])
            for step in range(1, chords + 1):
                now = begin + angle * step / chords
                path.append((centre[0] + size * cos(now), centre[1] + size * sin(now)))
            here = path[-1]
    end = (float(points[-1, 0]), float(points[-1, 1]))
    length += hypot(end[0] - here[0], end[1] - here[1])
    path.append(end)
    laid = np.array(path)
    keep = np.r_[True, np.hypot(*np.diff(laid, axis=0).T) > 1e-9]
    return Bent(
        laid[keep],
        length,
        len(turns),
        sum(turn.width > 0 and not turn.tight for turn in turns),
        sum(turn.tight for turn in turns),
    )


def _without_straights(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Corners without doubled points and points on a straight."""
    points = points[np.r_[True, np.hypot(*np.diff(points, axis=0).T) > 1e-7]]
    if len(points) < 3:
        return points
    before, after = points[1:-1] - points[:-2], points[2:] - points[1:-1]
    turn = np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(axis=1))
    return points[np.r_[True, np.abs(turn) > STRAIGHT, True]]


def _angle(points: NDArray[np.float64], index: int) -> float:
    before, after = points[index] - points[index - 1], points[index + 1] - points[index]
    return atan2(before[0] * after[1] - before[1] * after[0], before[0] * after[0] + before[1] * after[1])


def _turns(points: NDArray[np.float64], radius: float) -> list[_Turn]:
    """Corners in order; two that make a turn back within two radii count as one."""
    turns: list[_Turn] = []
    index = 1
    while index < len(points) - 1:
        angle = _angle(points, index)
        width = float(np.hypot(*(points[index + 1] - points[index])))
        following = _angle(points, index + 1) if index + 2 < len(points) else 0.0
        if (
            width < 2 * radius - 1e-9
            and angle * following > 0
            and abs(abs(angle + following) - pi) < 0.01
            and abs(abs(angle) - pi / 2) < 0.01
        ):
            turns.append(_Turn(index, index + 1, width, bulb_length(radius, width), radius))
            index += 2
        else:
            turns.append(_Turn(index, index, 0.0, radius * tan(min(abs(angle), 3.0) / 2), radius))
            index += 1
    return turns


def _share_straights(points: NDArray[np.float64], turns: list[_Turn], radius: float) -> None:
    """Where turns need more of a straight than there is: a bulb becomes a plain turn, then radii shrink."""

    def straights() -> list[tuple[float, list[_Turn]]]:
        ends = [None, *turns, None]
        found = []
        for one, two in zip(ends, ends[1:], strict=False):
            start, stop = (one.last if one else 0), (two.first if two else len(points) - 1)
            found.append((float(np.hypot(*(points[stop] - points[start]))), [t for t in (one, two) if t]))
        return found

    for room, beside in straights():
        for turn in sorted(beside, key=lambda turn: -turn.needs):
            if sum(other.needs for other in beside) > room + 1e-9 and turn.width and not turn.tight:
                turn.needs, turn.radius, turn.tight = turn.width / 2, turn.width / 2, True
    share = {id(turn): 1.0 for turn in turns}
    for room, beside in straights():
        total = sum(turn.needs for turn in beside)
        if total > room:
            for turn in beside:
                share[id(turn)] = min(share[id(turn)], 0.999 * room / total)
    for turn in turns:
        if share[id(turn)] < 1 and not turn.width:
            turn.needs *= share[id(turn)]
            turn.radius *= share[id(turn)]
            turn.tight = turn.tight or turn.radius < radius * (1 - 1e-6)
        elif share[id(turn)] < 1:
            turn.radius *= share[id(turn)]
            turn.needs *= share[id(turn)]


_Arc = tuple[tuple[float, float], tuple[float, float], float, float]


def _corner(points: NDArray[np.float64], turn: _Turn) -> list[_Arc]:
    at, angle = points[turn.first], _angle(points, turn.first)
    along = at - points[turn.first - 1]
    along = along / np.hypot(*along)
    side = np.array([-along[1], along[0]]) * np.sign(angle)
    start = at - along * turn.needs
    centre = start + side * turn.radius
    return [((start[0], start[1]), (centre[0], centre[1]), turn.radius, angle)]


def _bulb(points: NDArray[np.float64], turn: _Turn) -> list[_Arc]:
    """A turn back: outward, round, and in again; the tip stays where the corners were."""
    one, two = points[turn.first], points[turn.last]
    along = one - points[turn.first - 1]
    along = along / np.hypot(*along)
    sign = float(np.sign(_angle(points, turn.first)))
    across = (two - one) / turn.width
    radius = turn.radius
    if turn.tight:
        arcs = []
        for corner, to in ((one, along), (two, across)):
            start = corner - to * radius
            centre = start + np.array([-to[1], to[0]]) * sign * radius
            arcs.append(((start[0], start[1]), (centre[0], centre[1]), radius, sign * pi / 2))
        return arcs
    swing = acos((turn.width / 2 + radius) / (2 * radius))
    start = one - along * bulb_length(radius, turn.width)
    outside = start - across * radius
    middle = (one + two) / 2 - along * radius
    meet, leave = (outside + middle) / 2, None
    far = two - along * bulb_length(radius, turn.width) + across * radius
    leave = (far + middle) / 2
    return [
        ((start[0], start[1]), (outside[0], outside[1]), radius, -sign * swing),
        ((meet[0], meet[1]), (middle[0], middle[1]), radius, sign * (pi + 2 * swing)),
        ((leave[0], leave[1]), (far[0], far[1]), radius, -sign * swing),
    ]
