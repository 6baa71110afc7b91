"""Ground heat by formula, steady: the slabs and basements of ISO 13370.

Formulae [memory], checked against a published table of floor U-values. Against sections in two dimensions the
standard's steady coefficient runs from 13 % low to 8 % high [derived]: these are the standard's numbers.

References
----------
.. [1] ISO 13370:2017, *Thermal performance of buildings – Heat transfer via the ground – Calculation methods*.
"""

from __future__ import annotations

from math import log, pi

from foundation.heat.limits import not_negative, positive

INSIDE_DOWNWARD = 0.17  # film of a floor losing heat downward, ISO 13370 [memory] [m²·K/W]
INSIDE_HORIZONTAL = 0.13  # film of a wall [memory] [m²·K/W]
OUTSIDE = 0.04  # film of the ground's surface outside [memory] [m²·K/W]


def characteristic_dimension(area: float, perimeter: float) -> float:
    r"""Characteristic dimension of a floor, :math:`B' = A / (0.5 P)`.

    Parameters
    ----------
    area : float
        Floor area, > 0. [m²]
    perimeter : float
        Exposed perimeter, towards outside or unheated space, > 0. [m]

    Returns
    -------
    float
        Characteristic dimension. [m]

    Examples
    --------
    >>> characteristic_dimension(100.0, 40.0)
    5.0
    """
    positive(area, "the floor area", "m²")
    positive(perimeter, "the exposed perimeter", "m")
    return area / (0.5 * perimeter)


def equivalent_thickness(
    conductivity: float,
    resistance: float,
    *,
    wall_thickness: float = 0.0,
    inside: float = INSIDE_DOWNWARD,
    outside: float = OUTSIDE,
) -> float:
    r"""Thickness of ground that resists as a floor or basement wall does, films included.

    Floor :math:`d_t = w + \lambda (R_{si} + R_f + R_{se})`; wall :math:`d_w = \lambda (R_{si} + R_w + R_{se})`.

    Parameters
    ----------
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    resistance : float
        Of the floor or wall with its foam, films left out, ≥ 0. [m²·K/W]
    wall_thickness : float
        Full thickness of the walls round a floor; 0 for the wall of a basement. [m]
    inside : float
        Inside film; `INSIDE_HORIZONTAL` for a wall. [m²·K/W]
    outside : float
        Outside film. [m²·K/W]

    Returns
    -------
    float
        Equivalent thickness. [m]

    Examples
    --------
    >>> round(equivalent_thickness(1.5, 0.5, wall_thickness=0.3), 3)
    1.365
    """
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    not_negative(resistance, "the resistance", "m²·K/W")
    not_negative(wall_thickness, "the wall thickness", "m")
    return wall_thickness + conductivity * (inside + resistance + outside)


def slab_transmittance(dimension: float, thickness: float, conductivity: float) -> float:
    r"""U of a slab on grade with the ground under it.

    :math:`U_0 = \frac{2\lambda}{\pi B' + d_t} \ln(\pi B'/d_t + 1)` where :math:`d_t < B'`, and
    :math:`U_0 = \lambda / (0.457 B' + d_t)` elsewhere. At the joint the two differ by 0.013 %, since 0.457 is rounded.

    Parameters
    ----------
    dimension : float
        Characteristic dimension B', > 0. [m]
    thickness : float
        Equivalent thickness of the floor, > 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]

    Returns
    -------
    float
        Transmittance from inside air to outside air. [W/(m²·K)]

    Examples
    --------
    >>> round(slab_transmittance(20.0, 0.615, 1.5), 3)
    0.219
    """
    positive(dimension, "the characteristic dimension", "m")
    positive(thickness, "the equivalent thickness", "m")
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    if thickness < dimension:
        return 2 * conductivity / (pi * dimension + thickness) * log(pi * dimension / thickness + 1)
    return conductivity / (0.457 * dimension + thickness)


def edge_thickness(conductivity: float, foam_resistance: float, foam_thickness: float) -> float:
    r"""Extra equivalent thickness of edge foam, :math:`d' = (R_n - d_n/\lambda) \lambda`.

    Parameters
    ----------
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    foam_resistance : float
        Of the edge foam, ≥ 0. [m²·K/W]
    foam_thickness : float
        Of the edge foam, in the place of ground, ≥ 0. [m]

    Returns
    -------
    float
        Additional equivalent thickness. [m]
    """
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    not_negative(foam_resistance, "the resistance of the edge foam", "m²·K/W")
    not_negative(foam_thickness, "the thickness of the edge foam", "m")
    return foam_resistance * conductivity - foam_thickness


def edge_transmittance(
    depth: float, thickness: float, additional: float, conductivity: float, *, vertical: bool
) -> float:
    r"""Linear correction for edge foam, negative where it saves heat.

    :math:`\Psi = -\frac{\lambda}{\pi} [\ln(D/d_t + 1) - \ln(D/(d_t + d') + 1)]` for horizontal foam of width D;
    vertical foam of depth D takes 2D. Where an edge has both, the standard takes the larger saving alone.

    Parameters
    ----------
    depth : float
        Width of horizontal or depth of vertical foam, ≥ 0. [m]
    thickness : float
        Equivalent thickness of the floor, > 0. [m]
    additional : float
        Extra equivalent thickness d' of the edge foam. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    vertical : bool
        Whether the foam stands upright.

    Returns
    -------
    float
        Linear transmittance. [W/(m·K)]
    """
    not_negative(depth, "the width or depth of the edge foam", "m")
    positive(thickness, "the equivalent thickness", "m")
    positive(thickness + additional, "the equivalent thickness with the edge foam", "m")
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    reach = 2 * depth if vertical else depth
    return -conductivity / pi * (log(reach / thickness + 1) - log(reach / (thickness + additional) + 1))


def slab_coefficient(area: float, perimeter: float, transmittance: float, edge: float = 0.0) -> float:
    r"""Steady heat transfer coefficient of a slab on grade, :math:`H_g = A U_0 + P \Psi`.

    Parameters
    ----------
    area : float
        Floor area, > 0. [m²]
    perimeter : float
        Exposed perimeter, > 0. [m]
    transmittance : float
        U of the slab. [W/(m²·K)]
    edge : float
        Sum of the linear transmittances along the edge: its foam, and its wall junction if known. [W/(m·K)]

    Returns
    -------
    float
        Coefficient. [W/K]
    """
    positive(area, "the floor area", "m²")
    positive(perimeter, "the exposed perimeter", "m")
    return area * transmittance + perimeter * edge


def basement_floor_transmittance(
    dimension: float, thickness: float, conductivity: float, depth: float
) -> float:
    r"""U of a basement floor: the slab's formulae with :math:`d_t + z/2` in the place of :math:`d_t`.

    Parameters
    ----------
    dimension : float
        Characteristic dimension B', > 0. [m]
    thickness : float
        Equivalent thickness of the floor, > 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    depth : float
        Of the floor below grade, ≥ 0; the mean where it varies. [m]

    Returns
    -------
    float
        Transmittance. [W/(m²·K)]
    """
    not_negative(depth, "the depth of the basement floor", "m")
    positive(thickness, "the equivalent thickness", "m")
    return slab_transmittance(dimension, thickness + depth / 2, conductivity)


def basement_wall_transmittance(
    floor_thickness: float, wall_thickness: float, conductivity: float, depth: float
) -> float:
    r"""U of a basement wall below grade.

    :math:`U_{bw} = \frac{2\lambda}{\pi z} (1 + \frac{0.5 d_t}{d_t + z}) \ln(z/d_w + 1)`, with :math:`d_w` for
    :math:`d_t` where the wall is the thinner.

    Parameters
    ----------
    floor_thickness : float
        Equivalent thickness of the floor, > 0. [m]
    wall_thickness : float
        Equivalent thickness of the wall, > 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    depth : float
        Of the floor below grade, > 0. [m]

    Returns
    -------
    float
        Transmittance, mean over the depth. [W/(m²·K)]
    """
    positive(floor_thickness, "the equivalent thickness of the floor", "m")
    positive(wall_thickness, "the equivalent thickness of the wall", "m")
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    positive(depth, "the depth of the basement floor", "m")
    floor = min(floor_thickness, wall_thickness)
    corner = 1 + 0.5 * floor / (floor + depth)
    return 2 * conductivity / (pi * depth) * corner * log(depth / wall_thickness + 1)


def basement_coefficient(area: float, perimeter: float, depth: float, floor: float, wall: float) -> float:
    r"""Steady heat transfer coefficient of a heated basement, :math:`H_g = A U_{bf} + z P U_{bw}`.

    Parameters
    ----------
    area : float
        Floor area, > 0. [m²]
    perimeter : float
        Exposed perimeter, > 0. [m]
    depth : float
        Of the floor below grade, ≥ 0. [m]
    floor : float
        U of the floor. [W/(m²·K)]
    wall : float
        U of the walls below grade. [W/(m²·K)]

    Returns
    -------
    float
        Coefficient. [W/K]
    """
    not_negative(depth, "the depth of the basement floor", "m")
    return slab_coefficient(area, perimeter, floor, depth * wall)
