"""Options compared: identities, money by hand, the choices of a sizing, and the demo from end to end."""

from __future__ import annotations

import datetime
import math
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from threading import Event
from typing import Any

import numpy as np
import pytest

from foundation.heat.sections.loss import Flows
from foundation.model.heat import Band, ClimateUsed
from foundation.model.options import Comparison, OptionFigures, OptionFuel, OptionHeat
from foundation.model.sizing import FoamSet
from foundation.plan import PlanError, plan
from foundation.plan.heat import heat_of
from foundation.project import Job, check
from foundation.studies.foam_boards import laid
from foundation.studies.foam_laying import with_foam
from foundation.studies.foam_season import heating_season
from foundation.studies.foam_sizing import size_foam
from foundation.studies.house_levels import house_levels
from foundation.studies.option_foam import foam_changes
from foundation.studies.option_heat import season_by_month
from foundation.studies.options import compare, from_sizing, option_projects
from foundation.studies.running import StudyCancelled
from tests.conftest import planned
from tests.studies.option_lots import option, tables

INCH = 0.0254
ANSWER = "least cost"
TODAY = datetime.date(2026, 11, 20)
OUTSIDE = "parts[1].foam.outside"


THICKER = [
    option("none", {OUTSIDE: ""}),
    option("thin", {f"{OUTSIDE}.thickness": "1 in"}),
    option("same"),
    option("thick", {f"{OUTSIDE}.thickness": "4 in"}),
]


def compared(executor: Executor | None = None) -> Comparison:
    return compare(tables(), today=TODAY, options=THICKER, executor=executor)


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    return compared()


def figures(comparison: Comparison) -> list[OptionFigures]:
    found = [each.figures for each in comparison.options]
    return [each for each in found if each is not None]


def heats(comparison: Comparison) -> list[OptionHeat]:
    return [each.heat for each in figures(comparison) if each.heat is not None]


def fuels(comparison: Comparison) -> list[OptionFuel]:
    return [each.fuel for each in figures(comparison) if each.fuel is not None]


# --- identities ---


def test_an_option_without_changes_is_the_base(comparison: Comparison) -> None:
    same = comparison.options[2]
    assert same.changes == ()
    assert same.figures == comparison.base.figures
    fuel = fuels(comparison)[2]
    nothing = Band(0.0, 0.0, 0.0)
    assert fuel.payback.kind == "no difference"
    assert fuel.saved == fuel.over_years_added == fuel.net_a_month == nothing
    assert figures(comparison)[2].added_cost == nothing


def test_more_foam_loses_less_and_costs_more(comparison: Comparison) -> None:
    assert len(heats(comparison)) == 4
    for values, rising in (
        ([each.yearly.likely for each in heats(comparison)], False),
        ([each.design_load.likely for each in heats(comparison) if each.design_load is not None], False),
        ([each.floor_temperature for each in heats(comparison)], True),
        ([each.first_cost.likely for each in figures(comparison)], True),
        ([each.fuel.a_month.likely for each in figures(comparison) if each.fuel is not None], False),
    ):
        assert len(set(values)) == 4
        assert values == sorted(values, reverse=not rising)


def test_added_cost_adds_up(comparison: Comparison) -> None:
    base = comparison.base.figures
    assert base is not None
    for each in figures(comparison):
        assert each.added_cost.likely == pytest.approx(
            each.first_cost.likely - base.first_cost.likely, abs=1e-6
        )
        assert each.added_cost.low <= each.added_cost.likely <= each.added_cost.high
    # From no foam to thick foam in one go or by way of the base.
    changed = tables()
    del changed["parts"][0]["foam"]["outside"]
    whole = compare(
        changed,
        options=[option("thick", {f"{OUTSIDE}.board": "XPS V", f"{OUTSIDE}.thickness": "4 in"})],
    )
    none, _, _, thick = figures(comparison)
    (at_once,) = figures(whole)
    assert at_once.added_cost.likely == pytest.approx(
        thick.added_cost.likely - none.added_cost.likely, abs=1e-6
    )


def test_heat_is_the_plan_s_own(comparison: Comparison) -> None:
    """Design day as the house's heat has it; where it is always cold the season is the year."""
    base = comparison.base.figures
    assert base is not None
    assert base.heat is not None
    whole = heat_of(planned(tables()), ANSWER)
    assert whole is not None
    assert base.heat.design_load == whole.total.design
    assert base.heat.floor_temperature == min(stretch.floor_temperature for stretch in whole.stretches)
    polar = tables(climate={"degree_days": None, "freezing_index": None, "monthly": POLAR})
    found = compare(polar).base.figures
    year = heat_of(planned(polar), ANSWER)
    assert found is not None
    assert found.heat is not None
    assert year is not None
    for own, other in (
        (found.heat.yearly, year.total.yearly),
        *zip(found.heat.monthly, year.total.monthly, strict=True),
    ):
        assert [own.low, own.likely, own.high] == pytest.approx(
            [other.low, other.likely, other.high], rel=1e-9
        )


POLAR = [f"{mean} °F" for mean in (-20, -18, -10, 0, 10, 20, 22, 20, 10, 0, -10, -18)]


def test_months_add_up_to_the_season() -> None:
    """Against a sum over minutes, and the season's own integral; years that are cold throughout or never."""
    flow = Flows(mean=100.0, swing=80 * np.exp(-0.7j))
    base, air = 65 / 1.8 - 32 / 1.8, 38 / 1.8
    season = heating_season(ClimateUsed(7.0, 15.0, 0, 0, None, None, "", ""), base, air)
    months = season_by_month(season, flow)
    assert sum(months) == pytest.approx(season.heat(flow), rel=1e-9)
    day = (np.arange(365 * 1440) + 0.5) / 1440
    turn = 2 * math.pi / 365
    from_coldest = day - 14.5
    cold = 7.0 - 15.0 * np.cos(turn * from_coldest) < base
    through = 100.0 + np.real(flow.swing * np.exp(1j * turn * from_coldest))
    ends = np.cumsum((31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31))
    by_minute = [
        60 * float(np.sum(part)) for part in np.split(np.where(cold, through, 0.0), ends[:-1] * 1440)
    ]
    assert months == pytest.approx(by_minute, rel=1e-3, abs=1.0)
    never = heating_season(ClimateUsed(40.0, 10.0, 0, 0, None, None, "", ""), base, air)
    assert season_by_month(never, flow) == [0.0] * 12


@pytest.mark.parametrize("kind", ["threads", "processes"])
def test_the_same_by_any_executor(comparison: Comparison, kind: str) -> None:
    pool: Executor = (
        ThreadPoolExecutor(2)
        if kind == "threads"
        else ProcessPoolExecutor(2, mp_context=get_context("spawn"))
    )
    with pool as workers:
        assert compared(workers) == comparison


def test_progress_and_stopping() -> None:
    told: list[float] = []
    compare(
        tables(), options=THICKER[:1], progress=lambda share, words: told.append(share) if words else None
    )
    assert told == sorted(told)
    assert told[-1] == 1.0
    stop = Event()
    stop.set()
    with pytest.raises(StudyCancelled):
        compare(tables(), options=THICKER, cancelled=stop)


# --- money ---


def test_money_by_hand(comparison: Comparison) -> None:
    """Propane of $2.90 and 91 452 Btu a gallon at 92 %; 3 % real, 1 % rise, 30 years; loan of 6.5 % over 30 years."""
    price = 2.90 / (91_452 * 1055.05585) / 0.92
    worth = sum((1.01 / 1.03) ** year for year in range(1, 31))
    month = 0.065 / 12
    share = month / (1 - (1 + month) ** -360)
    base = comparison.base.figures
    assert base is not None
    assert base.fuel is not None
    for each in figures(comparison):
        assert each.heat is not None
        assert each.fuel is not None
        yearly = each.heat.yearly.likely * price
        assert each.fuel.yearly.likely == pytest.approx(yearly, rel=1e-6)
        assert each.fuel.a_month.likely == pytest.approx(yearly / 12, rel=1e-6)
        assert sum(month.likely for month in each.fuel.by_month) == pytest.approx(yearly, rel=1e-6)
        assert each.fuel.over_years.likely == pytest.approx(each.first_cost.likely + worth * yearly, rel=1e-6)
        assert each.loan_payment.likely == pytest.approx(each.first_cost.likely * share, rel=1e-9)
        saved = base.fuel.yearly.likely - each.fuel.yearly.likely
        assert each.fuel.saved.likely == pytest.approx(saved, abs=1e-9)
        assert each.fuel.net_a_month.likely == pytest.approx(
            each.added_cost.likely * share - saved / 12, abs=1e-9
        )
        added = each.added_cost.likely - worth * saved
        assert each.fuel.over_years_added.likely == pytest.approx(added, abs=1e-6)


def test_nine_cases(comparison: Comparison) -> None:
    for fuel in fuels(comparison):
        money = {(case.soil, case.fuel): case.money for case in fuel.cases}
        assert len(money) == 9
        for rise in ("low", "likely", "high"):
            by_soil = [money[soil, rise] for soil in ("low", "likely", "high")]
            assert by_soil == sorted(by_soil)
        for soil in ("low", "likely", "high"):
            by_rise = [money[soil, rise] for rise in ("low", "likely", "high")]
            assert by_rise == sorted(by_rise)
        assert (fuel.over_years.low, fuel.over_years.high) == (min(money.values()), max(money.values()))


def test_without_climate_or_price() -> None:
    bare = tables()
    bare["climate"] = {}
    found = compare(bare, options=THICKER[:2])
    assert [each.heat for each in figures(found)] == [None, None]
    assert any("climate is not told" in note for note in found.notes)
    unpriced = compare(tables(fuel={"price": None}), options=THICKER[:2])
    assert len(heats(unpriced)) == 2
    assert [each.fuel for each in figures(unpriced)] == [None, None]
    assert any("price of propane is not told" in note for note in unpriced.notes)
    assert not unpriced.quoted


def test_one_fuel_price_and_stale_quotes_are_cautions(comparison: Comparison) -> None:
    assert comparison.cautions == ()
    one = compare(
        tables(fuel={"escalation_band": "0 %", "quoted": "2026-01-01"}), today=TODAY, options=[option("same")]
    )
    numbers = {caution.trap.number for caution in one.cautions}
    keys = {caution.trap.key for caution in one.cautions}
    assert numbers == {38}
    assert len(keys) == 2


def test_another_fuel_is_told() -> None:
    """A kilowatt hour is 3 412 Btu in the trade's table."""
    pump = option("heat pump", {"fuel.kind": "electricity", "fuel.price": "$0.17", "fuel.efficiency": "2.5"})
    found = compare(tables(), options=[pump])
    assert any("the heaters themselves" in note for note in found.notes)
    (fuel,) = fuels(found)
    (heat,) = heats(found)
    assert fuel.yearly.likely == pytest.approx(
        heat.yearly.likely / (3412 * 1055.05585) / 2.5 * 0.17, rel=1e-6
    )


def test_an_option_that_cannot_be_planned_says_why(comparison: Comparison) -> None:
    deep = option("forbidden", {"rules.tallest_wall": "4 ft"})
    found = compare(tables(), today=TODAY, options=[deep, THICKER[3]])
    assert found.options[0].figures is None
    assert "tallest wall" in found.options[0].problems[0].sentence
    assert found.options[1].figures == comparison.options[3].figures
    with pytest.raises(PlanError, match="tallest wall"):
        compare(tables(rules={"tallest_wall": "4 ft"}))
    with pytest.raises(KeyError, match="no answer is called"):
        compare(tables(), answer="fastest")


# --- good, better, best ---


def test_the_sizing_s_choices_as_options() -> None:
    made = planned(tables())
    sizing = size_foam(made, ANSWER, most_solves=40)
    options = from_sizing(made.project, sizing)
    assert [each.name for each in options] == ["Good", "Better", "Best"][: len(options)]
    assert len(options) >= 2
    found = compare(tables(), options=options)
    (good, better, *_) = figures(found)
    assert good.heat is not None
    assert better.heat is not None
    # The sizing solves on grids of its own, some tenths of a percent off.
    assert good.heat.yearly.likely == pytest.approx(sizing.code_floor.yearly_heat, rel=0.02)
    assert better.heat.yearly.likely == pytest.approx(sizing.least_cost.yearly_heat, rel=0.02)
    assert better.heat.floor_temperature == pytest.approx(sizing.least_cost.floor_temperature, abs=0.2)


def test_a_set_of_foam_as_typed(demo_job: Job, demo_tables: dict[str, Any]) -> None:
    """What is typed gives the foam and the ledges that the sizing reckons with; wings on walls that drop to a frame."""
    board = laid("EPS II", 3 * INCH, 0.036)
    foam = FoamSet(wall=board, slab_edge=board, under_slab=None, wing=board)
    changes = foam_changes(demo_job.project, foam)
    (found,), problems = option_projects(demo_tables, [option("set", changes)])
    assert problems == ()
    own, sized = plan(found.project, demo_job.survey), plan(demo_job.project, demo_job.survey)
    reckoned = with_foam(sized, ANSWER, foam)
    assert len(own.walls[ANSWER].ledges) == 1
    for one, other in zip(own.walls[ANSWER].ledges, reckoned.walls[ANSWER].ledges, strict=True):
        assert (one.foam, one.bearing, one.level) == pytest.approx((other.foam, other.bearing, other.level))
    for typed, sized_part in zip(found.project.parts, reckoned.project.parts, strict=True):
        for field in ("outside", "slab_edge", "under_slab"):
            mine, theirs = getattr(typed.foam, field), getattr(sized_part.foam, field)
            assert (mine and mine.board) == (theirs and theirs.board)
            assert mine is None or mine.thickness == pytest.approx(theirs.thickness)
    house, garage = found.project.parts
    assert house.foam.wing is None
    assert {wall.line for wall in house.walls if wall.foam and wall.foam.wing} == {"C-D", "D-A", "H-C"}
    assert garage.foam.wing is not None
    # A set that is planned already changes nothing.
    again = foam_changes(found.project, foam)
    assert again == {}


# --- the demo ---


def test_the_demo_from_end_to_end(demo_job: Job, demo_tables: dict[str, Any]) -> None:
    demo_tables["options"] = [
        {
            "name": "Thicker foam",
            "why": "A warmer floor.",
            "changes": {"parts[1].foam.outside.thickness": "4 in"},
        },
        {"name": "Set 8 in higher", "changes": {"raise_by": "8 in"}},
        {"name": "No foam outside", "changes": {"parts[1].foam.outside": "", "parts[2].foam.outside": ""}},
    ]
    assert check(demo_tables)[0] is not None
    with ThreadPoolExecutor(2) as threads:
        found = compare(demo_tables, demo_job.survey, today=TODAY, executor=threads)
    assert [each.name for each in (found.base, *found.options)] == [
        "as planned", "Thicker foam", "Set 8 in higher", "No foam outside",
    ]  # fmt: skip
    assert found.quoted
    assert (found.years, found.loan_years) == (30, 30)
    thicker, higher, none = figures(found)
    base = found.base.figures
    assert base is not None
    assert thicker.added_cost.likely > 0 > none.added_cost.likely
    # Foam alone moves no concrete; set higher it is as the study of levels finds it.
    assert (thicker.steps, thicker.concrete) == (base.steps, base.concrete)
    (level,) = house_levels(demo_job.project, demo_job.survey, (8 * INCH,))
    assert higher.steps == level.steps
    assert higher.barest == max(wall.bare for wall in level.walls)
    assert higher.cautions.new or higher.cautions.gone
    heat = [each.heat.yearly.likely for each in (thicker, base, none) if each.heat is not None]
    assert len(heat) == 3
    assert heat == sorted(heat)
    assert none.fuel is not None
    assert none.fuel.payback.kind == "eaten up"
    assert none.fuel.payback.likely < 30
    assert [(change.label, change.before, change.after) for change in found.options[2].changes] == [
        ("house, foam, outside", "board XPS IV, thickness 2 in", ""),
        ("garage, foam, outside", "board XPS IV, thickness 2 in", ""),
    ]
