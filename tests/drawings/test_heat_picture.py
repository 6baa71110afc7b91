"""The temperature picture against exact fields: isotherms lie where the formula has them, bands fill what is solid.

The wave into flat ground is Carslaw and Jaeger, Conduction of Heat in Solids, 2nd edition, section 2.6 [memory]:
T = mean - A e^(-d/δ) cos(ωt - d/δ) at depth d.
"""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from scipy.optimize import brentq

from foundation.dashboard.chart import plain
from foundation.drawings.heat_bands import bands, cells_in, extended, isotherm, solid, temperatures
from foundation.drawings.heat_picture import coldest_under_footing, heat_scene, levels_of
from foundation.drawings.layers import HEAT
from foundation.drawings.scene import Scene, pieces
from foundation.drawings.to_plotly import figure
from foundation.model.heat import Picture
from foundation.model.section import GradeStep, Section
from tests.drawings.heat_samples import in_air, moved, picture_of, random_sections, response_of
from tests.drawings.measuring import clashes
from tests.heat.sections import SECTIONS, slab_edge

PENETRATION = 0.7
MEAN, AMPLITUDE, INSIDE = 5.0, 16.0, 20.0


def flat() -> Section:
    """Flat ground with nothing in it."""
    section = slab_edge()
    grade = (GradeStep(0.0, 0.0),)
    return replace(section, blocks=(), bed=0.0, floor=0.0, grade=grade, top=0.5, concrete_top=0.0)


def flat_picture(cell: float = 0.02) -> Picture:
    x, z = np.arange(-3.5, 4.0, 0.1), np.arange(-6.0, 0.5 + cell / 2, cell)
    x_mid, z_mid = (x[1:] + x[:-1]) / 2, (z[1:] + z[:-1]) / 2
    _, zz = np.meshgrid(x_mid, z_mid, indexing="ij")
    air = zz > 0
    wave = np.exp((1 + 1j) * zz / PENETRATION)
    return Picture(x, z, np.where(air, np.nan, 1.0), np.where(air, np.nan + 0j, wave))


def exact(depth: float, day: float) -> float:
    turn = 2 * math.pi * day / 365
    return MEAN - AMPLITUDE * math.exp(-depth / PENETRATION) * math.cos(turn - depth / PENETRATION)


def lines(scene: Scene, layer: str) -> list[np.ndarray[tuple[int, ...], np.dtype[np.float64]]]:
    return [piece for stroke in scene.strokes if stroke.layer == layer for piece in pieces(stroke.points)]


@pytest.mark.parametrize("day", [0.0, 20.0, 45.0])
def test_frost_reaches_as_deep_as_the_wave(day: float) -> None:
    picture = flat_picture()
    scene = heat_scene(response_of(flat(), picture), INSIDE, MEAN, AMPLITUDE, day)
    depth = brentq(lambda d: exact(d, day), 0.01, 3.0)
    [frost] = lines(scene, "freezing")
    # 0.4 px of simplification, and cells of 20 mm.
    np.testing.assert_allclose(frost[:, 1], -depth, rtol=0, atol=0.4 / scene.pixels_per_metre + 1e-4)
    assert np.ptp(frost[:, 0]) == pytest.approx(3.7, abs=1e-6)  # from edge to edge of the picture


def test_temperature_follows_the_noun() -> None:
    picture = picture_of(SECTIONS["basement bare"]())
    found = temperatures(picture, INSIDE, MEAN, AMPLITUDE, 0.0)
    wanted = INSIDE + picture.steady * (MEAN - INSIDE) - AMPLITUDE * picture.annual.real
    np.testing.assert_allclose(found, wanted)
    half = temperatures(picture, INSIDE, MEAN, AMPLITUDE, 365 / 2)
    np.testing.assert_allclose(
        half, INSIDE + picture.steady * (MEAN - INSIDE) + AMPLITUDE * picture.annual.real
    )


@pytest.mark.parametrize("name", SECTIONS)
def test_bands_fill_what_is_solid_once(name: str) -> None:
    section = SECTIONS[name]()
    picture = picture_of(section)
    window = (section.inner_face - 0.7, 1.3, section.bed - 0.9, section.top)
    cells = cells_in(picture, temperatures(picture, INSIDE, MEAN, AMPLITUDE, 0.0), window)
    body = solid(cells, window)
    levels, _ = levels_of([cells], "us")
    found = bands(extended(cells), levels, body, 0.003)
    area = sum(shape.area for shape in found)
    # What the steps of simplification leave over.
    assert area == pytest.approx(body.area, rel=4e-3)
    assert shapely.union_all(found).area == pytest.approx(area, rel=4e-3)
    # And solid is where the noun says it is, to the size of a cell along its edges.
    x, z = np.random.default_rng(3).uniform((window[0], window[2]), (window[1], window[3]), (2000, 2)).T
    ours = shapely.contains_xy(body, x, z)
    assert np.mean(ours == ~in_air(section, x, z)) > 0.97


def test_isotherms_of_a_plane_field_are_straight_and_reach_the_edges() -> None:
    """T = 3 + 2 x - 4 z: what is carried on past the last cell is exact."""
    section = flat()
    picture = flat_picture(0.05)
    xx, zz = np.meshgrid(
        (picture.x[1:] + picture.x[:-1]) / 2, (picture.z[1:] + picture.z[:-1]) / 2, indexing="ij"
    )
    window = (-1.05, 1.05, -2.0, 0.5)
    field = np.where(in_air(section, xx, zz), np.nan, 3 + 2 * xx - 4 * zz)
    cells = cells_in(picture, field, window)
    body = solid(cells, window)
    assert body.bounds == pytest.approx((-1.05, -2.0, 1.05, 0.0))
    line = isotherm(extended(cells), 5.0, body, 1e-6)
    ends = sorted(np.array(line.coords).tolist())
    # At the left edge 3 - 2.1 - 4 z = 5, so z = -1.025; it rises to the right and meets the surface z = 0 at x = 1.
    np.testing.assert_allclose(ends[0], (-1.05, -1.025), atol=1e-9)
    np.testing.assert_allclose(ends[-1], (1.0, 0.0), atol=1e-9)


def test_bands_are_round_and_never_more_than_colours() -> None:
    section = flat()
    picture = flat_picture(0.05)
    cells = cells_in(picture, temperatures(picture, INSIDE, MEAN, AMPLITUDE, 0.0), (-1, 1, -2, 0.5))
    levels, step = levels_of([cells], "metric")
    assert step == "2 °C"
    assert all(level % 2 == 0 for level in levels)
    assert 0.0 in levels
    levels, step = levels_of([cells], "us")
    assert step == "5 °F"
    assert all(
        abs((level * 1.8 + 32) % 5) < 1e-9 or abs((level * 1.8 + 32) % 5 - 5) < 1e-9 for level in levels
    )
    wide = replace(cells, temperature=cells.temperature * 20)
    assert len(levels_of([wide], "metric")[0]) <= len(HEAT) + 1
    assert section.grade[0].level == 0.0


def test_freezing_is_the_heavy_line_and_is_named() -> None:
    response = response_of(SECTIONS["slab edge bare"]())
    for system, text in (("us", "32 °F"), ("metric", "0 °C")):
        scene = heat_scene(response, INSIDE, MEAN, AMPLITUDE, 0.0, system=system)
        named = [label for label in scene.labels if label.layer == "freezing"]
        assert [label.text for label in named] == [text]
        frost = shapely.MultiLineString(lines(scene, "freezing"))
        assert frost.distance(shapely.Point(named[0].at)) < 1e-6
        # Every isotherm's label lies on a line of its own temperature.
        for label in scene.labels:
            own = [s for s in scene.strokes if s.layer == "isotherm" and s.name == label.text]
            if (
                label.layer == "isotherm"
                and own
                and label.at[1] > scene.window[2] + 60 / scene.pixels_per_metre
            ):
                drawn = shapely.MultiLineString([p for s in own for p in pieces(s.points)])
                assert drawn.distance(shapely.Point(label.at)) < 1e-6
    warm = heat_scene(response, INSIDE, 15.0, 2.0, 0.0)
    assert not lines(warm, "freezing")
    assert not [label for label in warm.labels if label.layer == "freezing"]


def test_two_pictures_share_their_colours() -> None:
    foamed, bare = (response_of(SECTIONS[name]()) for name in ("walkout foamed", "walkout bare"))
    wide = heat_scene(foamed, INSIDE, MEAN, AMPLITUDE, 0.0, 905.0, bare)
    narrow = heat_scene(foamed, INSIDE, MEAN, AMPLITUDE, 0.0, 390.0, bare)
    for scene in (wide, narrow):
        texts = [label.text for label in scene.labels]
        assert "as planned" in texts
        assert "without foam" in texts
        assert not clashes(scene)
    first, second = (
        [label for label in scene.labels if label.text in ("as planned", "without foam")]
        for scene in (wide, narrow)
    )
    assert first[0].at[1] == first[1].at[1]
    assert second[0].at[0] == second[1].at[0]
    colour = {area.name: area.layer for area in wide.areas if area.name}
    assert all(colour[area.name] == area.layer for area in wide.areas if area.name)


def test_title_tells_the_ground_under_the_footing() -> None:
    section = SECTIONS["slab edge bare"]()
    picture = picture_of(section)
    field = temperatures(picture, INSIDE, MEAN, AMPLITUDE, 0.0)
    cells = cells_in(picture, field, (-1.5, 2.0, -3.0, 0.5))
    found = coldest_under_footing(section, cells)
    foot = next(b for b in section.blocks if b.name == "footing")
    x, z = (picture.x[1:] + picture.x[:-1]) / 2, (picture.z[1:] + picture.z[:-1]) / 2
    row = max(i for i, level in enumerate(z) if level < foot.bottom)
    wanted = min(field[i, row] for i in range(len(x)) if foot.left < x[i] < foot.right)
    assert found == pytest.approx(wanted)
    scene = heat_scene(response_of(section), INSIDE, MEAN, AMPLITUDE, 17.0, system="metric")
    assert scene.title.startswith("1 February: under the footing ")
    assert coldest_under_footing(flat(), cells) is None
    cold = heat_scene(response_of(section), INSIDE, -12.0, AMPLITUDE, 0.0)
    assert cold.title.endswith("it freezes there")


@pytest.mark.parametrize("system", ["us", "metric"])
def test_thirty_random_sections_are_clear_and_small(system: str) -> None:
    rng = np.random.default_rng(6)
    for number, section in enumerate(random_sections(30)):
        response = response_of(moved(section, 0.0))
        width = (390.0, 720.0, 905.0, 1250.0)[number % 4]
        other = response if number % 2 else None
        scene = heat_scene(
            response, 20.0, rng.uniform(-5, 12), rng.uniform(5, 22), rng.uniform(0, 365), width, other, system
        )
        assert not clashes(scene), section
        assert scene.width == pytest.approx(width, abs=1e-6)
        assert len(json.dumps(plain(figure(scene)))) < 200_000
