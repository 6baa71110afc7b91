"""Contour lines, against closed forms and against matplotlib's own."""

from __future__ import annotations

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.tri import Triangulation

from foundation.site.contours import contour_lines
from foundation.site.surface import Surface
from foundation.site.terrain import finished_surface
from foundation.site.triangulation import delaunay
from tests.site.lot import CORNERS, FOOT, PARTS, demo_shots

mpl.use("Agg")


def length(line: np.ndarray) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def test_cone_has_closed_polygons() -> None:
    """A cone on 24 spokes: each contour is one closed regular polygon, similar to the rim [derived]."""
    angle = np.arange(24) * np.pi / 12
    points = np.vstack([[0, 0, 10], np.column_stack([9 * np.cos(angle), 9 * np.sin(angle), np.ones(24)])])
    lines = contour_lines(Surface("existing", points, delaunay(points[:, :2], "shots"), ("",) * 25), 2.0)
    assert [level for level, _ in lines] == [2, 4, 6, 8, 10][:4]
    for level, line in lines:
        assert len(line) == 25
        np.testing.assert_array_equal(line[0], line[-1])
        np.testing.assert_allclose(np.hypot(*line.T), 10 - level, rtol=0, atol=1e-9)
        assert length(line) == pytest.approx(24 * 2 * (10 - level) * np.sin(np.pi / 24), rel=1e-9)


def test_lines_are_level_and_joined_on_the_demo_lot() -> None:
    surface, _ = finished_surface(demo_shots(), CORNERS, PARTS, FOOT)
    lines = contour_lines(surface, FOOT)
    assert {round(level / FOOT) for level, _ in lines} == set(range(200, 214))
    for level, line in lines:
        middle = (line[1:] + line[:-1]) / 2
        np.testing.assert_allclose(surface.grade(*middle.T), level, rtol=0, atol=1e-9)
    ends = sum(not np.array_equal(line[0], line[-1]) for _, line in lines)
    assert ends < 2.5 * 14  # joined into lines, not left as a segment for each triangle


def test_against_matplotlib() -> None:
    surface, _ = finished_surface(demo_shots(), CORNERS, PARTS, FOOT)
    levels = (np.arange(200, 214) + 0.37) * FOOT  # off the shots' own levels, where either side is right
    lifted = surface.points - [0, 0, 0.37 * FOOT]
    found = contour_lines(Surface("finished", lifted, surface.triangles, surface.point_names), FOOT)
    theirs = (
        Figure()
        .add_subplot()
        .tricontour(
            Triangulation(*surface.points[:, :2].T, surface.triangles), surface.points[:, 2], levels=levels
        )
    )
    for level, paths in zip(levels, theirs.allsegs, strict=True):
        ours = sum(length(line) for at, line in found if abs(at + 0.37 * FOOT - level) < 1e-6)
        assert ours == pytest.approx(sum(map(length, paths)), rel=1e-9)


def test_level_ground_has_none() -> None:
    points = np.array([[0.0, 0, 5], [9, 0, 5], [0, 9, 5]])
    flat = Surface("existing", points, delaunay(points[:, :2], "shots"), ("1", "2", "3"))
    assert contour_lines(flat, 1.0) == []


@pytest.mark.parametrize("interval", [0.0, -1.0, float("nan"), float("inf"), 1e-5])
def test_interval_must_make_sense(interval: float) -> None:
    points = np.array([[0.0, 0, 5], [9, 0, 6], [0, 9, 7]])
    surface = Surface("existing", points, delaunay(points[:, :2], "shots"), ("1", "2", "3"))
    with pytest.raises(ValueError, match="contour interval is"):
        contour_lines(surface, interval)
