"""Traps of frost cover."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from foundation.cautions import register
from foundation.model.caution import Amount, Caution
from foundation.model.cover import Cover

WITHIN = 0.5e-3
"""Cover is short when it misses by more than half a millimetre: levels are printed to 1/16 in. [m]"""


def frost_unsourced(source: str, dated: bool) -> list[Caution]:
    """Nobody is named who gave the frost depth, or no day.

    Parameters
    ----------
    source : str
        Who gave it.
    dated : bool
        Whether a day is given.

    Returns
    -------
    list of Caution
        None or one.
    """
    if source and dated:
        return []
    missing = "who gave it" if dated else "when it was given" if source else "who gave it and when"
    return [Caution(register.FROST_UNSOURCED, "frost depth", f"Frost depth: write down {missing}.", {})]


def cover_short(covers: Mapping[str, Cover], frost_depth: float) -> list[Caution]:
    """Frost cover straight down is less than the frost depth somewhere along a wall.

    Parameters
    ----------
    covers : mapping of str to Cover
        Frost cover of each outdoor wall line.
    frost_depth : float
        Frost depth. [m]

    Returns
    -------
    list of Caution
        One for each wall that is short, at its worst station.
    """
    found = []
    for line, cover in covers.items():
        if not np.isfinite(cover.straight_down).any():
            continue
        worst = int(np.nanargmin(cover.straight_down))
        least = float(cover.straight_down[worst])
        if least < frost_depth - WITHIN:
            found.append(
                Caution(
                    register.COVER_SHORT,
                    f"wall {line}",
                    "Frost cover is {cover} where {depth} is asked for: short by {short}.",
                    {
                        "cover": Amount(least, "inches"),
                        "depth": Amount(frost_depth, "inches"),
                        "short": Amount(frost_depth - least, "inches"),
                    },
                    line,
                    float(cover.station[worst]),
                )
            )
    return found


def frost_from_side(covers: Mapping[str, Cover]) -> list[Caution]:
    """The nearest open air is closer than sloping ground of full cover would leave it.

    Parameters
    ----------
    covers : mapping of str to Cover
        Frost cover of each outdoor wall line.

    Returns
    -------
    list of Caution
        One for each wall that is short from the side though not straight down, at its worst station.
    """
    found = []
    for line, cover in covers.items():
        short = cover.side_allowance - cover.nearest_air
        if not np.isfinite(short).any():
            continue
        worst = int(np.nanargmax(short))
        if short[worst] > WITHIN:
            found.append(
                Caution(
                    register.FROST_FROM_SIDE,
                    f"wall {line}",
                    "Open air is {air} from the footing, less than the {asked} that full cover leaves on this slope.",
                    {
                        "air": Amount(float(cover.nearest_air[worst]), "inches"),
                        "asked": Amount(float(cover.side_allowance[worst]), "inches"),
                    },
                    line,
                    float(cover.station[worst]),
                )
            )
    return found


def no_finished_grade(lines: Sequence[str]) -> list[Caution]:
    """Walls whose finished grade was never shot or typed.

    Parameters
    ----------
    lines : sequence of str
        Names of the walls.

    Returns
    -------
    list of Caution
        One for each.
    """
    return [
        Caution(
            register.NO_FINISHED_GRADE,
            f"wall {line}",
            "No finished grade is known along this wall: the existing grade is taken.",
            {},
            line,
        )
        for line in lines
    ]
