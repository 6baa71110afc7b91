"""The concrete on a profile: footing, wall, form panels, openings, slab, ledges, and the other answer's footing."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation.drawings.developed import Developed, footing_edges, runs_of
from foundation.drawings.scene import Handle, joined
from foundation.drawings.sheet import Note, Sheet
from foundation.model.concrete import Opening, TopOfWall
from foundation.model.walls import FootingLine, Stepping
from foundation.plan.lines import slab_top

Array = NDArray[np.float64]

HANDLE = 10.0
"""Width of what drags a step. [px]"""


def draw_concrete(sheet: Sheet, view: Developed, line: FootingLine) -> None:
    """Draw the wall with its panels, and the footing with its legs under it.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.
    line : FootingLine
        Which of them.
    """
    at = np.array([view.start(line.wall.name), 0.0])
    bottom, top = footing_edges(runs_of(view.stepping, [line.wall.name]), leg_of(view, line))
    edge = [point for start, end, level in view.tops(line) for point in ((start, level), (end, level))]
    sheet.area("wall", np.vstack([np.array(edge), top[::-1]]) + at, f"wall {line.wall.name}")
    joints = panel_joints(view, line, top)
    if joints:
        sheet.line("panel", joined([joint + at for joint in joints]), "joints of form panels")
    sheet.area("footing", np.vstack([bottom, top[::-1]]) + at, "footing")


def leg_of(view: Developed, line: FootingLine) -> float:
    """Thickness of the vertical leg of a step.

    Parameters
    ----------
    view : Developed
        The walls.
    line : FootingLine
        Which of them.

    Returns
    -------
    float
        As the rules say, else the footing's own. [m]
    """
    return view.plan.rules.leg or line.wall.footing_thickness


def panel_joints(view: Developed, line: FootingLine, top: Array) -> list[Array]:
    """Joints between the form panels of one line.

    Parameters
    ----------
    view : Developed
        The walls.
    line : FootingLine
        Which of them.
    top : ndarray, shape (n, 2)
        Station and level along the top of footing; a joint never runs through a leg. [m]

    Returns
    -------
    list of ndarray, each of shape (2, 2)
        Ends of each joint: station and level. [m]
    """
    if view.walls is None:
        return []
    widths = [
        width for row in view.walls.rows if row.line == line.wall.name for width in np.cumsum(row.widths)
    ]
    stations, levels = top[:, 0], top[:, 1]
    found = []
    for piece in view.walls.pieces:
        if piece.line != line.wall.name:
            continue
        for width in widths:
            if piece.start + 1e-6 < width < piece.end - 1e-6:
                # At a leg two levels meet: the joint stands on the higher.
                under = levels[np.abs(stations - width) < 1e-6]
                foot = max(float(np.interp(width, stations, levels)), piece.bottom, *under.tolist())
                found.append(np.array([[width, foot], [width, piece.top]]))
        for level in piece.bottom + np.cumsum(piece.panels):
            if level >= piece.top - 1e-6:
                continue
            free = stations[(levels <= level + 1e-6) & (stations >= piece.start) & (stations <= piece.end)]
            ends = (float(free.min()), float(free.max())) if len(free) > 1 else (piece.start, piece.end)
            found.append(np.array([[ends[0], level], [ends[1], level]]))
        if piece.end < line.wall.length - 1e-6:
            foot = max(piece.bottom, float(levels[np.abs(stations - piece.end) < 1e-6].max(initial=-np.inf)))
            if foot < piece.top:
                found.append(np.array([[piece.end, foot], [piece.end, piece.top]]))
    return found


def draw_on_wall(sheet: Sheet, view: Developed, line: FootingLine) -> tuple[list[Note], list[Note]]:
    """Draw what lies in a wall or on it: framed wall over a drop, openings, slab, ledges.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.
    line : FootingLine
        Which of them.

    Returns
    -------
    tuple of list of Note
        What wants to be said above the walls, and below them.
    """
    x = view.start(line.wall.name)
    above, below = [], []
    if view.walls is not None:
        for drop in (top for top in view.walls.tops if top.line == line.wall.name):
            stretch = dropped(drop)
            if stretch is None:
                continue
            start, end = x + stretch[0], x + stretch[1]
            sheet.line(
                "framed",
                [(start, drop.low_top), (start, drop.full_top), (end, drop.full_top), (end, drop.low_top)],
                "framed wall",
            )
            words = (
                f"top drops {sheet.level(drop.full_top - drop.low_top)} from {sheet.level(stretch[0])} "
                f"to {sheet.level(stretch[1])} from {line.wall.start}"
            )
            below.append(Note("framed", words, ((start + end) / 2, drop.low_top)))
        for opening in (opening for opening in view.walls.openings if opening.line == line.wall.name):
            draw_opening(sheet, opening, x + opening.start, x + opening.end)
            target = (x + (opening.start + opening.end) / 2, opening.top)
            above.append(Note("opening", opening_text(sheet, opening), target))
        for ledge in (ledge for ledge in view.walls.ledges if ledge.line == line.wall.name):
            name = "veneer shelf" if ledge.veneer else "ledge"
            sheet.line("ledge", [(x, ledge.level), (x + line.wall.length, ledge.level)], name)
    slab = slab_of(view, line)
    if slab is not None:
        sheet.line("slab", [(x, slab), (x + line.wall.length, slab)], "top of slab inside")
    return above, below


def dropped(top: TopOfWall) -> tuple[float, float] | None:
    """Between which stations the concrete stops at its low top.

    Parameters
    ----------
    top : TopOfWall
        The line's tops.

    Returns
    -------
    tuple of float or None
        From and to [m]; None where it drops nowhere.
    """
    if top.drop_from is None or top.drop_to is None or top.drop_to - top.drop_from < 1e-6:
        return None
    return top.drop_from, top.drop_to


def draw_opening(sheet: Sheet, opening: Opening, start: float, end: float) -> None:
    """Draw an opening.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    opening : Opening
        The opening.
    start, end : float
        Where its sides stand on the drawing. [m]
    """
    left, right = min(start, end), max(start, end)
    corners = [
        (left, opening.bottom),
        (right, opening.bottom),
        (right, opening.top),
        (left, opening.top),
    ]
    sheet.area("opening", corners, opening.name)


def opening_text(sheet: Sheet, opening: Opening) -> str:
    """Name and size of an opening.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    opening : Opening
        The opening.

    Returns
    -------
    str
        Such as ``garage door 16'-0" × 8'-0"``.
    """
    name = " ".join(opening.name.split())
    name = f"{name[:23]}…" if len(name) > 24 else name
    size = f"{sheet.level(opening.end - opening.start)} × {sheet.level(opening.top - opening.bottom)}"
    return f"{name} {size}"


def slab_of(view: Developed, line: FootingLine) -> float | None:
    """Level of the slab inside a wall.

    Parameters
    ----------
    view : Developed
        The walls.
    line : FootingLine
        Which of them.

    Returns
    -------
    float or None
        Top of slab [m]; None for a wall with no floor of its own.
    """
    part = next(part for part in view.plan.project.parts if part.name == line.wall.part)
    return None if part.use in ("interior wall", "porch") else slab_top(view.plan.project, part)


def draw_other(sheet: Sheet, view: Developed, line: FootingLine, other: Stepping) -> None:
    """Draw the footing of another answer in the place of this one.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.
    line : FootingLine
        Which of them.
    other : Stepping
        The other answer.
    """
    bottom, top = footing_edges(runs_of(other, [line.wall.name]), leg_of(view, line))
    shape = np.vstack([bottom, top[::-1], bottom[:1]]) + np.array([view.start(line.wall.name), 0.0])
    sheet.line("compare", shape, f"footing, {other.name}")


def draw_handles(sheet: Sheet, view: Developed) -> None:
    """Put a handle on each step, to be dragged along the wall.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.
    """
    half = sheet.along(HANDLE / 2)
    for step in view.stepping.steps:
        if step.line not in view.names:
            continue
        x = view.start(step.line) + step.station
        thickness = view.plan.line(step.line).wall.footing_thickness
        low, high = min(step.before, step.after), max(step.before, step.after) + thickness
        name = f"step|{step.line}|{step.station:.4f}"
        sheet.handles.append(Handle(name, x - half, x + half, low, high))
