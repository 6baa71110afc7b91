"""Sections of the demo lot by hand, and of odd projects by what must hold of any section."""

from __future__ import annotations

import copy
import random
from typing import Any

import numpy as np
import pytest

from foundation.foam.boards import board_types
from foundation.heat.sections.assemble import assemble
from foundation.model.section import Block, BlockKind, Section, Situation
from foundation.plan import Plan, PlanError, plan
from foundation.plan.sections import (
    PlacedSection,
    bare,
    edge_change,
    foam_problems,
    section_at,
    sections_along,
    shape_key,
)
from foundation.project import Job, check
from tests.conftest import planned
from tests.plan.test_odd_inputs import VALUES, leaves

FOOT = 0.3048
INCH = FOOT / 12
ANSWER = "least cost"


def block(section: Section, name: str) -> Block:
    (found,) = [each for each in section.blocks if each.name == name]
    return found


def names(section: Section) -> list[str]:
    return [each.name for each in section.blocks]


def size(each: Block) -> tuple[float, float, float, float]:
    """Sides in inches, levels in feet, as the demo lot tells them."""
    return tuple(
        round(value / unit, 3)
        for value, unit in ((each.left, INCH), (each.right, INCH), (each.bottom, FOOT), (each.top, FOOT))
    )  # type: ignore[return-value]


def at(section: Section, x: float, z: float) -> str:
    """Name of what is at a place: a block, ``soil`` or ``air``."""
    for each in reversed(section.blocks):
        if each.left < x < each.right and each.bottom < z < each.top:
            return each.name
    grade = [step.level for step in section.grade if step.start <= max(x, 0.0)][-1]
    return "soil" if z < (section.bed if x < section.divide else grade) else "air"


def check_sound(section: Section) -> None:
    left = section.inner_face - section.half_width
    assert section.soil
    assert section.grade[0].start == 0.0
    starts = [step.start for step in section.grade]
    assert starts == sorted(set(starts))
    assert section.inner_face < section.divide < 0.0
    for each in section.blocks:
        assert left - 2e-5 <= each.left < each.right, each.name
        assert each.bottom < each.top <= section.top + 1e-9, each.name
    ground = min(section.bed, *(step.level for step in section.grade))
    for z in np.linspace(ground - 0.5, section.top, 200)[:-1] + 1.3e-4:
        assert at(section, section.divide - 1e-4, float(z)) != "air", z
    assert section.top > max(section.floor, section.concrete_top, *(step.level for step in section.grade))
    assemble(section, fineness=0.5)  # finds no hollow, and air on both sides


@pytest.fixture(scope="module")
def along(demo_plan: Plan) -> tuple[PlacedSection, ...]:
    return sections_along(demo_plan, ANSWER)


def test_demo_sections_are_sound(demo_plan: Plan) -> None:
    for stepping in demo_plan.steppings:
        for placed in sections_along(demo_plan, stepping.name):
            check_sound(placed.section)
            check_sound(bare(placed.section))


def test_stretches_tile_the_lines(demo_plan: Plan, along: tuple[PlacedSection, ...]) -> None:
    for line in demo_plan.lines:
        own = [each for each in along if each.section.line == line.wall.name]
        ends = [own[0].start, *(each.end for each in own)]
        assert [each.start for each in own] == ends[:-1]
        assert (ends[0], ends[-1]) == (0.0, pytest.approx(line.wall.length))
        for step in (s for s in demo_plan.stepping(ANSWER).steps if s.line == line.wall.name):
            assert any(abs(end - step.station) < 1e-6 for end in ends)
        if not line.wall.beyond:
            (fill,) = [f for f in demo_plan.walls[ANSWER].fills if f.line == line.wall.name]
            for each in own:
                inside = (fill.station >= each.start) & (fill.station <= each.end)
                assert np.ptp(fill.outside[inside]) < 2.2 * FOOT


def test_walkout_stack_closes(demo_plan: Plan) -> None:
    """Ledge of 4 3/4 in at 205.50: 2 in of foam and 2 3/4 in of slab, on 2 1/2 in of foam."""
    section = section_at(demo_plan, ANSWER, "C-D", 22 * FOOT)
    assert size(block(section, "wall")) == (-12.0, 0.0, 201.5, 205.5)
    assert size(block(section, "wall above the ledge")) == (-7.25, 0.0, 205.5, 214.5)
    assert size(block(section, "foam at the slab's edge")) == (-9.25, -7.25, 205.5, 206.042)
    assert size(block(section, "foam over the ledge"))[:3] == (-12.0, -7.25, 205.5)
    slab = size(block(section, "slab"))
    assert slab[1:] == (-7.25, 205.708, 206.042)  # the edge foam lies over its end
    assert at(section, -9.3 * INCH, 206.0 * FOOT) == "slab"
    assert pytest.approx(12 - 7.25) == (-9.25 + 12) + 2
    assert (section.inner_face / INCH, section.floor / FOOT) == pytest.approx((-7.25, 206.0417), abs=1e-3)
    assert section.situation is Situation.EDGE
    assert size(block(section, "footing"))[:2] == (-16.0, 4.0)


def test_basement_wall(demo_plan: Plan) -> None:
    section = section_at(demo_plan, ANSWER, "A-B", 10 * FOOT)
    assert section.situation is Situation.BASEMENT
    assert size(block(section, "footing")) == (-15.0, 5.0, 204.667, 205.5)
    assert size(block(section, "wall")) == (-10.0, 0.0, 205.5, 214.5)
    assert size(block(section, "foam outside")) == (0.0, 2.0, 205.5, 214.5)
    assert size(block(section, "foam over the footing")) == (-15.0, -10.0, 205.5, 205.708)
    assert size(block(section, "foam at the slab's edge")) == (-12.0, -10.0, 205.708, 206.042)
    assert size(block(section, "sill")) == (-7.25, 0.0, 214.5, 214.625)
    # Slab 4 in, foam 2 1/2 in, stone 4 in under the top of slab.
    assert (section.floor - section.bed) / INCH == pytest.approx(10.5, abs=1e-3)
    assert (section.top - section.concrete_top) == pytest.approx(0.6)


def test_frost_wall_at_the_garage(demo_plan: Plan) -> None:
    """Grade 213.83 on the west side: foam 4 ft down from it, slab at the mean of 214.00 and 214.25."""
    section = section_at(demo_plan, ANSWER, "B-E", 6 * FOOT)
    assert section.floor / FOOT == pytest.approx(214.125, abs=1e-4)
    assert size(block(section, "wall")) == (-8.0, 0.0, 207.333, 214.5)
    foam = size(block(section, "foam outside"))
    assert (foam[1], foam[3]) == (2.0, 214.5)
    assert foam[2] == pytest.approx(213.83 - 4, abs=1 / 24 + 0.01)  # grade is rounded to the inch
    assert section.situation is Situation.EDGE


def test_floor_strips_add_up_to_the_floor(along: tuple[PlacedSection, ...]) -> None:
    """House 44 × 30 ft less 10 in walls, exposed along all but the 14 ft to the garage."""
    area = (44 - 20 / 12) * (30 - 20 / 12)
    house = next(each.section for each in along if each.section.line == "A-B")
    assert house.half_width / FOOT == pytest.approx(area / (148 - 14), abs=1e-3)
    strips = sum(
        (each.end - each.start) * each.section.half_width
        for each in along
        if each.section.inside == "house" and each.section.situation is not Situation.BETWEEN
    )
    assert strips / FOOT**2 == pytest.approx(area, rel=1e-4)


def test_wall_between_house_and_garage(demo_plan: Plan) -> None:
    section = section_at(demo_plan, ANSWER, "B-H", 7 * FOOT)
    assert (section.situation, section.inside, section.outside) == (Situation.BETWEEN, "house", "garage")
    assert [step.level / FOOT for step in section.grade] == [pytest.approx(214.125, abs=1e-4)]
    assert "foam outside" not in names(section)
    assert size(block(section, "slab beyond")) == (0.0, 24 * 12, 213.792, 214.125)


def test_unheated_neighbour_counts_as_outdoors(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["parts"][1] |= {"heated": False, "floor_heated": False}
    cold = planned(demo_tables, demo_job.survey)
    found = sections_along(cold, ANSWER)
    assert {each.section.inside for each in found} == {"house"}
    between = next(each.section for each in found if each.section.line == "B-H")
    assert (between.situation, between.outside) == (Situation.BASEMENT, "")
    assert between.grade[0].level / FOOT == pytest.approx(214.125, abs=1e-4)
    assert "foam outside" in names(between)
    area = (44 - 20 / 12) * (30 - 20 / 12)
    assert between.half_width / FOOT == pytest.approx(area / 148, abs=1e-3)


def test_heated_garage_beside_a_cold_house_looks_back(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["parts"][0] |= {"heated": False, "floor_heated": False}
    turned = planned(demo_tables, demo_job.survey)
    (section,) = [s.section for s in sections_along(turned, ANSWER) if s.section.line == "B-H"]
    assert (section.inside, section.outside, section.situation) == ("garage", "", Situation.EDGE)
    assert section.floor / FOOT == pytest.approx(214.125, abs=1e-4)
    assert section.grade[0].level / FOOT == pytest.approx(206.0417, abs=1e-3)
    check_sound(section)


def test_garage_door(demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Job) -> None:
    """Wall lowered to 213.17 and slab at 214.00 under the door: bare, with edge foam, poured through."""
    plain = section_at(demo_plan, ANSWER, "E-F", 12 * FOOT)
    assert (plain.floor / FOOT, plain.concrete_top / FOOT) == pytest.approx((214.0, 213.17))
    assert size(block(plain, "slab over the wall")) == (-8.0, 0.0, 213.17, 214.0)
    assert size(block(plain, "foam outside"))[3] == 213.17
    assert at(plain, -1 * INCH, 213.9 * FOOT) == "slab over the wall"
    door = demo_tables["openings"][0]
    door["edge_foam"] = {"board": "XPS IV", "thickness": "2 in"}
    foamed = section_at(planned(demo_tables, demo_job.survey), ANSWER, "E-F", 12 * FOOT)
    assert size(block(foamed, "foam at the slab's edge")) == (-2.0, 0.0, 213.17, 214.0)
    assert at(bare(foamed), -1 * INCH, 213.9 * FOOT) == "slab over the wall"
    door["slab_through"] = "yes"
    through = section_at(planned(demo_tables, demo_job.survey), ANSWER, "E-F", 12 * FOOT)
    assert "foam at the slab's edge" not in names(through)
    apron = block(through, "apron")
    assert (apron.left, apron.top / FOOT) == pytest.approx((0.0, 214.0), abs=1e-4)
    assert min(s.level for s in through.grade if s.start < apron.right) >= apron.bottom - 1e-9
    for section in (plain, foamed, through):
        check_sound(section)


def test_door_in_the_walkout(demo_tables: dict[str, Any], demo_job: Job) -> None:
    """Sill at the slab: the concrete stops there, and the ledge's foam stands under it."""
    demo_tables["openings"].append(
        {
            "name": "patio", "line": "C-D", "start": "10 ft", "width": "6 ft",
            "bottom": "206'-0 1/2\"", "height": "6'-8\"",
        }
    )  # fmt: skip
    doored = planned(demo_tables, demo_job.survey)
    pieces = [s for s in sections_along(doored, ANSWER) if s.section.line == "C-D"]
    assert [round(s.end / FOOT, 3) for s in pieces] == [10.0, 16.0, 44.0]
    door = pieces[1].section
    assert door.concrete_top / FOOT == pytest.approx(206.0417, abs=1e-3)
    assert size(block(door, "wall above the ledge")) == (-7.25, 0.0, 205.5, 206.042)
    assert size(block(door, "foam at the slab's edge")) == (-9.25, -7.25, 205.5, 206.042)
    assert "framed wall" not in names(door)
    check_sound(door)


def test_concrete_that_drops_to_a_framed_wall(demo_tables: dict[str, Any], demo_job: Job) -> None:
    """With its low top at 206.25 the walkout stops there and on the west wall where grade lets it."""
    for wall in demo_tables["parts"][0]["walls"]:
        wall["low_top"] = "206.25 ft"
    dropped = planned(demo_tables, demo_job.survey)
    found = sections_along(dropped, ANSWER)
    walkout = [each.section for each in found if each.section.line == "C-D"]
    assert walkout
    for section in walkout:
        assert section.concrete_top / FOOT == pytest.approx(206.25, abs=1e-4)
        assert size(block(section, "wall above the ledge")) == (-7.25, 0.0, 205.5, 206.25)
        assert size(block(section, "framed wall"))[:3] == (-7.25, 0.0, 206.375)
        check_sound(section)
    (top,) = [each for each in dropped.walls[ANSWER].tops if each.line == "D-A"]
    assert top.drop_to is not None
    west = [each for each in found if each.section.line == "D-A"]
    for each in west:
        low = each.end < top.drop_to + 1e-6
        assert each.section.concrete_top / FOOT == pytest.approx(206.25 if low else 214.5, abs=1e-4)
    assert any(each.end == pytest.approx(top.drop_to) for each in west)


def test_leg_of_a_step(demo_plan: Plan) -> None:
    """West wall: the footing goes up from 203.50 to 205.50 at 13'-6" from D; the leg stands on the lower run."""
    step = next(s for s in demo_plan.stepping(ANSWER).steps if s.line == "D-A" and s.after > s.before + 0.5)
    leg = demo_plan.line("D-A").wall.footing_thickness
    beside = section_at(demo_plan, ANSWER, "D-A", step.station - leg - 0.05)
    within = section_at(demo_plan, ANSWER, "D-A", step.station - leg / 2)
    assert "leg of the step" not in names(beside)
    found = block(within, "leg of the step")
    assert found.top == pytest.approx(step.after + leg, abs=1e-4)
    assert block(within, "footing").bottom == pytest.approx(step.before, abs=1e-4)
    assert at(within, 3 * INCH, found.top - 0.01) == "leg of the step"
    check_sound(within)


def test_edge_change_is_twelve_inches_below_grade(demo_plan: Plan) -> None:
    found = edge_change(demo_plan, ANSWER)
    assert [(e.line, e.before, e.after) for e in found] == [
        ("H-C", Situation.BASEMENT, Situation.EDGE),
        ("D-A", Situation.EDGE, Situation.BASEMENT),
    ]
    for change in found:
        wall = demo_plan.line(change.line).wall
        share = change.station / wall.length
        place = [a + share * (b - a) for a, b in zip(wall.start_at, wall.end_at, strict=True)]
        assert demo_plan.finished is not None
        grade = float(demo_plan.finished.grade(*place))
        assert grade - (206 + 0.5 / 12) * FOOT == pytest.approx(FOOT, abs=2e-3)


def test_grade_outward_follows_the_surface(demo_plan: Plan) -> None:
    """South of the garage the finished ground falls to the walkout: each step against the surface itself."""
    section = section_at(demo_plan, ANSWER, "G-H", 12 * FOOT)
    wall = demo_plan.line("G-H").wall
    assert demo_plan.finished is not None
    for step, out in zip(section.grade, (0.0, 0.6, 1.2, 1.8, 2.4, 3.0), strict=True):
        east = wall.start_at[0] - 12 * FOOT
        grade = float(demo_plan.finished.grade(east, wall.start_at[1] - out))
        assert step.level == pytest.approx(grade, abs=INCH)


def test_bare_closes_up(demo_plan: Plan) -> None:
    foamed = section_at(demo_plan, ANSWER, "A-B", 10 * FOOT)
    closed = bare(foamed)
    assert all(each.kind is not BlockKind.FOAM for each in closed.blocks)
    for (x, z), was, now in (
        ((-11, 205.9), "foam at the slab's edge", "slab"),
        ((-12, 205.6), "foam over the footing", "stone"),
        ((-50, 205.6), "foam under the slab", "stone"),
        ((1, 210.0), "foam outside", "soil"),
        ((1, 214.0), "foam outside", "air"),
    ):
        assert at(foamed, x * INCH, z * FOOT) == was
        assert at(closed, x * INCH, z * FOOT) == now


def box(**part: Any) -> dict[str, Any]:
    """A box on level ground, 30 × 20 ft, floor a foot above grade unless it says else."""
    grade = {"existing": "100 ft", "finished": "100 ft"}
    return {
        "schema": 1,
        "frost": {"depth": "48 in", "source": "worked example", "date": "2026-01-01"},
        "corners": {
            "A": {"east": "0 ft", "north": "20 ft"},
            "B": {"east": "30 ft", "north": "20 ft"},
            "C": {"east": "30 ft", "north": "0 ft"},
            "D": {"east": "0 ft", "north": "0 ft"},
        },
        "ground": {"corner_grades": dict.fromkeys("ABCD", grade)},
        "parts": [
            {
                "name": "house",
                "use": "slab on grade",
                "corners": ["A", "B", "C", "D"],
                "wall_top": "101 ft",
                **part,
            }
        ],
    }


def foam(thickness: str, board: str = "XPS IV", **more: str) -> dict[str, str]:
    return {"board": board, "thickness": thickness, **more}


def test_equal_places_make_equal_sections() -> None:
    made = planned(box(foam={"outside": foam("2 in"), "under_slab": foam("2 in")}))
    found = sections_along(made, ANSWER)
    assert len(found) == 4
    assert len({shape_key(each.section) for each in found}) == 1
    assert len({each.section for each in found}) == 4


def test_slab_on_grade_with_wing_and_band() -> None:
    tables = box(
        foam={
            "outside": foam("2 in"),
            "outside_depth": "2 ft",
            "slab_edge": foam("1 in"),
            "under_slab": foam("2 in", "EPS II"),
            "under_slab_band": "4 ft",
            "wing": foam("3 in", width="3 ft", depth="12 in"),
        }
    )
    tables["frame"] = {"outside_foam": foam("1 1/2 in", "EPS II"), "thickness": "5 1/2 in"}
    section = section_at(planned(tables), ANSWER, "A-B", 4.0)
    assert size(block(section, "foam outside")) == (0.0, 2.0, 98.0, 101.0)
    assert size(block(section, "foam at the slab's edge")) == (-11.0, -10.0, 100.667, 101.0)
    assert size(block(section, "foam under the slab")) == (-58.0, -10.0, 100.5, 100.667)
    assert size(block(section, "wing")) == (2.0, 38.0, 98.75, 99.0)
    assert size(block(section, "closing strip")) == (0.0, 1.5, 101.0, 101.062)
    assert size(block(section, "foam on the sheathing"))[:3] == (0.0, 1.5, 101.062)
    assert size(block(section, "framed wall"))[:3] == (-5.5, 0.0, 101.125)
    assert at(section, -60 * INCH, 100.6 * FOOT) == "stone"
    closed = bare(section)
    assert "closing strip" not in names(closed)
    for each in (section, closed):
        check_sound(each)
    # Moist ground: the design guide's resistivity, lying or upright; the label's in the air.
    boards = board_types()
    for name, resistivity in (
        ("wing", boards["XPS IV"].wet_horizontal),
        ("foam outside", boards["XPS IV"].wet_vertical),
        ("foam under the slab", boards["EPS II"].wet_horizontal),
        ("foam on the sheathing", boards["EPS II"].label),
    ):
        assert block(section, name).material.conductivity == pytest.approx(1 / resistivity)


def test_a_line_names_its_own_foam_field_by_field() -> None:
    tables = box(
        foam={"outside": foam("2 in"), "slab_edge": foam("1 in")},
        walls=[{"line": "A-B", "foam": {"outside": foam("4 in", "EPS II")}}],
    )
    made = planned(tables)
    own, other = (section_at(made, ANSWER, line, 3.0) for line in ("A-B", "B-C"))
    assert block(own, "foam outside").right == pytest.approx(4 * INCH, abs=1e-5)
    assert block(other, "foam outside").right == pytest.approx(2 * INCH, abs=1e-5)
    assert size(block(own, "foam at the slab's edge")) == size(block(other, "foam at the slab's edge"))


def test_sheathing_foam_laps_over_bare_concrete() -> None:
    tables = box()
    tables["frame"] = {"outside_foam": foam("2 in"), "outside_foam_laps": "6 in", "closing_strip": False}
    section = section_at(planned(tables), ANSWER, "A-B", 3.0)
    assert size(block(section, "foam on the sheathing"))[:3] == (0.0, 2.0, 100.5)


def test_veneer_shelf() -> None:
    """A 10 in wall, 5 1/2 in above a shelf at grade: the frame stands on that, the veneer before it."""
    shelf = {"level": "100 ft", "upper": "5 1/2 in", "bearing": "3 1/2 in", "gap": "1 in", "veneer": True}
    tables = box(walls=[{"line": "A-B", "ledge": shelf}], foam={"outside": foam("2 in")})
    section = section_at(planned(tables), ANSWER, "A-B", 3.0)
    assert size(block(section, "wall above the ledge")) == (-10.0, -4.5, 100.0, 101.0)
    assert size(block(section, "foam outside"))[3] == 100.0
    assert size(block(section, "framed wall"))[:2] == (-10.0, -4.5)
    assert size(block(section, "veneer"))[:3] == (-4.5, 0.0, 100.0)
    check_sound(section)


def test_inside_foam_stands_on_the_slab() -> None:
    section = section_at(planned(box(slab_top="100 ft", foam={"inside": foam("2 in")})), ANSWER, "A-B", 3.0)
    assert size(block(section, "foam inside")) == (-12.0, -10.0, 100.0, 101.0)


def test_thicker_under_slab_foam_stops_at_a_near_footing() -> None:
    """Beside the footing 4 in of foam, over it the 2 in of the build-up, as far as it reaches."""
    tables = box(
        use="basement",
        wall_top="101 ft",
        wall_height="9 ft",
        foam_over_footing="2 in",
        foam={"under_slab": foam("4 in", "EPS II")},
    )
    section = section_at(planned(tables), ANSWER, "A-B", 3.0)
    over, under = block(section, "foam over the footing"), block(section, "foam under the slab")
    assert (over.top - over.bottom) / INCH == pytest.approx(2, abs=1e-3)
    assert (under.top - under.bottom) / INCH == pytest.approx(4, abs=1e-3)
    assert (over.left, over.right) == pytest.approx((-15 * INCH, -10 * INCH), abs=1e-4)
    assert under.right == over.left
    check_sound(section)


def problems_of(tables: dict[str, Any]) -> list[tuple[str, str]]:
    project, wrong = check(tables)
    assert project is not None, wrong
    return [(each.place, each.sentence) for each in foam_problems(project)]


def test_foam_that_does_not_do(demo_tables: dict[str, Any]) -> None:
    assert problems_of(demo_tables) == []
    polyiso = next(name for name, kind in board_types().items() if kind.family == "polyiso")
    wrong = copy.deepcopy(demo_tables)
    wrong["parts"][0]["foam"]["outside"]["board"] = "XPS 40"
    wrong["parts"][0]["foam"]["under_slab"]["board"] = polyiso
    wrong["parts"][0]["foam"]["inside"] = foam("2 in", polyiso)  # in the air it may
    wrong["parts"][0]["walls"][0]["ledge"]["foam"] = "5 in"
    wrong["openings"][0]["edge_foam"] = foam("9 in")
    found = dict(problems_of(wrong))
    assert set(found) == {
        "parts[1].foam.outside.board",
        "parts[1].foam.under_slab.board",
        "parts[1].walls[1].ledge.foam",
        "openings[1].edge_foam.thickness",
    }
    assert "XPS IV" in found["parts[1].foam.outside.board"]
    assert "in the ground" in found["parts[1].foam.under_slab.board"]
    assert "4 3/4 in" in found["parts[1].walls[1].ledge.foam"].replace('4 3/4"', "4 3/4 in")


def test_unknown_foam_is_refused_with_its_sentence(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["frame"]["outside_foam"] = foam("1 in", "cork")
    with pytest.raises(
        PlanError, match=r'frame\.outside_foam\.board is "cork", which is not among the boards'
    ):
        sections_along(planned(demo_tables, demo_job.survey), ANSWER)


def test_section_of_an_unheated_or_unknown_wall(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["parts"][1] |= {"heated": False, "floor_heated": False}
    cold = planned(demo_tables, demo_job.survey)
    check_sound(section_at(cold, ANSWER, "F-G", 3.0))
    with pytest.raises(KeyError, match="no wall is called X-Y"):
        section_at(cold, ANSWER, "X-Y", 3.0)
    with pytest.raises(KeyError, match="no answer is called"):
        sections_along(cold, "cheapest")


def with_everything(tables: dict[str, Any]) -> dict[str, Any]:
    """The demo with a door that has foam, a wing, a band, inside foam and foam on the sheathing."""
    tables["openings"][0]["edge_foam"] = foam("2 in")
    tables["openings"].append(
        {
            "name": "patio",
            "line": "C-D",
            "start": "10 ft",
            "width": "6 ft",
            "bottom": "206 ft",
            "height": "7 ft",
        }
    )
    tables["parts"][1]["foam"] |= {"wing": foam("2 in", width="3 ft"), "under_slab_band": "6 ft"}
    tables["parts"][0]["foam"]["inside"] = foam("1 in", "EPS II")
    tables["parts"][0]["walls"][1]["foam"] = {"outside": foam("4 in", "EPS II"), "outside_depth": "3 ft"}
    tables["frame"] |= {"outside_foam": foam("1 1/2 in"), "outside_foam_laps": "3 in"}
    return tables


LIKELY = ["1 in", "2 in", "4 in", "8 in", "1 ft", "3 ft", "8 ft", "205.5 ft", "206 ft", "212 ft", "214 ft"]
CHANGED = ("parts", "openings", "frame", "soil")


def changed(tables: dict[str, Any], rng: random.Random) -> dict[str, Any]:
    """The tables with one to three values changed or left out, now and then to something absurd."""
    tables = copy.deepcopy(tables)
    for _ in range(rng.choice((1, 1, 2, 3))):
        path = rng.choice([p for p in leaves(tables) if p[0] in CHANGED])
        place = tables
        for key in path[:-1]:
            place = place[key]
        if rng.random() < 0.15:
            del place[path[-1]]
        elif rng.random() < 0.1:
            place[path[-1]] = copy.deepcopy(rng.choice(VALUES))
        elif isinstance(place[path[-1]], str) and place[path[-1]][-2:] in ("in", "ft", '2"'):
            place[path[-1]] = rng.choice(LIKELY)
    return tables


@pytest.mark.parametrize("seed", range(4))
def test_odd_projects_make_sound_sections(demo_tables: dict[str, Any], demo_job: Job, seed: int) -> None:
    rng = random.Random(seed)
    whole = with_everything(demo_tables)
    sound = 0
    for _ in range(40):
        project, _ = check(changed(whole, rng))
        if project is None:
            continue
        try:
            made = plan(project, demo_job.survey)
        except PlanError:
            continue
        if foam_problems(project):
            continue
        answer = rng.choice(made.steppings).name
        edge_change(made, answer)
        found = sections_along(made, answer)
        for placed in rng.sample(found, min(6, len(found))):
            check_sound(placed.section)
            check_sound(bare(placed.section))
        line = rng.choice(made.lines).wall
        if made.project.parts[0].use != "interior wall":
            check_sound(section_at(made, answer, line.name, rng.uniform(0.0, line.length)))
        sound += 1
    assert sound > 5
