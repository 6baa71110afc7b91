"""How much foam is worth it: the boards of least life-cycle cost for four places together, by the heat model itself."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import replace

from foundation.foam.boards import board_types
from foundation.model.sizing import Choice, Curve, FoamSet, FoamSizing, Place, Rung, Scenario
from foundation.money.fuels import fuels, heat_price
from foundation.money.lifecycle import escalating_worth
from foundation.money.usual import code_hint
from foundation.plan import Plan
from foundation.plan.climate import climate_of
from foundation.plan.heat import soil_layers
from foundation.project import Project
from foundation.studies.foam_boards import (
    BARE,
    BoardPrices,
    heated,
    planned_set,
    prices_of,
    thickness_of,
)
from foundation.studies.foam_costs import planned_cost
from foundation.studies.foam_house import FINE, LIKELY, House, HouseLoss
from foundation.studies.foam_search import MOST_SOLVES, Search, conductivities_in_place
from foundation.studies.running import Cancelled, Progress, Runner

BANDS = ("low", "likely", "high")
CONFIRMED = 20
"""Best sets that are solved on finer grids. [-]"""


def size_foam(
    plan: Plan,
    answer: str,
    executor: Executor | None = None,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
    weather: str = "",
    most_solves: int = MOST_SOLVES,
) -> FoamSizing:
    """Find the set of stock boards of least life-cycle cost for wall, slab edge, under the slab and wing together.

    Heat is that of the heating season: of each part the time in which the wave outdoors is below the part's balance
    temperature, 5 °F below its air as the base of degree days lies below 70 °F. Through parts that face air it comes
    near conductance times degree days; the middle of a floor follows the yearly mean and loses all the year, which
    degree days do not know. Both are given.

    1. A few sections are chosen that stand for the house; what they miss is measured on all.
    2. Every set of the ladders, thinned where they are long, is solved through the year on coarse grids.
    3. From the best the search goes on over all stock boards until no neighbour is better; so it does for low and
       high soil, and for low and high rises of the fuel's price.
    4. The best twenty, and what else is told, are confirmed on finer grids.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    executor : concurrent.futures.Executor, optional
        What runs the solves, threads, processes or a cluster's; this thread when left out. The answer does not depend
        on it.
    progress : function, optional
        Called with the share done and a sentence.
    cancelled : function or threading.Event, optional
        Says whether to stop; looked at between solves.
    weather : str
        Text of the weather file, "" for none.
    most_solves : int
        Solves that the first comparison may take; ladders are thinned until it does. [-]

    Returns
    -------
    FoamSizing
        The best sets and what they save.

    Raises
    ------
    ValueError
        If the climate or the fuel's price is missing, nothing is heated, or no set is allowed; a sentence tells.
    StudyCancelled
        If it was stopped.
    """
    search = search_of(plan, answer, Runner(executor, progress, cancelled), weather)
    house, project = search.house, plan.project
    search.compare_grid(most_solves, (0.05, 0.5))
    for fuel in range(3):
        search.descend(LIKELY, fuel, (0.5, 0.6))
    report = _Report(plan, search)
    best, curves = report.settled()
    warmest = search.warmest(best[0])
    report.confirm([None, search.code_floor, warmest], LIKELY, (0.8, 0.82))
    scenarios = tuple(report.scenarios(best[0]))
    house.runner.tell(1.0, "Done")
    return FoamSizing(
        planned=report.planned(),
        code_floor=report.choice(search.code_floor),
        least_cost=report.choice(best[0]),
        warmest=report.choice(warmest),
        best=tuple(report.choice(foam) for foam in best),
        curves=curves,
        scenarios=scenarios,
        considered=search.considered,
        compared=len(search.known[LIKELY]),
        solved=house.solved,
        representatives=len(house.representatives),
        representation_error=house.representation_error,
        quoted=search.prices.quoted and project.fuel.quoted is not None,
        hint=code_hint(house.climate.degree_days),
        assumed=tuple(_assumed(project, search.prices)),
    )


def search_of(plan: Plan, answer: str, runner: Runner, weather: str = "") -> Search:
    """Make ready for the search: the house's sections, boards and prices, what heat is worth.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    runner : Runner
        What runs the solves.
    weather : str
        Text of the weather file, "" for none.

    Returns
    -------
    Search
        The search, its representatives chosen, no set compared.

    Raises
    ------
    ValueError
        As :func:`size_foam`.
    """
    project = plan.project
    climate = climate_of(project, weather)
    if climate is None:
        raise ValueError("The climate is not told: give degree days and a freezing index, or a weather file.")
    worths = _worths(project, _heat_price(project))
    house = House(plan, answer, climate, soil_layers(project), runner)
    prices = prices_of(project)
    conductivities = conductivities_in_place(
        house, prices, {board: board_types()[board].thicknesses[0] for board in prices.by_board}
    )
    search = Search(plan, answer, house, prices, conductivities, worths)
    house.choose_representatives((None, BARE, search.thickest), (0.0, 0.05))
    return search


class _Report:
    """Confirms sets on finer grids and makes choices and curves of them."""

    def __init__(self, plan: Plan, search: Search) -> None:
        self.plan, self.house, self.search = plan, search.house, search
        self.price = _heat_price(plan.project)

    def confirm(self, foams: Sequence[FoamSet | None], soil: int, share: tuple[float, float]) -> None:
        self.house.solve(foams, soil, FINE, share)

    def choice(self, foam: FoamSet, soil: int = LIKELY, fuel: int = LIKELY) -> Choice:
        return self._choice(foam, self.search.cost(foam), self.house.loss(foam, soil, FINE), fuel)

    def planned(self) -> Choice:
        cost = planned_cost(self.plan, self.house.placed(None), self.search.prices)
        foam = planned_set(self.plan.project, self.search.conductivities)
        return self._choice(foam, cost, self.house.loss(None, LIKELY, FINE), LIKELY)

    def _choice(self, foam: FoamSet, cost: float, loss: HouseLoss, fuel: int) -> Choice:
        return Choice(
            foam=foam,
            first_cost=cost,
            added_cost=cost - self.search.cost(self.search.code_floor),
            yearly_heat=loss.season,
            degree_day_heat=loss.degree_days,
            yearly_money=self.price * loss.season,
            life_cycle_cost=cost + self.search.worths[fuel] * loss.season,
            floor_temperature=loss.floor_temperature,
        )

    def settled(self) -> tuple[list[FoamSet], dict[Place, Curve]]:
        """The confirmed sets, best first, and curves round the best, none of which has a better knee."""
        confirmed = dict.fromkeys(self.search.ranked(LIKELY, LIKELY)[:CONFIRMED])
        new = list(confirmed)
        while True:
            self.confirm(new, LIKELY, (0.6, 0.8))
            best = sorted(confirmed, key=lambda foam: self.choice(foam).life_cycle_cost)
            curves, knees = self._curves(best[0])
            new = [foam for foam in knees if foam not in confirmed]
            if not new:
                return best, curves
            confirmed |= dict.fromkeys(new)

    def _curves(self, best: FoamSet) -> tuple[dict[Place, Curve], list[FoamSet]]:
        curves, knees = {}, []
        for place, ladder in self.search.ladders.items():
            boards = [rung.board for rung in (best.at(place), *ladder.rungs) if rung is not None]
            if boards:
                curves[place], knee = self._curve(best, place, boards[0])
                knees.append(knee)
        return curves, knees

    def _curve(self, best: FoamSet, place: Place, board: str) -> tuple[Curve, FoamSet]:
        """The thicknesses of one board on coarse grids, scaled to meet the best set's confirmed heat."""
        search, worth = self.search, self.search.worths[LIKELY]
        sets = [replace(best, **{place.value: foam}) for foam in (None, *search.choices(place, board))]
        sets = [each for each in sets if search.allowed(each)]
        search.compare([best, *sets], LIKELY, (0.6, 0.8))
        scale = self.house.loss(best, LIKELY, FINE).season / search.known[LIKELY][best]
        rungs: list[Rung] = []
        for each in sets:
            foam, cost, heat = each.at(place), search.cost(each), scale * search.known[LIKELY][each]
            low, high = (cost + search.worths[rise] * heat for rise in (0, -1))
            rung = Rung(foam, cost, heat, cost + worth * heat, math.nan, math.nan, low, high)
            if rungs:
                before = rungs[-1]
                added = thickness_of(foam) - thickness_of(before.foam)
                rung = replace(
                    rung,
                    marginal_cost=(cost - before.first_cost) / added,
                    marginal_saving=worth * (before.yearly_heat - heat) / added,
                )
            rungs.append(rung)
        knee = min(range(len(rungs)), key=lambda at: (rungs[at].life_cycle_cost, rungs[at].first_cost))
        return Curve(place, board, tuple(rungs), knee), sets[knee]

    def scenarios(self, least: FoamSet) -> Iterator[Scenario]:
        """The best set for each soil and each rise of the fuel's price; the likely one is settled already."""
        for soil, name in enumerate(BANDS):
            start = 0.82 + 0.18 * soil / 3
            found = [
                least
                if (soil, fuel) == (LIKELY, LIKELY)
                else self.search.descend(soil, fuel, (start, start + 0.04))
                for fuel in range(3)
            ]
            self.confirm(found, soil, (start + 0.04, start + 0.06))
            for fuel, foam in enumerate(found):
                yield Scenario(name, BANDS[fuel], self.choice(foam, soil, fuel))


def _heat_price(project: Project) -> float:
    """Price of a joule of delivered heat."""
    fuel = project.fuel
    if fuel.price is None:
        raise ValueError(
            f"The price of {fuel.kind} is not told: give it in dollars per {fuels()[fuel.kind].priced_by}."
        )
    return heat_price(fuel.price, fuels()[fuel.kind].heat_content, fuel.efficiency)


def _worths(project: Project, price: float) -> tuple[float, float, float]:
    """Worth today of a joule in every year that counts, for low, likely and high rises of the price."""
    fuel, finance = project.fuel, project.finance
    low, likely, high = (
        price * escalating_worth(finance.discount_rate, fuel.escalation + step, finance.years)
        for step in (-fuel.escalation_band, 0.0, fuel.escalation_band)
    )
    return low, likely, high


def _assumed(project: Project, prices: BoardPrices) -> Iterator[str]:
    yield (
        "Levels are held as planned: thicker foam under the slab takes its room from the ground, and foam over "
        "footings and ledges stays as thick as planned and is in no set's cost."
    )
    yield "One board in each place for all heated parts; foam inside walls and under doors stays as it is."
    yield "On a ledge thicker edge foam takes from the slab's bearing, down to 1 1/2 in."
    if not any(part.foam.wing for part in heated(project)):
        yield "A wing would lie along slab edges alone, 24 in wide and 12 in deep."
    yield "No digging is counted for a wing: it lies in the backfill of the dig."
    yield (
        "Boards under slabs carry the loads that are typed; where none is, a loaded barrow's wheel, and in a garage "
        "a car's."
    )
    yield "Foam outside walls, at edges and in wings is compared up to 4 in, under slabs up to 8 in in two layers."
    if not prices.quoted:
        yield "Some boards have no quoted price with a day: their price is the project's undated one, or invented."
