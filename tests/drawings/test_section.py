"""A section's drawing: every point shows what lies there, the stack is added up, gaps are marked and named."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
import shapely

from foundation.dashboard.chart import plain
from foundation.drawings.scene import Scene, pieces
from foundation.drawings.section import section_scene
from foundation.drawings.section_shapes import LAYER_OF, insulation_line, stack_at
from foundation.drawings.section_words import stack_text
from foundation.drawings.to_plotly import figure
from foundation.model.section import BlockKind, Section
from tests.drawings.heat_samples import gaps_in, moved, random_sections
from tests.drawings.measuring import clashes
from tests.heat.sections import SECTIONS, slab_edge, walkout

INCH = 0.0254


def texts(scene: Scene) -> list[str]:
    return [label.text for label in scene.labels]


def shapes(scene: Scene) -> list[tuple[str, shapely.Polygon]]:
    return [
        (area.layer, shapely.Polygon(piece))
        for area in scene.areas
        if area.layer != "earth"
        for piece in pieces(area.points)
    ]


def layer_at(section: Section, x: float, z: float) -> str:
    """What lies at a point by the words of the noun: the last block there, else ground, else air."""
    for block in reversed(section.blocks):
        if block.left < x < block.right and block.bottom < z < block.top:
            return LAYER_OF[block.kind]
    level = [step.level for step in section.grade if step.start <= max(x, 0.0)][-1]
    return "soil" if z < (section.bed if x < section.divide else level) else "air"


@pytest.mark.parametrize("name", SECTIONS)
def test_every_point_shows_what_lies_there(name: str) -> None:
    section = SECTIONS[name]()
    scene = section_scene(section)
    drawn = shapes(scene)
    rng = np.random.default_rng(8)
    left = max(section.inner_face - section.half_width, section.inner_face - 0.85)
    low = min([section.bed, *(block.bottom for block in section.blocks)]) - 0.2
    checked = set()
    for x, z in rng.uniform((left, low), (0.85, section.top), (600, 2)).tolist():
        # A slope is drawn as a slope, though the noun has it in steps.
        if any(abs(z - step.level) < 0.02 and x > 0 for step in section.grade):
            continue
        found = [layer for layer, shape in drawn if shape.contains(shapely.Point(x, z))] or ["air"]
        assert found == [layer_at(section, x, z)]
        checked.update(found)
    assert {"air", "soil", "concrete"} <= checked


@pytest.mark.parametrize("width", [720.0, 905.0, 1250.0])
@pytest.mark.parametrize("system", ["us", "metric"])
def test_samples_are_clear(width: float, system: str) -> None:
    for name, made in SECTIONS.items():
        section = moved(made(), 30.48)
        for gaps in (None, (), gaps_in(section)):
            scene = section_scene(section, width, gaps, "slab", system)
            assert not clashes(scene), name
            assert scene.width == pytest.approx(width, abs=1e-6)
            assert scene.stretch == 1.0


def test_sixty_random_sections_are_clear() -> None:
    for number, section in enumerate(random_sections(60)):
        scene = section_scene(
            section, (720.0, 905.0)[number % 2], gaps_in(section), system=("us", "metric")[number % 2]
        )
        assert not clashes(scene), section
        assert len(json.dumps(plain(figure(scene)))) < 200_000
        assert not stack_text(section, "us")[1], section


def test_layers_are_named_with_thickness_and_resistance() -> None:
    section = slab_edge(under=3 * INCH, edge=2 * INCH)
    said = texts(section_scene(section))
    # 3 in of 0.032 W/(m·K): 2.38 m²·K/W, R-13.5 with 0.17611 m²·K/W to one R of ISO 80000 factors [derived].
    assert 'foam under the slab 3", R-13.5' in said
    assert "foam at the slab's edge 2\", R-9" in said
    metric = texts(section_scene(section, system="metric"))
    assert "foam under the slab 76 mm, 2.38 m²·K/W" in metric


def test_the_stack_is_added_up() -> None:
    section = moved(slab_edge(under=3 * INCH), 30.48 - 0.2)
    words, wrong = stack_text(section, "us")
    assert not wrong
    assert words.endswith("the stack closes: 0")
    assert words.startswith(
        'Under the floor: 100\'-0" − 3 15/16" slab − 3" foam − 3 15/16" stone = ground at 99\'-1 1/8"'
    )
    # Without its stone there is a hole of 100 mm, with a thicker slab too much.
    hollow = replace(section, blocks=tuple(b for b in section.blocks if b.kind is not BlockKind.STONE))
    words, wrong = stack_text(hollow, "metric")
    assert wrong
    assert words.endswith("the stack does not close: 100 mm short")
    assert any(label.strong and "does not close" in label.text for label in section_scene(hollow).labels)
    low = replace(section, bed=section.bed + 0.05)
    assert stack_text(low, "metric")[0].endswith("does not close: 50 mm over")


def test_stack_tells_what_is_seen_where_blocks_overlap() -> None:
    section = slab_edge(under=2 * INCH, band=1.2)
    near, far = (stack_at(section, section.inner_face - x) for x in (0.5, 1.5))
    assert [block.name for block, *_ in near] == ["slab", "foam under the slab", "stone"]
    assert [block.name for block, *_ in far] == ["slab", "stone"]
    assert sum(top - bottom for _, bottom, top in near) == pytest.approx(section.floor - section.bed)


def test_levels_stand_at_the_right_edge() -> None:
    section = moved(walkout(under=2 * INCH), 30.48)
    scene = section_scene(section)
    right = max(label.at[0] for label in scene.labels if label.layer == "level-line")
    flags = {label.text: label for label in scene.labels if label.layer == "level-line"}
    for text in ("100'-1 15/16\" top of slab", "94'-9\" bottom of footing", "95'-4 7/8\" top of footing"):
        assert flags[text].at[0] == right
        assert flags[text].leader is not None
    level = {label.text.split("  ")[0]: label.leader for label in flags.values()}
    bottom = level["94'-9\" bottom of footing"]
    assert bottom is not None
    assert bottom[1] == pytest.approx(30.48 - 1.6)


def test_gaps_are_marked_named_and_counted() -> None:
    section = SECTIONS["walkout foamed"]()
    gaps = gaps_in(section)
    scene = section_scene(section, gaps=gaps)
    assert "broken in 2 places" in scene.title
    marked = [stroke.points for stroke in scene.strokes if stroke.layer == "gap"]
    np.testing.assert_allclose(marked, [[gap.start, gap.end] for gap in gaps])
    said = texts(scene)
    assert {"gap 1", "gap 2"} <= set(said)
    first, second = (next(text for text in said if text.startswith(f"gap {n}:")) for n in (1, 2))
    assert "closing it would save 0.0179 Btu/h·ft·°F" in first  # 0.031 W/(m·K) / 1.7307 [derived]
    assert "closing" not in second
    assert "unbroken" in section_scene(section, gaps=()).title
    assert "no foam" in section_scene(SECTIONS["walkout bare"](), gaps=gaps).title


def test_the_pencil_runs_from_block_to_block() -> None:
    """Edge foam that stands on the foam under the slab makes one line; the framed wall above is another."""
    section = slab_edge(edge=2 * INCH, under=2 * INCH)
    window = (-3.0, 1.0, -2.0, 2.0)
    lines = [shapely.LineString(piece) for piece in pieces(insulation_line(section.blocks, window))]
    foam = shapely.union_all(
        [shapely.box(b.left, b.bottom, b.right, b.top) for b in section.blocks if b.kind is BlockKind.FOAM]
    )
    inside = [line for line in lines if line.within(foam.buffer(1e-9))]
    groups = shapely.get_parts(shapely.union_all([line.buffer(1e-6) for line in inside]))
    assert len(groups) == 1
    assert groups[0].bounds == pytest.approx(
        (-3.0, section.floor - 0.1 - INCH, -0.2, section.floor), abs=1e-5
    )


def test_what_is_picked_is_lit_and_can_be_picked() -> None:
    section = SECTIONS["walkout foamed"]()
    scene = section_scene(section, highlight="foam under the slab")
    [lit] = [stroke.points for stroke in scene.strokes if stroke.layer == "chosen"]
    block = next(b for b in section.blocks if b.name == "foam under the slab")
    assert np.nanmax(lit[:, 1]) == pytest.approx(block.top)
    assert np.nanmin(lit[:, 1]) == pytest.approx(block.bottom)
    [pointer] = [stroke for stroke in scene.strokes if stroke.layer == "pointer"]
    assert set(pointer.keys) == {b.name for b in section.blocks}
    assert not [s for s in section_scene(section, highlight="nothing").strokes if s.layer == "chosen"]


@pytest.mark.parametrize(("system", "metres"), [("us", 0.3048), ("metric", 1.0)])
def test_scale_bar_is_as_long_as_it_says(system: str, metres: float) -> None:
    scene = section_scene(SECTIONS["basement bare"](), system=system)
    [bar] = [stroke.points for stroke in scene.strokes if stroke.name == "scale bar"]
    said = next(
        label.text for label in scene.labels if label.text.endswith((" ft", " m")) and label.layer == "note"
    )
    assert np.ptp(bar[:, 0]) == pytest.approx(float(said.split()[0]) * metres)
