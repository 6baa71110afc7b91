"""The screen's figure, the SVG and the DXF hold the same drawing: each is read back by a reader that is not ours.

Tolerances are what each form rounds to: the figure a tenth of a millimetre, the SVG a thousandth of a pixel, the DXF
sixteen digits.
"""

from __future__ import annotations

import io
import re
from typing import Any
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from numpy.typing import NDArray

from foundation.drawings.layers import LAYERS
from foundation.drawings.scene import Scene, pieces
from foundation.drawings.to_dxf import dxf
from foundation.drawings.to_plotly import figure
from foundation.drawings.to_svg import svg

Array = NDArray[np.float64]
Piece = tuple[str, Array]
KINDS = ("profile", "developed", "outside", "lot", "axonometric", "section", "heat", "chart")
SVG = "{http://www.w3.org/2000/svg}"
FOOT = 0.3048


def of_kind(drawings: dict[str, Scene], kind: str) -> list[Scene]:
    found = [scene for name, scene in drawings.items() if name.startswith(kind)]
    assert found
    return found


def drawn_lines(scene: Scene) -> list[Piece]:
    """Every piece of a line that all three show, with its layer; what is only to be pointed at is on screens alone."""
    return [
        (stroke.layer, piece)
        for stroke in scene.strokes
        if LAYERS[stroke.layer].marker != "none"
        for piece in pieces(stroke.points)
    ]


def drawn_areas(scene: Scene) -> list[Piece]:
    return [(area.layer, piece) for area in scene.areas for piece in pieces(area.points)]


def labels(scene: Scene) -> list[tuple[str, str, str, Array]]:
    return [(label.layer, label.text, label.anchor, np.array(label.at)) for label in scene.labels]


def leaders(scene: Scene) -> list[Array]:
    return [np.array([label.leader, label.at]) for label in scene.labels if label.leader is not None]


def same_pieces(found: list[Piece], wanted: list[Piece], tolerance: float) -> None:
    assert [layer for layer, _ in found] == [layer for layer, _ in wanted]
    for (_, one), (_, other) in zip(found, wanted, strict=True):
        np.testing.assert_allclose(one, other, rtol=0, atol=tolerance)


def by_layer(some: list[Piece]) -> list[Piece]:
    return sorted(some, key=lambda pair: pair[0])


@pytest.mark.parametrize("kind", KINDS)
def test_figure(demo_drawings: dict[str, Scene], kind: str) -> None:
    for scene in of_kind(demo_drawings, kind):
        shown = figure(scene)
        traces = [
            np.column_stack([np.array(trace["x"], float), np.array(trace["y"], float)])
            for trace in shown["data"]
        ]
        count = len(scene.areas)
        areas = [
            (area.layer, piece)
            for area, trace in zip(scene.areas, traces[:count], strict=True)
            for piece in pieces(trace)
        ]
        strokes = [
            (stroke.layer, piece)
            for stroke, trace in zip(scene.strokes, traces[count:], strict=True)
            if LAYERS[stroke.layer].marker != "none"
            for piece in pieces(trace)
        ]
        same_pieces(areas, drawn_areas(scene), 0.5e-4)
        same_pieces(strokes, drawn_lines(scene), 0.5e-4)
        notes = shown["layout"]["annotations"]
        anchors = {"left": "left", "center": "middle", "right": "right"}
        for note, (_, text, anchor, at) in zip(notes, labels(scene), strict=True):
            plain = note["text"].removeprefix("<b>").removesuffix("</b>")
            assert plain.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&") == text
            assert anchors[note["xanchor"]] == anchor
            np.testing.assert_array_equal((note["x"], note["y"]), at)
        lines = [shape for shape in shown["layout"]["shapes"] if shape["type"] == "line"]
        for shape, wanted in zip(lines, leaders(scene), strict=True):
            np.testing.assert_array_equal([[shape["x0"], shape["y0"]], [shape["x1"], shape["y1"]]], wanted)


def from_path(d: str) -> list[Array]:
    """Pieces of an SVG path of absolute moves and lines, or the middles that markers begin at."""
    return [
        np.array([[float(v) for v in pair.split(",")] for pair in re.findall(r"-?[\d.]+,-?[\d.]+", piece)])
        for piece in re.split("(?=M)", d)
        if piece.strip()
    ]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("paper_scale", [None, 48.0])
def test_svg(demo_drawings: dict[str, Scene], kind: str, paper_scale: float | None) -> None:
    for scene in of_kind(demo_drawings, kind):
        root = ElementTree.fromstring(svg(scene, paper_scale=paper_scale))
        left, right, bottom, top = scene.window
        box = [float(v) for v in root.attrib["viewBox"].split()]
        across = box[2] / (right - left)
        up = box[3] / (top - bottom)
        assert up / across == pytest.approx(scene.stretch, rel=1e-5)
        corner, to_pixels = np.array([left, top]), np.array([across, -up])

        def pixels(points: Array, corner: Array = corner, scale: Array = to_pixels) -> Array:
            return (points - corner) * scale

        found: dict[str, list[Piece]] = {"area": [], "stroke": []}
        for path in root.iter(f"{SVG}path"):
            kind_of, _, layer = path.get("class", "").partition(" ")
            if kind_of not in found:
                continue
            parts = from_path(path.attrib["d"])
            if LAYERS[layer].marker and kind_of == "stroke":
                parts = [np.array([part[0] for part in parts])]
            found[kind_of] += [(layer, part) for part in parts]
        # Compared in pixels, for the two axes of a chart have units of their own.
        for kind_of, drawn in (("area", drawn_areas(scene)), ("stroke", drawn_lines(scene))):
            same_pieces(found[kind_of], [(layer, pixels(piece)) for layer, piece in drawn], 2e-3)
        texts = list(root.iter(f"{SVG}text"))
        anchors = {"start": "left", "middle": "middle", "end": "right"}
        for text, (layer, words, anchor, at) in zip(texts, labels(scene), strict=True):
            assert text.text == words
            assert text.attrib["class"] == f"label {layer}"
            assert anchors[text.attrib["text-anchor"]] == anchor
            place = [float(text.attrib["x"]), float(text.attrib["y"])]
            np.testing.assert_allclose(place, pixels(at), rtol=0, atol=2e-3)
        lines = list(root.iter(f"{SVG}line"))
        for line, wanted in zip(lines, leaders(scene), strict=True):
            ends = np.array([[float(line.attrib[f"{v}{n}"]) for v in "xy"] for n in (2, 1)])
            np.testing.assert_allclose(ends, pixels(wanted), rtol=0, atol=2e-3)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("unit", "metres"), [("m", 1.0), ("ft", FOOT)])
def test_dxf(demo_drawings: dict[str, Scene], kind: str, unit: Any, metres: float) -> None:
    for scene in of_kind(demo_drawings, kind):
        drawing = ezdxf.read(io.StringIO(dxf(scene, unit).decode("utf-8")))
        space = drawing.modelspace()
        areas: list[Piece] = []
        lines: list[Piece] = []
        markers: dict[str, list[Any]] = {}
        for hatch in space.query("HATCH"):
            for path in hatch.paths:
                areas.append((hatch.dxf.layer, np.array([v[:2] for v in path.vertices]) * metres))
        for line in space.query("LWPOLYLINE"):
            lines.append((line.dxf.layer, np.array(line.get_points("xy")) * metres))
        for insert in space.query("INSERT"):
            markers.setdefault(insert.dxf.layer, []).append(tuple(insert.dxf.insert)[:2])
        lines += [(layer, np.array(places) * metres) for layer, places in markers.items()]
        same_pieces(areas, drawn_areas(scene), 1e-9)
        # Markers come after the lines here, so each side is put in the order of the layers.
        same_pieces(by_layer(lines), by_layer(drawn_lines(scene)), 1e-9)
        for text, (layer, words, anchor, at) in zip(space.query("TEXT"), labels(scene), strict=True):
            assert text.plain_text() == words
            assert text.dxf.layer == layer
            align, place, _ = text.get_placement()
            assert (
                align.name
                == {"left": "MIDDLE_LEFT", "middle": "MIDDLE_CENTER", "right": "MIDDLE_RIGHT"}[anchor]
            )
            np.testing.assert_allclose(np.array(place)[:2] * metres, at, rtol=0, atol=1e-9)
        for line, wanted in zip(space.query("LINE"), leaders(scene), strict=True):
            ends = np.array([line.dxf.start, line.dxf.end])[:, :2] * metres
            np.testing.assert_allclose(ends, wanted, rtol=0, atol=1e-9)
        # A hatch's outlines and the lines on its layer are all that a layer holds: nothing is drawn twice or lost.
        assert len(space) == (
            len(scene.areas) + len(space.query("LWPOLYLINE INSERT")) + len(scene.labels) + len(leaders(scene))
        )
