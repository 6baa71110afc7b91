"""Rectilinear grids, fine where asked and coarse far away."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

MICROMETRE = 1e-6  # grid lines closer than this are one [m]


def graded_lines(
    points: Sequence[float], spacing: Sequence[float], growth: float = 1.3
) -> NDArray[np.float64]:
    r"""Grid lines along one axis through every given point.

    Between points the lines are spread evenly in :math:`\int dx / h`, where the wanted size :math:`h` grows
    with the distance from every point, so that neighbouring cells differ by the growth at most.

    Parameters
    ----------
    points : sequence of float, length n
        Where a line must stand, rising. [m]
    spacing : sequence of float, length n
        Largest cell beside each point; infinity where the point asks for none. [m]
    growth : float
        Largest ratio of neighbouring cells between two points, > 1. [-]

    Returns
    -------
    ndarray, shape (m,)
        Grid lines, rising. [m]

    Raises
    ------
    ValueError
        If the points do not rise, or a spacing or the growth is out of range.

    Examples
    --------
    >>> graded_lines([0.0, 7.0], [1.0, np.inf], growth=2.0)
    array([0., 1., 3., 7.])
    """
    at, size = np.asarray(points, dtype=float), np.asarray(spacing, dtype=float)
    if at.ndim != 1 or len(at) < 2 or not np.all(np.isfinite(at)) or np.any(np.diff(at) < MICROMETRE):
        raise ValueError(f"points are {list(points)} m; give two or more rising numbers.")
    if size.shape != at.shape or not np.all(size > 0) or not np.any(np.isfinite(size)):
        raise ValueError(
            f"spacing is {list(spacing)} m; give one above 0 for each point, one of them finite."
        )
    if not 1 < growth < math.inf:
        raise ValueError(f"growth is {growth}; give a ratio above 1.")
    rate = math.log(growth)
    wanted = size * rate / (growth - 1)  # the first cell, grown over its own length, is then the spacing
    wanted = np.min(wanted + rate * np.abs(at[:, None] - at), axis=1)
    lines = [at[:1]]
    for start, stop, near, far in zip(at[:-1], at[1:], wanted[:-1], wanted[1:], strict=True):
        crest = (near + far + rate * (stop - start)) / 2
        rising, falling = math.log(crest / near) / rate, math.log(crest / far) / rate
        count = max(1, math.ceil(rising + falling - 1e-9))
        step = np.linspace(0, rising + falling, count + 1)[1:-1]
        from_start = start + near * np.expm1(rate * step) / rate
        from_stop = stop - far * np.expm1(rate * (rising + falling - step)) / rate
        lines += [np.where(step < rising, from_start, from_stop), np.array([stop])]
    return np.concatenate(lines)


@dataclass(frozen=True)
class Grid:
    """A rectilinear grid in two or three dimensions.

    Attributes
    ----------
    lines : tuple of ndarray, length 2 or 3
        Grid lines along each axis, rising. [m]

    Raises
    ------
    ValueError
        If there are not two or three axes of rising lines.
    """

    lines: tuple[NDArray[np.float64], ...]

    def __post_init__(self) -> None:
        if len(self.lines) not in (2, 3):
            raise ValueError(f"The grid has {len(self.lines)} axes; give 2 or 3.")
        for axis, lines in enumerate(self.lines):
            if np.ndim(lines) != 1 or len(lines) < 2 or not np.all(np.diff(lines) > 0):
                raise ValueError(f"The lines of axis {axis} do not rise; give two or more rising numbers.")

    @property
    def shape(self) -> tuple[int, ...]:
        """Number of cells along each axis [-]."""
        return tuple(len(lines) - 1 for lines in self.lines)

    @property
    def volume(self) -> NDArray[np.float64]:
        """Volume of each cell [m³]; in two dimensions for a metre of depth."""
        volume = np.ones(self.shape)
        for axis in range(len(self.lines)):
            volume = volume * self.width(axis)
        return volume

    def width(self, axis: int) -> NDArray[np.float64]:
        """Width of the cells along an axis.

        Parameters
        ----------
        axis : int
            The axis, from 0. [-]

        Returns
        -------
        ndarray, shape of the grid with 1 on the other axes
            Widths, ready to broadcast. [m]
        """
        return self._along(np.diff(self.lines[axis]), axis)

    def centre(self, axis: int) -> NDArray[np.float64]:
        """Centres of the cells along an axis.

        Parameters
        ----------
        axis : int
            The axis, from 0. [-]

        Returns
        -------
        ndarray, shape of the grid with 1 on the other axes
            Centres, ready to broadcast. [m]
        """
        return self._along((self.lines[axis][1:] + self.lines[axis][:-1]) / 2, axis)

    def inside(self, *spans: tuple[float, float]) -> NDArray[np.bool_]:
        """Cells inside a box.

        Parameters
        ----------
        *spans : tuple of float
            From and to along each axis, on grid lines; infinity for no limit. [m]

        Returns
        -------
        ndarray of bool, shape of the grid
            True in the box.

        Raises
        ------
        ValueError
            If a side of the box lies on no grid line: the cells would not have its size.
        """
        if len(spans) != len(self.lines):
            raise ValueError(f"The box has {len(spans)} spans; give {len(self.lines)}, one for each axis.")
        inside = np.ones(self.shape, dtype=bool)
        for axis, (lines, span) in enumerate(zip(self.lines, spans, strict=True)):
            for limit in span:
                if math.isnan(limit) or (
                    lines[0] < limit < lines[-1] and np.min(np.abs(lines - limit)) > MICROMETRE
                ):
                    raise ValueError(f"The box ends at {limit} m on axis {axis}; put a grid line there.")
            inside &= (self.centre(axis) > span[0]) & (self.centre(axis) < span[1])
        return inside

    def check_shape(self, values: Any, name: str) -> None:
        """Refuse an array that cannot be broadcast over the grid.

        Parameters
        ----------
        values : array_like
            The array.
        name : str
            What it is, for the sentence.

        Raises
        ------
        ValueError
            If it cannot.
        """
        try:
            np.broadcast_to(values, self.shape)
        except ValueError:
            raise ValueError(
                f"The {name} has shape {np.shape(values)}; give one that fits a grid of {self.shape} cells."
            ) from None

    def _along(self, values: NDArray[np.float64], axis: int) -> NDArray[np.float64]:
        shape = [1] * len(self.lines)
        shape[axis] = -1
        return values.reshape(shape)
