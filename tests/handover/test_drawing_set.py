"""The set of drawings, read back from DXF and SVG by readers that are not ours."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing
from numpy.typing import NDArray

from foundation.drawings.layers import LAYERS
from foundation.drawings.scene import pieces
from foundation.handover.drawing_set import SetDrawing, drawing_set, svg_set
from foundation.handover.dxf_set import dxf_set
from foundation.plan import Plan
from tests.handover.samples import HOSTILE, named

FOOT = 0.3048
HASH = "0123456789"
Array = NDArray[np.float64]


def opened(content: bytes, folder: Path) -> Drawing:
    path = folder / "set.dxf"
    path.write_bytes(content)
    return ezdxf.readfile(path)


@pytest.fixture(scope="module")
def whole(demo_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Drawing:
    return opened(dxf_set(demo_plan, demo_plan.steppings[0].name, HASH), tmp_path_factory.mktemp("dxf"))


@pytest.fixture(scope="module")
def drawings(demo_plan: Plan) -> tuple[SetDrawing, ...]:
    return drawing_set(demo_plan, demo_plan.steppings[0].name)


def test_opens_without_audit_errors(whole: Drawing) -> None:
    assert whole.dxfversion == "AC1032"  # R2018
    auditor = whole.audit()
    assert not auditor.errors
    assert not auditor.fixes
    assert whole.header["$INSUNITS"] == 2  # feet, the shots' unit


def lines(whole: Drawing) -> list[tuple[str, Array]]:
    return [
        (entity.dxf.layer, np.array(entity.get_points("xy")) * FOOT)
        for entity in whole.modelspace().query("LWPOLYLINE")
    ]


def test_every_line_and_text_is_there(whole: Drawing, drawings: tuple[SetDrawing, ...]) -> None:
    """Each line of each drawing at its place, and nothing else; each text once, with the titles."""
    wanted = [
        (stroke.layer, piece + np.array([each.east, each.up]))
        for each in drawings
        for stroke in each.scene.strokes
        if not LAYERS[stroke.layer].marker
        for piece in pieces(stroke.points)
    ]
    found = lines(whole)
    assert len(found) == len(wanted)
    for (layer, one), (other_layer, other) in zip(found, wanted, strict=True):
        assert layer == other_layer
        np.testing.assert_allclose(one, other, rtol=0, atol=1e-8)
    texts = sorted(entity.plain_text() for entity in whole.modelspace().query("TEXT"))
    labels = [label.text for each in drawings for label in each.scene.labels]
    titles = [text for text in texts if text not in labels]
    assert len(texts) == len(labels) + 3 + 2 * (len(drawings) - 1)
    assert [text for text in titles if HASH in text]
    assert set(labels) <= set(texts)


def test_layers_are_things(whole: Drawing) -> None:
    used = {entity.dxf.layer for entity in whole.modelspace()}
    assert used <= set(LAYERS)
    assert used <= {layer.dxf.name for layer in whole.layers}
    assert {"wall", "footing", "frost-line", "finished-grade", "foam", "step"} <= used


def test_the_plan_lies_at_the_surveys_coordinates(whole: Drawing, demo_plan: Plan) -> None:
    walls = [line for layer, line in lines(whole) if layer == "outline"]
    for each in demo_plan.lines:
        ends = np.array([each.wall.start_at, each.wall.end_at])
        assert any(line.shape == ends.shape and np.allclose(line, ends, atol=1e-6) for line in walls)


def test_the_footings_of_the_profiles_are_the_plans(
    whole: Drawing, demo_plan: Plan, drawings: tuple[SetDrawing, ...]
) -> None:
    """Under the middle of every run a level line is drawn at its bottom, and none lies lower."""
    segments = np.vstack(
        [
            np.hstack([line[:-1], line[1:]])
            for layer, line in lines(whole)
            if layer == "footing" and len(line) > 1
        ]
    )
    by_name = {each.name: each for each in drawings}
    for run in demo_plan.steppings[0].runs:
        at = by_name[f"profile-{run.line}"]
        x, y = at.east + (run.start + run.end) / 2, at.up + run.bottom
        over = (segments[:, [0, 2]].min(axis=1) < x) & (segments[:, [0, 2]].max(axis=1) > x)
        # Profiles stand in one row: what is drawn over the same place belongs to this one, or to the plan far above.
        low = segments[over][:, [1, 3]].min(axis=1)
        assert low.min() == pytest.approx(y, abs=1e-6)


def test_levels_are_off_by_whole_feet(drawings: tuple[SetDrawing, ...]) -> None:
    for each in drawings[1:]:
        assert each.up / FOOT == pytest.approx(round(each.up / FOOT), abs=1e-6)


def test_drawings_lie_clear_of_each_other(drawings: tuple[SetDrawing, ...]) -> None:
    boxes = [
        (
            each.scene.window[0] + each.east,
            each.scene.window[1] + each.east,
            each.scene.window[2] + each.up,
            each.scene.window[3] + each.up,
        )
        for each in drawings
    ]
    for place, one in enumerate(boxes):
        for other in boxes[place + 1 :]:
            assert one[1] <= other[0] or other[1] <= one[0] or one[3] <= other[2] or other[3] <= one[2]


def test_what_is_in_the_set(drawings: tuple[SetDrawing, ...], demo_plan: Plan) -> None:
    names = [each.name for each in drawings]
    assert len(set(names)) == len(names)
    assert names[0] == "plan"
    assert {f"profile-{line.wall.name}" for line in demo_plan.lines} <= set(names)
    assert {"section-C-D-slab-edge", "section-A-B-basement-wall"} <= set(names)


def test_metres(demo_plan: Plan, tmp_path: Path) -> None:
    whole = opened(dxf_set(demo_plan, demo_plan.steppings[0].name, HASH, "m"), tmp_path)
    assert whole.header["$INSUNITS"] == 6
    walls = [
        np.array(line.get_points("xy"))
        for line in whole.modelspace().query("LWPOLYLINE")
        if line.dxf.layer == "outline"
    ]
    ends = np.array([demo_plan.lines[0].wall.start_at, demo_plan.lines[0].wall.end_at])
    assert any(line.shape == ends.shape and np.allclose(line, ends, atol=1e-9) for line in walls)


@pytest.mark.parametrize("name", HOSTILE)
def test_names_come_out_as_text(name: str, tmp_path: Path) -> None:
    plan = named(name)
    answer = plan.steppings[0].name
    whole = opened(dxf_set(plan, answer, HASH), tmp_path)
    assert not whole.audit().errors
    assert name in {entity.plain_text() for entity in whole.modelspace().query("TEXT")}
    for text in svg_set(plan, answer, HASH).values():
        root: Any = ElementTree.fromstring(text)
        said = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
        assert f"{name}, revision {name[:20].strip()}, {HASH}" in said
        assert not list(root.iter("{http://www.w3.org/2000/svg}script"))


def test_svg_set_is_the_same_set(demo_plan: Plan, drawings: tuple[SetDrawing, ...]) -> None:
    found = svg_set(demo_plan, demo_plan.steppings[0].name, HASH, grey=True)
    assert [*found] == [f"{each.name}.svg" for each in drawings]
    for text in found.values():
        ElementTree.fromstring(text)
        assert HASH in text
