"""Labels keep clear of each other and of the frame, whatever the lot; texts are measured with a real type."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foundation.drawings.labels import Box, around, overlap, rows, shortened, stack, text_width
from foundation.drawings.lot import lot_scene
from foundation.drawings.outside import outside_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.scene import Label, Scene
from foundation.plan import Plan
from tests.drawings.every import drawings
from tests.drawings.measuring import clashes, measured_width
from tests.drawings.random_lots import random_plans


@pytest.mark.parametrize("stretch", [1.0, 2.0, 4.0])
@pytest.mark.parametrize("width", [720.0, 940.0])
def test_demo_profiles_are_clear(demo_plan: Plan, stretch: float, width: float) -> None:
    for plan in (demo_plan, replace(demo_plan, walls={})):
        names = [[line.wall.name] for line in plan.lines] + [list(chain.lines) for chain in plan.chains]
        for stepping in plan.steppings:
            for walls in names:
                for beside in (None, plan.steppings[1]):
                    scene = profile_scene(plan, stepping, walls, width, stretch, beside=beside)
                    assert not clashes(scene)
                    assert scene.width == pytest.approx(width, abs=1e-6)


@pytest.mark.parametrize("width", [720.0, 940.0])
def test_other_demo_drawings_are_clear(demo_plan: Plan, width: float) -> None:
    for stepping in demo_plan.steppings:
        for name, scene in drawings(demo_plan, stepping, width):
            assert not clashes(scene), name


def test_fifty_random_lots_are_clear() -> None:
    plans = random_plans(50)
    answers = [plan.steppings[0] for plan in plans]
    # Chance must have made lots that are worth trying.
    assert sum(len(stepping.steps) >= 5 for stepping in answers) > 20
    assert sum(plan.shots is None for plan in plans) > 10
    assert sum(plan.shots is not None for plan in plans) > 10
    assert sum(len(plan.project.parts) > 1 for plan in plans) > 10
    for number, (plan, stepping) in enumerate(zip(plans, answers, strict=True)):
        for name, scene in drawings(plan, stepping, 720.0 if number % 2 else 940.0):
            assert not clashes(scene), f"{plan.project.name}: {name}"
            assert scene.title
            assert scene.summary


def test_long_names_are_cut_not_crossed(demo_plan: Plan) -> None:
    stepping = demo_plan.steppings[0]
    walls = demo_plan.walls[stepping.name]
    opening = walls.openings[0]
    named = tuple(
        replace(opening, name=name, start=opening.start + i * 0.3, end=opening.start + i * 0.3 + 0.2)
        for i, name in enumerate(
            ("W" * 60, "a door of a name that is much too long for its place on paper", "m" * 60)
        )
    )
    plan = replace(demo_plan, walls={stepping.name: replace(walls, openings=named)})
    for scene in (
        outside_scene(plan, stepping, opening.line, 720.0),
        profile_scene(plan, stepping, [opening.line], 720.0),
    ):
        assert not clashes(scene)
        assert sum("…" in label.text for label in scene.labels) >= 3


def test_the_measure_sees_what_it_should() -> None:
    def scene(*labels: Label) -> Scene:
        return Scene("t", "s", (0.0, 10.0, 0.0, 5.0), 40.0, labels=labels)

    assert not clashes(scene(Label("note", "one", (2.0, 2.0)), Label("note", "two", (4.0, 2.0))))
    assert clashes(scene(Label("note", "one", (2.0, 2.0)), Label("note", "two", (2.3, 2.1))))
    assert clashes(scene(Label("note", "long enough", (0.2, 2.0))))
    assert clashes(scene(Label("note", "low", (2.0, 0.1))))


def test_lot_with_many_shots_is_clear(demo_plan: Plan) -> None:
    shots = demo_plan.shots
    assert shots is not None
    rng = np.random.default_rng(4)
    many = np.concatenate([np.arange(len(shots.point)), rng.integers(0, len(shots.point), 300)])
    scattered = replace(
        shots,
        point=tuple(str(i) for i in range(len(many))),
        note=tuple("x" * 200 for _ in many),
        line=tuple("" for _ in many),
        kind=tuple(shots.kind[i] for i in many),
        elevation=shots.elevation[many],
        east=shots.east[many] + rng.uniform(-15, 15, len(many)),
        north=shots.north[many] + rng.uniform(-15, 15, len(many)),
    )
    assert not clashes(lot_scene(replace(demo_plan, shots=scattered), demo_plan.steppings[0], 720.0))


def test_text_is_measured_on_the_wide_side() -> None:
    texts = (
        "step 10: 13'-6 15/16\" from D",
        "204'-8\" (204.67 ft)",
        "finished grade",
        "14'-4\" = 8'-0\" + 4'-0\" + 0'-4\" filler",
        "WIDEST MEN, AWAY",
        "3.823 m × 2.100 m",
        "100 % iljtf",
    )
    for text in texts:
        for strong in (False, True):
            assert text_width(text, 13.0, strong) >= measured_width(text, 13.0, strong)
            assert text_width(text, 13.0, strong) < 1.45 * measured_width(text, 13.0, strong)


def test_shortened_fits_and_keeps_one_line() -> None:
    for text in ("short", "a\nb\tc", "W" * 200, "Погреб " * 30, "🏠" * 60, ""):
        cut = shortened(text, 150.0)
        assert text_width(cut, 13.0) <= 150.0
        assert "\n" not in cut
    assert shortened("a\nb\tc", 150.0) == "a b c"


def test_stack_moves_no_more_than_it_must() -> None:
    assert stack([0.0, 100.0], 20.0) == [0.0, 100.0]
    assert stack([50.0, 50.0, 50.0], 20.0) == [30.0, 50.0, 70.0]
    rng = np.random.default_rng(7)
    for _ in range(200):
        wanted = rng.uniform(0, 100, 8).tolist()
        placed = stack(wanted, 17.5)
        gaps = np.diff(np.sort(placed))
        assert (gaps > 17.5 - 1e-6).all()
        assert np.argsort(wanted).tolist() == np.argsort(placed).tolist()


def test_rows_keep_texts_apart() -> None:
    rng = np.random.default_rng(3)
    for _ in range(200):
        centres, widths = rng.uniform(0, 400, 12).tolist(), rng.uniform(20, 160, 12).tolist()
        placed = rows(centres, widths, 0.0, 400.0, 6.0)
        for row in {row for _, row in placed}:
            spans = sorted(
                (c - w / 2, c + w / 2) for (c, r), w in zip(placed, widths, strict=True) if r == row
            )
            assert all(b[0] - a[1] > 6.0 - 1e-6 for a, b in zip(spans, spans[1:], strict=False))


def test_around_keeps_texts_apart_and_inside() -> None:
    rng = np.random.default_rng(5)
    frame: Box = (0.0, 500.0, 0.0, 400.0)
    points = [(float(x), float(y)) for x, y in rng.uniform((0, 0), (500, 400), (60, 2))]
    sizes = [(60.0, 16.0)] * len(points)
    boxes = [(x - 30, x + 30, y - 8, y + 8) for x, y in around(points, sizes, frame)]
    assert not any(overlap(boxes[i], boxes[j]) for i in range(len(boxes)) for j in range(i))
    assert all(b[0] >= 0 and b[1] <= 500 and b[2] >= 0 and b[3] <= 400 for b in boxes)
