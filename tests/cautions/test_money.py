"""Cautions of the count: each trips on what it warns of, and not on sound work."""

from __future__ import annotations

import datetime

import pytest

from foundation.cautions.drain import drain_above_slab, drain_runs_out, water_under_slab
from foundation.cautions.money import payback_on_one_price, stale_prices
from foundation.plan import Plan
from foundation.plan.takeoff_cautions import drain_cautions, money_cautions
from tests.cautions.cases import FOOT, INCH, SURVEY, demo, named, number
from tests.conftest import planned

DAY = datetime.date(2026, 3, 1)


def test_a_quote_of_ninety_days_holds() -> None:
    assert stale_prices({"concrete": DAY}, DAY + datetime.timedelta(90)) == []
    assert stale_prices({}, DAY) == []


def test_an_older_quote_is_stale() -> None:
    quotes = {"concrete": DAY, "forms": DAY - datetime.timedelta(9), "foam": DAY + datetime.timedelta(60)}
    (caution,) = stale_prices(quotes, DAY + datetime.timedelta(91))
    assert caution.trap.number == 38
    assert number(caution) == 100
    assert "forms and concrete" in caution.sentence
    assert "foam" not in caution.sentence


def test_money_of_the_demo(demo_plan: Plan) -> None:
    project = demo_plan.project
    # Every price of the lot was quoted on 2 November 2026.
    assert money_cautions(project, datetime.date(2027, 1, 31)) == ()
    (caution,) = money_cautions(project, datetime.date(2027, 2, 1))
    assert (caution.trap.key, number(caution)) == ("price-stale", 91)
    assert money_cautions(project, None) == ()


def test_payback_on_one_fuel_price() -> None:
    assert payback_on_one_price([("foam", -0.01, 0.03)]) == []
    tables = demo(lambda t: t["fuel"].update(escalation_band="0 %"))
    (caution,) = money_cautions(planned(tables, SURVEY).project, None)
    assert (caution.trap.key, number(caution)) == ("payback-on-one-price", pytest.approx(0.01))
    # Without a price there is no payback to doubt.
    tables = demo(lambda t: t.update(fuel={"kind": "propane", "escalation_band": "0 %"}))
    assert money_cautions(planned(tables, SURVEY).project, None) == ()


def test_drain_of_the_demo_runs_out(demo_plan: Plan) -> None:
    for stepping in demo_plan.steppings:
        assert drain_cautions(demo_plan, stepping.name) == ()


def test_drain_that_cannot_run_out() -> None:
    assert drain_runs_out(None, 1.0, 10.0) == drain_runs_out(1.0, None, 10.0) == []
    plan = planned(demo(lambda t: t["surroundings"].update(drain_outlet="201.00 ft")), SURVEY)
    (caution,) = named(drain_cautions(plan, "least cost"), "drain-cannot-run-out")
    assert number(caution) == pytest.approx(0.25 * FOOT)


def test_drain_that_is_too_flat() -> None:
    # 1/8 in/ft over 34.4 ft are 4.3 in, which an outlet at 200.39 just leaves.
    assert drain_runs_out(200.75 * FOOT, (200.75 - 34.4 / 96) * FOOT, 34.4 * FOOT) == []
    plan = planned(demo(lambda t: t["surroundings"].update(drain_outlet="200.45 ft")), SURVEY)
    (caution,) = named(drain_cautions(plan, "least cost"), "drain-too-flat")
    assert number(caution) == pytest.approx(3.6 * INCH)


def test_drain_above_the_slab() -> None:
    assert drain_above_slab("house", 2.0, 2.0, "A-B", 0.0) == []
    plan = planned(demo(lambda t: t["surroundings"].update(drain_invert="205.60 ft")), SURVEY)
    (caution,) = named(drain_cautions(plan, "least cost"), "drain-above-slab")
    # 205.60 at D; 74 ft each way, half of 148, rise 9 1/4 in; the slab's underside is at 205.708.
    assert number(caution) == pytest.approx((205.60 + 74 / 96 - (206 + 0.5 / 12 - 4 / 12)) * FOOT, abs=1e-3)


def test_water_under_the_slab() -> None:
    assert water_under_slab("house", 10.0, None) == []
    assert water_under_slab("house", 10.0, 10.0 - 3 * FOOT) == []
    plan = planned(demo(lambda t: t["surroundings"].update(water_level="204.00 ft")), SURVEY)
    (caution,) = named(drain_cautions(plan, "least cost"), "water-near-slab")
    assert caution.where == "slab of house"
    assert number(caution) == pytest.approx((206 + 0.5 / 12 - 204) * FOOT)
    assert "above" in water_under_slab("house", 1.0, 1.5)[0].sentence
