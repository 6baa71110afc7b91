"""Form panels against plain enumeration of every stack and row."""

from __future__ import annotations

from itertools import combinations_with_replacement

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from foundation.footing.forms import needs_filler, panel_heights
from foundation.walls.panels import panel_row, stack
from tests.walls.walls import FOOT, HEIGHTS, INCH

SIXTEENTH = INCH / 16


def every_row(units: list[int], most: int) -> dict[int, int]:
    """Fewest panels for each sum up to the least one past ``most``, by enumeration."""
    found: dict[int, int] = {}
    for count in range(most // min(units) + 2):
        for panels in combinations_with_replacement(units, count):
            found.setdefault(sum(panels), count)
    return found


@given(
    panels=st.lists(st.integers(5, 30), min_size=1, max_size=4, unique=True),
    height=st.integers(1, 45),
    over=st.integers(0, 12),
)
def test_against_every_stack(panels: list[int], height: int, over: int) -> None:
    sums = every_row(panels, height)
    got = stack(height * INCH, [p * INCH for p in panels], over * INCH)
    made = round(sum(got.panels) / INCH)
    assert len(got.panels) == sums[made]
    assert list(got.panels) == sorted(got.panels, reverse=True)
    below, above = max(s for s in sums if s <= height), min(s for s in sums if s >= height)
    if below == height:
        assert (made, got.filler, got.over) == (height, 0.0, 0.0)
    elif above - height <= over or below == 0:
        assert made == above
        assert (got.filler, got.over) == (0.0, pytest.approx((above - height) * INCH))
    else:
        assert made == below
        assert (got.filler, got.over) == (pytest.approx((height - below) * INCH), 0.0)


@given(panels=st.lists(st.integers(5, 30), min_size=1, max_size=4, unique=True), length=st.integers(1, 60))
def test_against_every_row(panels: list[int], length: int) -> None:
    sums = every_row(panels, length)
    row = panel_row("A-B", length * SIXTEENTH, [p * SIXTEENTH for p in panels])
    best = max(s for s in sums if s <= length)
    assert sum(row.widths) == pytest.approx(best * SIXTEENTH)
    assert len(row.widths) == sums[best]
    assert row.filler == pytest.approx((length - best) * SIXTEENTH, abs=1e-12)


@given(height=st.integers(16 * 24, 16 * 200))
def test_filler_wherever_the_stepping_counts_one(height: int) -> None:
    stacks = panel_heights(HEIGHTS, 8.0)
    assume(round(float(abs(stacks / SIXTEENTH - height).min())) != 1)  # rounding decides at just a sixteenth
    counted = bool(needs_filler(np.array([height * SIXTEENTH]), stacks)[0])
    assert (stack(height * SIXTEENTH, HEIGHTS).filler > 0) == counted


@pytest.mark.parametrize(
    ("feet", "panels", "filler", "over"),
    [
        # Walls of 9, 11 and 13 ft take whole panels; 12'-4" leaves 4 in [derived by hand].
        (9, [9], 0, 0),
        (11, [9, 2], 0, 0),
        (13, [9, 4], 0, 0),
        (12 + 1 / 3, [8, 4], 4, 0),
        (1.5, [2], 0, 6),
    ],
)
def test_by_hand(feet: float, panels: list[int], filler: float, over: float) -> None:
    got = stack(feet * FOOT, HEIGHTS)
    assert [round(p / FOOT) for p in got.panels] == panels
    assert got.filler / INCH == pytest.approx(filler, abs=1e-9)
    assert got.over / INCH == pytest.approx(over, abs=1e-9)


@pytest.mark.parametrize("off", [-1, -0.5, 0.5, 1])
def test_a_sixteenth_is_no_filler(off: float) -> None:
    got = stack(8 * FOOT + off * SIXTEENTH, HEIGHTS)
    assert ([round(p / FOOT) for p in got.panels], got.filler, got.over) == ([8], 0.0, 0.0)


def test_standing_over_saves_a_filler() -> None:
    # 5'-10" beside 2 and 4 ft panels: 22 in of filler, or two panels that stand 2 in over [derived by hand].
    assert stack(70 * INCH, HEIGHTS).filler / INCH == pytest.approx(22)
    got = stack(70 * INCH, HEIGHTS, over=12 * INCH)
    assert ([round(p / FOOT) for p in got.panels], got.filler) == ([4, 2], 0.0)
    assert got.over / INCH == pytest.approx(2)


def test_metric_panels_add_up_over_a_long_wall() -> None:
    # Fifty panels of 600 mm make 30 m exactly; sixteenths of an inch would miss it by a panel.
    row = panel_row("A-B", 30.0, [0.6])
    assert row.widths == (0.6,) * 50
    assert row.filler == 0.0
    assert stack(2.7, [0.6, 0.9, 1.2]).panels == (1.2, 0.9, 0.6)


@pytest.mark.parametrize(("length", "panels"), [(0.0, [1.0]), (1.0, []), (1.0, [0.0]), (float("nan"), [1.0])])
def test_nothing_to_form(length: float, panels: list[float]) -> None:
    with pytest.raises(ValueError, match=r"above 0|at least one"):
        panel_row("A-B", length, panels)
