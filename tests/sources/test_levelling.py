"""Differential levelling: worked examples of surveying texts, and one worked out here.

HI = benchmark + backsight; elevation = HI − foresight; rod to set a target = HI − target. The numbers of the first
three tests were read in public copies of surveying texts [read]; the turning point was worked out by hand [derived].
The functions take any one unit; these are feet, as printed.
"""

from __future__ import annotations

import pytest

from foundation.model.ground import Mark
from foundation.site.levels import Sight, height_of_instrument, level_loop, rod_reading, sighted_elevation

HALF_DIGIT = 0.005


def test_instrument_and_one_foresight() -> None:
    instrument = height_of_instrument(820.00, 8.42)
    assert instrument == pytest.approx(828.42, abs=HALF_DIGIT)
    assert sighted_elevation(instrument, 1.20) == pytest.approx(827.22, abs=HALF_DIGIT)


def test_another_benchmark() -> None:
    instrument = height_of_instrument(520.50, 4.25)
    assert instrument == pytest.approx(524.75, abs=HALF_DIGIT)
    assert sighted_elevation(instrument, 6.80) == pytest.approx(517.95, abs=HALF_DIGIT)


def test_rod_to_set_a_target() -> None:
    assert rod_reading(457.60, 452.10) == pytest.approx(5.50, abs=HALF_DIGIT)


def test_turning_point() -> None:
    notes = [Sight("BM", backsight=5.37), Sight("TP", foresight=9.82, backsight=2.14)]
    start, turn = level_loop(Mark("BM", 100.00), notes)
    assert start.instrument == pytest.approx(105.37, abs=HALF_DIGIT)
    assert turn.elevation == pytest.approx(95.55, abs=HALF_DIGIT)
    assert turn.instrument == pytest.approx(97.69, abs=HALF_DIGIT)
    rods = [rod_reading(turn.instrument, target) for target in (91.33, 89.33, 88.00)]
    assert rods == pytest.approx([6.36, 8.36, 9.69], abs=HALF_DIGIT)
    # In sixteenths of an inch 6'-4 5/16", 8'-4 5/16", 9'-8 1/4"; the true 91.333 gives 6'-4 1/4".
    sixteenths = [round(rod * 12 * 16) for rod in (*rods, rod_reading(turn.instrument, 91 + 1 / 3))]
    feet_inches = [(6, 4, 5), (8, 4, 5), (9, 8, 4), (6, 4, 4)]
    assert sixteenths == [(feet * 12 + inches) * 16 + part for feet, inches, part in feet_inches]
