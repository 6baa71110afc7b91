"""Nouns of frost cover."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Cover:
    """Frost cover along a wall line.

    Attributes
    ----------
    station : ndarray, shape (n,)
        From the line's first corner. [m]
    straight_down : ndarray, shape (n,)
        Grade less the level that the frost depth is measured to. [m]
    nearest_air : ndarray, shape (n,)
        Distance from the footing's outer bottom edge to the nearest open air. [m]
    side_allowance : ndarray, shape (n,)
        Least distance to the nearest air that passes on a slope such as there. [m]
    frost_depth : float
        Frost depth that was asked for. [m]
    """

    station: NDArray[np.float64]
    straight_down: NDArray[np.float64]
    nearest_air: NDArray[np.float64]
    side_allowance: NDArray[np.float64]
    frost_depth: float
