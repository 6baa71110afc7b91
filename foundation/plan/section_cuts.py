"""Where grade cuts a wall line: slab edge against basement wall, and grade that has moved too far for one section."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FOOT = 0.3048
SHALLOW = 1.0 * FOOT
"""A slab less than 12 in below grade is a slab edge, deeper a basement, IRC 2021 N1102 [read]. [m]"""
MOVES = 2.0 * FOOT
"""Change of grade along a wall that a new section is taken after; half of it moves the demo house by 0.01 %. [m]"""
SHORTEST = 0.1
"""Grade alone cuts no shorter stretches. [m]"""


def is_deep(floor: float, grade: float) -> bool:
    """Whether a slab is a basement's rather than a slab edge.

    Parameters
    ----------
    floor : float
        Top of slab. [m]
    grade : float
        Finished grade outside. [m]

    Returns
    -------
    bool
        True from 12 in below grade on.

    Examples
    --------
    >>> is_deep(10.0, 10.0 + 0.3048), is_deep(10.0, 10.3)
    (True, False)
    """
    return grade - floor > SHALLOW - 1e-6


def edge_crossings(station: Array, grade: Array, floor: float) -> list[float]:
    """Stations where the slab is just 12 in below grade.

    Parameters
    ----------
    station, grade : ndarray, shape (n,)
        Finished grade along a stretch. [m]
    floor : float
        Top of slab. [m]

    Returns
    -------
    list of float
        Rising; none at the ends. [m]
    """
    over = grade - floor - SHALLOW
    at = np.flatnonzero(over[:-1] * over[1:] < 0)
    share = np.abs(over[at]) / (np.abs(over[at]) + np.abs(over[at + 1]))
    found: list[float] = (station[at] + share * np.diff(station)[at]).tolist()
    return found


def cuts_by_grade(station: Array, grade: Array, floor: float) -> list[float]:
    """Ends of the pieces that a stretch falls into: at the slab's 12 in, and after every two feet of grade.

    Parameters
    ----------
    station, grade : ndarray, shape (n,)
        Finished grade along the stretch. [m]
    floor : float
        Top of slab. [m]

    Returns
    -------
    list of float
        From the first station to the last, no closer together than ``SHORTEST`` unless the stretch is shorter. [m]

    Examples
    --------
    Grade that rises 10 ft over 10 m, slab 10 ft below it.

    >>> cuts = cuts_by_grade(np.array([0.0, 2.5, 5.0, 7.5, 10.0]), FOOT * np.array([0, 2.5, 5, 7.5, 10]), -10 * FOOT)
    >>> cuts
    [0.0, 2.5, 5.0, 7.5, 10.0]
    """
    start, end = float(station[0]), float(station[-1])
    cuts = [start]
    for cut in (*edge_crossings(station, grade, floor), end):
        if cut < end and (cut - cuts[-1] < SHORTEST or end - cut < SHORTEST):
            continue
        while True:
            last = cuts[-1]
            far = (station > last + SHORTEST) & (station < cut - SHORTEST)
            moved = far & (np.abs(grade - np.interp(last, station, grade)) > MOVES)
            if not moved.any():
                break
            cuts.append(float(station[np.argmax(moved)]))
        cuts.append(cut)
    return cuts
