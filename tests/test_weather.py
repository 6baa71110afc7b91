"""Weather files against years whose wave is known, seasons summed by hand, and every kind of bad file."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import numpy as np
import pytest

from foundation.climate import AnnualWave
from foundation.weather import WeatherError, read_weather

START = date(2021, 1, 1)
WAVE = AnnualWave(45 / 1.8 - 32 / 1.8, 29 / 1.8)  # index 1341 °F·d, 7858 °F·d below 65 °F [derived]


def day_of(count: int, start: date = START) -> date:
    return start + timedelta(count)


def daily(days: int, start: date = START, swing: float = 5.0, shift: float = 20.0) -> list[str]:
    """Lines of a year that is exactly the wave, coldest on the 21st day."""
    means = WAVE.temperature(np.arange(days) - shift)
    return [
        f"{day_of(count, start)},{mean - swing:.3f},{mean + swing:.3f}" for count, mean in enumerate(means)
    ]


def text_of(lines: list[str], header: str = "date,min [°C],max [°C]") -> str:
    return "\n".join([header, *lines])


def sentences(text: str) -> tuple[str, ...]:
    with pytest.raises(WeatherError) as raised:
        read_weather(text, "lot.csv")
    return raised.value.sentences


def test_the_wave_comes_back() -> None:
    year = read_weather(text_of(daily(730)))
    assert year.years == 2
    assert year.wave.mean == pytest.approx(WAVE.mean, abs=2e-3)
    assert year.wave.amplitude == pytest.approx(WAVE.amplitude, abs=2e-3)
    assert year.coldest == date(2021, 1, 21)
    assert year.degree_days_below() * 1.8 == pytest.approx(7858, abs=1)
    assert year.by_curve * 1.8 == pytest.approx(1341, abs=1)
    assert year.by_curve == pytest.approx(year.by_sum, abs=1e-6)
    assert (year.first, year.last) == (START, date(2022, 12, 31))


def test_fit_against_general_least_squares() -> None:
    """numpy's solver on the columns 1, cos, sin, for weather that is no wave."""
    noise = np.random.default_rng(5).normal(0, 6, 1096)
    mean = WAVE.temperature(np.arange(1096)) + noise
    lines = [f"{day_of(count)},{value:.4f}" for count, value in enumerate(mean)]
    year = read_weather(text_of(lines, "date,mean (C)"))
    count = 1095  # three years without a leap day
    angle = 2 * np.pi * np.arange(count) / 365
    columns = np.column_stack([np.ones(count), np.cos(angle), np.sin(angle)])
    fitted = np.linalg.lstsq(columns, mean[:count], rcond=None)[0]
    assert year.years == 3
    assert year.wave.mean == pytest.approx(fitted[0], abs=1e-3)
    assert year.wave.amplitude == pytest.approx(np.hypot(fitted[1], fitted[2]), abs=1e-3)
    assert any("1 days after the last whole year are left out" in note for note in year.notes)


def test_hours_are_their_day_s_highest_and_lowest() -> None:
    """A saw-tooth day from 2 to 26 °F has the mean 14, though its hours have 13.5."""
    hours = [
        f"{day_of(count)} {hour:02d}:00,{2 + hour + (1 if hour == 23 else 0) + (60 if 150 < count < 250 else 0)}"
        for count in range(365)
        for hour in range(24)
    ]
    year = read_weather(text_of(hours, "time,temperature [°F]"))
    assert year.temperature[0] * 1.8 + 32 == pytest.approx(14.0)
    assert year.by_sum * 1.8 == pytest.approx((365 - 99) * 18)


def test_winters_by_hand() -> None:
    """Two winters, each cut at midsummer: -5 -5 +3 -5 within warm days is 12 by the curve, 15 by the sum."""
    mean = np.where(np.abs((np.arange(730) % 365) - 182) < 90, 20.0, 1.0)
    mean[360:364] = (-5, -5, 3, -5)  # astride the turn of the year
    mean[725:728] = (-1, -1, -1)
    mean[2] = -2  # joined to the end of the last year: seven warm days lie between
    lines = [f"{day_of(count)},{value}" for count, value in enumerate(mean)]
    year = read_weather(text_of(lines, "date,mean [°C]"))
    first, joined = year.winters
    assert (first.name, first.by_curve, first.by_sum) == ("2021–22", 12, 15)
    assert (joined.name, joined.by_curve, joined.by_sum) == ("end of 2022 joined to start of 2021", 3, 5)
    assert year.worst_by_curve == 12
    assert "one winter is the end of 2022 joined to start of 2021" in year.notes


def test_a_file_from_summer_to_summer_is_not_joined() -> None:
    year = read_weather(text_of(daily(365, date(2020, 7, 20), shift=185)))
    assert [winter.name for winter in year.winters] == ["2020–21"]
    assert year.notes == ()


def test_southern_winters_are_whole() -> None:
    year = read_weather(text_of(daily(730, shift=200)))
    assert year.coldest.month == 7
    assert [winter.name for winter in year.winters] == ["2021–22", "2022–23"]
    assert year.by_curve * 1.8 == pytest.approx(1341, abs=1)


HEADERS = [
    ("date,min [°C],max [°C]", ","),
    ("Date;TMIN (deg C);TMAX (deg C)", ";"),
    ("day\tlow_c\thigh_c", "\t"),
    ("date,Minimum temperature Celsius,Maximum temperature Celsius", ","),
]


@pytest.mark.parametrize(("header", "separator"), HEADERS)
def test_headers(header: str, separator: str) -> None:
    lines = [line.replace(",", separator) for line in daily(365)]
    year = read_weather(text_of(lines, f"# made up\nStation lot{separator}6\n\n{header}"))
    assert year.wave.mean == pytest.approx(WAVE.mean, abs=2e-3)


def test_columns_in_any_order_and_decimal_commas() -> None:
    plain = read_weather(text_of(daily(365)))
    turned = []
    for line in daily(365):
        day, low, high = line.split(",")
        turned.append(f"{high};x;{low};{day}".replace(".", ","))
    other = read_weather(text_of(turned, "max °C;wind;min °C;date"))
    np.testing.assert_array_equal(other.temperature, plain.temperature)


@pytest.mark.parametrize("form", ["%Y-%m-%d", "%Y/%m/%d", "%Y%m%d", "%m/%d/%Y", "%d.%m.%Y"])
def test_dates(form: str) -> None:
    lines = [
        f"{day_of(count).strftime(form)},{line.partition(',')[2]}" for count, line in enumerate(daily(365))
    ]
    year = read_weather(text_of(lines))
    assert (year.first, year.coldest) == (START, date(2021, 1, 21))


def test_newest_first() -> None:
    plain, turned = read_weather(text_of(daily(365))), read_weather(text_of(daily(365)[::-1]))
    np.testing.assert_array_equal(turned.temperature, plain.temperature)


def test_a_typical_year_is_one_year() -> None:
    """Its months come from years of their own."""
    lines = []
    for count, line in enumerate(daily(365)):
        day = day_of(count)
        lines.append(f"{1980 + 7 * day.month % 20}{str(day)[4:]},{line.partition(',')[2]}")
    year = read_weather(text_of(lines))
    assert year.wave.mean == pytest.approx(WAVE.mean, abs=2e-3)
    assert "taken as one typical year" in year.notes[0]


def test_gaps_up_to_five_days_are_bridged() -> None:
    lines = daily(365)
    whole = read_weather(text_of(lines))
    holed = read_weather(text_of(lines[:40] + lines[45:100] + ["2021-04-11,,"] + lines[101:360]))
    assert holed.notes[0] == "11 of 365 days are missing and bridged by straight lines"
    assert holed.wave.mean == pytest.approx(whole.wave.mean, abs=0.01)
    assert holed.degree_days_below() == pytest.approx(whole.degree_days_below(), rel=1e-3)
    (said,) = sentences(text_of(lines[:40] + lines[46:]))
    assert said.startswith("lot.csv lacks 2021-02-10 to 2021-02-15, 6 days; up to 5 in a row are bridged.")
    (said,) = sentences(text_of([line for count, line in enumerate(lines) if count % 15 != 7]))
    assert "lacks 24 of 365 days; up to 5% are bridged" in said


def hourly(days: int = 365) -> list[str]:
    means = WAVE.temperature(np.arange(days) - 20.0)
    return [
        f"{day_of(count)} {hour:02d}:00,{means[count] + (hour == 14) * 8 - (hour == 4) * 8:.2f}"
        for count in range(days)
        for hour in range(24)
    ]


def test_a_day_with_few_hours_is_missing() -> None:
    lines = hourly()
    year = read_weather(text_of(lines[:240] + lines[247:], "time,temp [°C]"))
    assert year.notes[0].startswith("1 of 365 days")
    kept = read_weather(text_of(lines[:240] + lines[246:], "time,temp [°C]"))
    assert not any("bridged" in note for note in kept.notes)


def test_the_autumn_hour_may_stand_twice() -> None:
    lines = hourly()
    assert read_weather(text_of([*lines[:7000], lines[6999], *lines[7000:]], "time,temp [°C]")).years == 1
    (said,) = sentences(text_of([*lines[:48], *lines[24:48], *lines[48:]], "time,temp [°C]"))
    assert said.startswith(
        'lot.csv line 26: "2021-01-02 00:00" stands 2 times; keep the lines of one station'
    )


def changed(count: int, line: str) -> Callable[[list[str]], list[str]]:
    return lambda lines: [*lines[:count], line, *lines[count + 1 :]]


ROWS = [
    (changed(3, "2021-01-04,-99.9,2"), "lot.csv line 5: -99.9 °C is no outdoor temperature (-70 to 57 °C)"),
    (changed(3, "2021-01-04,-9,9999"), "lot.csv line 5: 9999 °C is no outdoor temperature"),
    (changed(3, "2021-01-04,cold,2"), 'lot.csv line 5: "cold" is no number; leave a missing one empty.'),
    (changed(3, "2021-01-04,1_0,20"), 'lot.csv line 5: "1_0" is no number'),
    (changed(3, "2021-01-04,9,2"), "lot.csv line 5: the max, 2, is below the min, 9; check both."),
    (changed(3, "2021-01-03,-9,2"), "lot.csv line 5: 2021-01-03 stands twice; keep one line for each day."),
    (changed(3, "2021-02-30,-9,2"), 'lot.csv line 5: "2021-02-30" is not a date; write it as 2013-01-31.'),
    (changed(3, "1/4/21,-9,2"), 'lot.csv line 5: "1/4/21" is not a date'),
    (changed(3, "2021-01-04,-9"), "lot.csv line 5 has 2 columns; the header asks for 3."),
    (changed(3, "2021-06-04,-9,2"), "lot.csv line 6: 2021-01-05 follows 2021-06-04; keep the lines of one"),
    (lambda lines: lines[:300], "lot.csv has 300 days, 2021-01-01 to 2021-10-27; give at least one whole"),
    (lambda lines: [], "lot.csv has no values under its header."),
    (lambda lines: [f"{line.split(',')[0]},," for line in lines], "lot.csv has no temperature for any day."),
]


@pytest.mark.parametrize(("change", "begins"), ROWS)
def test_bad_rows(change: Callable[[list[str]], list[str]], begins: str) -> None:
    said = sentences(text_of(change(daily(365))))
    assert said[0].startswith(begins), said


BAD_HEADERS = [
    ("date,min,max", 'lot.csv line 1: column "min" has no unit; write it as "min [°F]" or "min [°C]".'),
    ("date,min [°C],minimum [°C]", '"min [°C]" and "minimum [°C]" are two columns of one kind; keep one.'),
    ("date,min [°C],wind", '"min [°C]" stands alone: give min and max of each day, or its mean.'),
    ("a,b,c", 'lot.csv: no line names the columns; write one above the values, such as "date,min [°F],max'),
    ("date,dew point [°C],soil temperature [°C]", "lot.csv: no line names the columns"),
]


@pytest.mark.parametrize(("header", "part"), BAD_HEADERS)
def test_bad_headers(header: str, part: str) -> None:
    assert part in sentences(text_of(daily(365), header))[0]


def test_other_bad_files() -> None:
    assert sentences("")[0].startswith("lot.csv: no line names the columns")
    assert "over 10 million characters" in sentences("x" * 10_000_001)[0]
    said = sentences(text_of(daily(365), "date,min [°F],max [°F]"))[0]  # °C under a header that says °F
    assert said == "lot.csv: the warmest day is 23 °F (-5 °C); check the unit in the header."
    many = sentences(text_of([f"{line[:10]},cold,2" for line in daily(30)]))
    assert len(many) == 11
    assert many[-1] == "And 20 more like these."
