"""From what is drawn to what is ordered: waste, quarter yards, trucks, laps, bars, rolls."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import ceil
from types import MappingProxyType

from foundation.tables import load

FOOT = 0.3048
INCH = FOOT / 12
YARD3 = (3 * FOOT) ** 3
"""A cubic yard. [m³]"""
POUND = 0.45359237
"""A pound, by definition. [kg]"""
WHOLE = 1e-9
"""A number this close above a whole one is that whole one: sums of pieces carry such errors. [-]"""
BARS, LAPS = "astm_a615_undated_bars", "icc_irc_2018_table-r608.5.4-1"


def whole_up(amount: float, unit: float) -> float:
    """An amount up to the next whole unit.

    Parameters
    ----------
    amount : float
        The amount, ≥ 0. [SI unit of its kind]
    unit : float
        What it comes in, > 0. [the same]

    Returns
    -------
    float
        The least multiple of the unit that is not less. [the same]

    Examples
    --------
    >>> whole_up(2.3, 0.25), whole_up(2.25, 0.25)
    (2.5, 2.25)
    """
    return ceil(amount / unit - WHOLE) * unit


def concrete_order(drawn: float, waste: float) -> float:
    """Concrete to order: with waste, up to the next quarter yard.

    Parameters
    ----------
    drawn : float
        As drawn, ≥ 0. [m³]
    waste : float
        Over what is drawn. [-]

    Returns
    -------
    float
        The order. [m³]

    Examples
    --------
    7.61 yd³ and 5 %: 7.99, so 8.

    >>> round(concrete_order(7.61 * YARD3, 0.05) / YARD3, 6)
    8.0
    """
    return whole_up(drawn * (1 + waste), YARD3 / 4)


def trucks(order: float, load_yards: float) -> int:
    """Trucks that bring an order.

    Parameters
    ----------
    order : float
        Concrete. [m³]
    load_yards : float
        What a truck carries, > 0. [yd³]

    Returns
    -------
    int
        Trucks. [-]

    Examples
    --------
    >>> trucks(20 * YARD3, 10), trucks(20.25 * YARD3, 10)
    (2, 3)
    """
    return ceil(order / YARD3 / load_yards - WHOLE)


def bars_in_line(length: float, stock: float, lap: float) -> tuple[int, float]:
    """Bars end to end along a line, each lapping the one before.

    Parameters
    ----------
    length : float
        Of the line, > 0. [m]
    stock : float
        Of a bar as bought. [m]
    lap : float
        How far bars lap, less than a bar. [m]

    Returns
    -------
    count : int
        Whole bars. [-]
    last : float
        Length of the bar that ends the line, after them; 0 where whole bars do. [m]

    Raises
    ------
    ValueError
        If a lap is not shorter than a bar.

    Examples
    --------
    A line of 43 ft 4 in of 20 ft bars with laps of 20 in: two bars and 6 ft 8 in, two laps.

    >>> count, last = bars_in_line(43 * FOOT + 4 * INCH, 20 * FOOT, 20 * INCH)
    >>> count, round(last / FOOT, 3)
    (2, 6.667)
    """
    if not lap < stock:
        raise ValueError(f"laps of {lap:.3f} m need bars longer than that; they are {stock:.3f} m")
    pieces = max(1, ceil((length - lap) / (stock - lap) - WHOLE))
    last = length - (pieces - 1) * (stock - lap)
    return (pieces, 0.0) if last > stock - WHOLE else (pieces - 1, last)


@cache
def bar_weights() -> Mapping[str, float]:
    """Weight of bars by size, ASTM A615.

    Returns
    -------
    mapping of str to float
        By size, such as ``#4``. [kg/m]
    """
    return MappingProxyType({row["size"]: float(row["weight"]) * POUND / FOOT for row in load(BARS).rows})


def usual_lap(size: str, grade: str) -> float | None:
    """Lap of bars by size and grade, from the model code's table.

    Parameters
    ----------
    size : str
        Size, such as ``#4``.
    grade : str
        ``40 ksi`` or ``60 ksi``.

    Returns
    -------
    float or None
        Lap [m]; None for a size that the table has not.

    Examples
    --------
    >>> round(usual_lap("#4", "60 ksi") / INCH), usual_lap("#3", "60 ksi")
    (30, None)
    """
    column = "grade_" + grade.removesuffix(" ksi")
    for row in load(LAPS).rows:
        if row["size"] == size:
            return float(row[column]) * INCH
    return None


def strips(width: float, roll: float, lap: float) -> int:
    """Strips off a roll that cover a width, each lapping the one before.

    Parameters
    ----------
    width : float
        What is covered, > 0. [m]
    roll : float
        Width of the roll. [m]
    lap : float
        How far strips lap, less than the roll. [m]

    Returns
    -------
    int
        Strips. [-]

    Raises
    ------
    ValueError
        If a lap is not narrower than the roll.

    Examples
    --------
    >>> strips(28.0, 20.0, 0.5), strips(20.0, 20.0, 0.5)
    (2, 1)
    """
    if not lap < roll:
        raise ValueError(f"laps of {lap:.3f} m need a roll wider than that; it is {roll:.3f} m")
    return max(1, ceil((width - lap) / (roll - lap) - WHOLE))


def stone_round_drain(footing_thickness: float, pipe: float) -> float:
    """Stone round a footing drain, of each metre: a foot wide, 2 in under the footing's bottom to 6 in over its top.

    Parameters
    ----------
    footing_thickness : float
        Of the footing beside it. [m]
    pipe : float
        Outer diameter of the pipe. [m]

    Returns
    -------
    float
        Its cross-section without the pipe, IRC R405.1 [read]. [m²]

    Examples
    --------
    >>> round(stone_round_drain(10 * INCH, 0.0) / FOOT**2, 3)
    1.5
    """
    return FOOT * (footing_thickness + 8 * INCH) - 3.141592653589793 / 4 * pipe**2
