"""Colours: readable on the paper, and told apart in grey too.

Contrast is measured as WCAG 2.2 defines it [memory]: 4.5 for texts (success criterion 1.4.3), 3 for lines that carry
meaning (1.4.11). Lightness is L* of CIE 1976 [memory].
"""

from __future__ import annotations

from itertools import combinations

import matplotlib
import numpy as np
import pytest

from foundation.drawings.layers import HEAT, LAYERS, LIGHTENED, PAPER, QUIET, SERIES, Layer
from foundation.drawings.scene import Scene

# Layers that point or carry a text and are no thing to be told from another.
POINTING = {"leader", "note", "level", "pointer", "corner", "chosen", "dimension", "break", "level-line"}
POINTING |= {"axis", "grid"}


def light(colour: str) -> float:
    """Relative luminance, written out again here so that it is no second look at the package's own. [-]"""
    total = 0.0
    for place, weight in ((1, 0.2126), (3, 0.7152), (5, 0.0722)):
        value = int(colour[place : place + 2], 16) / 255
        total += weight * (value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4)
    return total


def contrast(one: str, other: str) -> float:
    dark, bright = sorted((light(one), light(other)))
    return (bright + 0.05) / (dark + 0.05)


def lightness(colour: str) -> float:
    y = light(colour)
    return 116 * y ** (1 / 3) - 16 if y > 0.008856 else 903.3 * y


def test_contrast_of_black_and_white() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)  # the standard's own greatest ratio
    assert lightness("#FFFFFF") == pytest.approx(100.0)


@pytest.mark.parametrize("name", LAYERS)
def test_layers_are_readable(name: str) -> None:
    layer = LAYERS[name]
    for paper in (PAPER, "#FFFFFF"):
        assert contrast(layer.ink, paper) >= 4.5
        assert contrast(layer.colour, paper) >= 3.0
        assert contrast(QUIET, paper) >= 4.5


@pytest.mark.parametrize("ground", ["wall", "wall-shade", "buried", "bare", "earth", "ground", "slab"])
@pytest.mark.parametrize(
    "line", ["finished-grade", "edge", "frost-line", "slab", "chosen", "compare", "step"]
)
def test_lines_are_seen_on_fills(line: str, ground: str) -> None:
    assert contrast(LAYERS[line].colour, LAYERS[ground].fill) >= 3.0


@pytest.mark.parametrize(
    ("line", "ground"),
    [
        ("contour", "ground"),
        ("contour-index", "ground"),
        ("existing-grade", "wall"),
        ("existing-grade", "earth"),
        ("panel", "wall"),
        ("insulation", "foam"),
        ("insulation", "frame"),
        ("gap", "concrete"),
        ("foam", "foam"),
        ("wood", "wood"),
        ("frame", "frame"),
        ("stone", "stone"),
        ("dimension", "soil"),
        ("series-1", "series-1-band"),
        ("series-2", "series-2-band"),
        ("series-3", "series-3-band"),
        ("series-4", "series-4-band"),
        ("whisker", "series-1"),
        ("whisker", "series-2"),
        ("whisker", "series-3"),
        ("whisker", "series-4"),
    ],
)
def test_quiet_lines_are_seen_where_they_run(line: str, ground: str) -> None:
    assert contrast(LAYERS[line].colour, LAYERS[ground].fill) >= 3.0


@pytest.mark.parametrize("name", HEAT)
def test_temperatures_carry_lines_and_texts(name: str) -> None:
    assert contrast(LAYERS["isotherm"].colour, LAYERS[name].fill) >= 3.0


def test_temperatures_are_cividis_lightened() -> None:
    """The map as matplotlib has it, with white added; in grey it rises from cold to warm."""
    cividis = matplotlib.colormaps["cividis"]
    for place, layer in enumerate(HEAT.values()):
        wanted = np.array(cividis(place / (len(HEAT) - 1))[:3]) * (1 - LIGHTENED) + LIGHTENED
        found = [int(layer.fill[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        np.testing.assert_allclose(found, wanted, rtol=0, atol=1.0 / 255)
    steps = np.diff([lightness(layer.fill) for layer in HEAT.values()])
    assert (steps > 1.0).all()


def test_series_are_told_apart_without_colour() -> None:
    for one, other in combinations(SERIES, 2):
        assert LAYERS[one].dash != LAYERS[other].dash
        assert LAYERS[one].hatch != LAYERS[other].hatch


def told_apart(one: Layer, other: Layer) -> bool:
    """By pattern or marker, by lightness, or by a width of half as much again."""
    if (one.dash, one.marker) != (other.dash, other.marker):
        return True
    if abs(lightness(one.colour) - lightness(other.colour)) >= 15:
        return True
    return max(one.width, other.width) >= 1.4 * max(0.1, min(one.width, other.width))


def areas_told_apart(one: Layer, other: Layer) -> bool:
    return one.hatch != other.hatch or abs(lightness(one.fill) - lightness(other.fill)) >= 1.5


def test_what_appears_together_is_told_apart_in_grey(demo_drawings: dict[str, Scene]) -> None:
    wrong = set()
    for scene in demo_drawings.values():
        filled = {area.layer for area in scene.areas}
        lines = {stroke.layer for stroke in scene.strokes} - POINTING
        for one, other in combinations(sorted(lines), 2):
            # Two outlines of the same pen round areas that differ are told by the areas.
            by_area = {one, other} <= filled and areas_told_apart(LAYERS[one], LAYERS[other])
            if not (by_area or told_apart(LAYERS[one], LAYERS[other])):
                wrong.add((one, other))
        for one, other in combinations(sorted(filled), 2):
            if not areas_told_apart(LAYERS[one], LAYERS[other]):
                wrong.add((one, other))
    assert not wrong
