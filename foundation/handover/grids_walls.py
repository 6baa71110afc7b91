"""Steps, walls, and the check distances between corners, as tables."""

from __future__ import annotations

from collections.abc import Mapping

from foundation import units
from foundation.handover.grid import Cell, Column, Formula, Grid, shown
from foundation.plan import Plan


def steps_grid(plan: Plan, answer: str) -> Grid:
    """The steps of an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    Grid
        The table.
    """
    system = plan.project.units
    length, volume = shown("length", system), shown("volume", system)
    grid = Grid(
        "steps",
        f"steps of the footings, {answer}",
        (
            Column("number", "step", "-", "whole", 8),
            Column("line", "wall", width=8),
            Column("station", "from its first corner", length.unit, "length", 14),
            Column("from_end", "from its second corner", length.unit, "length", 14),
            Column("before", "bottom before it", length.unit, "length", 14),
            Column("after", "bottom after it", length.unit, "length", 14),
            Column("rise", "rise", length.unit, "length"),
            Column("run_before", "run before it", length.unit, "length"),
            Column("run_after", "run after it", length.unit, "length"),
            Column("concrete", "concrete of its leg", volume.unit, "volume"),
        ),
    )
    for step in plan.stepping(answer).steps:
        lengths = ("station", "from_end", "before", "after", "rise", "run_before", "run_after")
        grid.add(
            {
                "number": step.number,
                "line": step.line,
                "concrete": volume.of(step.concrete),
                **{key: length.of(getattr(step, key)) for key in lengths},
            }
        )
    return grid


def walls_grid(plan: Plan, answer: str) -> Grid:
    """Stretches of wall of one height, with the panels that stack up in them.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    Grid
        The table.
    """
    system = plan.project.units
    length = shown("length", system)
    grid = Grid(
        "walls",
        f"walls on the footings, {answer}",
        (
            Column("line", "wall", width=8),
            Column("start", "from", length.unit, "length"),
            Column("end", "to", length.unit, "length"),
            Column("bottom", "top of footing", length.unit, "length"),
            Column("top", "top of concrete", length.unit, "length"),
            Column("height", "height", length.unit, "length"),
            Column("thickness", "thickness", length.unit, "length"),
            Column("panels", "panels, lowest first", width=26),
            Column("filler", "filler", length.unit, "length"),
            Column("over", "panels over the pour line", length.unit, "length", 14),
        ),
    )
    for piece in plan.walls[answer].pieces:
        row = grid.next_row
        bottom, top = length.of(piece.bottom), length.of(piece.top)
        grid.add(
            {
                "line": piece.line,
                "start": length.of(piece.start),
                "end": length.of(piece.end),
                "bottom": bottom,
                "top": top,
                "height": Formula(f"={grid.at('top', row)}-{grid.at('bottom', row)}", top - bottom),
                "thickness": length.of(piece.thickness),
                "panels": " + ".join(units.length(panel, system) for panel in piece.panels),
                "filler": length.of(piece.filler),
                "over": length.of(piece.over),
            }
        )
    return grid


def diagonals_grid(plan: Plan, numbers: Mapping[str, int]) -> Grid:
    """Check distances, with the numbers of their ends among the points.

    Parameters
    ----------
    plan : Plan
        The plan.
    numbers : mapping of str to int
        Number of the point at each corner. [-]

    Returns
    -------
    Grid
        The table.
    """
    system = plan.project.units
    length = shown("length", system)
    words = [Column("words", "distance", "ft-in", width=14)] if system == "us" else []
    grid = Grid(
        "diagonals",
        "check distances between corners",
        (
            Column("part", "part", width=20),
            Column("start", "from"),
            Column("end", "to"),
            Column("start_point", "from point", "-", "whole"),
            Column("end_point", "to point", "-", "whole"),
            Column("length", "distance", length.unit, "length"),
            *words,
        ),
    )
    for each in plan.diagonals:
        cells: dict[str, Cell] = {
            "part": each.part,
            "start": each.start,
            "end": each.end,
            "start_point": numbers.get(each.start),
            "end_point": numbers.get(each.end),
            "length": length.of(each.length),
        }
        grid.add(cells | ({"words": units.feet_inches(each.length)} if system == "us" else {}))
    return grid
