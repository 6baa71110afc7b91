"""Traps of digging, and of footings that stand beside each other or beside a dig."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from foundation.cautions import register
from foundation.cautions.ground import WITHIN
from foundation.cautions.words import plain
from foundation.model.caution import Amount, Caution
from foundation.model.concrete import Opening, WallPiece

LADDER_DEPTH = 4 * 0.3048
"""Depth of a dig from which a ladder stands in it (OSHA 1926.651 [read]). [m]"""
PROTECTED_DEPTH = 5 * 0.3048
"""Depth of a dig from which its people are protected (OSHA 1926.652 [read]). [m]"""
ENGINEER_DEPTH = 20 * 0.3048
"""Depth of a dig below which its protection is an engineer's (OSHA 1926.652 [read]). [m]"""
CLEAR_OF_CHANGE = 12 * 0.0254
"""Least distance of an opening's corner from a change of the wall's height [practice]. [m]"""


class Near(NamedTuple):
    """Something that lies lower than a footing nearby.

    Attributes
    ----------
    subject : str
        Which of the two is told of: a pad, a trench, a wall's footing.
    upper, lower : str
        Names of the footing that lies higher, and of the footing or trench that lies lower.
    drop : float
        How much lower the latter's bottom is than the former's. [m]
    distance : float
        Between their edges in plan, 0 where one passes under the other. [m]
    line : str
        Wall line to light up, "" for none.
    station : float
        Station on it. [m]
    """

    subject: str
    upper: str
    lower: str
    drop: float
    distance: float
    line: str = ""
    station: float = 0.0


class DigFooting(NamedTuple):
    """A footing beside the dig of a basement.

    Attributes
    ----------
    name : str
        Name of the part or pad whose footing it is.
    bottom : float
        Bottom of the footing. [m]
    ground : float
        Level of undisturbed ground under it: the foot of the dig, or its side. [m]
    spared : float
        How much higher everything but the dig would let the footing be, 0 where the dig does not govern and inf
        where nobody knows. [m]
    line : str
        Wall line to light up, "" for none.
    station : float
        Station on it. [m]
    """

    name: str
    bottom: float
    ground: float
    spared: float
    line: str = ""
    station: float = 0.0


def _worst(near: Iterable[Near]) -> list[Near]:
    """Of each subject's neighbours the pair that lies deepest inside the 1 to 1 line."""
    worst: dict[str, Near] = {}
    for each in near:
        inside = each.drop - each.distance
        before = worst.get(each.subject)
        if inside > WITHIN and (before is None or inside > before.drop - before.distance):
            worst[each.subject] = each
    return list(worst.values())


def inside_line_of_another(near: Iterable[Near]) -> list[Caution]:
    """A separate footing or pad lies inside the 1 to 1 line of another.

    Trenches are not told here but by :func:`dig_inside_line`, which is the graver of the two.

    Parameters
    ----------
    near : iterable of Near
        Pairs of separate footings.

    Returns
    -------
    list of Caution
        One for each subject, at its worst pair.
    """
    return [
        Caution(
            register.INSIDE_LINE,
            each.subject,
            f"{plain(each.lower)} lies {{drop}} below {plain(each.upper)} and only {{distance}} beside it: "
            "inside its 1 to 1 line.",
            {"drop": Amount(each.drop), "distance": Amount(each.distance)},
            each.line,
            each.station,
        )
        for each in _worst(near)
    ]


def step_in_loose_soil(steps: int, soil_class: str, over_dug: bool) -> list[Caution]:
    """The soil behind a step's leg is class C and was dug too deep.

    Parameters
    ----------
    steps : int
        Number of steps. [-]
    soil_class : str
        Excavation class of the soil.
    over_dug : bool
        Whether a bench was dug deeper than planned.

    Returns
    -------
    list of Caution
        None or one.
    """
    if not steps or soil_class != "C" or not over_dug:
        return []
    sentence = "Class C soil was dug too deep at a step: make its leg wider, or ask an engineer."
    return [Caution(register.LOOSE_STEP, "footing steps", sentence, {})]


def footing_over_dig(footings: Iterable[DigFooting]) -> list[Caution]:
    """A garage, porch or pad footing stands on soil that the basement's dig takes away.

    Parameters
    ----------
    footings : iterable of DigFooting
        Footings beside the dig.

    Returns
    -------
    list of Caution
        One for each part or pad, where it stands highest above undisturbed ground.
    """
    worst: dict[str, DigFooting] = {}
    for each in footings:
        over = each.bottom - each.ground
        if over > WITHIN and (
            each.name not in worst or over > worst[each.name].bottom - worst[each.name].ground
        ):
            worst[each.name] = each
    return [
        Caution(
            register.OVER_DIG,
            each.name,
            "Its footing stands {over} above undisturbed ground, over the basement's dig: go down to {ground}, "
            "or let an engineer carry it over.",
            {"over": Amount(each.bottom - each.ground), "ground": Amount(each.ground)},
            each.line,
            each.station,
        )
        for each in worst.values()
    ]


def footing_beside_dig(footings: Iterable[DigFooting]) -> list[Caution]:
    """The basement's dig governs a garage, porch or pad footing, which goes down to undisturbed ground.

    The levels are right; they hold only while the dig stays where it was planned, which those who dig must know.

    Parameters
    ----------
    footings : iterable of DigFooting
        Footings beside the dig.

    Returns
    -------
    list of Caution
        One for each part or pad, where the dig takes it furthest down.
    """
    worst: dict[str, DigFooting] = {}
    for each in footings:
        if each.spared > WITHIN and (each.name not in worst or each.spared > worst[each.name].spared):
            worst[each.name] = each
    return [
        Caution(
            register.BESIDE_DIG,
            each.name,
            "The basement's dig takes its footing down to {bottom}: dig no wider than planned, or go down to "
            "undisturbed soil there too.",
            {"bottom": Amount(each.bottom)},
            each.line,
            each.station,
        )
        for each in worst.values()
    ]


def dig_inside_line(near: Iterable[Near]) -> list[Caution]:
    """A trench is dug inside the 45° line from a footing's bottom edge.

    Parameters
    ----------
    near : iterable of Near
        Footings and the trenches that lie lower.

    Returns
    -------
    list of Caution
        One for each trench, at the footing that it comes nearest to.
    """
    return [
        Caution(
            register.TRENCH_BELOW,
            each.lower,
            f"It is dug {{drop}} below {plain(each.upper)}, "
            + (
                "under it." if each.distance <= 0 else "{distance} beside it: stay as far away as it is deep."
            ),
            {"drop": Amount(each.drop), "distance": Amount(each.distance)},
            each.line,
            each.station,
        )
        for each in _worst(near)
    ]


def pipe_through_footing(pipes: Iterable[Near]) -> list[Caution]:
    """A sleeve, pipe or drain passes through or under a footing.

    Parameters
    ----------
    pipes : iterable of Near
        Pipes that cross a footing in plan; ``drop`` is from its top.

    Returns
    -------
    list of Caution
        One for each pipe below the top of its footing.
    """
    return [
        Caution(
            register.PIPE_THROUGH_FOOTING,
            each.lower,
            f"It passes {{drop}} below the top of {plain(each.upper)}: take it over the footing, or ask an engineer.",
            {"drop": Amount(each.drop, "inches")},
            each.line,
            each.station,
        )
        for each in pipes
        if each.drop > WITHIN
    ]


def opening_at_height_change(
    openings: Iterable[Opening], pieces: Iterable[WallPiece], clear: float = CLEAR_OF_CHANGE
) -> list[Caution]:
    """An opening's corner stands where the wall changes height.

    Parameters
    ----------
    openings : iterable of Opening
        Openings of the walls.
    pieces : iterable of WallPiece
        The walls' pieces, in the order of the lines.
    clear : float
        Least distance between the two. [m]

    Returns
    -------
    list of Caution
        One for each door or window too near to a change; where an overhead door itself lowers the wall, that is
        no other change.
    """
    own = list(pieces)
    found = []
    for opening in openings:
        if opening.kind not in ("door", "window", "overhead door"):
            continue
        wall = [piece for piece in own if piece.line == opening.line]
        changes = [
            after.start
            for before, after in zip(wall, wall[1:], strict=False)
            if abs(before.bottom - after.bottom) > WITHIN
            or not any(abs(after.start - side) < WITHIN for side in (opening.start, opening.end))
        ]
        gaps = [(abs(side - change), change) for change in changes for side in (opening.start, opening.end)]
        gap, change = min(gaps, default=(clear, 0.0))
        if gap < clear - WITHIN:
            found.append(
                Caution(
                    register.OPENING_AT_CHANGE,
                    opening.name,
                    "Its corner is {gap} from a change of the wall's height; keep {clear} between them.",
                    {"gap": Amount(gap, "inches"), "clear": Amount(clear, "inches")},
                    opening.line,
                    change,
                )
            )
    return found


def deep_dig(deepest: Iterable[tuple[str, float, float]], protection: str) -> list[Caution]:
    """People work in a dig that nobody said is protected, or in one deeper than 20 ft.

    Parameters
    ----------
    deepest : iterable of tuple
        Name of each wall line, the station where its dig is deepest [m], and that depth under existing grade. [m]
    protection : str
        ``sloped`` to the soil's class, ``shored``, or ``unknown``, which counts as none.

    Returns
    -------
    list of Caution
        None or one, at the deepest place.
    """
    digs = list(deepest)
    if not digs:
        return []
    line, station, depth = max(digs, key=lambda dig: dig[2])
    amounts = {"depth": Amount(depth)}
    if depth > ENGINEER_DEPTH + WITHIN:
        trap = register.VERY_DEEP_DIG
        sentence = "The dig is {depth} deep: an engineer designs how its people are protected."
    elif protection != "unknown" or depth <= LADDER_DEPTH - WITHIN:
        return []
    elif depth < PROTECTED_DEPTH - WITHIN:
        trap = register.DEEP_DIG
        sentence = "The dig is {depth} deep: put a ladder in, and say how the dig is protected."
    else:
        trap = register.DEEP_DIG
        sentence = (
            "Nobody said how people in a dig {depth} deep are protected: slope or shore it, with a ladder."
        )
    return [Caution(trap, f"wall {line}", sentence, amounts, line, station)]
