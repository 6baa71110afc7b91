"""Sections through wall, footing and floor at any station of a plan, and the stretches that each stands for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from foundation.model.section import BlockKind, Section, Situation, SoilLayer
from foundation.plan.lines import outline
from foundation.plan.result import Plan
from foundation.plan.section_foam import foam_problems
from foundation.plan.section_grade import outward_drops
from foundation.plan.section_lines import SectionLines

__all__ = [
    "EdgeChange",
    "PlacedSection",
    "bare",
    "edge_change",
    "foam_problems",
    "section_at",
    "sections_along",
    "shape_key",
]


@dataclass(frozen=True)
class PlacedSection:
    """A stretch of wall line, and the section that stands for it.

    Attributes
    ----------
    start, end : float
        Stations of its ends. [m]
    section : Section
        The section in its middle, with the mean grade of the stretch.
    """

    start: float
    end: float
    section: Section


@dataclass(frozen=True)
class EdgeChange:
    """Where a slab goes from slab edge to basement wall, or back.

    Attributes
    ----------
    line : str
        Name of the wall line.
    station : float
        Station on it. [m]
    before, after : Situation
        On the side of the smaller and of the larger station.
    """

    line: str
    station: float
    before: Situation
    after: Situation


def sections_along(
    plan: Plan, answer: str, soil: tuple[SoilLayer, ...] | None = None
) -> tuple[PlacedSection, ...]:
    """Sections along every wall line that a heated part stands behind.

    A line is cut wherever something changes along it: footing, top of concrete, a door that reaches the floor, slab
    edge to basement wall, and grade by more than a foot. Steps are left to the stretches beside them.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    soil : tuple of SoilLayer, optional
        Ground; the project's likely soil when left out.

    Returns
    -------
    tuple of PlacedSection
        In the order of the lines and stations; none for a part without an outline, such as a single wall.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    PlanError
        If a board is not known, or has no place.
    """
    whole = SectionLines(plan, answer, soil)
    stretches = [
        (line, piece)
        for line in whole.lines
        if line.inside.is_heated and outline(plan.project, line.inside) is not None
        for stretch in line.stretches()
        for piece in line.by_grade(stretch)
    ]
    middles = [(line.footing.wall, (piece.start + piece.end) / 2) for line, piece in stretches]
    drops = outward_drops(plan, middles)
    return tuple(
        PlacedSection(
            piece.start,
            piece.end,
            line.section(middle[1], line.mean_grade(piece.start, piece.end), drop),
        )
        for (line, piece), middle, drop in zip(stretches, middles, drops, strict=True)
    )


def section_at(
    plan: Plan, answer: str, line: str, station: float, soil: tuple[SoilLayer, ...] | None = None
) -> Section:
    """The section at a station, with the grade just there and the leg of a step where one stands.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    line : str
        Name of the wall line; the part behind it need not be heated.
    station : float
        Station on it; beyond the ends the nearest place. [m]
    soil : tuple of SoilLayer, optional
        Ground; the project's likely soil when left out.

    Returns
    -------
    Section
        The section.

    Raises
    ------
    KeyError
        If no answer or no wall line has that name; the known ones are listed.
    ValueError
        If the line is an interior wall: ground heat has no section there.
    PlanError
        If a board is not known, or has no place.
    """
    wall = plan.line(line).wall
    whole = SectionLines(plan, answer, soil)
    known = {each.footing.wall.name: each for each in whole.lines}
    if line not in known:
        raise ValueError(f"Wall {line} stands inside {wall.part}: take a section of a wall round a part.")
    station = min(max(station, 0.0), wall.length)
    here = known[line]
    (drop,) = outward_drops(plan, [(wall, station)])
    return here.section(station, here.grade_at(station), drop, legs=True)


def edge_change(plan: Plan, answer: str) -> tuple[EdgeChange, ...]:
    """Where the slab changes from slab edge to basement wall along each line, by the 12 in rule.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of EdgeChange
        In the order of the lines and stations; heated parts only.
    """
    found = []
    for line in SectionLines(plan, answer, None).lines:
        if not line.inside.is_heated:
            continue
        pieces = [piece for stretch in line.stretches() for piece in line.by_depth(stretch)]
        situations = [line.situation(piece) for piece in pieces]
        for i, piece in enumerate(pieces[1:], 1):
            if situations[i - 1] is not situations[i]:
                name = line.footing.wall.name
                found.append(EdgeChange(name, piece.start, situations[i - 1], situations[i]))
    return tuple(found)


def bare(section: Section) -> Section:
    """The section as if nobody had laid any foam: stone under the slab, the slab closed up to the wall.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    Section
        Without its foam and the strip that closes it.
    """
    return replace(
        section,
        blocks=tuple(
            block
            for block in section.blocks
            if block.kind is not BlockKind.FOAM and block.name != "closing strip"
        ),
    )


def shape_key(section: Section) -> Section:
    """What a section's heat depends on: the section without its place.

    Parameters
    ----------
    section : Section
        The section.

    Returns
    -------
    Section
        Equal, with an equal hash, for sections that differ in line and station alone.
    """
    return replace(section, line="", station=0.0)
