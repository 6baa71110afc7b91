"""Nouns of the design winter: how far it freezes beside a footing, and the shallow footing that foam protects."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.caution import Amount
from foundation.model.heat import Band
from foundation.model.section import Section


@dataclass(frozen=True, eq=False)
class DesignWinter:
    """What a design winter freezes in a section.

    Attributes
    ----------
    section : Section
        The section.
    inside : float or None
        Air inside; None for a part that nobody heats. [°C]
    index : float
        Freezing index of the air. [K·d]
    coldest : float
        Outer air on the coldest day. [°C]
    surface : float
        Freezing index of the ground's surface over that of the air. [-]
    day : float
        When frost is deepest beside the house, days after the coldest day. [d]
    x, z : ndarray, shapes (m + 1,) and (n + 1,)
        Grid lines. [m]
    temperature : ndarray, shape (m, n)
        On that day at each cell's centre, 0 throughout where it is freezing, not a number in the air. [°C]
    front : ndarray, shape (m, n)
        Where it freezes on that day: from -1 where the ground is frozen to 1 where it is thawed, by temperature in
        what holds no water; its 0 is the line. [-]
    frost : ndarray, shape (m,)
        Level of the lowest frost in the ground in each column on that day, not a number where there is none. [m]
    depth : float
        How deep it goes on that day below the grade right above it, within 2 m of the concrete. [m]
    lowest : float
        Its lowest level there, not a number without frost. [m]
    bottom : float
        Level of the footing's bottom, or of the foam under it; not a number without a footing. [m]
    under : float
        Coldest at that bottom over the whole winter, not a number without a footing. [°C]
    reaches : bool
        Whether it freezes there.
    distance : float
        Least distance of frost in the ground from that bottom over the whole winter, 0 where it reaches it, inf
        without frost. [m]
    imbalance : float
        Of the heat over the winter. [-]
    cells, steps : int
        Of the grid, and in time. [-]
    """

    section: Section
    inside: float | None
    index: float
    coldest: float
    surface: float
    day: float
    x: NDArray[np.float64]
    z: NDArray[np.float64]
    temperature: NDArray[np.float64]
    front: NDArray[np.float64]
    frost: NDArray[np.float64]
    depth: float
    lowest: float
    bottom: float
    under: float
    reaches: bool
    distance: float
    imbalance: float
    cells: int
    steps: int


@dataclass(frozen=True)
class ProtectingFoam:
    """Foam that keeps frost from a shallow footing.

    Attributes
    ----------
    upright : str
        Board on the wall's face, over the footing's toe and down its edge.
    thickness : float
        Its thickness. [m]
    wing : str
        Board that lies outward from there, "" for none.
    wing_thickness, wing_width : float
        Thickness of that, and how far it reaches beyond the foam on the footing's edge; 0 for none. [m]
    wing_depth : float
        Its top below finished grade. [m]
    """

    upright: str
    thickness: float
    wing: str
    wing_thickness: float
    wing_width: float
    wing_depth: float


@dataclass(frozen=True)
class ShallowCost:
    """What a shallow footing along a wall line costs beside the deepened one.

    Attributes
    ----------
    deepened : float
        Concrete, forms, digging and steps of the line as planned. [$]
    shallow : float
        The same of the shallow footing. [$]
    foam : float
        Its foam more than the planned one, with laying and cover, and digging for the wing. [$]
    elsewhere : float
        What the other lines cost more, whose steps follow. [$]
    """

    deepened: float
    shallow: float
    foam: float
    elsewhere: float

    @property
    def saving(self) -> float:
        """What is saved, negative where the shallow one costs more. [$]"""
        return self.deepened - self.shallow - self.foam - self.elsewhere


@dataclass(frozen=True, eq=False)
class ShallowDesign:
    """A shallow footing that foam protects.

    Attributes
    ----------
    foam : ProtectingFoam
        The foam.
    depth : float
        Least depth of its bottom below the grade that counts. [m]
    bottoms : ndarray, shape (n,)
        Bottom of footing of each cell of the line. [m]
    stretches : tuple of tuple of float
        Start and end of each stretch that is no longer as deep. [m]
    length : float
        Of these together. [m]
    under : Band
        Coldest at its bottom, worst of the stretches: the likely soil, and the range over all three soils. [°C]
    cost : ShallowCost
        What it costs.
    winter : DesignWinter
        The design winter at the worst stretch, likely soil.
    """

    foam: ProtectingFoam
    depth: float
    bottoms: NDArray[np.float64]
    stretches: tuple[tuple[float, float], ...]
    length: float
    under: Band
    cost: ShallowCost
    winter: DesignWinter


@dataclass(frozen=True, eq=False)
class ShallowAlternative:
    """The frost-protected shallow footing of a wall line, beside the planned one and never in its place.

    Attributes
    ----------
    line : str
        Name of the wall line.
    accepted : bool
        Whether the office has accepted such footings; False where it has not been asked.
    sentence : str
        What was found, or why there is none; names in braces stand for amounts.
    amounts : dict of str to Amount
        The numbers of the sentence.
    cautions : tuple of str
        What has to be known about it.
    design : ShallowDesign or None
        None where there is none.
    """

    line: str
    accepted: bool
    sentence: str
    amounts: dict[str, Amount]
    cautions: tuple[str, ...]
    design: ShallowDesign | None
