"""Grid lines of a section: first by rule, then where the heat turns."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from foundation.heat.grid import graded_lines
from foundation.model.section import BlockKind, Section

Lines = tuple[NDArray[np.float64], NDArray[np.float64]]
Points = tuple[dict[float, float], dict[float, float]]

CORNER = 0.01  # largest cell beside what insulates, at fineness 1 [m]
BESIDE = 0.1  # beside the other blocks [m]
GROWTH = 2.0  # of neighbouring cells at fineness 1 [-]
TRIES = 3
SHARP = 0.125
SAMPLES = 6
MOST_GROWTH = 4.0
REACH = 40.0  # domain over the length of the heat's way [-]
APART = 1e-5  # distances and levels closer than this are one [m]
INSULATING = (BlockKind.FOAM, BlockKind.FRAME, BlockKind.WOOD)


def far_field(section: Section) -> tuple[float, float]:
    """How far the ground is followed.

    Cutting the ground off at a distance R takes about half of (b/R)² from the flow, b being the length of the heat's
    way: half the floor, or the depth of what stands in the ground; more by the ratio of conductivities where the best
    of the soils conducts better than the uppermost.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    tuple of float
        Distance from the outside face, and level of the lower end. [m]
    """
    low = min([block.bottom for block in section.blocks] + [section.bed])
    high = max(step.level for step in section.grade)
    conductivity = [
        layer.material.conductivity for layer in sorted(section.soil, key=lambda layer: -layer.top)
    ]
    way = max(section.half_width, high - low) * math.sqrt(max(conductivity) / conductivity[0])
    right = max([block.right for block in section.blocks] + [step.start for step in section.grade])
    return max(right, 0.0) + REACH * way, low - REACH * way


def points_of(section: Section, reach: float = 1.0) -> Points:
    """Where lines must stand, along x and along z.

    Parameters
    ----------
    section : Section
        The section.
    reach : float
        Ground goes this many times as far, at least 1. [-]

    Returns
    -------
    tuple of dict of float to float
        For each point the largest cell beside it, inf where it asks for none. [m]
    """
    left, (right, low) = section.inner_face - section.half_width, far_field(section)
    x = [(left, math.inf), (right, math.inf), (section.divide, math.inf), (section.inner_face, CORNER)]
    x += [(step.start, math.inf) for step in section.grade[1:]]
    z = [(low, math.inf), (section.top, math.inf), (section.floor, CORNER), (section.bed, BESIDE)]
    z += [(step.level, math.inf) for step in section.grade] + [(section.grade[0].level, CORNER)]
    z += [(layer.top, math.inf) for layer in section.soil]
    for block in section.blocks:
        size = CORNER if block.kind in INSULATING else BESIDE
        x += [(block.left, size), (block.right, size)]
        z += [(block.bottom, size), (block.top, size)]
    found = _merged(x, left, right), _merged(z, low, section.top)
    if reach > 1:
        found[0][right * reach] = math.inf
        found[1][low - (reach - 1) * (section.floor - low)] = math.inf
    return found


def _merged(points: list[tuple[float, float]], low: float, high: float) -> dict[float, float]:
    merged: dict[float, float] = {}
    last = -math.inf
    for point, size in sorted(points):
        if not low <= point <= high:
            continue
        if point - last < APART:
            merged[last] = min(merged[last], size)
        else:
            merged[point], last = size, point
    return merged


def first_lines(section: Section, fineness: float = 1.0, reach: float = 1.0) -> Lines:
    """Lines by rule: fine at the sides of what insulates, coarser outward and downward.

    Parameters
    ----------
    section : Section
        The section.
    fineness : float
        Cells are smaller by this, > 0. [-]
    reach : float
        Ground goes this many times as far, at least 1. [-]

    Returns
    -------
    tuple of ndarray
        Lines across x and across z. [m]
    """
    x, z = (
        graded_lines(
            sorted(points), [points[at] / fineness for at in sorted(points)], GROWTH ** (1 / fineness)
        )
        for points in points_of(section, reach)
    )
    return x, z


def halved(lines: Lines, parts: int = 2) -> Lines:
    """Lines of a grid whose cells are cut into equal parts.

    Parameters
    ----------
    lines : tuple of ndarray
        Lines across x and across z. [m]
    parts : int
        Into how many along each axis. [-]

    Returns
    -------
    tuple of ndarray
        The finer lines. [m]
    """

    def cut(at: NDArray[np.float64]) -> NDArray[np.float64]:
        within = at[:-1, None] + np.diff(at)[:, None] * np.arange(parts) / parts
        return np.append(within.ravel(), at[-1])

    return cut(lines[0]), cut(lines[1])


def respaced(lines: Lines, turning: Lines, points: Points, cells: float) -> Lines:
    """Lines for about so many cells, close where the heat turns.

    The error that a strip of cells brings grows with the cube of its width; it is made the same in all strips, and
    the two axes bring the same error.

    Parameters
    ----------
    lines : tuple of ndarray
        Lines of the grid that was solved on. [m]
    turning : tuple of ndarray
        Error that each of its strips brings, across x and across z, to one measure. [-]
    points : tuple of dict of float to float
        Where lines must stand. [m]
    cells : float
        Cells wanted. [-]

    Returns
    -------
    tuple of ndarray
        The lines. [m]
    """
    least = (len(points[0]) - 1) * (len(points[1]) - 1)
    cells = max(cells, 1.5 * least)
    # With n strips of one error each an axis brings (Σ e^⅓)³/n².
    share = [float(np.sum(np.cbrt(error))) ** 1.5 for error in turning]
    scale = math.sqrt(cells / (share[0] * share[1]))
    for _ in range(TRIES):
        x, z = (_spaced(lines[axis], turning[axis], points[axis], scale * share[axis]) for axis in (0, 1))
        # Points that must have lines and the growth between cells make them more than counted.
        made = (len(x) - 1) * (len(z) - 1)
        if 0.9 * cells < made < 1.1 * cells:
            break
        scale *= math.sqrt(cells / made)
    return x, z


def _spaced(
    lines: NDArray[np.float64], error: NDArray[np.float64], points: dict[float, float], count: float
) -> NDArray[np.float64]:
    width = np.diff(lines)
    each = float(np.sum(np.cbrt(error))) / count  # cube root of the error of one strip
    wanted = width * each / np.cbrt(np.maximum(error, 1e-9 * error.max()))
    # Beside the sharp ends of what insulates the flux has no bound, and one strip tells too little of it.
    sharp = np.array([at for at in points if points[at] <= CORNER])
    strip = np.searchsorted(lines, sharp + APART) - 1
    beside = np.minimum(wanted[np.maximum(strip - 1, 0)], wanted[np.minimum(strip, len(width) - 1)])
    near = np.concatenate([lines[:-1], sharp])
    far = np.concatenate([lines[1:], sharp])
    size = np.concatenate([wanted, SHARP * beside])
    # Cells that are idle themselves may still be no wider than their neighbours let them.
    at = halved((lines, lines), SAMPLES)[0]
    middle = (at[1:] + at[:-1]) / 2
    apart = np.maximum(near - middle[:, None], middle[:, None] - far)
    size = np.min(size + math.log(MOST_GROWTH) * np.maximum(apart, 0), axis=1)
    number = np.append(0.0, np.cumsum(np.diff(at) / size))
    stands = np.array(sorted(points))
    found = [stands[:1]]
    for start, stop in zip(stands[:-1], stands[1:], strict=True):
        first, last = np.interp([start, stop], at, number)
        cut = max(1, math.ceil(last - first - 0.3))
        found += [np.interp(np.linspace(first, last, cut + 1)[1:-1], number, at), np.array([stop])]
    return np.concatenate(found)
