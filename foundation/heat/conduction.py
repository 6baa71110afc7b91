"""Heat conduction by cell-centred finite volumes: two and three dimensions, steady and over a year.

The conductance between two cells is that of their halves in series, so layers lie exactly on grid lines. Flows
converge with the square of the cell where faces have films (times a logarithm beside a jump of the air), and with the
cell itself beside the edge of a patch of fixed temperature, where the exact flux has no bound.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage, sparse

from foundation.heat.exact import YEAR
from foundation.heat.grid import Grid
from foundation.heat.linear import SymmetricSolver
from foundation.heat.patches import Faces, Patch, outer_faces


@dataclass(frozen=True)
class Body:
    """What conducts. Every array is broadcast over the grid.

    Attributes
    ----------
    grid : Grid
        Its cells.
    conductivity : float or ndarray
        Conductivity of each cell; 0 where there is no material, such as the air of a basement. [W/(m·K)]
    heat_capacity : float or ndarray
        Volumetric heat capacity of each cell, for waves alone. [J/(m³·K)]
    source : float or ndarray
        Heat made inside each cell, steady. [W/m³]

    Raises
    ------
    ValueError
        If an array does not fit the grid, a value is not finite, or a conductivity or heat capacity is below 0.
    """

    grid: Grid
    conductivity: float | NDArray[np.float64]
    heat_capacity: float | NDArray[np.float64] = 0.0
    source: float | NDArray[np.float64] = 0.0

    def __post_init__(self) -> None:
        for name in ("conductivity", "heat_capacity", "source"):
            values = np.asarray(getattr(self, name), dtype=float)
            self.grid.check_shape(values, name)
            if not np.all(np.isfinite(values)) or (name != "source" and np.any(values < 0)):
                raise ValueError(
                    f"The {name} goes from {values.min()} to {values.max()}; give numbers from 0."
                )
        if not np.any(np.asarray(self.conductivity) > 0):
            raise ValueError("No cell has a conductivity above 0; give the body a material.")


@dataclass(frozen=True)
class Field:
    """Temperatures and the flows that go with them: real when steady, complex amplitudes of a wave.

    Attributes
    ----------
    temperature : ndarray, shape of the grid
        At the centre of each cell, not a number where there is no material. [°C], of a wave [K]
    surface : dict of str to ndarray
        Temperature of the surface of each patch, face by face in the order of its cells. [°C], of a wave [K]
    flow : dict of str to float or complex
        Heat flow into the body through each patch. [W], in two dimensions [W/m]
    imbalance : float
        Flows in, less heat stored, over the largest sum of flows of one sign. [-]
    """

    temperature: NDArray[Any]
    surface: dict[str, NDArray[Any]]
    flow: dict[str, Any]
    imbalance: float


@dataclass(frozen=True)
class Wave:
    r"""A mean and a sine about it, :math:`\bar T + \Re(\hat T e^{2 \pi i t / P})`.

    Attributes
    ----------
    mean : Field
        The mean over a period.
    swing : Field
        Complex amplitudes about it.
    period : float
        Period P. [s]
    """

    mean: Field
    swing: Field
    period: float

    def temperature(self, time: float) -> NDArray[np.float64]:
        """Temperatures at one time.

        Parameters
        ----------
        time : float
            Time t, on the clock of the swings. [s]

        Returns
        -------
        ndarray, shape of the grid
            At the centre of each cell. [°C]
        """
        return self.mean.temperature + np.real(self.swing.temperature * self._turn(time))

    def flow(self, name: str, time: float) -> float:
        """Heat flow into the body through one patch at one time.

        Parameters
        ----------
        name : str
            Name of the patch.
        time : float
            Time t, on the clock of the swings. [s]

        Returns
        -------
        float
            Flow. [W], in two dimensions [W/m]
        """
        return float(self.mean.flow[name] + np.real(self.swing.flow[name] * self._turn(time)))

    def _turn(self, time: float) -> complex:
        return complex(np.exp(2j * math.pi * time / self.period))


def steady(body: Body, patches: Sequence[Patch]) -> Field:
    """Solve for the steady temperatures of a body.

    Parameters
    ----------
    body : Body
        What conducts.
    patches : sequence of Patch
        What lies against it; faces on no patch are adiabatic.

    Returns
    -------
    Field
        Temperatures, flows and their balance.

    Raises
    ------
    ValueError
        If a patch covers no outer face, two share a face or a name, or a part of the body meets no
        temperature.

    Examples
    --------
    >>> from foundation.heat.grid import Grid
    >>> from foundation.heat.patches import End, Film, Fixed
    >>> wall = Body(Grid((np.linspace(0, 0.3, 4), np.array([0.0, 1.0]))), conductivity=0.6)
    >>> warm = Patch("warm", 0, End.LOW, Film(8.0, 20.0))
    >>> cold = Patch("cold", 0, End.HIGH, Fixed(0.0))
    >>> round(steady(wall, [warm, cold]).flow["warm"], 9)
    32.0
    """
    return _System(body, patches).mean()


def annual(body: Body, patches: Sequence[Patch], period: float = YEAR) -> Wave:
    """Solve for the mean and the sine wave about it, once the start is forgotten.

    Parameters
    ----------
    body : Body
        What conducts and stores; its source is steady.
    patches : sequence of Patch
        What lies against it; faces on no patch are adiabatic.
    period : float
        Period of the wave, > 0. [s]

    Returns
    -------
    Wave
        Mean and complex amplitudes.

    Raises
    ------
    ValueError
        If the period is not positive, a cell with material stores no heat, or `steady` would complain.
    """
    if not 0 < period < math.inf:
        raise ValueError(f"The period is {period} s; give a number above 0.")
    system = _System(body, patches)
    return Wave(system.mean(), system.wave(2 * math.pi / period), period)


class _System:
    """The equations of a body over its cells with material."""

    def __init__(self, body: Body, patches: Sequence[Patch]) -> None:
        grid = self.grid = body.grid
        self.conductivity = np.broadcast_to(np.asarray(body.conductivity, dtype=float), grid.shape)
        volume = grid.volume
        self.solid = np.flatnonzero(self.conductivity > 0)
        self.place = np.full(volume.size, -1, dtype=np.int32)
        self.place[self.solid] = np.arange(len(self.solid))
        self.store = (volume * body.heat_capacity).ravel()[self.solid]
        self.source = (volume * body.source).ravel()[self.solid]
        self.faces = faces_of(grid, self.conductivity, patches)
        self.matrix, self.diagonal = self._matrix(self._held())
        self.solver = SymmetricSolver(len(grid.shape))

    def mean(self) -> Field:
        levels = np.concatenate([f.level[f.conductance > 0] for f in self.faces.values()])
        # About a temperature amid the given ones the equations lose fewer digits, and an even body none.
        about = float(levels.min() + levels.max()) / 2
        return self._solve(
            lambda f: (f.level - about * (f.conductance > 0), f.given), self.source, 0.0, about
        )

    def wave(self, frequency: float) -> Field:
        if np.any(self.store <= 0):
            raise ValueError("A cell with material has no heat capacity; give each one above 0 for a wave.")
        still = np.zeros_like(self.source)
        return self._solve(lambda f: (f.swing, f.given_swing), still, 1j * frequency, 0.0)

    def _solve(
        self,
        drive: Callable[[Faces], tuple[NDArray[Any], NDArray[Any]]],
        source: NDArray[np.float64],
        rate: complex,
        about: float,
    ) -> Field:
        storing = rate * self.store
        right = source.astype(storing.dtype)
        for faces in self.faces.values():
            level, given = drive(faces)
            np.add.at(right, self.place[faces.cell], faces.conductance * level + given)
        values = self.matrix.data.astype(storing.dtype)
        values[self.diagonal] += storing
        matrix = sparse.csc_array((values, self.matrix.indices, self.matrix.indptr), self.matrix.shape)
        answer = self.solver.solve(matrix, right)
        surface, flow = {}, {}
        parts = [source, -storing * answer]
        for name, faces in self.faces.items():
            level, given = drive(faces)
            cell = answer[self.place[faces.cell]]
            through = faces.conductance * (level - cell) + given
            surface[name] = about + cell + through * faces.half / faces.area
            flow[name] = through.sum().item()
            parts.append(through)
        temperature = np.full(self.place.shape, np.nan, dtype=answer.dtype)
        temperature[self.solid] = about + answer
        shaped = temperature.reshape(self.grid.shape)
        return Field(shaped, surface, flow, _imbalance(np.concatenate(parts)))

    def _held(self) -> NDArray[np.float64]:
        """Conductance from each cell to the surroundings, somewhere in every part of the body."""
        held = np.zeros(len(self.solid))
        for faces in self.faces.values():
            np.add.at(held, self.place[faces.cell], faces.conductance)
        part, parts = ndimage.label(self.conductivity > 0)
        meets = np.zeros(parts + 1, dtype=bool)
        meets[part.ravel()[self.solid[held > 0]]] = True
        if not meets[1:].all():
            raise ValueError(
                "A part of the body meets no temperature; give it a face with a film or a fixed temperature."
            )
        return held

    def _matrix(self, held: NDArray[np.float64]) -> tuple[Any, NDArray[np.intp]]:
        """The matrix, by columns, and where its diagonal stands among its values."""
        axes, count = len(self.grid.shape), len(self.solid)
        place = self.place.reshape(self.grid.shape)
        # A row for each cell: its neighbours before along each axis, itself, those after, in the order of their places.
        columns = np.zeros((count, 2 * axes + 1), dtype=np.int32)
        values = np.zeros((count, 2 * axes + 1))
        columns[:, axes], values[:, axes] = np.arange(count), held
        for axis, link in enumerate(links(self.grid, self.conductivity)):
            low, high = neighbours(axes, axis)
            for slot, here, there in ((axis, high, low), (2 * axes - axis, low, high)):
                through, beside = np.zeros(place.shape), np.zeros(place.shape, dtype=np.int32)
                through[here], beside[here] = link, place[there]
                values[:, slot], columns[:, slot] = -through.ravel()[self.solid], beside.ravel()[self.solid]
                values[:, axes] -= values[:, slot]
        kept = values != 0
        starts = np.concatenate([[0], np.cumsum(np.count_nonzero(kept, axis=1), dtype=np.int32)])
        diagonal = starts[:-1] + np.count_nonzero(kept[:, :axes], axis=1)
        matrix = sparse.csc_array((values[kept], columns[kept], starts.astype(np.int32)), (count, count))
        return matrix, diagonal


def faces_of(grid: Grid, conductivity: NDArray[np.float64], patches: Sequence[Patch]) -> dict[str, Faces]:
    """Find the faces of all patches.

    Parameters
    ----------
    grid : Grid
        The cells.
    conductivity : ndarray, shape of the grid
        Conductivity of each cell, 0 where there is no material. [W/(m·K)]
    patches : sequence of Patch
        The patches.

    Returns
    -------
    dict of str to Faces
        Faces by the name of their patch.

    Raises
    ------
    ValueError
        If a patch covers no outer face or does not fit the grid, or two share a face or a name.
    """
    volume = grid.volume
    found: dict[str, Faces] = {}
    taken: dict[tuple[int, str], NDArray[np.intp]] = {}
    for patch in patches:
        if patch.name in found:
            raise ValueError(f"Two patches are named {patch.name}; give each its own name.")
        if not 0 <= patch.axis < volume.ndim:
            raise ValueError(f"Patch {patch.name} is on axis {patch.axis}; give 0 to {volume.ndim - 1}.")
        for values in (patch.cells, *vars(patch.surrounding).values()):
            grid.check_shape(values, f"patch {patch.name}")
        faces = outer_faces(patch, conductivity, grid.width(patch.axis), volume)
        side = (patch.axis, str(patch.end))
        before = taken.get(side, faces.cell[:0])
        if np.isin(faces.cell, before).any():
            raise ValueError(f"Patch {patch.name} covers faces of another patch; give each face one.")
        taken[side] = np.concatenate([before, faces.cell])
        found[patch.name] = faces
    return found


def neighbours(axes: int, axis: int) -> tuple[tuple[slice, ...], tuple[slice, ...]]:
    """Slices of a grid that set each cell beside the next one along an axis.

    Parameters
    ----------
    axes : int
        Axes of the grid, 2 or 3. [-]
    axis : int
        The axis, from 0. [-]

    Returns
    -------
    tuple of tuple of slice
        Cells with a next one, and their next ones.
    """
    low, high = [slice(None)] * axes, [slice(None)] * axes
    low[axis], high[axis] = slice(None, -1), slice(1, None)
    return tuple(low), tuple(high)


def links(grid: Grid, conductivity: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Conductance from each cell to the next one along each axis.

    Parameters
    ----------
    grid : Grid
        The cells.
    conductivity : ndarray, shape of the grid
        Conductivity of each cell, 0 where there is no material. [W/(m·K)]

    Returns
    -------
    list of ndarray
        For each axis, with one less along it; 0 where a cell has no material. [W/K]
    """
    volume, solid = grid.volume, conductivity > 0
    specific = 1 / np.where(solid, conductivity, 1.0)
    found = []
    for axis in range(volume.ndim):
        low, high = neighbours(volume.ndim, axis)
        half = specific * (grid.width(axis) / 2)
        area = (volume / grid.width(axis))[low]
        found.append(np.where(solid[low] & solid[high], area / (half[low] + half[high]), 0.0))
    return found


def _imbalance(flows: NDArray[Any]) -> float:
    """What is left of the flows into a body, over what passes through it."""
    passing = np.abs(flows).sum() / 2
    return float(abs(flows.sum()) / passing) if passing > 0 else 0.0
