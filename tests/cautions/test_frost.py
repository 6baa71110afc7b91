"""Traps 6, 7, 8, 14 and 16: frost cover."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from foundation.cautions import frost
from foundation.footing.schedule import runs_of
from foundation.model.cover import Cover
from foundation.plan import Plan
from tests.cautions.cases import FOOT, INCH, cautions, named, number, of_demo, told

STATION = np.array([0.0, 1.0, 2.0])


def cover(*inches: float, air: float = 60.0, allowance: float = 53.0) -> dict[str, Cover]:
    straight = np.array(inches) * INCH
    flat = np.ones(3) * INCH
    return {"A-B": Cover(STATION, straight, air * flat, allowance * flat, 54 * INCH)}


def test_frost_depth_without_its_source() -> None:
    assert not frost.frost_unsourced("town office", True)
    for source, dated in (("", True), ("town office", False), ("", False)):
        (caution,) = frost.frost_unsourced(source, dated)
        assert (caution.trap.number, caution.where) == (6, "frost depth")


def test_cover_short() -> None:
    (caution,) = frost.cover_short(cover(55, 52.4, 54), 54 * INCH)
    assert told(caution) == (6, "wall A-B", pytest.approx(52.4 * INCH))
    assert caution.station == 1.0
    assert not frost.cover_short(cover(55, 54, 54.1), 54 * INCH)
    assert not frost.cover_short(cover(np.nan, np.nan, np.nan), 54 * INCH)


def test_walkout_dropped_by_46_inches(demo_plan: Plan) -> None:
    """Corners alone read 54.8 and 55.4 in, and the dip between them 52.4, by the lot's table [derived]."""
    best = demo_plan.stepping("least cost")
    line = demo_plan.line("C-D")
    bottom = np.full(len(line.node) - 1, (204 + 8 / 12) * FOOT - 46 * INCH)
    runs = tuple(run for run in best.runs if run.line != "C-D")
    dropped = dataclasses.replace(
        best,
        bottoms={**best.bottoms, "C-D": bottom},
        runs=(*runs, *runs_of(line, bottom, demo_plan.rules.module)),
    )
    (caution,) = named(cautions(demo_plan, stepping=dropped), "frost-cover-short")
    assert caution.where == "wall C-D"
    assert caution.station == pytest.approx(23 * FOOT, abs=FOOT / 12)  # the dip, 2121 E
    # Measured at the footing's outer edge, 4 in down a slope of 7.5 %: up to 0.3 in less than at the wall's face.
    assert number(caution) / INCH == pytest.approx(52.4 - 0.3, abs=0.1)
    assert not named(cautions(demo_plan), "frost-cover-short")


def test_fill_that_does_not_count() -> None:
    deep = {"A-B": (STATION, np.array([0.2, 7, 3]) * INCH), "B-C": (STATION, np.array([np.nan] * 3))}
    (caution,) = frost.fill_not_counted(deep)
    assert told(caution) == (7, "wall A-B", pytest.approx(7 * INCH))
    assert caution.station == 1.0
    assert not frost.fill_not_counted({"A-B": (STATION, np.array([-5.0, 6, 3]) * INCH)})
    assert not frost.fill_not_counted({})


def test_depth_that_leans_on_fill() -> None:
    """At F the front needs 208.649 from existing grade, so 208.667 misses by 0.2 in, by the lot's table [derived].

    With the fill counted it stays at 208.667 past the corner, where the ground falls on.
    """
    found = of_demo(lambda t: t["frost"].update(fill_counts=True))
    (caution,) = named(found, "depth-from-fill")
    assert caution.trap.number == 7
    assert caution.trap.severity == 3
    assert caution.where == "wall F-G"
    assert "E-F" in caution.sentence
    assert number(caution) / INCH < 53.8
    assert not named(found, "fill-not-counted")


def test_fill_counts_without_leaning_on_it() -> None:
    found = of_demo(lambda t: t["frost"].update(fill_counts=True), answer="fewest steps")
    assert not named(found, "depth-from-fill")
    sound = {"A-B": (STATION, np.array([54, 55, np.nan]) * INCH)}
    assert not frost.depth_from_fill(sound, 54 * INCH)


def test_no_finished_grade() -> None:
    (caution,) = frost.no_finished_grade(["A-B"])
    assert (caution.trap.number, caution.where) == (7, "wall A-B")
    assert not frost.no_finished_grade([])


def test_frost_from_the_side() -> None:
    """Open air nearer than frost depth × cos(slope) − 1 in [practice]."""
    (caution,) = frost.frost_from_side(cover(55, 56, 57, air=50))
    assert told(caution) == (8, "wall A-B", pytest.approx(50 * INCH))
    assert not frost.frost_from_side(cover(55, 56, 57, air=53))


def test_unheated_house_counts_as_outdoors() -> None:
    found = of_demo(lambda t: t["parts"][0].update(heated=False))
    (caution,) = named(found, "unheated-space-inside")
    assert caution.trap.number == 14
    assert caution.where.startswith("house, wall ")
    # The floor, 206.042, is the grade that counts: 54 in and what the 8 in module adds.
    assert 54 <= number(caution) / INCH < 62


def test_unheated_garage_with_a_high_floor() -> None:
    assert not named(of_demo(lambda t: t["parts"][1].update(heated=False)), "unheated-space-inside")
    short = frost.ColdFloor("A-B", "shed", 40 * INCH, 1.0, False)
    (caution,) = frost.unheated_space_inside([short], 54 * INCH)
    assert "short" in caution.sentence
    assert not frost.unheated_space_inside([short._replace(cover=54 * INCH)], 54 * INCH)


def test_snow_free_paving() -> None:
    found = of_demo(lambda t: t["surroundings"].update(melted=["F-E"]))
    (caution,) = named(found, "snow-free-paving")
    assert caution.trap.number == 16
    assert caution.where == "wall E-F"
    assert 54 <= number(caution) / INCH < 62
    assert not frost.snow_free_paving(cover(60, 60, 60), set())


def test_typed_braces_are_no_places_for_numbers() -> None:
    found = of_demo(lambda t: t["levels"]["marks"].pop())
    (caution,) = named(found, "benchmark-not-checked")
    assert caution.sentence.format() == caution.sentence
    shed = frost.ColdFloor("A-B", "{north} shed", 1.0, 1.0, True)
    (cold,) = frost.unheated_space_inside([shed], 1.0)
    assert "{north} shed" in cold.sentence.format(cover=1, depth=2)
