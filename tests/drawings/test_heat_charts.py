"""Charts of heat and of the foam's cost say the numbers they were given, in the unit of the project.

A kilowatt-hour is 3.6 MJ; a Btu of the International Table is 1055.05585262 J (ISO 80000-5 [memory]).
"""

from __future__ import annotations

import math
from dataclasses import fields, replace
from typing import Any

import pytest

from foundation.drawings.foam_charts import answers, next_inch, trade_off
from foundation.drawings.heat_charts import beside_standards, edge_heat, monthly_heat
from foundation.model.sizing import Choice, FoamSizing
from tests.drawings.heat_samples import INCH, curve, house_heat, loss

MMBTU = 1055.05585262e6


@pytest.mark.parametrize(("system", "unit", "name"), [("us", MMBTU, "MMBtu"), ("metric", 3.6e6, "kWh")])
def test_months(system: str, unit: float, name: str) -> None:
    heat = loss(80.0)
    chart = monthly_heat(heat, system, loss(200.0))
    planned, bare = chart.bars
    assert planned.y == pytest.approx([month.likely / unit for month in heat.monthly])
    assert planned.low == pytest.approx([month.low / unit for month in heat.monthly])
    assert bare.y == pytest.approx([2.5 * value for value in planned.y])
    assert name in chart.y.title
    assert chart.y.zero
    assert chart.title.startswith("February takes most")
    assert "foam keeps 60 % in" in chart.title  # 80 of 200
    assert "without foam" not in monthly_heat(heat, system).title
    assert chart.rows[8][0] == "Sep"
    assert chart.rows[8][1].startswith("-")


def test_edge() -> None:
    heat = house_heat()
    chart = edge_heat(heat, "us")
    # 1 Btu/(h·ft·°F) is 1.730735 W/(m·K) [derived]: 1055.05585262 J / 3600 s / 0.3048 m / (5/9) K.
    unit = 1055.05585262 / 3600 / 0.3048 * 1.8
    assert chart.bars[0].y == pytest.approx([s.edge_factor.likely / unit for s in heat.edges])
    assert chart.bars[1].y == pytest.approx([s.bare_edge_factor / unit for s in heat.edges])
    # The third has the highest factor and is the longest.
    assert chart.title.startswith("south 0'-0\" to 16'-4 7/8\", slab edge loses most: 0.29 Btu/h·ft·°F")
    assert edge_heat(heat, "metric").bars[0].y == pytest.approx([0.3, 0.4, 0.5])
    long = replace(heat, edges=(replace(heat.edges[0], end=30.0), *heat.edges[1:]))
    assert edge_heat(long, "metric").title.startswith("north")  # 0.3 × 30 m is most
    assert edge_heat(replace(heat, edges=()), "us").title == "No edge to lose heat at"


def test_standards() -> None:
    chart = beside_standards(house_heat(), "metric")
    values = {bars.name: bars.y for bars in chart.bars}
    assert values["this plan"] == (60.0, 25.0)
    assert values["of it below grade"] == (51.0, 24.0)
    assert values["ISO 13370:2017"] == (55.0, 26.0)
    assert values["residential method"][0] == 50.0
    assert chart.rows[1][-1] == "–"
    assert "heated basement 51 W/K below grade, 7 % under ISO 13370:2017" in chart.title
    without = beside_standards(replace(house_heat(), residential={}), "us")
    assert "residential method" not in without.header
    assert "residential" not in " ".join(without.notes)


def test_trade_off_rings_the_knee() -> None:
    made = curve(3)
    chart = trade_off(made, "us", planned=2 * INCH)
    assert chart.title == 'under the slab: 3" of XPS IV is where more stops paying'
    [mark] = chart.marks
    total = chart.lines[0]
    assert (mark.x, mark.y) == (pytest.approx(3.0), min(total.y))
    foam, fuel = chart.lines[1:]
    assert [a + b for a, b in zip(foam.y, fuel.y, strict=True)] == pytest.approx(total.y)
    assert chart.verticals[0].x == pytest.approx(2.0)
    assert chart.y.zero
    assert trade_off(made, "metric").lines[0].x == pytest.approx([25.4 * i for i in range(7)])
    assert total.low == pytest.approx([0.8 * y for y in total.y])
    assert total.high == pytest.approx([1.2 * y for y in total.y])
    alone = replace(made, rungs=tuple(replace(rung, life_cycle_low=math.nan) for rung in made.rungs))
    assert not trade_off(alone, "us").lines[0].low
    assert "no foam costs least" in trade_off(curve(0), "us").title
    assert "still pays" in trade_off(curve(6), "us").title
    assert "only none" in trade_off(curve(0, 1), "us").title


def test_next_inch_sets_cost_beside_saving() -> None:
    chart = next_inch(curve(3), "us")
    cost, saving = chart.bars
    assert cost.y == pytest.approx([700.0] * 6)
    # Of life-cycle cost 5000 + 90 (i - 3)²: an inch more saves 700 less what the cost rises by; shown to two figures.
    assert saving.y == pytest.approx([1200, 970, 790, 610, 430, 250])
    assert [s > c for c, s in zip(cost.y, saving.y, strict=True)] == [True, True, True, False, False, False]
    assert chart.x.names[0] == 'none to 1"'
    assert next_inch(curve(3), "metric").bars[0].y == pytest.approx([280.0] * 6)  # 700 / 2.54 to two figures


def choice(first: float, total: float) -> Choice:
    """A set of foam of which only the money matters here."""
    money = {"first_cost": first, "life_cycle_cost": total}
    unknown: dict[str, Any] = dict.fromkeys(field.name for field in fields(Choice))
    return Choice(**(unknown | money))


def test_answers_beside_each_other() -> None:
    shown = {
        "planned": choice(2000, 9000),
        "code_floor": choice(0, 12000),
        "least_cost": choice(3000, 8200),
        "warmest": choice(5000, 11000),
    }
    rest: dict[str, Any] = dict.fromkeys(field.name for field in fields(FoamSizing))
    sizing = FoamSizing(**(rest | shown))
    chart = answers(sizing)
    assert chart.title == "The best saves $800 over the years beside the planned foam"
    first, fuel = chart.bars
    assert first.y == (2000, 0, 3000, 5000)
    assert fuel.y == (7000, 12000, 5200, 6000)
    same = replace(sizing, least_cost=sizing.planned)
    assert answers(same).title == "The planned foam already costs least over the years"
