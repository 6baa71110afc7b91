"""Nouns of the levels as built: what was measured, against what was planned."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from foundation.model.caution import Amount
from foundation.model.problem import Problem


class Verdict(StrEnum):
    """What a measured level means."""

    WITHIN = "within"
    """Within its tolerance."""
    DEEPER = "deeper"
    """A bottom of footing below the plan: more cover, more concrete."""
    HOLDS = "higher, holds"
    """A bottom of footing above the plan, or grade off the plan, where every limit still holds."""
    OUT = "out"
    """Out of its tolerance, or above what holds a footing down."""
    SHORT = "frost cover short"
    """Frost cover is short with the level as built."""


SOUND = (Verdict.WITHIN, Verdict.DEEPER, Verdict.HOLDS)
"""Verdicts that ask for nothing."""


@dataclass(frozen=True)
class AsBuiltRow:
    """One level as built.

    Attributes
    ----------
    place : str
        Where it was written down: a field's path, or a line of the file.
    what : str
        What was measured: ``bottom of footing``, ``top of footing``, ``top of wall``, ``slab``, ``finished grade``.
    line : str
        Name of the wall line, "" for a slab.
    part : str
        The part it belongs to.
    station : float
        Station on the line; nan for a slab. [m]
    target : float
        Level of the plan there. [m]
    actual : float
        Level as measured. [m]
    difference : float
        Actual less target, positive where it is higher. [m]
    low, high : float
        How far it may be off, down and up; nan where no tolerance is known. [m]
    verdict : Verdict
        What it means.
    sentence : str
        The verdict in words; names in braces stand for amounts.
    amounts : mapping of str to Amount
        The numbers of the sentence.
    source : str
        Where the tolerance or the limit comes from.
    date : datetime.date or None
        When it was measured.
    who : str
        Who measured, "" where nobody has told.
    """

    place: str
    what: str
    line: str
    part: str
    station: float
    target: float
    actual: float
    difference: float
    low: float
    high: float
    verdict: Verdict
    sentence: str
    amounts: Mapping[str, Amount]
    source: str
    date: datetime.date | None
    who: str


@dataclass(frozen=True)
class CoverAsBuilt:
    """Frost cover of a wall line with footing and finished grade as built, at its worst station.

    Attributes
    ----------
    line : str
        Name of the wall line.
    start, end : float
        Stations between which it was looked at: where footing or grade were measured. [m]
    station : float
        Where it is least. [m]
    cover : float
        Frost cover there, straight down. [m]
    planned : float
        What the plan has there. [m]
    asked : float
        Frost depth. [m]
    short : bool
        Whether it is less than the frost depth.
    grade_measured, footing_measured : bool
        Whether grade and footing were measured there; else the plan's stand in.
    """

    line: str
    start: float
    end: float
    station: float
    cover: float
    planned: float
    asked: float
    short: bool
    grade_measured: bool
    footing_measured: bool


@dataclass(frozen=True)
class AsBuiltPlan:
    """All levels as built.

    Attributes
    ----------
    answer : str
        Name of the stepping that they are held against.
    rows : tuple of AsBuiltRow
        In the order they were written down.
    covers : tuple of CoverAsBuilt
        One for each wall line whose footing or grade was measured and that frost can reach.
    problems : tuple of Problem
        Entries that could not be used, or are only told of.
    """

    answer: str
    rows: tuple[AsBuiltRow, ...]
    covers: tuple[CoverAsBuilt, ...]
    problems: tuple[Problem, ...]
