"""A design winter over a section: how far it freezes beside the footing, and when.

The ground starts from its answer to the mean years before, in the autumn when the air falls to the yearly mean, and
is followed through freezing and thaw until some weeks after the air has thawed. That answer knows no freezing. Frozen
ground conducts better, so that winters before leave it colder, by some 0.7 K, which takes the frost some 2 cm deeper
[derived]; a surface with a factor below 1 leaves it warmer by about as much.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

import numpy as np
from numpy.typing import NDArray

from foundation.heat.conduction import annual
from foundation.heat.freezing import Season, freeze, frost_level
from foundation.heat.freezing_body import FreezingBody, freezing_body
from foundation.heat.grid import graded_lines
from foundation.heat.limits import positive
from foundation.heat.patches import End
from foundation.heat.sections.assemble import AirFaces, Assembled, assemble
from foundation.heat.sections.lines import APART, Lines, points_of
from foundation.heat.sections.winter_air import DAYS, WinterAir, winter_air
from foundation.model.section import Block, BlockKind, Section, Situation
from foundation.model.winter import DesignWinter

Array = NDArray[np.float64]

DAY = 86400.0
START = -DAYS / 4
"""When the design winter parts from the mean year; until then the yearly answer holds. [d]"""
AFTER = 60.0
"""How long it is followed after the air has thawed: frost is deepest some weeks after that at most. [d]"""
STEP = 2.0
"""In time, at fineness 1. [d]"""
NEAR = 2.0
"""Frost beside the house is looked at within this distance of the concrete. [m]"""
LOOKED = 80
"""Places there. [-]"""
SMALLEST = 0.04
"""Largest cell beside what insulates, at fineness 1; the flows of heat ask for smaller ones than frost does. [m]"""
FROZEN = 0.12
"""Height of cells down to where frost may go, at fineness 1. [m]"""
GROWTH = 2.0
"""Of neighbouring cells at fineness 1. [-]"""
SHALLOWEST, DEEPEST = 0.6, 3.5
"""Ends of what is taken for the depth that frost may go. [m]"""


def design_winter(
    section: Section,
    inside: float | None,
    mean: float,
    amplitude: float,
    index: float,
    surface: float = 1.0,
    fineness: float = 1.0,
) -> DesignWinter:
    """Follow a section through a design winter.

    Beside fine grids fineness 1 has the depth of frost within 2.5 cm, its distance from the footing within 4 cm, and
    the footing's bottom up to 0.2 K too warm [derived].

    Parameters
    ----------
    section : Section
        The section, with air outdoors.
    inside : float or None
        Air inside; None where nobody heats and it is as cold as outdoors. [°C]
    mean : float
        Yearly mean of the outer air. [°C]
    amplitude : float
        Of its mean year's wave. [K]
    index : float
        Freezing index of the design winter. [K·d]
    surface : float
        Freezing index of the ground's surface over that of the air, > 0; what stands on the ground has the air's. [-]
    fineness : float
        Cells and steps are smaller by this, > 0. [-]

    Returns
    -------
    DesignWinter
        The frost when it is deepest, and what the whole winter does to the footing.

    Raises
    ------
    ValueError
        If a number is out of its range, another part lies beyond the wall, or `assemble` would complain.

    Notes
    -----
    The air is `winter_air`'s: its index is the design winter's, and that of the ground's surface is `surface` of it.
    """
    positive(surface, "The surface's share of the freezing index", "(-)")
    positive(fineness, "fineness", "(-)")
    if section.situation is Situation.BETWEEN:
        raise ValueError(
            f"Beyond the wall of section {section.line} lies {section.outside or 'another part'}, not the open air: "
            "take a section that faces outdoors."
        )
    air = winter_air(mean, amplitude, index)
    assembled = assemble(section, lines=winter_lines(section, surface * index, fineness))
    body = freezing_body(assembled.grid, assembled.material, assembled.materials)
    season = _season(assembled, body, inside, air, surface, STEP / fineness)
    return _read(assembled, body, season, inside, air, surface)


def winter_lines(section: Section, surface_index: float, fineness: float = 1.0) -> Lines:
    """Grid lines for a winter: even down to where frost may go, fine at foam and at the footing's lower edge.

    Parameters
    ----------
    section : Section
        The section.
    surface_index : float
        Freezing index of the ground's surface. [K·d]
    fineness : float
        Cells are smaller by this, > 0. [-]

    Returns
    -------
    tuple of ndarray
        Lines across x and across z. [m]
    """
    x, z = points_of(section)
    for points in (x, z):
        for at, size in points.items():
            points[at] = max(size, SMALLEST) if size < math.inf else size
    foot = footing_of(section)
    if foot is not None:
        _ask(x, foot.right, SMALLEST / 2)
        _ask(z, bottom_of(section, foot), SMALLEST / 2)
    soil = max(section.soil, key=lambda layer: layer.top).material
    depth = DEEPEST
    if soil.latent_heat > 0:  # Stefan's formula: at least as deep as frost goes
        stefan = math.sqrt(2 * DAY * soil.frozen_conductivity * surface_index / soil.latent_heat)
        depth = min(max(stefan, SHALLOWEST), DEEPEST)
    top = section.grade[0].level
    for level in np.arange(top - depth, top, 2 * FROZEN).tolist():
        if min(abs(level - at) for at in z) > FROZEN:
            z[level] = FROZEN
    lines = (
        graded_lines(sorted(p), [p[at] / fineness for at in sorted(p)], GROWTH ** (1 / fineness))
        for p in (x, z)
    )
    across, up = lines
    return across, up


def footing_of(section: Section) -> Block | None:
    """The footing.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    Block or None
        The lowest block of concrete that is called one.
    """
    found = [b for b in section.blocks if b.kind is BlockKind.CONCRETE and "footing" in b.name]
    return min(found, key=lambda block: block.bottom) if found else None


def bottom_of(section: Section, foot: Block) -> float:
    """Where the ground under a footing begins.

    Parameters
    ----------
    section : Section
        The section.
    foot : Block
        Its footing.

    Returns
    -------
    float
        Level of its bottom, or of that of the foam it stands on. [m]
    """
    under = [
        block.bottom
        for block in section.blocks
        if block.kind is BlockKind.FOAM
        and abs(block.top - foot.bottom) < APART
        and block.left < foot.right - APART
        and block.right > foot.left + APART
    ]
    return min([foot.bottom, *under])


def _ask(points: dict[float, float], at: float, size: float) -> None:
    """Ask for cells no larger than a size beside a point that has a line, or is to have one."""
    near = [other for other in points if abs(other - at) < APART]
    for other in near or [at]:
        points[other] = min(points.get(other, math.inf), size)


def _ground(assembled: Assembled) -> NDArray[np.bool_]:
    """Cells of ground, where frost does harm."""
    section = assembled.section
    soils = {layer.material for layer in section.soil}
    soils |= {block.material for block in section.blocks if block.kind is BlockKind.SOIL}
    return np.isin(assembled.material, [n for n, one in enumerate(assembled.materials) if one in soils])


def _season(
    assembled: Assembled,
    body: FreezingBody,
    inside: float | None,
    air: WinterAir,
    surface: float,
    step: float,
) -> Season:
    """From the autumn before to some weeks after the thaw, looked at after every step."""
    mean = air.mean

    def is_warm(faces: AirFaces) -> bool:
        return faces.inner and inside is not None

    start = annual(
        assembled.body,
        [
            faces.patch(inside, 0.0)
            if faces.inner and inside is not None
            else faces.patch(mean, -air.amplitude)
            for faces in assembled.faces
        ],
    ).temperature(START * DAY)
    end = min(air.thaws + AFTER, DAYS / 2)
    times = np.linspace(START, end, math.ceil((end - START) / step) + 1) * DAY
    ground = _ground(assembled)

    def course_over(faces: AirFaces) -> Callable[[float], float | Array]:
        covered = ground & (surface != 1.0 and faces.axis == 1 and faces.end is End.HIGH)

        def course(time: float) -> float | Array:
            now = air.temperature(time / DAY)
            return np.where(covered, surface * now, now) if now < 0 else now

        return course

    return freeze(
        body,
        [faces.patch(inside if faces.inner and inside is not None else mean) for faces in assembled.faces],
        start,
        times,
        step * DAY,
        {faces.name: course_over(faces) for faces in assembled.faces if not is_warm(faces)},
    )


def _read(
    assembled: Assembled,
    body: FreezingBody,
    season: Season,
    inside: float | None,
    air: WinterAir,
    surface: float,
) -> DesignWinter:
    section, grid = assembled.section, assembled.grid
    x = grid.centre(0).ravel()
    ground = _ground(assembled)
    levels = np.array([frost_level(grid, frozen * ground) for frozen in season.frozen])
    at = np.linspace(0, NEAR, LOOKED + 1)[1:]
    beside = np.array([np.interp(at, x, level) for level in levels])
    depths = np.nan_to_num(grade_over(section, at) - beside, nan=0.0)
    look = int(np.argmax(depths.max(axis=1)))
    depth = max(float(depths[look].max()), 0.0)
    foot = footing_of(section)
    bottom = under = math.nan
    distance = math.inf
    if foot is not None:
        bottom = bottom_of(section, foot)
        under = _coldest_at(assembled, body, season, foot, bottom)
        frost = frost_level(grid, season.most_frozen * ground)
        distance = 0.0 if under < 0 else _distance(x, frost, foot, bottom)
    return DesignWinter(
        section=section,
        inside=inside,
        index=air.freezing_index,
        coldest=air.temperature(0.0),
        surface=surface,
        day=float(season.times[look] / DAY),
        x=grid.lines[0],
        z=grid.lines[1],
        temperature=season.temperature[look],
        front=_front(ground, season.temperature[look], season.frozen[look]),
        frost=levels[look],
        depth=depth,
        lowest=float(np.nanmin(beside[look])) if depth > 0 else math.nan,
        bottom=bottom,
        under=under,
        reaches=under < 0,
        distance=distance,
        imbalance=season.imbalance,
        cells=assembled.cells,
        steps=season.steps,
    )


def grade_over(section: Section, x: Array) -> Array:
    """Finished grade outside.

    Parameters
    ----------
    section : Section
        The section.
    x : ndarray, shape (n,)
        Distances from the outside face. [m]

    Returns
    -------
    ndarray, shape (n,)
        Its level. [m]
    """
    starts = np.array([step.start for step in section.grade])
    level = np.array([step.level for step in section.grade])
    return level[np.maximum(np.searchsorted(starts, x, side="right") - 1, 0)]


def _coldest_at(
    assembled: Assembled, body: FreezingBody, season: Season, foot: Block, bottom: float
) -> float:
    """Coldest of the line under a footing, between the cells above and below it. [°C]"""
    grid = assembled.grid
    x = grid.centre(0).ravel()
    columns = np.flatnonzero((x > foot.left) & (x < foot.right))
    row = int(np.argmin(np.abs(grid.lines[1] - bottom)))
    total, weights = np.zeros(len(columns)), np.zeros(len(columns))
    for each in (row - 1, row):
        coldest = season.coldest[columns, each]
        by_state = [
            np.asarray(values)[columns, each] for values in (body.conductivity, body.frozen_conductivity)
        ]
        weight = np.where(coldest < 0, by_state[1], by_state[0]) / (
            grid.lines[1][each + 1] - grid.lines[1][each]
        )
        total, weights = total + weight * coldest, weights + weight
    return float(np.min(total / weights))


def _distance(x: Array, frost: Array, foot: Block, bottom: float) -> float:
    """Least distance of frost beside a footing from its bottom, inf without frost. [m]"""
    least = math.inf
    for side, edge in ((x > foot.right, foot.right), (x < foot.left, foot.left)):
        if np.isfinite(frost[side]).any():
            at = np.linspace(x[side][0], x[side][-1], 8 * int(side.sum()))
            level = np.interp(at, x[side], frost[side])
            away = np.hypot(at - edge, np.maximum(level - bottom, 0.0))
            least = min(
                least, *_known(away), *_known(np.hypot(x - edge, np.maximum(frost - bottom, 0.0))[side])
            )
    return least


def _known(values: Array) -> Iterable[float]:
    return [float(value) for value in values if math.isfinite(value)]


def _front(ground: NDArray[np.bool_], temperature: Array, frozen: Array) -> Array:
    """Where it freezes: -1 frozen, 1 thawed, by its share in ground that freezes, by its temperature elsewhere.

    In a column the line of 0 between the cells' centres lies within a tenth of a cell of where the frozen share ends.
    """
    return np.where(ground, 1 - 2 * frozen, np.clip(temperature, -1, 1))
