"""Traps of levelling."""

from __future__ import annotations

from collections.abc import Iterable

from foundation.cautions import register
from foundation.cautions.words import plain
from foundation.model.caution import Amount, Caution
from foundation.model.levels import LevelBook, Reading

DRIVE_END = 10 * 0.3048
"""Length of drive before the door that must not fall to it [practice]. [m]"""
LEAST_OVER_STREET = 6 * 0.0254
"""Least height of the garage slab above the street [practice]. [m]"""


def mark_not_checked(book: LevelBook) -> list[Caution]:
    """The benchmark was not read against a second mark, or they do not close.

    Parameters
    ----------
    book : LevelBook
        Marks and instrument.

    Returns
    -------
    list of Caution
        None or one.
    """
    trap = register.MARK_NOT_CHECKED
    allowed = Amount(book.allowed_closure, "inches")
    if not book.benchmark:
        return [Caution(trap, "benchmark", "No benchmark is given: levels hang from nothing on site.", {})]
    if not book.second:
        sentence = (
            f"{plain(book.benchmark)} is the only mark: give a second one, so that a bumped mark shows."
        )
        return [Caution(trap, "benchmark", sentence, {})]
    first, second = plain(book.benchmark), plain(book.second)
    if book.closure is None:
        sentence = f"{second} was not read against {first}: type backsight and foresight."
        return [Caution(trap, "benchmark", sentence, {})]
    if abs(book.closure) > book.allowed_closure + 1e-9:
        return [
            Caution(
                trap,
                f"{book.benchmark} to {book.second}",
                f"{first} and {second} are off by {{closure}}; {{allowed}} is allowed. Read them again.",
                {"closure": Amount(abs(book.closure), "inches"), "allowed": allowed},
            )
        ]
    return []


def rod_too_long(book: LevelBook, readings: Iterable[tuple[str, Reading]]) -> list[Caution]:
    """The lowest level is out of the rod's reach from the first set-up.

    Parameters
    ----------
    book : LevelBook
        Marks and instrument.
    readings : iterable of tuple
        Name of each level, and the level.

    Returns
    -------
    list of Caution
        None or one, for the lowest such level; it names the turning point from which the level is read.
    """
    levels = list(readings)
    if not book.set_ups or not levels:
        return []
    name, reading = min(levels, key=lambda pair: pair[1].level)
    first = book.set_ups[0]
    rod = first.instrument - reading.level
    if rod <= book.longest_rod:
        return []
    if reading.too_long:
        way = "No set-up reads it: carry a turning point down."
    else:
        turn = [each.name for each in book.set_ups].index(reading.set_up)
        way = f"{reading.set_up.capitalize()}, over turning point {turn}, reads it."
    return [
        Caution(
            register.ROD_TOO_LONG,
            name,
            f"The rod would read {{rod}} from {first.name}; it is {{longest}} long. {way}",
            {"rod": Amount(rod), "longest": Amount(book.longest_rod)},
        )
    ]


def drive_falls_to_door(where: str, door: float, drive: float | None, drain: bool) -> list[Caution]:
    """The drive's last 10 ft fall to the garage door, and no drain stands before it.

    Parameters
    ----------
    where : str
        Name of the door.
    door : float
        Level of the garage slab at the door. [m]
    drive : float or None
        Level of the drive 10 ft out, None where nobody said. [m]
    drain : bool
        Whether a drain stands before the door.

    Returns
    -------
    list of Caution
        None or one.
    """
    if drive is None or drain or drive <= door:
        return []
    sentence = "The drive falls {fall} to the garage door in its last {distance}: raise the house, or drain the door."
    amounts = {"fall": Amount(drive - door, "inches"), "distance": Amount(DRIVE_END)}
    return [Caution(register.DRIVE_FALLS_TO_DOOR, where, sentence, amounts)]


def garage_low(
    where: str, slab: float, street: float | None, least: float = LEAST_OVER_STREET
) -> list[Caution]:
    """The garage slab lies too little above the street.

    Parameters
    ----------
    where : str
        Name of the door or of the garage.
    slab : float
        Level of the garage slab at the door. [m]
    street : float or None
        Level of the street at the drive, None where nobody said. [m]
    least : float
        Least height above the street. [m]

    Returns
    -------
    list of Caution
        None or one.
    """
    if street is None or slab - street >= least - 1e-6:
        return []
    above = slab - street
    say = "only {height} above" if above >= 0 else "{height} below"
    return [
        Caution(
            register.GARAGE_LOW,
            where,
            f"The garage slab lies {say} the street; {{least}} above it is asked for.",
            {"height": Amount(abs(above), "inches"), "least": Amount(least, "inches")},
        )
    ]
