"""The take-off against integrations written another way, worked layouts by hand, and the numbers of the demo lot.

The independent integration fills boxes: every run, leg and wall is a box between its own levels, reaching past its
corners; a grid cut at every side and level of them all tells which cells are concrete, so that nothing counts twice
and the sum is exact. It knows nothing of mitres or of what the count corrects.
"""

from __future__ import annotations

import datetime
import math
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import shapely

from foundation.model.takeoff import Item, Piece, TakeOff
from foundation.model.walls import WallLine
from foundation.plan import Plan
from foundation.plan.takeoff import take_off
from foundation.plan.takeoff_bars import NONE_ENTERED
from foundation.plan.takeoff_concrete import footing_concrete, wall_concrete
from foundation.plan.takeoff_dig import feet_of, grounds_of, side_slope
from foundation.plan.takeoff_drain import drains_of
from foundation.plan.takeoff_floors import floor_shapes
from foundation.plan.takeoff_foam import foam_items
from foundation.plan.takeoff_forms import footing_forms, panel_counts, wall_forms
from foundation.plan.takeoff_words import Words
from tests.conftest import planned
from tests.drawings.random_lots import random_plans
from tests.plan.walls import wall_tables
from tests.studies.lots import slab_plan, slab_tables

FOOT, INCH = 0.3048, 0.0254
YARD3 = (3 * FOOT) ** 3
US = Words("us")
Box = tuple[float, float, float, float, float, float]


def named(taken: TakeOff, key: str) -> Item:
    return next(item for item in taken.items if item.key == key)


def volume(pieces: tuple[Piece, ...]) -> float:
    return math.fsum(piece.quantity for piece in pieces)


# --- concrete, by boxes ---


class Boxes:
    """Bodies of walls along east and north, as boxes."""

    def __init__(self, plan: Plan, answer: str) -> None:
        self.plan, self.answer = plan, answer
        self.lines = {line.wall.name: line.wall for line in plan.lines}

    def box(
        self, wall: WallLine, start: float, end: float, inner: float, outer: float, low: float, high: float
    ) -> Box:
        along = [(b - a) / wall.length for a, b in zip(wall.start_at, wall.end_at, strict=True)]
        ends = [
            [
                wall.start_at[axis] + at * along[axis] + out * wall.outward[axis]
                for at, out in ((start, inner), (end, outer))
            ]
            for axis in (0, 1)
        ]
        (x0, x1), (y0, y1) = (sorted(pair) for pair in ends)
        return x0, x1, y0, y1, low, high

    def past(self, wall: WallLine, corner: str, footing: bool) -> float:
        """How far a body reaches past a corner where its own part turns: to the other one's far side."""
        for other in self.lines.values():
            if other.part != wall.part or other is wall or corner not in (other.start, other.end):
                continue
            way = np.subtract(other.end_at, other.start_at) / other.length
            own = np.subtract(wall.end_at, wall.start_at) / wall.length
            if abs(np.cross(np.append(own, 0), np.append(way, 0))[2]) < 0.5:
                continue
            away = way if corner == other.start else -way
            inside_corner = float(away @ wall.outward) > 0.5
            reach = other.projection if footing else 0.0
            return reach + other.wall_thickness if inside_corner else reach
        return 0.0

    def footings(self) -> list[Box]:
        stepping = self.plan.stepping(self.answer)
        found = []
        for run in stepping.runs:
            wall = self.lines[run.line]
            start = run.start - (self.past(wall, wall.start, True) if run.start < 1e-6 else 0.0)
            end = run.end + (self.past(wall, wall.end, True) if run.end > wall.length - 1e-6 else 0.0)
            sides = -wall.wall_thickness - wall.projection, wall.projection
            found.append(self.box(wall, start, end, *sides, run.bottom, run.top))
        for step in stepping.steps:
            wall = self.lines[step.line]
            leg = self.plan.rules.leg or wall.footing_thickness
            start = step.station if step.after < step.before else step.station - leg
            low, high = sorted((step.before, step.after))
            thick = wall.footing_thickness
            sides = -wall.wall_thickness - wall.projection, wall.projection
            found.append(self.box(wall, start, start + leg, *sides, low + thick, high + thick))
        for extra in self.plan.extras:
            level = extra.bottom.level
            half = extra.length / 2, extra.width / 2
            found.append(
                (extra.east - half[0], extra.east + half[0], extra.north - half[1], extra.north + half[1],
                 level, level + extra.thickness)
            )  # fmt: skip
        return found

    def walls(self) -> tuple[list[Box], list[Box]]:
        """Walls, and the holes in them."""
        walls = self.plan.walls[self.answer]
        ledges = {ledge.line: ledge for ledge in walls.ledges}
        full, holes = [], []
        for piece in walls.pieces:
            wall = self.lines[piece.line]
            start = piece.start - (self.past(wall, wall.start, False) if piece.start < 1e-6 else 0.0)
            end = piece.end + (self.past(wall, wall.end, False) if piece.end > wall.length - 1e-6 else 0.0)
            shelf = min(ledges[piece.line].level, piece.top) if piece.line in ledges else piece.top
            upper = ledges[piece.line].upper if piece.line in ledges else piece.thickness
            full.append(self.box(wall, start, end, -piece.thickness, 0.0, piece.bottom, shelf))
            full.append(self.box(wall, start, end, -upper, 0.0, shelf, piece.top))
        for hole in walls.openings:
            if hole.kind != "beam pocket":
                wall = self.lines[hole.line]
                holes.append(
                    self.box(wall, hole.start, hole.end, -wall.wall_thickness, 0.0, hole.bottom, hole.top)
                )
        return full, holes


def filled(full: list[Box], empty: list[Box]) -> float:
    """Volume of boxes, counted once, without others."""
    every = np.array([box for box in (*full, *empty) if box[5] > box[4]])
    cuts = [np.unique(np.round(every[:, 2 * axis : 2 * axis + 2], 7)) for axis in (0, 1, 2)]
    solid = np.zeros([len(cut) - 1 for cut in cuts], dtype=bool)
    for boxes, value in ((full, True), (empty, False)):
        for box in boxes:
            at = [
                slice(*np.searchsorted(cuts[axis], np.round(box[2 * axis : 2 * axis + 2], 7)))
                for axis in (0, 1, 2)
            ]
            solid[at[0], at[1], at[2]] = value
    sides = [np.diff(cut) for cut in cuts]
    return float(np.einsum("i,j,k,ijk", *sides, solid.astype(float)))


def both(plan: Plan, answer: str) -> list[tuple[float, float]]:
    """Count and integration of footings, and of walls; walls have no leg of a step in them."""
    boxes = Boxes(plan, answer)
    footings, (walls, holes) = boxes.footings(), boxes.walls()
    return [
        (volume(footing_concrete(plan, answer, US).pieces), filled(footings, [])),
        (volume(wall_concrete(plan, answer, US).pieces), filled(walls, [*holes, *footings])),
    ]


@pytest.mark.parametrize("answer", ["least cost", "fewest steps", "no fillers"])
def test_concrete_of_the_demo_is_what_its_boxes_fill(demo_plan: Plan, answer: str) -> None:
    for counted, integrated in both(demo_plan, answer):
        assert counted == pytest.approx(integrated, rel=1e-6)


def test_concrete_of_random_lots_is_what_their_boxes_fill() -> None:
    plans = random_plans(16)
    assert any("J" in plan.project.corners for plan in plans)  # inside corners
    assert any(len(plan.project.parts) > 1 for plan in plans)  # tees
    compared = 0
    for plan in plans:
        # Where two walls of different height meet, or a step stands at a tee, the boxes need a rule of their own.
        if any(step.station < 1e-6 or step.from_end < 1e-6 for step in plan.steppings[0].steps):
            continue
        for counted, integrated in both(plan, plan.steppings[0].name):
            assert counted == pytest.approx(integrated, rel=1e-6), plan.project.name
        compared += 1
    assert compared > 8


def test_pads_and_where_they_meet_a_footing(demo_tables: dict[str, Any], demo_job: Any) -> None:
    pad = {"north": "5205 ft", "length": "3 ft", "width": "3 ft", "thickness": "12 in", "inside": "house"}
    demo_tables["extras"] = [
        {"name": "clear", "east": "2120 ft", **pad},
        {"name": "at the wall", "east": "2102 ft", **pad},
    ]
    plan = planned(demo_tables, demo_job.survey)
    found = footing_concrete(plan, "least cost", US)
    assert volume(found.pads) == pytest.approx(2 * 9 * FOOT**3)
    # Footing of D-A reaches to 2101.25, the pad from 2100.5 on.
    assert any("at the wall" in piece.name for piece in found.shared)
    counted, integrated = both(plan, "least cost")[0]
    assert counted == pytest.approx(integrated, rel=1e-6)


def test_quantities_of_a_stepping_are_the_count_without_corners_legs_and_ledges(demo_plan: Plan) -> None:
    """A stepping's quantities are along the outside of concrete, with full walls over legs and ledges [derived]."""
    for plan in (demo_plan, *random_plans(6)):
        for stepping in plan.steppings:
            footing = footing_concrete(plan, stepping.name, US)
            wall = wall_concrete(plan, stepping.name, US)
            plain = volume((*footing.runs, *footing.legs, *wall.stretches, *wall.openings))
            assert plain == pytest.approx(stepping.quantities.concrete, rel=1e-9)
            faces, corners = wall_forms(plan, stepping.name, US)
            assert volume(faces) == pytest.approx(stepping.quantities.forms, rel=1e-9)
            assert volume(corners) < 0 if len(plan.lines) > 1 else not corners


def test_main_footing_of_the_demo(demo_plan: Plan) -> None:
    """148 ft of 20 × 10 in are 7.61 yd³: the lot's own table, along the outside [derived]."""
    house = [
        p
        for p in footing_concrete(demo_plan, "least cost", US).runs
        if p.name[0] in "ABCDH" and p.name[2] in "ABCDH"
    ]
    house = [p for p in house if not p.name.startswith("G-H")]
    assert volume(tuple(house)) / YARD3 == pytest.approx(7.61, abs=0.005)


def test_footing_round_a_house_by_offsets() -> None:
    """A ring without a step, against the area between two offsets of its outline (shapely)."""
    plan = slab_plan(prices={"step": "$0"})
    found = footing_concrete(plan, "least cost", US)
    assert not found.legs
    outline = shapely.Polygon([(0, 0), (30 * FOOT, 0), (30 * FOOT, 20 * FOOT), (0, 20 * FOOT)])
    ring = (
        outline.buffer(4 * INCH, join_style="mitre").area
        - outline.buffer(-12 * INCH, join_style="mitre").area
    )
    assert volume(found.pieces) == pytest.approx(ring * 10 * INCH, rel=1e-9)
    forms = (
        outline.buffer(4 * INCH, join_style="mitre").length
        + outline.buffer(-12 * INCH, join_style="mitre").length
    )
    assert volume(footing_forms(plan, "least cost", US)) == pytest.approx(forms * 10 * INCH, rel=1e-9)
    faces = sum(wall_forms(plan, "least cost", US), ())
    inner = outline.buffer(-8 * INCH, join_style="mitre").length
    high = plan.walls["least cost"].pieces[0]
    assert volume(faces) == pytest.approx((outline.length + inner) * (high.top - high.bottom), rel=1e-9)


# --- worked layout, bars ---


def worked(*bars: dict[str, Any]) -> Plan:
    part = {
        "slab_top": "92.50 ft",
        "slab_thickness": "4 in",
        "footing_width": "20 in",
        "footing_thickness": "10 in",
    }
    tables = wall_tables("40 ft", ["0 ft", "40 ft"], ["100 ft", "92 ft"], "48 in", part, station_grid="4 in")
    return planned(tables | {"prices": {"step": "$150"}, "bars": list(bars)})


def test_worked_layout() -> None:
    """60.19 ft³ of footing, docs/worked-layout.md [derived]; 2.23 yd³ and 5 % are ordered as 2 1/2."""
    taken = take_off(worked(), "least cost")
    footings = named(taken, "concrete-footings")
    assert footings.quantity / FOOT**3 == pytest.approx(60.19, abs=0.005)
    assert footings.order / YARD3 == pytest.approx(2.5)
    assert footings.order_words == "2.5 yd³"
    assert NONE_ENTERED in taken.notes
    assert not [item for item in taken.items if item.group == "bars"]


@pytest.mark.parametrize(("grade", "length", "weight"), [("40 ksi", 93.3, 62.3), ("60 ksi", 96.7, 64.6)])
def test_worked_bars(grade: str, length: float, weight: float) -> None:
    """Two #4 bars 86.7 ft; with laps of 20 and 30 in 93.3 and 96.7 ft (docs/worked-layout.md [derived]).

    Weights ASTM A615 [read], laps IRC 2018 Table R608.5.4(1) [read].
    """
    bars = named(take_off(worked({"where": "footings", "count": 2, "grade": grade}), "least cost"), "bars-1")
    bare = volume(tuple(piece for piece in bars.pieces if not piece.name.startswith("laps")))
    assert bare / FOOT == pytest.approx(86.7, abs=0.05)
    assert bars.quantity / FOOT == pytest.approx(length, abs=0.05)
    assert f"{weight} lb" in bars.formula
    # Each line takes two bars and a third that both cannot share: five bars hold six pieces.
    cut = bars.quantity / 2 - 40 * FOOT
    assert bars.order / (20 * FOOT) == 4 + math.ceil(2 * cut / (20 * FOOT))


def test_bars_in_walls_and_slabs() -> None:
    tables = slab_tables()
    tables["bars"] = [
        {"where": "walls, upright", "spacing": "24 in", "size": "#5"},
        {"where": "walls, level", "spacing": "24 in"},
        {"where": "slab", "spacing": "24 in", "size": "#4"},
        {"where": "footings"},
        {"where": "slab", "spacing": "24 in", "part": "barn"},
    ]
    plan = planned(tables)
    taken = take_off(plan, "least cost")
    high = 100 * FOOT - plan.walls["least cost"].pieces[0].bottom
    # 16 + 11 + 16 + 11 bars, one at either end of each wall.
    assert named(taken, "bars-1").quantity == pytest.approx(54 * high)
    rows = int(high / (24 * INCH) + 1e-9) + 1
    bare = [piece for piece in named(taken, "bars-2").pieces if not piece.name.startswith("laps")]
    assert volume(tuple(bare)) == pytest.approx(rows * (100 * FOOT + 4 * 30 * INCH))
    # Slab of 28'-8" × 18'-8": 10 bars (half a spacing from the edge) the long way, 15 the short way, laps of 30 in.
    slab = [piece for piece in named(taken, "bars-3").pieces if not piece.name.startswith("laps")]
    long, short = 28 + 8 / 12, 18 + 8 / 12
    count = math.ceil(short / 2 - 0.5), math.ceil(long / 2 - 0.5)
    assert volume(tuple(slab)) / FOOT == pytest.approx(count[0] * long + count[1] * short)
    told = " ".join(taken.notes)
    assert "bars[4], #4 in footings, are not counted: say how many run along the footing." in told
    assert 'are for "barn", which is no part; there are: house.' in told


# --- slabs, foam, stone ---


def test_floors_of_the_demo_by_hand(demo_plan: Plan) -> None:
    """House 44 × 30 ft: walls 10 in, 7 1/4 in over the ledge of C-D; 2 in of edge foam all round [derived]."""
    house, garage = floor_shapes(demo_plan, "least cost")
    inside = (44 - 20 / 12) * (30 - 17.25 / 12)
    assert house.inside.area / FOOT**2 == pytest.approx(inside)
    slab = (44 - 24 / 12) * (30 - 21.25 / 12)
    assert house.slab.area / FOOT**2 == pytest.approx(slab)
    # Garage 24 × 24 ft, 8 in walls, on the house's side for 10 ft; edge foam all round but at the door.
    width, depth = 24 - 8 / 12, 24 - 16 / 12
    assert garage.inside.area / FOOT**2 == pytest.approx(width * depth - (10 - 8 / 12) * 8 / 12)
    # The foam's own lengths: E-F beside the door, F-G, G-H, H up to B, B-E and its end at the house.
    edge = 2 / 12 * (width - 16 - 8 / 12 + depth - 4 / 12 + width + 14 - 10 / 12 + 10 - 8 / 12 + 8 / 12)
    assert garage.slab.area / FOOT**2 == pytest.approx(garage.inside.area / FOOT**2 - edge, abs=0.5)
    taken = take_off(demo_plan, "least cost")
    assert named(taken, "concrete-slab-of-house").quantity / FOOT**3 == pytest.approx(slab / 3)


def test_foam_of_the_demo_covers_what_it_should(demo_plan: Plan) -> None:
    items = {
        item.key: item
        for item in foam_items(demo_plan, "least cost", floor_shapes(demo_plan, "least cost"), US)[0]
    }
    outside = items["foam-wall-outside-xps-iv-51"]
    house = [piece for piece in outside.pieces if piece.name[:3] in ("A-B", "H-C", "C-D", "D-A")]
    # All faces of the house's outdoor walls, down to the footing: the same as its wall pieces.
    walls = [p for p in demo_plan.walls["least cost"].pieces if p.line in ("A-B", "H-C", "C-D", "D-A")]
    assert volume(tuple(house)) == pytest.approx(sum((p.end - p.start) * (p.top - p.bottom) for p in walls))
    for key, item in items.items():
        if "sheets" in item.order_words:
            assert item.order >= item.quantity
            assert item.order / (32 * FOOT**2) == pytest.approx(round(item.order / (32 * FOOT**2))), key
            assert item.order < 1.15 * item.quantity  # cut-offs are used: loose boards would waste far more
    # The garage's foam goes 4 ft below grade: against its own integral along the fill's inch stations.
    fills = {fill.line: fill for fill in demo_plan.walls["least cost"].fills}
    east = [piece for piece in outside.pieces if piece.name.startswith("F-G")]
    fill, total = fills["F-G"], 0.0
    for piece in (p for p in demo_plan.walls["least cost"].pieces if p.line == "F-G"):
        at = np.linspace(piece.start, piece.end, 2001)
        low = np.maximum(piece.bottom, np.interp(at, fill.station, fill.outside) - 4 * FOOT)
        total += float(np.trapezoid(piece.top - low, at))
    assert volume(tuple(east)) == pytest.approx(total, rel=1e-4)


def test_a_window_comes_out_of_the_foam(demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Any) -> None:
    window = {"name": "window", "kind": "window", "line": "A-B", "start": "10 ft", "width": "3 ft"}
    demo_tables["openings"].append({**window, "bottom": "210 ft", "height": "4 ft"})
    plan = planned(demo_tables, demo_job.survey)
    before, after = (
        named(take_off(each, "least cost"), "foam-wall-outside-xps-iv-51") for each in (demo_plan, plan)
    )
    assert before.quantity - after.quantity == pytest.approx(12 * FOOT**2)


def test_retarder_laps(demo_plan: Plan) -> None:
    retarder = named(take_off(demo_plan, "least cost"), "retarder")
    # Two strips of 20 ft with a 6 in lap cover 28'-6 3/4"; each is as long as the floor, 42'-4" and 23'-4".
    assert retarder.order / FOOT**2 == pytest.approx(2 * 20 * (42 + 4 / 12) + 2 * 20 * (23 + 4 / 12))


# --- drain ---


def test_drain_falls_from_the_high_point_to_daylight(demo_plan: Plan) -> None:
    for stepping in demo_plan.steppings:
        (drain,) = drains_of(demo_plan, stepping.name)
        assert drain.corner == "D"  # the lot's own table: invert at D 200.75
        assert drain.invert == pytest.approx(200.75 * FOOT)
        assert sum(pipe.length for pipe in drain.pipes) == pytest.approx(148 * FOOT)
        for pipe in drain.pipes:
            assert pipe.high - pipe.low == pytest.approx(pipe.length / 96)
            assert pipe.high < (206 + 0.5 / 12 - 4 / 12) * FOOT  # the slab's underside
        # Both ways from the high point every pipe begins no higher than the one above ends.
        top = max(range(len(drain.pipes)), key=lambda n: drain.pipes[n].high)
        ways = drain.pipes[: top + 1], drain.pipes[top + 1 :][::-1]
        for way in ways:
            inverts = [level for pipe in way for level in (pipe.low, pipe.high)]
            assert inverts == sorted(inverts)
            assert inverts[0] == pytest.approx(drain.invert)
        assert drain.high == pytest.approx(max(pipe.high for pipe in drain.pipes))
    pipe = named(take_off(demo_plan, "least cost"), "drain-pipe")
    assert pipe.quantity / FOOT == pytest.approx(148 + 34.4)


def test_stone_round_the_drain_and_damp_proofing(demo_plan: Plan) -> None:
    taken = take_off(demo_plan, "least cost")
    # (1 ft × (10 + 6 + 2 in)) less a 4 in pipe, for 148 ft, and 10 % waste.
    stone = named(taken, "stone-drain")
    each = 18 / 12 - math.pi / 4 * (4 / 12) ** 2
    assert stone.quantity / FOOT**3 == pytest.approx(148 * each)
    assert stone.order == pytest.approx(1.1 * stone.quantity)
    damp = {piece.name: piece.quantity for piece in named(taken, "damp-proofing").pieces}
    walls = demo_plan.walls["least cost"]
    for fill in (fill for fill in walls.fills if fill.line in damp):
        total = 0.0
        for piece in (p for p in walls.pieces if p.line == fill.line):
            at = np.linspace(piece.start, piece.end, 4001)
            soil = np.minimum(np.interp(at, fill.station, fill.outside), piece.top)
            total += float(np.trapezoid(np.maximum(0.0, soil - piece.bottom), at))
        assert damp[fill.line] == pytest.approx(total, rel=1e-4)


# --- digging ---


@pytest.mark.parametrize(("soil", "run_to_rise"), [("A", 0.75), ("B", 1.0), ("C", 1.5)])
@pytest.mark.parametrize("frost", ["36 in", "84 in"])
def test_dig_on_level_ground_is_its_prismoid(soil: str, run_to_rise: float, frost: str) -> None:
    """A rectangle dug h deep with sides that reach out s h: A h + P s h²/2 + π s² h³/3 [derived].

    Slopes OSHA 1926.652 [read].
    """
    part = {"slab_top": "100 ft", "wall_thickness": "10 in", "footing_width": "20 in"}
    tables = wall_tables("40 ft", ["0 ft", "40 ft"], ["100 ft", "100 ft"], frost, part)
    tables["digging"] = {"soil_class": soil}
    plan = planned(tables)
    bottom = float(plan.steppings[0].bottoms["A-B"][0])
    assert not plan.steppings[0].steps
    depth = 100 * FOOT - bottom
    long, wide = 40 * FOOT + 2 * (5 * INCH + 2 * FOOT), 20 * INCH + 4 * FOOT
    exact = (
        long * wide * depth + (long + wide) * run_to_rise * depth**2 + math.pi / 3 * run_to_rise**2 * depth**3
    )
    ground = grounds_of(plan, plan.steppings[0].name, cell=0.1)
    assert float((ground.existing - ground.dug).sum()) * ground.cell == pytest.approx(exact, rel=3e-3)
    taken = take_off(plan, plan.steppings[0].name)
    assert named(taken, "digging").quantity == pytest.approx(exact, rel=0.01)
    # All of it goes back but the concrete in the ground and what the wall's own space is not here.
    fill, haul = named(taken, "backfill").quantity, named(taken, "haul").quantity
    assert fill + haul == pytest.approx(named(taken, "digging").quantity)
    concrete = sum(named(taken, f"concrete-{pour}").quantity for pour in ("footings", "walls"))
    above = 40 * FOOT * 10 * INCH * max(0.0, plan.walls[plan.steppings[0].name].pieces[0].top - 100 * FOOT)
    assert haul == pytest.approx(concrete - above, rel=1e-6)


def test_deep_sides_keep_to_the_class_however_steep_the_project_says(demo_plan: Plan) -> None:
    digging = demo_plan.project.digging  # class C, 1 in 1 typed
    assert side_slope(digging, "sloped", 4.9 * FOOT) == pytest.approx(1.0)
    assert side_slope(digging, "sloped", 5 * FOOT) == pytest.approx(2 / 3)
    assert side_slope(digging, "shored", 9 * FOOT) == pytest.approx(1.0)
    slopes = grounds_of(demo_plan, "least cost").sloped
    assert set(slopes.values()) == {1.0, 2 / 3}


def test_cut_of_the_demo_by_quadrature(demo_plan: Plan) -> None:
    """Inside the house alone: existing ground down to bed or footing dig, by random points (Monte Carlo)."""
    random = np.random.default_rng(7)
    east, north = random.uniform(2100, 2144, 10_000) * FOOT, random.uniform(5190, 5220, 10_000) * FOOT
    assert demo_plan.existing is not None
    existing = demo_plan.existing.grade(east, north)
    slab = 206 + 0.5 / 12
    dug = np.minimum(existing, (slab - (4 + 2.5 + 4) / 12) * FOOT)
    slopes = grounds_of(demo_plan, "least cost").sloped
    for foot in feet_of(demo_plan, "least cost"):
        corners = [
            np.array(foot.corner)
            + a * foot.sides[0] * np.array(foot.along)
            + b * foot.sides[1] * np.array(foot.across)
            for a, b in ((0, 0), (1, 0), (1, 1), (0, 1))
        ]
        away = shapely.distance(shapely.points(east, north), shapely.Polygon(corners))
        dug = np.minimum(dug, foot.level + away * slopes[foot.name])
    cut = float((existing - dug).mean()) * 44 * 30 * FOOT**2
    counted = next(
        p for p in named(take_off(demo_plan, "least cost"), "digging").pieces if p.name == "inside house"
    )
    error = float((existing - dug).std()) / 100 * 44 * 30 * FOOT**2
    assert counted.quantity == pytest.approx(cut, abs=3 * error)
    assert error / cut < 0.01


# --- pours, prices, tube ---


def test_pours_of_the_demo(demo_tables: dict[str, Any], demo_job: Any) -> None:
    demo_tables["pours"] = [
        {"name": "Footings", "state": "poured"},
        {"name": "garage", "strength": "3500 psi", "air": "6 %", "mix": "fibre"},
        {"name": "slab", "state": "ordered"},
    ]
    demo_tables["stage"]["wall_concrete"] = "3000 psi"
    pours = {pour.name: pour for pour in take_off(planned(demo_tables, demo_job.survey), "least cost").pours}
    assert list(pours) == ["footings", "walls", "slab of house", "slab of garage"]
    assert [pour.state for pour in pours.values()] == ["poured", "planned", "ordered", "planned"]
    assert pours["slab of garage"].mix == "fibre, 3,500 psi, 6 % air"
    assert pours["walls"].mix == "3,000 psi"
    # 13 ft of wall at 4 ft an hour; ten yards a truck.
    assert pours["walls"].hours == pytest.approx(13 / 4)
    assert math.isnan(pours["footings"].hours)
    for pour in pours.values():
        assert pour.order / YARD3 * 4 == pytest.approx(round(pour.order / YARD3 * 4))
        assert pour.concrete * 1.05 <= pour.order + 1e-9 < pour.concrete * 1.05 + YARD3 / 4
        assert pour.trucks == math.ceil(pour.order / YARD3 / 10 - 1e-9)


def test_money_has_its_band(demo_plan: Plan) -> None:
    fresh = take_off(demo_plan, "least cost", today=datetime.date(2026, 11, 25))
    stale = take_off(demo_plan, "least cost", today=datetime.date(2027, 3, 1))
    for item in fresh.items:
        assert item.money.low <= item.money.likely <= item.money.high
        assert item.money.likely == pytest.approx(item.price.likely * item.order)
        assert not item.stale
    for band in ("low", "likely", "high"):
        assert getattr(fresh.money, band) == pytest.approx(sum(getattr(i.money, band) for i in fresh.items))
    concrete, old = named(fresh, "concrete-walls"), named(stale, "concrete-walls")
    assert concrete.price.likely * YARD3 == pytest.approx(190)
    assert concrete.quoted
    assert (concrete.price.low * YARD3, concrete.price.high * YARD3) == pytest.approx(
        (190 * 0.95, 190 * 1.05)
    )
    assert old.stale
    assert (old.price.low * YARD3, old.price.high * YARD3) == pytest.approx((190 * 0.7, 190 * 1.3))
    assert any(note.startswith("Quotes older than 90 days") for note in stale.notes)
    # Stone was never typed: the day of the other prices is not its day.
    stone = named(fresh, "stone-slab")
    assert not stone.quoted
    assert stone.price.high == pytest.approx(1.3 * stone.price.likely)


def test_panels_make_their_walls(demo_plan: Plan) -> None:
    counts, filler = panel_counts(demo_plan, "least cost")
    area = sum(high * wide * count for (high, wide), count in counts.items()) + filler
    # Columns are as tall as their tallest wall, so panels cover at least the walls, and little more.
    faces = 2 * sum((p.end - p.start) * (p.top - p.bottom) for p in demo_plan.walls["least cost"].pieces)
    assert faces * 0.995 < area < faces * 1.15


def test_warm_floors_are_optional(demo_plan: Plan) -> None:
    without = take_off(demo_plan, "least cost")
    assert not [item for item in without.items if item.group == "tube"]
    assert any("Warm floors are not in this count" in note for note in without.notes)
    loop = SimpleNamespace(zone="basement", name="1", length=80.0, leaders=6.0)
    zone = SimpleNamespace(
        shape=SimpleNamespace(name="basement", covered=100.0), layings=(SimpleNamespace(loops=(loop, loop)),)
    )
    floors: Any = SimpleNamespace(
        zones=(zone,),
        coils=(SimpleNamespace(length=304.8),),
        manifolds=(SimpleNamespace(name="m", part="house"),),
    )
    taken = take_off(demo_plan, "least cost", floors)
    tube = named(taken, "tube")
    assert (tube.quantity, tube.order) == pytest.approx((160.0, 304.8))
    assert named(taken, "panel").quantity == pytest.approx(100.0)
    assert named(taken, "manifolds").money.likely == pytest.approx(650.0)


def test_no_answer_of_that_name(demo_plan: Plan) -> None:
    with pytest.raises(KeyError, match="there are: least cost"):
        take_off(demo_plan, "cheapest")
