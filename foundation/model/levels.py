"""Nouns of levelling: the marks, today's instrument, and a level as the crew reads it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SetUp:
    """One position of the instrument.

    Attributes
    ----------
    name : str
        ``set-up 1`` and so on.
    instrument : float
        Height of the line of sight. [m]
    """

    name: str
    instrument: float


@dataclass(frozen=True)
class LevelBook:
    """The benchmark and what has been read from it.

    Attributes
    ----------
    benchmark : str
        Name of the benchmark, "" where none is given.
    benchmark_level : float
        Its elevation. [m]
    second : str
        Name of the second mark, "" where none is given.
    closure : float or None
        Second mark as read less as known; None when it was not read. [m]
    allowed_closure : float
        Most that it may be off. [m]
    set_ups : tuple of SetUp
        Positions of the instrument today, in order; empty without a backsight.
    longest_rod : float
        Length of the rod. [m]
    """

    benchmark: str
    benchmark_level: float
    second: str
    closure: float | None
    allowed_closure: float
    set_ups: tuple[SetUp, ...]
    longest_rod: float


@dataclass(frozen=True)
class Reading:
    """A level as the crew reads it.

    Attributes
    ----------
    level : float
        The level itself. [m]
    below_benchmark : float
        Benchmark less the level; negative above it. [m]
    rod : float or None
        Rod from the set-up that reads it; None without a backsight. [m]
    set_up : str
        That set-up, "" for none.
    too_long : bool
        True when no set-up reads it on the rod.
    """

    level: float
    below_benchmark: float
    rod: float | None
    set_up: str
    too_long: bool
