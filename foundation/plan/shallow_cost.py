"""What a frost-protected shallow footing costs beside the deepened one, at the project's prices."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from foundation.foam.boards import board_types, refused_in_ground
from foundation.foam.choice import LYING, UPRIGHT, resistivity
from foundation.footing.forms import panel_heights
from foundation.footing.schedule import quantities_of
from foundation.frost import shallow
from foundation.model.section import BlockKind, Section
from foundation.model.walls import FootingLine, Quantities, Stepping
from foundation.model.winter import ProtectingFoam, ShallowCost
from foundation.money.usual import usual_board_price
from foundation.plan.as_built_walls import with_walls_as_built
from foundation.plan.footings import TALLEST, unit_prices
from foundation.plan.result import Plan
from foundation.plan.section_foam import COMMON_BOARD
from foundation.plan.sections import sections_along
from foundation.project import Project

COVERED = 6 * 0.0254
"""Foam outside is covered down to this depth below grade, model code [read]. [m]"""
WITHIN = 1e-6

Laid = tuple[float, float, Section]
"""Start and end of a stretch [m], and its section."""


@dataclass(frozen=True)
class BoardPrices:
    """Boards for a shallow footing, and what they cost.

    Attributes
    ----------
    upright, wing : str
        Board on the wall, and in the wing.
    by_board : mapping of str to float
        Price of each by volume. [$/m³]
    laying : float
        For each layer. [$/m²]
    cover : float
        Over foam that shows. [$/m²]
    """

    upright: str
    wing: str
    by_board: Mapping[str, float]
    laying: float
    cover: float

    def thicknesses(self, board: str, least: float, most: float) -> tuple[float, ...]:
        """Thicknesses that can be laid of a board: stock, and two alike.

        Parameters
        ----------
        board : str
            The board.
        least, most : float
            Between which; where the stock has no such thickness, the least itself. [m]

        Returns
        -------
        tuple of float
            Rising. [m]
        """
        stock = board_types()[board].thicknesses
        each = sorted({round(one * count, 6) for one in stock for count in (1, 2)})
        return tuple(one for one in each if max(least, WITHIN) <= one + WITHIN and one <= most + WITHIN) or (
            least,
        )

    def of_area(self, board: str, thickness: float) -> float:
        """Price of an area of laid foam.

        Parameters
        ----------
        board : str
            The board.
        thickness : float
            Of all layers. [m]

        Returns
        -------
        float
            Boards and laying. [$/m²]
        """
        price = self.by_board.get(board)
        if price is None:
            price = usual_board_price(board_types()[board].family)
        layers = math.ceil(thickness / max(board_types()[board].thicknesses) - WITHIN)
        return thickness * price + layers * self.laying

    def of_wing(self, foam: ProtectingFoam) -> float:
        """Price of a metre of wing.

        Parameters
        ----------
        foam : ProtectingFoam
            The foam.

        Returns
        -------
        float
            Price, 0 for none. [$/m]
        """
        return foam.wing_width * self.of_area(foam.wing, foam.wing_thickness) if foam.wing else 0.0


def board_prices(project: Project, planned: str, basis: str) -> BoardPrices:
    """The boards to take: what is planned on the wall, else the cheapest for its R in wet ground.

    Parameters
    ----------
    project : Project
        The project; without a quote of its own one common board at a usual price is compared.
    planned : str
        Board planned on the wall, "" for none.
    basis : str
        Which R counts, never the label's.

    Returns
    -------
    BoardPrices
        Boards and prices.
    """
    known = board_types()
    quotes = {
        each.board: each.price
        for each in project.foam_prices.boards
        if each.board in known and not refused_in_ground(known[each.board])
    }
    prices = quotes or {COMMON_BOARD: usual_board_price(known[COMMON_BOARD].family)}

    def best(place: str) -> str:
        return min(prices, key=lambda name: prices[name] / resistivity(known[name], place, basis))

    foam = project.foam_prices
    return BoardPrices(planned or best(UPRIGHT), best(LYING), prices, foam.laying, foam.cover)


def foam_price(section: Section, prices: BoardPrices) -> float:
    """Price of a metre of the foam that protects a footing in a section.

    Parameters
    ----------
    section : Section
        The section.
    prices : BoardPrices
        What boards cost.

    Returns
    -------
    float
        Boards, laying, and cover of what shows. [$/m]
    """
    total = 0.0
    for block in section.blocks:
        if block.kind is not BlockKind.FOAM or block.name not in shallow.PROTECTING:
            continue
        across, up = block.right - block.left, block.top - block.bottom
        length, thickness = (up, across) if block.name in shallow.UPRIGHT else (across, up)
        total += length * prices.of_area(block.material.name, thickness)
        if block.name == shallow.OUTSIDE:
            shown = block.top - max(block.bottom, section.grade[0].level - COVERED)
            total += max(shown, 0.0) * prices.cover
    return total


def cost_of(
    plan: Plan,
    footing: FootingLine,
    base: Stepping,
    raised: Stepping,
    laid: Sequence[Laid],
    prices: BoardPrices,
) -> ShallowCost:
    """What the shallow footing costs beside the deepened one.

    Parameters
    ----------
    plan : Plan
        The plan.
    footing : FootingLine
        The wall line.
    base, raised : Stepping
        The deepened stepping, and the one with this line shallow.
    laid : sequence of tuple
        Stretches that are shallow: start, end [m] and section with the foam.
    prices : BoardPrices
        What boards cost.

    Returns
    -------
    ShallowCost
        Its cost.
    """
    project, name = plan.project, footing.wall.name
    unit, stacks = unit_prices(project), panel_heights(project.forms.heights, TALLEST)

    room = project.digging.working_room

    def full(stepping: Stepping, lines: Sequence[FootingLine]) -> Quantities:
        """What lines take with walls of full height."""
        names = [each.wall.name for each in lines]
        steps = [step for step in stepping.steps if step.line in names]
        return quantities_of(stepping.bottoms, lines, steps, unit, room, stacks)

    before, after = full(base, [footing]), full(raised, [footing])
    more = full(raised, plan.lines).money - full(base, plan.lines).money
    # What a low top and openings leave out lies above both footings.
    built = with_walls_as_built(replace(base, quantities=before), plan.walls[base.name], (footing,), unit)
    planned = 0.0
    for each in sections_along(plan, base.name):
        if each.section.line == name:
            along = sum(max(0.0, min(each.end, end) - max(each.start, start)) for start, end, _ in laid)
            planned += along * foam_price(each.section, prices)
    foam = sum((end - start) * foam_price(section, prices) for start, end, section in laid)
    digging = sum((end - start) * _beyond_room(section, project) for start, end, section in laid)
    return ShallowCost(
        deepened=built.quantities.money,
        shallow=built.quantities.money + after.money - before.money,
        foam=foam - planned + digging * unit.digging,
        elsewhere=more - (after.money - before.money),
    )


def _beyond_room(section: Section, project: Project) -> float:
    """What is dug for a wing beyond the footing's working room. [m²]"""
    foot = next(block for block in section.blocks if block.name == "footing")
    wings = [block for block in section.blocks if block.name == shallow.WING]
    dug = foot.right + project.digging.working_room
    grade = max(step.level for step in section.grade)
    return sum(max(0.0, wing.right - dug) * (grade - wing.bottom) for wing in wings)
