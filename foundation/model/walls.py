"""Nouns of the plan: wall lines, the footings under them, and the rules that steps obey."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class WallLine:
    """A straight wall on a footing, from one named corner to the next.

    Attributes
    ----------
    name : str
        The two corners, such as ``A-B``; stations are measured from the first.
    part : str
        The part of the building whose wall it is.
    start, end : str
        Names of the corners.
    start_at, end_at : tuple of float
        East and north of the corners, outside face of concrete. [m]
    length : float
        Distance between the corners. [m]
    outward : tuple of float
        Unit vector, east and north, that points out of the part. [-]
    beyond : str
        Name of the part on the other side; "" outdoors.
    wall_thickness : float
        Thickness of the concrete wall. [m]
    wall_top : float
        Level of the top of wall. [m]
    footing_width, footing_thickness : float
        Size of the footing. [m]
    """

    name: str
    part: str
    start: str
    end: str
    start_at: tuple[float, float]
    end_at: tuple[float, float]
    length: float
    outward: tuple[float, float]
    beyond: str
    wall_thickness: float
    wall_top: float
    footing_width: float
    footing_thickness: float

    @property
    def projection(self) -> float:
        """How far the footing stands out beyond the wall's face. [m]"""
        return (self.footing_width - self.wall_thickness) / 2


@dataclass(frozen=True)
class StepRules:
    """What a step may be, under one named rule set.

    Attributes
    ----------
    name : str
        Name of the rule set.
    source : str
        Where it comes from, with its mark.
    rise : float
        Most that one step may rise, inf for no limit. [m]
    run : float
        Least length of a run. [m]
    rise_over_run : float
        Most that rise over run may be, inf for no limit. [-]
    ratio_binds_both : bool
        True when the ratio binds the runs on both sides of a step, False when only the lower one.
    module : float
        Rises are whole multiples of it. [m]
    leg : float
        Thickness of the vertical leg of a step; 0 takes the footing's own thickness. [m]
    station_grid : float
        Steps stand at whole multiples of it from a line's first corner. [m]
    corner_clearance : float
        Least distance of a step from a corner. [m]
    """

    name: str
    source: str
    rise: float
    run: float
    rise_over_run: float
    ratio_binds_both: bool
    module: float
    leg: float
    station_grid: float
    corner_clearance: float


@dataclass(frozen=True)
class UnitPrices:
    """What a stepping is compared by.

    Attributes
    ----------
    concrete : float
        Concrete in place. [$/m³]
    forms : float
        Forms, per area of contact. [$/m²]
    digging : float
        Digging. [$/m³]
    step : float
        Each step. [$]
    """

    concrete: float
    forms: float
    digging: float
    step: float


@dataclass(frozen=True)
class Limit:
    """One reason why a footing must be at least so deep.

    Attributes
    ----------
    reason : str
        In the trade's words, such as ``frost`` or ``floor build-up``.
    highest : ndarray, shape (n,)
        Highest level that the bottom of footing may have in each cell, inf where the reason is silent. [m]
    """

    reason: str
    highest: NDArray[np.float64]


@dataclass(frozen=True)
class FootingLine:
    """A wall line cut into cells, with the grade beside it and what limits its footing.

    Attributes
    ----------
    wall : WallLine
        The wall.
    node : ndarray, shape (n + 1,)
        Stations of the cells' ends, from 0 to the wall's length. [m]
    existing, finished : ndarray, shape (n + 1,)
        Existing and finished grade at the footing's outer edge, nan where there is none. [m]
    frost_line : ndarray, shape (n + 1,)
        Level that frost reaches: the frost depth below the lowest grade that counts, nan where frost has no
        way in. [m]
    limits : tuple of Limit
        Each over the n cells.
    lowest : float
        Lowest level that the bottom of footing may have, -inf for no such limit. [m]
    lowest_reason : str
        Why it may go no lower.
    step_allowed : ndarray of bool, shape (n + 1,)
        Whether a step may stand at the node; the first and last speak of a step at a tee there.
    """

    wall: WallLine
    node: NDArray[np.float64]
    existing: NDArray[np.float64]
    finished: NDArray[np.float64]
    frost_line: NDArray[np.float64]
    limits: tuple[Limit, ...]
    lowest: float
    lowest_reason: str
    step_allowed: NDArray[np.bool_]


@dataclass(frozen=True)
class Quantities:
    """What a stepping takes.

    Attributes
    ----------
    concrete : float
        Footings with their legs, and walls. [m³]
    forms : float
        Wall forms, area of contact, both faces. [m²]
    digging : float
        Trench under existing grade, footing width and working room. [m³]
    steps : int
        Number of steps. [-]
    filler : float
        Length of wall whose height whole panels do not make. [m]
    money : float
        All of it at the unit prices. [$]
    """

    concrete: float
    forms: float
    digging: float
    steps: int
    filler: float
    money: float


@dataclass(frozen=True)
class Run:
    """A level stretch of footing on one wall line.

    Attributes
    ----------
    line : str
        Name of the wall line.
    start, end : float
        Stations of its ends. [m]
    bottom : float
        Level of the bottom of footing. [m]
    top : float
        Level of the top of footing. [m]
    binds : str
        What keeps it from being higher.
    binds_at : float
        Station where that bites. [m]
    slack : float
        How much higher the tightest limit would let it be. [m]
    """

    line: str
    start: float
    end: float
    bottom: float
    top: float
    binds: str
    binds_at: float
    slack: float


@dataclass(frozen=True)
class FootingStep:
    """A step between two runs.

    Attributes
    ----------
    number : int
        Its number on the drawings. [-]
    line : str
        Name of the wall line it stands on.
    station : float
        From the line's first corner. [m]
    from_end : float
        From the line's second corner. [m]
    before, after : float
        Bottom of footing on the side of the smaller and of the larger station. [m]
    rise : float
        Height of the step. [m]
    run_before, run_after : float
        Length of the runs that it ends and begins, to the next step, tee or end, around corners. [m]
    concrete : float
        Concrete in its leg. [m³]
    """

    number: int
    line: str
    station: float
    from_end: float
    before: float
    after: float
    rise: float
    run_before: float
    run_after: float
    concrete: float


@dataclass(frozen=True)
class Stepping:
    """One answer: the footing's levels, and what they take.

    Attributes
    ----------
    name : str
        What it is best at: ``least cost``, ``fewest steps``, ``no fillers``.
    bottoms : dict of str to ndarray
        For each wall line the bottom of footing of each cell, shape (n,). [m]
    steps : tuple of FootingStep
        In the order of the lines.
    runs : tuple of Run
        In the order of the lines.
    quantities : Quantities
        What it takes.
    """

    name: str
    bottoms: dict[str, NDArray[np.float64]]
    steps: tuple[FootingStep, ...]
    runs: tuple[Run, ...]
    quantities: Quantities


@dataclass(frozen=True)
class LineChain:
    """Wall lines that follow each other between two tees, two free ends, or round a ring without a tee.

    Attributes
    ----------
    lines : tuple of str
        Names of the wall lines, in order.
    start, end : str or None
        Corner where a tee is; None for a free end, or on a closed ring.
    start_branches, end_branches : bool
        True where the chain tees into a footing that runs through the corner.
    closed : bool
        True for a ring without a tee.
    """

    lines: tuple[str, ...]
    start: str | None
    end: str | None
    start_branches: bool
    end_branches: bool
    closed: bool
