"""Nouns of the cautions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Severity(IntEnum):
    """How much a caution holds back; worst first when sorted in reverse."""

    NOTE = 1
    """Something to know."""
    WARN = 2
    """Something to settle."""
    STOP = 3
    """Holds back the sheets it concerns until someone has read it."""


@dataclass(frozen=True)
class Caution:
    """One caution: what tripped it, where, by which rule, and who decides.

    Attributes
    ----------
    key : str
        Stable name of the rule that tripped, such as ``frost-cover-short``.
    trap : int
        Number of the rule in the register.
    severity : Severity
        STOP, WARN or NOTE.
    place : str
        Where on the drawing: a wall line with its station, or a sheet.
    line : str
        Name of the wall line to light up, "" for none.
    station : float
        Station on that line. [m]
    number : str
        The number that tripped it, with its unit, as text.
    sentence : str
        What is the matter, in one or two plain sentences.
    rule : str
        The rule with its edition, source and mark.
    decides : str
        Who decides: the local office, a licensed engineer, the builder.
    sheets : tuple of str
        The sheets that a STOP holds back.
    """

    key: str
    trap: int
    severity: Severity
    place: str
    line: str
    station: float
    number: str
    sentence: str
    rule: str
    decides: str
    sheets: tuple[str, ...] = ()
