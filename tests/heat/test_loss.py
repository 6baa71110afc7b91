"""What sections lose in a climate: against sums hour by hour, in limits, and the dew point as published."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from foundation.heat.sections.loss import (
    COLDEST_DAY,
    DAY,
    MONTHS,
    NEAR,
    Flows,
    below_grade,
    coldest,
    dew_point,
    floor_temperature,
    flows_of,
)
from foundation.heat.sections.respond import respond
from foundation.model.heat import ClimateUsed, SectionResponse
from tests.heat.sections import FOAM_INCHES, basement, between, garage, slab_edge, walkout

BELOW = ("floor", "wall")
YEAR = ClimateUsed(6.0, 15.0, 4700.0, 890.0, -23.0, None, "invented", "")
INSIDE = 20.0


@pytest.fixture(scope="module")
def responses() -> dict[str, SectionResponse]:
    made = {
        "basement": basement(outside=FOAM_INCHES, slope=True),
        "slab edge": slab_edge(outside=FOAM_INCHES),
        "walkout": walkout(edge=FOAM_INCHES, under=FOAM_INCHES),
        "garage": garage(),
        "between": between(),
    }
    return {name: respond(section, 0.01) for name, section in made.items()}


def test_mean_is_conductance_times_difference(responses: dict[str, SectionResponse]) -> None:
    for response in responses.values():
        flows = flows_of(response, INSIDE, YEAR, BELOW)
        assert flows.mean == pytest.approx(flows.conductance * (INSIDE - YEAR.mean), rel=1e-12)
        assert flows.yearly == pytest.approx(flows.mean * 365 * 86400, rel=1e-12)
        parts = [flows_of(response, INSIDE, YEAR, (group,)) for group in BELOW]
        for name, value in vars(flows).items():
            assert sum(getattr(part, name) for part in parts) == pytest.approx(value, rel=1e-12)


def test_months_hour_by_hour(responses: dict[str, SectionResponse]) -> None:
    """Sums of the wave at every hour of the year; the coldest hour is the noon of 15 January."""
    flows = flows_of(responses["basement"], INSIDE, YEAR, BELOW)
    day = (np.arange(365 * 24) + 0.5) / 24
    since = 2 * math.pi * (day - COLDEST_DAY) / 365
    hourly = 3600 * (flows.mean + np.real(flows.swing * np.exp(1j * since)))
    month = np.searchsorted(np.cumsum(MONTHS), day, side="right")
    assert sum(flows.monthly()) == pytest.approx(flows.yearly, rel=1e-12)
    for number, heat in enumerate(flows.monthly()):
        assert heat == pytest.approx(hourly[month == number].sum(), rel=1e-6)
    most = day[np.argmax(hourly)] - COLDEST_DAY
    assert flows.peak_day == pytest.approx(most, abs=1 / 24)
    assert flows.peak == pytest.approx(hourly.max() / 3600, rel=1e-6)


def test_steady_year_is_its_mean(responses: dict[str, SectionResponse]) -> None:
    still = replace(YEAR, amplitude=0.0, design_temperature=YEAR.mean)
    for response in responses.values():
        flows = flows_of(response, INSIDE, still, BELOW)
        assert flows.peak == flows.mean
        assert flows.peak_day == 0.0
        assert flows.design == pytest.approx(flows.mean, rel=1e-12)
        daily = [heat / days for heat, days in zip(flows.monthly(), MONTHS, strict=True)]
        assert daily == pytest.approx([flows.mean * DAY] * 12, rel=1e-12)
        assert coldest(response.surface, INSIDE, still) == pytest.approx(
            INSIDE + response.surface.steady * (YEAR.mean - INSIDE)
        )


def test_as_warm_inside_as_the_year(responses: dict[str, SectionResponse]) -> None:
    flows = flows_of(responses["basement"], YEAR.mean, YEAR, BELOW)
    assert (flows.mean, flows.yearly) == (0.0, 0.0)
    assert flows.peak == abs(flows.swing) > 0
    assert sum(flows.monthly()) == pytest.approx(0, abs=1e-6 * max(flows.monthly()))


def test_design_day(responses: dict[str, SectionResponse]) -> None:
    """What lies near grade follows the design temperature at once, what lies deep not at all."""
    for response in responses.values():
        at = [flows_of(response, INSIDE, replace(YEAR, design_temperature=t), BELOW) for t in (-20.0, -30.0)]
        assert at[1].near / at[0].near == pytest.approx(50 / 40, rel=1e-12)
        assert at[1].design - at[0].design == pytest.approx(at[0].near / 4, rel=1e-9)
        assert at[0].design < at[0].conductance * 40
    untold = flows_of(responses["basement"], INSIDE, replace(YEAR, design_temperature=None), BELOW)
    assert math.isnan(untold.design)
    assert untold.peak > 0


def test_design_day_does_not_hang_on_the_grid() -> None:
    """Two grids of one section, on which other faces lie across the two feet; within their claimed errors."""
    section = garage(under=FOAM_INCHES)
    found = [flows_of(respond(section, error), 10.0, YEAR, BELOW) for error in (0.003, 0.02)]
    assert found[1].near == pytest.approx(found[0].near, rel=0.02)
    assert found[1].deep_mean == pytest.approx(found[0].deep_mean, rel=0.03)


def test_near_is_two_feet_of_wall(responses: dict[str, SectionResponse]) -> None:
    """Of an even flux of one watt a square metre: the wall down to two feet below grade."""
    response = responses["basement"]
    surface = response.surface
    even = replace(response, surface=replace(surface, flow_steady=surface.area * 1.0))
    section = response.section
    wall = flows_of(even, 1.0, replace(YEAR, mean=0.0, design_temperature=0.0), ("wall",))
    shelf = float(surface.area[(surface.exposure == 0) & (np.array(surface.group) == "wall")].sum())
    assert wall.near == pytest.approx(shelf + NEAR, rel=1e-9)
    assert wall.deep_mean == pytest.approx(section.grade[0].level - section.floor - NEAR, rel=1e-9)


def test_between_two_parts(responses: dict[str, SectionResponse]) -> None:
    flows = flows_of(responses["between"], 20.0, 10.0, ("wall",))
    assert flows.mean == pytest.approx(10 * flows.conductance)
    assert (flows.swing, flows.peak, flows.design) == (0, flows.mean, flows.mean)
    assert flows_of(responses["between"], 20.0, 20.0, ("wall",)).mean == 0
    surface = responses["between"].surface
    assert coldest(surface, 20.0, 10.0) == pytest.approx(20 - 10 * surface.steady)


def test_flows_add_up_whatever_the_time_of_their_peaks() -> None:
    early, late = Flows(1.0, 10.0, 5 + 0j, 1.0, 2.0, 3 + 0j), Flows(2.0, 20.0, -5j, 2.0, 1.0, -4j)
    both = early + late.times(3.0)
    assert (both.conductance, both.mean, both.near, both.deep_mean) == (7.0, 70.0, 7.0, 5.0)
    assert both.peak == pytest.approx(70 + math.hypot(5, 15))
    assert both.design == pytest.approx(7 + 5 + math.hypot(3, 12))
    assert early.peak_day == 0.0
    assert late.peak_day == pytest.approx(365 / 4)
    grown = late.like(early, early.times(1.5))
    assert grown.mean == pytest.approx(30.0)
    assert grown.swing == pytest.approx(-7.5j)


def test_below_grade_is_a_share(responses: dict[str, SectionResponse]) -> None:
    whole = flows_of(responses["basement"], 1.0, replace(YEAR, mean=0.0), BELOW).conductance
    below = below_grade(responses["basement"], BELOW)
    assert 0.5 * whole < below < whole
    floor = flows_of(responses["basement"], 1.0, replace(YEAR, mean=0.0), ("floor",)).conductance
    assert below_grade(responses["basement"], ("floor",)) == pytest.approx(floor, rel=1e-12)


def test_coldest_surface(responses: dict[str, SectionResponse]) -> None:
    for name, response in responses.items():
        surface = response.surface
        outside: ClimateUsed | float = YEAR if name != "between" else 10.0
        found = coldest(surface, INSIDE, outside)
        assert np.all(found < INSIDE)
        assert np.all(found > (-23.0 if name != "between" else 10.0))
    mild = coldest(responses["walkout"].surface, INSIDE, replace(YEAR, design_temperature=None))
    assert np.all(coldest(responses["walkout"].surface, INSIDE, YEAR) <= mild)
    # Without a design temperature it is the trough of each face's own wave, day by day.
    surface = responses["walkout"].surface
    turn = np.exp(2j * np.pi * np.arange(0, 365, 0.1) / 365)
    daily = (
        INSIDE
        + surface.steady * (YEAR.mean - INSIDE)
        - YEAR.amplitude * np.real(surface.annual * turn[:, None])
    )
    assert mild == pytest.approx(daily.min(axis=0), abs=1e-4)


def test_floor_is_warmer_away_from_its_edge(responses: dict[str, SectionResponse]) -> None:
    response = responses["garage"]
    found = [floor_temperature(response, INSIDE, YEAR, distance) for distance in (0.05, 0.3, 1.0, 2.5)]
    assert found == sorted(found)
    assert found[0] < found[-1] - 1


def test_dew_point_as_published() -> None:
    """A room of 20 °C and 50 %: 9.26 °C by Magnus with 17.62 and 243.12 °C [memory]."""
    assert dew_point(20.0, 0.5) == pytest.approx(9.26, abs=0.005, rel=0)


@pytest.mark.parametrize(("air", "humidity"), [(20.0, 0.5), (21.1, 0.4), (25.0, 0.6), (12.0, 0.8)])
def test_dew_point_by_another_fit(air: float, humidity: float) -> None:
    """Saturation pressure of ISO 13788, 610.5 exp(17.269 t/(237.3 + t)) Pa [memory]: two fits of one curve."""
    pressure = math.log(humidity) + 17.269 * air / (237.3 + air)
    assert dew_point(air, humidity) == pytest.approx(237.3 * pressure / (17.269 - pressure), abs=0.05)
    assert dew_point(air, 1.0) == pytest.approx(air, abs=1e-12)
