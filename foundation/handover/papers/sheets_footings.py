"""The footing schedule with the profile of each wall, and the rods and steps in big type."""

from __future__ import annotations

from functools import partial
from typing import Any

from foundation import units
from foundation.drawings.labels import REFERENCE
from foundation.drawings.profile import binding_text, profile_scene
from foundation.drawings.scene import Scene
from foundation.drawings.sheet import LEFT, RIGHT
from foundation.handover.papers.blocks import (
    Block,
    Cell,
    Sheet,
    heading,
    paragraph,
    rod_cell,
    short_text,
    table,
)
from foundation.handover.papers.content import Content
from foundation.handover.papers.on_paper import at_one_scale, drawing
from foundation.plan import ScheduleRow

SIZES = ("wall_thickness", "footing_width", "footing_thickness")
BIG: dict[str, Any] = {"size": 1.62, "row": 7.5, "boxed": True}
"""Look of the tables that are read at arm's length."""


def footing_sheet(content: Content) -> Sheet:
    """The footing schedule, and the profile of each wall at one true scale.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    plan, system = content.plan, content.system
    mark = content.assumed("footing_thickness")
    heads = ["Wall", "From", "To", "Bottom of footing", f"Top of footing{mark}", f"Wall height{mark}"]
    heads += ["Least frost cover", *content.level_heads(), "Held down by", "Step at its end"]
    rows: list[list[Cell]] = []
    for row in plan.schedules[content.stepping.name]:
        binds = binding_text(row, system)
        rows.append(
            [
                {"text": row.line, "strong": True},
                content.length(row.start),
                content.length(row.end),
                content.layout(row.bottom.level, strong=True),
                content.length(row.top.level),
                content.length(row.wall_height),
                short_text(row.least_cover, system),
                *content.level_cells(row.bottom),
                binds if binds == row.binds else f"{binds} from {row.line.split('-')[0]}",
                step_text(content, row),
            ]
        )
    scenes = [partial(_profile, content, line.wall.name, line.wall.length) for line in plan.lines]
    pictures = at_one_scale(scenes, content.paper.room, content.pixel, system)
    blocks: list[Block] = [
        paragraph(sizes_text(content)),
        table(heads, rows, right=(1, 2, 4, 5, 6)),
        paragraph(f"Stations from the wall's first-named corner, {REFERENCE}."),
        {"kind": "drawings", "drawings": [drawing(picture, system) for picture in pictures]},
    ]
    return Sheet("footings", "Footings", "How deep, and where does it step?", tuple(blocks))


def _profile(content: Content, name: str, length: float, pixels_per_metre: float) -> Scene:
    width = LEFT + RIGHT + length * pixels_per_metre
    return profile_scene(content.plan, content.stepping, [name], width)


def sizes_text(content: Content) -> str:
    """Sizes of wall and footing of each part, and who gave them.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    str
        A sentence for each part.
    """
    system, told = content.system, []
    size = units.inches if system == "us" else units.millimetres
    for part in content.plan.project.parts:
        by = f"sized by {part.sized_by}" if part.sized_by else "size to confirm: engineer or office"
        told.append(
            f"{part.name}: footing {size(part.footing_width)} × {size(part.footing_thickness)}, "
            f"wall {size(part.wall_thickness)}; {by}."
        )
    rules = content.plan.rules
    return f"{' '.join(told)}{content.assumed(*SIZES)} Step rules: {rules.name}."


def rod_sheet(content: Content) -> Sheet:
    """Rods and steps in type that is read at arm's length.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    plan, system, book = content.plan, content.system, content.book
    heads = ["Wall", "From", "To", "Bottom of footing"]
    heads += [f"Below {book.benchmark}"] if book.benchmark else []
    heads += ["Rod today", "Set-up", "Rod, other day"] if book.benchmark else []
    rows: list[list[Cell]] = []
    for row in plan.schedules[content.stepping.name]:
        cells: list[Cell] = [
            {"text": row.line, "strong": True},
            content.length(row.start),
            content.length(row.end),
            content.layout(row.bottom.level, strong=True),
        ]
        if book.benchmark:
            set_up = row.bottom.set_up.removeprefix("set-up ")
            cells += [content.below(row.bottom), rod_cell(row.bottom, system, False), set_up, ""]
        rows.append(cells)
    widths = [0.75, 1.05, 1.05, 1.9] + ([1.9, 2.0, 0.75, 1.3] if book.benchmark else [])
    steps: list[list[Cell]] = [
        [
            {"text": f"{step.number}", "strong": True},
            step.line,
            {
                "text": f"{content.length(step.station)} from {plan.line(step.line).wall.start}",
                "strong": True,
            },
            f"{content.length(step.from_end)} from {plan.line(step.line).wall.end}",
            {
                "text": f"{'up' if step.after > step.before else 'down'} "
                f"{content.length(abs(step.after - step.before))}",
                "strong": True,
            },
            f"{content.length(step.before)} to {content.length(step.after)}",
        ]
        for step in content.stepping.steps
    ]
    typed = plan.project.levels.backsight
    today = (
        f"Rod today: backsight {content.length(typed)} on {book.benchmark}. "
        f"Another day: rod = that day's backsight + below {book.benchmark}."
        if typed is not None and book.benchmark
        else f"No backsight typed: rod = backsight on {book.benchmark} + below {book.benchmark}; write it in."
        if book.benchmark
        else "No benchmark: levels alone."
    )
    blocks: list[Block] = [
        paragraph(today, size=11),
        table(heads, rows, widths, right=(1, 2), **BIG),
        {"kind": "break"},
        heading("Steps"),
        table(
            ("Step", "Wall", "Station", "From the other end", "Going on", "Bottom from, to"),
            steps,
            (0.5, 0.7, 2, 2, 1.6, 2.6),
            **BIG,
        )
        if steps
        else paragraph("No step: the footing is level all round.", size=14),
    ]
    return Sheet(
        "rods", "Rods and steps", "What does the rod read, and where is the next step?", tuple(blocks)
    )


def step_text(content: Content, row: ScheduleRow) -> str:
    """The step at the end of a run.

    Parameters
    ----------
    content : Content
        What is shown.
    row : ScheduleRow
        The run.

    Returns
    -------
    str
        Its number, and how much up or down; a dash for none.
    """
    if row.step is None:
        return "–"
    return f"{row.step}: {'up' if row.rise > 0 else 'down'} {content.length(abs(row.rise))}"
