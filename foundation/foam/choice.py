"""Which of a board's R-values is counted: the label's, the design guide's for wet ground, or after decades in it."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from foundation.foam.boards import refused_in_ground
from foundation.model.foam import BoardType

LYING, UPRIGHT, DRY = "lying in the ground", "upright in the ground", "out of the ground"
PLACES = (LYING, UPRIGHT, DRY)
LABEL, GUIDE, AGED = "label", "design guide", "aged"
BASES = (GUIDE, LABEL, AGED)
WITHIN = 1e-6  # an R of a label and one that is asked for are equal this close [m²·K/W]


def resistivity(board: BoardType, place: str, basis: str = GUIDE) -> float:
    """Resistivity that is counted of a board where it lies.

    Out of the ground it is the label's. In it, an aged board is counted as measured, yet no better than the design
    guide grants where it lies.

    Parameters
    ----------
    board : BoardType
        The board.
    place : str
        One of `PLACES`.
    basis : str
        One of `BASES`.

    Returns
    -------
    float
        Resistivity. [m·K/W]

    Raises
    ------
    KeyError
        If there is no such place or basis.
    ValueError
        If the board is not for the ground and lies in it.

    Examples
    --------
    >>> from foundation.foam.boards import board_named
    >>> [round(resistivity(board_named("EPS II"), LYING, basis) * 0.0254 / 0.1761101838, 2) for basis in BASES]
    [2.6, 4.0, 2.2]
    """
    if place not in PLACES:
        raise KeyError(f'foam does not lie in "{place}"; it lies in one of: {", ".join(PLACES)}')
    if basis not in BASES:
        raise KeyError(f'there is no R-value by "{basis}"; there are: {", ".join(BASES)}')
    if place == DRY:
        return board.label
    if refused_in_ground(board):
        raise ValueError(f"{board.name} does not belong in the ground: it takes up water there")
    guide = board.wet_horizontal if place == LYING else board.wet_vertical
    return {LABEL: board.label, GUIDE: guide, AGED: min(board.aged, guide)}[basis]


def resistance(board: BoardType, thickness: float, place: str, basis: str = GUIDE) -> float:
    """Resistance that is counted of a board where it lies.

    Parameters
    ----------
    board : BoardType
        The board.
    thickness : float
        Of all its layers, ≥ 0. [m]
    place : str
        One of `PLACES`.
    basis : str
        One of `BASES`.

    Returns
    -------
    float
        Resistance. [m²·K/W]

    Raises
    ------
    KeyError
        If there is no such place or basis.
    ValueError
        If the thickness is negative, or the board is not for the ground and lies in it.
    """
    if not 0 <= thickness < inf:
        raise ValueError(f"the thickness of {board.name} is {thickness:g} m; it has to be 0 or more")
    return thickness * resistivity(board, place, basis)


def meets(layers: Iterable[tuple[BoardType, float]], required: float | None) -> bool:
    """Whether foam has the R that the office asks for, which it reads on labels.

    Parameters
    ----------
    layers : iterable of tuple
        Board and thickness [m] of each layer between inside and outside.
    required : float or None
        What the office asks for; None where nobody has told, and everything does. [m²·K/W]

    Returns
    -------
    bool
        Whether it does.
    """
    return required is None or sum(board.label * thick for board, thick in layers) >= required - WITHIN
