"""Sizing of foam: its limits, its sums by hand, every set tried, Hasan's thickness in plain air, and any executor."""

from __future__ import annotations

import math
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from threading import Event

import numpy as np
import pytest

from foundation.climate import AnnualWave
from foundation.foam.boards import board_types
from foundation.heat.sections.loss import DAY, Flows
from foundation.heat.sections.respond import respond
from foundation.model.heat import ClimateUsed
from foundation.model.section import Block, BlockKind, GradeStep, Material, Section, Situation, SoilLayer
from foundation.model.sizing import FoamSet, FoamSizing, LaidFoam, Place
from foundation.money.lifecycle import economic_thickness
from foundation.plan import Plan
from foundation.studies.foam_boards import BARE, laid
from foundation.studies.foam_house import COARSE, FINE, LIKELY, joined
from foundation.studies.foam_season import Task, heating_season, solve_season
from foundation.studies.foam_sizing import search_of, size_foam
from foundation.studies.running import Runner, StudyCancelled
from tests.studies.lots import slab_plan

FOOT, INCH = 0.3048, 0.0254
ANSWER = "least cost"
QUICK = 40
"""Solves of the first comparison: the search goes on from there."""
ALL = (0.0, 1.0)


def sized(plan: Plan, executor: Executor | None = None) -> FoamSizing:
    return size_foam(plan, ANSWER, executor, most_solves=QUICK)


@pytest.fixture(scope="module")
def small() -> Plan:
    return slab_plan()


@pytest.fixture(scope="module")
def sizing(small: Plan) -> FoamSizing:
    return sized(small)


def at_price(plan: Plan, price: float) -> Plan:
    fuel = plan.project.fuel.model_copy(update={"price": price})
    return replace(plan, project=plan.project.model_copy(update={"fuel": fuel}))


def test_free_fuel_asks_for_no_more_than_the_office(small: Plan) -> None:
    free = sized(at_price(small, 0.0))
    assert free.least_cost.foam == free.code_floor.foam == BARE
    assert free.least_cost.life_cycle_cost == 0
    required = slab_plan(required={"edge": "R-10", "edge_depth": "2 ft", "source": "office"})
    floor = sized(at_price(required, 0.0))
    assert floor.least_cost.foam == floor.code_floor.foam
    # The cheapest R-10 down to 2 ft is 2 in of R-5 foam on the wall, or at the edge and under the slab.
    assert sum(foam is not None for foam in vars(floor.code_floor.foam).values()) in (1, 2)
    labels = [foam.label for foam in vars(floor.code_floor.foam).values() if foam is not None]
    assert labels == pytest.approx([10 * 0.17611] * len(labels), rel=1e-4)


def test_dear_fuel_asks_for_all_there_is(small: Plan) -> None:
    dear = sized(at_price(small, 3e5))
    thickness = [foam and foam.thickness for foam in vars(dear.least_cost.foam).values()]
    assert thickness == pytest.approx([4 * INCH, 4 * INCH, 6 * INCH, 4 * INCH])


def test_more_foam_costs_more_and_loses_less(sizing: FoamSizing) -> None:
    assert set(sizing.curves) == set(Place)
    for curve in sizing.curves.values():
        heats = [rung.yearly_heat for rung in curve.rungs]
        costs = [rung.first_cost for rung in curve.rungs]
        assert all(after < before for before, after in zip(heats, heats[1:], strict=False))
        assert all(after > before for before, after in zip(costs, costs[1:], strict=False))
        # Each inch saves less than the one before: up to the knee it pays, after it no more.
        for at, rung in enumerate(curve.rungs[1:], 1):
            assert (rung.marginal_saving >= rung.marginal_cost) == (at <= curve.knee)


def test_what_the_choices_are(sizing: FoamSizing) -> None:
    lives = [choice.life_cycle_cost for choice in sizing.best]
    assert lives == sorted(lives)
    assert sizing.least_cost == sizing.best[0]
    assert len(sizing.best) >= 20
    assert sizing.least_cost.life_cycle_cost < min(
        sizing.planned.life_cycle_cost, sizing.code_floor.life_cycle_cost
    )
    assert sizing.warmest.yearly_heat <= sizing.least_cost.yearly_heat
    assert sizing.warmest.life_cycle_cost <= 1.055 * sizing.least_cost.life_cycle_cost
    assert sizing.code_floor.floor_temperature < sizing.planned.floor_temperature
    assert sizing.planned.floor_temperature < sizing.least_cost.floor_temperature
    assert sizing.hint is not None
    assert sizing.hint.zone == "6"


def test_scenarios(sizing: FoamSizing) -> None:
    found = {(each.soil, each.fuel): each.choice for each in sizing.scenarios}
    assert len(found) == 9
    assert found["likely", "likely"] == sizing.least_cost
    for soil in ("low", "likely", "high"):
        heats = [found[soil, fuel].yearly_heat for fuel in ("low", "likely", "high")]
        assert heats == sorted(heats, reverse=True)
    for fuel in ("low", "likely", "high"):
        lives = [found[soil, fuel].life_cycle_cost for soil in ("low", "likely", "high")]
        assert lives == sorted(lives)


def test_the_search_finds_what_trying_every_set_finds(small: Plan) -> None:
    """All 320 sets of the stock boards on the same grids; likely soil, and high soil with cheap and dear fuel."""
    search = search_of(small, ANSWER, Runner())
    search.compare_grid(QUICK, ALL)
    found = {case: search.descend(*case, ALL) for case in ((LIKELY, LIKELY), (2, 0), (2, 2))}
    every = list(search.every(search.ladders))
    assert len(every) == search.considered == 320
    assert all(len(search.known[soil]) < 100 for soil in (LIKELY, 2))
    for (soil, fuel), best in found.items():
        search.compare(every, soil, ALL)
        assert search.ranked(soil, fuel)[0] == best


def test_the_same_by_any_executor(small: Plan, sizing: FoamSizing) -> None:
    with ThreadPoolExecutor(2) as threads:
        assert sized(small, threads) == sizing
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as processes:
        assert sized(small, processes) == sizing


def test_progress_and_stopping(small: Plan) -> None:
    told: list[float] = []
    stop = Event()

    def progress(share: float, sentence: str) -> None:
        assert sentence
        told.append(share)
        if len(told) == 5:
            stop.set()

    with pytest.raises(StudyCancelled, match="The study was stopped"):
        size_foam(small, ANSWER, progress=progress, cancelled=stop)
    assert len(told) == 5
    assert told == sorted(told)
    with ThreadPoolExecutor(1) as threads, pytest.raises(StudyCancelled):
        size_foam(small, ANSWER, threads, cancelled=lambda: True)


def test_progress_reaches_the_end(small: Plan) -> None:
    told: list[float] = []
    size_foam(small, ANSWER, progress=lambda share, _: told.append(share), most_solves=2)
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_costs_by_hand(small: Plan) -> None:
    """A set on the 30 × 20 ft slab, from its dimensions: 100 ft of wall, 8 in thick, foam to 2 ft below grade."""
    search = search_of(small, ANSWER, Runner())
    board = FoamSet(
        wall=laid("XPS V", 3 * INCH, 0.03),
        slab_edge=laid("XPS V", 2 * INCH, 0.03),
        under_slab=laid("XPS V", 6 * INCH, 0.03),
        wing=laid("XPS V", 2 * INCH, 0.03),
    )
    wall = 100 * (1 + 2) * (3 * 1.00 + 0.75)  # from the top, 1 ft over grade; $1 a board foot, $0.75 a layer
    cover = 100 * (1 + 0.5) * 4.00  # down to 6 in below grade
    edge = 100 * (4 / 12) * (2 * 1.00 + 0.75)  # the slab is 4 in thick
    under = (30 - 16 / 12) * (20 - 16 / 12) * (6 * 1.00 + 2 * 0.75)  # two layers of 3 in
    wing = 100 * 2 * (2 * 1.00 + 0.75)
    assert board.under_slab is not None
    assert board.under_slab.layers == 2
    assert search.cost(board) == pytest.approx(wall + cover + edge + under + wing, rel=1e-4)
    assert search.cost(BARE) == 0


def test_money_by_hand(sizing: FoamSizing) -> None:
    """Propane of $2.90 and 91 452 Btu a gallon at 92 %; UPV* of 3 % and 1 % over 30 years is 22.4666 [derived]."""
    choice = sizing.least_cost
    price = 2.90 / (91_452 * 1055.05585) / 0.92
    assert choice.yearly_money == pytest.approx(choice.yearly_heat * price, rel=1e-6)
    worth = sum((1.01 / 1.03) ** year for year in range(1, 31))
    assert choice.life_cycle_cost == pytest.approx(choice.first_cost + choice.yearly_money * worth, rel=1e-6)


def test_what_the_office_asks_for_is_a_floor() -> None:
    required = {"edge": "R-15", "edge_depth": "2 ft", "heated_slab": "R-15", "source": "office"}
    plan = slab_plan(required=required)
    part = plan.project.parts[0].model_copy(update={"floor_heated": True})
    plan = replace(plan, project=plan.project.model_copy(update={"parts": [part]}))
    sizing = sized(plan)
    for choice in (*sizing.best, sizing.code_floor, sizing.warmest, *(s.choice for s in sizing.scenarios)):
        foam = choice.foam
        assert foam.under_slab is not None
        assert foam.under_slab.label >= 15 * 0.17611 - 1e-4
        edges = [each.label for each in (foam.wall, foam.slab_edge) if each is not None]
        assert max(edges) >= 15 * 0.17611 - 1e-4


def test_what_nobody_can_reach_is_said() -> None:
    plan = slab_plan(required={"edge": "R-60", "edge_depth": "2 ft", "source": "office"})
    with pytest.raises(ValueError, match="No set of the boards that have a price reaches"):
        sized(plan)
    with pytest.raises(ValueError, match="The climate is not told"):
        sized(slab_plan(climate={"degree_days": None, "freezing_index": None}))
    with pytest.raises(ValueError, match="The price of propane is not told: give it in dollars per gallon"):
        sized(slab_plan(fuel={"price": None}))


def test_boards_that_crush_are_left_out() -> None:
    """30 tons on a foot press 49 psi or more on foam of 100 psi, a third of which it may bear: none is chosen there."""
    load = {"name": "press", "part": "house", "force": "60000 lb", "side": "12 in"}
    assert sized(slab_plan(slab_loads=[load])).least_cost.foam.under_slab is None


def test_heating_season_is_the_integral() -> None:
    """The closed form against a sum over minutes, and the wave's own degree days."""
    wave = AnnualWave(7.0, 15.0)
    climate = ClimateUsed(7.0, 15.0, 0.0, 0.0, None, None, "", "")
    air = 38 / 1.8
    season = heating_season(climate, 65 / 1.8 - 32 / 1.8, air)
    assert season.degree_days == pytest.approx(wave.degree_days_below(), rel=1e-9)
    assert season.half / math.pi * 365 == pytest.approx(wave.days_below(65 / 1.8 - 32 / 1.8), rel=1e-9)
    flow = Flows(mean=100.0, swing=80 * np.exp(-0.7j))
    day = np.linspace(-182.5, 182.5, 365 * 1440 + 1)
    cold = wave.temperature(day) < 65 / 1.8 - 32 / 1.8
    through = 100.0 + np.real(flow.swing * np.exp(2j * np.pi * day / 365))
    assert season.heat(flow) == pytest.approx(float(np.sum(through[cold])) * 60, rel=1e-4)
    # Never cold, always cold, no wave at all.
    assert heating_season(ClimateUsed(40.0, 10.0, 0, 0, None, None, "", ""), 18.3, air).half == 0
    always = heating_season(ClimateUsed(-20.0, 10.0, 0, 0, None, None, "", ""), 18.3, air)
    assert always.half == pytest.approx(math.pi)
    still = heating_season(ClimateUsed(-20.0, 0.0, 0, 0, None, None, "", ""), 18.3, air)
    assert still.degree_days == pytest.approx(365 * (20 + air - (38 / 1.8 - 18.3)))


TALL = 60 * FOOT


def in_plain_air(foam: LaidFoam | None) -> Section:
    """A wall over ground that conducts next to nothing, so tall that its ends hardly count: heat goes straight out."""
    concrete = Material("concrete", 1.8, 1.0, 1.8)  # it stores next to nothing either, as degree days suppose
    dead = Material("dead", 1e-5, 1.0, 1e-5)
    high = TALL
    blocks = [
        Block("wall", BlockKind.CONCRETE, concrete, -0.2, 0.0, 0.0, high),
        Block("framed wall", BlockKind.FRAME, dead, -0.2, 0.0, high, high + 0.3),
    ]
    if foam is not None:
        lies = Material("foam", foam.thickness / foam.resistance, 1.0, foam.thickness / foam.resistance)
        blocks.append(Block("foam outside", BlockKind.FOAM, lies, 0.0, foam.thickness, 0.0, high + 0.3))
    return Section(
        line="A-B",
        station=0.0,
        situation=Situation.EDGE,
        inside="house",
        outside="",
        floor=0.0,
        bed=0.0,
        half_width=3.0,
        inner_face=-0.2,
        divide=-0.1,
        top=high + 0.3,
        concrete_top=high,
        grade=(GradeStep(0.0, 0.0),),
        soil=(SoilLayer(math.inf, dead),),
        blocks=tuple(blocks),
    )


@pytest.mark.parametrize("worth", [3e-8, 6e-8, 1e-7, 2e-7, 3e-7])
def test_plain_air_agrees_with_the_economic_thickness(worth: float) -> None:
    """Hasan 1999 [memory]: the best stock board lies next to his thickness, and is the one his own cost prefers.

    His degree days count from the air inside here: that is what a season's heat counts from.
    """
    climate = ClimateUsed(7.0, 15.0, 0.0, 0.0, None, None, "", "")
    air, price, conductivity = 21.0, 250.0, 0.034
    season = heating_season(climate, 38 / 1.8, air)  # balance at the air itself
    bare = 0.13 + 0.2 / 1.8 + 0.04
    ladder = [laid("EPS II", inches * INCH, conductivity) for inches in (1, 1.5, 2, 3, 4, 6, 8)]

    def by_model(foam: LaidFoam) -> float:
        heat = solve_season(Task(in_plain_air(foam), air, climate, season, FINE)).heat / TALL
        return price * foam.thickness + worth * heat

    def by_hasan(foam: LaidFoam) -> float:
        through = DAY * season.degree_days / (bare + foam.resistance)
        return price * foam.thickness + worth * through

    chosen = min(ladder, key=by_model)
    assert chosen == min(ladder, key=by_hasan)
    assert by_model(chosen) == pytest.approx(by_hasan(chosen), rel=0.005)
    ideal = economic_thickness(conductivity, bare, price, season.degree_days, worth)
    thinner = [foam for foam in ladder if foam.thickness <= ideal] or ladder[:1]
    thicker = [foam for foam in ladder if foam.thickness >= ideal] or ladder[-1:]
    assert chosen in (thinner[-1], thicker[0])


def test_grids_are_as_near_as_they_say(small: Plan) -> None:
    """Steady conductance of sets on one grid each, against grids fitted until the error is a thousandth [derived]."""
    search = search_of(small, ANSWER, Runner())
    house = search.house
    board = laid("XPS V", 2 * INCH, 0.034)
    for foam in (BARE, FoamSet(board, board, board, None)):
        (each,) = house.representatives
        section = house.placed(foam)[each.stretch].section
        surface = respond(section, 0.002).surface
        exact = float(surface.flow_steady[np.array(surface.group) != "frame"].sum())
        house.solve([foam], LIKELY, FINE, ALL)
        house.solve([foam], LIKELY, COARSE, ALL)
        days = each.weight * DAY * heating_season(house.climate, 18.3333333, 38 / 1.8).degree_days
        fine, coarse = (house.loss(foam, LIKELY, each).degree_days / days for each in (FINE, COARSE))
        assert fine == pytest.approx(exact, rel=0.01)
        assert coarse == pytest.approx(exact, rel=0.04)


def test_few_sections_stand_for_the_house(demo_plan: Plan) -> None:
    """Heat of the demo's representatives against all its stretches, with a set that chose none of them."""
    search = search_of(demo_plan, ANSWER, Runner())
    house = search.house
    assert len(house.representatives) == 8
    assert house.representation_error < 0.02
    rungs = {
        place: next(f for f in ladder.rungs[1:] if f is not None) for place, ladder in search.ladders.items()
    }
    foam = FoamSet(rungs[Place.WALL], None, rungs[Place.UNDER_SLAB], rungs[Place.WING])
    house.solve([foam], LIKELY, COARSE, ALL)
    few = house.loss(foam, LIKELY, COARSE).season
    house.representatives = tuple(
        replace(house.representatives[0], stretch=number, weight=placed.end - placed.start)
        for number, placed in enumerate(house.stretches)
    )
    house.solve([foam], LIKELY, COARSE, ALL)
    assert few == pytest.approx(house.loss(foam, LIKELY, COARSE).season, rel=0.02)


def test_joining_keeps_kinds_apart_and_the_nearest_together() -> None:
    values = np.array([[1.0], [1.1], [5.0], [1.0], [1.0]])
    groups = joined(["a", "a", "a", "a", "b"], np.ones(5), values, 3)
    assert sorted(sorted(group) for group in groups) == [[0, 1, 3], [2], [4]]
    # Equal ones are joined without need; kinds never are.
    groups = joined(["a", "a", "a", "a", "b"], np.ones(5), values, 9)
    assert sorted(sorted(group) for group in groups) == [[0, 3], [1], [2], [4]]
    assert len(joined(["a", "b", "c"], np.ones(3), np.ones((3, 1)), 1)) == 3


def test_sums_of_areas(demo_plan: Plan) -> None:
    """Foam under the demo's slabs with the strips over footings and ledge covers the floors, from the corners by hand.

    House: 44 × 30 ft outside, walls 10 in; garage: 24 × 24 ft outside, walls 8 in.
    """
    search = search_of(demo_plan, ANSWER, Runner())
    strips = dict.fromkeys(("house", "garage"), 0.0)
    for placed in search.house.placed(search.thickest):
        for block in placed.section.blocks:
            if block.name.startswith("foam over the"):
                strips[placed.section.inside] += (placed.end - placed.start) * (block.right - block.left)
    floors = {
        part: sum(each.faces[Place.UNDER_SLAB] for each in search.areas if each.part == part) + strips[part]
        for part in strips
    }
    assert floors["house"] / FOOT**2 == pytest.approx((44 - 20 / 12) * (30 - 20 / 12), rel=1e-4)
    assert floors["garage"] / FOOT**2 == pytest.approx((24 - 16 / 12) * (24 - 16 / 12), rel=1e-4)


def test_only_boards_with_a_quote_are_compared(sizing: FoamSizing) -> None:
    boards = {foam.board for each in sizing.best for foam in vars(each.foam).values() if foam is not None}
    assert boards == {"XPS V"}
    unquoted = search_of(slab_plan(foam_prices={"boards": []}), ANSWER, Runner())
    families = {board_types()[board].family for board in unquoted.prices.by_board}
    assert families == {"EPS", "XPS"}
    assert not unquoted.prices.quoted
