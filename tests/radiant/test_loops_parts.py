"""Pieces that laid tube is made of: bends against closed forms, shares and walks against their definitions."""

from __future__ import annotations

from math import acos, pi, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray
from scipy import ndimage
from shapely.geometry import LinearRing, Polygon

from foundation.radiant.bends import bend, bulb_length
from foundation.radiant.counterflow import counterflow
from foundation.radiant.dividing import divide
from foundation.radiant.lattice import Lattice, lattice, row_pitch
from foundation.radiant.serpentine import serpentine
from foundation.radiant.walk import walk

masks = st.tuples(st.integers(2, 9), st.integers(3, 12)).flatmap(
    lambda shape: arrays(bool, shape, elements=st.sampled_from([True, True, True, False]))
)


def largest(cells: NDArray[np.bool_]) -> NDArray[np.bool_]:
    labels, count = ndimage.label(cells)
    if not count:
        return cells
    return labels == 1 + int(np.bincount(labels.ravel())[1:].argmax())


def test_a_square_corner() -> None:
    """Legs less a radius each, and a quarter of a circle [derived]."""
    turned = bend(np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 3.0]]), 0.5)
    assert turned.length == pytest.approx(2 + 3 - 2 * 0.5 + 0.5 * pi / 2, rel=1e-12)
    assert (turned.bends, turned.bulbs, turned.tight) == (1, 0, 0)


@given(st.floats(0.05, 0.3), st.floats(0.4, 1.99))
def test_a_bulb(radius: float, share: float) -> None:
    """Two circles beside the rows touch the one of the turn: angles and lengths from their centres [derived]."""
    width = share * radius
    turned = bend(np.array([[0.0, 0.0], [5.0, 0.0], [5.0, width], [0.0, width]]), radius)
    across = width / 2 + radius
    swing = acos(across / (2 * radius))
    straight = 5.0 - radius - sqrt(4 * radius**2 - across**2)
    assert bulb_length(radius, width) == pytest.approx(5.0 - straight, rel=1e-12)
    assert turned.length == pytest.approx(2 * straight + radius * (pi + 4 * swing), rel=1e-9)
    assert (turned.bulbs, turned.tight) == (1, 0)
    assert np.ptp(turned.path[:, 1]) == pytest.approx(2 * radius, rel=1e-2)
    assert turned.path[:, 0].max() == pytest.approx(5.0, abs=0.01 * radius)


def test_no_room_for_a_bend_is_counted() -> None:
    assert bend(np.array([[0.0, 0.0], [0.1, 0.0], [0.1, 1.0]]), 0.5).tight == 1
    assert bend(np.array([[0.0, 0.0], [0.3, 0.0], [0.3, 0.2], [0.0, 0.2]]), 0.2).tight == 1


@given(st.floats(0.5, 20), st.floats(0.1, 0.4), st.floats(0, 0.3))
def test_rows_come_in_pairs_no_wider_than_asked(extent: float, spacing: float, from_edge: float) -> None:
    pitch, start = row_pitch(extent, spacing, from_edge, 0.05)
    assert 0.75 * spacing <= pitch <= spacing
    assert start >= 0
    if extent > spacing:
        pairs = int((extent - start) / pitch + 1 + 1e-6) // 2
        last = start + (2 * pairs - 1) * pitch
        assert last <= extent + 1e-9
        assert extent - last < 2 * pitch


@given(masks, st.integers(1, 5), st.integers(1, 3), st.booleans(), st.booleans())
@settings(max_examples=60, deadline=None)
def test_shares_hang_together(
    cells: NDArray[np.bool_], count: int, shortest: int, from_left: bool, whole: bool
) -> None:
    cells = largest(cells)
    owners = divide(cells, [1.0] * count, shortest, from_left, np.zeros(cells.shape), whole=whole)
    assert ((owners >= 0) == cells).all()
    for index in range(count - 1):
        assert ndimage.label(owners == index)[1] <= 1


@given(masks, st.booleans(), st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_walk_passes_each_point_once(cells: NDArray[np.bool_], left: bool, winding: bool) -> None:
    """Round a tree of n cells it is 4 n pitches long, encloses them, and never crosses itself [derived]."""
    cells = largest(cells)
    if cells.sum() < 2:
        return
    floor = shapely.union_all(
        [shapely.box(2 * column, 2 * row, 2 * column + 2, 2 * row + 2) for row, column in np.argwhere(cells)]
    )
    grid = Lattice(1.0, 0.5, 0.5, cells)
    found = lattice(floor, 1.0, 0.5, 0.5, 0.0).free
    assert np.array_equal(np.argwhere(found), np.argwhere(cells))
    if winding:
        links, _ = counterflow(cells, tuple(np.argwhere(cells)[0].tolist()), 1)
    else:
        links = serpentine(cells, left, 1)
    joined = {cell for pair in links for cell in pair}
    assert all(cells[cell] for cell in joined)
    assert len(links) == len(joined) - 1
    # what lies only beside the beginning of a winding stays out of it
    assert len(joined) == cells.sum() or winding
    ring = LinearRing(walk(links, grid, {}))
    assert ring.is_simple
    assert ring.length == pytest.approx(4 * len(joined))
    assert floor.contains(Polygon(ring))
