"""Boards to choose from in each place: what they resist, carry and cost."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from foundation.foam.bearing import BARROW, CAR, PointLoad, bearing_of
from foundation.foam.boards import board_types, refused_in_ground
from foundation.model.sizing import FoamSet, LaidFoam, Place
from foundation.money.usual import usual_board_price
from foundation.project import Project
from foundation.project.schema import Part
from foundation.project.schema_heat import FoamLayer, WallFoam, Wing

WITHIN = 1e-6  # thicknesses, resistances and depths this close are equal
FIELDS = {
    Place.WALL: "outside",
    Place.SLAB_EDGE: "slab_edge",
    Place.UNDER_SLAB: "under_slab",
    Place.WING: "wing",
}
"""Field of a part's foam that holds each place."""
BARE = FoamSet(None, None, None, None)


@dataclass(frozen=True)
class Ladder:
    """What may lie in a place, cheaper to dearer.

    Attributes
    ----------
    place : Place
        The place.
    rungs : tuple of LaidFoam or None
        Each resists more than the one before by its label or in place; None, no foam, first.
    """

    place: Place
    rungs: tuple[LaidFoam | None, ...]

    def thinned(self, count: int) -> Ladder:
        """The ladder with fewer rungs, first and last kept.

        Parameters
        ----------
        count : int
            How many are left at most, from 2. [-]

        Returns
        -------
        Ladder
            The ladder.
        """
        if len(self.rungs) <= count:
            return self
        last = len(self.rungs) - 1
        return replace(self, rungs=tuple(self.rungs[round(k * last / (count - 1))] for k in range(count)))


@dataclass(frozen=True)
class BoardPrices:
    """What foam costs in this project.

    Attributes
    ----------
    by_board : mapping of str to float
        Price of each board that may be chosen, by volume. [$/m³]
    laying : float
        For each layer. [$/m²]
    cover : float
        Over foam that shows outside. [$/m²]
    quoted : bool
        Whether every price has a day.
    """

    by_board: Mapping[str, float]
    laying: float
    cover: float
    quoted: bool

    def of_area(self, foam: LaidFoam | None) -> float:
        """Price of an area of laid foam.

        Parameters
        ----------
        foam : LaidFoam or None
            What lies there.

        Returns
        -------
        float
            Boards and laying. [$/m²]
        """
        if foam is None:
            return 0.0
        return foam.thickness * self.by_board[foam.board] + foam.layers * self.laying


def prices_of(project: Project) -> BoardPrices:
    """Boards to choose from, with their prices.

    Where the project has quotes, those boards and the planned ones are compared; without any, every board that may
    lie in the ground at a usual price.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    BoardPrices
        Prices.
    """
    known = board_types()
    quotes = {quote.board: quote for quote in project.foam_prices.boards if quote.board in known}
    in_ground = [name for name, board in known.items() if not refused_in_ground(board)]
    foams = [foam for part in heated(project) for foam in (part.foam, *(wall.foam for wall in part.walls))]
    planned = [layer.board for foam in foams if foam is not None for layer in _layers(foam)]
    names = [name for name in (*quotes, *planned) if name in in_ground] if quotes else [*in_ground]
    prices = {
        name: quotes[name].price if name in quotes else usual_board_price(known[name].family)
        for name in dict.fromkeys(names)
    }
    foam = project.foam_prices
    dated = all(name in quotes and quotes[name].quoted is not None for name in prices)
    return BoardPrices(prices, foam.laying, foam.cover, dated)


def heated(project: Project) -> tuple[Part, ...]:
    """Parts that are heated.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    tuple of Part
        In the order of the project.
    """
    return tuple(part for part in project.parts if part.is_heated)


def laid(board: str, thickness: float, conductivity: float) -> LaidFoam:
    """Foam of a thickness, in as few layers as stock boards make it.

    Parameters
    ----------
    board : str
        Name of the board's type.
    thickness : float
        Of all layers, > 0. [m]
    conductivity : float
        In place. [W/(m·K)]

    Returns
    -------
    LaidFoam
        The foam.
    """
    kind = board_types()[board]
    layers = math.ceil(thickness / max(kind.thicknesses) - WITHIN)
    return LaidFoam(board, thickness, layers, thickness / conductivity, thickness * kind.label)


def ladder_of(place: Place, choices: Iterable[LaidFoam], prices: BoardPrices) -> Ladder:
    """What is worth comparing in a place.

    What costs as much as another and resists less, by label and in place, is left out.

    Parameters
    ----------
    place : Place
        The place.
    choices : iterable of LaidFoam
        All that may lie there.
    prices : BoardPrices
        What boards cost.

    Returns
    -------
    Ladder
        No foam first.
    """
    kept: list[LaidFoam] = []
    for foam in sorted(choices, key=lambda foam: (prices.of_area(foam), -foam.resistance, -foam.label)):
        if not any(
            other.resistance >= foam.resistance - WITHIN and other.label >= foam.label - WITHIN
            for other in kept
        ):
            kept.append(foam)
    return Ladder(place, (None, *kept))


def loads_on(project: Project, part: Part) -> tuple[PointLoad, ...]:
    """What stands and rolls on a part's slab.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.

    Returns
    -------
    tuple of PointLoad
        As typed; where nobody has told, a loaded barrow's wheel, and in a garage a car's.
    """
    typed = tuple(
        PointLoad(load.name, load.force, load.side, load.moves, load.at)
        for load in project.slab_loads
        if load.part == part.name
    )
    return typed or ((BARROW, CAR) if part.use == "garage" else (BARROW,))


def carries(project: Project, foam: LaidFoam) -> bool:
    """Whether foam under the slabs carries what stands and rolls on them, in every heated part.

    Parameters
    ----------
    project : Project
        The project.
    foam : LaidFoam
        The foam.

    Returns
    -------
    bool
        True if it does.
    """
    board = board_types()[foam.board]
    return all(
        bearing_of(board, foam.thickness, part.slab_thickness, load).carries
        for part in heated(project)
        if part.slab_thickness > 0
        for load in loads_on(project, part)
    )


def planned_set(project: Project, conductivities: Mapping[Place, Mapping[str, float]]) -> FoamSet:
    """The foam that the first heated part has.

    Parameters
    ----------
    project : Project
        The project.
    conductivities : mapping of Place to mapping of str to float
        In each place, of each board. [W/(m·K)]

    Returns
    -------
    FoamSet
        The set.
    """
    foam = heated(project)[0].foam
    found = {
        place.value: laid(layer.board, layer.thickness, conductivities[place][layer.board])
        for place, field in FIELDS.items()
        if (layer := getattr(foam, field)) is not None and layer.board in conductivities.get(place, {})
    }
    return replace(BARE, **found)


def thicknesses_of(board: str, room: float) -> tuple[float, ...]:
    """Thicknesses that can be laid of a board: stock, and two alike where that is more than any single one.

    Parameters
    ----------
    board : str
        Name of the board's type.
    room : float
        Most that is wanted. [m]

    Returns
    -------
    tuple of float
        Rising. [m]
    """
    stock = board_types()[board].thicknesses
    doubled = (2 * each for each in stock if 2 * each > max(stock) + WITHIN)
    return tuple(each for each in (*stock, *doubled) if each <= room + WITHIN)


def thickness_of(foam: LaidFoam | None) -> float:
    """Thickness of what may be no foam.

    Parameters
    ----------
    foam : LaidFoam or None
        What lies there.

    Returns
    -------
    float
        Thickness, 0 for none. [m]
    """
    return foam.thickness if foam else 0.0


def _layers(foam: WallFoam) -> list[FoamLayer | Wing]:
    layers = (getattr(foam, field, None) for field in FIELDS.values())
    return [layer for layer in layers if layer is not None]
