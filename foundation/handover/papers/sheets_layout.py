"""The layout sheet: corners, diagonals, offset stakes, the plan to scale, and how deep to dig."""

from __future__ import annotations

import math
from functools import partial

from foundation.handover.papers.blocks import (
    Block,
    Cell,
    Sheet,
    beside,
    heading,
    paragraph,
    short_text,
    table,
)
from foundation.handover.papers.content import Content
from foundation.handover.papers.layout_scene import layout_scene
from foundation.handover.papers.on_paper import drawing, drawn
from foundation.handover.papers.sheets_footings import step_text
from foundation.plan.sections import sections_along


def layout_sheet(content: Content, levels_held: bool) -> Sheet:
    """Corners, diagonals, offset stakes, the plan to scale, and how deep to dig.

    Parameters
    ----------
    content : Content
        What is shown.
    levels_held : bool
        Whether the footings' levels are held back.

    Returns
    -------
    Sheet
        The sheet.
    """
    plan = content.plan
    scene = partial(layout_scene, plan, content.stepping)
    picture = drawn(scene, content.paper.room, content.pixel, content.system)
    note = "Triangles S1, S2 …: offset stakes. Dotted: diagonals. Dashed: edge of footing."
    blocks: list[Block] = [
        drawing(picture, content.system, note, north=True),
        {"kind": "break"},
        beside(
            [
                [heading("Corners"), corners_table(content, levels_held)],
                [heading("Marks"), marks_table(content)],
            ],
            (1, 1),
        ),
        beside(
            [
                [heading("Diagonals: both equal, or the part is not square"), diagonals_table(content)],
                [heading("Offset stakes, on the wall lines produced"), stakes_table(content)],
            ],
            (2, 3),
        ),
    ]
    if plan.extras:
        blocks += [heading("Pads, stoops, porch footings"), extras_table(content, levels_held)]
    blocks += [heading("Dig levels")]
    blocks += (
        [
            paragraph(
                "Dig levels are held back with the footing sheet: its STOPs are not read yet.", strong=True
            )
        ]
        if levels_held
        else dig_levels(content)
    )
    return Sheet("layout", "Layout", "Where does it stand, and how deep is it dug?", tuple(blocks))


def marks_table(content: Content) -> Block:
    """Benchmark, second mark and set-ups.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    book = content.book
    if not book.benchmark:
        return paragraph("No benchmark: levels hang from the survey's own zero.", strong=True)
    notes = {mark.name: mark.note for mark in content.plan.project.levels.marks}

    def named(name: str) -> str:
        return f"{name}, {notes[name]}" if notes.get(name) else name

    rows: list[list[Cell]] = [
        ["Benchmark", named(book.benchmark), content.layout(book.benchmark_level, strong=True)]
    ]
    if book.second:
        off = (
            "not read yet"
            if book.closure is None
            else f"{short_text(abs(book.closure), content.system)} off of "
            f"{short_text(book.allowed_closure, content.system)} allowed"
        )
        rows.append(["Second mark", named(book.second), off])
    rows += [["Line of sight", up.name, content.layout(up.instrument)] for up in book.set_ups]
    return table(("Mark", "What", "Level"), rows, (0, 1, 0))


def corners_table(content: Content, levels_held: bool) -> Block:
    """Corners by coordinates, with the level to dig to.

    Parameters
    ----------
    content : Content
        What is shown.
    levels_held : bool
        Whether the levels are left out.

    Returns
    -------
    dict
        The block.
    """
    lowest: dict[str, float] = {}
    for line in content.plan.lines:
        runs = [run for run in content.stepping.runs if run.line == line.wall.name]
        for corner, run in ((line.wall.start, runs[0]), (line.wall.end, runs[-1])):
            lowest[corner] = min(run.bottom, lowest.get(corner, math.inf))
    rows: list[list[Cell]] = []
    for name in lowest:
        at = content.plan.project.corners.get(name)
        place: list[Cell] = (
            [content.length(at.east), content.length(at.north)] if at is not None else ["–", "–"]
        )
        level = [] if levels_held else [content.layout(lowest[name], strong=True)]
        rows.append([{"text": name, "strong": True}, *place, *level])
    heads = ["Corner", "East", "North"] + ([] if levels_held else ["Dig to (bottom of footing)"])
    return table(heads, rows, right=(1, 2))


def diagonals_table(content: Content) -> Block:
    """Check distances.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    rows: list[list[Cell]] = [
        [each.part, f"{each.start} to {each.end}", content.layout(each.length, strong=True), ""]
        for each in content.plan.diagonals
    ]
    return table(("Part", "Corners", "Diagonal", "Actual"), rows, (0, 0, 0, 1))


def stakes_table(content: Content) -> Block:
    """Offset stakes.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    rows: list[list[Cell]] = [
        [
            {"text": f"S{number}", "strong": True},
            each.name,
            content.length(each.offset),
            content.length(each.east),
            content.length(each.north),
        ]
        for number, each in enumerate(content.plan.stakes, 1)
    ]
    return table(("Stake", "Where", "Off the corner", "East", "North"), rows, right=(2, 3, 4))


def extras_table(content: Content, levels_held: bool) -> Block:
    """Footings beside the network.

    Parameters
    ----------
    content : Content
        What is shown.
    levels_held : bool
        Whether the levels are left out.

    Returns
    -------
    dict
        The block.
    """
    rows: list[list[Cell]] = []
    for each in content.plan.extras:
        size = " × ".join(content.length(value) for value in (each.length, each.width, each.thickness))
        sized = f"sized by {each.sized_by}" if each.sized_by else "size to confirm: engineer or office"
        place: list[Cell] = [content.length(each.east), content.length(each.north)]
        level: list[Cell] = [] if levels_held else [content.layout(each.bottom.level, strong=True)]
        rows.append([{"text": each.name, "strong": True}, each.kind, *place, f"{size}, {sized}", *level])
    heads = ["Footing", "Kind", "East", "North", "Length × width × thickness"]
    return table(
        heads + ([] if levels_held else ["Bottom"]), rows, (1, 0, 0, 0, 1, 0)[: len(heads) + 1 - levels_held]
    )


def dig_levels(content: Content) -> list[Block]:
    """How deep to dig along each wall, and under each floor.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    list of dict
        The blocks.
    """
    plan = content.plan
    beds: dict[str, float] = {}
    for placed in sections_along(plan, content.stepping.name):
        beds.setdefault(placed.section.inside, placed.section.bed)
    heads = ["Wall", "From", "To", "Dig to (bottom of footing)", *content.level_heads(), "Step at its end"]
    rows: list[list[Cell]] = [
        [
            {"text": row.line, "strong": True},
            content.length(row.start),
            content.length(row.end),
            content.layout(row.bottom.level, strong=True),
            *content.level_cells(row.bottom),
            step_text(content, row),
        ]
        for row in plan.schedules[content.stepping.name]
    ]
    rows += [
        [
            {"text": f"under the floor: {name}", "strong": True},
            "",
            "",
            content.layout(level, strong=True),
            *content.level_cells(content.reading(level)),
            "",
        ]
        for name, level in beds.items()
    ]
    dig = plan.project.digging
    slope = f"1 to {1 / dig.side_slope:.3g}" if dig.side_slope < 100 else "upright in rock"
    words = (
        f"Side of the dig: {slope} (up to out), class {dig.soil_class} soil{content.assumed('soil_class')}; "
        f"working room {content.length(dig.working_room)}{content.assumed('working_room')} beside the footing. "
        "Bottoms on undisturbed soil; what is dug too deep is filled with concrete or as the office says."
    )
    return [table(heads, rows, right=(1, 2)), paragraph(words)]
