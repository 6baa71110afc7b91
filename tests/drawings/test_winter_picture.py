"""The picture of the design winter: invented winters whose line is known, nothing solved for."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from foundation.dashboard.chart import plain
from foundation.drawings.scene import Scene, pieces
from foundation.drawings.to_plotly import figure
from foundation.drawings.winter_picture import finding, winter_scene
from foundation.model.section import Section
from foundation.model.winter import DesignWinter
from tests.drawings.heat_samples import in_air, random_sections
from tests.drawings.measuring import clashes
from tests.heat.sections import SECTIONS, slab_edge


def winter_of(section: Section, depth: float = 0.9, slope: float = 0.1, cell: float = 0.05) -> DesignWinter:
    """Frost whose lower edge lies straight, ``depth`` under the grade at the wall and falling outward by ``slope``."""
    grade = section.grade[0].level
    x = np.arange(section.inner_face - section.half_width, 6.0, cell)
    z = np.arange(section.bed - 5.0, section.top + cell / 2, cell)
    xx, zz = np.meshgrid((x[1:] + x[:-1]) / 2, (z[1:] + z[:-1]) / 2, indexing="ij")
    edge = grade - depth - slope * xx
    field = np.where(xx > 0, 8.0 * (edge - zz), 12.0)  # 8 K a metre outdoors
    air = in_air(section, xx, zz)
    temperature = np.where(air, np.nan, field)
    foot = min((b.bottom for b in section.blocks if b.name == "footing"), default=math.nan)
    middle = (x[1:] + x[:-1]) / 2
    frost = np.where(middle > 0, grade - depth - slope * middle, np.nan)
    return DesignWinter(
        section=section,
        inside=20.0,
        index=1400.0,
        coldest=-15.0,
        surface=0.7,
        day=58.0,
        x=x,
        z=z,
        temperature=temperature,
        front=np.clip(temperature, -1, 1),
        frost=frost,
        depth=depth + 2.0 * slope,
        lowest=grade - depth - 2.0 * slope,
        bottom=foot,
        under=4.0,
        reaches=False,
        distance=0.5,
        imbalance=0.0,
        cells=1000,
        steps=100,
    )


def lines(scene: Scene, layer: str) -> list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    return [piece for stroke in scene.strokes if stroke.layer == layer for piece in pieces(stroke.points)]


def test_the_line_of_freezing_lies_where_the_frost_ends() -> None:
    section = slab_edge()
    scene = winter_scene(winter_of(section))
    frost = shapely.MultiLineString(lines(scene, "freezing"))
    for x in (0.3, 0.8, 1.4, 2.0):  # 0.4 px of simplification
        assert frost.distance(shapely.Point(x, -0.9 - 0.1 * x)) < 0.005
    assert frost.bounds[2] == pytest.approx(2.0, abs=1e-6)  # to the edge of the picture


def test_asked_depth_follows_the_grade() -> None:
    section = SECTIONS["walkout foamed"]()
    asked = 1.2
    scene = winter_scene(winter_of(section), asked=asked)
    [line] = lines(scene, "frost-line")
    assert line[0] == pytest.approx((0.0, section.grade[0].level - asked))
    assert line[-1, 1] == pytest.approx(section.grade[1].level - asked)  # as far as 2 m
    assert [label.text for label in scene.labels if label.layer == "frost-line"] == ["asked for: 47 in"]
    assert scene.window[2] < section.grade[-1].level - asked
    assert not lines(winter_scene(winter_of(section)), "frost-line")


def test_titles_state_what_was_found() -> None:
    found = winter_of(slab_edge(), depth=0.7652)
    # 0.9652 m are 38 in; the footing stands on -1.4 m, 0.4348 m (17 in) lower. 58 days after 15 January is 14 March.
    assert finding(found, "us") == "14 March: frost stands 38 in deep, 17 in above the footing's bottom"
    assert finding(found, "metric") == "14 March: frost stands 97 cm deep, 43 cm above the footing's bottom"
    deeper = replace(found, depth=1.5, lowest=-1.5)
    assert (
        finding(deeper, "us")
        == "14 March: frost stands 59 in deep and comes within 20 in of the footing's bottom"
    )
    close = replace(deeper, distance=0.01)
    assert finding(close, "us").endswith("comes up to the edge of the footing's bottom")
    reached = replace(deeper, reaches=True, under=-0.5, distance=0.0)
    assert finding(reached, "metric") == "14 March: frost stands 150 cm deep and reaches under the footing"
    assert finding(replace(found, bottom=math.nan), "us") == "14 March: frost stands 38 in deep"
    assert finding(replace(found, depth=0.0, lowest=math.nan), "us").startswith("No frost in the ground")


def test_words() -> None:
    found = winter_of(slab_edge())
    scene = winter_scene(found, system="metric")
    assert scene.title == finding(found, "metric")
    assert "1,400 K·d" in scene.summary
    assert "-15 °C on its coldest day" in scene.summary
    assert "4.0 °C" in scene.summary
    assert "Inner air 20 °C" in scene.summary
    assert "not heated" in winter_scene(replace(found, inside=None)).summary
    assert [label.text for label in scene.labels if label.layer == "freezing"] == ["0 °C"]
    assert [label.text for label in winter_scene(found).labels if label.layer == "freezing"] == ["32 °F"]
    told = next(stroke for stroke in scene.strokes if stroke.layer == "pointer").hover
    assert len(told) > 50
    assert all(text.endswith("°C") for text in told)


def test_without_frost_there_is_no_line() -> None:
    found = winter_of(slab_edge())
    warm = replace(
        found,
        depth=0.0,
        lowest=math.nan,
        temperature=found.temperature + 40.0,
        front=np.ones_like(found.front),
    )
    assert not lines(winter_scene(warm), "freezing")


def test_a_wide_wing_is_shown() -> None:
    section = slab_edge(outside=0.05, wing=2.4)
    assert winter_scene(winter_of(section)).window[1] > 2.45


@pytest.mark.parametrize("system", ["us", "metric"])
def test_random_sections_are_clear_and_small(system: str) -> None:
    rng = np.random.default_rng(4)
    for number, section in enumerate(random_sections(20)):
        winter = winter_of(section, rng.uniform(0.2, 1.6), rng.uniform(0.0, 0.2))
        width = (390.0, 720.0, 905.0, 1250.0)[number % 4]
        scene = winter_scene(winter, width, system, float(rng.uniform(0.6, 1.8)))
        assert not clashes(scene), section
        assert scene.width == pytest.approx(width, abs=1e-6)
        assert len(json.dumps(plain(figure(scene)))) < 200_000
