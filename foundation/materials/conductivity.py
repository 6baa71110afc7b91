"""Conductivity of soil from density and moisture, frozen and unfrozen.

References
----------
.. [1] Kersten, M. S. (1949), *Thermal properties of soils*, University of Minnesota Bulletin 28 [memory].
.. [2] Johansen, O. (1975), *Thermal conductivity of soils*, Trondheim; CRREL translation 637 [memory].
"""

from __future__ import annotations

from math import inf, log10

from foundation.materials.checks import in_range

POUND_PER_FOOT3 = 16.018463  # [kg/m³]
BTU_INCH = 0.144228  # one Btu·in/(h·ft²·°F) [W/(m·K)]
GRAINS = 2700.0  # density of soil solids in [2] [kg/m³]
WATER = 1000.0  # [kg/m³]


def saturated_moisture(dry_density: float) -> float:
    """Most water that the pores of a soil hold.

    Parameters
    ----------
    dry_density : float
        Dry density, 0 < density < 2700. [kg/m³]

    Returns
    -------
    float
        Water by dry mass, :math:`1000 (1/\\gamma_d - 1/2700)`. [-]

    Raises
    ------
    ValueError
        If the density is out of its range.

    Examples
    --------
    >>> round(saturated_moisture(1500), 3)
    0.296
    """
    in_range(dry_density, "the dry density of the soil", "kg/m³", GRAINS)
    return WATER * (1 / dry_density - 1 / GRAINS)


def kersten_conductivity(dry_density: float, moisture: float, *, fine: bool, frozen: bool) -> float:
    r"""Conductivity of soil by Kersten [1]_.

    With :math:`\gamma` in lb/ft³ and :math:`w` in %, in Btu·in/(h·ft²·°F): fine unfrozen
    :math:`(0.9 \log w - 0.2) 10^{0.01\gamma}`, frozen :math:`0.01 \cdot 10^{0.022\gamma} + 0.085 \cdot
    10^{0.008\gamma} w`; sandy unfrozen :math:`(0.7 \log w + 0.4) 10^{0.01\gamma}`, frozen :math:`0.076 \cdot
    10^{0.013\gamma} + 0.032 \cdot 10^{0.0146\gamma} w`.

    Parameters
    ----------
    dry_density : float
        Dry density, 0 < density < 2700. [kg/m³]
    moisture : float
        Water by dry mass, at least what `kersten_holds` asks for. [-]
    fine : bool
        Silt and clay; else sand and gravel.
    frozen : bool
        Whether it is frozen.

    Returns
    -------
    float
        Conductivity. [W/(m·K)]

    Raises
    ------
    ValueError
        If an input is out of its range.
    """
    in_range(dry_density, "the dry density of the soil", "kg/m³", GRAINS)
    least = _kersten_least(fine)
    if not least <= moisture < inf:
        raise ValueError(
            f"the moisture of the soil is {100 * moisture:g} % of dry mass; "
            f"Kersten's formula holds from {100 * least:g} %"
        )
    gamma, w = dry_density / POUND_PER_FOOT3, 100 * moisture
    if fine and frozen:
        k = 0.01 * 10 ** (0.022 * gamma) + 0.085 * 10 ** (0.008 * gamma) * w
    elif fine:
        k = (0.9 * log10(w) - 0.2) * 10 ** (0.01 * gamma)
    elif frozen:
        k = 0.076 * 10 ** (0.013 * gamma) + 0.032 * 10 ** (0.0146 * gamma) * w
    else:
        k = (0.7 * log10(w) + 0.4) * 10 ** (0.01 * gamma)
    return k * BTU_INCH


def kersten_holds(moisture: float, *, fine: bool) -> bool:
    """Whether a soil is moist enough for Kersten's formulas.

    Parameters
    ----------
    moisture : float
        Water by dry mass. [-]
    fine : bool
        Silt and clay; else sand and gravel.

    Returns
    -------
    bool
        True from 7 % in silt and clay, from 1 % in sand [memory].
    """
    return moisture >= _kersten_least(fine)


def johansen_conductivity(
    dry_density: float, moisture: float, quartz: float, *, fine: bool, frozen: bool
) -> float:
    r"""Conductivity of soil by Johansen [2]_.

    Between dry, :math:`(0.135\gamma + 64.7)/(2700 - 0.947\gamma)`, and saturated,
    :math:`k_s^{1-n} k_w^n` with :math:`k_s = 7.7^q k_o^{1-q}`, by the Kersten number: :math:`\log S + 1` fine,
    :math:`0.7 \log S + 1` coarse, :math:`S` frozen. All water is taken to freeze.

    Parameters
    ----------
    dry_density : float
        Dry density, 0 < density < 2700. [kg/m³]
    moisture : float
        Water by dry mass, ≥ 0; what the pores do not hold is not counted. [-]
    quartz : float
        Quartz in the solids, 0 to 1. [-]
    fine : bool
        Silt and clay; else sand and gravel.
    frozen : bool
        Whether it is frozen.

    Returns
    -------
    float
        Conductivity. [W/(m·K)]

    Raises
    ------
    ValueError
        If an input is out of its range.
    """
    full = saturated_moisture(dry_density)
    if not 0 <= moisture < inf:
        raise ValueError(
            f"the moisture of the soil is {100 * moisture:g} % of dry mass; it has to be 0 or more"
        )
    if not 0 <= quartz <= 1:
        raise ValueError(f"the quartz in the soil is {quartz:g} of its solids; it has to be from 0 to 1")
    saturation = min(moisture / full, 1.0)
    pores = 1 - dry_density / GRAINS
    others = 2.0 if quartz > 0.2 else 3.0
    solids = 7.7**quartz * others ** (1 - quartz)
    dry = (0.135 * dry_density + 64.7) / (GRAINS - 0.947 * dry_density)
    saturated = solids ** (1 - pores) * (2.2 if frozen else 0.57) ** pores
    if frozen:
        kersten = saturation
    else:
        kersten = max(0.0, (1.0 if fine else 0.7) * log10(saturation) + 1) if saturation > 0 else 0.0
    return dry + (saturated - dry) * kersten


def _kersten_least(fine: bool) -> float:
    return 0.07 if fine else 0.01
