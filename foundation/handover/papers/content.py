"""What the sheets are written from, and the few words that several of them share."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from foundation import units
from foundation.drawings.developed import walls_of
from foundation.handover.papers.blocks import Cell, layout_cell, rod_cell
from foundation.handover.papers.on_paper import Paper
from foundation.model.caution import Severity
from foundation.model.concrete import Walls
from foundation.model.heat import HouseHeat
from foundation.model.levels import LevelBook, Reading
from foundation.model.takeoff import TakeOff
from foundation.model.walls import Stepping
from foundation.plan import Plan
from foundation.plan.levelling import reading

ASSUMED = " ▲"
"""Mark of what rests on a value that nobody typed."""
SHAPES = {Severity.STOP: "■", Severity.WARN: "◧", Severity.NOTE: "□"}
TICK = "☐"
"""A box to tick."""


@dataclass(frozen=True, eq=False)
class Content:
    """Everything that is shown.

    Attributes
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer that is built.
    paper : Paper
        What it is printed on.
    heat : HouseHeat or None
        What leaves through the ground, None where it was not computed.
    floors : object or None
        The warm floors, None where there are none.
    takeoff : TakeOff or None
        What is ordered, None where it was not counted.
    """

    plan: Plan
    stepping: Stepping
    paper: Paper
    heat: HouseHeat | None
    floors: Any
    takeoff: TakeOff | None

    @property
    def system(self) -> str:
        """``us`` or ``metric``."""
        return self.plan.project.units

    @property
    def book(self) -> LevelBook:
        """Marks and instrument."""
        return self.plan.level_book

    @cached_property
    def walls(self) -> Walls | None:
        """What stands on the footings."""
        return walls_of(self.plan, self.stepping)

    @property
    def pixel(self) -> float:
        """Wanted size of a drawing's pixel. [mm]"""
        return self.paper.pixel

    @property
    def several(self) -> bool:
        """Whether there is more than one set-up of the instrument."""
        return len(self.book.set_ups) > 1

    def reading(self, level: float) -> Reading:
        """A level as the crew reads it.

        Parameters
        ----------
        level : float
            The level. [m]

        Returns
        -------
        Reading
            With its rod where a backsight was typed.
        """
        return reading(self.book, level)

    def length(self, metres: float) -> str:
        """A length or a level in the job's units.

        Parameters
        ----------
        metres : float
            The length. [m]

        Returns
        -------
        str
            Written.
        """
        return units.length(metres, self.system)

    def layout(self, metres: float, strong: bool = False) -> Cell:
        """A layout number as a cell.

        Parameters
        ----------
        metres : float
            The length. [m]
        strong : bool
            True for the few that are read first.

        Returns
        -------
        str or dict
            The cell.
        """
        return layout_cell(metres, self.system, strong)

    def level_heads(self) -> list[str]:
        """Heads of the columns that tell a level from the benchmark: none without one."""
        heads = [f"Below {self.book.benchmark}"] if self.book.benchmark else []
        return heads + (["Rod today"] if self.book.set_ups else [])

    def level_cells(self, each: Reading) -> list[Cell]:
        """Cells under those heads.

        Parameters
        ----------
        each : Reading
            The level.

        Returns
        -------
        list
            As many as there are heads.
        """
        cells = [self.below(each)] if self.book.benchmark else []
        return cells + ([rod_cell(each, self.system, self.several)] if self.book.set_ups else [])

    def below(self, each: Reading) -> Cell:
        """How far a level is below the benchmark.

        Parameters
        ----------
        each : Reading
            The level.

        Returns
        -------
        str or dict
            The cell; a level above the benchmark says so.
        """
        if each.below_benchmark < 0:
            return {"text": f"{self.length(-each.below_benchmark)} above", "strong": True}
        return self.layout(each.below_benchmark, strong=True)

    def assumed(self, *keys: str) -> str:
        """The mark of what rests on an assumption.

        Parameters
        ----------
        *keys : str
            Last keys of the fields that a number rests on, or tables they stand in.

        Returns
        -------
        str
            The mark where any of them was assumed, else "".
        """
        places = (set(re.split(r"[.\[\]]", each.place)) for each in self.plan.assumptions)
        return ASSUMED if any(place & set(keys) for place in places) else ""


def counted(sizes: Iterable[str]) -> str:
    """Equal things told once with their number.

    Parameters
    ----------
    sizes : iterable of str
        Each thing.

    Returns
    -------
    str
        Such as ``5 × 8'-0", 1 × 4'-0"``.

    Examples
    --------
    >>> counted(["8 ft", "4 ft", "8 ft"])
    '2 × 8 ft, 1 × 4 ft'
    """
    found: dict[str, int] = {}
    for size in sizes:
        found[size] = found.get(size, 0) + 1
    return ", ".join(f"{count} × {size}" for size, count in found.items())
