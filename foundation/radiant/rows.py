"""Rows of a piece of floor: how far apart, where the first one lies, and what they keep clear of."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foundation.model.loops import LayingRules, Pattern
from foundation.radiant.bends import bulb_length, bulge
from foundation.radiant.clearance import NEAREST_LEADERS, NEAREST_ROWS
from foundation.radiant.edges import LEADER_SPACING
from foundation.radiant.lattice import Lattice, lattice, row_pitch
from foundation.radiant.shapes import grown

PHASES = 8
"""Heights at which rows may start, over two pitches. [-]"""
AS_GOOD = 0.98
"""Rows start at the coldest wall unless another start fills more than this allows. [-]"""


@dataclass(frozen=True, eq=False)
class Piece:
    """Floor that tube can fill without a joint in the way; the coldest wall below it.

    Attributes
    ----------
    free : Polygon
        Where tube may lie.
    outline : Polygon
        Up to the walls and joints.
    rules : LayingRules
        What tube keeps to.
    pattern : Pattern
        How it fills the floor.
    cold : float
        Northing of the line that the first row keeps to. [m]
    door : shapely geometry or None
        Part of the outline that leaders come through; None for wherever the manifold is near.
    """

    free: Polygon
    outline: Polygon
    rules: LayingRules
    pattern: Pattern
    cold: float
    door: BaseGeometry | None = None


def pitch_of(piece: Piece) -> tuple[float, float]:
    """Pitch of the rows, so that an even number of them fills the floor's height.

    Parameters
    ----------
    piece : Piece
        The floor.

    Returns
    -------
    pitch : float
        Between rows. [m]
    first : float
        Northing of the first row. [m]
    """
    rules = piece.rules
    _, low, _, high = piece.free.bounds
    beside, pitch, start = 0.0, rules.spacing, 0.0
    while True:
        extent = max(high - low - 2 * beside, 0.0)
        pitch, start = row_pitch(extent, rules.spacing, rules.from_edge, tightest(rules.bend_radius))
        if bulge(rules.bend_radius, pitch) <= beside + 1e-9:
            return pitch, low + beside + start
        beside = bulge(rules.bend_radius, pitch)


def tightest(bend_radius: float) -> float:
    """Least pitch at which rows can turn back one beside the other, every other tip drawn back.

    Parameters
    ----------
    bend_radius : float
        To the centre line. [m]

    Returns
    -------
    float
        Between rows. [m]
    """
    return (bend_radius + NEAREST_LEADERS) / 1.5


def first_row(piece: Piece, floor: BaseGeometry, pitch: float) -> float:
    """Where the first row lies: at the coldest wall unless another start fills clearly more.

    Parameters
    ----------
    piece : Piece
        The floor.
    floor : shapely geometry
        What of it leaders leave.
    pitch : float
        Between rows. [m]

    Returns
    -------
    float
        Its northing. [m]
    """
    low = floor.bounds[1]
    beside = bulge(piece.rules.bend_radius, pitch)
    first = pitch_of(piece)[1]
    wishes = [first]
    if piece.cold >= low - 1e-6:
        wishes.append(low + (piece.cold + beside - low) % (2 * pitch))
    if floor.area < 0.999 * shapely.box(*floor.bounds).area:
        wishes += [low + 2 * pitch * step / PHASES for step in range(PHASES)]
    counts = [int(grid_of(piece, floor, pitch, wish).free.sum()) for wish in wishes]
    return next(wish for wish, count in zip(wishes, counts, strict=True) if count >= AS_GOOD * max(counts))


def grid_of(piece: Piece, floor: BaseGeometry, pitch: float, low: float) -> Lattice:
    """Cells of a floor.

    Parameters
    ----------
    piece : Piece
        The floor.
    floor : shapely geometry
        What of it leaders leave.
    pitch, low : float
        Between rows, and northing of the first. [m]

    Returns
    -------
    Lattice
        The cells.
    """
    beside = bulge(piece.rules.bend_radius, pitch)
    return lattice(floor, pitch, floor.bounds[0] + beside, low, beside)


def shortest_run(rules: LayingRules, pitch: float) -> int:
    """Fewest cells of a row that both of its ends can turn in.

    Parameters
    ----------
    rules : LayingRules
        What tube keeps to.
    pitch : float
        Between rows. [m]

    Returns
    -------
    int
        The cells. [-]
    """
    return 1 + ceil(bulb_length(rules.bend_radius, min(pitch, 2 * rules.bend_radius)) / pitch - 1e-9)


def taken_by(leaders: BaseGeometry, pitch: float) -> BaseGeometry:
    """Floor that leaders take from the rows.

    Parameters
    ----------
    leaders : shapely geometry
        Their centre lines.
    pitch : float
        Between rows. [m]

    Returns
    -------
    shapely geometry
        The floor.
    """
    return grown(leaders.simplify(1e-4), max(LEADER_SPACING, 0.6 * pitch), "flat")


def rows_apart(rules: LayingRules, pitch: float) -> float:
    """What rows keep between their axes.

    Parameters
    ----------
    rules : LayingRules
        What tube keeps to.
    pitch : float
        Between rows. [m]

    Returns
    -------
    float
        A share of the spacing; less where bulbs face each other. [m]
    """
    facing = 2 * pitch - 2 * rules.bend_radius
    return min(NEAREST_ROWS * rules.spacing, max(0.95 * facing, NEAREST_LEADERS))
