"""Where the heat of a section turns, which is where cells bring errors."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from foundation.heat.conduction import Field
from foundation.heat.sections.assemble import Assembled

Parts = tuple[NDArray[np.float64], NDArray[np.float64]]


def turning(assembled: Assembled, first: Field, second: Field) -> Parts:
    r"""What each cell brings to the error of a flow, by the change of flux across it.

    The flow through a body, for one kelvin, is the energy :math:`\int q^2/\lambda`. In a cell of width h it is counted
    as if each half had the flux of its own face, while the flux runs evenly from one face to the other: too much by
    :math:`h \, \Delta q^2 / 6 \lambda` of a face's area [derived]. For two fields it is the product of their changes.

    Parameters
    ----------
    assembled : Assembled
        The section in cells.
    first, second : Field
        Solutions with 0 inside and 1 outside.

    Returns
    -------
    tuple of ndarray, shapes of the grid
        What turns along x, and along z. [W/(m·K)]
    """
    grid, solid = assembled.grid, assembled.conductivity > 0
    conductivity = np.where(solid, assembled.conductivity, 1.0)
    along = []
    for axis in (0, 1):
        half = grid.width(axis) / 2 / conductivity
        one = _change(assembled, first, axis, half)
        other = one if second is first else _change(assembled, second, axis, half)
        along.append(np.abs(one * other) * half * grid.width(1 - axis) / 3)
    return along[0], along[1]


def _change(assembled: Assembled, field: Field, axis: int, half: NDArray[np.float64]) -> NDArray[Any]:
    """Flux into each cell through its two faces across an axis; `half` is the resistance of half a cell."""
    solid = assembled.conductivity > 0
    low, high = [slice(None)] * 2, [slice(None)] * 2
    low[axis], high[axis] = slice(None, -1), slice(1, None)
    here, there = tuple(low), tuple(high)
    value = np.where(solid, field.temperature, 0.0)
    flux = (value[here] - value[there]) / (half[here] + half[there])
    flux[~(solid[here] & solid[there])] = 0.0
    change = np.zeros_like(value)
    change[there] += flux
    change[here] -= flux
    for faces in assembled.faces:
        if faces.axis == axis:
            change[faces.cells] += (float(not faces.inner) - field.surface[faces.name]) / faces.film
    return change
