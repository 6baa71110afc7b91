"""Why a laying is as it is, in sentences."""

from __future__ import annotations

import numpy as np

from foundation.model.loops import LaidLoop
from foundation.radiant.parts import Part, Zone

MOVED = 0.3
"""Outlets that lie this far from the manifold's place are told. [m]"""


def reasons(
    zone: Zone, parts: list[Part], loops: tuple[LaidLoop, ...], pitch: float, bulbs: int, bare: float
) -> tuple[str, ...]:
    """Why loops are unequal, floor unreached, bends widened.

    Parameters
    ----------
    zone : Zone
        The zone.
    parts : list of Part
        Its parts.
    loops : tuple of LaidLoop
        Its loops.
    pitch : float
        Between rows. [m]
    bulbs : int
        Turns that are widened. [-]
    bare : float
        Floor farther from tube than the spacing. [m²]

    Returns
    -------
    tuple of str
        Sentences.
    """
    rules = zone.rules
    lengths = [loop.length for loop in loops]
    filled = [part.filled for part in parts if part.filled is not None]
    tight = sum(loop.tight_bends for loop in loops)
    left_out = sum(len(one.loops) for one in filled) > len(loops) or any(
        part.filled is None or part.filled.gate is None or part.filled.unfound for part in parts
    )
    told = [
        (
            0 < pitch < rules.spacing * 0.999,
            "Rows lie nearer than asked, so that an even number of them fills the floor.",
        ),
        (
            bulbs > 0,
            "Turns of neighbouring rows are widened to bulbs: the rows lie nearer than two bend radii.",
        ),
        (
            bulbs > 0 and pitch < rules.bend_radius + 0.0254,
            "Every other turn is drawn back, so that bulbs side by side keep clear of each other.",
        ),
        (
            tight > 0,
            f"{tight} bends have no room for the tube's radius, most of them of leaders.",
        ),
        (
            bool(lengths) and max(lengths) - min(lengths) > rules.equal_within * float(np.mean(lengths)),
            "Loops are as equal as whole turns, the floor's shape and the leaders allow.",
        ),
        (
            bool(lengths) and max(lengths) > rules.longest,
            "A loop is longer than the longest allowed: the manifold is too far from that floor.",
        ),
        (
            left_out,
            "Some floor has no clear way for leaders to the manifold and is left without tube.",
        ),
        (
            any(one.beside for one in filled),
            "A corner is laid in rows or left bare: counter-flow cannot wind into it.",
        ),
        (
            any(part.moved > MOVED for part in parts),
            "Leaders begin beside the manifold's place: a corner is too near.",
        ),
        (any(loop.sleeves for loop in loops), "Leaders cross joints in sleeves."),
        (not parts, "The floor is too narrow for tube that keeps off its edges."),
        (bare > 0, "Some floor is farther from tube than the spacing."),
    ]
    return tuple(text for holds, text in told if holds)
