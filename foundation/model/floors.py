"""Nouns of the warm floors of a job: what each zone's floor does, and the water of the manifolds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foundation.model.caution import Caution
from foundation.model.loops import Laying
from foundation.model.problem import Problem
from foundation.model.radiant import FloorBuildUp, FloorOutput, Fluid, ManifoldFlow, SecondOpinion
from foundation.model.zones import GroundResponse, ZoneLoad, ZoneShape


@dataclass(frozen=True)
class SpacingChoice:
    """What one spacing of the tube would do.

    Attributes
    ----------
    spacing : float
        Between the axes of neighbouring tubes. [m]
    water : float
        Mean of the water that the load takes at most, with the film of slow flow. [°C]
    peak : float
        Hottest floor then. [°C]
    can_give : float
        Most that the floor gives within its limits. [W/m²]
    carries : bool
        Whether that is as much as the load.
    """

    spacing: float
    water: float
    peak: float
    can_give: float
    carries: bool


@dataclass(frozen=True)
class Remedy:
    """What would make a floor give more, one change at a time.

    Attributes
    ----------
    what : str
        The change.
    amount : float
        How much of it: spacing of the tube, its finish or foam, as its words say. [SI unit of what it says]
    kind : str
        Kind of quantity of that amount, such as ``length``.
    gives : float
        Most that the floor gives then. [W/m²]
    closes : bool
        Whether it carries its load then.
    """

    what: str
    amount: float
    kind: str
    gives: float
    closes: bool


@dataclass(frozen=True)
class FinishCase:
    """A zone with one finish.

    Attributes
    ----------
    finish : str
        What covers the slab.
    build_up : FloorBuildUp
        The floor.
    output : FloorOutput
        What it gives on the design day: its load, or without one the most that it can.
    can_give : float
        Most that it gives within the floor's limit and the water's. [W/m²]
    carries : bool or None
        Whether that is as much as the load; None where there is no load to carry.
    missing : float
        Load less that, 0 where it carries. [W/m²]
    remedies : tuple of Remedy
        What would close it, none where it carries.
    heat : float
        Up and down over the zone's area: what the water brings. [W]
    supply, back : float
        Water that goes out and comes back. [°C]
    down_share : float
        What goes down over what goes up, on the design day. [-]
    down_share_season : float or None
        The same over the heating season of the mean year; None without a climate and a design temperature. [-]
    down_share_foam : float
        By the foam alone over ground at 50 °F, as the trade reckons it. [-]
    time_constant : float
        In which the slab covers 63 % of its way. [s]
    warm_up : float
        In which it covers 90 % of it. [s]
    second_opinions : tuple of SecondOpinion
        The standard's and the trade's numbers.
    across : tuple of float
        Places across two tubes, whose axes lie half a spacing from either end. [m]
    surface : tuple of float
        Temperature of the finish there. [°C]
    """

    finish: str
    build_up: FloorBuildUp
    output: FloorOutput
    can_give: float
    carries: bool | None
    missing: float
    remedies: tuple[Remedy, ...]
    heat: float
    supply: float
    back: float
    down_share: float
    down_share_season: float | None
    down_share_foam: float
    time_constant: float
    warm_up: float
    second_opinions: tuple[SecondOpinion, ...]
    across: tuple[float, ...]
    surface: tuple[float, ...]


@dataclass(frozen=True)
class ResetPoint:
    """A point of the line that the supply follows.

    Attributes
    ----------
    outdoors : float
        Air outdoors. [°C]
    supply : float
        Water that goes out then. [°C]
    """

    outdoors: float
    supply: float


@dataclass(frozen=True, eq=False)
class ZoneFloor:
    """A zone with everything that was found for it.

    Attributes
    ----------
    shape : ZoneShape
        Where it is.
    air : float
        Air over it. [°C]
    limit : float
        Hottest that its floor may be anywhere. [°C]
    limit_reason : str
        By what.
    standard_limit : float
        By its use alone, EN 1264-2 and ISO 11855; a garage has no limit of its own and takes that of rooms people stay
        in. [°C]
    load : ZoneLoad or None
        What it has to give; None where nobody has told.
    ground : GroundResponse
        What lies under its slab.
    spacing : float
        Between the axes of neighbouring tubes. [m]
    choices : tuple of SpacingChoice
        What other spacings would do, bare or with the typed finish; none where there is no load.
    cases : tuple of FinishCase
        With its finish; bare and carpeted where nobody has told. The tube is laid and the water is sent for the first.
    layings : tuple of Laying
        Its loops, for each piece of it.
    manifold : str
        Where its loops begin, "" where they could not be laid.
    reset : tuple of ResetPoint
        Supply against the air outdoors, from the design day to no load; empty without a design temperature.
    """

    shape: ZoneShape
    air: float
    limit: float
    limit_reason: str
    standard_limit: float
    load: ZoneLoad | None
    ground: GroundResponse
    spacing: float
    choices: tuple[SpacingChoice, ...]
    cases: tuple[FinishCase, ...]
    layings: tuple[Laying, ...]
    manifold: str
    reset: tuple[ResetPoint, ...]


@dataclass(frozen=True)
class ManifoldWater:
    """The water of one manifold.

    Attributes
    ----------
    name, part : str
        What it is called, and the part that it serves.
    at : tuple of float
        East and north. [m]
    fluid : Fluid
        What runs.
    freezing : float or None
        Where its first crystals form; None where the table does not go so far. [°C]
    flow : ManifoldFlow
        Flows, valves and head of its loops.
    supply : float
        Hottest water that one of its zones takes. [°C]
    supplies : mapping of str to float
        For each zone the water that it takes by itself. [°C]
    volume : float
        That its loops hold; heater, mains and manifold come on top. [m³]
    glycol : float
        Pure glycol in that. [m³]
    expansion : float
        That it grows by, from filling to the hottest supply. [m³]
    """

    name: str
    part: str
    at: tuple[float, float]
    fluid: Fluid
    freezing: float | None
    flow: ManifoldFlow
    supply: float
    supplies: Mapping[str, float]
    volume: float
    glycol: float
    expansion: float


@dataclass(frozen=True)
class Coil:
    """A coil of tube, and the loops that are cut from it.

    Attributes
    ----------
    length : float
        Of the coil. [m]
    loops : tuple of str
        Zone and loop.
    left : float
        What is left over. [m]
    """

    length: float
    loops: tuple[str, ...]
    left: float


@dataclass(frozen=True, eq=False)
class FloorsPlan:
    """All warm floors of a job.

    Attributes
    ----------
    zones : tuple of ZoneFloor
        In the order of the project.
    manifolds : tuple of ManifoldWater
        Those that serve loops.
    coils : tuple of Coil
        Coils to buy.
    tube_length : float
        Of all loops with their leaders. [m]
    heat : float
        That all floors take on the design day, up and down. [W]
    design_temperature : float or None
        Air outdoors that the loads stand for, as entered. [°C]
    assumed : tuple of str
        What had to be assumed for them.
    notices : tuple of Problem
        What the reader should know about the inputs; nothing that stops the floors.
    cautions : tuple of Caution
        Those that need results, worst first; the others stand in the plan.
    """

    zones: tuple[ZoneFloor, ...]
    manifolds: tuple[ManifoldWater, ...]
    coils: tuple[Coil, ...]
    tube_length: float
    heat: float
    design_temperature: float | None
    assumed: tuple[str, ...]
    notices: tuple[Problem, ...]
    cautions: tuple[Caution, ...]

    def zone(self, name: str) -> ZoneFloor:
        """One of the zones.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        ZoneFloor
            The zone.

        Raises
        ------
        KeyError
            If no zone has that name; the known ones are listed.
        """
        for zone in self.zones:
            if zone.shape.name == name:
                return zone
        known = ", ".join(zone.shape.name for zone in self.zones)
        raise KeyError(f"no zone is called {name}; there are: {known}")
