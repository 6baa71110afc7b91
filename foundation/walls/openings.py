"""Openings: what each does to the concrete, and what is wrong with one."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from foundation.model.concrete import Opening
from foundation.model.problem import Problem
from foundation.model.walls import WallLine

SLACK = 0.0254 / 16
"""Sides and levels that miss by less than the smallest length anyone types still meet. [m]"""
SHOWS_THROUGH = ("door", "window", "overhead door")
"""Openings in which no concrete shows."""
THROUGH = (*SHOWS_THROUGH, "sleeve")
"""Openings that go through the wall; a beam pocket is a notch whose depth nobody has told."""


def lowers_wall(opening: Opening, top: float) -> bool:
    """Whether the wall is lowered under an opening, and ends there.

    Parameters
    ----------
    opening : Opening
        The opening.
    top : float
        Top of the concrete beside it. [m]

    Returns
    -------
    bool
        True for an overhead door that reaches the top of the concrete or beyond; one that the wall goes on over is
        a hole.
    """
    return opening.kind == "overhead door" and opening.bottom < top - SLACK and opening.top > top - SLACK


def check_top(opening: Opening, place: str, wall: WallLine, say: Callable[[float], str]) -> list[Problem]:
    """What is wrong with an opening against the top of its wall.

    Parameters
    ----------
    opening : Opening
        The opening.
    place : str
        Its path in the project file, such as ``openings[1]``.
    wall : WallLine
        The wall line it is in.
    say : callable
        A length or a level [m] as the reader writes it.

    Returns
    -------
    list of Problem
        A pocket or sleeve that is not in the wall is fatal. A door or window that stands above the concrete is only
        told: it may be in the framed wall.
    """
    value = say(opening.bottom)
    top = say(wall.wall_top)
    if opening.bottom > wall.wall_top - SLACK:
        built_in = opening.kind in ("beam pocket", "sleeve")
        end = "give it a lower level." if built_in else "it takes nothing out of the concrete."
        sentence = f"{_named(opening)} begins at {value}, the top of wall is {top}: {end}"
        return [Problem(f"{place}.bottom", value, sentence, fatal=built_in)]
    if opening.kind == "sleeve" and opening.top > wall.wall_top + SLACK:
        sentence = f"{_named(opening)} reaches up to {say(opening.top)}, the top of wall is {top}: lower it."
        return [Problem(f"{place}.height", say(opening.top - opening.bottom), sentence)]
    return []


def check_foot(
    opening: Opening, place: str, footing_top: float, say: Callable[[float], str]
) -> list[Problem]:
    """What is wrong with an opening against the footing under it.

    Parameters
    ----------
    opening : Opening
        The opening.
    place : str
        Its path in the project file, such as ``openings[1]``.
    footing_top : float
        Highest top of footing under it. [m]
    say : callable
        A length or a level [m] as the reader writes it.

    Returns
    -------
    list of Problem
        Fatal where it begins below the top of footing; a sleeve may, through the footing or under it.
    """
    if opening.kind == "sleeve" or opening.bottom > footing_top - SLACK:
        return []
    value = say(opening.bottom)
    sentence = (
        f"{_named(opening)} begins at {value}, the top of footing there is {say(footing_top)}: raise it, "
        "or lower the footing."
    )
    return [Problem(f"{place}.bottom", value, sentence)]


def _named(opening: Opening) -> str:
    return f"{opening.kind.capitalize()} {opening.name} in wall {opening.line}"


def check_overlaps(openings: Sequence[Opening], places: Sequence[str]) -> list[Problem]:
    """Openings that overlap each other.

    Parameters
    ----------
    openings : sequence of Opening
        The openings.
    places : sequence of str
        Their paths in the project file, such as ``openings[1]``.

    Returns
    -------
    list of Problem
        One for each pair, at the later one. Openings that share an edge do not overlap.
    """
    found = []
    for number, later in enumerate(openings):
        for earlier in openings[:number]:
            if earlier.line == later.line and _overlap(earlier, later):
                found.append(
                    Problem(
                        f"{places[number]}.start",
                        later.name,
                        f"{_named(later)} overlaps {earlier.kind} {earlier.name}: "
                        "move one, or type them as one opening.",
                    )
                )
    return found


def _overlap(first: Opening, second: Opening) -> bool:
    along = min(first.end, second.end) - max(first.start, second.start)
    up = min(first.top, second.top) - max(first.bottom, second.bottom)
    return along > SLACK and up > SLACK
