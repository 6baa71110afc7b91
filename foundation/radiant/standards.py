"""What standards and the trade say of a heated floor: limits, and second opinions beside the row of tubes.

References
----------
.. [1] EN 1264-2:2008 and ISO 11855-2:2021, basic characteristic curve, limits and exponents [read in public copies];
   the factor of the surface, the base value's tube and the deep cover [memory].
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import log, pi
from types import MappingProxyType

import numpy as np
from scipy.interpolate import RegularGridInterpolator

from foundation import tables
from foundation.model.radiant import FloorBuildUp, FloorOutput, SecondOpinion
from foundation.radiant.limits import positive, within

PEAK_LIMITS = MappingProxyType({"occupied": 29.0, "edge strip": 35.0, "bath": 33.0})
"""Warmest floor by use; the bath's is 9 K over a room at 24 °C [1]_ [read]. [°C]"""

_BASE = 6.7  # of the tube below, at one [W/(m²·K)]
_BASE_WALL = (0.35, 0.002)  # its conductivity [W/(m·K)] and wall [m]


def characteristic_flux(excess: float) -> float:
    r"""Flux of a floor by the mean of its surface over the room.

    Parameters
    ----------
    excess : float
        Mean of the floor over the room, ≥ 0. [K]

    Returns
    -------
    float
        :math:`8.92 \Delta\theta^{1.1}` [1]_. [W/m²]

    Raises
    ------
    ValueError
        If the floor is colder than the room.

    Examples
    --------
    >>> round(characteristic_flux(9.0)), round(characteristic_flux(15.0))
    (100, 175)
    """
    within(excess, 0.0, float("inf"), "the floor over the room", "K")
    return 8.92 * excess**1.1


def characteristic_excess(flux: float) -> float:
    """Mean of a floor over the room, by its flux; the other way round of `characteristic_flux`.

    Parameters
    ----------
    flux : float
        Flux to the room, ≥ 0. [W/m²]

    Returns
    -------
    float
        Mean of the floor over the room. [K]

    Raises
    ------
    ValueError
        If the flux is less than 0.
    """
    within(flux, 0.0, float("inf"), "the flux to the room", "W/m²")
    return (flux / 8.92) ** (1 / 1.1)


def log_mean_difference(
    supply_temperature: float, return_temperature: float, room_temperature: float
) -> float:
    r"""Water over the room, as the standard takes it.

    Parameters
    ----------
    supply_temperature, return_temperature : float
        Of the water, supply ≥ return. [°C]
    room_temperature : float
        Of the room, below the return. [°C]

    Returns
    -------
    float
        :math:`(\theta_V - \theta_R) / \ln\frac{\theta_V - \theta_i}{\theta_R - \theta_i}` [1]_. [K]

    Raises
    ------
    ValueError
        If the temperatures are not in that order.

    Examples
    --------
    >>> round(log_mean_difference(40.0, 35.0, 20.0), 3)
    17.38
    """
    positive(return_temperature - room_temperature, "return less room temperature", "K")
    within(supply_temperature - return_temperature, 0.0, float("inf"), "supply less return temperature", "K")
    ratio = (supply_temperature - return_temperature) / (return_temperature - room_temperature)
    if ratio < 1e-8:  # the limit for equal temperatures, where the quotient is 0/0
        return return_temperature - room_temperature
    return (supply_temperature - return_temperature) / float(np.log1p(ratio))


def trade_rule_excess(flux: float) -> float:
    """Mean of a floor over the room by the rule of the trade: 1 °F for each 2 Btu/h·ft² [read].

    Parameters
    ----------
    flux : float
        Flux to the room. [W/m²]

    Returns
    -------
    float
        Floor over the room. [K]

    Examples
    --------
    25 Btu/h·ft² over a room at 68 °F: 80.5 °F.

    >>> round(68 + 1.8 * trade_rule_excess(25 * 3.15459), 1)
    80.5
    """
    return flux / (2.0 * 5.678263)


def type_a_coefficient(build_up: FloorBuildUp) -> float:
    r"""Flux to the room per kelvin of water over the room, by the standard's power product for type A.

    :math:`K_H = B a_B a_T^{m_T} a_U^{m_U} a_D^{m_D}` [1]_: tubes in a screed or slab on insulation. What lies below the
    foam does not enter. Beside conduction it is off by -14 to +2 % for a tube at mid-depth of a 4 in slab, and by -5 to
    +19 % for one on the foam under 45 mm of cover, most where the spacing is wide [derived].

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.

    Returns
    -------
    float
        The coefficient. [W/(m²·K)]

    Raises
    ------
    ValueError
        If a number is outside the standard's tables.
    """
    tube = build_up.tube
    spacing, finish = build_up.spacing, build_up.finish_resistance
    cover = build_up.axis_depth - tube.outside_diameter / 2
    within(spacing, 0.05, 0.375, "the spacing of the tubes in the tables of EN 1264-2", "m")
    within(finish, 0.0, 0.15, "the resistance of the finish in the tables of EN 1264-2", "m²·K/W")
    within(tube.outside_diameter, 0.008, 0.030, "the diameter of the tube in EN 1264-2", "m")
    within(cover, 0.01, float("inf"), "the cover over the tube in EN 1264-2", "m")
    deepest = 0.1 if spacing <= 0.2 else spacing / 2  # thicker cover conducts as a plain layer
    full = min(cover, deepest)
    lift = 1 / 10.8
    surface = (lift + 0.045) / (1 / build_up.surface_film + 0.045 / build_up.slab_conductivity + finish)
    spacing_factor, cover_factor, diameter_factor = _factors(spacing, finish)
    product = (
        surface
        * spacing_factor ** (1 - spacing / 0.075)
        * cover_factor ** (100 * (0.045 - full))
        * diameter_factor ** (250 * (tube.outside_diameter - 0.020))
    )
    conductivity, wall = _BASE_WALL
    outside = tube.outside_diameter
    walls = log(outside / tube.inside_diameter) / (2 * tube.conductivity)
    walls -= log(outside / (outside - 2 * wall)) / (2 * conductivity)
    base = 1 / (1 / _BASE + 1.1 / pi * product * spacing * walls)
    return 1 / (1 / (base * product) + (cover - full) / build_up.slab_conductivity)


def second_opinions(build_up: FloorBuildUp, output: FloorOutput) -> tuple[SecondOpinion, ...]:
    """The standard's and the trade's numbers beside ours.

    Parameters
    ----------
    build_up : FloorBuildUp
        The floor.
    output : FloorOutput
        What it gives.

    Returns
    -------
    tuple of SecondOpinion
        Floor over room by the basic curve and by the trade's rule, and flux by the power product.
    """
    excess = output.floor_mean - output.room_temperature
    water = output.water_temperature - output.room_temperature
    floor, flux = "mean of the floor over the room", "flux to the room"
    return (
        _opinion(
            floor,
            "EN 1264-2, basic characteristic curve",
            "K",
            excess,
            lambda: characteristic_excess(output.up),
        ),
        _opinion(
            floor,
            "rule of the trade, 2 Btu/h·ft² for each °F",
            "K",
            excess,
            lambda: trade_rule_excess(output.up),
        ),
        _opinion(flux, "EN 1264-2, type A", "W/m²", output.up, lambda: type_a_coefficient(build_up) * water),
    )


def _opinion(
    quantity: str, source: str, unit: str, ours: float, method: Callable[[], float]
) -> SecondOpinion:
    try:
        theirs = method()
    except ValueError as reason:
        return SecondOpinion(quantity, source, unit, ours, None, None, str(reason))
    return SecondOpinion(quantity, source, unit, ours, theirs, ours / theirs - 1 if theirs else None, "")


def _factors(spacing: float, finish: float) -> tuple[float, float, float]:
    """Factors of spacing, cover and diameter, straight between the tables' values."""
    resistances, spacing_factors, grid = _tables()
    cover_factor, diameter_factor = grid([[spacing, finish]])[0]
    return float(np.interp(finish, resistances, spacing_factors)), float(cover_factor), float(diameter_factor)


@cache
def _tables() -> tuple[list[float], list[float], RegularGridInterpolator]:
    first = tables.load("cen_en-1264-2_2008_table-a1").rows
    rows = tables.load("cen_en-1264-2_2008_tables-a2-a3").rows
    resistances = [float(row["finish_resistance"]) for row in first]
    spacings = sorted({float(row["spacing"]) for row in rows})
    values = [(float(row["cover_factor"]), float(row["diameter_factor"])) for row in rows]
    grid = np.array(values).reshape(len(spacings), len(resistances), 2)
    return (
        resistances,
        [float(row["spacing_factor"]) for row in first],
        RegularGridInterpolator((spacings, resistances), grid),
    )
