"""Form panels: stacked to the height of a wall, and side by side along it."""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.concrete import PanelRow

SIXTEENTH = 0.0254 / 16
"""Lengths closer than this are one length on a US site. [m]"""
MILLIMETRE = 0.001
"""And on a metric one. [m]"""
OFF_GRID = 1e-6
"""Panels of whole sixteenths, or of whole millimetres, are so to a micrometre. [m]"""


@dataclass(frozen=True)
class Stack:
    """Panels that stack up in a wall.

    Attributes
    ----------
    panels : tuple of float
        Their heights, lowest first. [m]
    filler : float
        Height that they leave to a filler, 0 for none. [m]
    over : float
        How far they stand above the pour line, 0 for none. [m]
    """

    panels: tuple[float, ...]
    filler: float
    over: float


def stack(height: float, panels: Sequence[float], over: float = 0.0) -> Stack:
    """Panels that form a wall of a height.

    In this order: whole panels that make the height to a sixteenth of an inch; the lowest stack that reaches it and
    stands above the pour line by no more than is allowed; the tallest stack below it, and a filler. A wall lower than
    every panel is formed in the lowest one, which then stands above its pour line: a filler cannot stand alone. Of
    stacks of one height the one of fewest panels is taken, then the one with the taller panels; the taller stand lower.

    Parameters
    ----------
    height : float
        Height of the wall, > 0. [m]
    panels : sequence of float
        Heights of the panels on the yard, each > 0; as many of each as are needed. [m]
    over : float
        How far panels may stand above the pour line to save a filler. [m]

    Returns
    -------
    Stack
        Panels, filler, and how far they stand above the pour line.

    Raises
    ------
    ValueError
        If the height or a panel is not positive.

    Examples
    --------
    >>> foot = 0.3048
    >>> [round(panel / foot) for panel in stack(13 * foot, [2 * foot, 4 * foot, 8 * foot, 9 * foot]).panels]
    [9, 4]
    """
    reached = _reach(height, panels)
    short, stands_over = height - sum(reached.below), sum(reached.above) - height
    if reached.exact or short <= SIXTEENTH + OFF_GRID:
        return Stack(reached.below, 0.0, 0.0)
    if stands_over <= SIXTEENTH + OFF_GRID:
        return Stack(reached.above, 0.0, 0.0)
    if stands_over <= over + OFF_GRID or not reached.below:
        return Stack(reached.above, 0.0, stands_over)
    return Stack(reached.below, short, 0.0)


def panel_row(line: str, length: float, panels: Sequence[float]) -> PanelRow:
    """Panels side by side along a wall line: least filler, then fewest panels, then the wider ones.

    Parameters
    ----------
    line : str
        Name of the wall line.
    length : float
        Its length, > 0. [m]
    panels : sequence of float
        Widths of the panels on the yard, each > 0; as many of each as are needed. [m]

    Returns
    -------
    PanelRow
        Widths, the widest at the line's first corner, and the filler at its last.

    Raises
    ------
    ValueError
        If the length or a panel is not positive.
    """
    reached = _reach(length, panels)
    return PanelRow(line, reached.below, 0.0 if reached.exact else length - sum(reached.below))


@dataclass(frozen=True)
class _Reach:
    """Whole panels about a length: the longest row up to it, and the shortest one past it."""

    below: tuple[float, ...]
    above: tuple[float, ...]
    exact: bool


def _reach(length: float, panels: Sequence[float]) -> _Reach:
    if not length > 0:
        raise ValueError(f"length {length} m to form: must be above 0.")
    grid = _grid(panels)
    sizes = {round(panel / grid): panel for panel in panels}
    if not sizes or min(sizes) < 1:
        raise ValueError(
            f"panels of {sorted(panels)} m: give at least one, each at least {grid * 1e3:.2f} mm."
        )
    # Counting in the panels' common divisor keeps the table short: 2, 4 and 8 ft panels stack in whole feet.
    divisor = math.gcd(*sizes)
    units = tuple(sorted((size // divisor for size in sizes), reverse=True))
    whole = math.floor(length / grid + 0.5)
    fewest = _fewest(units, whole // divisor + units[-1])
    reachable = np.flatnonzero(fewest >= 0)
    below = int(reachable[reachable <= whole // divisor][-1])
    above = int(reachable[reachable > whole // divisor][0])

    def chosen(sum_: int) -> tuple[float, ...]:
        found = []
        while sum_:
            unit = next(u for u in units if u <= sum_ and fewest[sum_ - u] == fewest[sum_] - 1)
            found.append(sizes[unit * divisor])
            sum_ -= unit
        return tuple(found)

    return _Reach(chosen(below), chosen(above), below * divisor == whole)


def _grid(panels: Sequence[float]) -> float:
    """Sixteenths of an inch, or millimetres where the panels come in whole ones."""

    def fits(grid: float) -> bool:
        return all(abs(panel / grid - round(panel / grid)) * grid < OFF_GRID for panel in panels)

    return MILLIMETRE if fits(MILLIMETRE) and not fits(SIXTEENTH) else SIXTEENTH


@functools.lru_cache(maxsize=256)
def _fewest(units: tuple[int, ...], most: int) -> NDArray[np.int64]:
    """Fewest panels that make each whole length up to ``most``, -1 where none do."""
    fewest = np.full(most + 1, -1)
    fewest[0] = 0
    front = fewest == 0
    count = 0
    while front.any():
        count += 1
        longer = np.zeros(most + 1, dtype=bool)
        for unit in units:
            if unit <= most:
                longer[unit:] |= front[: most + 1 - unit]
        front = longer & (fewest < 0)
        fewest[front] = count
    return fewest
