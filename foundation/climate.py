"""A place's year as one wave: degree days, days below, freezing index, and the wave back from them.

Degree days are counted in K·d, as the trade counts them; 1 °F·d is 5/9 K·d. A wave is a smoothed year: the freezing
index of its mean year is no design index, which belongs to the coldest winter in 30 or 100 years.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, cos, pi, sin

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq

YEAR = 365.0  # [d]
BASE = 65 / 1.8 - 32 / 1.8  # of heating degree days in North America, 65 °F [°C]
HOTTEST = 35.0  # warmest day's mean of a place that freezes; none known is warmer [practice] [°C]
WIDEST = 35.0  # amplitude; the most continental places on Earth reach about 32 [memory] [K]


@dataclass(frozen=True)
class AnnualWave:
    r"""Outdoor temperature over the year, :math:`T(t) = T_m - A \cos(2\pi t/365)`, t from the coldest day.

    Parameters
    ----------
    mean : float
        Yearly mean. [°C]
    amplitude : float
        Half of what lies between the coldest day and the warmest, ≥ 0. [K]

    Raises
    ------
    ValueError
        If the amplitude is below 0.

    Notes
    -----
    With :math:`D = (T_m - T_b)/A` and :math:`\theta = \arccos D`, the year is below a base for
    :math:`365\,\theta/\pi` days and :math:`(365/\pi)(A \sin\theta - (T_m - T_b)\theta)` degree days [derived].

    Examples
    --------
    >>> round(AnnualWave(10.0, 25 / 1.8).freezing_index * 1.8)  # [°F·d]
    412
    """

    mean: float
    amplitude: float

    def __post_init__(self) -> None:
        if not self.amplitude >= 0:
            raise ValueError(f"the yearly amplitude is {self.amplitude:g} K; it has to be 0 or more")

    def temperature(self, day: ArrayLike) -> NDArray[np.float64]:
        """Temperature on days of the year.

        Parameters
        ----------
        day : array_like, shape (n,)
            Days from the coldest day. [d]

        Returns
        -------
        ndarray, shape (n,)
            Temperatures. [°C]
        """
        return self.mean - self.amplitude * np.cos(2 * np.pi * np.asarray(day, dtype=float) / YEAR)

    def days_below(self, base: float) -> float:
        """Days of the year below a temperature.

        Parameters
        ----------
        base : float
            The temperature. [°C]

        Returns
        -------
        float
            Days. [d]
        """
        return YEAR * self._half_angle(base) / pi

    def degree_days_below(self, base: float = BASE) -> float:
        """Degree days of the year below a temperature: heating degree days, or a freezing index at 0 °C.

        Parameters
        ----------
        base : float
            The temperature. [°C]

        Returns
        -------
        float
            Degree days. [K·d]
        """
        angle = self._half_angle(base)
        return YEAR / pi * (self.amplitude * sin(angle) - (self.mean - base) * angle)

    @property
    def freezing_index(self) -> float:
        """Degree days below 0 °C. [K·d]"""
        return self.degree_days_below(0.0)

    def _half_angle(self, base: float) -> float:
        """Half of the year's turn that lies below the base: 0 never, π always. [rad]"""
        over = self.mean - base
        if over >= self.amplitude:
            return 0.0
        return pi if over <= -self.amplitude else acos(over / self.amplitude)


def wave_from_degree_days(
    degree_days: float,
    freezing_index: float,
    *,
    base: float = BASE,
    assumed_amplitude: float | None = None,
) -> AnnualWave:
    """The wave that has these heating degree days and this freezing index.

    Both have to be of the same year, or both means of many: a mean year's degree days beside a rare winter's design
    index give a wave of no place, which is refused.

    Parameters
    ----------
    degree_days : float
        Degree days below the base, > 0. [K·d]
    freezing_index : float
        Degree days below 0 °C of the same year, ≥ 0. [K·d]
    base : float
        Base of the degree days, > 0. [°C]
    assumed_amplitude : float, optional
        The amplitude to assume where the freezing index is 0 and leaves it open; unused elsewhere. [K]

    Returns
    -------
    AnnualWave
        The wave.

    Raises
    ------
    ValueError
        If no wave has both, if the wave is absurd, or if an index of 0 comes without an amplitude that fits it.

    Examples
    --------
    >>> wave = wave_from_degree_days(7858 / 1.8, 1341 / 1.8)
    >>> round(wave.mean * 1.8 + 32), round(wave.amplitude * 1.8)
    (45, 29)
    """
    if not base > 0:
        raise ValueError(f"the base of the degree days is {base:g} °C; it has to be above freezing, 0 °C")
    if not (0 < degree_days < np.inf):
        raise ValueError(f"the heating degree days are {degree_days:g} K·d; they have to be more than 0")
    if not (0 <= freezing_index < np.inf):
        raise ValueError(f"the freezing index is {freezing_index:g} K·d; it has to be 0 or more")
    if freezing_index == 0:
        return _without_frost(degree_days, base, assumed_amplitude)

    # With θ half the frozen turn, the index gives the amplitude and cos θ the mean; degree days rise with θ all the
    # way, from those of an endless summer (the index alone) to those of a year that never thaws.
    def wave(angle: float) -> AnnualWave:
        amplitude = freezing_index * pi / YEAR / (sin(angle) - cos(angle) * angle)
        return AnnualWave(amplitude * cos(angle), amplitude)

    least, most = wave(1e-3), wave(pi)
    low, high = least.degree_days_below(base), most.degree_days_below(base)
    together = f"{degree_days:.0f} K·d of heating and a freezing index of {freezing_index:.0f} K·d"
    if not low < degree_days < high:
        raise ValueError(
            f"no yearly wave has {together}: with this index the heating degree days lie between "
            f"{low:.0f} and {high:.0f} K·d; take both from the same year"
        )
    found = wave(_root(lambda angle: wave(angle).degree_days_below(base) - degree_days, 1e-3, pi))
    if found.mean + found.amplitude > HOTTEST or found.amplitude > WIDEST:
        raise ValueError(
            f"{together} would mean a year from {found.mean - found.amplitude:.0f} to "
            f"{found.mean + found.amplitude:.0f} °C (at most {HOTTEST:.0f} °C and ±{WIDEST:.0f} K are taken); "
            "take both from the same year, not a design winter's index beside a mean year's degree days"
        )
    return found


def freezing_index_by_curve(temperatures: ArrayLike) -> float:
    """Freezing index of one season: the highest less the lowest point after it of the cumulative curve.

    A thaw counts against it, so it is never more than the plain sum.

    Parameters
    ----------
    temperatures : array_like, shape (n,)
        Daily means, one season from summer to summer. [°C]

    Returns
    -------
    float
        Freezing index. [K·d]

    Raises
    ------
    ValueError
        If there are no temperatures, or one is missing.

    Examples
    --------
    >>> freezing_index_by_curve([6, -5, -5, 3, -5, 8])
    12.0
    """
    curve = np.concatenate([[0.0], np.cumsum(_daily(temperatures))])
    return float((np.maximum.accumulate(curve) - curve).max())


def freezing_index_by_sum(temperatures: ArrayLike) -> float:
    """Freezing index by the other definition: the sum of the cold days, thaws left out.

    Parameters
    ----------
    temperatures : array_like, shape (n,)
        Daily means. [°C]

    Returns
    -------
    float
        Sum of the degrees below 0 °C. [K·d]

    Raises
    ------
    ValueError
        If there are no temperatures, or one is missing.

    Examples
    --------
    >>> freezing_index_by_sum([6, -5, -5, 3, -5, 8])
    15.0
    """
    return float(np.maximum(-_daily(temperatures), 0).sum())


def _without_frost(degree_days: float, base: float, amplitude: float | None) -> AnnualWave:
    if amplitude is None:
        raise ValueError("a freezing index of 0 leaves the yearly amplitude open; state the one to assume")
    if not 0 <= amplitude <= WIDEST:
        raise ValueError(f"the assumed amplitude is {amplitude:g} K; it has to be from 0 to {WIDEST:.0f} K")
    coldest = AnnualWave(amplitude, amplitude)  # just touches freezing
    most = coldest.degree_days_below(base)
    if degree_days > most:
        raise ValueError(
            f"{degree_days:.0f} K·d of heating and ±{amplitude:g} K about the mean would freeze; without frost at most "
            f"{most:.0f} K·d, so assume a smaller amplitude or give the freezing index"
        )
    mean = _root(
        lambda mean: AnnualWave(mean, amplitude).degree_days_below(base) - degree_days,
        amplitude,
        base + amplitude,
    )
    return AnnualWave(mean, amplitude)


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    return float(brentq(function, low, high, xtol=1e-13, rtol=1e-14))


def _daily(temperatures: ArrayLike) -> NDArray[np.float64]:
    days = np.asarray(temperatures, dtype=float)
    if days.ndim != 1 or not days.size:
        raise ValueError(
            f"daily temperatures have shape {days.shape}; they have to be one row of at least one day"
        )
    if not np.isfinite(days).all():
        day = int(np.flatnonzero(~np.isfinite(days))[0]) + 1
        raise ValueError(f"the temperature of day {day} is missing; a season needs every day")
    return days
