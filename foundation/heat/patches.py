"""What lies against the outer faces of a conducting body."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray


class End(StrEnum):
    """Which end of an axis a face looks towards."""

    LOW = "low"
    """Towards the first grid line."""
    HIGH = "high"
    """Towards the last grid line."""


@dataclass(frozen=True)
class Film:
    """Air, or any other surrounding, behind a surface film.

    Attributes
    ----------
    coefficient : float
        Film coefficient, > 0; one over the surface resistance. [W/(m²·K)]
    temperature : float or ndarray, broadcast over the grid
        Temperature of the surrounding, over a wave its mean. [°C]
    swing : complex or ndarray, broadcast over the grid
        Complex amplitude of the surrounding about its mean. [K]

    Raises
    ------
    ValueError
        If the coefficient is not a positive number.
    """

    coefficient: float
    temperature: float | NDArray[np.float64]
    swing: complex | NDArray[np.complex128] = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.coefficient < math.inf:
            raise ValueError(f"The film coefficient is {self.coefficient} W/(m²·K); give a number above 0.")


@dataclass(frozen=True)
class Fixed:
    """A surface held at a temperature.

    Attributes
    ----------
    temperature : float or ndarray, broadcast over the grid
        Temperature of the surface, over a wave its mean. [°C]
    swing : complex or ndarray, broadcast over the grid
        Complex amplitude of the surface about its mean. [K]
    """

    temperature: float | NDArray[np.float64]
    swing: complex | NDArray[np.complex128] = 0.0


@dataclass(frozen=True)
class Flux:
    """A heat flux into the body; zero names an adiabatic face.

    Attributes
    ----------
    flux : float or ndarray, broadcast over the grid
        Flux into the body, over a wave its mean. [W/m²]
    swing : complex or ndarray, broadcast over the grid
        Complex amplitude of the flux about its mean. [W/m²]
    """

    flux: float | NDArray[np.float64]
    swing: complex | NDArray[np.complex128] = 0.0


@dataclass(frozen=True)
class Patch:
    """Outer faces that share a name and a surrounding. Faces on no patch are adiabatic.

    Attributes
    ----------
    name : str
        Name its heat flow goes by.
    axis : int
        Axis the faces stand across, from 0. [-]
    end : End
        Which way the faces look.
    surrounding : Film, Fixed or Flux
        What lies against them.
    cells : ndarray of bool, broadcast over the grid, or None
        Cells whose outer faces are meant; None for all of them.
    """

    name: str
    axis: int
    end: End
    surrounding: Film | Fixed | Flux
    cells: NDArray[np.bool_] | None = None


@dataclass(frozen=True)
class Faces:
    """The faces of one patch, ready for the equations; k faces.

    Attributes
    ----------
    cell : ndarray of int, shape (k,)
        Cell behind each face, counted through the grid. [-]
    area : ndarray, shape (k,)
        Area of each face. [m²]
    half : ndarray, shape (k,)
        Resistance from the cell's centre to the surface. [m²·K/W]
    conductance : ndarray, shape (k,)
        From the cell's centre to the surrounding; 0 for a flux. [W/K]
    level : ndarray, shape (k,)
        Temperature of the surrounding; 0 for a flux. [°C]
    swing : ndarray, shape (k,)
        Its complex amplitude; 0 for a flux. [K]
    given : ndarray, shape (k,)
        Flow into the body that does not depend on temperature. [W]
    given_swing : ndarray, shape (k,)
        Its complex amplitude. [W]
    """

    cell: NDArray[np.intp]
    area: NDArray[np.float64]
    half: NDArray[np.float64]
    conductance: NDArray[np.float64]
    level: NDArray[np.float64]
    swing: NDArray[np.complex128]
    given: NDArray[np.float64]
    given_swing: NDArray[np.complex128]


def outer_faces(
    patch: Patch,
    conductivity: NDArray[np.float64],
    width: NDArray[np.float64],
    volume: NDArray[np.float64],
) -> Faces:
    """Find the faces of a patch: those of its cells that look out of the grid or into a cell without material.

    Parameters
    ----------
    patch : Patch
        The patch.
    conductivity : ndarray, shape of the grid
        Conductivity of each cell, 0 where there is no material. [W/(m·K)]
    width : ndarray, broadcast over the grid
        Width of the cells along the patch's axis. [m]
    volume : ndarray, shape of the grid
        Volume of the cells. [m³]

    Returns
    -------
    Faces
        Its faces.

    Raises
    ------
    ValueError
        If the patch has no faces, or a value in it is not finite.
    """
    solid = conductivity > 0
    beyond = np.zeros_like(solid)
    inner, outer = [slice(None)] * solid.ndim, [slice(None)] * solid.ndim
    inner[patch.axis], outer[patch.axis] = slice(None, -1), slice(1, None)
    if patch.end == End.LOW:
        inner, outer = outer, inner
    beyond[tuple(inner)] = solid[tuple(outer)]
    mask = solid & ~beyond
    if patch.cells is not None:
        mask &= patch.cells
    if not mask.any():
        raise ValueError(f"Patch {patch.name} covers no outer face; check its axis, its end and its cells.")

    def values(given: Any) -> NDArray[Any]:
        chosen = np.broadcast_to(given, solid.shape)[mask]
        if not np.all(np.isfinite(chosen)):
            raise ValueError(f"Patch {patch.name} has a value that is not finite; give numbers.")
        return chosen

    area = (volume / width)[mask]
    half = (width / 2 / np.where(solid, conductivity, 1.0))[mask]
    nothing = np.zeros(len(area))
    around = patch.surrounding
    if isinstance(around, Flux):
        conductance, level, swing = nothing, nothing, nothing.astype(complex)
        given, given_swing = area * values(around.flux), area * values(around.swing).astype(complex)
    else:
        film = 1 / around.coefficient if isinstance(around, Film) else 0.0
        conductance = area / (half + film)
        level, swing = values(around.temperature).astype(float), values(around.swing).astype(complex)
        given, given_swing = nothing, nothing.astype(complex)
    cell = np.flatnonzero(mask)
    return Faces(cell, area, half, conductance, level, swing, given, given_swing)
