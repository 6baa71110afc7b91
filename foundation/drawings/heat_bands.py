"""Bands and lines of equal temperature from the cells of a section, up to the edges of what is solid."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from contourpy import FillType, LineType, contour_generator
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foundation.model.heat import Picture

Array = NDArray[np.float64]
Window = tuple[float, float, float, float]

YEAR = 365.0
"""Length of the wave. [d]"""


@dataclass(frozen=True, eq=False)
class Cells:
    """Temperatures of the cells in a window.

    Attributes
    ----------
    x, z : ndarray, shapes (m,) and (n,)
        Middles of the cells. [m]
    x_edges, z_edges : ndarray, shapes (m + 1,) and (n + 1,)
        Grid lines. [m]
    temperature : ndarray, shape (m, n)
        Not a number in the air. [°C]
    """

    x: Array
    z: Array
    x_edges: Array
    z_edges: Array
    temperature: Array


def temperatures(picture: Picture, inside: float, mean: float, amplitude: float, day: float) -> Array:
    """Temperatures over the grid on a day.

    Parameters
    ----------
    picture : Picture
        Factors over the grid.
    inside, mean : float
        Inner air, and yearly mean of the outer air. [°C]
    amplitude : float
        Of the outer air's yearly wave. [K]
    day : float
        Days after the coldest day. [d]

    Returns
    -------
    ndarray, shape (m, n)
        Not a number in the air. [°C]
    """
    wave = (picture.annual * np.exp(2j * math.pi * day / YEAR)).real
    field: Array = inside + picture.steady * (mean - inside) - amplitude * wave
    return field


def cells_in(picture: Picture, temperature: Array, window: Window) -> Cells:
    """The cells that touch a window.

    Parameters
    ----------
    picture : Picture
        The grid.
    temperature : ndarray, shape (m, n)
        Temperatures of its cells. [°C]
    window : tuple of float
        Left, right, bottom and top. [m]

    Returns
    -------
    Cells
        With one more cell around, where the grid has one.
    """
    spans = []
    for lines, low, high in ((picture.x, *window[:2]), (picture.z, *window[2:])):
        first = max(int(np.searchsorted(lines, low, "right")) - 2, 0)
        last = min(int(np.searchsorted(lines, high, "left")) + 1, len(lines) - 1)
        spans.append(slice(first, last))
    x_edges = picture.x[spans[0].start : spans[0].stop + 1]
    z_edges = picture.z[spans[1].start : spans[1].stop + 1]
    x, z = (x_edges[1:] + x_edges[:-1]) / 2, (z_edges[1:] + z_edges[:-1]) / 2
    return Cells(x, z, x_edges, z_edges, temperature[spans[0], spans[1]])


def solid(cells: Cells, window: Window) -> BaseGeometry:
    """What is not air.

    Parameters
    ----------
    cells : Cells
        The cells.
    window : tuple of float
        Left, right, bottom and top. [m]

    Returns
    -------
    shapely geometry
        Within the window.
    """
    known = np.isfinite(cells.temperature)
    edge = np.zeros((len(known), 1), bool)
    starts = np.diff(np.hstack([edge, known, edge]).astype(int), axis=1)
    # Every column's runs of solid cells, one box each.
    column, first = np.nonzero(starts == 1)
    _, last = np.nonzero(starts == -1)
    boxes = shapely.box(
        cells.x_edges[column], cells.z_edges[first], cells.x_edges[column + 1], cells.z_edges[last]
    )
    return shapely.union_all(boxes).intersection(shapely.box(window[0], window[2], window[1], window[3]))


def extended(cells: Cells) -> Cells:
    """Temperatures carried on into the air and past the grid's ends, so that lines reach the edges of the solid.

    Parameters
    ----------
    cells : Cells
        Cells with air among them.

    Returns
    -------
    Cells
        Cells whose air next to the solid has the temperature that the solid would have there.
    """
    field = cells.temperature
    for _ in range(2):  # the second time for corners, which touch only what the first has filled
        field = _carried_on(field, cells.x, cells.z)
    return Cells(
        np.concatenate([cells.x_edges[:1], cells.x, cells.x_edges[-1:]]),
        np.concatenate([cells.z_edges[:1], cells.z, cells.z_edges[-1:]]),
        cells.x_edges,
        cells.z_edges,
        np.pad(field, 1, mode="edge"),
    )


def _carried_on(field: Array, x: Array, z: Array) -> Array:
    """Unknown cells beside known ones, on the straight line through the two next to them."""
    total, count = np.zeros_like(field), np.zeros_like(field)
    for axis, middles in ((0, x), (1, z)):
        moved = np.moveaxis(field, axis, 0)
        sums, found = np.moveaxis(total, axis, 0), np.moveaxis(count, axis, 0)
        for way in (1, -1):
            f, m = moved[::way], middles[::way]
            near, far = np.full_like(f, np.nan), np.full_like(f, np.nan)
            near[1:], far[2:] = f[:-1], f[:-2]
            slope = np.zeros_like(f)
            reach = np.abs((m[2:] - m[1:-1]) / (m[1:-1] - m[:-2]))
            slope[2:] = (near[2:] - far[2:]) * reach.reshape(-1, 1)
            value = near + np.where(np.isfinite(slope), slope, 0.0)
            use = np.isfinite(value) & ~np.isfinite(f)
            sums[::way][use] += value[use]
            found[::way][use] += 1
    with np.errstate(invalid="ignore"):
        return np.where(np.isfinite(field), field, np.where(count > 0, total / count, np.nan))


def bands(cells: Cells, levels: Sequence[float], body: BaseGeometry, least: float) -> list[BaseGeometry]:
    """Areas between levels.

    Parameters
    ----------
    cells : Cells
        Extended cells.
    levels : sequence of float
        Rising. [°C]
    body : shapely geometry
        What is solid.
    least : float
        Details smaller than this are left out. [m]

    Returns
    -------
    list of shapely geometry
        One for each pair of neighbouring levels.
    """
    shapely.prepare(body)
    contours = _contours(cells)
    found = []
    for low, high in itertools.pairwise(levels):
        points, offsets = contours.filled(low, high)
        shapes = []
        for nodes, cuts in zip(points, offsets, strict=True):
            rings = [nodes[a:b] for a, b in itertools.pairwise(cuts)]
            shapes.append(shapely.Polygon(rings[0], rings[1:]))
        shape = shapely.make_valid(shapely.simplify(shapely.MultiPolygon(shapes), least))
        found.append(shapely.intersection(shape, body))
    return found


def isotherm(cells: Cells, level: float, body: BaseGeometry, least: float) -> BaseGeometry:
    """The line of one temperature.

    Parameters
    ----------
    cells : Cells
        Extended cells.
    level : float
        The temperature. [°C]
    body : shapely geometry
        What is solid.
    least : float
        Details smaller than this are left out. [m]

    Returns
    -------
    shapely geometry
        Its pieces.
    """
    lines = [shapely.LineString(line) for line in _contours(cells).lines(level) if len(line) > 1]
    return shapely.simplify(shapely.intersection(shapely.MultiLineString(lines), body), least)


def _contours(cells: Cells):  # type: ignore[no-untyped-def]
    return contour_generator(
        cells.x,
        cells.z,
        np.ma.masked_invalid(cells.temperature.T),
        line_type=LineType.Separate,
        fill_type=FillType.OuterOffset,
    )
