"""Tables of the heat page: units against published factors, two figures, names that are no markup."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from foundation import units
from foundation.dashboard.heat_tables import (
    banded,
    bearing_table,
    day_of_year,
    difference,
    gap_table,
    loss_table,
    section_facts,
    stretch_table,
    table,
    temperature,
)
from foundation.model.foam import Bearing
from foundation.model.heat import Band, ClimateUsed, HouseHeat, Loss
from foundation.model.section import InsulationGap
from foundation.plan import Plan
from foundation.plan.climate import climate_of
from foundation.plan.heat import SectionView, heat_of, look_at
from tests.dashboard.readable import cells, tree, words
from tests.studies.lots import slab_plan

# NIST SP 811 (2008), appendix B.8 [memory]: 1 Btu(IT)/h = 0.293 071 1 W, 1 Btu(IT)/(h·°F) = 0.527 527 9 W/K,
# 1 Btu(IT) = 1055.056 J, 1 Btu(IT)/(h·ft·°F) = 1.730 735 W/(m·K), 1 kWh = 3.6 MJ.
WATT, WATT_PER_KELVIN, JOULE, WATT_PER_METRE_KELVIN = 0.2930711, 0.5275279, 1055.056, 1.730735
SCRIPT = "<script>alert('x & y')</script>"


@pytest.fixture(scope="module")
def small() -> Plan:
    return slab_plan()


@pytest.fixture(scope="module")
def house(small: Plan) -> HouseHeat:
    heat = heat_of(small, "least cost")
    assert heat is not None
    return heat


@pytest.fixture(scope="module")
def view(small: Plan) -> SectionView:
    return look_at(small, "least cost", "A-B", 3.0, climate_of(small.project))


def loss(conductance: float, design: float | None) -> Loss:
    """Heat of some part, every number a round one in units of the trade."""

    def band(value: float) -> Band:
        return Band(0.5 * value, value, 2 * value)

    return Loss(
        conductance=band(conductance * WATT_PER_KELVIN),
        design=None if design is None else band(design * WATT),
        mean=band(1200 * WATT),
        peak=band(3400 * WATT),
        peak_day=40.0,
        monthly=(band(1e9),) * 12,
        yearly=band(25e6 * JOULE),
    )


@pytest.fixture
def round_numbers(house: HouseHeat) -> HouseHeat:
    part = loss(170, 10_000)
    return replace(house, parts={SCRIPT: part}, floors={SCRIPT: loss(50, 1700)}, total=part)


def test_losses_in_units_of_the_trade(round_numbers: HouseHeat) -> None:
    first, floor, total = cells(loss_table(round_numbers, "us"))
    assert first == {
        "Where": SCRIPT,
        "Btu/h·°F": "170 85 to 340",
        "Design day, Btu/h": "10,000 5,000 to 20,000",
        "Mean, Btu/h": "1,200 600 to 2,400",
        "Most, Btu/h": "3,400 1,700 to 6,800",
        "Most on": "24 Feb",
        "A year, MMBtu": "25 13 to 50",
        "kWh": "7,300 3,700 to 15,000",  # 25e6 × 1055.056 J / 3.6 MJ = 7,327
    }
    assert floor["Btu/h·°F"] == "50 25 to 100"
    assert total["Where"] == "all heated parts"


def test_losses_in_metric_units(round_numbers: HouseHeat) -> None:
    text = loss_table(round_numbers, "metric")
    first = cells(text)[0]
    assert first["W/K"].split()[0] == "90"  # 170 × 0.5275 = 89.7
    assert first["Design day, W"].split()[0] == "2,900"
    assert first["A year, kWh"].split()[0] == "7,300"
    for foot in ("ft", "Btu", '"', "'-"):
        assert foot not in words(text).replace(SCRIPT, "")


def test_without_a_design_temperature_the_design_day_stays_open(round_numbers: HouseHeat) -> None:
    cold = loss(170, None)
    heat = replace(round_numbers, total=cold, parts={"house": cold}, floors={"house": cold})
    text = loss_table(heat, "us")
    assert cells(text)[0]["Design day, Btu/h"] == "–"
    assert "No design temperature is entered" in words(text)
    assert "No design temperature" not in words(loss_table(round_numbers, "us"))


def test_days_are_those_of_a_year_of_365() -> None:
    # 15 January is day 15 and 15 July day 196 of a common year.
    assert day_of_year(0) == "15 Jan"
    assert day_of_year(196 - 15) == "15 Jul"
    assert day_of_year(365) == "15 Jan"


@pytest.mark.parametrize(
    ("celsius", "us", "metric"),
    [(0, "32 °F", "0.0 °C"), (-40, "-40 °F", "-40.0 °C"), (20, "68 °F", "20.0 °C")],
)
def test_temperatures(celsius: float, us: str, metric: str) -> None:
    assert temperature(celsius, "us") == us
    assert temperature(celsius, "metric") == metric


def test_differences_have_no_zero() -> None:
    assert difference(10, "us") == "18 °F"
    assert difference(-2.5, "metric") == "-2.5 K"


def test_a_band_is_told_only_where_it_shows() -> None:
    assert words(banded(Band(1.0, 1.2, 1.5))) == "1.2 1.0 to 1.5"
    assert banded(Band(1.201, 1.202, 1.203)) == "1.2"


def test_stretches_say_what_the_model_says(house: HouseHeat) -> None:
    rows = cells(stretch_table(house.stretches, "us"))
    assert len(rows) == len(house.stretches)
    for row, stretch in zip(rows, house.stretches, strict=True):
        edge = stretch.edge_factor.likely / WATT_PER_METRE_KELVIN
        assert row["Edge F, Btu/h·ft·°F"].split()[0] == units.rounded(edge)
        assert row["Section"] == "slab edge"
        assert row["Floor 1 ft inside"] == f"{stretch.floor_temperature * 9 / 5 + 32:.0f} °F"
    assert "wet" not in stretch_table(house.stretches, "us")
    wet = replace(house.stretches[0], dew_margin=-2.0)
    assert cells(stretch_table([wet], "us"))[0]["Above dew point"] == "◧ -4 °F: wet"
    assert "Floor 0.3 m inside" in cells(stretch_table([wet], "metric"))[0]


def test_gaps() -> None:
    gaps = (
        InsulationGap(f"between {SCRIPT} and foam", (0, 0), (0, 0.1), 0.1, 0.1),
        InsulationGap("nobody has solved this one", (0, 0), (0, 0.0254), 0.0254, math.nan),
    )
    first, other = cells(gap_table(gaps, "us"))
    assert first["Break in the insulation line"] == f"between {SCRIPT} and foam"
    assert first["Closing it saves, Btu/h·ft·°F"] == "0.058"  # 0.1 / 1.730735
    assert other["Length"] == '1"'
    assert other["Closing it saves, Btu/h·ft·°F"] == "–"
    assert "without a gap" in gap_table((), "us")


def test_facts_of_a_section(view: SectionView) -> None:
    assert view.stretch is not None
    assert isinstance(view.outside, ClimateUsed)
    climate = replace(view.outside, source=SCRIPT, assumed="half a swing <b>")
    text = section_facts(view.stretch, view.foamed, climate, "us")
    assert f"{view.stretch.coldest_surface * 9 / 5 + 32:.0f} °F" in words(text)
    assert "wet" not in words(text)
    assert f"The year: {SCRIPT}. ▲ Assumed: half a swing <b>." in words(text)
    damp = section_facts(replace(view.stretch, dew_margin=-1.0), view.foamed, climate, "metric")
    assert "◧ -1.0 K: wet" in words(damp)
    assert "0.3 m inside" in words(damp)


def test_bearing() -> None:
    rows = cells(
        bearing_table(
            [
                (SCRIPT, Bearing("EPS II", "a barrow", 25_000.0, 100_000.0, True)),
                ("garage", Bearing("EPS I", "a car's wheel", 30_000.0, 20_000.0, False)),
            ]
        )
    )
    assert rows[0]["Slab of"] == SCRIPT
    assert [row["Of what it may take"] for row in rows] == ["25 %", "150 %"]
    assert [row["It"] for row in rows] == ["carries it", "◧ is too weak"]
    assert bearing_table([]) == ""


def test_columns_of_words_and_of_numbers() -> None:
    made = tree(table(["Who", "How many", "Why"], [["<b>we</b>", "2", "so"]], "What & why", words=("Why",)))
    assert [cell.get("class") for cell in made.iter("td")] == ["words", "number", "words"]
    assert made.findtext(".//caption") == "What & why"
