"""How a section answers to the air outside: steady and over the year, with the error of the answer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from foundation.heat.conduction import Wave, annual, steady
from foundation.heat.limits import positive
from foundation.heat.patches import End, Patch
from foundation.heat.sections.assemble import AirFaces, Assembled, assemble
from foundation.heat.sections.lines import (
    APART,
    REACH,
    Lines,
    Points,
    halved,
    points_of,
    respaced,
)
from foundation.heat.sections.turning import turning
from foundation.model.heat import Picture, SectionResponse, Surface
from foundation.model.section import Section

USUAL = 0.005  # tolerance [-]
CELLS = 1500.0  # of the coarse grid for the usual tolerance; the fine one has four times as many [-]
FEWEST_CELLS = 1000.0  # of the coarse grid; with fewer its error falls in no steady way [-]
MOST_CELLS = 20_000.0  # of the coarse grid [-]
CORRECTION, DOUBT = 0.4, 0.15  # of what halving the cells changes; see `_corrected` [-]
FAR = 1.0 / REACH**2  # what the ends of the ground bring at most; see `lines.far_field` [-]
FLOOR, WALL, FRAME = "floor", "wall", "frame"


@dataclass(frozen=True)
class SteadyLoss:
    """Steady conductance from the inner air to the outer, by the surface that the heat enters.

    Attributes
    ----------
    floor, wall, frame : float
        Through floor, concrete wall with its lining, and framed wall with its sill. [W/(m·K)]
    """

    floor: float
    wall: float
    frame: float

    @property
    def total(self) -> float:
        """Through all of them [W/(m·K)]."""
        return self.floor + self.wall + self.frame


def respond(section: Section, tolerance: float = USUAL) -> SectionResponse:
    """Solve a section for its answer to the mean and to the yearly wave of the air outside.

    Lines are put where the heat turned on a grid before. Then two grids are solved, one with every cell of the other
    cut in four, and the lines are made closer until what that changed is small. The answer is corrected by part of
    the change and claims another part as its error.

    Parameters
    ----------
    section : Section
        The section.
    tolerance : float
        Error asked for, > 0: of the flow through the inner surface, and of that through floor and wall alone. Below
        0.001 the ends of the ground and the number of cells stand in the way. [-]

    Returns
    -------
    SectionResponse
        The answer; its error tells whether the tolerance was kept.

    Raises
    ------
    ValueError
        If the tolerance is not positive, or `assemble` would complain.
    """
    positive(tolerance, "tolerance", "(-)")
    fine = _solved(assemble(section, 0.5))
    points = points_of(section)
    cells = min(max(CELLS * USUAL / tolerance, FEWEST_CELLS), MOST_CELLS)
    fine = _solved(assemble(section, lines=_respaced(fine, points, cells)))
    while True:
        coarse = _solved(assemble(section, lines=_respaced(fine, points, cells)))
        fine = _solved(assemble(section, lines=halved(coarse.assembled.lines)))
        surface, error = _corrected(coarse, fine)
        if error <= tolerance or cells >= MOST_CELLS:
            break
        cells = min(cells * min(max(1.2 * error / tolerance, 1.15), 4.0), MOST_CELLS)
    (x, z), wave = fine.assembled.lines, fine.wave
    return SectionResponse(
        section=section,
        surface=surface,
        picture=Picture(x, z, wave.mean.temperature, wave.swing.temperature),
        error=error,
        imbalance=max(wave.mean.imbalance, wave.swing.imbalance),
        cells=fine.assembled.cells,
    )


def steady_conductance(section: Section, fineness: float = 0.7) -> SteadyLoss:
    """Steady conductance of a section, quick, for comparing many.

    One coarse grid by rule. Its flow is too low by about twice what `turning` counts; with that added the total of
    twenty sample sections, and their floor and wall, are within 1 % of fine grids.

    Parameters
    ----------
    section : Section
        The section.
    fineness : float
        Cells are smaller by this, > 0. [-]

    Returns
    -------
    SteadyLoss
        Its conductance.

    Raises
    ------
    ValueError
        If `assemble` would complain.
    """
    return loss_of(assemble(section, fineness))


def loss_of(assembled: Assembled) -> SteadyLoss:
    """Steady conductance of a section in cells, as `steady_conductance` gives it.

    Parameters
    ----------
    assembled : Assembled
        The section in cells.

    Returns
    -------
    SteadyLoss
        Its conductance.
    """
    field = steady(assembled.body, unit_patches(assembled))
    loss = dict.fromkeys((FLOOR, WALL, FRAME), 0.0)
    for faces in assembled.faces:
        if faces.inner:
            flow = field.surface[faces.name] * faces.area / faces.film
            group = groups_of(assembled.section, faces)
            for name in loss:
                loss[name] += float(flow[group == name].sum())
    missing = 2 * sum(float(part.sum()) for part in turning(assembled, field, field))
    share = 1 + missing / sum(loss.values())
    return SteadyLoss(**{name: flow * share for name, flow in loss.items()})


def unit_patches(assembled: Assembled) -> list[Patch]:
    """What drives the factors: air at 0 inside and at 1 outside, over a wave as well.

    Parameters
    ----------
    assembled : Assembled
        The section in cells.

    Returns
    -------
    list of Patch
        The airs.
    """
    return [faces.patch(float(not faces.inner), float(not faces.inner)) for faces in assembled.faces]


def surface_of(assembled: Assembled, wave: Wave) -> Surface:
    """Read the inner surface from a solution with the airs of `unit_patches`.

    Parameters
    ----------
    assembled : Assembled
        The section in cells.
    wave : Wave
        The solution on them.

    Returns
    -------
    Surface
        Its inner surface, face by face. Exposure is counted straight down from grade at the wall and straight inward
        from the wall's inner face.
    """
    section = assembled.section
    inner = [faces for faces in assembled.faces if faces.inner]
    x, z, area = (np.concatenate([vars(faces)[name] for faces in inner]) for name in ("x", "z", "area"))
    group = np.concatenate([groups_of(section, faces) for faces in inner])
    per_kelvin = area / np.concatenate([np.full(len(faces.area), faces.film) for faces in inner])
    mean, swing = (
        np.concatenate([field.surface[faces.name] for faces in inner]) for field in (wave.mean, wave.swing)
    )
    down = np.maximum(section.grade[0].level - z, 0)
    inward = np.where(group == FLOOR, np.maximum(section.inner_face - x, 0), 0)
    return Surface(
        x=x,
        z=z,
        area=area,
        group=tuple(group.tolist()),
        exposure=down + inward,
        steady=mean,
        annual=swing,
        flow_steady=mean * per_kelvin,
        flow_annual=swing * per_kelvin,
    )


def groups_of(section: Section, faces: AirFaces) -> NDArray[np.str_]:
    """What inner faces belong to: ``floor``, ``wall`` or ``frame``.

    Parameters
    ----------
    section : Section
        The section.
    faces : AirFaces
        The faces.

    Returns
    -------
    ndarray of str, shape (k,)
        For each face its group.
    """
    up = faces.axis == 1 and faces.end is End.HIGH
    on_floor = up & (faces.z < section.floor + APART)
    return np.where(on_floor, FLOOR, np.where(faces.z < section.concrete_top + APART, WALL, FRAME))


@dataclass(frozen=True, eq=False)
class _Solved:
    """A section in cells with its solution and its inner surface."""

    assembled: Assembled
    wave: Wave
    surface: Surface


def _solved(assembled: Assembled) -> _Solved:
    wave = annual(assembled.body, unit_patches(assembled))
    return _Solved(assembled, wave, surface_of(assembled, wave))


def _corrected(coarse: _Solved, fine: _Solved) -> tuple[Surface, float]:
    """The fine surface nearer to the limit, and the error of its flows.

    Where halving the cells changes a value by d and the order is p, the limit is d/(2^p - 1) further on. Away from
    ends of foam the order is 2, and beside them lower, but they get smaller cells. Corrected by 0.4 d with a doubt of
    0.15 d, the limit is within for every order from 1.5 to 2.3.
    """
    parents, count = [], 0
    for before, after in zip(coarse.assembled.faces, fine.assembled.faces, strict=True):
        if after.inner:
            place = np.full(before.cells.shape, -1)
            place[before.cells] = count + np.arange(len(before.area))
            x, z = np.nonzero(after.cells)
            parents.append(place[x // 2, z // 2])
            count += len(before.area)
    parent = np.concatenate(parents)
    old, new = coarse.surface, fine.surface

    def corrected(before: Any, after: Any) -> Any:
        mean = np.zeros_like(before)
        np.add.at(mean, parent, after * new.area)
        return after + (CORRECTION * (mean / old.area - before))[parent]

    mean, swing = corrected(old.steady, new.steady), corrected(old.annual, new.annual)
    film = new.flow_steady / new.steady
    surface = replace(new, steady=mean, annual=swing, flow_steady=mean * film, flow_annual=swing * film)
    below = np.array(new.group) != FRAME
    changes = [
        abs(np.sum(last[which]) / np.sum(then[which]) - 1)
        for last, then in ((surface.flow_steady, new.flow_steady), (surface.flow_annual, new.flow_annual))
        for which in (below, np.full_like(below, True))
    ]
    return surface, DOUBT / CORRECTION * float(max(changes)) + FAR


def _respaced(solved: _Solved, points: Points, cells: float) -> Lines:
    """Lines for about so many cells, close where the heat of a solution turns."""
    mean, swing = solved.wave.mean, solved.wave.swing
    through = abs(solved.surface.flow_steady.sum()), abs(solved.surface.flow_annual.sum())
    # Far from the house the wave turns as well, but only where the steady heat does it matters to the inner surface.
    steady_part = turning(solved.assembled, mean, mean)
    both = turning(solved.assembled, mean, swing)
    along = [s / through[0] + b / through[1] for s, b in zip(steady_part, both, strict=True)]
    return respaced(solved.assembled.lines, (along[0].sum(axis=1), along[1].sum(axis=0)), points, cells)
