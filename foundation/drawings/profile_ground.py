"""The ground on a profile: grades, frost line, short frost cover, and what is said to who points along it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.developed import Developed
from foundation.drawings.scene import Stroke
from foundation.drawings.sheet import Note, Sheet
from foundation.model.walls import FootingLine

Array = NDArray[np.float64]

EARTH = 0.35
"""Depth of the hatched band under finished grade. [m]"""


def draw_ground(sheet: Sheet, view: Developed, line: FootingLine) -> list[Note]:
    """Draw grades, frost line and short cover along one line.

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
    list of Note
        What wants to be said about short frost cover.
    """
    x = view.start(line.wall.name) + line.node
    ok = np.isfinite(line.finished)
    if ok.any():
        grade = np.column_stack([x, line.finished])[ok]
        sheet.area("earth", np.vstack([grade, (grade - [0, EARTH])[::-1]]), "finished ground", edge=False)
        sheet.line("finished-grade", grade, "finished grade")
    for layer, values, name in (
        ("existing-grade", line.existing, "existing grade"),
        ("frost-line", line.frost_line, "frost line"),
    ):
        ok = np.isfinite(values)
        if ok.any():
            sheet.line(layer, np.column_stack([x, values])[ok], name)
    return _short_cover(sheet, view, line)


def _short_cover(sheet: Sheet, view: Developed, line: FootingLine) -> list[Note]:
    cover = view.plan.covers[view.stepping.name].get(line.wall.name)
    if cover is None:
        return []
    notes = []
    depth = view.plan.project.frost.depth
    short = np.nan_to_num(cover.straight_down, nan=np.inf) < depth - 1e-4
    edges = np.flatnonzero(np.diff(np.concatenate([[0], short.astype(int), [0]])))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        x = view.start(line.wall.name) + cover.station[first:last]
        frost = np.interp(cover.station[first:last], line.node, line.frost_line)
        missing = depth - cover.straight_down[first:last]
        text = (
            units.inches(float(missing.max()))
            if sheet.system == "us"
            else units.millimetres(float(missing.max()))
        )
        name = f"frost cover short by {text}"
        band = np.vstack([np.column_stack([x, frost + missing]), np.column_stack([x, frost])[::-1]])
        sheet.area("short-cover", band, name)
        worst = int(missing.argmax())
        notes.append(Note("short-cover", name, (float(x[worst]), float(frost[worst] + missing[worst])), True))
    return notes


POINTED = 0.1524
"""Distance of the places along a footing that can be pointed at: 6 in. [m]"""


def draw_pointer(sheet: Sheet, view: Developed, line: FootingLine) -> None:
    """What the reader is told who points along the footing.

    Parameters
    ----------
    sheet : Sheet
        The drawing.
    view : Developed
        The walls.
    line : FootingLine
        Which of them.
    """
    cover = view.plan.covers[view.stepping.name].get(line.wall.name)
    bottom = view.stepping.bottoms[line.wall.name]
    book = view.plan.level_book
    # At round stations some six inches apart; a step's own station tells of its far side.
    cells = np.arange(0, len(bottom), max(1, round(POINTED / float(np.median(np.diff(line.node))))))
    stations, bottom = line.node[cells], bottom[cells]
    finished, existing = (np.interp(stations, line.node, values) for values in (line.finished, line.existing))
    straight = np.interp(stations, cover.station, cover.straight_down) if cover is not None else None
    hover = []
    for i, station in enumerate(stations):
        text = [f"{sheet.level(station)} from {line.wall.start} on {line.wall.name}"]
        if np.isfinite(finished[i]):
            text.append(f"finished grade {sheet.level(finished[i])}")
        if np.isfinite(existing[i]):
            text.append(f"existing grade {sheet.level(existing[i])}")
        if straight is not None and np.isfinite(straight[i]):
            text.append(f"frost cover {sheet.level(straight[i])}")
        text.append(f"bottom of footing {sheet.level(bottom[i])}")
        if book.benchmark:
            text.append(f"{sheet.level(book.benchmark_level - bottom[i])} below {book.benchmark}")
        hover.append("\n".join(text))
    points = np.column_stack([view.start(line.wall.name) + stations, bottom])
    keys = tuple(f"{line.wall.name}|{station:.4f}" for station in stations)
    sheet.strokes.append(Stroke("pointer", points, line.wall.name, tuple(hover), keys))
