"""The profile of walls, long way: grades, frost line, stepped footing, wall, and what binds each run."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from foundation import units
from foundation.drawings.developed import Developed, developed
from foundation.drawings.labels import REFERENCE, SIZE, text_width
from foundation.drawings.profile_concrete import (
    draw_concrete,
    draw_handles,
    draw_on_wall,
    draw_other,
    slab_of,
)
from foundation.drawings.profile_ground import draw_ground, draw_pointer
from foundation.drawings.scene import Label, Point, Scene
from foundation.drawings.sheet import RIGHT_ROOM, Note, Sheet
from foundation.model.walls import Run, Stepping
from foundation.plan import Plan, ScheduleRow
from foundation.plan.footings import DIG, FROST, UNDISTURBED


def profile_scene(
    plan: Plan,
    stepping: Stepping,
    names: Sequence[str],
    width: float = 960.0,
    stretch: float = 1.0,
    lit: tuple[str, float] | None = None,
    beside: Stepping | None = None,
) -> Scene:
    """Developed profile of one or more wall lines that follow each other.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer to draw.
    names : sequence of str
        Wall lines from left to right.
    width : float
        Width of the drawing. [px]
    stretch : float
        Vertical scale over horizontal; 1 is true shape. [-]
    lit : tuple of str and float, or None
        Wall line and station [m] of a place to light up.
    beside : Stepping or None
        Another answer, whose footing is drawn over this one's as a thin outline.

    Returns
    -------
    Scene
        The drawing; its labels lie clear of each other at that width.
    """
    view = developed(plan, stepping, names)
    low, high = extent(view, beside)
    sheet = Sheet(plan.project.units, view.length, low, high, width, stretch)
    for line in view.lines:
        draw_concrete(sheet, view, line)
    above: list[Note] = []
    below: list[Note] = []
    short: list[Note] = []
    for line in view.lines:
        short += draw_ground(sheet, view, line)
        on_wall = draw_on_wall(sheet, view, line)
        above, below = above + on_wall[0], below + on_wall[1]
        if beside is not None:
            draw_other(sheet, view, line, beside)
        draw_pointer(sheet, view, line)
    if lit is not None and lit[0] in view.names:
        x = view.start(lit[0]) + lit[1]
        sheet.line("chosen", [(x, low), (x, high)], f"{sheet.level(lit[1])} on {lit[0]}")
    draw_handles(sheet, view)
    sheet.beside(names_left(view, beside), right=False)
    sheet.beside(flags_right(sheet, view), right=True)
    base = sheet.clear()
    base = sheet.rows(corners_below(view, low), base)
    base = sheet.rows(steps_below(sheet, view), base)
    base = sheet.rows(binds_below(view), base)
    base = sheet.rows(below, base)
    caption = f"stations from the named corner, {REFERENCE}"
    sheet.labels.append(Label("note", caption, (0.0, base), "left", SIZE))
    over = sheet.clear(upward=True)
    over = sheet.rows(heights_above(sheet, view), over, upward=True, leaders=False)
    over = sheet.rows(above, over, upward=True)
    over = sheet.rows(short, over, upward=True)
    sheet.labels.append(Label("note", "wall height on the footing", (0.0, over), "left", SIZE))
    title = title_of(sheet, view)
    return sheet.scene(title, summary_of(sheet, view, title), base, over)


def extent(view: Developed, beside: Stepping | None) -> tuple[float, float]:
    """Lowest and highest level of what is drawn.

    Parameters
    ----------
    view : Developed
        The walls.
    beside : Stepping or None
        Another answer that is drawn too.

    Returns
    -------
    tuple of float
        The two. [m]
    """
    levels = [run.bottom for run in view.runs]
    for line in view.lines:
        levels.append(line.wall.wall_top)
        for values in (line.existing, line.finished, line.frost_line):
            levels += values[np.isfinite(values)].tolist()
        levels += [level for _, _, level in view.tops(line)]
        slab = slab_of(view, line)
        levels += [slab] if slab is not None else []
        levels += beside.bottoms[line.wall.name].tolist() if beside is not None else []
    if view.walls is not None:
        for opening in view.walls.openings:
            levels += [opening.bottom, opening.top] if opening.line in view.names else []
        levels += [ledge.level for ledge in view.walls.ledges if ledge.line in view.names]
    return min(levels), max(levels)


def title_of(sheet: Sheet, view: Developed) -> str:
    """What the profile shows, as a finding.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.

    Returns
    -------
    str
        Corners, number of steps, and the lowest footing.
    """
    steps = [step for step in view.stepping.steps if step.line in view.names]
    count = "no step" if not steps else f"{len(steps)} step{'s' if len(steps) > 1 else ''}"
    lowest = sheet.level(min(run.bottom for run in view.runs))
    ends = f"{view.lines[0].wall.start} to {view.lines[-1].wall.end}"
    return f"{ends}: {count}, lowest bottom of footing {lowest}"


def summary_of(sheet: Sheet, view: Developed, title: str) -> str:
    """The profile in words, for those who cannot see it.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.
    title : str
        Its title.

    Returns
    -------
    str
        The title, and the level of each run.
    """
    parts = [
        f"{run.line} from {sheet.level(run.start)} to {sheet.level(run.end)}: "
        f"bottom of footing {sheet.level(run.bottom)}"
        for run in view.runs
    ]
    return f"Profile, {title}. " + ". ".join(parts) + "."


def names_left(view: Developed, beside: Stepping | None) -> list[Note]:
    """Names of the lines that begin at the left edge.

    Parameters
    ----------
    view : Developed
        The walls.
    beside : Stepping or None
        Another answer that is drawn too.

    Returns
    -------
    list of Note
        Each with the level where its line begins.
    """
    line = view.lines[0]
    wanted = [("wall", "top of wall", view.tops(line)[0][2])]
    for layer, values, name in (
        ("finished-grade", line.finished, "finished grade"),
        ("existing-grade", line.existing, "existing grade"),
        ("frost-line", line.frost_line, "frost line"),
    ):
        if np.isfinite(values[0]):
            wanted.append((layer, name, float(values[0])))
    slab = slab_of(view, line)
    if slab is not None:
        wanted.append(("slab", "slab inside", slab))
    if beside is not None:
        wanted.append(("compare", beside.name, float(beside.bottoms[line.wall.name][0])))
    return [Note(layer, name, (0.0, level)) for layer, name, level in wanted]


def flags_right(sheet: Sheet, view: Developed) -> list[Note]:
    """Levels at the right edge, each with a thin line to it; the crew's notation first.

    Parameters
    ----------
    sheet : Sheet
        The drawing, on which the thin lines are drawn.
    view : Developed
        The walls.

    Returns
    -------
    list of Note
        Bottoms of footing first, then top of wall, slab and ledge.
    """
    # Level, rounded so that equal ones meet → how far right it reaches, and its words.
    found: dict[tuple[float, str], float] = {}

    def reach(level: float, name: str, x: float) -> None:
        key = (round(level, 6), name)
        found[key] = max(found.get(key, 0.0), x)

    for run in view.runs:
        reach(run.bottom, "", view.start(run.line) + run.end)
    for line in view.lines:
        start, end = view.start(line.wall.name), view.start(line.wall.name) + line.wall.length
        for _, to, level in view.tops(line):
            reach(level, "top of wall ", start + to)
        slab = slab_of(view, line)
        if slab is not None:
            reach(slab, "slab ", end)
    if view.walls is not None:
        for ledge in view.walls.ledges:
            if ledge.line in view.names:
                x = view.start(ledge.line) + view.plan.line(ledge.line).wall.length
                reach(ledge.level, "veneer shelf " if ledge.veneer else "ledge ", x)
    # Decimal feet stand beside all the bottoms, or, where one has no room for them, beside none: no level is ever cut.
    decimals = {
        level: f"{sheet.level(level)} ({units.decimal_feet(level)})" for level, name in found if not name
    }
    fit = all(text_width(text, SIZE, strong=True) <= RIGHT_ROOM for text in decimals.values())
    notes = []
    for (level, name), x in found.items():
        text = f"{name}{sheet.level(level)}"
        if not name and sheet.system == "us" and fit:
            text = decimals[level]
        if x < view.length - 1e-6:
            sheet.line("level", [(x, level), (view.length, level)], f"level of {name.strip() or 'footing'}")
        notes.append(Note("level", text, (view.length, level), strong=not name))
    return notes


def heights_above(sheet: Sheet, view: Developed) -> list[Note]:
    """Wall heights, and the panels that make them where one wall is shown.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.

    Returns
    -------
    list of Note
        One for each stretch of one height.
    """
    pieces = view.walls.pieces if view.walls is not None else ()
    notes = []
    for line in view.lines:
        x = view.start(line.wall.name)
        own = [piece for piece in pieces if piece.line == line.wall.name]
        for piece in own:
            parts = [sheet.level(panel) for panel in piece.panels]
            parts += [f"{sheet.level(piece.filler)} filler"] if piece.filler > 1e-6 else []
            text = sheet.level(piece.top - piece.bottom)
            if len(parts) > 1 and len(view.lines) == 1:
                text += f" = {' + '.join(parts)}"
            notes.append(Note("wall", text, (x + (piece.start + piece.end) / 2, piece.top)))
        for row in view.plan.schedules[view.stepping.name] if not own else ():
            if row.line == line.wall.name:
                target = (x + (row.start + row.end) / 2, line.wall.wall_top)
                notes.append(Note("wall", sheet.level(row.wall_height), target))
    return notes


def corners_below(view: Developed, low: float) -> list[Note]:
    """Names of the corners.

    Parameters
    ----------
    view : Developed
        The walls.
    low : float
        Lowest level of the drawing. [m]

    Returns
    -------
    list of Note
        From left to right.
    """
    names = [line.wall.start for line in view.lines] + [view.lines[-1].wall.end]
    places: list[Point] = [(float(x), low) for x in view.offset]
    return [Note("corner", name, at, True) for name, at in zip(names, places, strict=True)]


def steps_below(sheet: Sheet, view: Developed) -> list[Note]:
    """Number and station of each step.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.

    Returns
    -------
    list of Note
        In the order of the steps.
    """
    return [
        Note(
            "step",
            f"step {step.number}: {sheet.level(step.station)} from {view.plan.line(step.line).wall.start}",
            (view.start(step.line) + step.station, min(step.before, step.after)),
            True,
        )
        for step in view.stepping.steps
        if step.line in view.names
    ]


def binds_below(view: Developed) -> list[Note]:
    """What keeps each run from being higher.

    Parameters
    ----------
    view : Developed
        The walls.

    Returns
    -------
    list of Note
        One for each run.
    """
    return [
        Note(
            "note",
            binding_text(run, view.plan.project.units),
            (view.start(run.line) + (run.start + run.end) / 2, run.bottom),
        )
        for run in view.runs
    ]


BITES_AT_A_STATION = (FROST, UNDISTURBED, DIG)
"""Limits that change along a wall; the others hold all along it."""


def binding_text(reached: Run | ScheduleRow, system: str) -> str:
    """What keeps a run from being higher, in words.

    Parameters
    ----------
    reached : Run or ScheduleRow
        The run.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``frost at 31'-4"``.
    """
    if reached.binds in BITES_AT_A_STATION:
        return f"{reached.binds} at {units.length(reached.binds_at, system)}"
    return reached.binds
