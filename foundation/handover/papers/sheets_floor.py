"""The plumber's sheet: zones, loops drawn to scale, manifolds and coils."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import partial
from typing import Any

import numpy as np

from foundation import units
from foundation.drawings.labels import LINE, SIZE, shortened, text_width
from foundation.drawings.scene import Area, Label, Scene, Stroke, joined
from foundation.handover.papers.blocks import (
    Block,
    Cell,
    Sheet,
    degrees,
    heading,
    paragraph,
    short_text,
    table,
)
from foundation.handover.papers.content import Content
from foundation.handover.papers.on_paper import drawing, drawn

LAYER = ("series-1", "series-3", "series-4", "series-2")
"""Layers of neighbouring loops."""
PAD = 24.0
"""Room round the drawing. [px]"""
GALLON_A_MINUTE = 6.30902e-5
"""NIST SP 811 [memory]. [m³/s]"""


def floor_sheet(content: Content) -> Sheet:
    """Warm floors.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet; a sentence where there are no warm floors.
    """
    title, question = "Warm floors", "Where does the tube go, and how hot is the water?"
    floors = content.floors
    if floors is None or not floors.zones:
        words = "No warm floor is planned in this set, so there is no tube to lay and nothing to test."
        return Sheet("floors", title, question, (paragraph(words, size=14),))
    blocks: list[Block] = [heading("Zones"), zone_table(content), heading("Loops"), loop_table(content)]
    blocks += [heading("Manifolds and coils"), *(paragraph(text) for text in water_texts(content))]
    blocks += [paragraph(f"Assumed: {text}{'' if text.endswith('.') else '.'}") for text in floors.assumed]
    parts = dict.fromkeys(zone.shape.part for zone in floors.zones)
    for part in parts:
        zones = [zone for zone in floors.zones if zone.shape.part == part]
        scene = partial(_loops, content, part, zones)
        room = content.paper.room
        blocks.append(drawing(drawn(scene, room, content.pixel, content.system), content.system, north=True))
    return Sheet("floors", title, question, tuple(blocks))


def zone_table(content: Content) -> Block:
    """One row for each zone.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    system = content.system
    rows: list[list[Cell]] = []
    for zone in content.floors.zones:
        case = zone.cases[0] if zone.cases else None
        verdict = "–" if case is None or case.carries is None else "yes" if case.carries else "NO"
        rows.append(
            [
                {"text": zone.shape.name, "strong": True},
                zone.shape.part,
                units.write(zone.shape.area, "area", system),
                short_text(zone.spacing, system),
                case.finish if case else "–",
                units.write(zone.load.flux, "heat_flux", system) if zone.load else "not told",
                degrees(case.supply, system) if case else "–",
                degrees(case.back, system) if case else "–",
                verdict,
                zone.manifold or "not laid",
            ]
        )
    heads = (
        "Zone",
        "Part",
        "Area",
        "Tube spacing",
        "Finish",
        "Load",
        "Water out",
        "Water back",
        "Carries it",
        "Manifold",
    )
    return table(heads, rows)


def loops_of(zones: Iterable[Any]) -> list[Any]:
    """All loops of some zones.

    Parameters
    ----------
    zones : iterable
        The zones.

    Returns
    -------
    list
        Loops in their order.
    """
    return [loop for zone in zones for laying in zone.layings for loop in laying.loops]


def loop_table(content: Content) -> Block:
    """One row for each loop.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    flows = {
        each.loop.name: each.volume_flow
        for manifold in content.floors.manifolds
        for each in manifold.flow.loops
    }
    rows: list[list[Cell]] = []
    for loop in loops_of(content.floors.zones):
        flow = flows.get(loop.name, math.nan)
        rows.append(
            [
                {"text": loop.name, "strong": True},
                loop.zone,
                content.length(loop.length),
                content.length(loop.leaders),
                str(loop.pattern),
                flow_text(flow, content.system),
                str(len(loop.sleeves)) if loop.sleeves else "–",
                "",
            ]
        )
    heads = (
        "Loop",
        "Zone",
        "Length with leaders",
        "Leaders",
        "Pattern",
        "Flow",
        "Sleeves at joints",
        "Tested, initials",
    )
    return table(heads, rows, (0, 0, 0, 0, 0, 0, 0, 1), right=(2, 3))


def flow_text(flow: float, system: str) -> str:
    """A flow of water.

    Parameters
    ----------
    flow : float
        The flow. [m³/s]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        In gallons or litres a minute, a dash for none.
    """
    if not math.isfinite(flow):
        return "–"
    return f"{flow / GALLON_A_MINUTE:.2f} gpm" if system == "us" else f"{flow * 6e4:.1f} l/min"


def water_texts(content: Content) -> list[str]:
    """Manifolds and coils in sentences.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    list of str
        One for each.
    """
    system, found = content.system, []
    for each in content.floors.manifolds:
        text = f"{each.name}, {each.part}: water out {degrees(each.supply, system)}, "
        text += f"{flow_text(each.flow.volume_flow, system)} in {len(each.flow.loops)} loops, "
        text += f"head {content.length(each.flow.head)} of {each.fluid.name}."
        found.append(text)
    for number, coil in enumerate(content.floors.coils, 1):
        found.append(
            f"Coil {number}, {content.length(coil.length)}: {', '.join(coil.loops)}; {content.length(coil.left)} left."
        )
    return found


def _loops(content: Content, part: str, zones: list[Any], scale: float) -> Scene:
    """Loops of one part from above, each named at its first bend."""
    areas = [area for zone in zones for area in zone.shape.areas]
    outlines = [np.vstack([area.outline, area.outline[:1]]) for area in areas]
    origin = np.min(np.vstack(outlines), axis=0)
    high = np.max(np.vstack(outlines), axis=0) - origin
    strokes, drawn_areas, labels = [], [], []
    for area, outline in zip(areas, outlines, strict=True):
        strokes.append(Stroke("wall", outline - origin, area.zone))
        for hole in area.holes:
            drawn_areas.append(Area("bare", np.asarray(hole) - origin, "kept free"))
        for joint in area.barriers:
            ends = np.array([joint.start, joint.end]) - origin
            strokes.append(Stroke("compare", ends, joint.name))
    loops = loops_of(zones)
    half = SIZE * LINE / scale
    for number, loop in enumerate(loops):
        path = np.asarray(loop.path) - origin
        strokes.append(Stroke(LAYER[number % len(LAYER)], joined([path]), loop.name))
    for number, loop in enumerate(loops):
        path = np.asarray(loop.path) - origin
        middle = path[len(path) // 2]
        text = shortened(loop.name, 160.0, SIZE, True)
        room = text_width(text, SIZE, True) / scale / 2
        at = np.clip(middle, [room, half], np.maximum(high - [room, half], [room, half]))
        labels.append(
            Label(LAYER[number % len(LAYER)], text, (float(at[0]), float(at[1])), "middle", SIZE, None, True)
        )
    for manifold in content.floors.manifolds:
        if manifold.part == part:
            strokes.append(Stroke("mark", np.array([manifold.at]) - origin, manifold.name))
    pad = PAD / scale
    title = f"Tube in {part}: {len(loops)} loop{'' if len(loops) == 1 else 's'}"
    told = ", ".join(f"{loop.name} {content.length(loop.length)}" for loop in loops)
    window = (-pad, float(high[0]) + pad, -pad, float(high[1]) + pad)
    return Scene(
        title,
        f"{title}, from above, north up: {told}.",
        window,
        scale,
        1.0,
        tuple(strokes),
        tuple(drawn_areas),
        tuple(labels),
    )
