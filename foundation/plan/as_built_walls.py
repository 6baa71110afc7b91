"""Quantities of an answer with its walls as they stand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from foundation.model.concrete import Walls
from foundation.model.walls import FootingLine, Stepping, UnitPrices
from foundation.walls.pieces import face_area


def with_walls_as_built(
    stepping: Stepping, walls: Walls, lines: tuple[FootingLine, ...], prices: UnitPrices
) -> Stepping:
    """A stepping whose quantities count the walls as they stand: lowered under doors and frames, openings left out.

    The optimiser counts full walls; what is taken out here hardly depends on the footing's level, so the order of the
    answers stays.

    Parameters
    ----------
    stepping : Stepping
        The answer, its quantities those of full walls.
    walls : Walls
        The walls on it.
    lines : tuple of FootingLine
        Its footing lines.
    prices : UnitPrices
        What things cost.

    Returns
    -------
    Stepping
        The same with the quantities of the walls as built.
    """
    concrete = forms = 0.0
    for line in lines:
        wall = line.wall
        height = np.maximum(0.0, wall.wall_top - stepping.bottoms[wall.name] - wall.footing_thickness)
        full = float((np.diff(line.node) * height).sum())
        pieces = [piece for piece in walls.pieces if piece.line == wall.name]
        holes = [opening for opening in walls.openings if opening.line == wall.name]
        less = full - face_area(pieces, holes)
        concrete += less * wall.wall_thickness
        forms += 2 * less
    before = stepping.quantities
    quantities = replace(
        before,
        concrete=before.concrete - concrete,
        forms=before.forms - forms,
        money=before.money - concrete * prices.concrete - forms * prices.forms,
    )
    return replace(stepping, quantities=quantities)
