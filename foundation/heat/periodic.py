"""Ground heat by formula, over the year: the periodic coefficients and monthly flow of ISO 13370.

Formulae [memory]; the inside coefficient is the exact admittance of a half-space under a layer. Against sections in two
dimensions the standard's outside coefficient runs 25–60 % high on slabs [derived].

References
----------
.. [1] ISO 13370:2017, *Thermal performance of buildings – Heat transfer via the ground – Calculation methods*.
"""

from __future__ import annotations

from math import cos, exp, log, pi, sqrt

from foundation.heat.limits import not_negative, positive

YEAR = 3.15e7  # as the standard rounds it [s]


def penetration_depth(conductivity: float, heat_capacity: float) -> float:
    r"""Depth at which the year's wave has faded to 1/e, :math:`\delta = \sqrt{3.15\cdot10^7 \lambda/(\pi\rho c)}`.

    Parameters
    ----------
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    heat_capacity : float
        Of the ground by volume, > 0. [J/(m³·K)]

    Returns
    -------
    float
        Periodic penetration depth. [m]

    Examples
    --------
    >>> round(penetration_depth(1.5, 3.0e6), 2)
    2.24
    """
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    positive(heat_capacity, "the heat capacity of the ground", "J/(m³·K)")
    return sqrt(YEAR * conductivity / (pi * heat_capacity))


def inside_periodic(area: float, thickness: float, conductivity: float, penetration: float) -> float:
    r"""Periodic coefficient to the inside swing, :math:`H_{pi} = A (\lambda/d) \sqrt{2/((1 + \delta/d)^2 + 1)}`.

    For a basement, add that of the walls: area :math:`zP` and the walls' own equivalent thickness.

    Parameters
    ----------
    area : float
        Of the floor or of the walls below grade, ≥ 0. [m²]
    thickness : float
        Equivalent thickness, > 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    penetration : float
        Periodic penetration depth, > 0. [m]

    Returns
    -------
    float
        Coefficient. [W/K]
    """
    not_negative(area, "the area", "m²")
    positive(thickness, "the equivalent thickness", "m")
    positive(penetration, "the penetration depth", "m")
    return area * conductivity / thickness * sqrt(2 / ((1 + penetration / thickness) ** 2 + 1))


def slab_outside_periodic(
    perimeter: float,
    thickness: float,
    conductivity: float,
    penetration: float,
    *,
    edge_depth: float = 0.0,
    additional: float = 0.0,
    vertical: bool = True,
) -> float:
    r"""Periodic coefficient of a slab on grade to the outside swing.

    :math:`H_{pe} = 0.37 P \lambda [(1 - e^{-2D/\delta}) \ln(\frac{\delta}{d_t + d'} + 1) + e^{-2D/\delta}
    \ln(\frac{\delta}{d_t} + 1)]`; horizontal foam takes D for 2D, and D = 0 is the plain edge.

    Parameters
    ----------
    perimeter : float
        Exposed perimeter, > 0. [m]
    thickness : float
        Equivalent thickness of the floor, > 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    penetration : float
        Periodic penetration depth, > 0. [m]
    edge_depth : float
        Width or depth D of the edge foam, ≥ 0. [m]
    additional : float
        Extra equivalent thickness d' of the edge foam. [m]
    vertical : bool
        Whether the foam stands upright.

    Returns
    -------
    float
        Coefficient. [W/K]
    """
    not_negative(edge_depth, "the width or depth of the edge foam", "m")
    positive(thickness, "the equivalent thickness", "m")
    positive(thickness + additional, "the equivalent thickness with the edge foam", "m")
    positive(penetration, "the penetration depth", "m")
    past = exp(-(2 * edge_depth if vertical else edge_depth) / penetration)
    behind = log(penetration / (thickness + additional) + 1)
    return 0.37 * perimeter * conductivity * ((1 - past) * behind + past * log(penetration / thickness + 1))


def basement_outside_periodic(
    perimeter: float,
    floor_thickness: float,
    wall_thickness: float,
    conductivity: float,
    penetration: float,
    depth: float,
) -> float:
    r"""Periodic coefficient of a heated basement to the outside swing.

    :math:`H_{pe} = 0.37 P \lambda [e^{-z/\delta} \ln(\delta/d_t + 1) + 2 (1 - e^{-z/\delta}) \ln(\delta/d_w + 1)]`.

    Parameters
    ----------
    perimeter : float
        Exposed perimeter, > 0. [m]
    floor_thickness : float
        Equivalent thickness of the floor, > 0. [m]
    wall_thickness : float
        Equivalent thickness of the wall, > 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    penetration : float
        Periodic penetration depth, > 0. [m]
    depth : float
        Of the floor below grade, ≥ 0. [m]

    Returns
    -------
    float
        Coefficient. [W/K]
    """
    not_negative(depth, "the depth of the basement floor", "m")
    floor = slab_outside_periodic(perimeter, floor_thickness, conductivity, penetration)
    wall = slab_outside_periodic(perimeter, wall_thickness, conductivity, penetration)
    past = exp(-depth / penetration)
    return past * floor + 2 * (1 - past) * wall


def monthly_heat_flow(
    month: float,
    coefficients: tuple[float, float, float],
    inside: tuple[float, float],
    outside: tuple[float, float],
    *,
    coldest: float = 1.0,
    inside_lead: float = 0.0,
    outside_lag: float = 1.0,
) -> float:
    r"""Heat flow through the ground in a month.

    :math:`\Phi_m = H_g(\bar\theta_i - \bar\theta_e) - H_{pi}\hat\theta_i \cos(2\pi(m - \tau + \alpha)/12)
    + H_{pe}\hat\theta_e \cos(2\pi(m - \tau - \beta)/12)`, both temperatures
    :math:`\theta = \bar\theta - \hat\theta \cos(2\pi(m - \tau)/12)`. The lags are [memory].

    Parameters
    ----------
    month : float
        Number of the month, 1 for January. [-]
    coefficients : tuple of float
        Steady, inside periodic and outside periodic coefficient. [W/K]
    inside : tuple of float
        Yearly mean [°C] and amplitude [K] inside.
    outside : tuple of float
        Yearly mean [°C] and amplitude [K] outside.
    coldest : float
        Number τ of the coldest month. [-]
    inside_lead : float
        Months α the flow runs ahead of the inside swing. [-]
    outside_lag : float
        Months β the flow runs behind the outside swing: 1, or 2 with foam outside the edge. [-]

    Returns
    -------
    float
        Heat flow out of the building. [W]
    """
    steady, periodic_inside, periodic_outside = coefficients
    swing_inside = inside[1] * cos(2 * pi * (month - coldest + inside_lead) / 12)
    swing_outside = outside[1] * cos(2 * pi * (month - coldest - outside_lag) / 12)
    mean = steady * (inside[0] - outside[0])
    return mean - periodic_inside * swing_inside + periodic_outside * swing_outside
