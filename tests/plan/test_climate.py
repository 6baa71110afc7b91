"""The year out of what a project gives: which source holds, what is refused, what is told."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from foundation.climate import AnnualWave
from foundation.plan.climate import climate_details, climate_notices, climate_of
from foundation.plan.lines import PlanError
from foundation.project import Project, check

# Mean 45 °F, half swing 29 °F: freezing index 1341 °F·d, 7858 °F·d below 65 °F [derived].
HEATING, INDEX = "7858 °F·d", "1341 °F·d"
MONTHS = [f"{mean} °C" for mean in (-9, -8, -2, 5, 12, 17, 20, 19, 14, 8, 2, -6)]


def weather(mean: float = 45.0, swing: float = 29.0, days: int = 730) -> str:
    lines = ["date,min [°F],max [°F]"]
    for count in range(days):
        middle = mean - swing * np.cos(2 * np.pi * (count - 20) / 365)
        lines.append(f"{date(2021, 1, 1) + timedelta(count)},{middle - 9:.3f},{middle + 9:.3f}")
    return "\n".join(lines)


@pytest.fixture
def tables(demo_tables: dict[str, Any]) -> dict[str, Any]:
    demo_tables.pop("climate", None)
    return demo_tables


def with_climate(tables: dict[str, Any], **climate: Any) -> Project:
    project, problems = check(tables | {"climate": climate})
    assert project is not None, problems
    return project


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32


def refusals(project: Project, text: str = "") -> list[tuple[str, str]]:
    with pytest.raises(PlanError) as raised:
        climate_of(project, text)
    assert climate_notices(project, text) == raised.value.problems
    assert all(problem.fatal for problem in raised.value.problems)
    return [(problem.place, problem.sentence) for problem in raised.value.problems]


def test_nothing_given(tables: dict[str, Any]) -> None:
    project = with_climate(tables)
    assert climate_of(project) is None
    assert climate_notices(project) == ()
    assert climate_details(project, "") is None


def test_degree_days_with_their_index(tables: dict[str, Any]) -> None:
    used = climate_of(with_climate(tables, degree_days=HEATING, freezing_index=INDEX, source="the almanac"))
    assert used is not None
    assert fahrenheit(used.mean) == pytest.approx(45, abs=0.05)
    assert used.amplitude * 1.8 == pytest.approx(29, abs=0.05)
    assert used.degree_days * 1.8 == pytest.approx(7858, abs=0.1)
    assert used.freezing_index * 1.8 == pytest.approx(1341, abs=0.1)
    assert used.source == "degree days and freezing index as typed (the almanac)"
    assert used.assumed == ""


def test_base_18_is_not_65_fahrenheit(tables: dict[str, Any]) -> None:
    """The wave's own closed form at 18 °C; what is reported stays below 65 °F."""
    wave = AnnualWave(13 / 1.8, 29 / 1.8)
    project = with_climate(
        tables,
        degree_days=f"{wave.degree_days_below(18.0):.6f} K·d",
        base="18 °C",
        freezing_index=f"{wave.freezing_index:.6f} K·d",
    )
    used = climate_of(project)
    assert used is not None
    assert used.mean == pytest.approx(wave.mean, abs=1e-5)
    assert used.degree_days == pytest.approx(wave.degree_days_below(), abs=1e-3)
    assert used.degree_days > wave.degree_days_below(18.0) + 50


def test_degree_days_alone_assume_the_swing(tables: dict[str, Any]) -> None:
    """Half a swing of 29 °F, 25 to 33 in cold climates [practice]; the demo wave has just that."""
    used = climate_of(with_climate(tables, degree_days=HEATING))
    assert used is not None
    assert fahrenheit(used.mean) == pytest.approx(45, abs=0.05)
    assert used.source == "degree days as typed, swing assumed"
    assert used.assumed.startswith(
        "half the yearly swing, 29 °F: from 25 °F to 33 °F the mean lies between 43.9"
    )
    typed = climate_of(with_climate(tables, degree_days=HEATING, swing="27 °F"))
    assert typed is not None
    assert typed.amplitude * 1.8 == pytest.approx(27)
    assert typed.assumed == ""
    metric = climate_of(with_climate(tables | {"units": "metric"}, degree_days=HEATING))
    assert metric is not None
    assert metric.assumed.startswith("half the yearly swing, 16.1 K: from 13.9 K to 18.3 K")


def test_no_freezing(tables: dict[str, Any]) -> None:
    mild = AnnualWave(12.0, 9.0)
    heating = f"{mild.degree_days_below():.6f} K·d"
    used = climate_of(with_climate(tables, degree_days=heating, freezing_index="0 °F·d", swing="9 K"))
    assert used is not None
    assert (used.mean, used.amplitude, used.freezing_index) == pytest.approx((12, 9, 0), abs=1e-5)
    ((place, said),) = refusals(with_climate(tables, degree_days=HEATING, freezing_index="0 °F·d"))
    assert place == "climate.swing"
    assert "make no year with half a swing of 29 °F. In cold climates 1,063 °F·d to 1,579 °F·d go" in said


def test_months(tables: dict[str, Any]) -> None:
    """Twelve integrals of a wave, month by month, give it back [derived]."""
    wave = AnnualWave(6.0, 14.0)
    ends = np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    means = [
        wave.temperature(np.linspace(start, end, 20_001) - 19.5).mean()
        for start, end in zip(ends, ends[1:], strict=False)
    ]
    used = climate_of(with_climate(tables, monthly=[f"{mean:.5f} °C" for mean in means]))
    assert used is not None
    assert (used.mean, used.amplitude) == pytest.approx((6, 14), abs=1e-3)
    assert used.source == "monthly means as typed"


def test_weather_before_months_before_degree_days(tables: dict[str, Any]) -> None:
    colder = [f"{mean} °C" for mean in (-11, -10, -4, 3, 10, 15, 18, 17, 12, 6, 0, -8)]
    project = with_climate(
        tables, weather="lot.csv", monthly=colder, degree_days="6000 °F·d", freezing_index="700 °F·d"
    )
    text = weather()
    used, months = climate_of(project, text), climate_of(project)
    assert used is not None
    assert months is not None
    assert fahrenheit(used.mean) == pytest.approx(45, abs=0.01)
    assert used.source.startswith(
        "lot.csv: wave fitted to the days of 2 years from 2021-01-01; counted 7,858 °F·d below 65 °F, "
        "freezing index 1,341 °F·d by the curve, 1,341 °F·d by the plain sum"
    )
    assert months.source == "monthly means as typed"
    assert fahrenheit(months.mean) == pytest.approx(39.3, abs=0.1)
    details = climate_details(project, text)
    assert details is not None
    assert details.years == 2
    told = {problem.place: problem.sentence for problem in climate_notices(project, text)}
    assert told["climate.degree_days"].startswith(
        "climate.degree_days: 6,000 °F·d are typed, the weather file gives 7,858 °F·d below 65 °F; the latter is"
    )
    assert "the weather file gives 1,341 °F·d by the curve" in told["climate.freezing_index"]
    assert "39.3 °F, the weather file has 45 °F" in told["climate.monthly"]
    without = [problem.place for problem in climate_notices(project)]
    assert without == ["climate.weather", "climate.degree_days"]


def test_sources_that_agree_are_not_told(tables: dict[str, Any]) -> None:
    project = with_climate(
        tables,
        weather="lot.csv",
        degree_days=HEATING,
        freezing_index=INDEX,
        design_index="2500 °F·d",
        design_temperature="-5 °F",
    )
    said = [problem.sentence for problem in climate_notices(project, weather())]
    assert said == ["climate.weather: one winter is the end of 2022 joined to start of 2021."]
    one_year = climate_notices(project, weather(days=365))
    assert "one year of weather is no mean year" in one_year[0].sentence
    assert not any(problem.fatal for problem in one_year)


@pytest.mark.parametrize(
    ("climate", "place", "part"),
    [
        (
            {"degree_days": HEATING, "freezing_index": "2500 °F·d"},
            "climate.freezing_index",
            "2,500 °F·d with 7,858 °F·d below 65 °F make no year on Earth. In cold climates 1,063 °F·d to 1,579",
        ),
        (
            {"degree_days": HEATING, "freezing_index": INDEX, "design_index": INDEX},
            "climate.freezing_index",
            "1,341 °F·d is no less than the design winter's 1,341 °F·d",
        ),
        ({"freezing_index": INDEX}, "climate.degree_days", "type them beside the freezing index"),
        (
            {"degree_days": "1500 °F·d"},
            "climate.degree_days",
            "with half a swing of 29 °F make no year on Earth",
        ),
        (
            {"monthly": [*MONTHS[:3], "45 °C", *MONTHS[4:]]},
            "climate.monthly",
            "month 4 is 113 °F (45 °C), the yearly wave of all twelve has",
        ),
        (
            {"weather": "lot.csv"},
            "climate.weather",
            'the file "lot.csv" was not read; open it with the project.',
        ),
    ],
)
def test_refused(tables: dict[str, Any], climate: dict[str, Any], place: str, part: str) -> None:
    ((found, said),) = refusals(with_climate(tables, **climate))
    assert found == place
    assert said.startswith(f"{place}: ")
    assert part in said


def test_bad_weather_is_refused_line_by_line(tables: dict[str, Any]) -> None:
    text = weather().replace("2021-01-03,", "2021-01-03,cold").replace("2021-01-05,", "2021-01-05,cold")
    said = refusals(with_climate(tables, weather="lot.csv", degree_days=HEATING), text)
    assert [place for place, _ in said] == ["climate.weather", "climate.weather"]
    assert said[0][1].startswith('lot.csv line 4: "cold')
    assert said[1][1].startswith('lot.csv line 6: "cold')


def test_design_winter_that_is_none(tables: dict[str, Any]) -> None:
    project = with_climate(tables, weather="lot.csv", design_index="1000 °F·d", design_temperature="20 °F")
    told = {problem.place: problem.sentence for problem in climate_notices(project, weather())}
    assert "1,000 °F·d are less than the 1,341 °F·d of the coldest winter" in told["climate.design_index"]
    assert "20 °F are warmer than a usual January day" in told["climate.design_temperature"]
