"""Contour lines of a surface, for drawing the plan."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.site.surface import Surface

MOST_LEVELS = 500
"""More lines than that fill the paper: a typing error in the interval. [-]"""


def contour_lines(surface: Surface, interval: float) -> list[tuple[float, NDArray[np.float64]]]:
    """Contour lines at whole multiples of an interval.

    Parameters
    ----------
    surface : Surface
        The ground.
    interval : float
        Vertical distance between lines, > 0. [m]

    Returns
    -------
    list of tuple
        Level [m] and line, an ndarray of shape (k, 2) of east and north [m]; a closed line repeats its first
        point. Lowest level first.

    Raises
    ------
    ValueError
        If the interval is not positive, or gives more than ``MOST_LEVELS`` lines.

    Examples
    --------
    >>> points = np.array([[0.0, 0, 0.5], [9, 0, 0.5], [0, 9, 1.5]])
    >>> ground = Surface("existing", points, np.array([[0, 1, 2]]), ("1", "2", "3"))
    >>> [(level, line.tolist()) for level, line in contour_lines(ground, 1.0)]
    [(1.0, [[4.5, 4.5], [0.0, 4.5]])]
    """
    if not 0 < interval < np.inf:
        raise ValueError(f"contour interval is {interval} m; it must be finite and above 0 m.")
    low, high = float(surface.points[:, 2].min()), float(surface.points[:, 2].max())
    if (high - low) / interval > MOST_LEVELS:
        raise ValueError(
            f"contour interval is {interval} m; over {high - low:.2f} m of relief it must be at least "
            f"{(high - low) / MOST_LEVELS:.4f} m."
        )
    corner_level = surface.points[surface.triangles, 2]
    lowest, highest = corner_level.min(axis=1), corner_level.max(axis=1)
    lines = []
    for step in range(int(np.ceil(low / interval)), int(np.floor(high / interval)) + 1):
        level = step * interval
        # A corner at the level counts as above it, so that a crossed triangle has exactly two crossed sides.
        crossed = surface.triangles[(lowest < level) & (highest >= level)]
        if len(crossed):
            joined = shapely.line_merge(shapely.multilinestrings(_segments(surface.points, crossed, level)))
            lines += [(level, shapely.get_coordinates(line)) for line in shapely.get_parts(joined)]
    return lines


def _segments(
    points: NDArray[np.float64], triangles: NDArray[np.int64], level: float
) -> list[NDArray[np.float64]]:
    """Segment of the level in each crossed triangle, shape (k, 2, 2)."""
    # Ends in rising order: both triangles at an edge then find the very same point on it.
    ends = np.sort(np.stack([triangles, np.roll(triangles, -1, axis=1)], axis=-1), axis=-1)
    above = points[ends, 2] >= level
    start, end = points[ends[above[..., 0] != above[..., 1]]].reshape(-1, 2, 2, 3).transpose(2, 0, 1, 3)
    share = (level - start[..., 2]) / (end[..., 2] - start[..., 2])
    return list(start[..., :2] + share[..., None] * (end - start)[..., :2])
