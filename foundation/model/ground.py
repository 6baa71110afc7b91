"""Nouns of the ground: survey shots and the grade along a wall line."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray


class ShotKind(StrEnum):
    """What a survey shot lies on."""

    EXISTING = "existing"
    """Ground as it is."""
    FINISHED = "finished"
    """Ground as it will be graded."""
    BOTH = "both"
    """A tie: ground that grading leaves alone."""
    MARK = "mark"
    """A benchmark: no ground."""
    STREET = "street"
    """Edge of the street: no part of either surface."""
    OTHER = "other"
    """Anything else: shown, not used."""


@dataclass(frozen=True)
class Shots:
    """Survey shots as arrays, in the order of the file.

    Attributes
    ----------
    point : tuple of str, length n
        Point numbers as typed.
    north, east : ndarray, shape (n,)
        Plan position. [m]
    elevation : ndarray, shape (n,)
        Elevation in the survey's own datum. [m]
    kind : tuple of ShotKind, length n
        What each shot lies on.
    note : tuple of str, length n
        The rest of the code, as typed.
    line : tuple of str, length n
        Name of the breakline the shot belongs to, "" for none; its points follow the file's order.
    """

    point: tuple[str, ...]
    north: NDArray[np.float64]
    east: NDArray[np.float64]
    elevation: NDArray[np.float64]
    kind: tuple[ShotKind, ...]
    note: tuple[str, ...]
    line: tuple[str, ...]


@dataclass(frozen=True)
class Profile:
    """Grade along a wall line, straight between its nodes.

    Attributes
    ----------
    station : ndarray, shape (n,)
        Distance along the line from its start, strictly increasing. [m]
    grade : ndarray, shape (n,)
        Grade elevation there. [m]
    """

    station: NDArray[np.float64]
    grade: NDArray[np.float64]


@dataclass(frozen=True)
class Mark:
    """A survey mark whose elevation is known.

    Attributes
    ----------
    name : str
        What it is called on site.
    elevation : float
        Its elevation. [m]
    note : str
        What it is: a spike, a nail.
    """

    name: str
    elevation: float
    note: str = ""
