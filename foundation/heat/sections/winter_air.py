"""Outdoor air of a design winter: a mean year's wave whose cold half is stretched."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy.optimize import brentq

from foundation.heat.limits import not_negative

DAYS = 365.0
"""Length of the year. [d]"""
TURN = 2 * math.pi / DAYS


@dataclass(frozen=True)
class WinterAir:
    r"""A mean year's wave, :math:`T_m - A \cos(2\pi t/365)`, with a larger swing below its mean.

    The two halves meet at the mean, in autumn and in spring: the air is joined there, its slope bends. A design winter
    so made freezes as long as the whole wave of its swing about the same mean would.

    Attributes
    ----------
    mean : float
        Yearly mean of the mean year. [°C]
    amplitude : float
        Swing of the half above it. [K]
    colder : float
        Swing of the half below it. [K]
    """

    mean: float
    amplitude: float
    colder: float

    def temperature(self, day: float) -> float:
        """Air on a day.

        Parameters
        ----------
        day : float
            Days after the coldest one, from half a year before it to half a year after. [d]

        Returns
        -------
        float
            Temperature. [°C]
        """
        turn = math.cos(TURN * day)
        return self.mean - (self.colder if turn > 0 else self.amplitude) * turn

    @property
    def freezing_index(self) -> float:
        r"""Degree days below 0 °C [K·d].

        :math:`(365/\pi)(B \sin\theta - T_m \theta)` of the cold half, θ being half its frozen turn [derived]; about a
        mean below freezing the warm half adds :math:`(365/\pi)(-T_m u - A(1 - \cos u))`, :math:`A \sin u = -T_m`.
        """
        if self.colder > self.mean > 0:
            theta = math.acos(self.mean / self.colder)
        else:
            theta = 0.0 if self.mean > 0 else math.pi / 2
        return DAYS / math.pi * (self.colder * math.sin(theta) - self.mean * theta) + _warm_half(
            self.mean, self.amplitude
        )

    @property
    def thaws(self) -> float:
        """Day from which on it is above 0 °C again; half a year where that does not come. [d]"""
        swing = self.colder if self.mean > 0 else self.amplitude
        if swing <= abs(self.mean):
            return 0.0 if self.mean > 0 else DAYS / 2
        return math.acos(self.mean / swing) / TURN


def winter_air(mean: float, amplitude: float, index: float) -> WinterAir:
    """Air of a mean year with a design winter.

    Parameters
    ----------
    mean : float
        Yearly mean of the mean year. [°C]
    amplitude : float
        Of its wave, ≥ 0. [K]
    index : float
        Freezing index of the design winter. [K·d]

    Returns
    -------
    WinterAir
        With just that index; with the wave's own index the wave.

    Raises
    ------
    ValueError
        If the amplitude is below 0, or about this mean no winter is so mild.

    Examples
    --------
    >>> air = winter_air(7.2, 16.1, 1389.0)
    >>> round(air.temperature(0.0), 1), round(air.temperature(182.5), 1), round(air.freezing_index, 6)
    (-14.9, 23.3, 1389.0)
    """
    not_negative(amplitude, "the yearly amplitude", "K")
    least = WinterAir(mean, amplitude, max(mean, 0.0)).freezing_index
    if not least < index < math.inf:
        raise ValueError(
            f"The design winter's freezing index is {index:g} K·d; about a mean of {mean:.1f} °C it has to be more "
            f"than {least:.0f} K·d."
        )
    # The cold half has at least 365 B/π - 365 Tm/2, all of it where the mean is no higher than 0 °C.
    most = math.pi * index / DAYS + math.pi / 2 * mean - math.pi / DAYS * _warm_half(mean, amplitude)
    if mean <= 0:
        return WinterAir(mean, amplitude, most)

    def over(swing: float) -> float:
        return WinterAir(mean, amplitude, swing).freezing_index - index

    return WinterAir(mean, amplitude, brentq(over, mean, most, xtol=1e-13, rtol=1e-14))


def _warm_half(mean: float, amplitude: float) -> float:
    """Degree days below 0 °C of the half above the mean. [K·d]"""
    if mean >= 0:
        return 0.0
    turn = math.asin(-mean / amplitude) if amplitude > -mean else math.pi / 2
    return DAYS / math.pi * (-mean * turn - amplitude * (1 - math.cos(turn)))
