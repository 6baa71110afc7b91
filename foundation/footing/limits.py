"""What keeps a footing down: for each cell of a wall line, the highest level its bottom may have."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def cell_nodes(length: float, grid: float) -> Array:
    """Stations of the cells' ends along a wall line.

    Parameters
    ----------
    length : float
        Length of the line, > 0. [m]
    grid : float
        Spacing of the stations where a step may stand, > 0. [m]

    Returns
    -------
    ndarray, shape (n + 1,)
        Multiples of the grid from 0, then the length itself. [m]
    """
    inner = np.arange(1, int(np.floor(length / grid + 1e-9)) + 1) * grid
    return np.concatenate([[0.0], inner[inner < length - 1e-6], [length]])


def lowest_in_cells(station: Array, value: Array, node: Array) -> Array:
    """Lowest value that a piecewise-linear profile takes in each cell.

    Parameters
    ----------
    station : ndarray, shape (m,)
        Stations of the profile's nodes, increasing. [m]
    value : ndarray, shape (m,)
        Values there. [m]
    node : ndarray, shape (n + 1,)
        Stations of the cells' ends, increasing, inside the profile's. [m]

    Returns
    -------
    ndarray, shape (n,)
        The minimum over each closed cell, exact: a profile's minimum lies at a node of it or at a cell's end. [m]

    Examples
    --------
    >>> lowest_in_cells(np.array([0.0, 1.5, 3.0]), np.array([2.0, 1.0, 2.0]), np.array([0.0, 1.0, 2.0, 3.0]))
    array([1.33333333, 1.        , 1.33333333])
    """
    at_nodes = np.interp(node, station, value)
    lowest = np.minimum(at_nodes[:-1], at_nodes[1:])
    inside = (station > node[0]) & (station < node[-1])
    cell = np.searchsorted(node, station[inside], side="right") - 1
    np.minimum.at(lowest, cell, value[inside])
    return lowest


def frost_limit(grade: Array, frost_depth: float, footing_thickness: float, *, to_top: bool) -> Array:
    """Highest bottom of footing that keeps the frost depth below a grade.

    Parameters
    ----------
    grade : ndarray, shape (n,)
        Lowest grade that counts in each cell. [m]
    frost_depth : float
        Frost depth. [m]
    footing_thickness : float
        Thickness of the footing. [m]
    to_top : bool
        True where the office measures the depth to the top of the footing.

    Returns
    -------
    ndarray, shape (n,)
        Highest bottom of footing. [m]

    References
    ----------
    .. [1] IRC 2024 R403.1.4.1, read: below the frost line of the local table.
    """
    return grade - frost_depth - (footing_thickness if to_top else 0.0)


def floor_limit(slab_top: float, build_up: float, footing_thickness: float) -> float:
    """Highest bottom of footing that leaves room for what passes over the footing inside.

    Parameters
    ----------
    slab_top : float
        Level of the top of slab. [m]
    build_up : float
        Slab, foam and stone over the footing. [m]
    footing_thickness : float
        Thickness of the footing. [m]

    Returns
    -------
    float
        Highest bottom of footing. [m]
    """
    return slab_top - build_up - footing_thickness


def dig_limit(distance: Array, basement_bottom: float, clear: float, side_slope: float) -> Array:
    """Highest bottom of footing that still stands on undisturbed soil beside a deeper dig.

    Parameters
    ----------
    distance : ndarray, shape (n,)
        Distance from the deeper footing's wall face. [m]
    basement_bottom : float
        Bottom of the deeper footing. [m]
    clear : float
        From that wall's face to the foot of the dig's side: the footing's projection, the working room and what
        the dig may wander. [m]
    side_slope : float
        Rise over run of the dig's side. [-]

    Returns
    -------
    ndarray, shape (n,)
        Highest bottom of footing: the basement's own bottom across the floor of the dig, then up its side. [m]
    """
    return basement_bottom + np.maximum(0.0, distance - clear) * side_slope
