"""What a section is made from: the floors on both sides, and everything that stands at a station."""

from __future__ import annotations

from dataclasses import dataclass

from foundation.model.concrete import Ledge
from foundation.model.section import GradeStep, Situation, SoilLayer
from foundation.plan.section_foam import LineFoam
from foundation.project.schema import Part
from foundation.project.schema_heat import Frame
from foundation.project.schema_walls import OpeningInput

INCH = 0.0254
STONE = 4 * INCH
"""Clean stone under a slab where the project names none [practice]. [m]"""
LEAF = 1.75 * INCH
"""Thickness of a door's leaf [practice]. [m]"""
TOUCH = 1e-4
"""Levels and sides closer than this are one; thinner blocks are left out. [m]"""


@dataclass(frozen=True)
class Floor:
    """A part's floor where a section meets it.

    Attributes
    ----------
    part : Part
        The part.
    level : float
        Top of slab. [m]
    half_width : float
        From the wall's face to the line of symmetry. [m]
    """

    part: Part
    level: float
    half_width: float


@dataclass(frozen=True)
class Standing:
    """Everything that a section at one station is made from.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : float
        Station on it. [m]
    situation : Situation
        Kind of place.
    inside : Floor
        Floor inside.
    beyond : Floor or None
        Floor beyond the wall, None outdoors.
    beyond_reach : float
        How far the part beyond goes from the wall, 0 outdoors. [m]
    thickness : float
        Of the wall. [m]
    footing_bottom, footing_top : float
        Levels of the footing. [m]
    projection : float
        How far the footing stands out beyond the wall's faces. [m]
    leg_top : float or None
        Top of a step's leg on the footing, None beside steps. [m]
    concrete_top : float
        Top of the wall's concrete. [m]
    ledge : Ledge or None
        Its ledge.
    carries : float
        Thickness of what stands on it. [m]
    door : OpeningInput or None
        The door that reaches the floor there.
    foam : LineFoam
        Foam along the line.
    basis : str
        Which R-value of foam counts.
    frame : Frame
        The framed wall.
    grade : tuple of GradeStep
        Finished grade outside.
    soil : tuple of SoilLayer
        Ground.
    """

    line: str
    station: float
    situation: Situation
    inside: Floor
    beyond: Floor | None
    beyond_reach: float
    thickness: float
    footing_bottom: float
    footing_top: float
    projection: float
    leg_top: float | None
    concrete_top: float
    ledge: Ledge | None
    carries: float
    door: OpeningInput | None
    foam: LineFoam
    basis: str
    frame: Frame
    grade: tuple[GradeStep, ...]
    soil: tuple[SoilLayer, ...]

    @property
    def shelf(self) -> float:
        """Level at which the wall gets thinner; the top of concrete where it does not. [m]"""
        thinner = self.ledge is not None and TOUCH < self.ledge.upper < self.thickness - TOUCH
        if not thinner or self.ledge is None:
            return self.concrete_top
        return min(max(self.ledge.level, self.footing_top), self.concrete_top)

    @property
    def upper(self) -> tuple[float, float]:
        """Inner and outer face of the wall above the shelf. [m]"""
        if self.ledge is None or not self.concrete_top > self.shelf:
            return -self.thickness, 0.0
        if self.ledge.veneer:
            return -self.thickness, self.ledge.upper - self.thickness
        return -self.ledge.upper, 0.0

    @property
    def bears(self) -> bool:
        """Whether the slab's edge stands on the ledge."""
        return self.upper[0] > -self.thickness and self.inside.level > self.shelf + TOUCH

    @property
    def inner_face(self) -> float:
        """Inner face of the wall at the floor. [m]"""
        return self.upper[0] if self.bears else -self.thickness

    @property
    def slab_over_wall(self) -> bool:
        """Whether the slab runs out over the wall, which is lowered for a door."""
        return self.door is not None and self.concrete_top < self.inside.level - TOUCH

    @property
    def leaf_or_frame(self) -> float:
        """Thickness of what stands on the wall. [m]"""
        return LEAF if self.door is not None else self.carries


def bed_of(floor: Floor) -> float:
    """Level of the ground under slab, foam and stone.

    Parameters
    ----------
    floor : Floor
        The floor.

    Returns
    -------
    float
        Level. [m]
    """
    part = floor.part
    foam = part.foam.under_slab.thickness if part.foam.under_slab else 0.0
    stone = (part.stone_over_footing or STONE) if part.slab_thickness or foam else 0.0
    return floor.level - part.slab_thickness - foam - stone
