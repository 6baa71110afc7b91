"""One sentence for a number outside what a formula holds for."""

from __future__ import annotations


def positive(value: float, name: str, unit: str) -> None:
    """Refuse a number that is not more than 0.

    Parameters
    ----------
    value : float
        The number, in `unit`. [-]
    name : str
        What it is, for the sentence.
    unit : str
        Its unit, for the sentence.

    Raises
    ------
    ValueError
        If it is not.
    """
    if not value > 0:
        raise ValueError(f"{name} is {value:g} {unit}; it has to be more than 0")


def within(value: float, low: float, high: float, name: str, unit: str) -> None:
    """Refuse a number outside a range.

    Parameters
    ----------
    value : float
        The number, in `unit`. [-]
    low, high : float
        The range, its ends allowed, in `unit`. [-]
    name : str
        What it is, for the sentence.
    unit : str
        Its unit, for the sentence.

    Raises
    ------
    ValueError
        If it is.
    """
    if not low <= value <= high:
        told = f"{low:g} to {high:g} {unit} would do" if high < float("inf") else f"{low:g} or more would do"
        raise ValueError(f"{name} is {value:g} {unit}; {told}")
