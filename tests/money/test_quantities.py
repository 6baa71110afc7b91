"""Orders from quantities: by hand, and as properties of rounding up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.money.quantities import (
    FOOT,
    INCH,
    POUND,
    YARD3,
    bar_weights,
    bars_in_line,
    concrete_order,
    stone_round_drain,
    strips,
    trucks,
    usual_lap,
    whole_up,
)


@pytest.mark.parametrize(("size", "pounds"), [("#3", 0.376), ("#4", 0.668), ("#5", 1.043), ("#6", 1.502)])
def test_weights_as_printed(size: str, pounds: float) -> None:
    """ASTM A615 [read]."""
    assert bar_weights()[size] * FOOT / POUND == pytest.approx(pounds, rel=1e-12)


def test_a_bar_weighs_its_steel() -> None:
    """Nominal sizes are eighths of an inch of steel of 490 lb/ft³ [memory]."""
    for number in (3, 4, 5, 6):
        area = 3.14159265 / 4 * (number / 8 / 12) ** 2
        assert bar_weights()[f"#{number}"] * FOOT / POUND == pytest.approx(490 * area, abs=0.0015)


@pytest.mark.parametrize(("size", "forty", "sixty"), [("#4", 20, 30), ("#5", 25, 38), ("#6", 30, 45)])
def test_laps_as_printed(size: str, forty: float, sixty: float) -> None:
    """IRC 2018 Table R608.5.4(1) [read]."""
    found = usual_lap(size, "40 ksi"), usual_lap(size, "60 ksi")
    assert [lap and lap / INCH for lap in found] == pytest.approx([forty, sixty])


@given(st.floats(0.01, 200), st.floats(2, 15), st.floats(0, 1.5))
def test_bars_reach_and_no_fewer_would(length: float, stock: float, lap: float) -> None:
    whole, last = bars_in_line(length, stock, lap)
    pieces = whole + (last > 0)
    assert 0 <= last <= stock
    assert whole * stock + last - (pieces - 1) * lap == pytest.approx(max(length, 0), abs=1e-6)
    # One bar fewer, all of them whole, falls short.
    assert (pieces - 1) * stock - max(0, pieces - 2) * lap < length + 1e-6


def test_laps_as_long_as_bars() -> None:
    with pytest.raises(ValueError, match=r"need bars longer than that; they are 1\.000 m"):
        bars_in_line(5.0, 1.0, 1.0)


@given(st.floats(0, 500), st.floats(0, 0.3))
def test_orders_are_quarter_yards(drawn: float, waste: float) -> None:
    order = concrete_order(drawn, waste)
    assert order / YARD3 * 4 == pytest.approx(round(order / YARD3 * 4), abs=1e-6)
    assert -1e-6 <= order - drawn * (1 + waste) < YARD3 / 4 + 1e-6


@given(st.integers(0, 400), st.floats(1.5, 15))
def test_trucks_carry_the_order(quarters: int, load: float) -> None:
    count = trucks(quarters * YARD3 / 4, load)
    assert count * load >= quarters / 4 - 1e-6
    assert count == 0 or (count - 1) * load < quarters / 4 + 1e-6


def test_a_sum_of_tenths_is_no_more_than_its_quarter() -> None:
    assert whole_up(sum([0.1] * 10), 0.25) == pytest.approx(1.0)


@given(st.floats(0.05, 60), st.floats(1, 10), st.floats(0, 0.5))
def test_strips_cover_and_no_fewer_would(width: float, roll: float, lap: float) -> None:
    count = strips(width, roll, lap)
    assert count * roll - (count - 1) * lap >= width - 1e-6
    assert count == 1 or (count - 1) * roll - (count - 2) * lap < width + 1e-6


def test_laps_as_wide_as_the_roll() -> None:
    with pytest.raises(ValueError, match="need a roll wider than that"):
        strips(5.0, 0.2, 0.2)


def test_stone_round_the_drain() -> None:
    """A foot times footing, 6 in and 2 in, less the pipe [read]: 1.413 ft² beside a 10 in footing."""
    assert stone_round_drain(10 * INCH, 4 * INCH) / FOOT**2 == pytest.approx(1.5 - 0.0873, abs=5e-5)
