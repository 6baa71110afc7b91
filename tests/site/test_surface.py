"""Surfaces: what every triangulation must satisfy, breaklines, the building's outline, and what is refused."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foundation.site.building import outline
from foundation.site.places import SAME_PLACE
from foundation.site.surface import Surface
from foundation.site.terrain import corner_grades, existing_surface, finished_surface
from foundation.site.triangulation import delaunay, edges, with_lines
from foundation.site.words import SiteError
from tests.site.lot import FOOT, shots_of

HOUSE = {"A": (10.0, 30.0), "B": (40.0, 30.0), "C": (40.0, 10.0), "D": (10.0, 10.0)}
RING = (("A", "B", "C", "D"),)
FIELD = [
    (f"f{east}-{north}", north, east, 50 + 0.1 * north, "FG")
    for east, north in ((0, 0), (25, 0), (50, 0), (0, 20), (50, 20), (0, 40), (25, 40), (50, 40))
]
CORNER_SHOTS = [
    ("a", 30, 10, 53.5, "FG"),
    ("b", 30, 40, 53.0, "FG"),
    ("c", 10, 40, 50.5, "FG"),
    ("d", 10, 10, 50.0, "FG"),
]


def covered(
    points: np.ndarray, triangles: np.ndarray, start: np.ndarray, end: np.ndarray, beside: float = 1e-9
) -> float:
    """Share of the straight line from start to end that runs on edges, none of them farther beside it."""
    length = np.hypot(*(end - start))
    along = (end - start) / length
    ends = points[edges(triangles), :2] - start
    off = np.abs(ends @ np.array([-along[1], along[0]])).max(axis=1)
    station = np.sort(ends @ along, axis=1)[off <= beside]
    reached = 0.0
    share = 0.0
    for first, last in station[np.argsort(station[:, 0])].clip(0, length):
        share += max(0.0, last - max(first, reached)) / length
        reached = max(reached, last)
    return share


@given(st.integers(0, 10_000), st.integers(1, 8))
def test_lines_become_edges_and_nothing_overlaps(seed: int, count: int) -> None:
    generator = np.random.default_rng(seed)
    points = generator.uniform(0, 50, (40, 3))
    lines = [[int(k) for k in generator.choice(40, 2, replace=False)] for _ in range(count)]
    cut, triangles, _ = with_lines(points, lines, ["line"] * count, "shots")
    np.testing.assert_array_equal(cut[:40], points)
    for start, end in lines:
        # A point within the last digit of a survey is on the line, which then bends to it.
        ends = points[[start, end], :2]
        assert covered(cut, triangles, *ends, beside=SAME_PLACE) == pytest.approx(1, abs=1e-6)
    faces = shapely.polygons(cut[triangles][:, :, :2])
    assert (shapely.area(faces) > 0).all()
    assert shapely.is_ccw(shapely.get_exterior_ring(faces)).all()
    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))  # shapely's own, as a second opinion
    assert shapely.area(faces).sum() == pytest.approx(hull.area, rel=1e-9)


@pytest.mark.parametrize("degrees", [1.0, 10.0])
def test_lines_at_sharp_angles_end(degrees: float) -> None:
    """A fan of lines of all lengths from one point: cutting at midpoints would go on for ever."""
    angle = np.radians(np.arange(0, 360 if degrees == 10 else 20, degrees))
    length = np.random.default_rng(1).uniform(1, 30, len(angle))
    rim = np.column_stack([length * np.cos(angle), length * np.sin(angle), length])
    points = np.vstack([[0, 0, 0], rim])
    lines = [[0, k] for k in range(1, len(points))]
    cut, triangles, _ = with_lines(points, lines, ["ray"] * len(lines), "shots")
    for _, end in lines:
        assert covered(cut, triangles, points[0, :2], points[end, :2]) == pytest.approx(1, abs=1e-9)
    np.testing.assert_allclose(cut[:, 2], np.hypot(cut[:, 0], cut[:, 1]), rtol=0, atol=1e-9)


def test_lines_that_run_over_each_other() -> None:
    """The same way drawn forth and back, and half of it by a third line, needs each piece once."""
    points = np.array(
        [[0.0, 0, 1], [40, 0, 5], [20, 0.1, 9], [21, -0.2, 9], [20, 9, 0], [20, -9, 0], [20, 0, 3]]
    )
    cut, triangles, crossings = with_lines(
        points, [[0, 1], [1, 0], [6, 1]], ["forth", "back", "half"], "shots"
    )
    assert covered(cut, triangles, points[0, :2], points[1, :2]) == pytest.approx(1, abs=1e-9)
    assert crossings == []
    assert len(cut) < 40


def test_lines_on_a_grid_along_rows_and_diagonals() -> None:
    """Every cell of a grid has its corners on one circle, and lines run through shots."""
    north, east = (axis.ravel().astype(float) for axis in np.mgrid[0:12, 0:12])
    points = np.column_stack([east + 2e6, north + 5e6, east])
    lines = [[0, 143], [11, 132], [0, 11, 143, 132, 0], [3, 135], [0, 11]]
    cut, triangles, crossings = with_lines(points, lines, ["line"] * 5, "shots")
    for line in lines:
        for start, end in pairwise(line):
            assert covered(cut - [2e6, 5e6, 0], triangles, *(points[[start, end], :2] - [2e6, 5e6])) == (
                pytest.approx(1, abs=1e-6)
            )
    assert all(abs(low - high) < 1e-6 for low, high in (crossing.levels for crossing in crossings))
    np.testing.assert_allclose(cut[:, 2], cut[:, 0] - 2e6, rtol=0, atol=1e-6)


def test_crossing_lines_that_disagree_are_told() -> None:
    rows = [*FIELD, ("1", 5, 5, 60, "FG line=wall"), ("2", 35, 45, 60, "FG line=wall")]
    rows += [("3", 35, 5, 55, "FG line=swale"), ("4", 5, 45, 55, "FG line=swale")]
    surface, problems = finished_surface(shots_of(rows), {}, (), 1.0)
    (problem,) = [problem for problem in problems if "cross" in problem.sentence]
    for word in ("wall", "swale", "60.00 m", "55.00 m", "east 25.00 m, north 20.00 m"):
        assert word in problem.sentence
    assert not problem.fatal
    assert surface.grade(25.0, 20.0) == pytest.approx(55)


def test_lines_that_agree_where_they_cross_are_silent() -> None:
    rows = [*FIELD, ("1", 5, 5, 51, "FG line=x"), ("2", 35, 45, 53, "FG line=x")]
    rows += [("3", 35, 5, 53, "FG line=y"), ("4", 5, 45, 51, "FG line=y")]
    _, problems = finished_surface(shots_of(rows), {}, (), 1.0)
    assert problems == ()


@given(st.integers(0, 500))
def test_shots_keep_their_elevation(seed: int) -> None:
    generator = np.random.default_rng(seed)
    rows = [
        (str(k), *generator.uniform(0, 60, 2).round(2), round(50 + generator.uniform(0, 0.9), 2), "EG")
        for k in range(30)
    ]
    shots = shots_of(rows, FOOT)
    surface, _ = existing_surface(shots, FOOT)
    np.testing.assert_allclose(surface.grade(shots.east, shots.north), shots.elevation, rtol=0, atol=1e-9)


def test_wall_is_straight_between_its_shots() -> None:
    rows = [*FIELD, *CORNER_SHOTS, ("m", 30.02, 22, 54.0, "FG"), ("in", 20, 20, 99, "FG slab")]
    surface, problems = finished_surface(shots_of(rows), HOUSE, RING, 1.0)
    (problem,) = problems
    assert "Finished shots in lie inside the building" in problem.sentence
    east = np.array([10, 16, 22, 31, 40.0])
    np.testing.assert_allclose(surface.grade(east, np.full(5, 30.0)), [53.5, 53.75, 54, 53.5, 53], atol=1e-9)
    assert np.isnan(surface.grade(20.0, 20.0))
    area = shapely.area(shapely.polygons(surface.points[surface.triangles][:, :, :2])).sum()
    assert area == pytest.approx(50 * 40 - 30 * 20, rel=1e-9)


def test_corner_without_a_shot_is_told_and_interpolated() -> None:
    surface, problems = finished_surface(shots_of([*FIELD, *CORNER_SHOTS[1:]]), HOUSE, RING, FOOT)
    (problem,) = problems
    assert problem.place == "corner A"
    assert "Corner A has no finished shot: its grade" in problem.sentence
    assert not problem.fatal
    plain, _ = finished_surface(shots_of([*FIELD, *CORNER_SHOTS[1:]]), {}, (), FOOT)
    assert surface.grade(10.0, 30.0) == pytest.approx(plain.grade(10.0, 30.0).item(), abs=1e-9)


def test_shot_a_foot_from_the_corner_is_not_its_grade() -> None:
    moved = ("a", 30 + FOOT, 10, 53.5, "FG")
    _, problems = finished_surface(shots_of([*FIELD, moved, *CORNER_SHOTS[1:]]), HOUSE, RING, FOOT)
    assert [problem.place for problem in problems] == ["corner A"]


def test_corner_outside_the_shots_names_three_neighbours() -> None:
    far = HOUSE | {"B": (70.0, 30.0), "C": (70.0, 10.0)}
    with pytest.raises(SiteError) as refused:
        finished_surface(shots_of([*FIELD, CORNER_SHOTS[0], CORNER_SHOTS[3]]), far, RING, 1.0)
    assert {problem.place for problem in refused.value.problems} == {"corner B", "corner C"}
    assert all(problem.fatal for problem in refused.value.problems)
    at_b = next(problem for problem in refused.value.problems if problem.place == "corner B")
    assert "f50-40 at 22.36 m, f50-0 at 36.06 m, f25-40 at 46.10 m" in at_b.sentence  # not f50-20, inside
    surface, _ = existing_surface(shots_of([(*row[:4], "EG") for row in FIELD]), 1.0)
    with pytest.raises(SiteError, match=r"Corner B \(.*\) lies outside the existing ground"):
        corner_grades(surface, far, 1.0)
    inside = {"A": HOUSE["A"]}
    assert corner_grades(surface, inside, 1.0) == {"A": pytest.approx(53.0)}


@pytest.mark.parametrize(
    "rows",
    [
        [],
        [("1", 0, 0, 5, "EG"), ("2", 9, 0, 5, "EG")],
        [("1", 0, 0, 5, "EG"), ("2", 9, 9, 5, "EG"), ("3", 18, 18, 5, "EG"), ("4", 27, 27, 6, "EG")],
        [("1", 0, 0, 5, "EG")] * 5,
        [("1", 0, 0, 5, "FG"), ("2", 9, 0, 5, "FG"), ("3", 0, 9, 5, "FG")],
    ],
    ids=["none", "two", "one line", "one place", "other surface"],
)
def test_too_few_shots(rows: list[tuple]) -> None:
    shots = shots_of([*rows, ("x", 3, 4, 5, "FG")])
    with pytest.raises(SiteError, match="existing shots: a surface needs at least three"):
        existing_surface(shots, 1.0)


def test_one_place_twice_takes_the_lower() -> None:
    rows = [*[(*row[:4], "EG") for row in FIELD], ("once", 22, 25, 52.2, "EG")]
    surface, _ = existing_surface(shots_of([*rows, ("again", 22.001, 25.001, 52.18, "EG")]), 1.0)
    assert len(surface.points) == len(rows)
    assert surface.grade(25.001, 22.001) == pytest.approx(52.18, abs=1e-9)


def test_grade_takes_any_shape_and_the_rim_counts() -> None:
    points = np.array([[0.0, 0, 5], [9, 0, 5], [0, 9, 8]])
    surface = Surface("existing", points, delaunay(points[:, :2], "shots"), ("1", "2", "3"))
    grid = surface.grade(np.array([[0.0, 1.0], [2.0, 20.0]]), 3.0)
    np.testing.assert_allclose(grid, [[6, 6], [6, np.nan]], rtol=0, atol=1e-12)
    assert surface.grade(-0.0005, 3.0) == pytest.approx(6, abs=0.0005 / 3)
    assert np.isnan(surface.grade(-0.002, 3.0))
    assert surface.grade(np.zeros(0), np.zeros(0)).shape == (0,)


@pytest.mark.parametrize("turn", [0.0, 0.3, 1.0])
@pytest.mark.parametrize("slack", [0.0, 0.002])
def test_parts_share_walls_without_a_crack(turn: float, slack: float) -> None:
    """House and garage at any angle; H stands up to 2 mm off the house's wall."""
    plan = {"A": (0, 30), "B": (44, 30), "C": (44, 0), "D": (0, 0)}
    plan |= {"E": (44, 40), "F": (68, 40), "G": (68, 16), "H": (44 + slack, 16)}
    turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    corners = {name: tuple((turned @ place).tolist()) for name, place in plan.items()}
    building = outline(corners, (("A", "B", "C", "D"), ("B", "E", "F", "G", "H")))
    assert building.area.geom_type == "Polygon"
    assert building.area.area == pytest.approx(44 * 30 + 24 * 24, abs=0.1)
    (names,) = building.names
    start = names.index("A")
    around = names[start:] + names[:start]
    assert around in (tuple("ABEFGHCD"), tuple("ADCHGFEB"))
    at = dict(zip(names, building.rings[0].tolist(), strict=True))
    assert at == {name: list(place) for name, place in corners.items()}


def test_outline_refuses_what_is_no_building() -> None:
    with pytest.raises(SiteError, match="Part A-C-B-D: its walls cross"):
        outline(HOUSE, (("A", "C", "B", "D"),))
    with pytest.raises(SiteError, match="Part A-B: its walls cross or enclose nothing"):
        outline(HOUSE, (("A", "B"),))
    with pytest.raises(KeyError, match="Corner Q of part A-B-Q is unknown; known are A, B, C, D"):
        outline(HOUSE, (("A", "B", "Q"),))


def test_separate_buildings() -> None:
    shed = {"S": (44.0, 38.0), "T": (48.0, 38.0), "U": (48.0, 34.0), "V": (44.0, 34.0)}
    surface, _ = finished_surface(
        shots_of([*FIELD, *CORNER_SHOTS]), HOUSE | shed, (*RING, tuple("STUV")), 1.0
    )
    assert np.isnan(surface.grade([25.0, 46.0], [20.0, 36.0])).all()
    assert np.isfinite(surface.grade([42.0, 46.0], [36.0, 33.0])).all()


def test_breakline_that_ends_inside_the_building() -> None:
    """A swale shot across the wall shapes the ground up to the wall, and the wall meets it."""
    rows = [
        *FIELD,
        *CORNER_SHOTS,
        ("s1", 38, 25, 51.0, "FG line=swale"),
        ("s2", 22, 25, 51.0, "FG line=swale"),
    ]
    surface, problems = finished_surface(shots_of(rows), HOUSE, RING, 1.0)
    assert surface.grade(25.0, 34.0) == pytest.approx(51, abs=1e-9)
    assert surface.grade(25.0, 30.0) == pytest.approx(51, abs=1e-9)
    assert any(
        'breakline "swale"' in problem.sentence and "the wall" in problem.sentence for problem in problems
    )
    assert "s2" not in surface.point_names
