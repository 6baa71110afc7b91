"""Fuels: the heat of what is bought, and what a joule of delivered heat costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import inf
from types import MappingProxyType

from foundation.money.lifecycle import DAY
from foundation.tables import load

BTU = 1055.05585262
"""International table Btu, by definition. [J]"""


@dataclass(frozen=True)
class FuelKind:
    """A fuel as it is bought.

    Attributes
    ----------
    name : str
        What it is called.
    priced_by : str
        What a price is for: ``therm``, ``gallon``, ``kWh``.
    heat_content : float
        Heat of one such unit. [J]
    """

    name: str
    priced_by: str
    heat_content: float


@cache
def fuels() -> Mapping[str, FuelKind]:
    """The fuels that have a heat content in the table.

    Returns
    -------
    mapping of str to FuelKind
        By name.

    Examples
    --------
    >>> fuels()["propane"].priced_by
    'gallon'
    """
    table = load("trade_fuel-heat-content_2026_fuels")
    return MappingProxyType(
        {
            row["fuel"]: FuelKind(row["fuel"], row["priced_by"], float(row["heat_content"]) * BTU)
            for row in table.rows
        }
    )


def heat_price(price: float, heat_content: float, efficiency: float) -> float:
    """Price of a joule of heat that reaches the room.

    Parameters
    ----------
    price : float
        Price of a unit of fuel, ≥ 0. [$]
    heat_content : float
        Heat of that unit, > 0. [J]
    efficiency : float
        Heat delivered over heat bought, > 0; above 1 for a heat pump. [-]

    Returns
    -------
    float
        Price. [$/J]

    Raises
    ------
    ValueError
        If an input is out of its range.

    Examples
    --------
    >>> round(heat_price(2.90, fuels()["propane"].heat_content, 0.92) * 1e9, 2)  # [$/GJ]
    32.67
    """
    if not 0 <= price < inf:
        raise ValueError(f"the fuel price is {price:g} $; it has to be 0 or more")
    return price * fuel_needed(1.0, heat_content, efficiency)


def fuel_needed(heat: float, heat_content: float, efficiency: float) -> float:
    """Units of fuel that deliver an amount of heat.

    Parameters
    ----------
    heat : float
        Heat that reaches the room. [J]
    heat_content : float
        Heat of a unit of fuel, > 0. [J]
    efficiency : float
        Heat delivered over heat bought, > 0; above 1 for a heat pump. [-]

    Returns
    -------
    float
        Units, such as gallons. [-]

    Raises
    ------
    ValueError
        If an input is out of its range.
    """
    if not 0 < heat_content < inf:
        raise ValueError(f"the heat content is {heat_content:g} J; it has to be more than 0")
    if not 0 < efficiency < inf:
        raise ValueError(f"the efficiency is {efficiency:g}; it has to be more than 0")
    return heat / (heat_content * efficiency)


def degree_day_heat(conductance: float, degree_days: float) -> float:
    """Heat lost over the year through what faces outdoor air.

    Parameters
    ----------
    conductance : float
        To the outdoor air. [W/K]
    degree_days : float
        Heating degree days. [K·d]

    Returns
    -------
    float
        Heat, :math:`86400\\,UA\\,HDD`. [J]
    """
    return DAY * conductance * degree_days
