"""Properties of water and of propylene glycol in water; strength by volume and by mass are kept apart by name.

Drums and freezing tables go by volume, property tables by mass. Volumes are those of the two parts before mixing,
at 20 °C. One set of polynomials serves water as well: without glycol it is within 0.2 % of the international
formulation in density and heat capacity, and 1.3 % in viscosity and conductivity, from 0 to 100 °C.

References
----------
.. [1] Å. Melinder, *Properties of Secondary Working Fluids for Indirect Systems*, 2010 [read in public libraries].
.. [2] Lange's Handbook of Chemistry, 15th edition, Table 5.13 [read].
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from foundation import tables
from foundation.model.radiant import Fluid, FluidState
from foundation.radiant.limits import within

WATER = Fluid("water", 0.0)
STRONGEST = 0.6
"""Most glycol that the properties hold for, by mass [1]_. [-]"""
LOWEST, HIGHEST = -35.0, 100.0
"""Temperatures that they hold between [1]_; water from 0 °C. [°C]"""

_GLYCOL_DENSITY, _WATER_DENSITY = 1036.1, 998.2  # pure, at 20 °C [memory] [kg/m³]
_CENTRE_MASS_PERCENT = 30.7031  # that the powers of [1] are taken about
_CENTRE_TEMPERATURE = 32.7083  # [°C]


def propylene_glycol(volume_fraction: float) -> Fluid:
    """Propylene glycol in water, by volume.

    Parameters
    ----------
    volume_fraction : float
        Glycol over glycol and water, volumes before mixing. [-]

    Returns
    -------
    Fluid
        The mixture; water for 0.

    Raises
    ------
    ValueError
        If it is stronger than its properties are known for, or less than 0.

    Examples
    --------
    >>> propylene_glycol(0.4).name
    'propylene glycol 40 % by volume (41 % by mass)'
    """
    strongest = volume_fraction_from_mass(STRONGEST)
    within(100 * volume_fraction, 0.0, 100 * strongest, "the glycol", "% by volume")
    return propylene_glycol_by_mass(mass_fraction_from_volume(volume_fraction))


def propylene_glycol_by_mass(mass_fraction: float) -> Fluid:
    """Propylene glycol in water, by mass.

    Parameters
    ----------
    mass_fraction : float
        Glycol over all. [-]

    Returns
    -------
    Fluid
        The mixture; water for 0.

    Raises
    ------
    ValueError
        If it is stronger than its properties are known for, or less than 0.
    """
    within(100 * mass_fraction, 0.0, 100 * STRONGEST, "the glycol", "% by mass")
    if mass_fraction == 0:
        return WATER
    by_volume = 100 * volume_fraction_from_mass(mass_fraction)
    by_mass = 100 * mass_fraction
    return Fluid(f"propylene glycol {by_volume:.0f} % by volume ({by_mass:.0f} % by mass)", mass_fraction)


def mass_fraction_from_volume(volume_fraction: float) -> float:
    """Strength by mass from strength by volume.

    Parameters
    ----------
    volume_fraction : float
        Glycol over glycol and water, volumes before mixing at 20 °C. [-]

    Returns
    -------
    float
        Glycol over all, by mass. [-]

    Examples
    --------
    >>> round(mass_fraction_from_volume(0.5), 3)
    0.509
    """
    glycol = volume_fraction * _GLYCOL_DENSITY
    return glycol / (glycol + (1 - volume_fraction) * _WATER_DENSITY)


def volume_fraction_from_mass(mass_fraction: float) -> float:
    """Strength by volume from strength by mass.

    Parameters
    ----------
    mass_fraction : float
        Glycol over all, by mass. [-]

    Returns
    -------
    float
        Glycol over glycol and water, volumes before mixing at 20 °C. [-]
    """
    glycol = mass_fraction / _GLYCOL_DENSITY
    return glycol / (glycol + (1 - mass_fraction) / _WATER_DENSITY)


def freezing_temperature(fluid: Fluid) -> float:
    """Where the first crystals form, by the glycol's volume [2]_, straight between its values.

    Parameters
    ----------
    fluid : Fluid
        The fluid.

    Returns
    -------
    float
        Freezing point of pure glycol and water; an inhibited glycol goes by its maker's table. [°C]

    Raises
    ------
    ValueError
        If it is stronger than the table goes, 50 % by volume.
    """
    rows = tables.load("lange_handbook-of-chemistry_15th_table-5.13").rows
    percents = [0.0, *(float(row["volume_percent"]) for row in rows)]
    points = [0.0, *((float(row["freezing_point"]) - 32) / 1.8 for row in rows)]
    # Rounded, since a strength typed as 50 % comes back from its mass with a last digit of its own.
    percent = round(100 * volume_fraction_from_mass(fluid.glycol_mass_fraction), 9)
    within(percent, 0.0, percents[-1], "the glycol in the freezing table", "% by volume")
    return float(np.interp(percent, percents, points))


def fluid_state(fluid: Fluid, temperature: float) -> FluidState:
    """Properties of a fluid.

    Parameters
    ----------
    fluid : Fluid
        The fluid.
    temperature : float
        Its temperature, to 100 °C; from 0 °C for water, from -35 °C for a mixture. [°C]

    Returns
    -------
    FluidState
        Density, heat capacity, viscosity, conductivity.

    Raises
    ------
    ValueError
        If the temperature is out of that range.
    """
    lowest = LOWEST if fluid.glycol_mass_fraction else 0.0
    within(temperature, lowest, HIGHEST, f"the temperature of the {fluid.name}", "°C")
    powers, coefficients = _coefficients()
    about = np.array(
        (100 * fluid.glycol_mass_fraction - _CENTRE_MASS_PERCENT, temperature - _CENTRE_TEMPERATURE)
    )
    density, heat_capacity, conductivity, viscosity = np.prod(about**powers, axis=1) @ coefficients
    return FluidState(
        temperature=temperature,
        density=float(density),
        heat_capacity=float(heat_capacity),
        viscosity=1e-3 * float(np.exp(viscosity)),
        conductivity=float(conductivity),
    )


@cache
def _coefficients() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Powers of strength and temperature, and what goes with them for each property."""
    rows = tables.load("melinder_secondary-working-fluids_2010_propylene-glycol").rows
    powers = [[float(row["mass_percent_power"]), float(row["temperature_power"])] for row in rows]
    names = ("density", "heat_capacity", "conductivity", "log_viscosity")
    return np.array(powers), np.array([[float(row[name]) for name in names] for row in rows])
