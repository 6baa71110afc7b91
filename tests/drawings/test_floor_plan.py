"""The warm floors from above and their charts: true to the laid tube, clear texts, the same in three renderers."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import numpy as np
import pytest

from foundation.drawings.charts_scene import chart_scene
from foundation.drawings.floor_charts import across_tubes, load_and_output, water_by_weather
from foundation.drawings.floor_plan import floor_scene, tube_text
from foundation.drawings.to_dxf import dxf
from foundation.drawings.to_plotly import figure
from foundation.drawings.to_svg import svg
from foundation.model.floors import FloorsPlan
from foundation.plan import Plan
from foundation.plan.floors import floors_of
from tests.drawings.measuring import clashes


@pytest.fixture(scope="module")
def floors(demo_plan: Plan) -> FloorsPlan:
    return floors_of(demo_plan, demo_plan.steppings[0].name)


@pytest.mark.parametrize("width", [720.0, 905.0, 1100.0])
def test_texts_are_clear(demo_plan: Plan, floors: FloorsPlan, width: float) -> None:
    scene = floor_scene(demo_plan, floors, width, lit="garage")
    assert not clashes(scene)


def test_tube_is_drawn_where_it_is_laid(demo_plan: Plan, floors: FloorsPlan) -> None:
    scene = floor_scene(demo_plan, floors)
    drawn = [stroke for stroke in scene.strokes if stroke.layer.startswith("loop-")]
    laid = [loop for zone in floors.zones for laying in zone.layings for loop in laying.loops]
    assert len(drawn) == len(laid)
    shift = laid[0].path[0] - drawn[0].points[0]
    for stroke, loop in zip(drawn, laid, strict=True):
        np.testing.assert_allclose(stroke.points + shift, loop.path, atol=1e-9)
        length = np.hypot(*np.diff(stroke.points, axis=0).T).sum()
        # Bends are drawn as short chords, a little shorter than the arcs that are measured.
        assert loop.length * 0.999 < length <= loop.length + 1e-6
    # A zone's colour is its own, and its loops are told apart by their dash.
    assert len({stroke.layer[:6] for stroke in drawn}) == len(floors.zones)
    assert scene.title.startswith(f"{len(laid)} loops, {tube_text(floors.tube_length, 'us')}")


def test_three_renderers(demo_plan: Plan, floors: FloorsPlan) -> None:
    scene = floor_scene(demo_plan, floors)
    loops = sum(stroke.layer.startswith("loop-") for stroke in scene.strokes)
    assert sum("loop" in str(trace.get("hovertext")) for trace in figure(scene)["data"]) == loops
    assert "basement manifold" in svg(scene)

    document = ezdxf.read(io.StringIO(dxf(scene, "ft").decode()))
    assert not document.audit().has_errors
    assert sum(entity.dxf.layer.startswith("loop") for entity in document.modelspace()) >= loops


def test_charts_say_what_the_floors_do(floors: FloorsPlan) -> None:
    zone = floors.zone("garage")
    stripe = across_tubes(zone, "metric")
    assert max(stripe.lines[0].y) == pytest.approx(zone.cases[0].output.floor_peak, abs=0.02)
    assert min(stripe.lines[0].y) == pytest.approx(zone.cases[0].output.floor_least, abs=0.02)
    assert (
        f"{zone.limit - max(case.output.floor_peak for case in zone.cases):.0f} °C under its limit"
        in stripe.title
    )
    hot = replace(zone, limit=zone.cases[0].output.floor_peak - 2.0)
    assert "2 °C over its limit" in across_tubes(hot, "metric").title
    weather = water_by_weather(floors, "us")
    assert weather is not None
    assert [line.name for line in weather.lines] == [z.shape.name for z in floors.zones]
    # Colder outdoors takes hotter water.
    assert all(line.y[0] > line.y[-1] for line in weather.lines)
    assert (
        water_by_weather(replace(floors, zones=tuple(replace(z, reset=()) for z in floors.zones)), "us")
        is None
    )
    load = load_and_output(floors, "us")
    assert load is not None
    assert load.bars[0].y == pytest.approx([14, 28, 22], abs=0.01)
    assert load_and_output(replace(floors, zones=()), "us") is None
    for chart in (stripe, weather, load):
        for width in (340.0, 640.0, 905.0):
            assert not clashes(chart_scene(chart, width))


def test_metric_shows_no_feet(demo_plan: Plan, floors: FloorsPlan) -> None:
    metric = replace(demo_plan, project=demo_plan.project.model_copy(update={"units": "metric"}))
    scene = floor_scene(metric, floors)
    assert not any("'" in label.text or " ft" in label.text for label in scene.labels)
    assert tube_text(3.048, "us") == "10 ft"
