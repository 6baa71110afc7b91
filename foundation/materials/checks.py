"""What a number has to be."""

from __future__ import annotations

from math import inf


def in_range(value: float, what: str, unit: str, most: float = inf) -> None:
    """Refuse a number that is not above 0, or not below a limit.

    Parameters
    ----------
    value : float
        The number. [unit]
    what : str
        What it is, as a sentence begins.
    unit : str
        Its unit.
    most : float
        What it has to be below. [unit]

    Raises
    ------
    ValueError
        If it is out of the range.
    """
    if not 0 < value < most:
        limit = "" if most == inf else f" and less than {most:g} {unit}"
        raise ValueError(f"{what} is {value:g} {unit}; it has to be more than 0{limit}")
