"""Writes SI floats as the trade reads them: feet, inches and sixteenths beside decimal feet, or metric."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

from foundation.units.kinds import MEASURES, Kind, Measure, scale


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be written: a finite number is wanted.")
    return float(value)


def _nearest(value: float) -> int:
    """Round to the nearest whole number, halves away from zero so that a sign never changes the size."""
    return int(math.copysign(math.floor(abs(_finite(value)) + 0.5), value))


def _in_feet(metres: float) -> float:
    return _finite(metres) / float(scale("foot", "meter")[0])


def _inch_text(parts: int, denominator: int) -> str:
    """Write a number of parts of an inch: 105 sixteenths are ``6 9/16"``."""
    whole, rest = divmod(parts, denominator)
    return f'{whole} {Fraction(rest, denominator)}"' if rest else f'{whole}"'


def _inch_parts(metres: float, denominator: int) -> tuple[str, int]:
    if denominator < 1:
        raise ValueError(f"An inch cannot be cut in {denominator} parts: 16 would do.")
    parts = _nearest(_in_feet(metres) * 12 * denominator)
    return "-" if parts < 0 else "", abs(parts)


def feet_inches(metres: float, denominator: int = 16) -> str:
    """Write a length in feet and inches, rounded once, to the nearest part of an inch.

    Parameters
    ----------
    metres : float
        The length or level. [m]
    denominator : int, optional
        Parts of an inch that are told apart. [-]

    Returns
    -------
    str
        Such as ``12'-6 1/2"``; the sign belongs to the whole.

    Examples
    --------
    >>> feet_inches(3.8227)
    '12\\'-6 1/2"'
    >>> feet_inches(-0.0762)
    '-0\\'-3"'
    """
    sign, parts = _inch_parts(metres, denominator)
    feet, parts = divmod(parts, 12 * denominator)
    return f"{sign}{feet}'-{_inch_text(parts, denominator)}"


def inches(metres: float, denominator: int = 16) -> str:
    """Write a length in inches alone, rounded once, to the nearest part of an inch.

    Parameters
    ----------
    metres : float
        The length. [m]
    denominator : int, optional
        Parts of an inch that are told apart. [-]

    Returns
    -------
    str
        Such as ``24"`` or ``9 5/8"``.

    Examples
    --------
    >>> inches(0.6096), inches(0.003)
    ('24"', '1/8"')
    """
    sign, parts = _inch_parts(metres, denominator)
    return sign + _inch_text(parts, denominator).removeprefix("0 ")


def decimal_feet(metres: float, places: int = 2) -> str:
    """Write a length in decimal feet, as surveyors read it.

    Parameters
    ----------
    metres : float
        The length or level. [m]
    places : int, optional
        Decimal places. [-]

    Returns
    -------
    str
        Such as ``12.54 ft``.

    Examples
    --------
    >>> decimal_feet(3.8227)
    '12.54 ft'
    """
    return f"{_in_feet(metres):z.{places}f} ft"


def both(metres: float) -> str:
    """Write a length for the form crew and the surveyor at once.

    Parameters
    ----------
    metres : float
        The length or level. [m]

    Returns
    -------
    str
        Feet and inches to a sixteenth, and decimal feet to a hundredth beside it.

    Examples
    --------
    >>> both(3.8227)
    '12\\'-6 1/2" (12.54 ft)'
    """
    return f"{feet_inches(metres)} ({decimal_feet(metres)})"


def metres(metres: float, places: int = 3) -> str:
    """Write a length in metres.

    Parameters
    ----------
    metres : float
        The length or level. [m]
    places : int, optional
        Decimal places. [-]

    Returns
    -------
    str
        Such as ``3.823 m``.

    Examples
    --------
    >>> metres(3.8227)
    '3.823 m'
    """
    return f"{_finite(metres):z.{places}f} m"


def millimetres(metres: float) -> str:
    """Write a length in whole millimetres.

    Parameters
    ----------
    metres : float
        The length. [m]

    Returns
    -------
    str
        Such as ``600 mm``.

    Examples
    --------
    >>> millimetres(0.6)
    '600 mm'
    """
    return f"{_nearest(metres * 1000)} mm"


def length(metres: float, system: str) -> str:
    """Write a length for laying out: to a sixteenth of an inch, or to a millimetre.

    Parameters
    ----------
    metres : float
        The length or level. [m]
    system : {"us", "metric"}
        The system of the sheet.

    Returns
    -------
    str
        Such as ``12'-6 1/2"`` or ``3.823 m``.

    Examples
    --------
    >>> length(3.8227, "metric")
    '3.823 m'
    """
    return write(metres, Kind.LENGTH, system)


def round_down(metres: float, step: float) -> float:
    """Round a level to a multiple of a step, never upward, for footings may only end deeper.

    Parameters
    ----------
    metres : float
        The level. [m]
    step : float
        What it must be a multiple of, > 0: 0.0015875 for a sixteenth of an inch. [m]

    Returns
    -------
    float
        The greatest multiple not above the level; a level within a billionth of a step of a multiple is
        taken to be that multiple. [m]

    Raises
    ------
    ValueError
        If the step is not positive.

    Examples
    --------
    >>> round_down(-0.61, 0.25)
    -0.75
    """
    if not step > 0:
        raise ValueError(f"A level cannot be rounded to steps of {step} m: a step above 0 m is wanted.")
    # The billionth keeps a level that already is a multiple from sinking a whole step by its last bit.
    return math.floor(_finite(metres) / step + 1e-9) * step


def cubic_yards(cubic_metres: float, places: int = 2) -> str:
    """Write a volume in cubic yards.

    Parameters
    ----------
    cubic_metres : float
        The volume. [m³]
    places : int, optional
        Decimal places. [-]

    Returns
    -------
    str
        Such as ``2.23 yd³``.

    Examples
    --------
    >>> cubic_yards(1.7044)
    '2.23 yd³'
    """
    return f"{_finite(cubic_metres) / float(scale('yard**3', 'meter**3')[0]):z,.{places}f} yd³"


def money(dollars: float, nearest: int = 1) -> str:
    """Write a sum of money, rounded to whole dollars or coarser.

    Parameters
    ----------
    dollars : float
        The sum. [$]
    nearest : int, optional
        What it is rounded to, such as 1 or 10. [$]

    Returns
    -------
    str
        Such as ``$1,235``.

    Examples
    --------
    >>> money(1234.6), money(1234.6, 10)
    ('$1,235', '$1,230')
    """
    rounded = _nearest(dollars / nearest) * nearest
    return f"{'-' if rounded < 0 else ''}${abs(rounded):,}"


def _in_unit(value: float, measure: Measure, system: str) -> tuple[float, str, int]:
    """Take a value to the unit that a system prints, with that unit's label and places."""
    if system not in ("us", "metric"):
        raise ValueError(f'"{system}" is no system of units: "us" and "metric" are known.')
    label, spelling, places = measure.us if system == "us" else measure.metric
    factor, zero = scale(measure.units[spelling], measure.si)
    return _finite(value) / float(factor) + float(zero), label, places


def _labelled(number: str, label: str, kind: Kind) -> str:
    if label == "R-":
        return label + number
    if kind.startswith("money"):
        return f"-${number[1:]}{label}" if number.startswith("-") else f"${number}{label}"
    return f"{number} {label}".rstrip()


def write(value: float, kind: str, system: str = "us") -> str:
    """Write a value so that `read` gives it back to the printed resolution.

    Parameters
    ----------
    value : float
        The value. [SI unit of its kind]
    kind : str
        Its kind, a `Kind` or the text of one.
    system : {"us", "metric"}, optional
        The system of units.

    Returns
    -------
    str
        The number with its unit.

    Examples
    --------
    >>> write(1.7611, "resistance"), write(1.7611, "resistance", "metric")
    ('R-10', '1.76 m²·K/W')
    """
    kind = Kind(kind)
    number, label, places = _in_unit(value, MEASURES[kind], system)
    if kind is Kind.LENGTH:
        return feet_inches(value) if system == "us" else metres(value)
    if kind is Kind.MONEY:
        return money(value)
    text = f"{number:z,.{places}f}"
    if "." in text and not kind.startswith("money"):
        text = text.rstrip("0").rstrip(".")
    return _labelled(text, label, kind)


def exact(value: float, kind: str, system: str = "us") -> str:
    """Write a value for a file, so that `read` gives it back to one part in 10¹².

    Parameters
    ----------
    value : float
        The value. [SI unit of its kind]
    kind : str
        Its kind, a `Kind` or the text of one.
    system : {"us", "metric"}, optional
        The system of units.

    Returns
    -------
    str
        The number with its unit; a length that is a whole number of sixteenths stays in feet and inches.

    Examples
    --------
    >>> exact(0.6096, "length"), exact(3.3, "length"), exact(3.29184, "length")
    ('2\\'-0"', '10.8267716535433 ft', '10.8 ft')
    """
    kind = Kind(kind)
    number, label, _ = _in_unit(value, MEASURES[kind], system)
    sixteenths = number * 12 * 16
    if (
        kind is Kind.LENGTH
        and system == "us"
        and abs(sixteenths - round(sixteenths)) <= 1e-12 * abs(sixteenths)
    ):
        return feet_inches(value)
    if abs(number) < 1e-15:
        number = 0.0
    # Through Decimal, because the reader takes no exponents.
    return _labelled(f"{Decimal(f'{number:.15g}'):f}", label, kind)


def rounded(value: float, figures: int = 2) -> str:
    """A number to so many figures, as heat and money are shown.

    Parameters
    ----------
    value : float
        The number. [-]
    figures : int
        How many figures. [-]

    Returns
    -------
    str
        With commas, without an exponent.

    Examples
    --------
    >>> rounded(12345.6), rounded(0.0456), rounded(0), rounded(-87.4)
    ('12,000', '0.046', '0', '-87')
    """
    if value == 0:
        return "0"
    short = float(f"{value:.{figures}g}")
    if abs(short) >= 10 ** (figures - 1):
        return f"{short:,.0f}"
    digits = figures - 1 - int(f"{short:e}".split("e")[1])
    return f"{short:,.{digits}f}"
