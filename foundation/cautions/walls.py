"""Traps of the walls: what they hold back, how tall they are, ledges and slabs that bear on them.

The walls' structure is flagged and never worked out: no moment, no steel, no size.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import combinations

import numpy as np

from foundation.cautions import register
from foundation.cautions.ground import WITHIN, Along
from foundation.cautions.words import also, listed, plain
from foundation.model.caution import Amount, Caution, Trap
from foundation.model.concrete import Fill, Ledge, WallPiece

UNBALANCED = 48 * 0.0254
"""Most unbalanced fill without support (IRC 2024 R404.1.1, IRC 2015 R404.4 [read]). [m]"""
WITH_LOAD = 24 * 0.0254
"""Most unbalanced fill with other lateral load (IRC 2015 R404.4 [read]). [m]"""
TALLEST = 10 * 0.3048
"""Tallest concrete of the simple wall [practice]. [m]"""
SHORT_WALL_FILL = 24 * 0.0254
"""Most fill above the floor against concrete that stops below the next floor [practice]. [m]"""
UNEQUAL = 48 * 0.0254
"""Most that fill above the floor may differ between opposite walls [practice]. [m]"""
DEEP_FILL = 2 * 0.3048
"""Deepest fill under a slab [practice]. [m]"""
VENEER_SHELF = 4 * 0.0254
"""Least wall behind a veneer shelf [practice]. [m]"""
LEDGE_FIT = 0.0254 / 16
"""A ledge closes to a sixteenth of an inch. [m]"""
BACKFILL = "backfill"


def backfill_before_support(fills: Iterable[Fill], most: float = UNBALANCED) -> list[Caution]:
    """Walls are backfilled while their tops or their feet are not held.

    Parameters
    ----------
    fills : iterable of Fill
        Unbalanced fill of the wall lines, with what holds each at the stage of the backfill.
    most : float
        Most unbalanced fill without support. [m]

    Returns
    -------
    list of Caution
        None or one, at the most fill; it names the other walls.
    """
    loose = [
        fill
        for fill in fills
        if any(stage.stage == BACKFILL and not (stage.top and stage.foot) for stage in fill.supports)
    ]
    return _most_fill(
        register.BACKFILL_EARLY,
        loose,
        most,
        "{fill} of unbalanced fill before deck or bracing holds its top and slab or other support its foot.",
    )


def _most_fill(trap: Trap, fills: Sequence[Fill], most: float, sentence: str) -> list[Caution]:
    """One caution at the line with the most fill, if that is more than allowed."""
    height = {fill.line: float(fill.height.max()) for fill in fills if fill.height.max() > most + WITHIN}
    if not height:
        return []
    line = max(height, key=lambda name: height[name])
    fill = next(each for each in fills if each.line == line)
    return [
        Caution(
            trap,
            f"wall {line}",
            sentence + also(name for name in height if name != line),
            {"fill": Amount(height[line]), "most": Amount(most, "inches")},
            line,
            float(fill.station[int(fill.height.argmax())]),
        )
    ]


def wall_over_10_ft(pieces: Iterable[WallPiece], tallest: float = TALLEST) -> list[Caution]:
    """Concrete taller than the simple wall.

    Parameters
    ----------
    pieces : iterable of WallPiece
        The walls' pieces.
    tallest : float
        Tallest concrete of the simple wall. [m]

    Returns
    -------
    list of Caution
        None or one, at the tallest piece; it names the other walls.
    """
    tall = [piece for piece in pieces if piece.top - piece.bottom > tallest + WITHIN]
    if not tall:
        return []
    worst = max(tall, key=lambda piece: piece.top - piece.bottom)
    return [
        Caution(
            register.TALL_WALL,
            f"wall {worst.line}",
            "The concrete stands {height} tall; the simple wall ends at {tallest}."
            + also(piece.line for piece in tall if piece.line != worst.line),
            {"height": Amount(worst.top - worst.bottom), "tallest": Amount(tallest)},
            worst.line,
            worst.start,
        )
    ]


def wall_under_garage_fill(
    fills: Iterable[Fill], filled: Mapping[str, str], most: float = WITH_LOAD
) -> list[Caution]:
    """A wall of the house holds the fill under the garage's floor.

    Parameters
    ----------
    fills : iterable of Fill
        Unbalanced fill of the wall lines.
    filled : mapping of str to str
        For each common wall, the garage or porch on its other side.
    most : float
        Most fill beside which wheels ask for nothing. [m]

    Returns
    -------
    list of Caution
        None or one, at the most fill; it names the other walls.
    """
    common = [fill for fill in fills if fill.line in filled]
    sentence = "It holds {fill} of fill under a garage's or porch's floor, with the wheels on it."
    return _most_fill(register.UNDER_GARAGE_FILL, common, most, sentence)


def wall_below_floor(
    pieces: Iterable[WallPiece], full_top: Mapping[str, float], soil: Along, most: float = SHORT_WALL_FILL
) -> list[Caution]:
    """Concrete stops below the floor that would hold its top, on a side with fill.

    Parameters
    ----------
    pieces : iterable of WallPiece
        The walls' pieces.
    full_top : mapping of str to float
        For each wall line the level of its full top, under the floor. [m]
    soil : mapping of str to tuple of ndarray
        For each wall line of a basement or crawl space its stations and the soil outside above the floor
        inside. [m]
    most : float
        Most soil that such a wall may hold. [m]

    Returns
    -------
    list of Caution
        None or one, at the most soil; it names the other walls.
    """
    held: dict[str, tuple[float, float]] = {}
    for piece in pieces:
        if piece.line not in soil or piece.top > full_top[piece.line] - WITHIN:
            continue
        station, height = soil[piece.line]
        here = (station > piece.start - WITHIN) & (station < piece.end + WITHIN)
        if not here.any():
            continue
        worst = int(np.argmax(np.where(here, height, -np.inf)))
        if height[worst] > max(most, held.get(piece.line, (0.0, 0.0))[0]) + WITHIN:
            held[piece.line] = float(height[worst]), float(station[worst])
    if not held:
        return []
    line = max(held, key=lambda name: held[name][0])
    most_soil, at = held[line]
    return [
        Caution(
            register.BELOW_FLOOR,
            f"wall {line}",
            "The concrete stops below the floor above, with {soil} of soil against it over the floor inside."
            + also(name for name in held if name != line),
            {"soil": Amount(most_soil)},
            line,
            at,
        )
    ]


def retaining_wall(fills: Sequence[Fill], surcharged: Collection[str] = ()) -> list[Caution]:
    """A wall whose top nothing holds in the finished house, or with other load behind it, holds too much fill.

    Parameters
    ----------
    fills : sequence of Fill
        Unbalanced fill of the wall lines; the last stage is the finished house.
    surcharged : collection of str
        Lines with wheels or a building close by.

    Returns
    -------
    list of Caution
        At most one of each kind, at the most fill; it names the other walls.
    """
    loaded = [fill for fill in fills if fill.line in surcharged]
    free = [
        fill for fill in fills if fill.line not in surcharged and fill.supports and not fill.supports[-1].top
    ]
    return [
        *_most_fill(
            register.RETAINING,
            loaded,
            WITH_LOAD,
            "It holds {fill} of unbalanced fill with wheels or a building close by; over {most} it is designed.",
        ),
        *_most_fill(
            register.RETAINING,
            free,
            UNBALANCED,
            "It holds {fill} of unbalanced fill and no floor holds its top; over {most} it is designed.",
        ),
    ]


OPEN_SIDE = 0.3048
"""A side that holds less soil than this is open, a walkout: 1 ft [practice]. [m]"""


def unequal_walls(
    sides: Mapping[str, Mapping[tuple[str, ...], tuple[tuple[float, float], float]]], most: float = UNEQUAL
) -> list[Caution]:
    """Opposite walls of a basement both hold soil, of unlike heights.

    A side that holds none to speak of is a walkout: its high wall, its backfill and its frost cover have traps of their
    own, and this one would trip on every sound walkout.

    Parameters
    ----------
    sides : mapping of str to mapping
        For each part with a floor at its walls' feet, for the wall lines of each side: the side's unit vector
        outwards, and the most soil outside above the floor inside. [m]
    most : float
        Most that they may differ. [m]

    Returns
    -------
    list of Caution
        One for each part, at the pair that differs most.
    """
    found = []
    for part, walls in sides.items():
        worst: tuple[float, tuple[str, ...], tuple[str, ...]] | None = None
        for (one, (out, soil)), (other, (back, less)) in combinations(walls.items(), 2):
            if out[0] * back[0] + out[1] * back[1] > -0.99:
                continue
            if min(soil, less) < OPEN_SIDE:
                continue
            difference = abs(soil - less)
            if difference > most + WITHIN and (worst is None or difference > worst[0]):
                worst = (difference, one, other) if soil > less else (difference, other, one)
        if worst:
            difference, high, low = worst
            found.append(
                Caution(
                    register.UNEQUAL_WALLS,
                    f"{part}, wall {high[0]}",
                    f"Wall {listed(high)} holds {{difference}} more soil than {listed(low)} on the other side of "
                    f"{plain(part)}.",
                    {"difference": Amount(difference)},
                    high[0],
                )
            )
    return found


def slab_on_deep_fill(
    fills: Mapping[str, tuple[float, str, float]], deepest: float = DEEP_FILL
) -> list[Caution]:
    """A slab bears on deep fill inside the walls.

    Parameters
    ----------
    fills : mapping of str to tuple
        For each part the deepest fill between existing grade and the underside of its slab [m], the wall line where
        that is, and the station. [m]
    deepest : float
        Deepest fill that is not told. [m]

    Returns
    -------
    list of Caution
        One for each such part.
    """
    return [
        Caution(
            register.DEEP_FILL,
            part,
            "Its slab lies on up to {fill} of fill; more than {deepest} settles unless it is compacted in lifts.",
            {"fill": Amount(depth), "deepest": Amount(deepest)},
            line,
            station,
        )
        for part, (depth, line, station) in fills.items()
        if depth > deepest + WITHIN
    ]


def ledge_over_fill(ledges: Iterable[tuple[Ledge, float]], deepest: float = DEEP_FILL) -> list[Caution]:
    """A slab hangs on its ledge while the fill beside it settles.

    Parameters
    ----------
    ledges : iterable of tuple
        Each ledge, and the deepest fill under the slab along its line. [m]
    deepest : float
        Deepest fill that is not told. [m]

    Returns
    -------
    list of Caution
        One for each such ledge that carries a slab.
    """
    return [
        Caution(
            register.LEDGE_OVER_FILL,
            f"wall {ledge.line}",
            "The slab's edge bears on a ledge beside {fill} of fill, which settles and leaves it hanging.",
            {"fill": Amount(depth), "deepest": Amount(deepest)},
            ledge.line,
        )
        for ledge, depth in ledges
        if not ledge.veneer and ledge.bearing > 0 and depth > deepest + WITHIN
    ]


def ledge_does_not_fit(ledges: Iterable[Ledge], least_behind_veneer: float = VENEER_SHELF) -> list[Caution]:
    """Foam and bearing do not fill the ledge, or the wall left over is too thin.

    Parameters
    ----------
    ledges : iterable of Ledge
        The ledges.
    least_behind_veneer : float
        Least wall behind a veneer shelf. [m]

    Returns
    -------
    list of Caution
        One for each such ledge, on the first thing that is wrong.
    """
    found = []
    for ledge in ledges:
        upper = Amount(ledge.upper, "inches")
        if abs(ledge.remainder) >= LEDGE_FIT:
            over = (
                "leave {remainder} of the ledge free"
                if ledge.remainder > 0
                else "are {remainder} wider than the ledge"
            )
            sentence = f"Foam, bearing and gap {over}: make them add up."
            amounts = {"remainder": Amount(abs(ledge.remainder), "inches")}
        elif ledge.veneer and ledge.upper < least_behind_veneer - WITHIN:
            sentence = "Only {upper} of wall is left behind the veneer shelf; at least {least} is asked for."
            amounts = {"upper": upper, "least": Amount(least_behind_veneer, "inches")}
        elif not ledge.veneer and ledge.upper < ledge.carries - WITHIN:
            sentence = "Only {upper} of wall is left at the ledge, thinner than the {carries} wall on it."
            amounts = {"upper": upper, "carries": Amount(ledge.carries, "inches")}
        else:
            continue
        found.append(Caution(register.LEDGE_MISFIT, f"wall {ledge.line}", sentence, amounts, ledge.line))
    return found


def slab_on_bare_ledge(ledges: Iterable[Ledge]) -> list[Caution]:
    """A slab bears on bare concrete beside or without the edge foam.

    Parameters
    ----------
    ledges : iterable of Ledge
        The ledges.

    Returns
    -------
    list of Caution
        One for each such ledge.
    """
    return [
        Caution(
            register.BARE_LEDGE,
            f"wall {ledge.line}",
            "{bearing} of slab bears on the bare ledge: heat passes beside the edge foam.",
            {"bearing": Amount(ledge.bearing, "inches")},
            ledge.line,
        )
        for ledge in ledges
        if ledge.bypass
    ]
