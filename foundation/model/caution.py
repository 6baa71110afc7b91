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
class Amount:
    """A number in a caution's sentence.

    Attributes
    ----------
    value : float
        The number. [SI unit of its kind]
    kind : str
        Kind of quantity, such as ``length``; ``inches`` is a length that the trade reads in inches.
    """

    value: float
    kind: str = "length"


@dataclass(frozen=True)
class Trap:
    """An entry of the register: what can go wrong, by which rule, and who decides.

    Attributes
    ----------
    number : int
        Its number in the register. [-]
    key : str
        Its stable name, such as ``frost-cover-short``.
    severity : Severity
        STOP, WARN or NOTE.
    rule : str
        The rule with its edition, source and mark.
    decides : str
        Who decides: the local office, a licensed engineer, the builder.
    sheets : tuple of str
        The sheets that a STOP holds back.
    """

    number: int
    key: str
    severity: Severity
    rule: str
    decides: str
    sheets: tuple[str, ...] = ()


@dataclass(frozen=True)
class Caution:
    """A trap that has tripped: where, and on which number.

    Attributes
    ----------
    trap : Trap
        Its entry in the register.
    where : str
        Where on the drawing, in words.
    sentence : str
        What is the matter; names in braces stand for amounts.
    amounts : dict of str to Amount
        The numbers of the sentence; the first is the one that tripped it.
    line : str
        Name of the wall line to light up, "" for none.
    station : float
        Station on that line. [m]
    """

    trap: Trap
    where: str
    sentence: str
    amounts: dict[str, Amount]
    line: str = ""
    station: float = 0.0
