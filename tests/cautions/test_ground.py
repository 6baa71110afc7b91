"""Traps 4, 5 and the steep slope of 19: finished ground beside the walls."""

from __future__ import annotations

import numpy as np
import pytest

from foundation.cautions import ground
from foundation.model.concrete import Opening
from tests.cautions.cases import FOOT, INCH, named, of_demo, told

STATION = np.array([0.0, 1.0, 2.0])


def falls(*inches: float) -> ground.Along:
    return {"A-B": (STATION, np.array(inches) * INCH)}


def test_ground_that_does_not_fall_away() -> None:
    """6 in in the first 10 ft (IRC R401.3 [read])."""
    (caution,) = ground.grade_does_not_fall_away(falls(7, 5.5, np.nan))
    assert told(caution) == (4, "wall A-B", pytest.approx(5.5 * INCH))
    assert caution.station == 1.0
    (rising,) = ground.grade_does_not_fall_away(falls(7, -1, 3))
    assert "rises" in rising.sentence
    assert not ground.grade_does_not_fall_away(falls(6, 7, np.nan))
    assert not ground.grade_does_not_fall_away(falls(np.nan, np.nan, np.nan))


def test_hard_surface_falls_two_percent() -> None:
    """2 % of 10 ft are 2.4 in (IRC R401.3 [read])."""
    assert not ground.grade_does_not_fall_away(falls(2.4, 3, 4), {"A-B"})
    (caution,) = ground.grade_does_not_fall_away(falls(2.3, 3, 4), {"A-B"})
    assert "hard surface" in caution.sentence
    paved = of_demo(lambda t: t["surroundings"].update(paved=["E-F"]))
    # The drive, 213.90 to 213.55 in 10 ft, is 2.9 %; the corner at F is 2.2 in.
    (front,) = (c for c in named(paved, "grade-does-not-fall-away") if c.line == "E-F")
    assert front.station == pytest.approx(24 * FOOT)


def test_steep_slope_near() -> None:
    """Steeper than 1 in 3 (IRC R403.1.7 text [read]): more than 40 in in 10 ft."""
    assert not ground.steep_slope_near(falls(40, 20, np.nan))
    steep = {**falls(41, 20, np.nan), "B-C": (STATION, np.array([0.0, -50, 10]) * INCH)}
    (caution,) = ground.steep_slope_near(steep)
    assert told(caution) == (19, "wall B-C", pytest.approx(50 * INCH))
    assert caution.station == 1.0
    assert "A-B" in caution.sentence
    assert "rises" in caution.sentence


def test_concrete_near_grade() -> None:
    """6 in above finished grade, 4 in under masonry veneer (IRC R404.1.6 [read])."""
    (caution,) = ground.concrete_near_grade(falls(8, 5, np.nan))
    assert told(caution) == (5, "wall A-B", pytest.approx(5 * INCH))
    assert not ground.concrete_near_grade(falls(6, 8, np.nan))
    assert not ground.concrete_near_grade(falls(5, 8, np.nan), {"A-B"})
    (buried,) = ground.concrete_near_grade(falls(-3, 8, 8))
    assert "above the concrete" in buried.sentence


def test_low_walls_of_a_project() -> None:
    def lower(tables: dict) -> None:
        for part in tables["parts"]:
            part["wall_top"] = "214.25 ft"

    found = named(of_demo(lower), "concrete-near-grade")
    by_line = {c.line: told(c)[2] / INCH for c in found}
    # Corners A and B lie at 213.83, E at 213.85, by the lot's table; the door's own notch does not count.
    assert by_line["A-B"] == pytest.approx((214.25 - 213.83) * 12, abs=0.05)
    assert by_line["E-F"] == pytest.approx((214.25 - 213.87) * 12, abs=0.1)
    assert "G-H" not in by_line


def test_untreated_wood() -> None:
    """8 in from soil (IRC R317.1 [memory])."""
    (caution,) = ground.wood_near_soil(falls(7, 9, np.nan), treated=False)
    assert told(caution) == (5, "wall A-B", pytest.approx(7 * INCH))
    assert not ground.wood_near_soil(falls(7, 9, np.nan), treated=True)
    assert not ground.wood_near_soil(falls(8, 9, 10), treated=False)
    found = named(of_demo(lambda t: t["surroundings"].update(sill_treated=False)), "wood-near-soil")
    # 214.50 − 213.83 is 8.04 in at A and B; the garage's front lies higher.
    assert {c.line for c in found} == {"B-E", "E-F"}


def test_framing_near_paving() -> None:
    """2 in from paving (IRC R317.1 [read])."""
    door = Opening("porch door", "door", "A-B", 1.0, 2.0, 5.0, 7.0)
    (caution,) = ground.framing_near_paving([(door, 1 * INCH)])
    assert told(caution) == (5, "porch door", pytest.approx(INCH))
    assert (caution.line, caution.station) == ("A-B", 1.0)
    assert not ground.framing_near_paving([(door, 2 * INCH)])
    raised = of_demo(lambda t: t["parts"][1].update(slab_top="214.10 ft"))
    assert not named(raised, "framing-near-paving")
