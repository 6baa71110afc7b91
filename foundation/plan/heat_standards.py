"""The house's ground heat by published methods, as second opinions beside the model."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from foundation.heat import residential, standard
from foundation.model.section import Block, BlockKind, Section
from foundation.plan.sections import PlacedSection

SLAB_ON_GRADE = 0.3
"""Mean depth of the floor below grade from which the basement's formulae are taken [practice]. [m]"""


def by_standard(placed: Sequence[PlacedSection]) -> float:
    """Steady conductance of a part by ISO 13370:2017.

    The floor is as deep as its exposed edge is on the mean, the wall resists as its sections do on the mean; foam
    upright outside a shallow floor counts as edge foam.

    Parameters
    ----------
    placed : sequence of PlacedSection
        The part's sections that face outdoors.

    Returns
    -------
    float
        To the air outside. [W/K]
    """
    perimeter, area, depth = _shape(placed)
    ground = placed[0].section.soil[0].material.conductivity
    dimension = standard.characteristic_dimension(area, perimeter)
    wall = _mean(placed, lambda section: -section.inner_face)
    floor = standard.equivalent_thickness(ground, _mean(placed, resistance_down), wall_thickness=wall)
    if depth >= SLAB_ON_GRADE:
        upright = standard.equivalent_thickness(ground, _mean(placed, resistance_across), inside=0.13)
        return standard.basement_coefficient(
            area,
            perimeter,
            depth,
            standard.basement_floor_transmittance(dimension, floor, ground, depth),
            standard.basement_wall_transmittance(floor, upright, ground, depth),
        )
    edges = [_edge_foam(each.section, floor, ground) * (each.end - each.start) for each in placed]
    return standard.slab_coefficient(
        area, perimeter, standard.slab_transmittance(dimension, floor, ground), sum(edges) / perimeter
    )


def by_residential_method(placed: Sequence[PlacedSection]) -> float | None:
    """Conductance of a basement by the residential below-grade method, to the ground's coldest surface.

    Parameters
    ----------
    placed : sequence of PlacedSection
        The part's sections that face outdoors.

    Returns
    -------
    float or None
        None where the floor lies too shallow for it. [W/K]
    """
    perimeter, area, depth = _shape(placed)
    if depth < SLAB_ON_GRADE:
        return None
    ground = placed[0].section.soil[0].material.conductivity
    films = 0.13, 0.17
    wall = residential.below_grade_wall_transmittance(
        0.0, depth, ground, _mean(placed, resistance_across) + films[0]
    )
    # Half of the shorter side is what the floor's strip is wide, A/P.
    floor = residential.below_grade_floor_transmittance(
        2 * area / perimeter, depth, ground, _mean(placed, resistance_down) + films[1]
    )
    return perimeter * depth * wall + area * floor


def resistance_down(section: Section) -> float:
    """Resistance of slab, foam and stone in the middle of the floor, without films.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    float
        From the top of slab down to the bed. [m²·K/W]
    """
    middle = section.inner_face - section.half_width + 1e-3
    return _along(section.blocks, (section.bed, section.floor), lambda z: (middle, z))


def resistance_across(section: Section) -> float:
    """Resistance of the wall with its foam, from floor to grade on the mean, without films.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    float
        One over the mean of its conductances. [m²·K/W]
    """
    upright = [block for block in section.blocks if "slab" not in block.name and block.top > section.floor]
    top = max(min(section.grade[0].level, section.concrete_top), section.floor + 0.1)
    levels = np.linspace(section.floor, top, 7)[1:-1]
    span = (
        min((block.left for block in upright), default=0.0),
        max((block.right for block in upright), default=0.0),
    )
    through = [_at_level(upright, span, float(level)) for level in levels]
    return 1 / float(np.mean(1 / np.maximum(through, 1e-3)))


def _at_level(blocks: Sequence[Block], span: tuple[float, float], level: float) -> float:
    return _along(blocks, span, lambda x: (x, level))


def _along(
    blocks: Sequence[Block], span: tuple[float, float], point: Callable[[float], tuple[float, float]]
) -> float:
    """Sum of thickness over conductivity of the blocks that a straight way passes; the last block lies on top."""
    limits = {*span}
    for block in blocks:
        limits |= {v for v in (block.left, block.right, block.bottom, block.top) if span[0] < v < span[1]}
    ends = sorted(limits)
    total = 0.0
    for start, end in zip(ends[:-1], ends[1:], strict=True):
        x, z = point((start + end) / 2)
        at = [b for b in blocks if b.left <= x <= b.right and b.bottom <= z <= b.top]
        total += (end - start) / at[-1].material.conductivity if at else 0.0
    return total


def _edge_foam(section: Section, floor: float, ground: float) -> float:
    """Linear transmittance of foam upright at or outside the edge of a shallow floor. [W/(m·K)]"""
    grade = section.grade[0].level
    savings = [0.0]
    for block in section.blocks:
        depth = grade - block.bottom
        if block.kind is not BlockKind.FOAM or depth <= 0 or block.top < section.bed:
            continue
        thickness = block.right - block.left
        if thickness >= block.top - block.bottom:
            continue  # lies flat
        more = standard.edge_thickness(ground, thickness / block.material.conductivity, thickness)
        savings.append(standard.edge_transmittance(depth, floor, more, ground, vertical=True))
    return min(savings)


def _mean(placed: Sequence[PlacedSection], value: Callable[[Section], float]) -> float:
    lengths = [each.end - each.start for each in placed]
    return float(np.average([value(each.section) for each in placed], weights=lengths))


def _shape(placed: Sequence[PlacedSection]) -> tuple[float, float, float]:
    """Exposed perimeter [m], floor area [m²] and mean depth of the floor below grade [m]."""
    perimeter = sum(each.end - each.start for each in placed)
    area = sum((each.end - each.start) * each.section.half_width for each in placed)
    return perimeter, area, _mean(placed, lambda s: max(s.grade[0].level - s.floor, 0.0))
