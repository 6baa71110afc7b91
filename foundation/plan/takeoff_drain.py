"""The footing drain of a dug-out part, with its inverts from the high point to daylight, and damp-proofing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foundation.model.takeoff import Piece
from foundation.model.walls import Run
from foundation.money.quantities import stone_round_drain, whole_up
from foundation.plan.footings import part_of
from foundation.plan.nearness import DUG_OUT
from foundation.plan.result import Plan
from foundation.plan.takeoff_words import AREA, LENGTH, VOLUME, Drawn, Words, by_name
from foundation.project.schema import Part
from foundation.walls.pieces import face_area

FALL = 1 / 96
"""Fall of the drain, 1/8 in/ft [practice]. [-]"""
STONE_UNDER = 2 * 0.0254
"""Stone under the pipe, so its invert over the bottom of footing where nobody told it, IRC R405.1 [read]. [m]"""
PIPE = 4 * 0.0254
"""Diameter of the drain [practice]. [m]"""
STICK = 10 * 0.3048
"""Length that drain pipe comes in [practice]. [m]"""
FIT = 1e-6
"""Stations and levels closer than a micrometre are equal. [m]"""


@dataclass(frozen=True)
class DrainPipe:
    """A stretch of footing drain beside one level of footing.

    Attributes
    ----------
    line : str
        Wall line that it lies outside of.
    low_at, high_at : float
        Stations of its lower and its upper end. [m]
    low, high : float
        Inverts there. [m]
    drop : float
        How far it falls at its lower end to the next stretch, at a footing step. [m]
    top_of_footing : float
        Top of the footing beside it. [m]
    """

    line: str
    low_at: float
    high_at: float
    low: float
    high: float
    drop: float
    top_of_footing: float

    @property
    def length(self) -> float:
        """Length of pipe. [m]"""
        return abs(self.high_at - self.low_at)


@dataclass(frozen=True)
class Drain:
    """The footing drain round one part.

    Attributes
    ----------
    part : str
        The part.
    corner : str
        Low corner, from which it runs out.
    invert : float
        Its invert there. [m]
    high_line : str
        Wall line of the high point, from which it falls both ways.
    high_at : float
        Station of it. [m]
    high : float
        Invert of it. [m]
    pipes : tuple of DrainPipe
        From the low corner one way up to the high point, and from there down the other way.
    """

    part: str
    corner: str
    invert: float
    high_line: str
    high_at: float
    high: float
    pipes: tuple[DrainPipe, ...]


def drains_of(plan: Plan, answer: str) -> tuple[Drain, ...]:
    """Footing drains of the parts that are dug out.

    From the low corner the pipe rises both ways at its fall along the foot of each run; at a footing step it goes up
    with the footing. The high point is where both ways meet at one invert.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of Drain
        One for each basement or crawl space with a wall all round.
    """
    return tuple(
        _drain(plan, answer, part) for part in plan.project.parts if part.use in DUG_OUT and part.ring
    )


def _drain(plan: Plan, answer: str, part: Part) -> Drain:
    names = [line.wall.name for line in plan.lines if line.wall.part == part.name]
    runs = [run for name in names for run in plan.stepping(answer).runs if run.line == name]
    lowest = min(run.bottom for run in runs)
    corners = {}
    for number, run in enumerate(runs):
        wall = plan.line(run.line).wall
        touching = min(run.bottom, runs[number - 1].bottom)
        if run.start < FIT and touching < lowest + FIT:
            grade = plan.corner_grades[wall.start]
            counted = grade.finished if np.isfinite(grade.finished) else grade.existing
            corners[wall.start] = (counted, number)
    # Where the lowest run ends at steps on both sides it is taken out at its first station.
    corner = min(corners, key=lambda name: corners[name]) if corners else plan.line(runs[0].line).wall.start
    first = corners[corner][1] if corners else min(range(len(runs)), key=lambda number: runs[number].bottom)
    runs = runs[first:] + runs[:first]
    typed = plan.project.surroundings.drain_invert if part is _lowest_part(plan, answer) else None
    invert = typed if typed is not None else lowest + STONE_UNDER
    onward = _climb(runs, invert)
    back = list(reversed(_climb(list(reversed(runs)), invert)))
    for number, run in enumerate(runs):
        long = run.end - run.start
        if onward[number] + long * FALL >= back[number] - FIT or number == len(runs) - 1:
            share = (back[number] - onward[number]) / FALL
            meet = float(np.clip((share + long) / 2, 0.0, long))
            break
    high = max(onward[number] + meet * FALL, back[number] + (long - meet) * FALL)
    pipes = [_pipe(runs[i], onward[i], 0.0, None) for i in range(number)]
    pipes.append(_pipe(runs[number], onward[number], 0.0, meet))
    pipes.append(_pipe(runs[number], back[number], long, meet))
    pipes += [
        _pipe(runs[i], back[i], runs[i].end - runs[i].start, None) for i in range(number + 1, len(runs))
    ]
    pipes = [pipe for pipe in pipes if pipe.length > FIT]
    return Drain(
        part.name, corner, invert, runs[number].line, runs[number].start + meet, high, _with_drops(pipes)
    )


def _lowest_part(plan: Plan, answer: str) -> Part:
    """The dug-out part whose footing goes deepest: the typed invert is its low corner's."""
    bottoms = plan.stepping(answer).bottoms
    depth = {
        part.name: min(
            float(bottoms[line.wall.name].min()) for line in plan.lines if line.wall.part == part.name
        )
        for part in plan.project.parts
        if part.use in DUG_OUT and part.ring
    }
    return part_of(plan.project, min(depth, key=lambda name: depth[name]))


def _climb(runs: Sequence[Run], invert: float) -> list[float]:
    """Invert at the lower end of each run, going up from the first; as far over the bottom of footing as there."""
    over = float(np.clip(invert - runs[0].bottom, 0.0, STONE_UNDER))
    found, level = [], invert
    for number, run in enumerate(runs):
        level = max(level, run.bottom + over) if number else level
        found.append(level)
        level += (run.end - run.start) * FALL
    return found


def _pipe(run: Run, low: float, low_at: float, meet: float | None) -> DrainPipe:
    """Pipe along a run from its lower end to its other one, or to the high point."""
    long = run.end - run.start
    high_at = (long - low_at) if meet is None else meet
    high = low + abs(high_at - low_at) * FALL
    return DrainPipe(run.line, run.start + low_at, run.start + high_at, low, high, 0.0, run.top)


def _with_drops(pipes: Sequence[DrainPipe]) -> tuple[DrainPipe, ...]:
    """The pipes with what each falls at its lower end."""
    found = []
    for number, pipe in enumerate(pipes):
        # Before the high point the lower neighbour is the one before, after it the one behind.
        neighbours = [
            p for p in (pipes[number - 1] if number else None, pipes[(number + 1) % len(pipes)]) if p
        ]
        lower = [p for p in neighbours if p is not pipe and p.high <= pipe.low + FIT]
        drop = min((pipe.low - p.high for p in lower), default=0.0)
        found.append(
            DrainPipe(
                pipe.line,
                pipe.low_at,
                pipe.high_at,
                pipe.low,
                pipe.high,
                drop if drop > 1e-4 else 0.0,
                pipe.top_of_footing,
            )
        )
    return tuple(found)


def drain_items(plan: Plan, answer: str, words: Words) -> tuple[list[Drawn], list[str]]:
    """Pipe, stone round it, and damp-proofing.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    words : Words
        The reader's units.

    Returns
    -------
    items : list of Drawn
        What is ordered; none where nothing is dug out.
    notes : list of str
        What is not known of the outlet.
    """
    around, notes = plan.project.surroundings, []
    pipes, stone = [], []
    drains = drains_of(plan, answer)
    for drain in drains:
        for pipe in drain.pipes:
            where = words.span(pipe.line, *sorted((pipe.low_at, pipe.high_at)))
            step = f", then down {words.size(pipe.drop)} at a step" if pipe.drop else ""
            formula = f"invert {words.level(pipe.high)} down to {words.level(pipe.low)}{step}"
            pipes.append(Piece(where, formula, pipe.length))
            thick = plan.line(pipe.line).wall.footing_thickness
            area = stone_round_drain(thick, PIPE)
            stone.append(
                Piece(where, f"{words.length(pipe.length)} × {words.of(area, AREA)}", pipe.length * area)
            )
    if not drains:
        return [], []
    if around.drain_length is not None:
        out = f"invert {words.level(drains[0].invert)}" + (
            f" down to {words.level(around.drain_outlet)}" if around.drain_outlet is not None else ""
        )
        pipes.append(Piece(f"corner {drains[0].corner} to daylight", out, around.drain_length))
    else:
        notes.append("Nobody told how far the footing drain runs to daylight: that pipe is not counted.")
    total = sum(piece.quantity for piece in pieces) if (pieces := by_name(pipes)) else 0.0
    order, waste = whole_up(total, STICK), plan.project.waste.stone
    stones = sum(piece.quantity for piece in stone) * (1 + waste)
    formula = (
        f"round the footing, falling 1 in 96 (1/8 in/ft) both ways from the high point at {drains[0].high_line} "
        + (f"{words.length(drains[0].high_at)}")
    )
    return [
        Drawn(
            "drain-pipe",
            "drain",
            "",
            "footing drain",
            LENGTH,
            order,
            f"{order / STICK:.0f} pipes of {words.length(STICK)}",
            formula,
            pieces,
            "drain",
        ),
        Drawn(
            "stone-drain",
            "drain",
            "",
            "clean stone round the drain",
            VOLUME,
            stones,
            words.of(stones, VOLUME),
            f"1 ft wide, 2 in under the footing to 6 in over its top, less the pipe; {waste:.0%} waste",
            tuple(stone),
            "stone",
        ),
        *_damp_proofing(plan, answer, words),
    ], notes


def _damp_proofing(plan: Plan, answer: str, words: Words) -> list[Drawn]:
    walls = plan.walls[answer]
    bare = {each.line: each.area for each in walls.bare}
    fills = {fill.line: fill for fill in walls.fills}
    pieces = []
    for line in plan.lines:
        wall = line.wall
        if part_of(plan.project, wall.part).use not in DUG_OUT:
            continue
        own = [piece for piece in walls.pieces if piece.line == wall.name]
        if wall.name in bare:
            holes = [hole for hole in walls.openings if hole.line == wall.name and hole.kind != "sleeve"]
            whole = face_area(own, holes)
            formula = f"{words.of(whole, AREA)} of wall, less {words.of(bare[wall.name], AREA)} that shows"
            area = whole - bare[wall.name]
        elif wall.name in fills:
            soil = float(fills[wall.name].outside[0])
            area = sum((p.end - p.start) * max(0.0, min(p.top, soil) - p.bottom) for p in own)
            formula = f"{words.length(wall.length)} up to the fill at {words.level(soil)}"
        else:
            continue
        pieces.append(Piece(wall.name, formula, area))
    kept = by_name(pieces)
    total = sum(piece.quantity for piece in kept)
    if total < FIT:
        return []
    return [
        Drawn(
            "damp-proofing",
            "drain",
            "",
            "damp-proofing below grade",
            AREA,
            total,
            words.of(total, AREA),
            "walls of dug-out parts from the footing's top to finished grade",
            kept,
            "dampproofing",
        )
    ]
