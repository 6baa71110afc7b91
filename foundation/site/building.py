"""The building's outline in plan: where it stands there is no finished ground."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.model.problem import Problem
from foundation.site.places import SAME_PLACE
from foundation.site.words import SiteError


@dataclass(frozen=True)
class Outline:
    """What the parts of the building cover together.

    Attributes
    ----------
    area : shapely geometry
        The covered area. [m]
    rings : tuple of ndarray, shape (k, 2)
        Its edges, outer and inner: east and north of each corner, once. [m]
    names : tuple of tuple of str
        Name of each corner of each ring; "" where two walls cross without one.
    """

    area: shapely.Geometry
    rings: tuple[NDArray[np.float64], ...]
    names: tuple[tuple[str, ...], ...]


def outline(corners: Mapping[str, tuple[float, float]], parts: Sequence[Sequence[str]]) -> Outline:
    """Union of the building's parts.

    Parameters
    ----------
    corners : mapping of str to tuple of float
        East and north of each named corner. [m]
    parts : sequence of sequence of str
        Corners of each part in order around it; the last joins the first.

    Returns
    -------
    Outline
        Area and rings, every named corner exactly where it was typed.

    Raises
    ------
    KeyError
        If a part names an unknown corner.
    SiteError
        If a part's walls cross each other or enclose nothing.

    Examples
    --------
    >>> corners = {"A": (0.0, 0.0), "B": (4.0, 0.0), "C": (4.0, 3.0), "D": (0.0, 3.0)}
    >>> outline(corners, [("A", "B", "C", "D")]).area.area
    12.0
    """
    unknown = [(corner, part) for part in parts for corner in part if corner not in corners]
    if unknown:
        corner, part = unknown[0]
        raise KeyError(
            f"Corner {corner} of part {'-'.join(part)} is unknown; known are {', '.join(corners)}."
        )
    used = {corner: corners[corner] for part in parts for corner in part}
    polygons = []
    for part in parts:
        polygon = shapely.Polygon(_ring(part, used)) if len(part) > 2 else shapely.Polygon()
        if not polygon.is_valid or not polygon.area > 0:
            ring = "-".join(part)
            sentence = (
                f"Part {ring}: its walls cross or enclose nothing; give its corners in order around it."
            )
            raise SiteError(Problem(f"part {ring}", ring, sentence))
        polygons.append(polygon)
    area = shapely.union_all(polygons)
    name_at = {place: name for name, place in used.items()}
    rings = [
        shapely.get_coordinates(ring)[:-1]
        for polygon in shapely.get_parts(area)
        for ring in (polygon.exterior, *polygon.interiors)
    ]
    names = [tuple(name_at.get((east, north), "") for east, north in ring.tolist()) for ring in rings]
    return Outline(area, tuple(rings), tuple(names))


def _ring(part: Sequence[str], used: Mapping[str, tuple[float, float]]) -> list[tuple[float, float]]:
    """Corners around a part, with every other corner that stands on its walls.

    Walls that two parts share then run through the same corners, so that no crack stays between the parts.
    """
    ring = list[tuple[float, float]]()
    for name, following in zip(part, (*part[1:], part[0]), strict=True):
        start, end = np.array(used[name]), np.array(used[following])
        length = float(np.hypot(*(end - start)))
        on_wall = []
        for other in used:
            reach = np.array(used[other]) - start
            along = float(reach @ (end - start)) / length if length else 0.0
            off = float(np.hypot(*(reach - along * (end - start) / length))) if length else np.inf
            if (
                other not in (name, following)
                and off <= SAME_PLACE
                and SAME_PLACE < along < length - SAME_PLACE
            ):
                on_wall.append((along, used[other]))
        ring += [used[name], *(place for _, place in sorted(on_wall))]
    return ring
