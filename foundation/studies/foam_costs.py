"""What a set of foam costs to buy and lay: areas from the sections, prices from the project."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from foundation.model.section import Block, BlockKind
from foundation.model.sizing import FoamSet, Place
from foundation.plan import Plan
from foundation.plan.footings import part_of
from foundation.plan.section_foam import line_foam, sizes_of
from foundation.plan.sections import PlacedSection
from foundation.studies.foam_boards import BARE, FIELDS, BoardPrices, laid

COVERED = 6 * 0.0254
"""Foam outside is covered down to this depth below grade, model code [read]. [m]"""
BLOCKS = {
    Place.WALL: "foam outside",
    Place.SLAB_EDGE: "foam at the slab's edge",
    Place.UNDER_SLAB: "foam under the slab",
    Place.WING: "wing",
}
"""Name of the block of each place in a section."""


@dataclass(frozen=True)
class Areas:
    """How much foam a stretch of wall takes, whatever its thickness.

    Attributes
    ----------
    part : str
        Name of the part.
    line : str
        Name of the wall line.
    faces : mapping of Place to float
        Area that each place's foam covers. [m²]
    cover : float
        Of the wall's foam that is covered, from its top to 6 in below grade. [m²]
    """

    part: str
    line: str
    faces: Mapping[Place, float]
    cover: float


def block_of(place: Place, blocks: Sequence[Block]) -> Block | None:
    """The foam of a place in a section.

    Parameters
    ----------
    place : Place
        The place.
    blocks : sequence of Block
        The section's blocks.

    Returns
    -------
    Block or None
        Its block, None where there is none.
    """
    return next((b for b in blocks if b.kind is BlockKind.FOAM and b.name == BLOCKS[place]), None)


def areas_of(placed: Sequence[PlacedSection]) -> tuple[Areas, ...]:
    """Measure how much foam each stretch takes.

    The strips of floor along the stretches add up to the floor, since each is as wide as half the characteristic
    dimension.

    Parameters
    ----------
    placed : sequence of PlacedSection
        All stretches, with foam in every place.

    Returns
    -------
    tuple of Areas
        One for each.
    """
    found = []
    for each in placed:
        length, section = each.end - each.start, each.section
        faces = {}
        for place in Place:
            block = block_of(place, section.blocks)
            if block is None:
                continue
            upright = place in (Place.WALL, Place.SLAB_EDGE)
            faces[place] = length * (block.top - block.bottom if upright else block.right - block.left)
        wall = block_of(Place.WALL, section.blocks)
        shown = 0.0
        if wall is not None:
            shown = max(0.0, wall.top - max(wall.bottom, section.grade[0].level - COVERED))
        found.append(Areas(section.inside, section.line, faces, length * shown))
    return tuple(found)


def first_cost(areas: Sequence[Areas], foam: FoamSet, prices: BoardPrices) -> float:
    """What a set costs in all stretches.

    Parameters
    ----------
    areas : sequence of Areas
        The stretches.
    foam : FoamSet
        The set.
    prices : BoardPrices
        What boards, laying and cover cost.

    Returns
    -------
    float
        First cost. [$]
    """
    return sum(_cost(each, foam, prices) for each in areas)


def planned_cost(plan: Plan, placed: Sequence[PlacedSection], prices: BoardPrices) -> float:
    """What the project's own foam costs, line by line.

    Parameters
    ----------
    plan : Plan
        The plan.
    placed : sequence of PlacedSection
        All stretches, with the planned foam.
    prices : BoardPrices
        What boards, laying and cover cost.

    Returns
    -------
    float
        First cost. [$]
    """
    return sum(_cost(each, _own(plan, each), prices) for each in areas_of(placed))


def _own(plan: Plan, areas: Areas) -> FoamSet:
    """Foam that the project has along a stretch; what it resists does not matter here."""
    part = part_of(plan.project, areas.part)
    line = line_foam(part, sizes_of(plan.project, part, plan.line(areas.line).wall), shared=False)
    found = {
        place.value: laid(layer.board, layer.thickness, 1.0)
        for place, field in FIELDS.items()
        if (layer := getattr(line, field)) is not None
    }
    return replace(BARE, **found)


def _cost(areas: Areas, foam: FoamSet, prices: BoardPrices) -> float:
    cost = sum(area * prices.of_area(foam.at(place)) for place, area in areas.faces.items())
    return cost + (areas.cover * prices.cover if foam.wall is not None else 0.0)
