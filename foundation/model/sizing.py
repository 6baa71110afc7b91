"""Nouns of the foam sizing: boards laid in four places, what a set of them costs and saves, and what follows."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Place(StrEnum):
    """Where foam lies; the value is the field of :class:`FoamSet` that holds it."""

    WALL = "wall"
    """On the outer face of the concrete."""
    SLAB_EDGE = "slab_edge"
    """Between the slab's edge and the wall."""
    UNDER_SLAB = "under_slab"
    """Under the slab."""
    WING = "wing"
    """Lying outward in the ground, along slab edges alone."""


@dataclass(frozen=True)
class LaidFoam:
    """Stock boards of one type, laid in one or two equal layers.

    Attributes
    ----------
    board : str
        Name of the board's type.
    thickness : float
        Of all layers. [m]
    layers : int
        How many boards lie on each other. [-]
    resistance : float
        In place, as the heat is computed with. [m²·K/W]
    label : float
        By the label, as an office reads it. [m²·K/W]
    """

    board: str
    thickness: float
    layers: int
    resistance: float
    label: float


@dataclass(frozen=True)
class FoamSet:
    """What lies in each place; None for no foam there.

    Attributes
    ----------
    wall, slab_edge, under_slab, wing : LaidFoam or None
        The foam of each place.
    """

    wall: LaidFoam | None
    slab_edge: LaidFoam | None
    under_slab: LaidFoam | None
    wing: LaidFoam | None

    def at(self, place: Place) -> LaidFoam | None:
        """Foam of one place.

        Parameters
        ----------
        place : Place
            The place.

        Returns
        -------
        LaidFoam or None
            What lies there.
        """
        found: LaidFoam | None = getattr(self, place.value)
        return found


@dataclass(frozen=True)
class Choice:
    """A set of foam with what it costs and saves, for one soil and one rise of the fuel's price.

    Attributes
    ----------
    foam : FoamSet
        The set.
    first_cost : float
        Boards, laying and cover. [$]
    added_cost : float
        First cost over that of the least set allowed. [$]
    yearly_heat : float
        Heat that leaves through floors and concrete walls of all heated parts in the heating season. [J]
    degree_day_heat : float
        The same by conductance times degree days, as is done for parts that face air. [J]
    yearly_money : float
        Fuel for the yearly heat at today's price. [$]
    life_cycle_cost : float
        First cost and the worth today of the fuel of all years that count. [$]
    floor_temperature : float
        Coldest floor 1 ft inside the worst slab's edge where people live. [°C]
    """

    foam: FoamSet
    first_cost: float
    added_cost: float
    yearly_heat: float
    degree_day_heat: float
    yearly_money: float
    life_cycle_cost: float
    floor_temperature: float


@dataclass(frozen=True)
class Rung:
    """One thickness of a place's board, the other places as in the set of least life-cycle cost.

    Attributes
    ----------
    foam : LaidFoam or None
        What lies there.
    first_cost : float
        Of the whole set. [$]
    yearly_heat : float
        Of the house. [J]
    life_cycle_cost : float
        Of the whole set. [$]
    marginal_cost : float
        First cost of going on from the rung before, over the thickness it adds; nan on the first rung. [$/m]
    marginal_saving : float
        Worth today of the fuel that it saves, over the same thickness; nan on the first rung. [$/m]
    life_cycle_low, life_cycle_high : float
        Life-cycle cost with the low and the high rise of the fuel's price, nan where it was not asked for. [$]
    """

    foam: LaidFoam | None
    first_cost: float
    yearly_heat: float
    life_cycle_cost: float
    marginal_cost: float
    marginal_saving: float
    life_cycle_low: float = math.nan
    life_cycle_high: float = math.nan


@dataclass(frozen=True)
class Curve:
    """Trade-off of one place: its thicknesses, and where more stops paying.

    Attributes
    ----------
    place : Place
        The place.
    board : str
        Type of board.
    rungs : tuple of Rung
        Thinner to thicker.
    knee : int
        Place in `rungs` of the least life-cycle cost; on the last one more might pay, but no more is compared. [-]
    """

    place: Place
    board: str
    rungs: tuple[Rung, ...]
    knee: int


@dataclass(frozen=True)
class Scenario:
    """The best set for one soil and one rise of the fuel's price.

    Attributes
    ----------
    soil, fuel : str
        ``low``, ``likely`` or ``high``.
    choice : Choice
        The best set there.
    """

    soil: str
    fuel: str
    choice: Choice


@dataclass(frozen=True)
class CodeHint:
    """What the model code asks in such a climate; a hint, for the local office decides.

    Attributes
    ----------
    zone : str
        Climate zone by heating degree days.
    edge : float
        At the slab's edge. [m²·K/W]
    edge_depth : float
        How far down or inward. [m]
    wall : float
        On basement walls, continuous. [m²·K/W]
    source : str
        Where it stands, with its mark.
    """

    zone: str
    edge: float
    edge_depth: float
    wall: float
    source: str


@dataclass(frozen=True)
class FoamSizing:
    """How much foam is worth it, and where.

    Attributes
    ----------
    planned : Choice
        The project's own foam.
    code_floor : Choice
        Least first cost among the sets that the office's numbers allow; without numbers, no foam at all.
    least_cost : Choice
        Least life-cycle cost, likely soil and fuel.
    warmest : Choice
        Least heat among the sets whose life-cycle cost is at most 5 % over the least.
    best : tuple of Choice
        The best sets, likely soil and fuel, confirmed on finer grids; least life-cycle cost first.
    curves : mapping of Place to Curve
        Trade-off of each place, around the set of least life-cycle cost.
    scenarios : tuple of Scenario
        Low, likely and high soil, each with low, likely and high rise of the fuel's price.
    considered : int
        Sets that stock boards make and the office's numbers allow. [-]
    compared : int
        Those that were solved, likely soil. [-]
    solved : int
        Sections solved. [-]
    representatives : int
        Sections that stand for the house. [-]
    representation_error : float
        Most that they miss the heat of all sections together by, with the planned foam, none, and the most. [-]
    quoted : bool
        Whether every board's price and the fuel's have a day.
    hint : CodeHint or None
        What the model code asks; None outside the zones of the table.
    assumed : tuple of str
        What is taken for granted, in sentences.
    """

    planned: Choice
    code_floor: Choice
    least_cost: Choice
    warmest: Choice
    best: tuple[Choice, ...]
    curves: Mapping[Place, Curve]
    scenarios: tuple[Scenario, ...]
    considered: int
    compared: int
    solved: int
    representatives: int
    representation_error: float
    quoted: bool
    hint: CodeHint | None
    assumed: tuple[str, ...]
