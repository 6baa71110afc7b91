"""Boards of rigid foam by type, from the tables that ship."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import isnan, nan
from types import MappingProxyType

from foundation.model.foam import BoardType
from foundation.tables import load

INCH = 0.0254  # [m]
PSI = 6894.757293168  # [Pa]
R_PER_INCH = 0.1761101838 / INCH  # one h·ft²·°F/Btu per inch [m·K/W]

MINIMA = ("astm_c578_undated_minima", "astm_c1289_undated_minima")
IN_GROUND = "practice_foam-in-ground_2026_resistivity"
STOCK = "practice_foam-boards_2026_stock"
TABLES = (*MINIMA, IN_GROUND, STOCK)
"""Names of the tables that boards are read from; `foundation.tables.load` gives their sources and marks."""


@cache
def board_types() -> Mapping[str, BoardType]:
    """The types of board.

    A board that is not for the ground has no resistivity there: not a number.

    Returns
    -------
    mapping of str to BoardType
        By name, EPS before XPS before polyiso, each from weak to strong.

    Examples
    --------
    >>> round(board_types()["XPS IV"].label * 2 * 0.0254 / 0.1761101838, 9)  # 2 in [h·ft²·°F/Btu]
    10.0
    """
    ground = {row["name"]: row for row in load(IN_GROUND).rows}
    stock = {row["name"]: row for row in load(STOCK).rows}

    def in_ground(name: str, column: str) -> float:
        return float(ground[name][column]) * R_PER_INCH if name in ground else nan

    return MappingProxyType(
        {
            name: BoardType(
                name=name,
                family=row["family"],
                strength=float(row["strength"]) * PSI,
                label=float(row["label"]) * R_PER_INCH,
                wet_vertical=in_ground(name, "vertical"),
                wet_horizontal=in_ground(name, "horizontal"),
                aged=in_ground(name, "aged"),
                thicknesses=tuple(float(each) * INCH for each in stock[name]["thicknesses"].split()),
            )
            for table in MINIMA
            for row in load(table).rows
            for name in (row["name"],)
        }
    )


def board_named(name: str) -> BoardType:
    """The type of board of a name.

    Parameters
    ----------
    name : str
        Name, such as ``XPS IV``.

    Returns
    -------
    BoardType
        The type.

    Raises
    ------
    KeyError
        If there is none; the message lists the known ones.
    """
    known = board_types()
    if name not in known:
        raise KeyError(f'there is no board "{name}"; there are: {", ".join(known)}')
    return known[name]


@cache
def moduli() -> Mapping[str, float]:
    """How stiff boards are in compression, at small strain.

    Returns
    -------
    mapping of str to float
        Elastic modulus by name of the board's type. [Pa]
    """
    return MappingProxyType({row["name"]: float(row["modulus"]) * PSI for row in load(STOCK).rows})


def refused_in_ground(board: BoardType) -> bool:
    """Whether a board must not touch the ground.

    Parameters
    ----------
    board : BoardType
        The board.

    Returns
    -------
    bool
        True where nobody grants it a resistance in moist ground: polyiso takes up water there.
    """
    return isnan(board.wet_vertical) or isnan(board.wet_horizontal)
