"""Frost cover of a finished stepping, checked again at every inch and without the optimiser's cells."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation.model.cover import Cover

Array = NDArray[np.float64]


def inch_stations(length: float) -> Array:
    """Stations an inch apart along a wall line, both ends included.

    Parameters
    ----------
    length : float
        Length of the line. [m]

    Returns
    -------
    ndarray, shape (n,)
        Stations. [m]
    """
    return np.linspace(0.0, length, int(np.ceil(length / 0.0254 - 1e-9)) + 1)


def bottom_at(station: Array, node: Array, bottom: Array) -> Array:
    """Bottom of footing at stations; at a step the higher of the two sides, whose cover is the lesser.

    Parameters
    ----------
    station : ndarray, shape (n,)
        Stations asked for. [m]
    node : ndarray, shape (c + 1,)
        Ends of the cells. [m]
    bottom : ndarray, shape (c,)
        Bottom of footing of the cells. [m]

    Returns
    -------
    ndarray, shape (n,)
        Bottom of footing. [m]
    """
    left = np.clip(np.searchsorted(node, station - 1e-9, side="right") - 1, 0, len(bottom) - 1)
    right = np.clip(np.searchsorted(node, station + 1e-9, side="right") - 1, 0, len(bottom) - 1)
    return np.maximum(bottom[left], bottom[right])


def frost_cover(
    station: Array, bottom: Array, measured_from: float, offset: Array, grade: Array, frost_depth: float
) -> Cover:
    """Frost cover straight down, and the way to the nearest air across the wall and along it.

    Parameters
    ----------
    station : ndarray, shape (n,)
        Evenly spaced stations along the wall line. [m]
    bottom : ndarray, shape (n,)
        Bottom of footing there. [m]
    measured_from : float
        Height above the bottom of footing that the frost depth is measured to: 0, or the footing's
        thickness. [m]
    offset : ndarray, shape (k,)
        Distances outward from the footing's outer edge, from 0. [m]
    grade : ndarray, shape (n, k)
        Lowest grade that counts at each station and offset, nan where there is no ground to speak of. [m]
    frost_depth : float
        Frost depth. [m]

    Returns
    -------
    Cover
        Straight down from the grade at the outer edge, and the least distance to the sampled grade surface.
    """
    level = bottom + measured_from
    straight = grade[:, 0] - level
    # Squared distance to the air over each sampled point of the section across the wall.
    rise = np.maximum(grade - level[:, None], 0.0)
    nearest = np.nanmin(
        np.where(np.isnan(grade), np.nan, rise**2 + offset[None, :] ** 2), axis=1, initial=np.inf
    )
    # Along the wall: ground that drops beside a run lets frost in from its end.
    spacing = station[1] - station[0] if len(station) > 1 else 1.0
    reach = int(np.ceil(np.nanmax(straight, initial=0.0) / spacing)) if len(station) > 1 else 0
    edge = grade[:, 0]
    for shift in range(1, min(reach, len(station) - 1) + 1):
        aside = (shift * spacing) ** 2
        forward = np.maximum(edge[shift:] - level[:-shift], 0.0) ** 2 + aside
        backward = np.maximum(edge[:-shift] - level[shift:], 0.0) ** 2 + aside
        nearest[:-shift] = np.fmin(nearest[:-shift], forward)
        nearest[shift:] = np.fmin(nearest[shift:], backward)
    allowance = side_frost_allowance(frost_depth, _steepness(station, offset, grade))
    return Cover(station, straight, np.sqrt(nearest), allowance, frost_depth)


def _steepness(station: Array, offset: Array, grade: Array) -> Array:
    """Slope of the grade, across and along, over a cover's length about each station. [-]"""
    across = np.zeros(len(station))
    if len(offset) > 1:
        far = np.where(np.isnan(grade), grade[:, :1], grade)[:, -1]
        across = np.nan_to_num((grade[:, 0] - far) / offset[-1])
    along = np.gradient(grade[:, 0], station) if len(station) > 1 else np.zeros(len(station))
    return np.hypot(across, np.nan_to_num(along))


def side_frost_allowance(frost_depth: float, steepness: Array) -> Array:
    """Least distance to the nearest air that passes on sloping ground.

    Straight cover over ground of an even slope leaves frost depth times the cosine of the slope across it; an
    inch is allowed for the roughness of grading.

    Parameters
    ----------
    frost_depth : float
        Frost depth. [m]
    steepness : ndarray, shape (n,)
        Slope of the grade, rise over run. [-]

    Returns
    -------
    ndarray, shape (n,)
        Least distance. [m]

    Notes
    -----
    Common practice, no source.
    """
    return frost_depth / np.hypot(1.0, steepness) - 0.0254
