"""Nouns of laid tube: what a loop's path is, what it goes round, what it may not cross."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray


class Pattern(StrEnum):
    """How tube fills an area."""

    SERPENTINE = "serpentine"
    """Rows side by side, to and fro."""
    COUNTERFLOW = "counter-flow"
    """Supply and return side by side, inward and out again."""


@dataclass(frozen=True)
class Barrier:
    """A joint that tube may not cross but as a sleeved leader.

    Attributes
    ----------
    name : str
        What it is called.
    start, end : tuple of float
        East and north of its ends. [m]
    """

    name: str
    start: tuple[float, float]
    end: tuple[float, float]


@dataclass(frozen=True, eq=False)
class FloorArea:
    """Floor that is to be filled with tube.

    Attributes
    ----------
    zone : str
        Name of the zone.
    outline : ndarray, shape (n, 2)
        East and north of its corners in order, walls' inner faces and joints. [m]
    holes : tuple of ndarray, each of shape (k, 2)
        Posts, drains and free strips. [m]
    walls : tuple of tuple
        Sides of the outline that are outside walls, each as two points, the coldest first. [m]
    barriers : tuple of Barrier
        Joints inside it.
    """

    zone: str
    outline: NDArray[np.float64]
    holes: tuple[NDArray[np.float64], ...]
    walls: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    barriers: tuple[Barrier, ...] = ()


@dataclass(frozen=True)
class LayingRules:
    """What laid tube keeps to.

    Attributes
    ----------
    spacing : float
        Between the axes of neighbouring rows. [m]
    bend_radius : float
        Tightest bend, to the centre line. [m]
    from_edge : float
        Tube keeps off the outline and off holes by. [m]
    from_barrier : float
        Tube keeps off joints that it may not cross by. [m]
    longest : float
        Longest loop with its leaders. [m]
    equal_within : float
        How far loops of a zone may differ, over the mean. [-]
    """

    spacing: float
    bend_radius: float
    from_edge: float
    from_barrier: float
    longest: float
    equal_within: float


@dataclass(frozen=True, eq=False)
class LaidLoop:
    """One loop of tube as it is laid, from the manifold and back.

    Attributes
    ----------
    zone, name : str
        The zone, and the loop's name.
    path : ndarray, shape (n, 2)
        East and north along its centre line, bends as short chords; from the manifold back to it. [m]
    length : float
        Along the path, with both leaders. [m]
    leaders : float
        Of both leaders. [m]
    area : float
        Floor that it covers. [m²]
    pattern : Pattern
        How it fills it.
    sleeves : tuple of tuple of float
        Where leaders cross barriers, east and north. [m]
    supply_leader : float
        Of the first leader alone. [m]
    tight_bends : int
        Bends that had no room for the tube's radius. [-]
    """

    zone: str
    name: str
    path: NDArray[np.float64]
    length: float
    leaders: float
    area: float
    pattern: Pattern
    sleeves: tuple[tuple[float, float], ...] = ()
    supply_leader: float = 0.0
    tight_bends: int = 0


@dataclass(frozen=True, eq=False)
class Laying:
    """A zone's loops.

    Attributes
    ----------
    zone : str
        The zone.
    loops : tuple of LaidLoop
        Coldest wall first.
    unreached : tuple of ndarray, each of shape (k, 2)
        Outlines of floor farther from tube than the spacing. [m]
    unreached_area : float
        Of them all. [m²]
    reasons : tuple of str
        Why loops are unequal, corners unreached, bends widened.
    rows_apart : float
        Between rows as they are laid; the spacing, or a little less. [m]
    """

    zone: str
    loops: tuple[LaidLoop, ...]
    unreached: tuple[NDArray[np.float64], ...]
    unreached_area: float
    reasons: tuple[str, ...]
    rows_apart: float = 0.0
