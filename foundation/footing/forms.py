"""Which wall heights whole form panels make."""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

SIXTEENTH = 0.0254 / 16
"""Heights closer than this are the same height. [m]"""


def panel_heights(panels: Sequence[float], highest: float) -> NDArray[np.float64]:
    """Heights that whole panels stack to.

    Parameters
    ----------
    panels : sequence of float
        Panel heights, each > 0. [m]
    highest : float
        Tallest stack asked for. [m]

    Returns
    -------
    ndarray, shape (k,)
        Every height that a stack of panels has, to a sixteenth of an inch, increasing. [m]

    Raises
    ------
    ValueError
        If a panel height is not positive.
    """
    if any(panel < SIXTEENTH for panel in panels):
        raise ValueError(f"panel height {min(panels)} m: must be more than 1/16 in.")
    units = tuple(sorted({round(panel / SIXTEENTH) for panel in panels}))
    return np.array(_reachable(units, math.floor(highest / SIXTEENTH + 0.5))) * SIXTEENTH


@functools.lru_cache(maxsize=8)
def _reachable(units: tuple[int, ...], highest: int) -> tuple[int, ...]:
    """Every sum of units up to the highest, 0 left out."""
    reachable = [True] + [False] * highest
    for height in range(units[0], highest + 1):
        reachable[height] = any(height >= unit and reachable[height - unit] for unit in units)
    return tuple(height for height in range(1, highest + 1) if reachable[height])


def needs_filler(height: NDArray[np.float64], stacks: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether a wall of this height needs a filler beside whole panels.

    Parameters
    ----------
    height : ndarray
        Wall heights. [m]
    stacks : ndarray, shape (k,)
        Heights that whole panels stack to, increasing. [m]

    Returns
    -------
    ndarray of bool
        True where no stack comes within a sixteenth of an inch; never for a wall of no height.
    """
    if not len(stacks):
        return height > SIXTEENTH
    after = (
        np.clip(np.searchsorted(stacks, height), 1, len(stacks) - 1)
        if len(stacks) > 1
        else np.zeros_like(height, int)
    )
    near = np.minimum(np.abs(stacks[after] - height), np.abs(stacks[after - 1] - height))
    return (near > SIXTEENTH) & (height > SIXTEENTH)
