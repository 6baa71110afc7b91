"""A place's year as one wave: degree days, days below, freezing index, and the wave back from them.

Degree days are counted in K·d, as the trade counts them; 1 °F·d is 5/9 K·d. A wave is a smoothed year: the freezing
index of its mean year is no design index, which belongs to the coldest winter in 30 or 100 years.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import acos, cos, hypot, pi, sin

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq

YEAR = 365.0  # [d]
BASE = 65 / 1.8 - 32 / 1.8  # of heating degree days in North America, 65 °F [°C]
HOTTEST = 35.0  # warmest day's mean of a place that freezes; none known is warmer [practice] [°C]
WIDEST = 35.0  # amplitude; the most continental places on Earth reach about 32 [memory] [K]
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
OFF = (
    6.0  # most that one month may lie off the wave; of 270 towns of the world none lies 3.4 off [derived] [K]
)


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
    if _absurd(found):
        raise ValueError(
            f"{together} would mean a year {_span(found)}; "
            "take both from the same year, not a design winter's index beside a mean year's degree days"
        )
    return found


def wave_from_swing(degree_days: float, amplitude: float, *, base: float = BASE) -> AnnualWave:
    """The wave that has these heating degree days, of a stated amplitude.

    Parameters
    ----------
    degree_days : float
        Degree days below the base, > 0. [K·d]
    amplitude : float
        The amplitude, typed or assumed. [K]
    base : float
        Base of the degree days. [°C]

    Returns
    -------
    AnnualWave
        The wave.

    Raises
    ------
    ValueError
        If a value is out of its range, or the wave is absurd.

    Examples
    --------
    >>> round(wave_from_swing(7858 / 1.8, 29 / 1.8).mean * 1.8 + 32)
    45
    """
    if not (0 < degree_days < np.inf):
        raise ValueError(f"the heating degree days are {degree_days:g} K·d; they have to be more than 0")
    if not 0 <= amplitude <= WIDEST:
        raise ValueError(f"the yearly amplitude is {amplitude:g} K; it has to be from 0 to {WIDEST:.0f} K")
    # No year has fewer degree days than one that is below the base all along.
    found = _root(
        lambda mean: AnnualWave(mean, amplitude).degree_days_below(base) - degree_days,
        base - degree_days / YEAR - 1e-6,
        base + amplitude,
    )
    wave = AnnualWave(found, amplitude)
    if _absurd(wave):
        raise ValueError(
            f"{degree_days:.0f} K·d of heating and ±{amplitude:g} K about the mean would mean a year {_span(wave)}; "
            "check the degree days and their base, or state a smaller amplitude"
        )
    return wave


def wave_from_months(means: ArrayLike) -> AnnualWave:
    """The wave whose months fit twelve monthly means best, in least squares.

    A month's mean is less extreme than its coldest day; the fit is to the wave's own monthly means.

    Parameters
    ----------
    means : array_like, shape (12,)
        Mean of each month from January on. [°C]

    Returns
    -------
    AnnualWave
        The wave.

    Raises
    ------
    ValueError
        If they are not twelve, if one lies far off the others' wave, or if the wave is absurd.

    Examples
    --------
    >>> wave = wave_from_months([-9, -8, -2, 5, 12, 17, 20, 19, 14, 8, 2, -6])
    >>> round(wave.mean, 1), round(wave.amplitude, 1)
    (6.1, 14.5)
    """
    typed = np.asarray(means, dtype=float)
    if typed.shape != (12,) or not np.isfinite(typed).all():
        raise ValueError("the monthly means have to be twelve temperatures, from January on")
    ends = 2 * pi / YEAR * np.concatenate([[0], np.cumsum(MONTH_DAYS)])
    width = np.diff(ends)
    columns = np.column_stack([np.ones(12), np.diff(np.sin(ends)) / width, -np.diff(np.cos(ends)) / width])
    mean, cosine, sine = np.linalg.lstsq(columns, typed, rcond=None)[0]
    off = typed - columns @ (mean, cosine, sine)
    worst = int(np.argmax(np.abs(off)))
    if abs(off[worst]) > OFF:
        given, fitted = (
            f"{t * 1.8 + 32:.0f} °F ({t:.0f} °C)" for t in (typed[worst], typed[worst] - off[worst])
        )
        raise ValueError(
            f"month {worst + 1} is {given}, the yearly wave of all twelve has {fitted} there; check its sign and unit"
        )
    wave = AnnualWave(float(mean), hypot(cosine, sine))
    if _absurd(wave):
        raise ValueError(f"these monthly means make a year {_span(wave)}; check their unit")
    return wave


def wave_from_mean(mean: float, freezing_index: float) -> AnnualWave:
    """The wave of a given mean that has this freezing index: how long such a winter freezes.

    Parameters
    ----------
    mean : float
        Yearly mean. [°C]
    freezing_index : float
        Freezing index, more than the mean alone makes it. [K·d]

    Returns
    -------
    AnnualWave
        The wave.

    Raises
    ------
    ValueError
        If no wave has both.

    Examples
    --------
    >>> wave = wave_from_mean(13 / 1.8, 1341 / 1.8)
    >>> round(wave.amplitude * 1.8), round(wave.days_below(0.0))
    (29, 128)
    """
    least = max(0.0, -mean * YEAR)
    if not (least < freezing_index < np.inf):
        raise ValueError(
            f"no yearly wave about {mean:.1f} °C has a freezing index of {freezing_index:.0f} K·d; it has to be more "
            f"than {least:.0f} K·d"
        )
    # A sin θ ≥ A − |mean| and θ ≤ π bound it; about a mean of 0 the bound is the answer itself, so a little more.
    most = 1.001 * (freezing_index * pi / YEAR + (1 + pi) * abs(mean))
    found = _root(lambda size: AnnualWave(mean, size).freezing_index - freezing_index, abs(mean), most)
    return AnnualWave(mean, found)


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
    wave = wave_from_swing(degree_days, amplitude, base=base)
    if wave.mean < amplitude:
        most = AnnualWave(amplitude, amplitude).degree_days_below(base)  # just touches freezing
        raise ValueError(
            f"{degree_days:.0f} K·d of heating and ±{amplitude:g} K about the mean would freeze; without frost at most "
            f"{most:.0f} K·d, so assume a smaller amplitude or give the freezing index"
        )
    return wave


def _absurd(wave: AnnualWave) -> bool:
    return wave.mean + wave.amplitude > HOTTEST or wave.amplitude > WIDEST


def _span(wave: AnnualWave) -> str:
    return (
        f"from {wave.mean - wave.amplitude:.0f} to {wave.mean + wave.amplitude:.0f} °C "
        f"(at most {HOTTEST:.0f} °C and ±{WIDEST:.0f} K are taken)"
    )


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
