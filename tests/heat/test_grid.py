"""Grids: lines where asked, cells no larger and no wilder than asked."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.heat.grid import Grid, graded_lines

SIZES = st.one_of(st.floats(0.005, 2), st.just(np.inf))


@given(
    st.lists(st.tuples(st.floats(0.01, 20), SIZES), min_size=1, max_size=5),
    st.floats(0.01, 1),
    st.floats(1.05, 2),
)
def test_lines_keep_what_was_asked(steps: list[tuple[float, float]], first: float, growth: float) -> None:
    points = np.r_[0, np.cumsum([step for step, _ in steps])]
    spacing = [first, *(size for _, size in steps)]
    lines = graded_lines(points.tolist(), spacing, growth)
    cells = np.diff(lines)
    assert np.all(cells > 0)
    at = np.searchsorted(lines, points - 1e-9)
    np.testing.assert_allclose(lines[at], points, rtol=0, atol=1e-9)
    for place, size in zip(at, spacing, strict=True):
        assert np.all(cells[max(place - 1, 0) : place + 1] <= size * (1 + 1e-9))
    for start, stop in zip(at[:-1], at[1:], strict=True):
        ratio = cells[start + 1 : stop] / cells[start : stop - 1]
        assert np.all((ratio < growth * (1 + 1e-9)) & (ratio > (1 - 1e-9) / growth))


def test_boxes_and_volumes() -> None:
    grid = Grid((np.array([0.0, 1.0, 3.0]), np.array([0.0, 2.0]), np.array([-1.0, 0.0, 4.0])))
    assert grid.shape == (2, 1, 2)
    assert grid.volume.sum() == 30
    assert grid.volume[grid.inside((1, 3), (-np.inf, np.inf), (0, np.inf))].sum() == 16


@pytest.mark.parametrize(
    ("points", "spacing", "growth", "complaint"),
    [
        ([0.0], [1.0], 1.3, "two or more rising"),
        ([0.0, 0.0], [1.0, 1.0], 1.3, "two or more rising"),
        ([0.0, 1.0], [0.0, 1.0], 1.3, "above 0"),
        ([0.0, 1.0], [np.inf, np.inf], 1.3, "one of them finite"),
        ([0.0, 1.0], [1.0], 1.3, "one above 0 for each"),
        ([0.0, 1.0], [1.0, 1.0], 1.0, "ratio above 1"),
    ],
)
def test_bad_lines(points: list[float], spacing: list[float], growth: float, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        graded_lines(points, spacing, growth)


def test_bad_grids() -> None:
    line = np.array([0.0, 1.0])
    with pytest.raises(ValueError, match="give 2 or 3"):
        Grid((line,))
    with pytest.raises(ValueError, match="axis 1 do not rise"):
        Grid((line, line[::-1]))
    with pytest.raises(ValueError, match=r"ends at 0\.5 m on axis 0"):
        Grid((line, line)).inside((0, 0.5), (0, 1))
    with pytest.raises(ValueError, match="1 spans; give 2"):
        Grid((line, line)).inside((0, 0.5))
