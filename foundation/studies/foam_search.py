"""The search through sets of foam: which there are, what each costs over the years, and which is best."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import product

from foundation.model.sizing import FoamSet, LaidFoam, Place
from foundation.plan import Plan
from foundation.studies.foam_boards import BoardPrices, Ladder, carries, ladder_of, laid, thicknesses_of
from foundation.studies.foam_costs import areas_of, block_of, first_cost
from foundation.studies.foam_house import COARSE, LIKELY, House
from foundation.studies.foam_laying import allowed, rooms

MOST_SOLVES = 1600
"""Solves that the first comparison takes at most, unless told. [-]"""
WARMTH = 0.05
"""Share of the least life-cycle cost that the warmest set may cost more [practice]. [-]"""
NEIGHBOURS = 2
"""Rungs up and down that a set's neighbours differ by in one place. [-]"""

Conductivities = Mapping[Place, Mapping[str, float]]


def conductivities_in_place(
    house: House, prices: BoardPrices, thickness: Mapping[str, float]
) -> Conductivities:
    """What each board conducts in each place, read from sections that have it.

    Parameters
    ----------
    house : House
        The house.
    prices : BoardPrices
        Boards to choose from.
    thickness : mapping of str to float
        Some thickness of each board. [m]

    Returns
    -------
    mapping of Place to mapping of str to float
        Places that the house has, in the order of `Place`. [W/(m·K)]
    """
    found: dict[Place, dict[str, float]] = {}
    for board in prices.by_board:
        layer = LaidFoam(board, thickness[board], 1, 0.0, 0.0)
        everywhere = FoamSet(layer, layer, layer, layer)
        for place in Place:
            blocks = (block_of(place, placed.section.blocks) for placed in house.placed(everywhere))
            block = next((each for each in blocks if each is not None), None)
            if block is not None:
                found.setdefault(place, {})[board] = block.material.conductivity
    return found


class Search:
    """Sets of foam for a house, compared by life-cycle cost.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    house : House
        Its sections.
    prices : BoardPrices
        Boards to choose from.
    conductivities : mapping of Place to mapping of str to float
        What each conducts in each place. [W/(m·K)]
    worths : sequence of float, length 3
        Worth today of a joule of heat in every year, low, likely and high rise of the fuel's price. [$/J]

    Raises
    ------
    ValueError
        If no set is allowed.
    """

    def __init__(
        self,
        plan: Plan,
        answer: str,
        house: House,
        prices: BoardPrices,
        conductivities: Conductivities,
        worths: Sequence[float],
    ) -> None:
        self.project, self.house, self.prices, self.worths = plan.project, house, prices, worths
        self.conductivities, self.rooms = conductivities, rooms(plan, answer)
        self.ladders = {
            place: ladder_of(
                place, [foam for board in prices.by_board for foam in self.choices(place, board)], prices
            )
            for place in Place
        }
        self.thickest = FoamSet(*(ladder.rungs[-1] for ladder in self.ladders.values()))
        self.areas = areas_of(house.placed(self.thickest))
        self.situations = {placed.section.situation for placed in house.stretches}
        self.known: dict[int, dict[FoamSet, float]] = {soil: {} for soil in range(3)}
        self._costs: dict[FoamSet, float] = {}
        sets = [foam for foam in self.every(self.ladders) if self.allowed(foam)]
        if not sets:
            raise ValueError(
                "No set of the boards that have a price reaches what the office asks for: quote a thicker or a "
                "better board, or look at the required R again."
            )
        self.considered = len(sets)
        self.code_floor = min(sets, key=self.cost)

    def choices(self, place: Place, board: str) -> list[LaidFoam]:
        """Thicknesses of a board that have room in a place, and carry what is on the slab.

        Parameters
        ----------
        place : Place
            The place.
        board : str
            Name of the board's type.

        Returns
        -------
        list of LaidFoam
            Thinner to thicker, empty where the house has no such place.
        """
        if board not in self.conductivities.get(place, {}):
            return []
        conductivity = self.conductivities[place][board]
        foams = [laid(board, each, conductivity) for each in thicknesses_of(board, self.rooms[place])]
        return [foam for foam in foams if place is not Place.UNDER_SLAB or carries(self.project, foam)]

    @staticmethod
    def every(ladders: Mapping[Place, Ladder]) -> Iterable[FoamSet]:
        """Every set that ladders make.

        Parameters
        ----------
        ladders : mapping of Place to Ladder
            The ladders.

        Returns
        -------
        iterable of FoamSet
            The sets, less foam first.
        """
        return (FoamSet(*foams) for foams in product(*(ladders[place].rungs for place in Place)))

    def cost(self, foam: FoamSet) -> float:
        """First cost of a set.

        Parameters
        ----------
        foam : FoamSet
            The set.

        Returns
        -------
        float
            Boards, laying and cover. [$]
        """
        if foam not in self._costs:
            self._costs[foam] = first_cost(self.areas, foam, self.prices)
        return self._costs[foam]

    def allowed(self, foam: FoamSet) -> bool:
        """Whether the office's numbers allow a set.

        Parameters
        ----------
        foam : FoamSet
            The set.

        Returns
        -------
        bool
            True if they do.
        """
        return allowed(self.project, foam, self.situations)

    def life(self, foam: FoamSet, soil: int, fuel: int) -> float:
        """Life-cycle cost of a set on coarse grids.

        Parameters
        ----------
        foam : FoamSet
            The set, one that :meth:`compare` has seen.
        soil, fuel : int
            Which soil and which rise of the fuel's price, 0 to 2. [-]

        Returns
        -------
        float
            First cost and the worth today of all fuel. [$]
        """
        return self.cost(foam) + self.worths[fuel] * self.known[soil][foam]

    def compare(self, foams: Iterable[FoamSet], soil: int, share: tuple[float, float]) -> None:
        """Solve sets on coarse grids and keep their heat.

        Parameters
        ----------
        foams : iterable of FoamSet
            The sets.
        soil : int
            Which soil, 0 to 2. [-]
        share : tuple of float
            Share of the study at start and end. [-]
        """
        new = [foam for foam in dict.fromkeys(foams) if foam not in self.known[soil]]
        self.house.solve(new, soil, COARSE, share)
        for foam in new:
            self.known[soil][foam] = self.house.loss(foam, soil, COARSE).season

    def ranked(self, soil: int, fuel: int) -> list[FoamSet]:
        """Sets seen so far that are allowed, least life-cycle cost first.

        Parameters
        ----------
        soil, fuel : int
            Which soil and which rise of the fuel's price, 0 to 2. [-]

        Returns
        -------
        list of FoamSet
            Equal ones by first cost, then in the order of seeing them.
        """
        sets = [foam for foam in self.known[soil] if self.allowed(foam)]
        return sorted(sets, key=lambda foam: (self.life(foam, soil, fuel), self.cost(foam)))

    def compare_grid(self, most: int, share: tuple[float, float]) -> None:
        """Compare all allowed sets of the ladders, thinned until they take few enough solves, for the likely soil.

        Parameters
        ----------
        most : int
            Solves that are few enough; down to two rungs a place. [-]
        share : tuple of float
            Share of the study at start and end. [-]
        """
        counts = {place: len(self.ladders[place].rungs) for place in Place}
        while self._solves(counts) > most and max(counts.values()) > 2:
            longest = max(counts, key=lambda place: counts[place])
            counts[longest] -= 1
        thinned = {place: self.ladders[place].thinned(count) for place, count in counts.items()}
        sets = [foam for foam in self.every(thinned) if self.allowed(foam)]
        self.compare([*sets, self.code_floor], LIKELY, share)

    def _solves(self, counts: Mapping[Place, int]) -> int:
        return sum(
            math.prod(counts[place] for place in self.areas[each.stretch].faces)
            for each in self.house.representatives
        )

    def neighbours(self, foam: FoamSet, reach: int = NEIGHBOURS) -> list[FoamSet]:
        """Allowed sets that differ from one in a single place, by a few rungs.

        Parameters
        ----------
        foam : FoamSet
            The set.
        reach : int
            Rungs up and down. [-]

        Returns
        -------
        list of FoamSet
            Those sets and the set itself.
        """
        found = [foam]
        for place, ladder in self.ladders.items():
            at = ladder.rungs.index(foam.at(place))
            for rung in ladder.rungs[max(0, at - reach) : at + reach + 1]:
                found.append(replace(foam, **{place.value: rung}))
        return [each for each in dict.fromkeys(found) if self.allowed(each)]

    def descend(self, soil: int, fuel: int, share: tuple[float, float]) -> FoamSet:
        """From the best set seen, go on to better neighbours until there is none.

        Parameters
        ----------
        soil, fuel : int
            Which soil and which rise of the fuel's price, 0 to 2. [-]
        share : tuple of float
            Share of the study at start and end. [-]

        Returns
        -------
        FoamSet
            The best set: no neighbour is better.
        """
        if not self.known[soil]:
            self.compare([self.ranked(LIKELY, fuel)[0]], soil, share)
        best = self.ranked(soil, fuel)[0]
        while True:
            self.compare(self.neighbours(best), soil, share)
            better = self.ranked(soil, fuel)[0]
            if better == best:
                return best
            best = better

    def warmest(self, best: FoamSet) -> FoamSet:
        """Least heat among the sets seen that cost little more over the years than the best; likely soil and fuel.

        Parameters
        ----------
        best : FoamSet
            The best set.

        Returns
        -------
        FoamSet
            The set.
        """
        known, limit = self.known[LIKELY], self.life(best, LIKELY, LIKELY) * (1 + WARMTH)
        sets = [foam for foam in known if self.allowed(foam) and self.life(foam, LIKELY, LIKELY) <= limit]
        return min(sets, key=lambda foam: (known[foam], self.cost(foam)), default=best)
