"""Reinforcing bars from the list of an engineer or a plan: laps, cuts and weight. None are made up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from foundation.model.takeoff import Piece
from foundation.model.walls import WallLine
from foundation.money.quantities import bar_weights, bars_in_line, usual_lap
from foundation.packing import pack
from foundation.plan.result import Plan
from foundation.plan.takeoff_floors import FloorShape
from foundation.plan.takeoff_words import LENGTH, MASS, Drawn, Words
from foundation.project.schema_money import BarInput

NONE_ENTERED = (
    "No steel entered: bars are counted from the list of an engineer or a plan, and none are made up."
)
EPS = 1e-9
"""Spacings that fit a whole number of times do so to a billionth. [-]"""

Row = tuple[str, int, float]
"""Where bars lie, how many lines of them, and how long each line is. [m]"""


def bar_items(
    plan: Plan, answer: str, floors: Sequence[FloorShape], words: Words
) -> tuple[list[Drawn], list[str]]:
    """Bars of every entry of the list.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    floors : sequence of FloorShape
        The floors.
    words : Words
        The reader's units.

    Returns
    -------
    items : list of Drawn
        One for each entry that tells enough.
    notes : list of str
        What is missing.
    """
    if not plan.project.bars:
        return [], [NONE_ENTERED]
    items, notes = [], []
    for number, bar in enumerate(plan.project.bars, 1):
        name = f"bars[{number}], {bar.size} in {bar.where}"
        if bar.part and bar.part not in [part.name for part in plan.project.parts]:
            known = ", ".join(part.name for part in plan.project.parts)
            notes.append(f'{name}, are for "{bar.part}", which is no part; there are: {known}.')
            continue
        if bar.where == "footings" and bar.count is None:
            notes.append(f"{name}, are not counted: say how many run along the footing.")
            continue
        if bar.where != "footings" and bar.spacing is None:
            notes.append(f"{name}, are not counted: say their spacing.")
            continue
        lap = bar.lap if bar.lap is not None else usual_lap(bar.size, bar.grade)
        if lap is None:
            notes.append(f"{name}: no lap of {bar.size} is known, so none is counted; type it.")
        if lap is not None and lap >= bar.stock:
            said = f"a lap of {words.length(lap)} needs bars longer than {words.length(bar.stock)}"
            notes.append(f"{name}, are not counted: {said}.")
            continue
        rows = list(rows_of(plan, answer, floors, bar, lap or 0.0))
        if not rows:
            notes.append(f"{name}, lie nowhere: there is no such concrete.")
            continue
        items.append(_item(number, bar, rows, lap or 0.0, words))
    return items, notes


def rows_of(
    plan: Plan, answer: str, floors: Sequence[FloorShape], bar: BarInput, lap: float
) -> Iterator[Row]:
    """Lines of bars of one entry, without the laps along them.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    floors : sequence of FloorShape
        The floors.
    bar : BarInput
        The entry, with its count or its spacing.
    lap : float
        How far a bar reaches round a corner into the next wall. [m]

    Yields
    ------
    tuple
        Where, how many lines, and how long each is. [m]
    """
    lines = [line.wall for line in plan.lines if bar.part in ("", line.wall.part)]
    stepping, pieces = plan.stepping(answer), plan.walls[answer].pieces
    if bar.where == "footings":
        assert bar.count is not None
        for wall in lines:
            up = sum(step.rise for step in stepping.steps if step.line == wall.name)
            yield wall.name, bar.count, wall.length + up + lap * _turns(plan, wall)
        return
    assert bar.spacing is not None
    if bar.where == "slab":
        for floor in (floor for floor in floors if bar.part in ("", floor.part.name)):
            for length in _across(floor, bar.spacing):
                yield f"slab of {floor.part.name}", 1, length
        return
    names = {wall.name: wall for wall in lines}
    for piece in (piece for piece in pieces if piece.line in names):
        long, high = piece.end - piece.start, piece.top - piece.bottom
        if bar.where == "walls, upright":
            yield piece.line, _count(long, bar.spacing), high
            continue
        wall = names[piece.line]
        goes_on = piece.end < wall.length - EPS or _turns(plan, wall)
        yield piece.line, _count(high, bar.spacing), long + (lap if goes_on else 0.0)


def _count(length: float, spacing: float) -> int:
    """Bars at a spacing with one at either end."""
    return int(length / spacing + EPS) + 1


def _turns(plan: Plan, wall: WallLine) -> int:
    """Ends at which a wall's bars reach on into another one's: each corner once, and both ends of a branch."""
    others = [line.wall for line in plan.lines if line.wall is not wall]
    into_next = any(wall.end in (other.start, other.end) for other in others)
    follows = any(other.part == wall.part and other.end == wall.start for other in others)
    branches = not follows and any(wall.start in (other.start, other.end) for other in others)
    return int(into_next) + int(branches)


def _across(floor: FloorShape, spacing: float) -> Iterator[float]:
    """Bars both ways over a slab, the first half a spacing from its edge."""
    west, south, east, north = floor.slab.bounds
    for low, high, turned in ((south, north, False), (west, east, True)):
        for at in np.arange(low + spacing / 2, high, spacing):
            ends = [(at, south), (at, north)] if turned else [(west, at), (east, at)]
            crossing = shapely.intersection(shapely.linestrings(ends), floor.slab)
            for piece in getattr(crossing, "geoms", [crossing]):
                if piece.length > 0:
                    yield float(piece.length)


def _item(number: int, bar: BarInput, rows: Sequence[Row], lap: float, words: Words) -> Drawn:
    drawn: Counter[tuple[str, float]] = Counter()
    laps: Counter[str] = Counter()
    cuts: list[float] = []
    for where, count, length in rows:
        whole, last = bars_in_line(length, bar.stock, lap)
        drawn[where, round(length, 6)] += count
        laps[where] += count * (whole - (last == 0))
        cuts += ([bar.stock] * whole + [last] * (last > 0)) * count
    pieces = [
        Piece(where, f"{count} × {words.length(length)}", count * length)
        for (where, length), count in drawn.items()
    ]
    pieces += [
        Piece(f"laps, {where}", f"{count} × {words.size(lap)}", count * lap)
        for where, count in laps.items()
        if count and lap
    ]
    bought = len(pack(cuts, bar.stock))
    total, weight = sum(piece.quantity for piece in pieces), bar_weights()[bar.size]
    short = Counter(round(cut, 4) for cut in cuts if cut < bar.stock - 1e-6)
    cut_list = ", ".join(
        f"{count} of {words.length(cut)}" for cut, count in sorted(short.items(), reverse=True)
    )
    formula = (
        f"lines, up every step, and laps of {words.size(lap)}: {words.of(total, LENGTH)} = "
        f"{words.of(total * weight, MASS)} (ASTM A615)" + (f"; cut {cut_list}" if cut_list else "")
    )
    by = f", by {bar.by}" if bar.by else ", nobody named who listed them"
    return Drawn(
        f"bars-{number}",
        "bars",
        _pour(bar),
        f"{bar.size} bars in {bar.where}, {bar.grade}{by}",
        LENGTH,
        bought * bar.stock,
        f"{bought} bars of {words.length(bar.stock)}, {words.of(bought * bar.stock * weight, MASS)}",
        formula,
        tuple(pieces),
        "bars",
    )


def _pour(bar: BarInput) -> str:
    if bar.where == "slab":
        return f"slab of {bar.part}" if bar.part else "slabs"
    return "footings" if bar.where == "footings" else "walls"
