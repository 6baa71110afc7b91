"""The yearly wave against plain daily sums, and the wave back from its degree days."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from foundation.climate import (
    BASE,
    AnnualWave,
    freezing_index_by_curve,
    freezing_index_by_sum,
    wave_from_degree_days,
    wave_from_mean,
    wave_from_months,
    wave_from_swing,
)


def wave_of(mean_f: float, amplitude_f: float) -> AnnualWave:
    return AnnualWave((mean_f - 32) / 1.8, amplitude_f / 1.8)


# Mean and amplitude °F, freezing index °F·d, days below 32 °F, heating degree days below 65 °F [derived].
TABLE = [
    (50, 25, 412, 89, 6183),
    (45, 29, 1341, 128, 7858),
    (42, 30, 1856, 143, 8770),
    (37.2, 30, 2589, 162, 10213),
]


@pytest.mark.parametrize(("mean", "amplitude", "index", "days", "heating"), TABLE)
def test_table(mean: float, amplitude: float, index: float, days: float, heating: float) -> None:
    wave = wave_of(mean, amplitude)
    assert wave.freezing_index * 1.8 == pytest.approx(index, abs=0.5, rel=0)
    assert wave.days_below(0.0) == pytest.approx(days, abs=0.5, rel=0)
    assert wave.degree_days_below() * 1.8 == pytest.approx(heating, abs=0.5, rel=0)
    back = wave_from_degree_days(heating / 1.8, index / 1.8)
    assert back.mean * 1.8 + 32 == pytest.approx(mean, abs=0.05, rel=0)
    assert back.amplitude * 1.8 == pytest.approx(amplitude, abs=0.05, rel=0)


@given(st.floats(-15, 25), st.floats(0.1, 35), st.floats(-5, 25))
def test_closed_forms_against_daily_sums(mean: float, amplitude: float, base: float) -> None:
    """A sum over whole days errs, at each of two kinks, by at most an eighth of the kink's slope a day [derived]."""
    wave = AnnualWave(mean, amplitude)
    daily = mean - amplitude * np.cos(2 * np.pi * np.arange(365) / 365)
    error = 2 * amplitude * 2 * np.pi / 365 / 8 + 1e-9
    assert wave.degree_days_below(base) == pytest.approx(np.maximum(base - daily, 0).sum(), abs=error, rel=0)
    assert wave.days_below(base) == pytest.approx((daily < base).sum(), abs=1.0 + 1e-9, rel=0)
    season = wave.temperature(np.arange(365) + 183)  # summer to summer
    np.testing.assert_allclose(season, np.roll(daily, -183), rtol=0, atol=1e-9)
    assert freezing_index_by_sum(season) == pytest.approx(wave.freezing_index, abs=error, rel=0)
    assert freezing_index_by_curve(season) == pytest.approx(freezing_index_by_sum(season), abs=1e-8, rel=0)


@given(st.floats(-5, 15), st.floats(4, 20))
def test_wave_comes_back(mean: float, amplitude: float) -> None:
    wave = AnnualWave(mean, amplitude)
    assume(wave.freezing_index > 1 and 1 < mean + amplitude < 34.9)
    back = wave_from_degree_days(wave.degree_days_below(), wave.freezing_index)
    assert back.mean == pytest.approx(mean, abs=1e-6)
    assert back.amplitude == pytest.approx(amplitude, abs=1e-6)


@given(st.floats(-12, 18), st.floats(0, 17), st.sampled_from([BASE, 18.0, 15.0]))
def test_wave_comes_back_from_degree_days_and_swing(mean: float, amplitude: float, base: float) -> None:
    wave = AnnualWave(mean, amplitude)
    assume(wave.degree_days_below(base) > 1)
    back = wave_from_swing(wave.degree_days_below(base), amplitude, base=base)
    assert back.mean == pytest.approx(mean, abs=1e-6)
    assert back.amplitude == amplitude


@given(st.floats(-12, 25), st.floats(0.5, 40))
def test_wave_comes_back_from_mean_and_index(mean: float, amplitude: float) -> None:
    wave = AnnualWave(mean, amplitude)
    assume(abs(mean) + 0.1 < amplitude)  # it freezes, and it thaws
    assert wave_from_mean(mean, wave.freezing_index).amplitude == pytest.approx(amplitude, rel=1e-6)


@given(st.floats(-20, 20), st.floats(0, 15), st.floats(0, 365))
def test_wave_comes_back_from_its_own_months(mean: float, amplitude: float, coldest: float) -> None:
    """A month's mean of a cosine is its sine's difference over the month [derived]."""
    ends = 2 * np.pi / 365 * (np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]) - coldest)
    back = wave_from_months(mean - amplitude * np.diff(np.sin(ends)) / np.diff(ends))
    assert (back.mean, back.amplitude) == pytest.approx((mean, amplitude), abs=1e-9)


def test_refuses_other_absurd_waves() -> None:
    with pytest.raises(ValueError, match=r"would mean a year from \d+ to 42 °C"):
        wave_from_swing(700.0, 16.0)
    with pytest.raises(ValueError, match="the yearly amplitude is 40 K; it has to be from 0 to 35 K"):
        wave_from_swing(4000.0, 40.0)
    with pytest.raises(ValueError, match=r"no yearly wave about -4\.0 °C has a freezing index of 900 K·d"):
        wave_from_mean(-4.0, 900.0)
    with pytest.raises(ValueError, match="twelve temperatures, from January on"):
        wave_from_months([1.0, 2.0])
    with pytest.raises(ValueError, match="make a year from 22 to 38 °C"):
        wave_from_months(30 - 8 * np.cos(2 * np.pi * np.arange(12) / 12))


def test_never_and_always() -> None:
    assert AnnualWave(12.0, 12.0).freezing_index == 0
    assert AnnualWave(12.0, 12.0).days_below(0.0) == 0
    assert AnnualWave(-12.0, 5.0).freezing_index == pytest.approx(365 * 12, rel=1e-12)
    assert AnnualWave(-12.0, 5.0).days_below(0.0) == 365
    assert AnnualWave(5.0, 0.0).degree_days_below(8.0) == pytest.approx(365 * 3, rel=1e-12)


def test_without_frost_the_amplitude_is_assumed() -> None:
    wave = AnnualWave(14.0, 9.0)
    heating = wave.degree_days_below()
    back = wave_from_degree_days(heating, 0.0, assumed_amplitude=9.0)
    assert back.amplitude == 9.0
    assert back.mean == pytest.approx(14.0, abs=1e-9)
    with pytest.raises(ValueError, match="leaves the yearly amplitude open; state the one to assume"):
        wave_from_degree_days(heating, 0.0)
    with pytest.raises(ValueError, match="would freeze; without frost at most"):
        wave_from_degree_days(4000.0, 0.0, assumed_amplitude=15.0)


def test_refuses_an_absurd_wave() -> None:
    """A mean year's 7858 °F·d beside a rare winter's 2500 °F·d would mean a summer of 114 °F, 46 °C [derived]."""
    with pytest.raises(
        ValueError, match=r"would mean a year from -\d+ to 46 °C .* take both from the same year"
    ):
        wave_from_degree_days(7858 / 1.8, 2500 / 1.8)
    with pytest.raises(ValueError, match="no yearly wave has 400 K·d of heating"):
        wave_from_degree_days(400.0, 500.0)
    with pytest.raises(ValueError, match="no yearly wave has 9000 K·d of heating"):
        wave_from_degree_days(9000.0, 500.0)
    with pytest.raises(ValueError, match="the freezing index is -1 K·d; it has to be 0 or more"):
        wave_from_degree_days(4000.0, -1.0)
    with pytest.raises(ValueError, match="the yearly amplitude is -3 K; it has to be 0 or more"):
        AnnualWave(8.0, -3.0)


@given(st.lists(st.floats(-30, 30), min_size=1, max_size=60))
def test_curve_against_every_spell(temperatures: list[float]) -> None:
    """The coldest spell of days in a row, found by trying all; thaws make it no more than the plain sum."""
    curve = np.concatenate([[0], np.cumsum(temperatures)])
    spells = [curve[start] - curve[end] for start in range(len(curve)) for end in range(start, len(curve))]
    found = freezing_index_by_curve(temperatures)
    assert found == pytest.approx(max(spells), abs=1e-9)
    assert 0 <= found <= freezing_index_by_sum(temperatures) + 1e-9


def test_thaw_counts_against_the_curve() -> None:
    assert freezing_index_by_curve([4, -5, -5, 3, -5, 8]) == 12
    assert freezing_index_by_sum([4, -5, -5, 3, -5, 8]) == 15
    assert freezing_index_by_curve([-5, 20, -6]) == 6
    with pytest.raises(ValueError, match="the temperature of day 2 is missing"):
        freezing_index_by_curve([1.0, float("nan")])
    with pytest.raises(ValueError, match="one row of at least one day"):
        freezing_index_by_sum([])


def test_base_is_65_fahrenheit() -> None:
    assert pytest.approx(65) == BASE * 1.8 + 32
