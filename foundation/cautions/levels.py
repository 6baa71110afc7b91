"""Traps of levelling."""

from __future__ import annotations

from collections.abc import Iterable

from foundation.cautions import register
from foundation.model.caution import Amount, Caution
from foundation.model.levels import LevelBook, Reading


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
        sentence = f"{book.benchmark} is the only mark: give a second one, so that a bumped mark shows."
        return [Caution(trap, "benchmark", sentence, {})]
    if book.closure is None:
        sentence = f"{book.second} was not read against {book.benchmark}: type backsight and foresight."
        return [Caution(trap, "benchmark", sentence, {})]
    if abs(book.closure) > book.allowed_closure + 1e-9:
        return [
            Caution(
                trap,
                f"{book.benchmark} to {book.second}",
                f"{book.benchmark} and {book.second} are off by {{closure}}; {{allowed}} is allowed. Read them again.",
                {"closure": Amount(abs(book.closure), "inches"), "allowed": allowed},
            )
        ]
    return []


def rod_too_long(book: LevelBook, readings: Iterable[tuple[str, Reading]]) -> list[Caution]:
    """A level that no set-up reads on the rod.

    Parameters
    ----------
    book : LevelBook
        Marks and instrument.
    readings : iterable of tuple
        Name of each level, and the level.

    Returns
    -------
    list of Caution
        None or one, for the lowest such level.
    """
    long = [(name, reading) for name, reading in readings if reading.too_long and reading.rod is not None]
    if not long:
        return []
    name, reading = min(long, key=lambda pair: pair[1].level)
    return [
        Caution(
            register.ROD_TOO_LONG,
            name,
            "The rod would read {rod} from "
            + reading.set_up
            + "; it is {longest} long. Carry a turning point down.",
            {"rod": Amount(reading.rod or 0.0), "longest": Amount(book.longest_rod)},
        )
    ]
