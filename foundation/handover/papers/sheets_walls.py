"""The sheet of the form crew: heights, panels, top of wall, openings, ledges, and each wall from outside."""

from __future__ import annotations

from functools import partial

from foundation import units
from foundation.drawings.outside import outside_scene
from foundation.drawings.scene import Scene
from foundation.drawings.sheet import LEFT, RIGHT
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
from foundation.handover.papers.content import Content, counted
from foundation.handover.papers.on_paper import at_one_scale, drawing
from foundation.model.concrete import Walls


def wall_sheet(content: Content) -> Sheet:
    """Walls and forms.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    walls = content.walls
    blocks: list[Block] = []
    if walls is None:
        blocks.append(paragraph("The plan tells nothing of the walls on these footings."))
    else:
        blocks += [heading("Walls by height"), pieces_table(content, walls)]
        blocks.append(beside([_tops(content, walls), _panels(content, walls)], (3, 2)))
        blocks += _openings(content, walls) + _ledges(content, walls)
    outdoors = [line.wall for line in content.plan.lines if not line.wall.beyond]
    scenes = [partial(_outside, content, wall.name, wall.length) for wall in outdoors]
    pictures = at_one_scale(scenes, content.paper.room, content.pixel, content.system)
    blocks.append({"kind": "drawings", "drawings": [drawing(each, content.system) for each in pictures]})
    return Sheet(
        "walls", "Walls and forms", "How high, with which panels, and what shows outside?", tuple(blocks)
    )


def _outside(content: Content, name: str, length: float, pixels_per_metre: float) -> Scene:
    width = LEFT + RIGHT + length * pixels_per_metre
    return outside_scene(content.plan, content.stepping, name, width)


def pieces_table(content: Content, walls: Walls) -> Block:
    """Stretches of wall of one height.

    Parameters
    ----------
    content : Content
        What is shown.
    walls : Walls
        The walls.

    Returns
    -------
    dict
        The block.
    """
    mark = content.assumed("footing_thickness")
    heads = ["Wall", "From", "To", f"Top of footing{mark}", "Top of concrete", f"Height{mark}"]
    heads += [
        f"Thick{content.assumed('wall_thickness')}",
        f"Panels, upward{content.assumed('heights')}",
        "Filler",
        "Panels over",
    ]
    rows: list[list[Cell]] = [
        [
            {"text": piece.line, "strong": True},
            content.length(piece.start),
            content.length(piece.end),
            content.layout(piece.bottom),
            content.layout(piece.top),
            {"text": content.length(piece.top - piece.bottom), "strong": True},
            size_text(piece.thickness, content.system),
            " + ".join(content.length(panel) for panel in piece.panels) or "–",
            short_text(piece.filler, content.system) if piece.filler > 1e-4 else "–",
            short_text(piece.over, content.system) if piece.over > 1e-4 else "–",
        ]
        for piece in walls.pieces
    ]
    return table(heads, rows, right=(1, 2, 5))


def size_text(metres: float, system: str) -> str:
    """A thickness in inches or millimetres.

    Parameters
    ----------
    metres : float
        The thickness. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.
    """
    return units.inches(metres) if system == "us" else units.millimetres(metres)


def _tops(content: Content, walls: Walls) -> list[Block]:
    """Each level of top of concrete, with the walls that stand at it, and where walls drop."""
    at: dict[float, list[str]] = {}
    for piece in walls.pieces:
        names = at.setdefault(round(piece.top, 6), [])
        if piece.line not in names:
            names.append(piece.line)
    rows: list[list[Cell]] = [
        [
            content.layout(level, strong=True),
            *content.level_cells(content.reading(level)),
            ", ".join(names),
        ]
        for level, names in sorted(at.items(), reverse=True)
    ]
    heads = ["Top of concrete", *content.level_heads(), "Walls"]
    blocks = [heading("Top of wall"), table(heads, rows, [0] * (len(heads) - 1) + [1])]
    for top in walls.tops:
        if top.drop_from is not None and top.drop_to is not None:
            blocks.append(
                paragraph(
                    f"{top.line}: concrete drops to {content.length(top.low_top)} from {content.length(top.drop_from)} "
                    f"to {content.length(top.drop_to)} from {top.line.split('-')[0]}, framed wall above."
                )
            )
    return blocks


def _panels(content: Content, walls: Walls) -> list[Block]:
    rows: list[list[Cell]] = [
        [
            {"text": row.line, "strong": True},
            counted(content.length(width) for width in row.widths) or "–",
            short_text(row.filler, content.system) if row.filler > 1e-4 else "–",
        ]
        for row in walls.rows
    ]
    heads = ("Wall", f"Panels along it, one face{content.assumed('widths')}", "Filler")
    return [heading("Panels by width"), table(heads, rows, (0, 1, 0))] if rows else []


def _openings(content: Content, walls: Walls) -> list[Block]:
    if not walls.openings:
        return [paragraph("No opening in the concrete.")]
    rows: list[list[Cell]] = [
        [
            {"text": each.name, "strong": True},
            each.kind,
            each.line,
            content.layout(each.start),
            content.layout(each.end),
            content.layout(each.bottom, strong=True),
            content.layout(each.top),
        ]
        for each in walls.openings
    ]
    heads = ("Opening", "Kind", "Wall", "From", "To", "Lower edge", "Upper edge")
    return [heading("Openings, pockets, sleeves"), table(heads, rows, (1, 0, 0, 0, 0, 0, 0))]


def _ledges(content: Content, walls: Walls) -> list[Block]:
    if not walls.ledges:
        return []
    rows: list[list[Cell]] = [
        [
            {"text": each.line, "strong": True},
            content.layout(each.level, strong=True),
            *(
                size_text(v, content.system)
                for v in (each.wall, each.upper, each.foam, each.bearing, each.gap)
            ),
            "closes"
            if abs(each.remainder) < 1e-4
            else f"{size_text(abs(each.remainder), content.system)} "
            f"{'left over' if each.remainder > 0 else 'too much'}",
        ]
        for each in walls.ledges
    ]
    heads = ("Wall", "Ledge at", "Wall below", "Wall above", "Foam", "Bearing", "Gap", "Sum")
    return [heading("Ledges"), table(heads, rows)]
