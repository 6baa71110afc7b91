"""The year that daily temperatures make: its wave, its degree days, its winters' freezing indexes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from math import atan2, hypot, pi

import numpy as np
from numpy.typing import NDArray

from foundation.climate import BASE, AnnualWave, freezing_index_by_curve, freezing_index_by_sum
from foundation.weather.text import WeatherError, read_days

GAP = 5  # days in a row that a straight line may bridge [practice] [d]
BRIDGED = 0.05  # share of all days that may be bridged [practice] [-]
SUMMERLESS = 5.0  # a file whose warmest day is colder has the wrong unit [practice] [°C]
NEAR_MIDSUMMER = 30  # ends of a file so near midsummer cut no winter [practice] [d]


@dataclass(frozen=True)
class Winter:
    """One season, cut at midsummer.

    Attributes
    ----------
    name : str
        Its years.
    by_curve : float
        Freezing index by the cumulative curve, thaws counted against it. [K·d]
    by_sum : float
        Plain sum of the cold days. [K·d]
    """

    name: str
    by_curve: float
    by_sum: float


@dataclass(frozen=True, eq=False)
class WeatherYear:
    """What a weather file says; n days that are whole years.

    Attributes
    ----------
    first : date
        First day.
    temperature : ndarray, shape (n,)
        Mean of each day's highest and lowest, gaps bridged. [°C]
    years : int
        Whole years. [-]
    wave : AnnualWave
        Harmonic of one year, fitted in least squares.
    coldest : date
        Coldest day of that harmonic, in the first year.
    winters : tuple of Winter
        As many as years; where the file starts and ends in the cold season, its ends are joined to one.
    notes : tuple of str
        What was bridged, joined or left out, one clause each.
    """

    first: date
    temperature: NDArray[np.float64]
    years: int
    wave: AnnualWave
    coldest: date
    winters: tuple[Winter, ...]
    notes: tuple[str, ...]

    @property
    def last(self) -> date:
        """Last day."""
        return self.first + timedelta(len(self.temperature) - 1)

    @property
    def by_curve(self) -> float:
        """Mean of the winters' freezing indexes by the curve. [K·d]"""
        return float(np.mean([winter.by_curve for winter in self.winters]))

    @property
    def by_sum(self) -> float:
        """Mean of the winters' freezing indexes by the plain sum. [K·d]"""
        return float(np.mean([winter.by_sum for winter in self.winters]))

    @property
    def worst_by_curve(self) -> float:
        """Freezing index of the coldest winter, by the curve. [K·d]"""
        return max(winter.by_curve for winter in self.winters)

    def degree_days_below(self, base: float = BASE) -> float:
        """Heating degree days by the days' means, mean of the years.

        Parameters
        ----------
        base : float
            Their base. [°C]

        Returns
        -------
        float
            Degree days. [K·d]
        """
        return float(np.maximum(base - self.temperature, 0).sum()) / self.years


@lru_cache(maxsize=4)
def read_weather(text: str, name: str = "weather file") -> WeatherYear:
    """Read daily or hourly temperatures and fit the year.

    A line names the columns and their unit, °F or °C: a date with min and max or with a mean, or a time with a
    temperature. Other lines before it, blank lines and lines that start with ``#`` are skipped; commas, semicolons or
    tabs separate. Empty values are missing: up to 5 days in a row, and 1 day in 20, are bridged by a straight line. A
    typical year, whose months come from different years, is taken as one.

    Parameters
    ----------
    text : str
        The file.
    name : str
        What sentences call it.

    Returns
    -------
    WeatherYear
        The mean year, over as many whole years as the file has.

    Raises
    ------
    WeatherError
        If no whole year can be read; its sentences name line, value and what would do.
    """
    days = read_days(text, name)
    notes = list(days.notes)
    temperature, years = _whole_years(days.first, days.mean, name, notes)
    if temperature.max() < SUMMERLESS:
        raise WeatherError(
            f"{name}: the warmest day is {temperature.max() * 1.8 + 32:.0f} °F ({temperature.max():.0f} °C); "
            "check the unit in the header."
        )
    # Over whole years sine and cosine are orthogonal on the days: the least-squares fit is a projection.
    count = len(temperature)
    angle = 2 * pi * years * (np.arange(count) + 0.5) / count
    cosine, sine = (2 / count * float(temperature @ column) for column in (np.cos(angle), np.sin(angle)))
    turn = count / years / (2 * pi)
    coldest = atan2(-sine, -cosine) % (2 * pi) * turn
    midsummer = round((coldest + pi * turn) % (count / years))
    return WeatherYear(
        first=days.first,
        temperature=temperature,
        years=years,
        wave=AnnualWave(float(temperature.mean()), hypot(cosine, sine)),
        coldest=days.first + timedelta(int(coldest)),
        winters=_winters(days.first, temperature, years, midsummer, notes),
        notes=tuple(notes),
    )


def _whole_years(
    first: date, mean: NDArray[np.float64], name: str, notes: list[str]
) -> tuple[NDArray[np.float64], int]:
    """Days of the whole years from the first day on, gaps bridged, and how many years."""
    spans = [(_later(first, years) - first).days for years in range(len(mean) // 365 + 2)]
    years = max(count for count, span in enumerate(spans) if span <= len(mean) + GAP)
    last = first + timedelta(len(mean) - 1)
    if years == 0:
        raise WeatherError(
            f"{name} has {len(mean)} days, {first} to {last}; give at least one whole year, "
            "two or more for a mean year."
        )
    span = spans[years]
    if len(mean) > span:
        notes.append(f"the {len(mean) - span} days after the last whole year are left out")
    days = np.full(span, np.nan)
    days[: len(mean)] = mean[:span]
    missing = np.isnan(days)
    if missing.any():
        _refuse_gaps(first, missing, name)
        known = np.flatnonzero(~missing)
        # The year closes: what is missing at its end lies between the last day and the first.
        days[missing] = np.interp(np.flatnonzero(missing), known, days[known], period=span)
        notes.append(f"{missing.sum()} of {span} days are missing and bridged by straight lines")
    return days, years


def _later(day: date, years: int) -> date:
    """The same day of a later year; from 29 February on, 1 March."""
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return date(day.year + years, 3, 1)


def _refuse_gaps(first: date, missing: NDArray[np.bool_], name: str) -> None:
    edges = np.flatnonzero(np.diff(np.concatenate([[False], missing, [False]]).astype(int)))
    gaps = [(int(start), int(end)) for start, end in zip(edges[::2], edges[1::2], strict=True)]
    if long := [(start, end) for start, end in gaps if end - start > GAP]:
        raise WeatherError(
            *(
                f"{name} lacks {first + timedelta(start)} to {first + timedelta(end - 1)}, {end - start} days; "
                f"up to {GAP} in a row are bridged. Fill them in, or cut the file to whole years before or after."
                for start, end in long
            )
        )
    if missing.mean() > BRIDGED:
        raise WeatherError(
            f"{name} lacks {missing.sum()} of {len(missing)} days; up to {BRIDGED:.0%} are bridged. Fill them in, "
            "or cut the file to whole years that are better read."
        )


def _winters(
    first: date, temperature: NDArray[np.float64], years: int, midsummer: int, notes: list[str]
) -> tuple[Winter, ...]:
    """Seasons from midsummer to midsummer; the last of them may join the file's two ends."""
    length = len(temperature) / years
    joins = NEAR_MIDSUMMER < midsummer < length - NEAR_MIDSUMMER
    start = midsummer if joins else 0
    winters = []
    for count, season in enumerate(np.array_split(np.roll(temperature, -start), years)):
        begins = first + timedelta(start + round(count * length))
        name = f"{begins.year}–{(begins.year + 1) % 100:02d}"
        if joins and count == years - 1:
            name = f"end of {begins.year} joined to start of {first.year}"
            notes.append(f"one winter is the {name}")
        winters.append(Winter(name, freezing_index_by_curve(season), freezing_index_by_sum(season)))
    return tuple(winters)
