"""Traps of frost cover."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from foundation.cautions import register
from foundation.cautions.ground import WITHIN, Along
from foundation.cautions.words import also, plain
from foundation.model.caution import Amount, Caution
from foundation.model.cover import Cover

FILL_TOLD = 6 * 0.0254
"""New fill that does not count is told from this depth on [practice]. [m]"""


class ColdFloor(NamedTuple):
    """A footing beside a space that nobody heats.

    Attributes
    ----------
    line : str
        Name of the wall line.
    part : str
        Name of the unheated space.
    cover : float
        Its slab's top less the level that the frost depth is measured to, the least along the line. [m]
    station : float
        Where it is least. [m]
    governs : bool
        Whether that slab holds a run of the footing down.
    """

    line: str
    part: str
    cover: float
    station: float
    governs: bool


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


def fill_not_counted(fill: Along, told: float = FILL_TOLD) -> list[Caution]:
    """New fill lies over the footings and does not count towards the frost depth.

    Nothing is wrong with the levels: they are taken from the existing grade. Whoever measures from the finished
    grade finds more cover than the office lets count, so the most fill is named once.

    Parameters
    ----------
    fill : mapping of str to tuple of ndarray
        For each outdoor wall line its stations and finished less existing grade there. [m]
    told : float
        Fill that is told. [m]

    Returns
    -------
    list of Caution
        None or one, where the fill is deepest.
    """
    most = {line: float(np.nanmax(depth)) for line, (_, depth) in fill.items() if np.isfinite(depth).any()}
    if not most or max(most.values()) <= told + WITHIN:
        return []
    line = max(most, key=lambda name: most[name])
    station, depth = fill[line]
    sentence = "{fill} of new fill does not count: the frost depth is taken from the existing grade."
    return [
        Caution(
            register.FILL_NOT_COUNTED,
            f"wall {line}",
            sentence,
            {"fill": Amount(most[line])},
            line,
            float(station[np.nanargmax(depth)]),
        )
    ]


def depth_from_fill(covers: Along, frost_depth: float) -> list[Caution]:
    """Fill counts, and without it the footing would not be deep enough.

    The user's word lets fill count; this says where the levels lean on it, for the office to agree.

    Parameters
    ----------
    covers : mapping of str to tuple of ndarray
        For each outdoor wall line its stations and the cover there from the lower of existing and finished
        grade. [m]
    frost_depth : float
        Frost depth. [m]

    Returns
    -------
    list of Caution
        None or one, at the worst wall.
    """
    least = {line: float(np.nanmin(cover)) for line, (_, cover) in covers.items() if np.isfinite(cover).any()}
    short = {line: cover for line, cover in least.items() if cover < frost_depth - WITHIN}
    if not short:
        return []
    line = min(short, key=lambda name: short[name])
    station, cover = covers[line]
    return [
        Caution(
            register.FILL_COUNTED,
            f"wall {line}",
            "The frost depth leans on new fill: from the lower grade only {cover} of {depth} is there."
            + also(name for name in short if name != line),
            {"cover": Amount(short[line], "inches"), "depth": Amount(frost_depth, "inches")},
            line,
            float(station[np.nanargmin(cover)]),
        )
    ]


def unheated_space_inside(floors: Iterable[ColdFloor], frost_depth: float) -> list[Caution]:
    """The floor of an unheated space counts as outdoor grade and holds a footing down, or finds it too high.

    Parameters
    ----------
    floors : iterable of ColdFloor
        Footings beside unheated spaces.
    frost_depth : float
        Frost depth. [m]

    Returns
    -------
    list of Caution
        One for each such space, at its footing of least cover.
    """
    worst: dict[str, ColdFloor] = {}
    for floor in floors:
        if (floor.governs or floor.cover < frost_depth - WITHIN) and (
            floor.part not in worst or floor.cover < worst[floor.part].cover
        ):
            worst[floor.part] = floor
    found = []
    for floor in worst.values():
        short = floor.cover < frost_depth - WITHIN
        ends = "short of the {depth} that is asked for" if short else "and it holds the footing down"
        found.append(
            Caution(
                register.COLD_INSIDE,
                f"{floor.part}, wall {floor.line}",
                f"Nobody heats {plain(floor.part)}: its floor counts as outdoor grade, {{cover}} of cover, {ends}.",
                {"cover": Amount(floor.cover, "inches"), "depth": Amount(frost_depth, "inches")},
                floor.line,
                floor.station,
            )
        )
    return found


def snow_free_paving(covers: Mapping[str, Cover], melted: Collection[str]) -> list[Caution]:
    """Paving against a wall is kept free of snow, so that the frost goes deeper there.

    Parameters
    ----------
    covers : mapping of str to Cover
        Frost cover of each outdoor wall line.
    melted : collection of str
        Lines whose paving is kept free of snow.

    Returns
    -------
    list of Caution
        One for each such wall, at its least cover.
    """
    found = []
    for line, cover in covers.items():
        if line not in melted or not np.isfinite(cover.straight_down).any():
            continue
        worst = int(np.nanargmin(cover.straight_down))
        found.append(
            Caution(
                register.MELTED_PAVING,
                f"wall {line}",
                "Paving kept free of snow lies against the wall over {cover} of cover: frost goes deeper under it.",
                {"cover": Amount(float(cover.straight_down[worst]), "inches")},
                line,
                float(cover.station[worst]),
            )
        )
    return found
