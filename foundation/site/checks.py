"""What is odd about survey shots: doubles, swapped columns, dropped digits, walls that nobody shot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.model.ground import ShotKind, Shots
from foundation.model.problem import Problem
from foundation.site.places import same_place
from foundation.site.triangulation import edges_and_uses
from foundation.site.words import spoken

GROUND = {
    "existing": (ShotKind.EXISTING, ShotKind.BOTH),
    "finished": (ShotKind.FINISHED, ShotKind.BOTH),
}
"""Kinds of shot that lie on each surface; marks and the street's edge lie on neither."""

SAME_ELEVATION = 0.1 * 0.3048
"""Two elevations of one place that differ by more cannot both be right [practice]. [m]"""
WALL_REACH = 10 * 0.3048
"""A wall wants a finished shot within this distance: the rule on fall away looks as far. [m]"""

LEAST_ODD = 1.0
"""No elevation is odd that differs by less from what its neighbours say. [m]"""
ODD_RATIO = 5.0
"""… nor one that differs by less than this many times the usual difference on the same surface. [-]"""
ALONE_RATIO = 3.0
"""… nor one whose neighbours, judged without it, differ by more than a third as much: that is a cliff. [-]"""
FAR_OFF, FAR_RATIO = 30.0, 20.0
"""An elevation is odd wherever it stands if it is this far [m], and this many times the middle spread [-],
from the middle of all: whole groups of zeros or dropped digits vouch for each other."""


def of_kinds(shots: Shots, kinds: Sequence[ShotKind]) -> NDArray[np.int64]:
    """Indices of the shots of some kinds.

    Parameters
    ----------
    shots : Shots
        All shots.
    kinds : sequence of ShotKind
        Kinds wanted.

    Returns
    -------
    ndarray of int
        Their indices, rising.
    """
    return np.array([index for index, kind in enumerate(shots.kind) if kind in kinds], dtype=np.int64)


def check_shots(shots: Shots, metres_per_unit: float, name: str = "shots") -> list[Problem]:
    """Doubles among shots: point numbers, places with one or two elevations, breaklines of a single shot.

    Parameters
    ----------
    shots : Shots
        The shots.
    metres_per_unit : float
        Length of the survey's unit, for the sentences. [m]
    name : str
        What problems call the file.

    Returns
    -------
    list of Problem
        Fatal where one place of one surface has two elevations.
    """
    problems = []
    if len(set(shots.point)) < len(shots.point):
        seen = set[str]()
        for point in shots.point:
            if point in seen:
                sentence = (
                    f"{name} point {point}: the number stands there more than once; messages may mean either."
                )
                problems.append(Problem(f"{name} point {point}", point, sentence, fatal=False))
            seen.add(point)
    reported = set[tuple[int, int]]()
    for ground, kinds in GROUND.items():
        index = of_kinds(shots, kinds)
        position = np.stack([shots.east[index], shots.north[index]], axis=1)
        for first, second in index[same_place(position)].tolist():
            if (first, second) not in reported:
                reported.add((first, second))
                problems.append(_double(shots, first, second, ground, metres_per_unit, name))
    if any(shots.line):
        for line, members in Counter(shots.line).items():
            if line and members == 1:
                point = shots.point[shots.line.index(line)]
                sentence = f'{name} point {point}: it alone is on breakline "{line}"; a line needs two shots.'
                problems.append(Problem(f"{name} point {point}", line, sentence, fatal=False))
    return problems


def _double(shots: Shots, first: int, second: int, ground: str, metres_per_unit: float, name: str) -> Problem:
    one, other = shots.point[first], shots.point[second]
    low, high = sorted((float(shots.elevation[first]), float(shots.elevation[second])))
    where = f"{name} points {one} and {other}"
    both = f"{spoken(low, metres_per_unit)} and {spoken(high, metres_per_unit)}"
    if high - low > SAME_ELEVATION:
        sentence = f"{where}: one place of the {ground} ground at {both}; correct or delete one of them."
        return Problem(where, both, sentence)
    if high > low:
        sentence = f"{where}: one place of the {ground} ground at {both}; the lower is used."
    else:
        sentence = f"{where}: the same place twice; one of them is not needed."
    return Problem(where, both, sentence, fatal=False)


def check_corners(
    shots: Shots, corners: Mapping[str, tuple[float, float]], name: str = "shots"
) -> tuple[Problem, ...]:
    """Whether northing and easting are swapped, in the shots or in the corners.

    Parameters
    ----------
    shots : Shots
        All shots.
    corners : mapping of str to tuple of float
        East and north of each corner of the building. [m]
    name : str
        What problems call the file.

    Returns
    -------
    tuple of Problem
        One where corners lie outside the shots' box and all would lie inside it when swapped.
    """
    if not corners or not shots.point:
        return ()
    low = np.array([shots.east.min(), shots.north.min()])
    high = np.array([shots.east.max(), shots.north.max()])
    at = np.array(list(corners.values()))
    beyond = np.any((at < low) | (at > high), axis=1).tolist()
    if not any(beyond) or ((at[:, ::-1] < low) | (at[:, ::-1] > high)).any():
        return ()
    outside = ", ".join(corner for corner, off in zip(corners, beyond, strict=True) if off)
    sentence = (
        f"{name}: corners {outside} lie outside the shots, and inside them when northing and easting are "
        "swapped; swap the two columns of the shots or of the corners."
    )
    return (Problem(name, outside, sentence),)


def check_walls(
    shots: Shots,
    walls: Mapping[str, tuple[tuple[float, float], tuple[float, float]]],
    metres_per_unit: float,
    reach: float = WALL_REACH,
) -> tuple[Problem, ...]:
    """Walls that no finished shot stands beside.

    Parameters
    ----------
    shots : Shots
        All shots.
    walls : mapping of str to tuple of tuple of float
        East and north of each wall's start and of its end. [m]
    metres_per_unit : float
        Length of the survey's unit, for the sentences. [m]
    reach : float
        Distance within which a finished shot or a tie must lie. [m]

    Returns
    -------
    tuple of Problem
        One for each wall without.
    """
    index = of_kinds(shots, GROUND["finished"])
    finished = shapely.multipoints(np.stack([shots.east[index], shots.north[index]], axis=1))
    problems = []
    for wall, ends in walls.items():
        distance = shapely.distance(shapely.linestrings(np.array(ends)), finished)
        if not distance <= reach:  # nan when there is no finished shot at all
            sentence = (
                f"Wall {wall}: no finished shot within {spoken(reach, metres_per_unit)}; its finished grade "
                "comes from farther away. Add a shot beside it."
            )
            problems.append(Problem(f"wall {wall}", wall, sentence, fatal=False))
    return tuple(problems)


def odd_elevations(
    points: NDArray[np.float64], triangles: NDArray[np.int64], lines: Sequence[Sequence[int]] = ()
) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Points whose elevation disagrees with all around, as a dropped or swapped digit does.

    A plane through a point's neighbours in the triangulation, weighted by the inverse square of their
    distance, says what its elevation should be: a slope is never odd, however steep. A point is odd when it
    differs by much from that, lies above or below all its neighbours by as much, and they, judged without it,
    agree with each other: on a cliff or a pad they do not. On real terrain and on lots with walls no sound
    point is odd (tests); a mistake smaller than the ground's own relief is not found.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        East, north, elevation. [m]
    triangles : ndarray of int, shape (m, 3)
        Their plain triangulation.
    lines : sequence of sequence of int
        Points of each breakline: along it they are neighbours too, however far apart.

    Returns
    -------
    index : ndarray of int, shape (k,)
        The odd points, the farthest off first.
    expected : ndarray, shape (k,)
        What their neighbours say. [m]
    """
    count = len(points)
    elevation = points[:, 2]
    off = np.abs(elevation - np.median(elevation))
    far = off > max(FAR_OFF, FAR_RATIO * float(np.median(off)))
    edge, uses = edges_and_uses(triangles)
    rim = np.isin(np.arange(count), edge[uses == 1])
    along = [sorted(pair) for line in lines for pair in pairwise(line) if pair[0] != pair[1]]
    if along:
        key = np.unique(np.vstack([edge, along]) @ np.array([count, 1]))
        edge = np.stack(np.divmod(key, count), axis=1)
    seen_from, seen = np.r_[edge[:, 0], edge[:, 1]], np.r_[edge[:, 1], edge[:, 0]]
    step = points[seen] - points[seen_from]
    east, north, level = step[:, 0], step[:, 1], elevation[seen]
    counted = ~far[seen]
    weight = np.where(counted, 1.0, 0.0) / (east**2 + north**2)
    one = np.ones(len(east))
    term = weight * np.stack(
        [one, east, north, level, east**2, east * north, north**2, east * level, north * level]
    )
    total = np.array([np.bincount(seen_from, weights=row, minlength=count) for row in term], dtype=float)
    expected = _plane_at_origin(total)
    highest, lowest = np.full(count, -np.inf), np.full(count, np.inf)
    np.maximum.at(highest, seen_from[counted], level[counted])
    np.minimum.at(lowest, seen_from[counted], level[counted])
    residual = np.nan_to_num(np.abs(elevation - expected))
    excess = np.minimum(residual, np.maximum(elevation - highest, lowest - elevation))
    # Where a neighbour is known to be wrong, the rest is judged once that is put right.
    suspect = (excess > max(LEAST_ODD, ODD_RATIO * float(np.median(residual)))) & ~far
    suspect[seen_from[~counted]] = False
    near = np.flatnonzero(suspect[seen_from])
    # What its neighbours make of each other without it: its own term leaves their sums. Row k and the row
    # half the list away are the same edge seen from either end. On the rim a plane would extrapolate.
    mirror = (near + len(edge)) % len(seen_from)
    without = np.abs(elevation[seen[near]] - _plane_at_origin(total[:, seen[near]] - term[:, mirror]))
    disagreement = np.zeros(count)
    np.maximum.at(disagreement, seen_from[near], np.where(rim[seen[near]], 0.0, np.nan_to_num(without)))
    odd = np.flatnonzero(far | (suspect & (excess > ALONE_RATIO * disagreement)))
    odd = odd[np.argsort(-off[odd], kind="stable")]
    return odd, expected[odd]


def _plane_at_origin(total: NDArray[np.float64]) -> NDArray[np.float64]:
    """Height at the origin of the weighted planes whose sums are given; nan without neighbours."""
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = total[1:4] / total[0]
        east, north, level = mean
        ee, en, nn = total[4:7] / total[0] - np.stack([east * east, east * north, north * north])
        el, nl = total[7:9] / total[0] - mean[:2] * level
        # Neighbours in one line fix the slope along it only; the small term makes the slope across it nil.
        small = 1e-6 * (ee + nn)
        ee, nn = ee + small, nn + small
        rest = ee * nn - en * en
        slope_east, slope_north = (nn * el - en * nl) / rest, (ee * nl - en * el) / rest
        plane = level - slope_east * east - slope_north * north
    return np.where(np.isfinite(plane), plane, level)
