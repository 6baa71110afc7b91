"""Traps 12, 13, 21, 41 and 42: digging, and footings beside each other."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from foundation.cautions import site_work
from foundation.cautions.site_work import DigFooting, Near
from foundation.model.concrete import Opening
from foundation.plan import Plan
from tests.cautions.cases import FOOT, INCH, cautions, named, number, of_demo, piece, told


def pad(name: str, east: float, north: float, inside: str = "") -> dict[str, Any]:
    size = {"length": "2 ft", "width": "2 ft", "thickness": "12 in"}
    return {"name": name, "east": f"{east} ft", "north": f"{north} ft", **size, "inside": inside}


def trench(name: str, start: tuple[float, float], end: tuple[float, float], bottom: str) -> dict[str, Any]:
    ends = (("start", start), ("end", end))
    places = {
        f"{end}_{way}": f"{at} ft"
        for end, place in ends
        for way, at in zip(("east", "north"), place, strict=True)
    }
    return {"name": name, **places, "bottom": bottom}


def test_pad_inside_the_line_of_a_footing() -> None:
    """A pad under the basement's posts, over the walkout's footing 4 ft lower: it stands outside a 45° line or not."""
    near = of_demo(lambda t: t.update(extras=[pad("post", 2122, 5193, "house")]))
    (caution,) = named(near, "inside-1-to-1-line")
    assert caution.trap.number == 12
    assert caution.where == "post"
    assert caution.line == "C-D"
    # The pad's bottom: 206.042 − 6 1/2 in − 12 in = 204.5, so 204.0 on the 8 in module; C-D's is 200.667.
    assert number(caution) / FOOT == pytest.approx(204.0 - 200.667, abs=0.001)
    assert caution.amounts["distance"].value / FOOT == pytest.approx(2 - 16 / 12, abs=0.001)
    far = of_demo(lambda t: t.update(extras=[pad("post", 2122, 5205, "house")]))
    assert not named(far, "inside-1-to-1-line")


def test_one_to_one_line() -> None:
    pair = Near("post", "wall", "post", 3.0, 2.9)
    (caution,) = site_work.inside_line_of_another([pair, pair._replace(distance=1.0)])
    assert caution.amounts["distance"].value == 1.0
    assert not site_work.inside_line_of_another([pair._replace(distance=3.0)])


def test_step_in_loose_soil() -> None:
    """A step carries itself; it is only told where class C soil was over-dug."""
    (caution,) = named(of_demo(lambda t: t["stage"].update(over_dig="yes")), "step-in-loose-soil")
    assert (caution.trap.number, caution.where, caution.trap.severity) == (12, "footing steps", 1)
    assert not site_work.step_in_loose_soil(2, "B", True)
    assert not site_work.step_in_loose_soil(2, "C", False)
    assert not site_work.step_in_loose_soil(0, "C", True)


def test_garage_footing_over_the_dig(demo_plan: Plan) -> None:
    """A level garage wall at 208.667 stands 4 ft above the basement's bottom at B, where the dig is."""
    best = demo_plan.stepping("least cost")
    level = next(run for run in best.runs if run.line == "E-F")
    high = tuple(
        dataclasses.replace(run, bottom=level.bottom, top=level.top, binds="frost")
        if run.line == "B-E"
        else run
        for run in best.runs
    )
    found = cautions(demo_plan, stepping=dataclasses.replace(best, runs=high))
    (caution,) = named(found, "footing-over-dig")
    assert caution.trap.decides == "a licensed engineer"
    assert told(caution) == (13, "garage", pytest.approx(4 * FOOT))
    assert caution.line == "B-E"
    assert not named(found, "footing-beside-dig")
    assert not named(cautions(demo_plan), "footing-over-dig")


def test_undisturbed_ground_beside_a_dig() -> None:
    """Foot of the dig + max(0, distance − working room − projection) × slope, worked by hand for a pad.

    The pad's edge is 4 ft off the wall, which leaves 4 − 2 − 5/12 = 1.583 ft of slope at 1 in 1, and 1.083 where the
    dig wanders by 6 in: at most 205.75, so 205.333 on the 8 in module.
    """
    outside = of_demo(lambda t: t.update(extras=[pad("pad", 2095, 5215)]))
    (caution,) = (c for c in named(outside, "footing-beside-dig") if c.where == "pad")
    assert number(caution) / FOOT == pytest.approx(205 + 4 / 12, abs=1e-6)
    assert not [c for c in named(outside, "footing-over-dig") if c.where == "pad"]
    far = of_demo(lambda t: t.update(extras=[pad("pad", 2085, 5215)]))
    assert not [c for c in far if c.where == "pad"]


def test_dig_that_governs_is_told_once() -> None:
    """The lot's garage: B–E is governed by the basement's dig, 204.667 to 2.9 ft."""
    (caution,) = named(of_demo(), "footing-beside-dig")
    assert told(caution) == (13, "garage", pytest.approx((204 + 8 / 12) * FOOT))
    assert caution.line == "B-E"
    beside = DigFooting("porch", 2.0, 2.0, 0.5)
    assert site_work.footing_beside_dig([beside])
    assert not site_work.footing_beside_dig([beside._replace(spared=0.0)])
    assert not site_work.footing_over_dig([beside])
    assert told(site_work.footing_over_dig([beside._replace(bottom=2.5)])[0]) == (13, "porch", 0.5)


def test_trench_inside_the_45_degree_line() -> None:
    """3 ft from the footing's edge and 4 ft below its bottom; at 5 ft it is clear."""
    edge = 2100 - 5 / 12  # outer edge of the west wall's footing, 204.667 from 13.5 ft north of D

    def dug(away: float) -> Any:
        line = trench("sewer", (edge - away, 5206), (edge - away, 5218), "200.667 ft")
        return lambda tables: tables["surroundings"].update(trenches=[line])

    (caution,) = named(of_demo(dug(3.0)), "dig-inside-45-line")
    assert told(caution) == (21, "sewer", pytest.approx(4 * FOOT, abs=1e-3))
    assert caution.amounts["distance"].value == pytest.approx(3 * FOOT)
    assert caution.line == "D-A"
    assert not named(of_demo(dug(5.0)), "dig-inside-45-line")


def test_trench_across_a_footing() -> None:
    def across(bottom: str) -> Any:
        line = trench("water", (2095, 5210), (2105, 5210), bottom)
        return lambda tables: tables["surroundings"].update(trenches=[line])

    through = of_demo(across("205.0 ft"))
    (caution,) = named(through, "pipe-through-footing")
    assert told(caution) == (42, "water", pytest.approx(0.5 * FOOT, abs=1e-3))  # top of footing 205.50
    assert not named(through, "dig-inside-45-line")
    assert named(of_demo(across("203 ft")), "dig-inside-45-line")
    assert not named(of_demo(across("206 ft")), "pipe-through-footing")


def test_sleeve_through_a_footing() -> None:
    def sleeve(bottom: str) -> Any:
        hole = {"name": "drain", "kind": "sleeve", "line": "A-B", "start": "10 ft", "width": "6 in"}
        return lambda tables: tables["openings"].append({**hole, "bottom": bottom, "height": "6 in"})

    (caution,) = named(of_demo(sleeve("205.25 ft")), "pipe-through-footing")
    assert told(caution) == (42, "drain", pytest.approx(3 * INCH))
    assert caution.line == "A-B"
    assert not named(of_demo(sleeve("205.50 ft")), "pipe-through-footing")


def test_opening_beside_a_change_of_height() -> None:
    """A footing step 12 in or more from the opening's corner leaves it sound [practice]."""
    wall = [piece("A-B", 0, 10, 0, 9), piece("A-B", 10, 20, -2, 9)]
    window = Opening("window", "window", "A-B", 6 * FOOT, 9.5 * FOOT, 5 * FOOT, 8 * FOOT)
    (caution,) = site_work.opening_at_height_change([window], wall)
    assert told(caution) == (42, "window", pytest.approx(6 * INCH))
    assert (caution.line, caution.station) == ("A-B", pytest.approx(10 * FOOT))
    assert not site_work.opening_at_height_change([dataclasses.replace(window, end=9 * FOOT)], wall)
    assert not site_work.opening_at_height_change([dataclasses.replace(window, line="B-C")], wall)
    assert not site_work.opening_at_height_change([dataclasses.replace(window, kind="sleeve")], wall)


def test_overhead_door_is_no_change_beside_itself() -> None:
    wall = [piece("E-F", 0, 4, 0, 5), piece("E-F", 4, 20, 0, 4), piece("E-F", 20, 24, 0, 5)]
    door = Opening("door", "overhead door", "E-F", 4 * FOOT, 20 * FOOT, 4 * FOOT, 12 * FOOT)
    assert not site_work.opening_at_height_change([door], wall)
    stepped = [*wall[:2], piece("E-F", 20, 24, -1, 5)]
    assert len(site_work.opening_at_height_change([door], stepped)) == 1


def test_deep_dig(demo_plan: Plan) -> None:
    """Ladder from 4 ft, protection from 5 ft, engineer below 20 ft (OSHA 1926.651–652 [read])."""
    (caution,) = named(of_demo(lambda t: t["stage"].pop("dig_protection")), "deep-dig")
    # The garage's first bench ends 5 ft from B, over 204.667; the wall's outer edge lies 4 in west of its face.
    assert demo_plan.existing is not None
    existing = float(demo_plan.existing.grade((2144 - 4 / 12) * FOOT, 5225 * FOOT))
    depth = existing - (204 + 8 / 12) * FOOT
    assert told(caution) == (41, "wall B-E", pytest.approx(depth, abs=0.01 * FOOT))
    (shallow,) = site_work.deep_dig([("A-B", 1.0, 4.5 * FOOT)], "unknown")
    assert "ladder" in shallow.sentence
    (deep,) = site_work.deep_dig([("A-B", 1.0, 6 * FOOT), ("B-C", 2.0, 21 * FOOT)], "shored")
    assert told(deep) == (41, "wall B-C", pytest.approx(21 * FOOT))
    assert deep.trap.key == "dig-over-20-ft"


@pytest.mark.parametrize(("depth", "protection"), [(3.9, "unknown"), (12, "sloped"), (20, "shored")])
def test_dig_that_is_safe(depth: float, protection: str) -> None:
    assert not site_work.deep_dig([("A-B", 1.0, depth * FOOT)], protection)
    assert not site_work.deep_dig([], "unknown")
