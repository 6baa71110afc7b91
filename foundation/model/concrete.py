"""Nouns of the walls that stand on the footings: pieces, forms, openings, ledges, fill and bare concrete."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Opening:
    """A hole or a notch in a wall: a door, a window, an overhead door, a beam pocket, a sleeve.

    Attributes
    ----------
    name : str
        What it is called on the drawings.
    kind : str
        ``door``, ``window``, ``overhead door``, ``beam pocket`` or ``sleeve``.
    line : str
        Name of the wall line it is in.
    start, end : float
        Stations of its sides. [m]
    bottom, top : float
        Levels of its lower and upper edge. [m]
    """

    name: str
    kind: str
    line: str
    start: float
    end: float
    bottom: float
    top: float


@dataclass(frozen=True)
class WallPiece:
    """A stretch of concrete wall of one height, formed in one stack of panels.

    Attributes
    ----------
    line : str
        Name of the wall line.
    start, end : float
        Stations of its ends. [m]
    bottom, top : float
        Top of footing under it, and top of its concrete. [m]
    thickness : float
        Thickness of the wall. [m]
    panels : tuple of float
        Heights of the panels that stack up in it, lowest first. [m]
    filler : float
        Height that the panels leave to a filler, 0 for none. [m]
    over : float
        How far the panels stand above the pour line, 0 for none. [m]
    """

    line: str
    start: float
    end: float
    bottom: float
    top: float
    thickness: float
    panels: tuple[float, ...]
    filler: float
    over: float


@dataclass(frozen=True)
class PanelRow:
    """Form panels along a wall line, by width.

    Attributes
    ----------
    line : str
        Name of the wall line.
    widths : tuple of float
        Panel widths from the line's first corner on. [m]
    filler : float
        Width that whole panels leave, 0 for none. [m]
    """

    line: str
    widths: tuple[float, ...]
    filler: float


@dataclass(frozen=True)
class TopOfWall:
    """Where full concrete may drop to a framed wall.

    Where it may, it does: the wall's pieces have the low top there.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart. [m]
    needed : ndarray, shape (n,)
        Lowest level that the concrete may stop at there: finished grade at its face, and the height wood keeps from
        it. [m]
    full_top, low_top : float
        Top of the full wall, and of the concrete under the framed wall. [m]
    drop_from, drop_to : float or None
        Whole-inch stations between which it may stop at the low top, one of them at an end of the wall; None where
        it may not. A wall that others tee into may drop over several lines. [m]
    """

    line: str
    station: NDArray[np.float64]
    needed: NDArray[np.float64]
    full_top: float
    low_top: float
    drop_from: float | None
    drop_to: float | None


@dataclass(frozen=True)
class Fill:
    """Unbalanced fill along a wall line: soil on one side above what holds the wall on the other.

    A dug-out space (basement, crawl space) has its slab against the wall only where that is poured before the
    backfill; else nothing stands there down to the top of footing, and the fill is the greatest of all stages. A
    garage, a porch and a slab on grade have fill there, up to the slab.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart. [m]
    outside : ndarray, shape (n,)
        Soil against the outer face: finished grade, or what stands in the space beyond, such as the garage's fill. [m]
    inside : ndarray, shape (n,)
        Level of slab, soil or footing against the inner face; it stands above the outside where fill pushes
        outwards. [m]
    height : ndarray, shape (n,)
        Difference of the two, whichever is higher. [m]
    supports : tuple of FillStage
        What holds top and foot at each stage of the work.
    """

    line: str
    station: NDArray[np.float64]
    outside: NDArray[np.float64]
    inside: NDArray[np.float64]
    height: NDArray[np.float64]
    supports: tuple[FillStage, ...]


@dataclass(frozen=True)
class FillStage:
    """What holds a wall at one stage of the work.

    Attributes
    ----------
    stage : str
        In the crew's words: ``walls stripped``, ``backfill``, ``slab poured``, ``framed``.
    top, foot : bool
        Whether deck or bracing holds the top, and slab or other support the foot.
    """

    stage: str
    top: bool
    foot: bool


@dataclass(frozen=True)
class BareConcrete:
    """Concrete of a wall that will show outside.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart. [m]
    height : ndarray, shape (n,)
        Top of concrete over finished grade at the wall's face, >= 0, doors and windows left out; at a jump the
        greater of the two sides. [m]
    area : float
        Of it all. [m²]
    """

    line: str
    station: NDArray[np.float64]
    height: NDArray[np.float64]
    area: float


@dataclass(frozen=True)
class Ledge:
    """A wall thinned to carry the edge of a slab, or a veneer.

    Attributes
    ----------
    line : str
        Name of the wall line.
    level : float
        Level of the ledge. [m]
    wall : float
        Thickness of the wall below it. [m]
    upper : float
        Thickness of the wall above it. [m]
    foam : float
        Edge foam that stands on it. [m]
    bearing : float
        Slab's edge (or veneer) that bears on it. [m]
    gap : float
        Left free on purpose. [m]
    remainder : float
        Wall − upper − foam − bearing − gap: what does not close, 0 when it closes. [m]
    carries : float
        Thickness of the wall that stands on the upper one, nan where nobody has told. [m]
    veneer : bool
        True for a veneer shelf.
    bypass : bool
        True where heat passes beside the foam: the slab's edge touches the wall above, bears on bare concrete, or
        runs into what does not close.
    """

    line: str
    level: float
    wall: float
    upper: float
    foam: float
    bearing: float
    gap: float
    remainder: float
    carries: float
    veneer: bool
    bypass: bool


@dataclass(frozen=True)
class Headroom:
    """Clear height over a slab.

    Attributes
    ----------
    part : str
        The part.
    height : float
        Top of wall less top of slab. [m]
    """

    part: str
    height: float


@dataclass(frozen=True)
class Walls:
    """Everything about the walls on one stepping.

    Attributes
    ----------
    pieces : tuple of WallPiece
        Stretches of one height, in the order of the lines.
    rows : tuple of PanelRow
        Panels by width, one a line.
    tops : tuple of TopOfWall
        Outdoor lines that have a low top, whether they may drop to it or not.
    fills : tuple of Fill
        Unbalanced fill, one for each line but those inside one space.
    bare : tuple of BareConcrete
        Concrete that will show, one for each outdoor line.
    openings : tuple of Opening
        All openings.
    ledges : tuple of Ledge
        All ledges.
    headrooms : tuple of Headroom
        One for each basement and crawl space.
    """

    pieces: tuple[WallPiece, ...]
    rows: tuple[PanelRow, ...]
    tops: tuple[TopOfWall, ...]
    fills: tuple[Fill, ...]
    bare: tuple[BareConcrete, ...]
    openings: tuple[Opening, ...]
    ledges: tuple[Ledge, ...]
    headrooms: tuple[Headroom, ...]
