"""Nouns of foam: boards by type, and what loads a board has to bear."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class BoardType:
    """A type of rigid foam board.

    Attributes
    ----------
    name : str
        Family and type, such as ``EPS II`` or ``XPS IV``.
    family : str
        ``EPS``, ``XPS`` or ``polyiso``.
    strength : float
        Compressive strength at 10 % (or yield), least of the standard. [Pa]
    label : float
        Resistivity at 75 °F, as on the label. [m·K/W]
    wet_vertical, wet_horizontal : float
        Resistivity in moist ground by the design guide, upright and lying. [m·K/W]
    aged : float
        Resistivity after decades in the ground, by measurements. [m·K/W]
    thicknesses : tuple of float
        Stock thicknesses, rising. [m]
    """

    name: str
    family: str
    strength: float
    label: float
    wet_vertical: float
    wet_horizontal: float
    aged: float
    thicknesses: tuple[float, ...]


@dataclass(frozen=True)
class Bearing:
    """Whether a board carries a load under a slab.

    Attributes
    ----------
    board : str
        Name of the board's type.
    load : str
        What it carries, in words.
    pressure : float
        On the foam under the load. [Pa]
    allowed : float
        A third of the strength for standing loads, a fifth for wheels and people. [Pa]
    carries : bool
        Whether it does.
    """

    board: str
    load: str
    pressure: float
    allowed: float
    carries: bool
