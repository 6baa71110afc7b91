"""Nouns of a check of the joined sections: the house solved as one solid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foundation.model.section import Section


@dataclass(frozen=True)
class SolidStretch:
    """A stretch of wall in plan, and the section that stands along it.

    Attributes
    ----------
    start, end : tuple of float
        Its ends on the outside face of concrete; it runs along one axis. [m]
    outward : tuple of float
        Unit vector along the other axis, out of the part inside. [-]
    section : Section
        The section.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    outward: tuple[float, float]
    section: Section


@dataclass(frozen=True)
class Shares:
    """Heat through a part's inner surface, by where it enters; every air inside is equally warm.

    Attributes
    ----------
    floor, wall : complex
        Through the floor, and through the concrete walls with what lines them: steady conductance, or the complex
        amplitude of the year. [W/K]
    below_grade : complex
        Of both, what enters below grade outside. [W/K]
    between : complex
        Of the walls, what enters through those to another heated part and leaves through the ground; 0 for sections,
        which keep it in the house. [W/K]
    """

    floor: complex
    wall: complex
    below_grade: complex
    between: complex

    @property
    def total(self) -> complex:
        """Through floor and walls [W/K]."""
        return self.floor + self.wall


@dataclass(frozen=True)
class SolidPart:
    """One heated part as a solid, and as its sections.

    Attributes
    ----------
    solid : Shares
        By the solid, steady.
    alike : Shares
        By its sections on the solid's own grid lines: from `solid` it differs by the shape of the house alone.
    joined : Shares
        By its sections as the house's heat takes them: from `alike` it differs by the grid alone.
    swing, joined_swing : Shares or None
        Of the year, solid and joined; None where the year was not solved.
    """

    solid: Shares
    alike: Shares
    joined: Shares
    swing: Shares | None
    joined_swing: Shares | None

    @property
    def by_shape(self) -> float:
        """How much more the house loses than its sections, on the same grid lines [-]."""
        return self.solid.total.real / self.alike.total.real - 1

    @property
    def by_grid(self) -> float:
        """How much more the sections lose on the solid's grid lines than on their own [-]."""
        return self.alike.total.real / self.joined.total.real - 1


@dataclass(frozen=True)
class SolidCheck:
    """The house as a solid beside its joined sections.

    Attributes
    ----------
    cells : int
        Cells with material. [-]
    imbalance : float
        Worst imbalance of the solves. [-]
    parts : mapping of str to SolidPart
        Each heated part.
    """

    cells: int
    imbalance: float
    parts: Mapping[str, SolidPart]

    @property
    def by_shape(self) -> float:
        """How much more all parts lose than their sections, on the same grid lines [-]."""
        solid, alike = (
            sum(shares.total.real for shares in each)
            for each in zip(*((part.solid, part.alike) for part in self.parts.values()), strict=True)
        )
        return solid / alike - 1
