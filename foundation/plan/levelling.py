"""Marks and instrument of a project, and its levels as the crew reads them."""

from __future__ import annotations

from foundation.model.ground import Mark
from foundation.model.levels import LevelBook, Reading, SetUp
from foundation.project import Project
from foundation.site.levels import Sight, below_benchmark, closure, level_loop, rod_reading


def level_book(project: Project) -> LevelBook:
    """Marks and today's set-ups.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    LevelBook
        Without a benchmark its name is empty and levels are below zero of the survey.
    """
    typed = project.levels
    marks = typed.marks
    set_ups: list[SetUp] = []
    difference = None
    if marks and typed.backsight is not None:
        first = Mark(marks[0].name, marks[0].elevation)
        sights = [Sight(first.name, backsight=typed.backsight)]
        sights += [
            Sight(f"turning point {n}", turn.foresight, turn.backsight)
            for n, turn in enumerate(typed.turns, 1)
        ]
        rows = level_loop(first, sights)
        set_ups = [SetUp(f"set-up {n}", row.instrument) for n, row in enumerate(rows, 1)]
        if len(marks) > 1 and typed.check_foresight is not None:
            carried = rows[0].instrument - typed.check_foresight
            difference = closure(carried, marks[1].elevation, typed.allowed_closure).difference
    return LevelBook(
        benchmark=marks[0].name if marks else "",
        benchmark_level=marks[0].elevation if marks else 0.0,
        second=marks[1].name if len(marks) > 1 else "",
        closure=difference,
        allowed_closure=typed.allowed_closure,
        set_ups=tuple(set_ups),
        longest_rod=typed.longest_rod,
    )


def reading(book: LevelBook, level: float) -> Reading:
    """A level as the crew reads it.

    Parameters
    ----------
    book : LevelBook
        Marks and set-ups.
    level : float
        The level. [m]

    Returns
    -------
    Reading
        The rod is the first set-up's that reads it within the rod's length; the last one's where none does.
    """
    below = below_benchmark(book.benchmark_level, level)
    rods = [(up, rod_reading(up.instrument, level)) for up in book.set_ups]
    fitting = [(up, rod) for up, rod in rods if 0 <= rod <= book.longest_rod]
    if not rods:
        return Reading(level, below, None, "", False)
    set_up, rod = fitting[0] if fitting else rods[-1]
    return Reading(level, below, rod, set_up.name, not fitting)
