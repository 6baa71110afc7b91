"""What a section says in words: layers with their thickness, levels, the stack under the floor, gaps."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import shapely

from foundation import units
from foundation.drawings.section_shapes import INSULATION, seen, stack_at
from foundation.model.section import Block, BlockKind, InsulationGap, Section

SMALL = 0.6096
"""Sizes up to this, 2 ft, are written in inches or millimetres. [m]"""
CLOSES = 5e-5
"""Half of the least thing that is written, a tenth of a millimetre. [m]"""
FARTHEST = 5.0
"""What reaches farther out than the widest wing goes on, as paving or another floor does. [m]"""
EVERYWHERE = (-1e3, 1e3, -1e5, 1e5)
"""A window that holds every section. [m]"""
FAR = 0.3
"""Foam longer than this is told by its length too. [m]"""
INTO_FLOOR = 0.5
"""Distance of the stack from the wall's inner face: beyond what a footing reaches in. [m]"""


@dataclass(frozen=True)
class LevelNote:
    """A level to be written beside a section.

    Attributes
    ----------
    level : float
        The level. [m]
    name : str
        What stands at it.
    text : str
        The level, written.
    start : float
        x from which its line runs outward. [m]
    strong : bool
        True for the few that are read first.
    """

    level: float
    name: str
    text: str
    start: float
    strong: bool


def size(metres: float, system: str) -> str:
    """Write a thickness or a width.

    Parameters
    ----------
    metres : float
        The size. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Small ones in inches or millimetres.

    Examples
    --------
    >>> size(0.0762, "us"), size(1.2192, "us"), size(0.0762, "metric")
    ('3"', '4\\'-0"', '76 mm')
    """
    if metres > SMALL:
        return units.length(metres, system)
    return units.inches(metres) if system == "us" else units.millimetres(metres)


def block_text(block: Block, bounds: tuple[float, ...], section: Section, system: str) -> str:
    """Name of a block with its thickness, and its thermal resistance where it insulates.

    Parameters
    ----------
    block : Block
        The block.
    bounds : tuple of float
        Left, bottom, right and top of what later blocks leave of it. [m]
    section : Section
        What it stands in.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``foam under the slab 3", R-13.5``.
    """
    if block.kind is BlockKind.SOIL:
        return block.name
    left, bottom, right, top = bounds
    wide, high = right - left, top - bottom
    goes_on = (
        left < section.inner_face - section.half_width + 1e-6 or top > section.top - 1e-6 or right > FARTHEST
    )
    short, long = min(wide, high), max(wide, high)
    text = f"{block.name} {size(short, system)}"
    # Footings and timber are told by both sides; a wing by how far it reaches, foam on a wall by how deep.
    if not goes_on and (long > FAR if block.kind is BlockKind.FOAM else long < 4 * short):
        first, second = (short, long) if block.kind is BlockKind.FOAM else (wide, high)
        text = f"{block.name} {size(first, system)} × {size(second, system)}"
    if block.kind in INSULATION:
        text += f", {units.write(short / block.material.conductivity, 'resistance', system)}"
    return text


def names_of(section: Section, system: str) -> list[str]:
    """Name, thickness and resistance of every block as it is seen.

    Parameters
    ----------
    section : Section
        The section.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    list of str
        One for each block, empty where later ones cover all of it.
    """
    found = []
    for block, shape in zip(section.blocks, seen(section.blocks, EVERYWHERE), strict=True):
        part = max(shapely.get_parts(shape), key=lambda each: each.area, default=None)
        if part is None or part.area < 1e-8:
            found.append("")
        else:
            found.append(block_text(block, part.bounds, section, system))
    return found


def level_notes(section: Section, system: str) -> list[LevelNote]:
    """Levels of grade, wall, floor and footing and of what lies under the floor; equal ones together.

    Parameters
    ----------
    section : Section
        The section.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    list of LevelNote
        From the top down.
    """
    inner = section.inner_face
    found: dict[float, list[tuple[str, float, bool]]] = {}

    def say(level: float, name: str, start: float, strong: bool = False) -> None:
        found.setdefault(round(level, 5), []).append((name, start, strong))

    say(section.concrete_top, "top of concrete", 0.0)
    beyond = f"floor of {section.outside}" if section.outside else "grade"
    say(section.grade[0].level, beyond, 0.0, True)
    say(section.floor, "top of slab", inner, True)
    layers = stack_at(section, inner - min(INTO_FLOOR, 0.5 * section.half_width))
    for above, _, top in layers[1:]:
        say(top, f"top of {_short(above)}", inner)
    if layers:
        say(layers[-1][1], f"bottom of {_short(layers[-1][0])}", inner)
    footings = [b for b in section.blocks if b.kind is BlockKind.CONCRETE and "footing" in b.name]
    if footings:
        foot = min(footings, key=lambda block: block.bottom)
        say(foot.top, "top of footing", foot.right)
        say(foot.bottom, "bottom of footing", foot.right, True)
    notes = []
    for level, said in sorted(found.items(), reverse=True):
        name = _together(list(dict.fromkeys(each for each, _, _ in said)))
        start = min(x for _, x, _ in said)
        strong = any(s for _, _, s in said)
        notes.append(LevelNote(level, name, units.length(level, system), start, strong))
    return notes


def _together(names: list[str]) -> str:
    """What stands at one level: ``top of stone, top of footing`` is ``top of stone, footing``."""
    said = names[:1]
    for before, name in itertools.pairwise(names):
        head = next((head for head in ("top of ", "bottom of ") if before.startswith(head)), " ")
        said.append(name.removeprefix(head))
    return ", ".join(said)


def _short(block: Block) -> str:
    """What a layer is called beside its level."""
    return block.kind.value if block.kind in (BlockKind.FOAM, BlockKind.STONE) else block.name


def stack_text(section: Section, system: str) -> tuple[str, bool]:
    """Check that the layers under the floor add up from the top of slab to the ground.

    Parameters
    ----------
    section : Section
        The section.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        The sum, layer by layer.
    bool
        True where it does not close.
    """
    layers = stack_at(section, section.inner_face - min(INTO_FLOOR, 0.5 * section.half_width))
    left = section.floor - section.bed - sum(top - bottom for _, bottom, top in layers)
    sums = " − ".join(
        [units.length(section.floor, system)]
        + [f"{size(top - bottom, system)} {_short(block)}" for block, bottom, top in layers]
    )
    text = f"Under the floor: {sums} = ground at {units.length(section.bed, system)}"
    if abs(left) < CLOSES:
        return f"{text}; the stack closes: 0", False
    return (
        f"{text}; the stack does not close: {size(abs(left), system)} {'short' if left > 0 else 'over'}",
        True,
    )


def gap_text(number: int, gap: InsulationGap, system: str) -> str:
    """A gap of the line of insulation in words.

    Parameters
    ----------
    number : int
        Its number on the drawing. [-]
    gap : InsulationGap
        The gap.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Where it is, how long, and what closing it would save where that was solved for.
    """
    text = f"gap {number}: {gap.where}, {size(gap.length, system)}"
    if math.isfinite(gap.conductance):
        text += f"; closing it would save {units.write(gap.conductance, 'conductivity', system)}"
    return text


def title_of(section: Section, gaps: tuple[InsulationGap, ...] | None, system: str) -> str:
    """What a section shows, as a finding.

    Parameters
    ----------
    section : Section
        The section.
    gaps : tuple of InsulationGap or None
        Breaks of the line of insulation; None where nobody has looked for them.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Where it is cut, and whether the line of insulation holds or the stack closes.
    """
    where = f"{section.line} at {units.length(section.station, system)}, {section.situation.value}"
    if not any(block.kind is BlockKind.FOAM for block in section.blocks):
        return f"{where}: no foam"
    if gaps is None:
        closes = "does not close" if stack_text(section, system)[1] else "closes"
        return f"{where}: the stack under the floor {closes}"
    if not gaps:
        return f"{where}: the line of insulation is unbroken"
    places = "one place" if len(gaps) == 1 else f"{len(gaps)} places"
    return f"{where}: the line of insulation is broken in {places}"
