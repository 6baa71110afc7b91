"""What conducts, stores and freezes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.heat.grid import Grid
from foundation.model.section import Material

FUSION = 334e3  # latent heat of water, Lange's Handbook [memory] [J/kg]
WATER_LESS_ICE = 4190.0 - 2100.0  # specific heats at 0 °C, same source [memory] [J/(kg·K)]


@dataclass(frozen=True)
class FreezingBody:
    """What conducts, stores and freezes. Every array is broadcast over the grid.

    Attributes
    ----------
    grid : Grid
        Its cells, in two dimensions.
    conductivity, frozen_conductivity : float or ndarray
        Of each cell above and below 0 °C; 0 where there is no material. [W/(m·K)]
    heat_capacity, frozen_heat_capacity : float or ndarray
        Volumetric, of each cell above and below 0 °C. [J/(m³·K)]
    latent_heat : float or ndarray
        Freed by each cell as it freezes, 0 for none. [J/m³]

    Raises
    ------
    ValueError
        If the grid has three axes, an array does not fit it, a value is not finite or below 0, or a cell with material
        has no conductivity or heat capacity in one state.
    """

    grid: Grid
    conductivity: float | NDArray[np.float64]
    frozen_conductivity: float | NDArray[np.float64]
    heat_capacity: float | NDArray[np.float64]
    frozen_heat_capacity: float | NDArray[np.float64]
    latent_heat: float | NDArray[np.float64]

    def __post_init__(self) -> None:
        if len(self.grid.shape) != 2:
            raise ValueError(f"The grid has {len(self.grid.shape)} axes; freezing takes 2.")
        solid = np.broadcast_to(np.asarray(self.conductivity) > 0, self.grid.shape)
        for name in list(vars(self))[1:]:
            values = np.asarray(getattr(self, name), dtype=float)
            title = name.replace("_", " ")
            self.grid.check_shape(values, title)
            if not np.all(np.isfinite(values)) or np.any(values < 0):
                raise ValueError(
                    f"The {title} goes from {values.min()} to {values.max()}; give numbers from 0."
                )
            if name != "latent_heat" and np.any(solid & (values == 0)):
                raise ValueError(f"A cell with material has {title} 0; give each one above 0.")
        if not solid.any():
            raise ValueError("No cell has a conductivity above 0; give the body a material.")


def freezing_body(grid: Grid, material: NDArray[np.intp], materials: Sequence[Material]) -> FreezingBody:
    """Give each cell its material.

    A frozen volume stores less by what its water stores less as ice; the water is known by its latent heat.

    Parameters
    ----------
    grid : Grid
        The cells.
    material : ndarray of int, shape of the grid
        Place of each cell's material in `materials`, -1 where there is none.
    materials : sequence of Material
        What the body is made of.

    Returns
    -------
    FreezingBody
        The body.

    Raises
    ------
    ValueError
        If a material has more latent heat than its heat capacity allows water for.
    """
    latent = np.array([one.latent_heat for one in materials])
    thawed = np.array([one.heat_capacity for one in materials])
    frozen = thawed - latent / FUSION * WATER_LESS_ICE
    for one, capacity in zip(materials, frozen, strict=True):
        if capacity <= 0:
            raise ValueError(
                f"{one.name} has a latent heat of {one.latent_heat:g} J/m³, more water than its heat capacity of "
                f"{one.heat_capacity:g} J/(m³·K) allows; give less of the one or more of the other."
            )
    conductivity = np.array([[one.conductivity, one.frozen_conductivity] for one in materials])

    def spread(values: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.where(material >= 0, values[material], 0.0)

    return FreezingBody(grid, *(spread(values) for values in (*conductivity.T, thawed, frozen, latent)))
