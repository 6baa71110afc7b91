"""Walls of the demo lot and of worked layouts, read back from the project's own words.

The demo lot is invented; levels marked "lot" are its hand table [derived]. Grade is read again from the surface itself.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely

from foundation import units
from foundation.footing.cover import inch_stations
from foundation.model.concrete import BareConcrete, Fill, TopOfWall, WallPiece, Walls
from foundation.plan import Plan, plan
from foundation.plan.beside import ground_of
from foundation.plan.lines import PlanError
from foundation.plan.walls import WOOD_ABOVE_GRADE, openings_of, walls_of
from foundation.project import check
from tests.plan.walls import wall_tables

FOOT, INCH = 0.3048, 0.0254
EIGHT = 8 * INCH


def walled(tables: dict[str, Any], survey: str = "", answer: str = "least cost") -> tuple[Plan, Walls]:
    project, problems = check(tables)
    assert project is not None, problems
    found = plan(project, survey)
    ground, _, beside = ground_of(project, survey)
    return found, walls_of(project, found.stepping(answer), found.lines, beside, ground)


@pytest.fixture
def survey(demo_job: Any) -> str:
    return str(demo_job.survey)


@pytest.fixture(scope="module")
def demo_walls(demo_plan: Plan, demo_job: Any) -> Walls:
    ground, _, beside = ground_of(demo_job.project, demo_job.survey)
    return walls_of(demo_job.project, demo_plan.stepping("least cost"), demo_plan.lines, beside, ground)


def pieces(walls: Walls, line: str) -> list[WallPiece]:
    return [piece for piece in walls.pieces if piece.line == line]


def fill(walls: Walls, line: str) -> Fill:
    return next(each for each in walls.fills if each.line == line)


def top(walls: Walls, line: str) -> TopOfWall:
    return next(each for each in walls.tops if each.line == line)


def bare(walls: Walls, line: str) -> BareConcrete:
    return next(each for each in walls.bare if each.line == line)


def feet(piece: WallPiece) -> float:
    return round((piece.top - piece.bottom) / FOOT, 4)


def face(demo: Plan, line: str) -> np.ndarray:
    """Finished grade at every inch of a wall's face, straight from the surface."""
    wall = demo.line(line).wall
    share = inch_stations(wall.length) / wall.length
    assert demo.finished is not None
    return demo.finished.grade(
        wall.start_at[0] + share * (wall.end_at[0] - wall.start_at[0]) + 1e-5 * wall.outward[0],
        wall.start_at[1] + share * (wall.end_at[1] - wall.start_at[1]) + 1e-5 * wall.outward[1],
    )


def test_headroom(demo_walls: Walls) -> None:
    (room,) = demo_walls.headrooms  # lot: 8'-5 1/2"
    assert room.part == "house"
    assert units.feet_inches(room.height) == "8'-5 1/2\""


def test_heights_of_the_house(demo_walls: Walls) -> None:
    # Lot: walls of 9, 11 and 13 ft on the sides, no fillers.
    for line in ("D-A", "H-C"):
        own = pieces(demo_walls, line)
        assert sorted({feet(piece) for piece in own}) == [9, 11, 13]
        assert all(piece.filler == piece.over == 0 for piece in own)
    stacks = {feet(p): [round(h / FOOT) for h in p.panels] for p in pieces(demo_walls, "D-A")}
    assert stacks == {9: [9], 11: [9, 2], 13: [9, 4]}


def test_pieces_follow_every_answer(demo_plan: Plan, demo_job: Any) -> None:
    ground, _, beside = ground_of(demo_job.project, demo_job.survey)
    for stepping in demo_plan.steppings:
        walls = walls_of(demo_job.project, stepping, demo_plan.lines, beside, ground)
        filled = sum(p.end - p.start for p in walls.pieces if p.filler > 0 and p.line != "E-F")
        counted = sum(
            r.end - r.start
            for r in stepping.runs
            if r.line != "E-F" and min(abs(214.5 - r.top / FOOT - n) for n in range(2, 20)) > 1e-3
        )
        assert filled == pytest.approx(counted, abs=1e-6)
        for line in demo_plan.lines:
            own = pieces(walls, line.wall.name)
            assert own[0].start == 0.0
            assert own[-1].end == pytest.approx(line.wall.length)
            assert [p.end for p in own[:-1]] == [p.start for p in own[1:]]


def test_garage_wall_lowered_under_its_door(demo_walls: Walls) -> None:
    lowered = [p for p in pieces(demo_walls, "E-F") if p.top < 214.4 * FOOT]
    # Lot: 16 ft door, wall lowered to 213.17 ft.
    (under,) = lowered
    assert [round(v / FOOT, 6) for v in (under.start, under.end, under.top)] == [4, 20, 213.17]


def test_walkout_ledge(demo_walls: Walls) -> None:
    (ledge,) = demo_walls.ledges
    # Lot: 12 in thinned to 7 1/4 in leaves 4 3/4 in: 2 in of foam, 2 3/4 in of slab edge on the under-slab foam.
    assert (ledge.wall - ledge.upper) / INCH == pytest.approx(4.75)
    assert (ledge.remainder, ledge.bypass, ledge.veneer) == (0.0, False, False)
    assert ledge.carries / INCH == pytest.approx(7.25)


def test_slab_on_bare_ledge(demo_tables: dict[str, Any], survey: str) -> None:
    ledge = demo_tables["parts"][0]["walls"][0]["ledge"]
    ledge["level"] = "205'-8 1/2\""  # the slab's own underside
    demo_tables["parts"][0]["walls"][0].pop("carries")
    (found,) = walled(demo_tables, survey)[1].ledges
    assert found.bypass
    assert np.isnan(found.carries)


def test_fill_of_the_house(demo_walls: Walls, demo_plan: Plan) -> None:
    north = fill(demo_walls, "A-B")
    # Lot: finished 213.83 at A and B, top of footing 205.50; no slab before the backfill.
    assert north.height[[0, -1]] / FOOT == pytest.approx([8.33, 8.33], abs=0.005)
    assert north.height / FOOT == pytest.approx(face(demo_plan, "A-B") / FOOT - 205.5, abs=1e-4)
    assert not any(stage.top or stage.foot for stage in north.supports[:2])
    # Lot: 205.45 at C, 205.40 at D, 205.20 at the dip, over a footing at 201.50.
    walkout = fill(demo_walls, "C-D")
    assert walkout.height[[0, -1]] / FOOT == pytest.approx([3.95, 3.90], abs=0.005)
    assert walkout.height.min() / FOOT == pytest.approx(3.70, abs=0.005)
    # At a step the lower footing counts: 2'-6" from H it goes from 205.50 to 203.50.
    side = fill(demo_walls, "H-C")
    assert side.inside[[29, 30, 31]] / FOOT == pytest.approx([205.5, 203.5, 203.5])


def test_fill_under_the_garage(demo_walls: Walls, demo_plan: Plan) -> None:
    common = fill(demo_walls, "B-H")
    underside = 214 - 4 / 12
    assert common.outside / FOOT == pytest.approx(underside)
    assert common.height / FOOT == pytest.approx(underside - 205.5)
    east = fill(demo_walls, "G-H")
    # It pushes outwards, down to the lot's 209.95 at H.
    assert (east.inside > east.outside).all()
    assert east.height[-1] / FOOT == pytest.approx(underside - 209.95, abs=0.005)
    assert east.height / FOOT == pytest.approx(underside - face(demo_plan, "G-H") / FOOT, abs=1e-4)
    assert not any(stage.top for stage in east.supports)


def test_slab_before_backfill_takes_fill_away(demo_tables: dict[str, Any], survey: str) -> None:
    demo_tables["stage"] |= {"slab_before_backfill": "yes", "deck_before_backfill": "braced"}
    north = fill(walled(demo_tables, survey)[1], "A-B")
    assert north.height[0] / FOOT == pytest.approx(213.83 - 206 - 0.5 / 12, abs=0.005)
    backfill = next(stage for stage in north.supports if stage.stage == "backfill")
    assert (backfill.top, backfill.foot) == (True, True)


def test_bare_concrete_of_the_demo(demo_walls: Walls, demo_plan: Plan) -> None:
    assert {each.line for each in demo_walls.bare} == {
        line.wall.name for line in demo_plan.lines if not line.wall.beyond
    }
    for each in demo_walls.bare:
        grade = face(demo_plan, each.line)
        levels = [(x, g) for x, g in zip(inch_stations(each.station[-1]), grade, strict=True)]
        soil = shapely.Polygon([(levels[0][0], 0.0), *levels, (levels[-1][0], 0.0)])
        solid = shapely.union_all(
            [shapely.box(p.start, p.bottom, p.end, p.top) for p in pieces(demo_walls, each.line)]
        )
        # The polygon's grade is straight from inch to inch: a break between two costs a few square millimetres.
        assert each.area == pytest.approx(solid.difference(soil).area, abs=1e-4)
    under_door = bare(demo_walls, "E-F")
    door = (under_door.station > 4.1 * FOOT) & (under_door.station < 19.9 * FOOT)
    assert (under_door.height[door] == 0).all()


def test_the_walkout_stands_too_low_for_wood(demo_walls: Walls, demo_plan: Plan) -> None:
    """Lot: 205.45 at C and 205.40 at D; the low top 206.04 is 7 in and 7 3/4 in above, not 8: it stays full."""
    for line in ("C-D", "D-A", "H-C"):
        found = top(demo_walls, line)
        assert found.needed == pytest.approx(face(demo_plan, line) + EIGHT, abs=1e-4)
        assert (found.drop_from, found.drop_to) == (None, None)
    assert top(demo_walls, "C-D").needed[[0, -1]] / FOOT == pytest.approx(
        [205.45 + 2 / 3, 205.40 + 2 / 3], abs=0.005
    )


def test_a_higher_low_top_drops_the_walkout(
    demo_plan: Plan, demo_tables: dict[str, Any], survey: str
) -> None:
    for size in demo_tables["parts"][0]["walls"]:
        size["low_top"] = "206'-6\""
    _, walls = walled(demo_tables, survey)
    assert pytest.approx(EIGHT) == WOOD_ABOVE_GRADE
    whole = top(walls, "C-D")
    assert (whole.drop_from, whole.drop_to) == (0.0, pytest.approx(44 * FOOT))
    assert {round(p.top / FOOT, 6) for p in pieces(walls, "C-D")} == {206.5}
    for line, corner in (("D-A", 0), ("H-C", -1)):
        # Both sides drop near the walkout, and round the corner the three agree.
        side = top(walls, line)
        assert side.drop_from is not None
        assert side.drop_to is not None
        fits = face(demo_plan, line) + EIGHT <= 206.5 * FOOT + 1e-6
        inside = (side.station >= side.drop_from - 1e-9) & (side.station <= side.drop_to + 1e-9)
        assert (fits == inside).all()
        assert inside[corner]
        assert [p.top for p in pieces(walls, line)][corner] == pytest.approx(206.5 * FOOT)
    # What is lowered shows less: by the drop times the length.
    assert bare(walls, "C-D").area / FOOT**2 == pytest.approx(
        44 * 206.5 - np.trapezoid(face(demo_plan, "C-D"), inch_stations(44 * FOOT)) / FOOT**2, abs=0.01
    )


def test_a_wall_named_across_a_tee(demo_tables: dict[str, Any], survey: str) -> None:
    """B-C is two lines, with the garage beyond the first: named from either end, its openings find their line."""
    demo_tables["parts"][0]["walls"][2] = {"line": "C-B", "low_top": "206'-6\""}
    common = {"kind": "window", "width": "3 ft", "bottom": "211 ft", "height": "2 ft"}
    demo_tables["openings"] = [
        {"name": "one", "line": "C-B", "start": "2 ft", **common},
        {"name": "two", "line": "B-C", "start": "2 ft", **common},
    ]
    found, walls = walled(demo_tables, survey)
    assert [(o.line, round(o.start / FOOT, 6), round(o.end / FOOT, 6)) for o in walls.openings] == [
        ("H-C", 11, 14),
        ("B-H", 2, 5),
    ]
    assert {each.line for each in walls.tops} == {"C-D", "D-A", "H-C"}
    assert top(walls, "H-C").drop_to == pytest.approx(16 * FOOT)
    demo_tables["openings"][0]["start"] = "14 ft"
    (problem,) = openings_of(check(demo_tables)[0], found.lines)[1]  # type: ignore[arg-type]
    assert problem.sentence == (
        "Window one on wall C-B stands where another wall meets it: move it to one side."
    )


@pytest.mark.parametrize(
    ("change", "place", "sentence"),
    [
        ({"line": "A-Z"}, "openings[1].line", "names wall A-Z, which is not among the walls: A-B"),
        ({"start": "20 ft"}, "openings[1].start", "reaches to 36.00 ft"),
        ({"bottom": "208 ft"}, "openings[1].bottom", "raise it, or lower the footing"),
        ({"kind": "sleeve", "bottom": "215 ft"}, "openings[1].bottom", "give it a lower level"),
    ],
)
def test_openings_that_do_not_fit(
    demo_tables: dict[str, Any], survey: str, change: dict[str, str], place: str, sentence: str
) -> None:
    demo_tables["openings"][0] |= change
    with pytest.raises(PlanError) as caught:
        walled(demo_tables, survey)
    (problem,) = caught.value.problems
    assert (problem.place, problem.fatal) == (place, True)
    assert sentence in problem.sentence.replace("36'-0\"", "36.00 ft")


def test_a_door_above_the_concrete_is_only_told(demo_tables: dict[str, Any], survey: str) -> None:
    demo_tables["openings"][0]["bottom"] = "215 ft"
    found, walls = walled(demo_tables, survey)
    (problem,) = openings_of(found.project, found.lines)[1]
    assert not problem.fatal
    assert [p.top / FOOT for p in pieces(walls, "E-F")] == pytest.approx([214.5, 214.5])


@pytest.mark.parametrize(
    ("size", "place", "sentence"),
    [
        ({"low_top": "215 ft"}, "parts[1].walls[1].low_top", "give a level below the top of wall"),
        ({"ledge": "200 ft"}, "parts[1].walls[1].ledge.level", "above the top of footing"),
        ({"ledge": "214.5 ft"}, "parts[1].walls[1].ledge.level", "give a level below the top of wall"),
    ],
)
def test_levels_without_concrete(
    demo_tables: dict[str, Any], survey: str, size: dict[str, str], place: str, sentence: str
) -> None:
    wall = demo_tables["parts"][0]["walls"][0]
    if "ledge" in size:
        wall["ledge"]["level"] = size["ledge"]
    else:
        wall |= size
    with pytest.raises(PlanError) as caught:
        walled(demo_tables, survey)
    (problem,) = caught.value.problems
    assert problem.place == place
    assert sentence in problem.sentence


def test_low_top_below_its_footing() -> None:
    # Hardly any frost under a footing 24 in thick: its top stands higher above grade than wood must.
    part = {"slab_top": "92 ft", "footing_thickness": "24 in"}
    tables = wall_tables("20 ft", ["0 ft", "20 ft"], ["84 ft", "84 ft"], "1 in", part)
    tables["frost"]["into_undisturbed"] = "0 in"
    tables["parts"][0]["walls"] = [{"line": "B-A", "low_top": "88 ft"}]
    _, walls = walled(tables)
    assert [p.top / FOOT for p in walls.pieces] == pytest.approx([88])
    assert (walls.pieces[0].bottom - 84 * FOOT) / INCH > 8
    tables["parts"][0]["walls"][0]["low_top"] = "84'-8\""
    with pytest.raises(PlanError, match="and above the top of footing"):
        walled(tables)


def test_forty_eight_inches_of_frost() -> None:
    """The worked wall of 40 ft: bottoms 91.33, 89.33, 88.00 under a 101'-2" top [derived, docs/worked-layout.md]."""
    part = {
        "slab_top": "92.50 ft", "slab_thickness": "4 in", "footing_width": "20 in", "footing_thickness": "10 in",
    }  # fmt: skip
    tables = wall_tables("40 ft", ["0 ft", "40 ft"], ["100 ft", "92 ft"], "48 in", part, station_grid="4 in")
    tables["prices"] = {"step": "$150"}
    _, walls = walled(tables)
    assert [feet(piece) for piece in walls.pieces] == [9, 11, 12.3333]
    assert [[round(h / FOOT) for h in piece.panels] for piece in walls.pieces] == [[9], [9, 2], [8, 4]]
    assert [round(piece.filler / INCH, 6) for piece in walls.pieces] == [0, 0, 4]
    assert [feet(p) > 10 for p in walls.pieces] == [False, True, True]
    # Grade 100 to 92 under 101'-2": 1.1667 ft and 9.1667 ft show, 40 × 5.1667 ft² in all.
    (shows,) = walls.bare
    assert shows.height[[0, -1]] / FOOT == pytest.approx([7 / 6, 7 / 6 + 8])
    assert shows.area / FOOT**2 == pytest.approx(40 * (7 / 6 + 4))


def test_walls_inside_one_space_have_no_fill(demo_tables: dict[str, Any], survey: str) -> None:
    demo_tables["corners"] |= {
        "P": {"east": "2122 ft", "north": "5220 ft"},
        "Q": {"east": "2122 ft", "north": "5190 ft"},
    }
    demo_tables["parts"].append(
        {
            "name": "bearing wall",
            "use": "interior wall",
            "corners": ["P", "Q"],
            "ring": False,
            "slab_top": "206'-0 1/2\"",
            "foam_over_footing": "2 1/2 in",
        }
    )
    found, walls = walled(demo_tables, survey)
    assert pieces(walls, "P-Q")
    lines = {line.wall.name for line in found.lines}
    assert {each.line for each in walls.fills} == lines - {"P-Q"}
    assert "P-Q" not in {each.line for each in walls.bare}
    # The walkout's low top and ledge hold on both sides of the tee.
    assert [each.line for each in walls.ledges] == ["C-Q", "Q-D"]
    assert {"C-Q", "Q-D"} <= {each.line for each in walls.tops}
