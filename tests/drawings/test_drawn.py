"""What the drawings show: steps, panels, openings, bare concrete, true heights, what is lit and what may be dragged."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from foundation.drawings.axonometric import QUARTERS, axonometric_scene, best_turn
from foundation.drawings.developed import footing_edges, place_at, runs_of, tops_of
from foundation.drawings.labels import REFERENCE
from foundation.drawings.lot import lot_scene
from foundation.drawings.outside import mirrored, outside_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.scene import Scene, pieces
from foundation.drawings.solids import Face, Hiding, Projection, far_first
from foundation.drawings.to_plotly import figure
from foundation.model.walls import Stepping
from foundation.plan import Plan
from tests.conftest import planned
from tests.drawings.random_lots import random_plans

FOOT = 0.3048


def texts(scene: Scene) -> list[str]:
    return [label.text for label in scene.labels]


def strokes(scene: Scene, layer: str) -> list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    return [stroke.points for stroke in scene.strokes if stroke.layer == layer]


def area_of(scene: Scene, layer: str) -> float:
    return sum(shapely.Polygon(area.points).area for area in scene.areas if area.layer == layer)


def cheapest(plan: Plan) -> Stepping:
    return plan.steppings[0]


def test_footing_takes_the_concrete_of_runs_and_legs(demo_plan: Plan) -> None:
    """The drawn footing's area × width is the schedule's own volume: runs and the legs of its steps."""
    for stepping in demo_plan.steppings:
        for line in demo_plan.lines:
            runs = runs_of(stepping, [line.wall.name])
            scene = profile_scene(demo_plan, stepping, [line.wall.name])
            volume = (
                sum((run.end - run.start) * (run.top - run.bottom) for run in runs) * line.wall.footing_width
            )
            inner = [
                s
                for s in stepping.steps
                if s.line == line.wall.name and 1e-6 < s.station < line.wall.length - 1e-6
            ]
            volume += sum(step.concrete for step in inner)
            assert area_of(scene, "footing") * line.wall.footing_width == pytest.approx(volume, rel=1e-9)


def test_footing_edges_of_a_step_worked_by_hand() -> None:
    # [derived] a run of 2 m at 1 m, then one of 3 m at 0.4 m, both 0.25 m thick, leg 0.25 m.
    from foundation.model.walls import Run

    runs = [Run("A-B", 0, 2, 1.0, 1.25, "", 0, 0), Run("A-B", 2, 5, 0.4, 0.65, "", 0, 0)]
    bottom, top = footing_edges(runs, 0.25)
    np.testing.assert_allclose(bottom, [[0, 1], [2, 1], [2, 0.4], [5, 0.4]])
    np.testing.assert_allclose(top, [[0, 1.25], [2, 1.25], [2.25, 1.25], [2.25, 0.65], [5, 0.65]])


def test_profile_names_every_step_and_level(demo_plan: Plan) -> None:
    stepping = cheapest(demo_plan)
    shown = set()
    for line in demo_plan.lines:
        scene = profile_scene(demo_plan, stepping, [line.wall.name])
        shown |= {text.split(":")[0] for text in texts(scene) if text.startswith("step ")}
        assert any(REFERENCE in text for text in texts(scene))
    assert shown == {f"step {step.number}" for step in stepping.steps}
    scene = profile_scene(demo_plan, stepping, ["C-D"])
    # Levels of the demo lot's own file: top of wall 214.50 ft, slab 206'-0 1/2", ledge 205.50 ft.
    assert {"top of wall 214'-6\"", "slab 206'-0 1/2\"", "ledge 205'-6\"", "200'-8\" (200.67 ft)"} <= set(
        texts(scene)
    )
    assert "13'-0\" = 9'-0\" + 4'-0\"" in texts(scene)


def test_panel_joints_lie_on_the_wall_and_at_panel_heights(demo_plan: Plan) -> None:
    stepping = cheapest(demo_plan)
    walls = demo_plan.walls[stepping.name]
    for line in demo_plan.lines:
        name = line.wall.name
        scene = profile_scene(demo_plan, stepping, [name])
        wall = next(shapely.Polygon(area.points) for area in scene.areas if area.layer == "wall")
        joints = [piece for points in strokes(scene, "panel") for piece in pieces(points)]
        for joint in joints:
            assert wall.buffer(1e-6).contains(shapely.LineString(joint))
        levels = {round(float(joint[0, 1]), 4) for joint in joints if joint[0, 1] == joint[1, 1]}
        wanted = {
            round(float(level), 4)
            for piece in walls.pieces
            if piece.line == name
            for level in piece.bottom + np.cumsum(piece.panels)
            if level < piece.top - 1e-6
        }
        assert levels == wanted
        upright = {round(float(joint[0, 0]), 4) for joint in joints if joint[0, 0] == joint[1, 0]}
        row = next(row for row in walls.rows if row.line == name)
        assert {round(float(x), 4) for x in np.cumsum(row.widths) if x < line.wall.length - 1e-6} <= upright


def test_profile_without_walls_still_stands(demo_plan: Plan) -> None:
    bare = replace(demo_plan, walls={})
    for line in bare.lines:
        scene = profile_scene(bare, cheapest(bare), [line.wall.name])
        assert not strokes(scene, "panel")
        assert tops_of(None, line) == [(0.0, line.wall.length, line.wall.wall_top)]
        assert area_of(outside_scene(bare, cheapest(bare), line.wall.name), "opening") == 0.0


def test_other_answer_is_drawn_in_place(demo_plan: Plan) -> None:
    first, second = demo_plan.steppings[:2]
    scene = profile_scene(demo_plan, first, ["D-A"], beside=second)
    own = profile_scene(demo_plan, second, ["D-A"])
    outline = next(area.points for area in own.areas if area.layer == "footing")
    np.testing.assert_allclose(strokes(scene, "compare")[0][:-1], outline)
    assert second.name in texts(scene)
    assert not strokes(profile_scene(demo_plan, first, ["D-A"]), "compare")


def test_a_place_is_lit_on_every_drawing(demo_plan: Plan) -> None:
    stepping, line = cheapest(demo_plan), demo_plan.line("C-D")
    station = 3.5
    profile = strokes(profile_scene(demo_plan, stepping, ["H-C", "C-D"], lit=("C-D", station)), "chosen")
    assert profile[0][:, 0] == pytest.approx(demo_plan.line("H-C").wall.length + station)
    assert not strokes(profile_scene(demo_plan, stepping, ["D-A"], lit=("C-D", station)), "chosen")
    outside = strokes(outside_scene(demo_plan, stepping, "C-D", lit=station), "chosen")
    assert outside[0][:, 0] == pytest.approx(line.wall.length - station)
    lot = shapely.LineString(strokes(lot_scene(demo_plan, stepping, lit=("C-D", station)), "chosen")[0])
    low = np.array([corner.wall.start_at for corner in demo_plan.lines]).min(axis=0)
    start, end = np.array(line.wall.start_at), np.array(line.wall.end_at)
    assert lot.distance(shapely.Point(start - low + (end - start) * station / line.wall.length)) < 1e-9
    assert strokes(axonometric_scene(demo_plan, stepping, lit=("C-D", station)), "chosen")


def test_handles_stand_on_the_steps(demo_plan: Plan) -> None:
    stepping = cheapest(demo_plan)
    for chain in demo_plan.chains:
        scene = profile_scene(demo_plan, stepping, chain.lines, 940.0)
        steps = [step for name in chain.lines for step in stepping.steps if step.line == name]
        assert {handle.name for handle in scene.handles} == {f"step|{s.line}|{s.station:.4f}" for s in steps}
        for handle in scene.handles:
            _, name, station = handle.name.split("|")
            step = next(s for s in steps if s.line == name and abs(s.station - float(station)) < 1e-4)
            where, at = place_at(demo_plan, chain.lines, (handle.left + handle.right) / 2)
            assert where == name
            assert at == pytest.approx(step.station)
            assert handle.low == min(step.before, step.after)
            assert (handle.right - handle.left) * scene.pixels_per_metre == pytest.approx(10.0)
        editable = [shape["name"] for shape in figure(scene)["layout"]["shapes"] if shape.get("editable")]
        assert editable == [handle.name for handle in scene.handles]


def test_place_at_holds_to_the_walls(demo_plan: Plan) -> None:
    names = ("H-C", "C-D", "D-A")
    first, second = (demo_plan.line(name).wall.length for name in names[:2])
    assert place_at(demo_plan, names, -3.0) == ("H-C", 0.0)
    assert place_at(demo_plan, names, first + 1.0) == ("C-D", pytest.approx(1.0))
    assert place_at(demo_plan, names, 1e6) == ("D-A", pytest.approx(demo_plan.line("D-A").wall.length))
    assert second > 1.0


def test_bare_concrete_is_the_area_that_the_walls_say() -> None:
    """Where grade is typed, the walls topic and the drawing see the same grade: their areas must be one."""
    checked = 0
    for plan in random_plans(12):
        if plan.shots is not None:
            continue
        stepping = cheapest(plan)
        walls = plan.walls[stepping.name]
        for bare in walls.bare:
            scene = outside_scene(plan, stepping, bare.line)
            shown = shapely.union_all(
                [shapely.make_valid(shapely.Polygon(a.points)) for a in scene.areas if a.layer == "bare"]
            )
            # Doors and windows show no concrete; beam pockets and sleeves are closed again.
            holes = [shapely.Polygon(a.points) for a in scene.areas if a.layer == "opening"]
            shown = shown.difference(shapely.union_all(holes))
            assert shown.area == pytest.approx(bare.area, rel=1e-6, abs=1e-6)
            checked += bare.area > 0.1
    assert checked > 10


def test_outside_is_seen_from_outside(demo_plan: Plan) -> None:
    """Walls of a ring named clockwise run from right to left for who stands before them [derived]."""
    for line in demo_plan.lines:
        along = np.subtract(line.wall.end_at, line.wall.start_at)
        clockwise = along[0] * line.wall.outward[1] - along[1] * line.wall.outward[0] > 0
        assert mirrored(line.wall) == clockwise
    scene = outside_scene(demo_plan, cheapest(demo_plan), "C-D")
    places = {label.text: label.at[0] for label in scene.labels if label.layer == "corner"}
    assert places["D"] < places["C"]


def test_outside_of_a_wall_that_drops_shows_the_framed_wall() -> None:
    dropping = [
        (plan, top)
        for plan in random_plans(8)
        for top in plan.walls["least cost"].tops
        if top.drop_from is not None and top.drop_to - top.drop_from > 0.5
    ]
    assert dropping
    for plan, top in dropping:
        scene = outside_scene(plan, cheapest(plan), top.line)
        assert area_of(scene, "framed") == pytest.approx(
            (top.drop_to - top.drop_from) * (top.full_top - top.low_top), rel=1e-9
        )
        assert "framed wall" in texts(scene)
        assert any("concrete drops from" in text for text in texts(scene))
        assert any("top drops" in text for text in texts(profile_scene(plan, cheapest(plan), [top.line])))


def test_heights_and_axes_are_true_in_space() -> None:
    """An isometric drawing has one scale on all three axes, which rise at 30° [memory: ISO 5456-3]."""
    for turn in QUARTERS:
        flat, _ = Projection(turn).flat(np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]]))
        axes = flat[1:] - flat[0]
        np.testing.assert_allclose(np.linalg.norm(axes, axis=1), 1.0, rtol=1e-12)
        np.testing.assert_allclose(np.abs(axes[:2, 1]), 0.5, rtol=1e-12)
        np.testing.assert_allclose(axes[2], [0, 1], atol=1e-12)


def test_depth_grows_away_from_the_reader() -> None:
    for turn in (-160.0, -45.0, 0.0, 20.0, 45.0, 90.0):
        projection = Projection(turn)
        step = np.append(projection.away, 0.0)
        _, depth = projection.flat(np.array([step * 0, step]))
        assert depth[1] > depth[0]
        assert projection.faces(-projection.away)
        assert not projection.faces(projection.away)


def test_far_walls_are_painted_first() -> None:
    """Walls that cover each other on the drawing are tried place by place: the painted-over one is the farther."""
    rng = np.random.default_rng(11)
    for _ in range(60):
        grid = rng.permutation(36)[:8]
        # Short walls in cells of their own never cross.
        middles = np.column_stack([grid % 6, grid // 6]) * 4.0
        turns = rng.uniform(0, np.pi, 8)
        half = 1.8 * np.column_stack([np.cos(turns), np.sin(turns)])
        places = [(m - h, m + h) for m, h in zip(middles, half, strict=True)]
        projection = Projection(float(rng.uniform(-180, 180)))
        order = far_first(places, projection)
        assert sorted(order) == list(range(8))
        for i in range(8):
            for j in range(i):
                one, other = (
                    np.array(
                        [places[k][0] + t * (places[k][1] - places[k][0]) for t in np.linspace(0, 1, 80)]
                    )
                    for k in (i, j)
                )
                gaps = np.abs((one @ projection.right)[:, None] - (other @ projection.right)[None, :])
                close = np.argwhere(gaps < 0.02)
                for a, b in close[:5]:
                    behind = one[a] @ projection.away > other[b] @ projection.away
                    first, second = (i, j) if behind else (j, i)
                    assert order.index(first) < order.index(second)


def test_a_line_behind_a_face_is_hidden() -> None:
    projection = Projection(0.0)
    face = Face("wall", np.array([[0.0, 0, 0], [4, 0, 0], [4, 0, 3], [0, 0, 3]]), "wall")
    hiding = Hiding([face], projection)
    behind = np.array([[-2.0, 1, 0], [6, 1, 0]])
    seen, hidden = hiding.parts(behind, 0.01)
    scale = projection.flat(np.array([[1.0, 0, 0]]))[0][0, 0]
    assert sum(np.linalg.norm(np.diff(p, axis=0), axis=1).sum() for p in hidden) == pytest.approx(
        4 * scale, abs=0.03
    )
    assert len(seen) == 2
    before = behind - [0, 2, 0]
    assert not hiding.parts(before, 0.01)[1]
    assert hiding.parts(before + np.array([0, 0, 2]), 0.01, always=True)[1]


def test_axonometric_shows_all_corners_and_steps(demo_plan: Plan) -> None:
    for stepping in demo_plan.steppings:
        for turn in (None, -45.0, 20.0, 90.0, 0.0):
            scene = axonometric_scene(demo_plan, stepping, turn=turn)
            shown = texts(scene)
            for name in "ABCDEFGH":
                assert any(text.startswith(f"{name}  ") for text in shown)
            assert sum(text.startswith("step ") for text in shown) == len(stepping.steps)
            for stroke in scene.strokes:
                assert all(len(piece) > 1 for piece in pieces(stroke.points))


def test_the_demo_lot_is_looked_at_from_below(demo_plan: Plan) -> None:
    # Its ground falls to the south: the reader stands there and looks north.
    assert abs(best_turn(demo_plan, cheapest(demo_plan))) == 45.0


def test_level_ground_without_steps_draws() -> None:
    tables = {
        "schema": 1,
        "frost": {"depth": "4 ft", "source": "x", "date": "2026-01-01"},
        "ground": {"corner_grades": {name: {"existing": "100 ft"} for name in "ABCD"}},
        "corners": {
            "A": {"east": "0 ft", "north": "20 ft"},
            "B": {"east": "30 ft", "north": "20 ft"},
            "C": {"east": "30 ft", "north": "0 ft"},
            "D": {"east": "0 ft", "north": "0 ft"},
        },
        "parts": [{"name": "house", "corners": ["A", "B", "C", "D"], "wall_top": "101 ft"}],
    }
    plan = planned(tables)
    scene = axonometric_scene(plan, cheapest(plan))
    assert "no step" in scene.title
    assert "1'-0\"" in outside_scene(plan, cheapest(plan), "A-B").title
