"""Shapes grown and shrunk with square corners."""

from __future__ import annotations

from typing import Literal

import numpy as np
from shapely.geometry.base import BaseGeometry


def grown(shape: BaseGeometry, by: float, cap: Literal["round", "flat"] = "round") -> BaseGeometry:
    """Grow a shape, or shrink it.

    Parameters
    ----------
    shape : shapely geometry
        The shape.
    by : float
        How far; shrunk where it is negative. [m]
    cap : str
        How lines end.

    Returns
    -------
    shapely geometry
        The shape, with square corners.
    """
    # corners of nearly no length make the library divide by 0 on its way to a sound answer
    with np.errstate(divide="ignore", invalid="ignore"):
        return shape.buffer(by, cap_style=cap, join_style="mitre")
