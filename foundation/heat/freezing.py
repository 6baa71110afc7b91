"""Freezing and thawing of ground over time, in two dimensions."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.heat.enthalpy import Course, Equations
from foundation.heat.freezing_body import FreezingBody
from foundation.heat.grid import Grid
from foundation.heat.patches import Patch


@dataclass(frozen=True, eq=False)
class Season:
    """What became of a freezing body; k times.

    Attributes
    ----------
    times : ndarray, shape (k,)
        When it was looked at, the start first. [s]
    temperature : ndarray, shape (k, ...) with that of the grid
        At the centre of each cell, not a number where there is no material. [°C]
    frozen : ndarray, shape (k, ...) with that of the grid
        Frozen share of each cell; where nothing freezes, 1 below 0 °C; 0 where there is no material. [-]
    most_frozen : ndarray, shape of the grid
        Largest frozen share of each cell after any step. [-]
    coldest : ndarray, shape of the grid
        Lowest temperature of each cell after any step. [°C]
    heat : dict of str to ndarray, shape (k,)
        Heat that came in through each patch since the start. [J/m]
    stored : ndarray, shape (k,)
        Enthalpy of the body above that at the start. [J/m]
    imbalance : float
        Heat that came in less heat stored, over half the sum of what went through the faces and in and out of store,
        or over what warms the body by a microkelvin where less than that moved. [-]
    steps : int
        Steps in time. [-]
    """

    times: NDArray[np.float64]
    temperature: NDArray[np.float64]
    frozen: NDArray[np.float64]
    most_frozen: NDArray[np.float64]
    coldest: NDArray[np.float64]
    heat: dict[str, NDArray[np.float64]]
    stored: NDArray[np.float64]
    imbalance: float
    steps: int


def frost_level(grid: Grid, frozen: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far down each column is frozen, the second axis of the grid looking up.

    Parameters
    ----------
    grid : Grid
        The cells.
    frozen : ndarray, shape of the grid
        Frozen share of each cell; what is frozen of the lowest one is taken to be its upper part. [-]

    Returns
    -------
    ndarray, shape (n,)
        Level of the lowest frost in each column, not a number where there is none. [m]

    Examples
    --------
    >>> grid = Grid((np.array([0.0, 1.0]), np.array([-2.0, -1.0, 0.0])))
    >>> frost_level(grid, np.array([[0.25, 1.0]]))
    array([-1.25])
    """
    lowest = np.argmax(frozen > 0, axis=1)
    share = np.take_along_axis(frozen, lowest[:, None], axis=1)[:, 0]
    top, height = grid.lines[1][1:][lowest], np.diff(grid.lines[1])[lowest]
    return np.where(share > 0, top - share * height, np.nan)


def freeze(
    body: FreezingBody,
    patches: Sequence[Patch],
    start: float | NDArray[np.float64],
    times: Sequence[float] | NDArray[np.float64],
    step: float,
    course: Mapping[str, Course] | None = None,
) -> Season:
    """Follow a body through freezing and thawing.

    Parameters
    ----------
    body : FreezingBody
        What conducts, stores and freezes.
    patches : sequence of Patch
        What lies against it; faces on no patch are adiabatic.
    start : float or ndarray, broadcast over the grid
        Temperature of each cell at the first time; at 0 °C it is thawed. [°C]
    times : sequence of float, length k
        The start, and when to look at the body, rising. [s]
    step : float
        Longest step in time, > 0; times are met by even steps. [s]
    course : mapping of str to callable, or None
        For a patch by its name, what its surrounding is at a time [s] in place of what the patch gives: the
        temperature of a film or a surface [°C], or a flux [W/m²]. A number or an array as in the patch.

    Returns
    -------
    Season
        What became of it.

    Raises
    ------
    ValueError
        If a patch does not fit, the times do not rise, the step is not positive, a temperature is not finite, or
        `course` names a patch that is not there.
    ArithmeticError
        If a step finds no balance.

    Examples
    --------
    >>> from foundation.heat.patches import End, Fixed
    >>> ground = FreezingBody(Grid((np.array([0.0, 1.0]), np.linspace(-2, 0, 21))), 1.5, 2.2, 3e6, 2.4e6, 1e8)
    >>> surface = Patch("surface", 1, End.HIGH, Fixed(-5.0))
    >>> season = freeze(ground, [surface], 4.0, [0.0, 30 * 86400.0], step=86400.0)
    >>> frost_level(ground.grid, season.frozen[-1]).round(2)
    array([-0.65])
    """
    at = np.asarray(times, dtype=float)
    if at.ndim != 1 or len(at) < 2 or not np.all(np.isfinite(at)) or np.any(np.diff(at) <= 0):
        raise ValueError(f"times are {list(times)} s; give two or more rising numbers.")
    if not 0 < step < math.inf:
        raise ValueError(f"step is {step} s; give a number above 0.")
    equations = Equations(body, patches, course or {})
    enthalpy = equations.enthalpy_of(start)
    seen = [enthalpy]
    most, least = equations.frozen(enthalpy), equations.temperature(enthalpy)
    heat = [np.zeros(len(equations.names))]
    come, moved, steps = np.zeros(len(equations.names)), 0.0, 0
    for since, until in zip(at[:-1], at[1:], strict=True):
        count = math.ceil((until - since) / step - 1e-9)
        for now in np.linspace(since, until, count + 1)[1:]:
            for taken in equations.advance(enthalpy, float(now), (until - since) / count):
                come = come + taken.heat
                moved += taken.moved
                enthalpy = taken.enthalpy
                most = np.maximum(most, equations.frozen(enthalpy))
                least = np.minimum(least, equations.temperature(enthalpy))
                steps += 1
        seen.append(enthalpy)
        heat.append(come)
    stored = np.array([np.sum(equations.volume * (one - seen[0])) for one in seen])
    return Season(
        times=at,
        temperature=np.array([equations.shaped(equations.temperature(one), np.nan) for one in seen]),
        frozen=np.array([equations.shaped(equations.frozen(one), 0.0) for one in seen]),
        most_frozen=equations.shaped(most, 0.0),
        coldest=equations.shaped(least, np.nan),
        heat=dict(zip(equations.names, np.array(heat).T, strict=True)),
        stored=stored,
        imbalance=float(
            abs(come.sum() - stored[-1]) / max(moved, 1e-6 * np.sum(equations.volume * equations.capacity[0]))
        ),
        steps=steps,
    )
