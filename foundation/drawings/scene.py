"""A drawing as data: lines, areas and labels on named layers, in metres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]


@dataclass(frozen=True)
class Stroke:
    """A line.

    Attributes
    ----------
    layer : str
        Name of its layer.
    points : ndarray, shape (n, 2)
        Its nodes; nan breaks it. [m]
    name : str
        What it is, for the reader who points at it.
    hover : tuple of str
        What each node says when pointed at, lines apart by newlines; empty when none does.
    keys : tuple of str
        What a click on each node means to the page; empty when none does.
    """

    layer: str
    points: NDArray[np.float64]
    name: str = ""
    hover: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()


@dataclass(frozen=True)
class Area:
    """A filled area.

    Attributes
    ----------
    layer : str
        Name of its layer.
    points : ndarray, shape (n, 2)
        Its outline, closed by itself; nan ends one piece and begins the next. [m]
    name : str
        What it is.
    """

    layer: str
    points: NDArray[np.float64]
    name: str = ""


@dataclass(frozen=True)
class Label:
    """A text beside a place.

    Attributes
    ----------
    layer : str
        Name of its layer.
    text : str
        One line of text.
    at : tuple of float
        Where its anchor stands. [m]
    anchor : str
        Which point of the text stands there: ``left``, ``middle`` or ``right``; always at mid height.
    size : float
        Height of the type. [px]
    leader : tuple of float or None
        What it points to; a thin line leads there. [m]
    strong : bool
        True for the few that are read first.
    """

    layer: str
    text: str
    at: Point
    anchor: str = "middle"
    size: float = 13.0
    leader: Point | None = None
    strong: bool = False


@dataclass(frozen=True)
class Handle:
    """A box that the reader may drag on a screen; papers do not show it.

    Attributes
    ----------
    name : str
        What is dragged, such as ``step|C-D|3.2000``: the kind, the wall line, the station in metres.
    left, right, low, high : float
        Its sides. [m]
    """

    name: str
    left: float
    right: float
    low: float
    high: float


@dataclass(frozen=True)
class Scene:
    """A drawing.

    Attributes
    ----------
    title : str
        What it shows, as a finding.
    summary : str
        The same in words, for those who cannot see it.
    window : tuple of float
        Left, right, bottom and top of what is shown. [m]
    pixels_per_metre : float
        Horizontal scale that the labels were placed for. [px/m]
    stretch : float
        Vertical scale over horizontal; 1 is true shape. [-]
    strokes : tuple of Stroke
        Lines, in drawing order.
    areas : tuple of Area
        Areas, drawn below the lines.
    labels : tuple of Label
        Texts, drawn on top.
    handles : tuple of Handle
        What may be dragged on a screen.
    """

    title: str
    summary: str
    window: tuple[float, float, float, float]
    pixels_per_metre: float
    stretch: float = 1.0
    strokes: tuple[Stroke, ...] = field(default=())
    areas: tuple[Area, ...] = field(default=())
    labels: tuple[Label, ...] = field(default=())
    handles: tuple[Handle, ...] = field(default=())

    @property
    def width(self) -> float:
        """Width of the window at its scale. [px]"""
        return (self.window[1] - self.window[0]) * self.pixels_per_metre

    @property
    def height(self) -> float:
        """Height of the window at its scale. [px]"""
        return (self.window[3] - self.window[2]) * self.pixels_per_metre * self.stretch


def pieces(points: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """The unbroken pieces of a line or an area.

    Parameters
    ----------
    points : ndarray, shape (n, 2)
        Nodes, nan between pieces. [m]

    Returns
    -------
    list of ndarray
        Each piece's nodes. [m]
    """
    broken = ~np.isfinite(points).all(axis=1)
    cuts = np.flatnonzero(broken)
    found = [part[np.isfinite(part).all(axis=1)] for part in np.split(points, cuts)]
    return [part for part in found if len(part)]


def joined(parts: Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
    """Pieces as one line, nan between them.

    Parameters
    ----------
    parts : sequence of ndarray, each of shape (n, 2)
        The pieces. [m]

    Returns
    -------
    ndarray, shape (n, 2)
        All of them. [m]
    """
    gap = np.full((1, 2), np.nan)
    return np.vstack([row for part in parts for row in (part, gap)][:-1]) if parts else np.zeros((0, 2))
