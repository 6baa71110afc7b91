"""A house in three dimensions, made from the sections along its walls.

Each column of cells is what the section of the wall nearest to it has at that distance: walls, foam and floor meet in
a mitre at the corners, and the floor goes on past its strips to the middle of the house. Outdoors each column has its
own grade.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from foundation.heat.conduction import Body, Field, annual, neighbours, steady
from foundation.heat.grid import Grid
from foundation.heat.limits import positive
from foundation.heat.patches import End, Film, Patch
from foundation.heat.sections.assemble import CEILING_FILM, FLOOR_FILM, OUTER_FILM, WALL_FILM
from foundation.heat.sections.lines import APART
from foundation.heat.solid_lines import solid_lines, strip_lines
from foundation.model.section import Section, Situation
from foundation.model.solid import Shares, SolidStretch

Array = NDArray[np.float64]
Grade = Callable[[Array, Array], Array]
OUTDOORS = ""
WAYS = (
    (2, End.HIGH, FLOOR_FILM),
    (2, End.LOW, CEILING_FILM),
    (0, End.LOW, WALL_FILM),
    (0, End.HIGH, WALL_FILM),
    (1, End.LOW, WALL_FILM),
    (1, End.HIGH, WALL_FILM),
)


@dataclass(frozen=True, eq=False)
class SolidFaces:
    """Faces of one air that look one way; k faces.

    Attributes
    ----------
    air : str
        Part whose air lies against them, "" outdoors.
    patch : Patch
        The faces, with an air of 1 outdoors and of 0 inside, over the year as well.
    per_kelvin : ndarray, shape (k,)
        Area over film of each. [W/K]
    floor, wall, below_grade, between : ndarray of bool, shape (k,)
        Whether each is floor, concrete wall, below grade outside, and of a wall between two parts.
    """

    air: str
    patch: Patch
    per_kelvin: Array
    floor: NDArray[np.bool_]
    wall: NDArray[np.bool_]
    below_grade: NDArray[np.bool_]
    between: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Solid:
    """A house, or a metre of one section, in cells.

    Attributes
    ----------
    body : Body
        What conducts and stores; x, y and z are axes 0, 1 and 2.
    faces : tuple of SolidFaces
        What meets the air; everything else is adiabatic.
    """

    body: Body
    faces: tuple[SolidFaces, ...]

    @property
    def cells(self) -> int:
        """Number of cells with material [-]."""
        return int(np.count_nonzero(self.body.conductivity))

    def shares(self, year: bool = False) -> tuple[dict[str, Shares], dict[str, Shares] | None, float]:
        """Heat that leaves each part.

        Parameters
        ----------
        year : bool
            Whether the year is solved too.

        Returns
        -------
        tuple
            Steady shares of each part; those of the year, None without it; worst imbalance [-].
        """
        patches = [each.patch for each in self.faces]
        if not year:
            field = steady(self.body, patches)
            return self._read(field), None, field.imbalance
        wave = annual(self.body, patches)
        worst = max(wave.mean.imbalance, wave.swing.imbalance)
        return self._read(wave.mean), self._read(wave.swing), worst

    def _read(self, field: Field) -> dict[str, Shares]:
        found: dict[str, list[complex]] = {}
        for each in self.faces:
            if each.air == OUTDOORS:
                continue
            flow = field.surface[each.patch.name] * each.per_kelvin
            below = each.below_grade & (each.floor | each.wall)
            kinds = each.floor, each.wall, below, each.between & each.wall
            sums = found.setdefault(each.air, [0j] * len(kinds))
            for place, chosen in enumerate(kinds):
                sums[place] += complex(flow[chosen].sum())
        return {part: Shares(*sums) for part, sums in found.items()}


def solid_of(
    stretches: Sequence[SolidStretch],
    outlines: Mapping[str, Sequence[tuple[float, float]]],
    grade: Grade | None,
    fineness: float = 1.0,
) -> Solid:
    """A house as a solid.

    Parameters
    ----------
    stretches : sequence of SolidStretch
        The walls of its heated parts, along two axes.
    outlines : mapping of str to sequence of tuple of float
        Corners of each heated part. [m]
    grade : callable or None
        Finished grade [m] at x and y [m]; None for that of the nearest section.
    fineness : float
        Cells are smaller by this, > 0. [-]

    Returns
    -------
    Solid
        In cells.

    Raises
    ------
    ValueError
        If a wall stands across both axes, or the fineness is not positive.
    """
    positive(fineness, "fineness", "(-)")
    for each in stretches:
        if min(abs(each.outward[0]), abs(each.outward[1])) > 1e-6:
            raise ValueError(
                f"Wall {each.section.line} stands at an angle to the others; a solid takes right angles alone."
            )
    grid = Grid(solid_lines(stretches, fineness))
    middle = [grid.centre(axis)[..., 0] for axis in (0, 1)]
    shape = grid.shape[:2]
    x, y = (np.broadcast_to(each, shape) for each in middle)
    inside = np.full(shape, -1)
    names = list(outlines)
    for number, name in enumerate(names):
        inside[_within(x, y, outlines[name])] = number
    which, across = _nearest(stretches, inside, names, x, y)
    sections = [each.section for each in stretches]
    level = _section_grade(sections, which, across) if grade is None else grade(x, y)
    return _assembled(grid, sections, which, across, level)


def strip_of(stretches: Sequence[SolidStretch], number: int, fineness: float = 1.0) -> Solid:
    """A metre of one stretch's section, between the line of symmetry and the far field, on the solid's grid lines.

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
    Solid
        In cells.
    """
    section = stretches[number].section
    grid = Grid(strip_lines(stretches, number, fineness))
    across = grid.centre(0)[..., 0]
    which = np.zeros(across.shape, dtype=int)
    return _assembled(grid, [section], which, across, _section_grade([section], which, across))


def _within(x: Array, y: Array, corners: Sequence[tuple[float, float]]) -> NDArray[np.bool_]:
    """Whether points lie inside a ring, by how often a ray from each crosses it."""
    inside = np.zeros(x.shape, dtype=bool)
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if ay != by:
            crosses = ((ay > y) != (by > y)) & (x < ax + (y - ay) * (bx - ax) / (by - ay))
            inside ^= crosses
    return inside


def _nearest(
    stretches: Sequence[SolidStretch], inside: NDArray[np.intp], names: Sequence[str], x: Array, y: Array
) -> tuple[NDArray[np.intp], Array]:
    """Stretch that each column belongs to, and its distance from that outside face, outward positive."""
    best = np.full(x.shape, math.inf)
    which, across = np.zeros(x.shape, dtype=np.intp), np.zeros(x.shape)
    for number, each in enumerate(stretches):
        section = each.section
        own = inside == names.index(section.inside)
        other = inside == (names.index(section.outside) if section.outside else -1)
        along, out = (x, y) if abs(each.outward[1]) > 0.5 else (y, x)
        axis = 0 if abs(each.outward[1]) > 0.5 else 1
        first, last = sorted((each.start[axis], each.end[axis]))
        past = np.maximum(np.maximum(first - along, along - last), 0)
        from_face = (out - each.start[1 - axis]) * each.outward[1 - axis]
        apart = np.maximum(past, np.abs(from_face))
        # Beside a corner both walls are as far; the one that the place is in front of takes it.
        rank = apart + 1e-6 * past
        better = (own | other) & (rank < best)
        best[better], which[better] = rank[better], number
        across[better] = np.where(own, -apart, apart)[better]
    return which, across


def _section_grade(sections: Sequence[Section], which: NDArray[np.intp], across: Array) -> Array:
    level = np.empty(across.shape)
    for number, section in enumerate(sections):
        here = which == number
        starts = np.array([step.start for step in section.grade])
        levels = np.array([step.level for step in section.grade])
        place = np.searchsorted(starts, across[here], side="right") - 1
        level[here] = levels[np.maximum(place, 0)]
    return level


def _assembled(
    grid: Grid, sections: Sequence[Section], which: NDArray[np.intp], across: Array, grade: Array
) -> Solid:
    """Fill the columns and find the faces that meet the air."""
    z = grid.centre(2)[0, 0]
    conductivity, capacity = np.empty(grid.shape), np.empty(grid.shape)
    filled, cut = np.empty(grid.shape, dtype=bool), np.empty(grid.shape, dtype=bool)
    for number, section in enumerate(sections):
        here = which == number
        columns = _columns(section, across[here], z, grade[here])
        conductivity[here], capacity[here], filled[here] = columns
        # Above the cut of what stands on a wall there is neither air.
        stands = columns[2][:, int(np.searchsorted(z, section.top)) - 1]
        cut[here] = (z > section.top) & stands[:, None]
    # What no air reaches from above, such as a sliver under a footing, is ground.
    hollows, _ = ndimage.label(~filled)
    hollow = ~filled & np.isin(hollows, np.unique(hollows[..., -1]))
    conductivity[hollow], capacity[hollow] = 0.0, 0.0
    faces = _faces(grid, sections, which, across, ~hollow, hollow & ~cut)
    return Solid(Body(grid, conductivity, capacity), tuple(faces))


def _columns(
    section: Section, across: Array, z: Array, grade: Array
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Conductivity and heat capacity of columns of one section, and what of them is filled."""
    # Past its line of symmetry the floor goes on as it was there.
    x = np.maximum(across, section.inner_face - section.half_width + APART)
    conductivity, capacity = np.empty((len(x), len(z))), np.empty((len(x), len(z)))
    for number, layer in enumerate(sorted(section.soil, key=lambda layer: -layer.top)):
        deep = z < (layer.top if number else math.inf)
        conductivity[:, deep], capacity[:, deep] = layer.material.conductivity, layer.material.heat_capacity
    filled = z < np.where(x < section.divide, section.bed, grade)[:, None]
    for block in section.blocks:
        box = np.ix_((x > block.left) & (x < block.right), (z > block.bottom) & (z < block.top))
        conductivity[box], capacity[box] = block.material.conductivity, block.material.heat_capacity
        filled[box] = True
    return conductivity, capacity, filled


def _faces(
    grid: Grid,
    sections: Sequence[Section],
    which: NDArray[np.intp],
    across: Array,
    solid: NDArray[np.bool_],
    air: NDArray[np.bool_],
) -> Iterator[SolidFaces]:
    def of(value: Callable[[Section], float]) -> Array:
        return np.array([value(section) for section in sections])[which]

    names = sorted({each.inside for each in sections} | {each.outside for each in sections} | {OUTDOORS})
    sides = [[names.index(each.inside), names.index(each.outside)] for each in sections]
    past = (across > of(lambda each: each.divide)).astype(int)
    whose = np.array(sides)[which, past]
    floor, concrete, level = (
        of(value)[..., None]
        for value in (lambda s: s.floor, lambda s: s.concrete_top, lambda s: s.grade[0].level)
    )
    on_floor = np.broadcast_to((across < of(lambda each: each.inner_face))[..., None], solid.shape)
    beyond = np.broadcast_to(
        np.array([each.situation is Situation.BETWEEN for each in sections])[which][..., None], solid.shape
    )
    for number, name in enumerate(names):
        own = air & (whose == number)[..., None]
        for way, (axis, end, film) in enumerate(WAYS):
            cells = solid & _beside(own, axis, end)
            if not cells.any():
                continue
            up = axis == 2 and end is End.HIGH
            height = np.broadcast_to(grid.lines[2][1:] if up else grid.centre(2), solid.shape)[cells]
            base, top, ground = (np.broadcast_to(v, solid.shape)[cells] for v in (floor, concrete, level))
            is_floor = np.full(height.shape, up) & (height < base + APART)
            inner = on_floor[cells] | beyond[cells]
            film = film if name else OUTER_FILM
            yield SolidFaces(
                air=name,
                patch=Patch(
                    f"{name} {way}", axis, end, Film(1 / film, float(not name), float(not name)), cells
                ),
                per_kelvin=np.broadcast_to(grid.volume / grid.width(axis), solid.shape)[cells] / film,
                floor=is_floor,
                wall=~is_floor & (height < top + APART),
                below_grade=(is_floor & inner) | (height < ground),
                between=beyond[cells],
            )


def _beside(air: NDArray[np.bool_], axis: int, end: End) -> NDArray[np.bool_]:
    """Cells whose neighbour in one direction is of the air."""
    beside = np.zeros_like(air)
    low, high = neighbours(3, axis)
    here, there = (low, high) if end is End.HIGH else (high, low)
    beside[here] = air[there]
    return beside
