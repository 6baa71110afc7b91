"""Depth of frost from a freezing index: Stefan's, and modified Berggren's by Neumann's equation.

A cross-check beside the depth the local office asks for, never in its place.

References
----------
.. [1] UFC 3-130-06 and TM 5-852-6, *Calculation methods for determination of depths of freeze and thaw in soils*.
"""

from __future__ import annotations

from math import exp, pi, sqrt

from scipy.optimize import brentq
from scipy.special import erf, erfcx

DAY = 86400.0  # [s]
FUSION = 144 * 2326.0  # latent heat of water as [1] rounds it, 144 Btu/lb [J/kg]
SPECIFIC = 4186.8  # one Btu/(lb·°F) [J/(kg·K)]


def latent_heat(dry_density: float, water_content: float) -> float:
    r"""Latent heat of a soil by volume, :math:`L = 144\,\gamma_d w` in the units of [1]_.

    Parameters
    ----------
    dry_density : float
        Of the soil, > 0. [kg/m³]
    water_content : float
        Water by dry mass, > 0; 0.15 for 15 %. [-]

    Returns
    -------
    float
        Latent heat. [J/m³]
    """
    _positive(dry_density, "the dry density of the soil", "kg/m³")
    _positive(water_content, "the water content of the soil", "of dry mass")
    return FUSION * dry_density * water_content


def heat_capacity(dry_density: float, water_content: float) -> float:
    r"""Heat capacity of a soil by volume, mean of frozen and unfrozen, :math:`C = \gamma_d (0.17 + 0.75 w)` in [1]_.

    Parameters
    ----------
    dry_density : float
        Of the soil, > 0. [kg/m³]
    water_content : float
        Water by dry mass, > 0. [-]

    Returns
    -------
    float
        Heat capacity. [J/(m³·K)]
    """
    _positive(dry_density, "the dry density of the soil", "kg/m³")
    _positive(water_content, "the water content of the soil", "of dry mass")
    return SPECIFIC * dry_density * (0.17 + 0.75 * water_content)


def stefan_depth(surface_index: float, conductivity: float, latent: float) -> float:
    r"""Depth of frost if the soil held no heat but its water's, :math:`X = \sqrt{2 \cdot 86400\, k\, nF / L}`.

    Parameters
    ----------
    surface_index : float
        Freezing index of the ground's surface, the air's times the n-factor, ≥ 0. [K·d]
    conductivity : float
        Of the soil; [1]_ takes the mean of frozen and unfrozen, > 0. [W/(m·K)]
    latent : float
        Latent heat of the soil, > 0. [J/m³]

    Returns
    -------
    float
        Depth below the surface; at least the true one. [m]
    """
    if not surface_index >= 0:
        raise ValueError(f"the surface freezing index is {surface_index:g} K·d; it has to be 0 or more")
    _positive(conductivity, "the conductivity of the soil", "W/(m·K)")
    _positive(latent, "the latent heat of the soil", "J/m³")
    return sqrt(2 * DAY * conductivity * surface_index / latent)


def berggren_coefficient(thermal_ratio: float, fusion_parameter: float) -> float:
    r"""Coefficient λ that takes Stefan's depth down to Neumann's, for equal properties frozen and unfrozen.

    :math:`\frac{e^{-z^2}}{\operatorname{erf} z} - \alpha \frac{e^{-z^2}}{\operatorname{erfc} z} =
    \frac{\sqrt\pi z}{\mu}`, :math:`\lambda = z \sqrt{2/\mu}` [derived]; [1]_ prints it as a chart.

    Parameters
    ----------
    thermal_ratio : float
        Yearly mean above freezing over the season's surface mean below it, α = v₀/vₛ, ≥ 0. [-]
    fusion_parameter : float
        Heat to cool over heat to freeze, µ = vₛ C/L, > 0. [-]

    Returns
    -------
    float
        Coefficient, from 0 to 1. [-]

    Examples
    --------
    >>> round(berggren_coefficient(0.333, 0.204), 2)
    0.9
    """
    if not thermal_ratio >= 0:
        raise ValueError(
            f"the thermal ratio is {thermal_ratio:g}; it has to be 0 or more: below that the ground stays frozen"
        )
    _positive(fusion_parameter, "the fusion parameter", "")

    # Times z, so that it stays finite at the surface; exp(−z²)/erfc z = 1/erfcx z stays finite in the deep.
    def balance(z: float) -> float:
        frozen = sqrt(pi) / 2 if z == 0 else z * exp(-z * z) / float(erf(z))
        return frozen - thermal_ratio * z / float(erfcx(z)) - sqrt(pi) * z * z / fusion_parameter

    stefan = sqrt(fusion_parameter / 2)  # λ = 1: the balance is never above 0 here
    return float(brentq(balance, 0.0, stefan, xtol=1e-15, rtol=1e-13)) / stefan


def modified_berggren_depth(
    surface_index: float,
    days: float,
    yearly_mean: float,
    conductivity: float,
    dry_density: float,
    water_content: float,
) -> float:
    r"""Depth of frost by the modified Berggren formula, :math:`X = \lambda \sqrt{2 \cdot 86400\, k\, nF / L}`.

    Parameters
    ----------
    surface_index : float
        Freezing index of the ground's surface, ≥ 0. [K·d]
    days : float
        Length of the freezing season, > 0. [d]
    yearly_mean : float
        Yearly mean temperature, ≥ 0. [°C]
    conductivity : float
        Mean of frozen and unfrozen soil, > 0. [W/(m·K)]
    dry_density : float
        Of the soil, > 0. [kg/m³]
    water_content : float
        Water by dry mass, > 0. [-]

    Returns
    -------
    float
        Depth below the surface. [m]

    Raises
    ------
    ValueError
        If a value is out of its range; under a yearly mean below freezing the ground stays frozen.
    """
    _positive(days, "the length of the freezing season", "d")
    if not yearly_mean >= 0:
        raise ValueError(
            f"the yearly mean is {yearly_mean:g} °C; it has to be 0 °C or more: below that the ground stays frozen"
        )
    latent = latent_heat(dry_density, water_content)
    depth = stefan_depth(surface_index, conductivity, latent)
    if surface_index == 0:
        return 0.0
    below = surface_index / days
    fusion = below * heat_capacity(dry_density, water_content) / latent
    return depth * berggren_coefficient(yearly_mean / below, fusion)


def _positive(value: float, name: str, unit: str) -> None:
    if not value > 0:
        raise ValueError(f"{name} is {value:g} {unit}".rstrip() + "; it has to be more than 0")
