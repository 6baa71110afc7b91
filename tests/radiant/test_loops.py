"""Laid tube, whatever the floor: measured with a general geometry library, not with what laid it."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.spatial import KDTree
from shapely.geometry import LineString, Polygon
from shapely.ops import substring

from foundation.model.loops import Barrier, FloorArea, LaidLoop, Laying, LayingRules, Pattern
from foundation.radiant.loops import Zone, lay, lay_zones

INCH, FOOT = 0.0254, 0.3048
TWO_INCHES = 2 * INCH
ROUNDING = 2e-3
"""Bends are chords, and jogs of a few millimetres are drawn straight. [m]"""


def floor(
    outline: list[tuple[float, float]],
    holes: list[list[tuple[float, float]]] | None = None,
    barriers: tuple[Barrier, ...] = (),
) -> FloorArea:
    """A zone whose first side is the coldest wall."""
    corners = np.array(outline, dtype=float)
    wall = (tuple(corners[0].tolist()), tuple(corners[1].tolist()))
    return FloorArea("zone", corners, tuple(np.array(hole) for hole in holes or []), (wall,), barriers)


def rectangle(width: float, height: float) -> list[tuple[float, float]]:
    return [(0, 0), (width, 0), (width, height), (0, height)]


def box(east: float, north: float, width: float, height: float) -> list[tuple[float, float]]:
    return [(east, north), (east + width, north), (east + width, north + height), (east, north + height)]


def rules(spacing: float = 9 * INCH, **other: float) -> LayingRules:
    usual = {
        "bend_radius": 5 * INCH,
        "from_edge": 6 * INCH,
        "from_barrier": 6 * INCH,
        "longest": 300 * FOOT,
        "equal_within": 0.1,
    }
    return LayingRules(spacing=spacing, **(usual | other))


def rows_of(loop: LaidLoop, within: float) -> LineString:
    """A loop without its leaders, and without the bends into them."""
    path = LineString(loop.path)
    back = loop.leaders - loop.supply_leader
    return substring(path, loop.supply_leader + within, path.length - back - within)


def left_over(area: FloorArea) -> shapely.Geometry:
    return Polygon(area.outline).difference(shapely.union_all([Polygon(hole) for hole in area.holes]))


def metres(least: float, most: float) -> st.SearchStrategy[float]:
    """To the millimetre, as floors are measured."""
    return st.integers(round(1000 * least), round(1000 * most)).map(lambda number: number / 1000)


@st.composite
def floors(draw: st.DrawFn) -> FloorArea:
    """Rectangles, L, U and five-sided floors with posts, some of them at or across an edge."""
    width, height = draw(metres(3, 12)), draw(metres(3, 10))
    part, other = draw(st.floats(0.3, 0.7)), draw(st.floats(0.3, 0.7))
    shapes = [
        rectangle(width, height),
        [
            (0, 0),
            (width, 0),
            (width, height * part),
            (width * other, height * part),
            (width * other, height),
            (0, height),
        ],
        [
            *((0, 0), (width, 0), (width, height), (width * 0.7, height)),
            *((width * 0.7, height * part), (width * 0.3, height * part), (width * 0.3, height), (0, height)),
        ],
        [
            *((0, 0), (width, 0.2 * height), (width, height)),
            *((width * part, 1.2 * height), (-0.2 * width, other * height)),
        ],
    ]
    outline = draw(st.sampled_from(shapes))
    size = metres(0.1, 0.6)
    holes = draw(
        st.lists(st.builds(box, metres(0, width), metres(0, height), size, size), min_size=0, max_size=3)
    )
    barriers = ()
    if draw(st.integers(0, 4)) == 0:
        east = width * draw(st.floats(0.3, 0.7))
        barriers = (Barrier("joint", (east, -5.0), (east, 20.0)),)
    return floor(outline, holes, barriers)


def check(area: FloorArea, kept: LayingRules, laid: Laying) -> None:
    lines = [LineString(loop.path) for loop in laid.loops]
    rows = [rows_of(loop, 0.45 * kept.spacing) for loop in laid.loops]
    # bulbs that face each other come nearer than rows, but never than 2 in
    facing = max(TWO_INCHES, 2 * laid.rows_apart - 2 * kept.bend_radius)
    apart = min(0.45 * kept.spacing, facing)
    for one, two in combinations(range(len(lines)), 2):
        assert lines[one].distance(lines[two]) > TWO_INCHES - ROUNDING
        assert rows[one].distance(rows[two]) > 0.95 * apart - ROUNDING
    room = Polygon(area.outline).buffer(-kept.from_edge + ROUNDING, join_style="mitre")
    for hole in area.holes:
        room = room.difference(Polygon(hole).buffer(kept.from_edge - ROUNDING))
    for loop, line, row in zip(laid.loops, lines, rows, strict=True):
        assert line.is_simple
        assert room.covers(row)
        # chords are shorter than their arcs, never longer
        assert 0.998 * loop.length < line.length <= loop.length + 1e-9
        assert 0 <= loop.supply_leader <= loop.leaders < loop.length
        crossed = sum(
            len(np.atleast_1d(shapely.get_parts(line.intersection(LineString([joint.start, joint.end])))))
            for joint in area.barriers
            if line.crosses(LineString([joint.start, joint.end]))
        )
        assert crossed == len(loop.sleeves)
        assert loop.length <= kept.longest or any("longer than the longest" in told for told in laid.reasons)
    if not laid.loops:
        assert laid.reasons
        return
    # what is said of reach is so at every point of the floor
    whole = left_over(area)
    low_east, low_north, high_east, high_north = whole.bounds
    east, north = np.meshgrid(np.arange(low_east, high_east, 0.11), np.arange(low_north, high_north, 0.11))
    spots = shapely.points(east.ravel(), north.ravel())
    spots = spots[shapely.contains(whole, spots)]
    away = shapely.distance(shapely.MultiLineString(lines), spots)
    bare = shapely.union_all([Polygon(outline) for outline in laid.unreached])
    inside = shapely.contains(bare, spots)
    assert (away[inside] > 0.98 * kept.spacing - ROUNDING).all()
    assert (away[~inside] < kept.spacing + ROUNDING).all()
    assert sum(loop.area for loop in laid.loops) == pytest.approx(whole.area - laid.unreached_area, rel=1e-9)


@given(
    floors(),
    st.sampled_from([6 * INCH, 9 * INCH, 12 * INCH]),
    st.sampled_from([3 * INCH, 4 * INCH]),
    st.sampled_from([0.0, 3 * INCH, 6 * INCH]),
    st.floats(0, 1),
)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_nothing_crosses_or_comes_too_near(
    area: FloorArea, spacing: float, bend_radius: float, from_edge: float, where: float
) -> None:
    spot = Polygon(area.outline).exterior.interpolate(where, normalized=True)
    kept = rules(spacing, bend_radius=bend_radius, from_edge=from_edge)
    check(area, kept, lay(area, kept, (spot.x, spot.y)))


@pytest.mark.parametrize("pattern", list(Pattern))
@pytest.mark.parametrize(
    ("width", "height", "spacing", "manifold"),
    [
        (22.7, 22.7, 12, (22.7, 10)),
        (22.7, 22.7, 9, (11, 0)),
        (42.3, 25.3, 9, (0, 20)),
        (30, 14, 12, (0, 7)),
        (20, 12, 9, (10, 12)),
    ],
)
def test_rectangles_are_covered(
    width: float, height: float, spacing: float, manifold: tuple[float, float], pattern: Pattern
) -> None:
    area = floor(rectangle(width * FOOT, height * FOOT))
    kept = rules(spacing * INCH)
    laid = lay(area, kept, (manifold[0] * FOOT, manifold[1] * FOOT), pattern)
    check(area, kept, laid)
    room = Polygon(area.outline).buffer(-kept.from_edge, join_style="mitre")
    tube = shapely.MultiLineString([LineString(loop.path) for loop in laid.loops]).buffer(0.6 * kept.spacing)
    assert room.intersection(tube).area > 0.9 * room.area


def test_loops_are_equal_and_few() -> None:
    """1,070 ft² with posts, a drain and a partition: five loops, for five at most hold the tube they have."""
    holes = [
        box(13.3 * FOOT, 11.3 * FOOT, 16 * INCH, 16 * INCH),
        box(27.3 * FOOT, 11.3 * FOOT, 16 * INCH, 16 * INCH),
        box(34.5 * FOOT, 19.5 * FOOT, 1 * FOOT, 1 * FOOT),
        box(20.8 * FOOT, 15 * FOOT, 6 * INCH, 8 * FOOT),
    ]
    area = floor(rectangle(42.3 * FOOT, 25.3 * FOOT), holes)
    laid = lay(area, rules(), (20 * FOOT, 25.3 * FOOT))
    check(area, rules(), laid)
    lengths = [loop.length for loop in laid.loops]
    assert len(lengths) == np.ceil(sum(lengths) / rules().longest)
    assert max(lengths) - min(lengths) < 0.1 * np.mean(lengths)
    assert laid.unreached_area < 0.05 * left_over(area).area


def test_no_bend_is_tighter_than_the_tube_allows() -> None:
    """Radius through three points of each bend; rows at 9 in turn in bulbs, for 10 in is two radii."""
    laid = lay(floor(rectangle(9.0, 5.0)), rules(), (0.0, 2.5))
    assert [loop.tight_bends for loop in laid.loops] == [0] * len(laid.loops)
    assert any("bulbs" in told for told in laid.reasons)
    for loop in laid.loops:
        one, two, three = loop.path[:-2], loop.path[1:-1], loop.path[2:]
        sides = [np.hypot(*(a - b).T) for a, b in ((one, two), (two, three), (three, one))]
        doubled = np.abs(np.cross(np.c_[two - one, 0 * one[:, 0]], np.c_[three - one, 0 * one[:, 0]])[:, 2])
        bent = doubled > 1e-9
        radius = sides[0][bent] * sides[1][bent] * sides[2][bent] / (2 * doubled[bent])
        assert radius.min() > 0.99 * rules().bend_radius


def test_supply_goes_to_the_coldest_wall_first() -> None:
    for area, manifold in (
        (floor(rectangle(10.0, 8.0)), (0.0, 6.0)),
        (floor([(10, 8), (0, 8), (0, 0), (10, 0)]), (0.0, 2.0)),
    ):
        laid = lay(area, rules(), manifold)
        wall = LineString(area.walls[0])
        away = [shapely.distance(shapely.points(loop.path), wall).mean() for loop in laid.loops]
        assert len(away) > 2
        assert away == sorted(away)
        for loop in laid.loops:
            row = np.array(rows_of(loop, 0.0).coords)
            halves = np.array_split(row, 2)
            first, last = (shapely.distance(shapely.points(half), wall).mean() for half in halves)
            assert first < last


def test_a_loop_of_two_rows_by_hand() -> None:
    """Free floor 5.0 × 0.3 m, rows 0.3 m apart, radius 0.08 m, manifold before one end [derived].

    Out and back 2 × 5.0 less the corners' 2 × 0.08, the turn π × 0.08 + 0.14, and both rows run on 0.15 m to the wall.
    """
    area = floor(rectangle(5.3, 0.6))
    kept = rules(0.3, bend_radius=0.08, from_edge=0.15)
    (loop,) = lay(area, kept, (0.0, 0.3)).loops
    assert loop.length == pytest.approx(2 * 5.0 - 2 * 0.08 + np.pi * 0.08 + 0.14 + 2 * 0.15, abs=1e-5)


def test_counterflow_lies_supply_beside_return() -> None:
    """Each place has a neighbour that is as far from the other end, a few windings' width more or less [derived]."""

    def even(pattern: Pattern) -> float:
        (loop,) = lay(floor(rectangle(6.0, 5.5)), rules(longest=200.0), (0.0, 0.5), pattern).loops
        path = LineString(loop.path)
        along = np.linspace(0.0, path.length, 4000)
        spots = np.array([path.interpolate(way).coords[0] for way in along])
        off = np.full(len(along), np.inf)
        for one, two in KDTree(spots).query_pairs(1.6 * 9 * INCH):
            if abs(along[one] - along[two]) > 1.0:
                apart = abs((along[one] + along[two]) / path.length - 1)
                off[[one, two]] = np.minimum(off[[one, two]], apart)
        return float((off < 0.3).mean())

    assert even(Pattern.COUNTERFLOW) > 0.9
    assert even(Pattern.SERPENTINE) < 0.4


def test_an_l_is_wound() -> None:
    area = floor([(0, 0), (9, 0), (9, 3.5), (4.5, 3.5), (4.5, 8), (0, 8)])
    kept = rules(longest=250.0)
    laid = lay(area, kept, (0.0, 6.0), Pattern.COUNTERFLOW)
    check(area, kept, laid)
    assert {loop.pattern for loop in laid.loops} == {Pattern.COUNTERFLOW}
    assert laid.unreached_area < 0.05 * left_over(area).area


def test_a_corner_that_is_not_wound_into_is_told() -> None:
    area = floor(
        [
            (0, 0),
            (9, 0),
            (9, 2.5),
            (4, 2.5),
            (4, 3.5),
            (9, 3.5),
            (9, 6),
            (4, 6),
            (4, 7),
            (9, 7),
            (9, 9.5),
            (0, 9.5),
        ]
    )
    kept = rules(longest=450.0)
    laid = lay(area, kept, (0.0, 0.5), Pattern.COUNTERFLOW)
    check(area, kept, laid)
    assert any("cannot wind" in told for told in laid.reasons)


def test_joints_are_crossed_by_sleeved_leaders_only() -> None:
    area = floor(rectangle(7.0, 7.0), barriers=(Barrier("joint", (3.4, 0.0), (3.4, 7.0)),))
    laid = lay(area, rules(12 * INCH), (0.0, 5.0))
    check(area, rules(12 * INCH), laid)
    beyond = [loop for loop in laid.loops if loop.sleeves]
    assert len(beyond) == 1
    assert len(beyond[0].sleeves) == 2
    assert all(east == pytest.approx(3.4, abs=1e-3) for east, _ in beyond[0].sleeves)
    assert any("sleeves" in told for told in laid.reasons)
    joint = LineString([(3.4, 0), (3.4, 7)])
    for loop in laid.loops:
        assert rows_of(loop, 6 * INCH).distance(joint) > 6 * INCH - ROUNDING


def test_an_edge_strip_beyond_another_zone() -> None:
    """Leaders of the strip pass through the zone between it and the manifold, and nothing of both crosses."""
    wall = ((0.0, 0.0), (12.9, 0.0))
    strip = FloorArea("strip", np.array(rectangle(12.9, 0.9)), (), (wall,))
    main = FloorArea("main", np.array(box(0, 0.9, 12.9, 7.7)), (), (((0.0, 0.9), (12.9, 0.9)),))
    narrow, wide = rules(6 * INCH, bend_radius=4 * INCH), rules()
    layings = lay_zones([Zone(main, wide), Zone(strip, narrow)], (0.0, 6.0))
    assert [laid.zone for laid in layings] == ["main", "strip"]
    assert all(laid.loops for laid in layings)
    lines = [LineString(loop.path) for laid in layings for loop in laid.loops]
    assert min(one.distance(two) for one, two in combinations(lines, 2)) > TWO_INCHES - ROUNDING
    for loop in layings[1].loops:
        assert LineString(loop.path).distance(shapely.Point(0, 6.0)) < 1.0
        assert loop.length <= narrow.longest
        assert not loop.sleeves


@pytest.mark.parametrize(
    ("outline", "changed", "says"),
    [
        ([(0, 0), (1, 0)], {}, "2 corners; it needs three or more"),
        ([(0, 0), (4, 4), (4, 0), (0, 4)], {}, "crosses itself"),
        (rectangle(4, 4), {"spacing": 0.0}, "the spacing of zone is 0 m; it has to be more than 0"),
        (rectangle(4, 4), {"spacing": 0.1, "bend_radius": 0.2}, "rows can turn back from 0.167 m on"),
        (rectangle(4, 4), {"from_edge": -0.1}, "keeps -0.1 m off walls; 0 or more would do"),
    ],
)
def test_what_cannot_be_laid_is_refused(
    outline: list[tuple[float, float]], changed: dict[str, float], says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        lay(floor(outline), rules(**changed), (0.0, 0.0))


def test_a_floor_too_narrow_is_told() -> None:
    laid = lay(floor(rectangle(5.0, 0.3)), rules(), (0.0, 0.1))
    assert laid.loops == ()
    assert laid.unreached_area == pytest.approx(1.5)
    assert any("too narrow" in told for told in laid.reasons)
