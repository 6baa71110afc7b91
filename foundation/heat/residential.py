"""Residential below-grade walls and floors by formula, for a winter design day.

Equations [memory], checked against their printed three-decimal tables. Their temperature difference is inside minus the
ground's SURFACE temperature (yearly mean less the surface amplitude), not inside minus outdoor air.

References
----------
.. [1] ASHRAE Handbook – Fundamentals, chapter on residential cooling and heating load calculations.
"""

from __future__ import annotations

from math import log, pi

from foundation.heat.limits import not_negative, positive


def below_grade_wall_transmittance(
    top: float, bottom: float, conductivity: float, resistance: float
) -> float:
    r"""Mean U of a strip of basement wall, from the room to the ground's surface outside.

    :math:`U = \frac{2k}{\pi(z_2 - z_1)} [\ln(z_2 + 2kR/\pi) - \ln(z_1 + 2kR/\pi)]` [1]_.

    Parameters
    ----------
    top : float
        Depth of the strip's top below grade, ≥ 0. [m]
    bottom : float
        Depth of its bottom, > top. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    resistance : float
        Of the wall with foam and inside film, > 0. [m²·K/W]

    Returns
    -------
    float
        Mean transmittance. [W/(m²·K)]
    """
    not_negative(top, "the depth of the strip's top", "m")
    positive(bottom - top, "the height of the strip of wall", "m")
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    positive(resistance, "the resistance of the wall", "m²·K/W")
    path = 2 * conductivity * resistance / pi
    return 2 * conductivity / (pi * (bottom - top)) * log((bottom + path) / (top + path))


def below_grade_floor_transmittance(
    width: float, depth: float, conductivity: float, resistance: float
) -> float:
    r"""Mean U of a basement floor, from the room to the ground's surface outside.

    :math:`U = \frac{2k}{\pi w} [\ln(w/2 + z_f/2 + kR/\pi) - \ln(z_f/2 + kR/\pi)]` [1]_.

    Parameters
    ----------
    width : float
        Shorter width of the basement, > 0. [m]
    depth : float
        Of the floor below grade, ≥ 0. [m]
    conductivity : float
        Of the ground, > 0. [W/(m·K)]
    resistance : float
        Of the floor with foam and inside film, > 0. [m²·K/W]

    Returns
    -------
    float
        Mean transmittance. [W/(m²·K)]
    """
    positive(width, "the width of the basement", "m")
    not_negative(depth, "the depth of the basement floor", "m")
    positive(conductivity, "the conductivity of the ground", "W/(m·K)")
    positive(resistance, "the resistance of the floor", "m²·K/W")
    path = depth / 2 + conductivity * resistance / pi
    return 2 * conductivity / (pi * width) * log((width / 2 + path) / path)
