"""Nouns of a section through wall, footing and floor: what lies where, and what it is made of.

Across a section x is measured from the outside face of the concrete, outward positive; z is the level.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True)
class Material:
    """What conducts and stores heat.

    Attributes
    ----------
    name : str
        What it is called on drawings.
    conductivity : float
        Unfrozen. [W/(m·K)]
    heat_capacity : float
        Of a volume, unfrozen. [J/(m³·K)]
    frozen_conductivity : float
        Frozen; the same as unfrozen where nothing in it freezes. [W/(m·K)]
    latent_heat : float
        Freed by freezing its pore water, 0 for none. [J/m³]
    """

    name: str
    conductivity: float
    heat_capacity: float
    frozen_conductivity: float
    latent_heat: float = 0.0


class BlockKind(StrEnum):
    """How a block is drawn, and what it does to the line of insulation."""

    CONCRETE = "concrete"
    """Wall, footing, leg, slab, paving."""
    FOAM = "foam"
    """Rigid foam."""
    WOOD = "wood"
    """Sill, closing strip."""
    FRAME = "frame"
    """Framed wall with its batts: it insulates."""
    STONE = "stone"
    """Clean stone under the slab, round the drain."""
    SOIL = "soil"
    """Soil that differs from the layers of the site, such as backfill."""


@dataclass(frozen=True)
class Block:
    """A rectangle of one material.

    Attributes
    ----------
    name : str
        What it is, such as ``foam under the slab``.
    kind : BlockKind
        How it is drawn.
    material : Material
        What it is made of.
    left, right : float
        Its sides, left < right; the left side is the inner one. [m]
    bottom, top : float
        Its levels, bottom < top. [m]
    """

    name: str
    kind: BlockKind
    material: Material
    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True)
class SoilLayer:
    """Ground from a level down to the next layer.

    Attributes
    ----------
    top : float
        Its upper limit, inf for the first. [m]
    material : Material
        What it is.
    """

    top: float
    material: Material


@dataclass(frozen=True)
class GradeStep:
    """Finished grade outside from one distance on to the next.

    Attributes
    ----------
    start : float
        Distance from the outside face of concrete, from 0. [m]
    level : float
        Grade. [m]
    """

    start: float
    level: float


class Situation(StrEnum):
    """What kind of place a section stands in."""

    BASEMENT = "basement wall"
    """Slab 12 in or more below grade, IRC 2021 N1102 [read]."""
    EDGE = "slab edge"
    """Slab less than 12 in below grade, a walkout, a slab on grade, a garage at its door."""
    BETWEEN = "wall between two parts"
    """The air on the other side is another part's."""


@dataclass(frozen=True)
class Section:
    """A section at one station of a wall line.

    Above the ground and outside the blocks there is air: the inner space left of `divide`, the outer right of it.
    Later blocks lie over earlier ones. At `top` the section is cut, and no heat crosses there.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : float
        Station on it. [m]
    situation : Situation
        Kind of place.
    inside, outside : str
        Names of the part inside and of the part beyond; outside is "" outdoors.
    floor : float
        Level of the top of slab inside. [m]
    bed : float
        Level of the ground inside, under slab, foam and stone. [m]
    half_width : float
        Floor from the inner face of the wall to the line of symmetry. [m]
    inner_face : float
        x of the wall's inner face at the floor, negative. [m]
    divide : float
        x that parts inner from outer air, inside the wall and whatever stands on it. [m]
    top : float
        Level of the cut. [m]
    concrete_top : float
        Level of the top of concrete. [m]
    grade : tuple of GradeStep
        Finished grade outside, from the wall outward, at least one.
    soil : tuple of SoilLayer
        Ground, from the top down, at least one.
    blocks : tuple of Block
        What stands in it.
    """

    line: str
    station: float
    situation: Situation
    inside: str
    outside: str
    floor: float
    bed: float
    half_width: float
    inner_face: float
    divide: float
    top: float
    concrete_top: float
    grade: tuple[GradeStep, ...]
    soil: tuple[SoilLayer, ...]
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class InsulationGap:
    """A break in the line of insulation from the framed wall to the middle of the floor.

    Attributes
    ----------
    where : str
        What breaks it, such as ``the wall's top between sill and foam``.
    start, end : tuple of float
        x and z of its two ends. [m]
    length : float
        Length that the pencil has to be lifted for. [m]
    conductance : float
        Heat that closing it with the foam beside it would save; nan where it was not solved for. [W/(m·K)]
    """

    where: str
    start: tuple[float, float]
    end: tuple[float, float]
    length: float
    conductance: float
