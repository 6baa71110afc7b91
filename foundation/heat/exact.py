"""Closed forms of heat in a half-space, to check the solver and to estimate by hand."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import quad

from foundation.heat.limits import positive

YEAR = 365.0 * 86400.0  # [s]


def strip_loss(width: float, ramp: float, conductivity: float, delta_t: float) -> float:
    r"""Heat lost through an endless floor strip on a half-space.

    The surface is warm on the strip, cold outside, and falls evenly over a ramp along each edge.

    Parameters
    ----------
    width : float
        Width L of the floor, > 0. [m]
    ramp : float
        Width W of each ramp, outside the floor, > 0. [m]
    conductivity : float
        Conductivity of the ground. [W/(m·K)]
    delta_t : float
        Floor above the outside surface. [K]

    Returns
    -------
    float
        Flow through the floor alone, [W/m]:
        :math:`(2 k \Delta T / \pi) [(1 + L/W) \ln(1 + W/L) + \ln(L/W)]`.

    Raises
    ------
    ValueError
        If a width is not positive.

    Examples
    --------
    >>> round(strip_loss(12.0, 0.24, 1.9, 20.0), 2)
    119.07
    """
    positive(width, "width", "m")
    positive(ramp, "ramp", "m")
    shape = (1 + width / ramp) * math.log1p(ramp / width) + math.log(width / ramp)
    return 2 * conductivity * delta_t / math.pi * shape


def rectangle_loss(length: float, breadth: float, ramp: float, conductivity: float, delta_t: float) -> float:
    r"""Heat lost through a rectangular floor on a half-space.

    The surface falls evenly over a ramp along each edge, mitred at the corners. A floor with a sharp edge at a
    distance s loses :math:`k \Delta T S(s)`, and the ramp is the mean over s [1]_.

    Parameters
    ----------
    length, breadth : float
        Sides of the floor, > 0. [m]
    ramp : float
        Width of the ramp, outside the floor, > 0. [m]
    conductivity : float
        Conductivity of the ground. [W/(m·K)]
    delta_t : float
        Floor above the outside surface. [K]

    Returns
    -------
    float
        Flow through the floor alone. [W]

    Raises
    ------
    ValueError
        If a length is not positive.

    References
    ----------
    .. [1] A. E. Delsante, A. N. Stokes, P. J. Walsh, *Application of Fourier transforms to periodic heat flow
       into the ground under a building*, 1983 [memory]; this closed form [derived].

    Examples
    --------
    >>> round(rectangle_loss(12.0, 12.0, 0.24, 1.9, 20.0), 2)
    2432.6
    """
    positive(length, "length", "m")
    positive(breadth, "breadth", "m")
    positive(ramp, "ramp", "m")

    def shape(offset: float) -> float:
        return (
            _potential(length + offset, breadth + offset)
            - _potential(length + offset, offset)
            - _potential(offset, breadth + offset)
            + _potential(offset, offset)
        )

    # s = W t³ takes the logarithm at the sharp edge out of the integrand.
    mean, _ = quad(lambda t: 3 * t**2 * shape(ramp * t**3), 0, 1, epsabs=0, epsrel=1e-10)
    return conductivity * delta_t * 2 / math.pi * mean


def damping_depth(diffusivity: float, period: float = YEAR) -> float:
    r"""Depth at which a wave at the surface has fallen to 1/e.

    Parameters
    ----------
    diffusivity : float
        Conductivity over volumetric heat capacity, > 0. [m²/s]
    period : float
        Period P of the wave, > 0. [s]

    Returns
    -------
    float
        Depth :math:`d = \sqrt{\alpha P / \pi}`. [m]

    Raises
    ------
    ValueError
        If an input is not positive.

    Examples
    --------
    >>> round(damping_depth(1.5 / 3.0e6), 2)
    2.24
    """
    positive(diffusivity, "diffusivity", "m²/s")
    positive(period, "period", "s")
    return math.sqrt(diffusivity * period / math.pi)


def half_space_wave(
    depth: float | NDArray[np.float64], diffusivity: float, period: float = YEAR
) -> complex | NDArray[np.complex128]:
    r"""Wave under the surface of a half-space whose surface swings by one.

    Parameters
    ----------
    depth : float or ndarray, shape (n,)
        Depth z below the surface. [m]
    diffusivity : float
        Conductivity over volumetric heat capacity, > 0. [m²/s]
    period : float
        Period of the wave, > 0. [s]

    Returns
    -------
    complex or ndarray of complex, shape (n,)
        :math:`e^{-(1 + i) z / d}`: its size is the amplitude, its angle the lead. [-]

    Examples
    --------
    >>> float(abs(half_space_wave(0.0, 5e-7)))
    1.0
    """
    return np.exp(-(1 + 1j) * depth / damping_depth(diffusivity, period))


def half_space_flux(conductivity: float, diffusivity: float, period: float = YEAR) -> complex:
    r"""Heat flux into a half-space whose surface swings by one kelvin.

    Parameters
    ----------
    conductivity : float
        Conductivity k of the ground. [W/(m·K)]
    diffusivity : float
        Conductivity over volumetric heat capacity, > 0. [m²/s]
    period : float
        Period of the wave, > 0. [s]

    Returns
    -------
    complex
        :math:`(1 + i) k / d`: 45° ahead of the surface. [W/(m²·K)]
    """
    return (1 + 1j) * conductivity / damping_depth(diffusivity, period)


def _potential(x: float, y: float) -> float:
    """G(x, y) = 2 √(x² + y²) − x asinh(x/y) − y asinh(y/x)."""
    return 2 * math.hypot(x, y) - x * math.asinh(x / y) - y * math.asinh(y / x)
