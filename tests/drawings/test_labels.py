"""Labels keep clear of each other and of the frame, whatever the lot."""

from __future__ import annotations

import numpy as np
import pytest

from foundation.drawings.labels import LINE, Box, overlap, rows, stack, text_width
from foundation.drawings.lot import lot_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.scene import Label, Scene
from foundation.plan import Plan


def box(label: Label, scene: Scene) -> Box:
    """Where a label's text lies. [px]"""
    across, up = scene.pixels_per_metre, scene.pixels_per_metre * scene.stretch
    wide = text_width(label.text, label.size)
    x, y = label.at[0] * across, label.at[1] * up
    left = {"left": x, "middle": x - wide / 2, "right": x - wide}[label.anchor]
    return left, left + wide, y - label.size / 2, y + label.size / 2


def clashes(scene: Scene) -> list[str]:
    boxes = [box(label, scene) for label in scene.labels]
    found = [
        f"{scene.labels[i].text} | {scene.labels[j].text}"
        for i in range(len(boxes))
        for j in range(i)
        if overlap(boxes[i], boxes[j])
    ]
    across, up = scene.pixels_per_metre, scene.pixels_per_metre * scene.stretch
    frame = (scene.window[0] * across, scene.window[1] * across, scene.window[2] * up, scene.window[3] * up)
    for label, each in zip(scene.labels, boxes, strict=True):
        inside = frame[0] <= each[0] and each[1] <= frame[1] and frame[2] <= each[2] and each[3] <= frame[3]
        if not inside:
            found.append(f"{label.text} leaves the frame")
    return found


@pytest.mark.parametrize("stretch", [1.0, 2.0, 4.0])
@pytest.mark.parametrize("width", [720.0, 940.0])
def test_demo_profiles_are_clear(demo_plan: Plan, stretch: float, width: float) -> None:
    walls = [[line.wall.name] for line in demo_plan.lines] + [list(chain.lines) for chain in demo_plan.chains]
    for stepping in demo_plan.steppings:
        for names in walls:
            assert not clashes(profile_scene(demo_plan, stepping, names, width, stretch))


@pytest.mark.parametrize("width", [720.0, 940.0])
def test_demo_lot_is_clear(demo_plan: Plan, width: float) -> None:
    assert not clashes(lot_scene(demo_plan, demo_plan.steppings[0], width))


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


def test_text_is_measured_on_the_wide_side() -> None:
    assert text_width("step 10: 13'-6\" from D", 13.0) > 22 * 13.0 * 0.5
    assert LINE > 1.0
