"""Grid lines of a house in three dimensions: on the layers of its walls, coarse between."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from foundation.heat.grid import graded_lines
from foundation.heat.sections.lines import APART, INSULATING, far_field
from foundation.model.section import Section
from foundation.model.solid import SolidStretch

Array = NDArray[np.float64]
Points = dict[float, float]

LAYER = 0.05  # largest cell beside what insulates, at fineness 1 [m]
BESIDE = 0.2  # beside other blocks [m]
GROWTH = 3.0  # of neighbouring cells at fineness 1 [-]
THIN = 0.13  # what is lower has lines on its levels; the ends of what is higher may move by NEAR [m]
NEAR = 0.04  # [m]
GRADE = 0.15  # largest cell in height along the grade, at fineness 1 [m]


def solid_lines(stretches: Sequence[SolidStretch], fineness: float) -> tuple[Array, Array, Array]:
    """Grid lines of the whole solid.

    Parameters
    ----------
    stretches : sequence of SolidStretch
        The walls of its heated parts, along two axes.
    fineness : float
        Cells are smaller by this, > 0. [-]

    Returns
    -------
    tuple of ndarray
        Lines across x, y and z. [m]
    """
    far = max(far_field(each.section)[0] for each in stretches)
    found = []
    for axis in (0, 1):
        hard, soft = _across(stretches, axis)
        ends = [each.start[axis] for each in stretches] + [each.end[axis] for each in stretches]
        _add_far(hard, soft, (min(ends) - far, max(ends) + far))
        found.append(_lines(hard, soft, fineness))
    return found[0], found[1], _levels([each.section for each in stretches], fineness)


def strip_lines(
    stretches: Sequence[SolidStretch], number: int, fineness: float
) -> tuple[Array, Array, Array]:
    """Grid lines of a metre of one stretch: those of the solid, from its line of symmetry outward.

    Parameters
    ----------
    stretches : sequence of SolidStretch
        Those of the whole solid.
    number : int
        Which of them, from 0. [-]
    fineness : float
        That of the solid. [-]

    Returns
    -------
    tuple of ndarray
        Lines across the wall, x from its outside face outward; along it; and across z. [m]
    """
    lines = solid_lines(stretches, fineness)
    own = stretches[number]
    axis = 0 if abs(own.outward[0]) > 0.5 else 1
    local = np.sort((lines[axis] - own.start[axis]) * own.outward[axis])
    left = own.section.inner_face - own.section.half_width
    return np.append(left, local[local > left + NEAR]), np.array([0.0, 1.0]), lines[2]


def _across(stretches: Iterable[SolidStretch], axis: int) -> tuple[Points, Points]:
    """Sides of the layers of the walls that stand across an axis, and ends of the other stretches."""
    hard: Points = {}
    soft: Points = {}
    for each in stretches:
        if abs(each.outward[axis]) < 0.5:
            soft |= dict.fromkeys((each.start[axis], each.end[axis]), math.inf)
            continue
        section = each.section
        reach = section.inner_face - section.half_width, section.divide
        for block in section.blocks:
            size = LAYER if block.kind in INSULATING else BESIDE
            for side in (block.left, block.right):
                # The middle of the floor is no side, nor the far end of a floor beyond.
                if side > reach[0] + APART and (side == block.left or block.name.find("beyond") < 0):
                    _add(hard, each.start[axis] + each.outward[axis] * side, size)
        _add(hard, each.start[axis] + each.outward[axis] * section.divide, math.inf)
    return hard, soft


def _levels(sections: Sequence[Section], fineness: float) -> Array:
    hard: Points = {}
    soft: Points = {}
    for section in sections:
        _add(hard, section.floor, LAYER)
        for block in section.blocks:
            size = LAYER if block.kind in INSULATING else BESIDE
            thin = block.top - block.bottom < THIN
            for level in (block.bottom, block.top):
                _add(hard if thin else soft, level, size)
        for level in (section.bed, section.top, section.concrete_top):
            _add(soft, level, math.inf)
    grades = [step.level for section in sections for step in section.grade]
    count = math.ceil((max(grades) - min(grades)) / GRADE * fineness)
    for level in np.linspace(min(grades), max(grades), count + 1):
        _add(soft, float(level), math.inf)
    top = max([section.top for section in sections] + [max(grades)]) + 2 * GRADE
    _add_far(hard, soft, (min(far_field(section)[1] for section in sections), top))
    return _lines(hard, soft, fineness)


def _add(points: Points, at: float, size: float) -> None:
    near = next((each for each in points if abs(each - at) < APART), at)
    points[near] = min(points.get(near, math.inf), size)


def _add_far(hard: Points, soft: Points, ends: tuple[float, float]) -> None:
    for points in (hard, soft):
        for at in [at for at in points if not ends[0] + NEAR < at < ends[1] - NEAR]:
            del points[at]
    hard |= dict.fromkeys(ends, math.inf)


def _lines(hard: Points, soft: Points, fineness: float) -> Array:
    points = dict(hard)
    for at in sorted(soft):
        if min(abs(at - each) for each in points) > NEAR:
            points[at] = soft[at]
    stands = sorted(points)
    return graded_lines(stands, [points[at] / fineness for at in stands], GROWTH ** (1 / fineness))
