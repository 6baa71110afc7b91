"""Levels with an instrument and a rod: what the marks say, and what the rod must read.

A bigger rod reading is lower ground. Nothing is rounded here; round once, where a number is printed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from foundation.model.ground import Mark

ALLOWED_CLOSURE = 0.25 * 0.0254
"""Two marks of a house lot close within a quarter inch [practice]. [m]"""
ROD_LENGTH = 13 * 0.3048
"""Longest common grade rod [practice]. [m]"""


def height_of_instrument(benchmark: float, backsight: float) -> float:
    """Level of the line of sight.

    Parameters
    ----------
    benchmark : float
        Elevation of the mark on which the rod stands. [m]
    backsight : float
        Rod reading on it. [m]

    Returns
    -------
    float
        Benchmark + backsight [read: surveying texts]. [m]

    Examples
    --------
    >>> height_of_instrument(820.00, 8.42)
    828.42
    """
    return benchmark + backsight


def sighted_elevation(instrument: float, foresight: float) -> float:
    """Elevation of the point on which the rod stands.

    Parameters
    ----------
    instrument : float
        Height of instrument. [m]
    foresight : float
        Rod reading. [m]

    Returns
    -------
    float
        Instrument − foresight [read: surveying texts]. [m]

    Examples
    --------
    >>> round(sighted_elevation(828.42, 1.20), 2)
    827.22
    """
    return instrument - foresight


def rod_reading(instrument: float, target: float) -> float:
    """Rod reading that sets a target.

    Parameters
    ----------
    instrument : float
        Height of instrument. [m]
    target : float
        Level to set. [m]

    Returns
    -------
    float
        Instrument − target [read: surveying texts]; negative where the target is above the line of sight. [m]

    Examples
    --------
    >>> round(rod_reading(457.60, 452.10), 2)
    5.5
    """
    return instrument - target


def below_benchmark(benchmark: float, level: float) -> float:
    """How far a level lies below the benchmark: it stays the same wherever the instrument stands.

    Parameters
    ----------
    benchmark : float
        Elevation of the benchmark. [m]
    level : float
        The level. [m]

    Returns
    -------
    float
        Benchmark − level, negative above it. [m]
    """
    return benchmark - level


@dataclass(frozen=True)
class Closure:
    """How well levels carried to a second mark agree with it.

    Attributes
    ----------
    difference : float
        Carried − known elevation. [m]
    allowed : float
        Largest difference that closes. [m]
    """

    difference: float
    allowed: float

    @property
    def closes(self) -> bool:
        """Whether the difference is within what is allowed, a nanometre for rounded sums aside."""
        return abs(self.difference) <= self.allowed + 1e-9


def closure(carried: float, known: float, allowed: float = ALLOWED_CLOSURE) -> Closure:
    """Check on a second mark.

    Parameters
    ----------
    carried : float
        Its elevation by the instrument. [m]
    known : float
        Its elevation as published or shot. [m]
    allowed : float
        Largest difference that closes. [m]

    Returns
    -------
    Closure
        The difference and whether it closes.
    """
    return Closure(carried - known, allowed)


@dataclass(frozen=True)
class Sight:
    """One row of level notes: the rod on one point, read from one setup or from two.

    Attributes
    ----------
    name : str
        The point.
    foresight : float or None
        Reading from the setup before; None on the first point. [m]
    backsight : float or None
        Reading from the setup after; None unless the instrument moves. [m]
    """

    name: str
    foresight: float | None = None
    backsight: float | None = None


@dataclass(frozen=True)
class Levelled:
    """One row of reduced level notes.

    Attributes
    ----------
    name : str
        The point.
    elevation : float
        Its elevation. [m]
    instrument : float
        Height of the instrument after it. [m]
    """

    name: str
    elevation: float
    instrument: float


def level_loop(mark: Mark, sights: Sequence[Sight]) -> tuple[Levelled, ...]:
    """Reduce level notes from a mark over turning points.

    Parameters
    ----------
    mark : Mark
        Where the rod stands first.
    sights : sequence of Sight
        The first is the backsight on the mark; each later one has a foresight, and at a turning point a
        backsight too.

    Returns
    -------
    tuple of Levelled
        Elevation of every point, and the height of instrument after it.

    Raises
    ------
    ValueError
        If the first row is no backsight on the mark, or a later row has no foresight.

    Examples
    --------
    >>> notes = [Sight("BM", backsight=5.37), Sight("TP", foresight=9.82, backsight=2.14)]
    >>> [round(row.instrument, 2) for row in level_loop(Mark("BM", 100.00), notes)]
    [105.37, 97.69]
    """
    if not sights or sights[0].backsight is None or sights[0].foresight is not None:
        raise ValueError(f"The first row must be a backsight on {mark.name}, and nothing else.")
    rows = [Levelled(sights[0].name, mark.elevation, mark.elevation + sights[0].backsight)]
    for number, sight in enumerate(sights[1:], 2):
        if sight.foresight is None:
            raise ValueError(
                f"Row {number}, {sight.name}: no foresight; read the rod there before moving on."
            )
        elevation = sighted_elevation(rows[-1].instrument, sight.foresight)
        instrument = rows[-1].instrument if sight.backsight is None else elevation + sight.backsight
        rows.append(Levelled(sight.name, elevation, instrument))
    return tuple(rows)


@dataclass(frozen=True)
class RodCheck:
    """Whether one setup can set all targets.

    Attributes
    ----------
    readings : dict of str to float
        Rod reading of each target. [m]
    too_long : tuple of str
        Targets for which the rod is too short.
    above_sight : tuple of str
        Targets above the line of sight.
    turning_instrument : tuple of float or None
        Lowest and highest height of instrument from which every target can be read; None where no single
        setup can. [m]
    """

    readings: dict[str, float]
    too_long: tuple[str, ...]
    above_sight: tuple[str, ...]
    turning_instrument: tuple[float, float] | None


def check_rods(instrument: float, targets: Mapping[str, float], rod_length: float = ROD_LENGTH) -> RodCheck:
    """Rod readings of all targets from one setup, and from where all could be read.

    Parameters
    ----------
    instrument : float
        Height of instrument. [m]
    targets : mapping of str to float
        Levels to set. [m]
    rod_length : float
        Length of the rod. [m]

    Returns
    -------
    RodCheck
        Readings, what cannot be read, and the range of instrument levels of a setup that can read all.

    Examples
    --------
    >>> check = check_rods(67.0, {"footing": 62.0, "wall top": 65.0}, rod_length=4.0)
    >>> check.too_long, check.turning_instrument
    (('footing',), (65.0, 66.0))
    """
    readings = {name: rod_reading(instrument, level) for name, level in targets.items()}
    lowest, highest = (
        max(targets.values(), default=instrument),
        min(targets.values(), default=instrument) + rod_length,
    )
    return RodCheck(
        readings,
        tuple(name for name, reading in readings.items() if reading > rod_length),
        tuple(name for name, reading in readings.items() if reading < 0),
        (lowest, highest) if lowest <= highest else None,
    )
