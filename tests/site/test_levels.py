"""Levels: the demo lot's notes (invented), and what must hold of any notes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.ground import Mark
from foundation.site.levels import (
    Sight,
    below_benchmark,
    check_rods,
    closure,
    height_of_instrument,
    level_loop,
    rod_reading,
    sighted_elevation,
)

FOOT, INCH = 0.3048, 0.0254
BENCHMARK = 216.20 * FOOT
reading = st.floats(0.1, 4.0)


def test_demo_notes() -> None:
    notes = [
        Sight("BM1", backsight=4.62 * FOOT),
        Sight("BM2", foresight=7.76 * FOOT),
        Sight("TP", foresight=11.15 * FOOT, backsight=2.40 * FOOT),
    ]
    rows = level_loop(Mark("BM1", BENCHMARK), notes)
    assert [row.instrument / FOOT for row in rows] == pytest.approx([220.82, 220.82, 212.07], abs=1e-9)
    assert [row.elevation / FOOT for row in rows] == pytest.approx([216.20, 213.06, 209.67], abs=1e-9)
    check = closure(rows[1].elevation, 213.05 * FOOT)
    assert check.closes
    assert check.difference / INCH == pytest.approx(0.12, abs=1e-6)  # 0.01 ft, about 1/8 in


@pytest.mark.parametrize(
    ("off", "closes"), [(0.0, True), (0.25, True), (-0.25, True), (0.26, False), (-0.26, False)]
)
def test_closure_at_a_quarter_inch(off: float, closes: bool) -> None:
    assert closure(65.0 + off * INCH, 65.0).closes is closes


def test_own_allowance() -> None:
    assert not closure(65.0 + 0.2 * INCH, 65.0, allowed=INCH / 8).closes


def test_below_benchmark_does_not_move_with_the_instrument() -> None:
    level = 204.667 * FOOT
    fixed = below_benchmark(BENCHMARK, level)
    for backsight in (0.7, 1.4, 2.9):
        instrument = height_of_instrument(BENCHMARK, backsight)
        assert rod_reading(instrument, level) == pytest.approx(backsight + fixed, abs=1e-12)


def test_demo_rods_are_too_long_until_the_instrument_moves() -> None:
    targets = {"wall top": 214.50 * FOOT, "main footing": 204.667 * FOOT, "low footing": 200.667 * FOOT}
    from_benchmark = check_rods(220.82 * FOOT, targets)
    assert from_benchmark.too_long == ("main footing", "low footing")
    assert from_benchmark.turning_instrument is None  # 13.8 ft between the highest and the lowest
    low = {name: targets[name] for name in ("main footing", "low footing")}
    lowest, highest = check_rods(220.82 * FOOT, low).turning_instrument or (0.0, 0.0)
    assert (lowest / FOOT, highest / FOOT) == pytest.approx((204.667, 213.667))
    assert lowest < 212.07 * FOOT < highest
    after = check_rods(212.07 * FOOT, low)
    assert not after.too_long
    assert not after.above_sight
    assert check_rods(212.07 * FOOT, targets).above_sight == ("wall top",)


def test_nothing_to_set() -> None:
    check = check_rods(60.0, {})
    assert check.readings == {}
    assert not check.too_long


@given(st.floats(50, 300), st.lists(st.tuples(reading, reading), min_size=1, max_size=8))
def test_page_check(start: float, setups: list[tuple[float, float]]) -> None:
    """Sum of backsights less sum of foresights is last less first elevation: every field book's check [practice]."""
    notes = [Sight("BM", backsight=setups[0][0])]
    notes += [
        Sight(f"T{number}", foresight=foresight, backsight=following)
        for number, ((_, foresight), (following, _)) in enumerate(
            zip(setups, [*setups[1:], setups[0]], strict=True)
        )
    ]
    rows = level_loop(Mark("BM", start), notes)
    carried = sum(back for back, _ in setups) - sum(fore for _, fore in setups)
    assert rows[-1].elevation - start == pytest.approx(carried, abs=1e-9)


@given(st.floats(50, 300), reading, st.floats(-3, 3))
def test_rod_and_foresight_undo_each_other(benchmark: float, backsight: float, drop: float) -> None:
    instrument = height_of_instrument(benchmark, backsight)
    target = benchmark + drop
    assert sighted_elevation(instrument, rod_reading(instrument, target)) == pytest.approx(target, abs=1e-9)


@pytest.mark.parametrize(
    ("notes", "says"),
    [
        ([], "first row must be a backsight on BM9"),
        ([Sight("BM9", foresight=1.0)], "first row must be a backsight on BM9"),
        ([Sight("BM9", foresight=1.0, backsight=1.0)], "nothing else"),
        ([Sight("BM9", backsight=1.0), Sight("T1", backsight=2.0)], "Row 2, T1: no foresight"),
    ],
)
def test_broken_notes(notes: list[Sight], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        level_loop(Mark("BM9", 60.0), notes)
