"""The foam sheet: what lies where with its R, sections at a true scale, and gaps in the line of insulation."""

from __future__ import annotations

from functools import partial
from typing import Any

from foundation import units
from foundation.drawings.scene import Scene
from foundation.drawings.section import section_scene
from foundation.drawings.section_words import gap_text, names_of, stack_text
from foundation.handover.papers.blocks import Block, Cell, Sheet, beside, degrees, heading, paragraph, table
from foundation.handover.papers.content import Content
from foundation.handover.papers.on_paper import at_one_scale, drawing
from foundation.model.section import BlockKind, InsulationGap, Section
from foundation.plan.sections import PlacedSection, sections_along

MOST_SECTIONS = 12
WIDE = 905.0
"""Width that a section is drawn with. [px]"""
BESIDE = 70.0
"""Room for the words beside a section. [mm]"""


def foam_sheet(content: Content) -> Sheet:
    """Foam and sections.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    system = content.system
    picked = telling_sections(sections_along(content.plan, content.stepping.name))
    blocks: list[Block] = [heading("Foam by part"), foam_table(content), paragraph(basis_text(content))]
    if not picked:
        blocks.append(paragraph("No section: no part of this job is heated."))
    gaps = [gaps_at(content.heat, each) for each, _ in picked]
    scenes = [
        partial(_as_it_is, section_scene(each.section, WIDE, found, system=system))
        for (each, _), found in zip(picked, gaps, strict=True)
    ]
    room = (content.paper.room[0] - BESIDE - 6.0, content.paper.room[1])
    for picture, (placed, also), found in zip(
        at_one_scale(scenes, room, content.pixel, system), picked, gaps, strict=True
    ):
        words = section_words(content, placed.section, also, found)
        blocks.append(beside([[drawing(picture, system)], words], (0, 1)))
    return Sheet(
        "foam", "Foam and sections", "Which foam lies where, and where is its line broken?", tuple(blocks)
    )


def _as_it_is(scene: Scene, _pixels_per_metre: float) -> Scene:
    """A section sets its own scale in pixels, by its height."""
    return scene


def telling_sections(placed: tuple[PlacedSection, ...]) -> list[tuple[PlacedSection, list[str]]]:
    """One section for each arrangement of foam: that of the longest stretch.

    Parameters
    ----------
    placed : tuple of PlacedSection
        All stretches.

    Returns
    -------
    list of tuple
        The section, and the other wall lines where the same foam lies in the same way.
    """
    alike: dict[tuple[object, ...], list[PlacedSection]] = {}
    for each in placed:
        section = each.section
        foam = tuple((b.name, b.material.name) for b in section.blocks if b.kind is BlockKind.FOAM)
        door = any(block.name == "door" for block in section.blocks)
        alike.setdefault((section.inside, section.outside, section.situation, door, foam), []).append(each)
    found = []
    for stretches in alike.values():
        shown = max(stretches, key=lambda each: each.end - each.start)
        others = dict.fromkeys(each.section.line for each in stretches)
        found.append((shown, [line for line in others if line != shown.section.line]))
    return found[:MOST_SECTIONS]


def gaps_at(heat: Any, placed: PlacedSection) -> tuple[InsulationGap, ...] | None:
    """Breaks of the line of insulation at a section, as the heat was computed with.

    Parameters
    ----------
    heat : HouseHeat or None
        What leaves through the ground.
    placed : PlacedSection
        The section.

    Returns
    -------
    tuple of InsulationGap or None
        None where the heat was not computed.
    """
    if heat is None:
        return None
    middle = (placed.start + placed.end) / 2
    for stretch in heat.stretches:
        if stretch.line == placed.section.line and stretch.start - 1e-6 <= middle <= stretch.end + 1e-6:
            return tuple(stretch.gaps)
    return None


def section_words(
    content: Content, section: Section, also: list[str], gaps: tuple[InsulationGap, ...] | None
) -> list[Block]:
    """What stands beside a section: its foam, gaps, stack, and heat.

    Parameters
    ----------
    content : Content
        What is shown.
    section : Section
        The section.
    also : list of str
        Wall lines with the same foam.
    gaps : tuple of InsulationGap or None
        Breaks of its line of insulation.

    Returns
    -------
    list of dict
        The blocks.
    """
    system = content.system
    foam = [
        name
        for block, name in zip(section.blocks, names_of(section, system), strict=True)
        if block.kind is BlockKind.FOAM and name
    ]
    where = f"Wall {section.line} at {content.length(section.station)}"
    where += f"; the same foam, other levels, on {', '.join(also)}" if also else ""
    blocks = [
        heading(where),
        paragraph(f"Inside: {section.inside}. Outside: {section.outside or 'outdoors'}."),
    ]
    rows: list[list[Cell]] = [[name] for name in foam] or [["none"]]
    blocks.append(table(("Foam, thickness (and length), R in the ground",), rows, (1,)))
    if gaps is None:
        blocks.append(paragraph("Gaps in the line of insulation: not looked for in this set."))
    elif not gaps:
        blocks.append(paragraph("The line of insulation is unbroken."))
    else:
        blocks += [paragraph(gap_text(number, gap, system)) for number, gap in enumerate(gaps, 1)]
    blocks.append(paragraph(stack_text(section, system)[0]))
    stretch = next(
        (
            each
            for each in (content.heat.stretches if content.heat else ())
            if each.line == section.line and each.start - 1e-6 <= section.station <= each.end + 1e-6
        ),
        None,
    )
    if stretch is not None:
        floor, cold = (
            degrees(value, system) for value in (stretch.floor_temperature, stretch.coldest_surface)
        )
        blocks.append(
            paragraph(
                f"Coldest: floor {content.length(0.3048)} inside the wall about {floor}, surface about {cold}."
            )
        )
    return blocks


def foam_table(content: Content) -> Block:
    """Foam as entered, part by part.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    rows: list[list[Cell]] = []
    for part in content.plan.project.parts:
        named = [(part.name, part.foam)] + [
            (f"{part.name}, wall {w.line}", w.foam) for w in part.walls if w.foam
        ]
        for name, foam in named:
            rows.append(
                [{"text": name, "strong": True}, *(layer_text(content, foam, place) for place in PLACES)]
            )
    return table(
        ("Where", "Under the slab", "Slab's edge", "Outside", "Inside", "Wing"), rows, (1, 1, 1, 1, 1, 1)
    )


PLACES = ("under_slab", "slab_edge", "outside", "inside", "wing")


def layer_text(content: Content, foam: Any, place: str) -> str:
    """A layer of foam in words.

    Parameters
    ----------
    content : Content
        What is shown.
    foam : PartFoam or WallFoam
        The foam.
    place : str
        Which layer.

    Returns
    -------
    str
        Thickness, board and how far it goes; ``none`` for none.
    """
    layer = getattr(foam, place, None)
    if layer is None:
        return "none"
    size = units.inches if content.system == "us" else units.millimetres
    text = f"{size(layer.thickness)} {layer.board}"
    if place == "outside":
        depth = foam.outside_depth
        text += f", to {content.length(depth)} below grade" if depth else ", down to the footing"
    if place == "under_slab" and foam.under_slab_band is not None:
        text += f", {content.length(foam.under_slab_band)} from the wall inward"
    if place == "wing":
        text += f", {content.length(layer.width)} outward, {content.length(layer.depth)} deep"
    return text


def basis_text(content: Content) -> str:
    """Which R counts, and what the office asks for.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    str
        Two sentences.
    """
    project = content.plan.project
    asked = project.required
    wanted = [
        f"{name} {units.write(value, 'resistance', content.system)}"
        for name, value in (
            ("slab edge", asked.edge),
            ("basement wall", asked.wall),
            ("heated slab", asked.heated_slab),
        )
        if value is not None
    ]
    if asked.edge is not None and asked.edge_depth is not None:
        wanted.append(f"edge foam {content.length(asked.edge_depth)} down or inward")
    who = f" ({', '.join(filter(None, (asked.source, str(asked.date or ''))))})" if asked.source else ""
    text = (
        f"Asked for by the office{who}: {', '.join(wanted)}."
        if wanted
        else "What the office asks for is not entered."
    )
    return f"R counted by {project.foam_basis}{content.assumed('foam_basis')}. {text}"
