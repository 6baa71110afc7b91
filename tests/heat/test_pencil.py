"""The line of insulation: its breaks by hand measure, and what closing them saves."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from foundation.heat.sections.bridge import bridge
from foundation.heat.sections.pencil import BARE_FLOOR, gaps_of, with_heat
from foundation.heat.sections.respond import respond
from foundation.model.section import Block, BlockKind, InsulationGap, Section
from tests.heat.sections import (
    FOAM_INCHES,
    SECTIONS,
    SLAB,
    STRESSED,
    basement,
    between,
    block,
    garage,
    slab_edge,
    walkout,
)

SILL = 0.038


def named(section: Section) -> list[tuple[str, float]]:
    return [(gap.where, round(gap.length, 6)) for gap in gaps_of(section)]


def test_foam_outside_breaks_at_the_sill() -> None:
    assert named(slab_edge(outside=FOAM_INCHES)) == [
        ("between framed wall and foam outside, through sill", SILL),
        (BARE_FLOOR, 3.5),
    ]


def test_change_of_side_goes_through_the_wall() -> None:
    """Foam outside the wall, foam under the slab: the concrete of the wall parts them."""
    assert named(basement(outside=FOAM_INCHES, under=FOAM_INCHES)) == [
        ("between framed wall and foam outside, through sill", SILL),
        ("between foam outside and foam under the slab, through wall", 0.2),
    ]


def test_bare_wall_top_and_slab_edge() -> None:
    """Foam inside: bare wall top, round the corner of the sill, and the slab that touches the wall."""
    assert named(basement(inside=FOAM_INCHES, under=FOAM_INCHES)) == [
        ("between framed wall and foam inside, through sill and wall", round(SILL + 0.06, 6)),
        ("between foam inside and foam under the slab, through slab", SLAB),
    ]


def test_slab_edge_foam_reaches_the_foam_under_the_slab() -> None:
    assert named(slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES)) == [
        ("between framed wall and foam at the slab's edge, through sill and wall", round(SILL + 0.06, 6)),
    ]


def test_band_leaves_the_middle_bare() -> None:
    assert named(slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES, band=1.2))[1:] == [
        (f"{BARE_FLOOR} beyond the band", 2.3)
    ]


def test_no_foam_at_all() -> None:
    """The pencil is lifted from the frame round the foot of the sill to the floor's edge, and over the floor."""
    assert named(basement()) == [
        (
            "between framed wall and floor's edge, through sill and wall",
            round(SILL + math.hypot(0.06, 2.4), 6),
        ),
        (BARE_FLOOR, 4.0),
    ]


def test_foam_that_stops_short_of_the_floor() -> None:
    section = basement(under=FOAM_INCHES)
    short = replace(
        section, blocks=(*section.blocks, block(BlockKind.FOAM, "foam outside", 0, 0.05, -0.6, 0.2))
    )
    where, length = named(short)[1]
    assert where == "between foam outside and foam under the slab, through wall"
    assert length == pytest.approx(math.hypot(0.2, 2.3 - 0.6), abs=1e-6)


def test_ledge() -> None:
    """Under the strip of foam on the ledge there is wall before the foam under the slab begins."""
    assert named(walkout(edge=FOAM_INCHES, under=FOAM_INCHES)) == [
        ("between framed wall and foam at the slab's edge, through sill and wall over the ledge", 0.138),
        (
            "between foam at the slab's edge and foam under the slab, through wall",
            round(0.1 - FOAM_INCHES, 6),
        ),
    ]


def test_open_door() -> None:
    """Without a frame the line starts where inner and outer air meet on the slab."""
    first = gaps_of(garage(edge=FOAM_INCHES, under=FOAM_INCHES))[0]
    assert first.start == (-0.05, 0.1)
    assert first.where == "between foot of the opening and break under the door, through slab over the wall"
    assert first.length == pytest.approx(0.05)


def test_sheathing_foam_that_laps_closes_the_sill() -> None:
    section = slab_edge(outside=FOAM_INCHES)
    sheathing = block(BlockKind.FOAM, "foam on the sheathing", 0, FOAM_INCHES, 0.2, section.top)
    assert named(replace(section, blocks=(*section.blocks, sheathing))) == [(BARE_FLOOR, 3.5)]


def test_unbroken_line() -> None:
    section = slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES)
    cap = block(BlockKind.FOAM, "cap", -0.2 - FOAM_INCHES, 0.0, 0.2, 0.238)
    assert gaps_of(replace(section, blocks=(*section.blocks, cap))) == ()


def test_covered_foam_does_not_count() -> None:
    """Concrete cast over the strip at the slab's edge parts frame and floor again."""
    section = slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES)
    over = block(BlockKind.CONCRETE, "pour", -0.2 - FOAM_INCHES, -0.2, 0.15, 0.2)
    gap = gaps_of(replace(section, blocks=(*section.blocks, over)))[0]
    assert gap.length == pytest.approx(SILL + math.hypot(0.06, 0.05), abs=1e-6)


@pytest.mark.parametrize("name", [*SECTIONS, *STRESSED])
def test_gaps_lie_end_to_end(name: str) -> None:
    """Each is at least as long as its ends are apart, and more foam never opens more."""
    section = (SECTIONS | STRESSED)[name]()
    gaps = gaps_of(section)
    for gap in gaps:
        assert gap.length >= math.dist(gap.start, gap.end) - 1e-9
        assert math.isnan(gap.conductance)
    under = section.floor - SLAB
    middle = section.inner_face - section.half_width
    whole = block(BlockKind.FOAM, "more foam", middle, section.inner_face, under - 0.03, under)
    more = gaps_of(replace(section, bed=min(section.bed, under - 0.03), blocks=(*section.blocks, whole)))
    assert sum(gap.length for gap in more) <= sum(gap.length for gap in gaps) + 1e-6


@pytest.mark.parametrize("name", [name for name in SECTIONS if "bare" not in name])
def test_closing_a_gap_saves_its_difference(name: str) -> None:
    """Against full answers of the section with and without the boards."""
    section = SECTIONS[name]()
    gaps = with_heat(section, gaps_of(section))
    before = respond(section, 0.002).surface.flow_steady.sum()
    for gap in gaps:
        boards = bridge(section, gap, along_floor=gap.where.startswith(BARE_FLOOR))
        after = respond(replace(section, blocks=(*section.blocks, *boards)), 0.002).surface.flow_steady.sum()
        assert gap.conductance > 0
        assert gap.conductance == pytest.approx(before - after, rel=0.05, abs=0.004)


def test_no_foam_is_not_solved() -> None:
    gaps = with_heat(basement(), gaps_of(basement()))
    assert gaps
    assert np.all(np.isnan([gap.conductance for gap in gaps]))


def boxes(boards: tuple[Block, ...]) -> list[tuple[float, ...]]:
    return [tuple(round(v, 6) for v in (b.left, b.right, b.bottom, b.top)) for b in boards]


def test_boards_that_bridge() -> None:
    """Drawn out upward over the sill; through the wall in the foam's own level; under the bare slab."""
    section = basement(outside=0.05, under=0.05)
    sill, wall = gaps_of(section)
    assert boxes(bridge(section, sill, False)) == [(0.0, 0.05, 0.2, 0.238)]
    assert boxes(bridge(section, wall, False)) == [(-0.2, 0.05, -2.35, -2.3)]
    bare = basement(outside=0.05)
    assert boxes(bridge(bare, gaps_of(bare)[-1], True)) == [(-4.2, -0.2, -2.35, -2.3)]
    band = slab_edge(edge=0.05, under=0.05, band=1.2)
    assert boxes(bridge(band, gaps_of(band)[-1], True)) == [(-3.7, -1.4, 0.05, 0.1)]
    short = replace(
        basement(under=0.05),
        blocks=(*basement(under=0.05).blocks, block(BlockKind.FOAM, "foam outside", 0, 0.05, -0.6, 0.2)),
    )
    assert boxes(bridge(short, gaps_of(short)[1], False)) == [
        (0.0, 0.05, -2.3, -0.6),
        (-0.2, 0.05, -2.35, -2.3),
    ]
    assert bridge(basement(), InsulationGap("", (0.0, 0.0), (0.0, 0.1), 0.1, math.nan), False) == ()


def test_walls_between_parts_have_a_line_too() -> None:
    assert [gap.where for gap in gaps_of(between(inside=FOAM_INCHES))] == [
        "between framed wall and foam inside, through sill and wall",
        BARE_FLOOR,
    ]
