"""What is particular to each form: escaping, sizes, layers, line types, handles."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from ezdxf import recover

from foundation.drawings.layers import INK, LAYERS
from foundation.drawings.scene import Area, Handle, Label, Scene, Stroke
from foundation.drawings.to_dxf import dxf, layer_names, literal
from foundation.drawings.to_plotly import figure
from foundation.drawings.to_svg import grey_of, luminance, svg

NASTY = (
    "<script>alert('x')</script>",
    'he said "5\'-6" & left',
    "x" * 200,
    "Погреб №3, подвал",
    "🏠 house \u200d",
    "100%%d %%c %%% %%065 50% %%u",
    "^J ^I a^b",
    r"\U+0041 \M+18140 \P {\fArial;x}",
    "]]> <!-- -- > <![CDATA[",
    "<b>bold</b>&amp;",
)
SVG = "{http://www.w3.org/2000/svg}"


def nasty_scene() -> Scene:
    square = np.array([[0.0, 0], [4, 0], [4, 3], [0, 3]])
    return Scene(
        title=NASTY[0],
        summary=NASTY[1] + "\x00\x0b",
        window=(-1.0, 9.0, -1.0, 12.0),
        pixels_per_metre=50.0,
        strokes=tuple(Stroke("wall", square + i, text) for i, text in enumerate(NASTY)),
        areas=tuple(Area("footing", square + i, text) for i, text in enumerate(NASTY)),
        labels=tuple(Label("note", text, (1.0, float(i)), "left") for i, text in enumerate(NASTY)),
        handles=(Handle("step|A-B|1.0000", 1.0, 1.2, 0.0, 0.6),),
    )


def test_svg_shows_a_users_text_as_text() -> None:
    root = ElementTree.fromstring(svg(nasty_scene()))
    assert [text.text for text in root.iter(f"{SVG}text")] == list(NASTY)
    assert not list(root.iter(f"{SVG}script"))
    assert root.findtext(f"{SVG}title") == NASTY[0]
    assert root.findtext(f"{SVG}desc") == NASTY[1]
    # No address is fetched, no font among them.
    assert svg(nasty_scene()).count("http") == 1


def test_svg_drops_what_xml_cannot_hold() -> None:
    scene = Scene(
        "t", "s", (0, 1, 0, 1), 10.0, labels=(Label("note", "a\x00b\x1bc\ud800d\ufffe", (0.5, 0.5)),)
    )
    root = ElementTree.fromstring(svg(scene).encode("utf-8"))
    assert next(root.iter(f"{SVG}text")).text == "abcd"


def test_dxf_shows_a_users_text_as_text() -> None:
    data = dxf(nasty_scene())
    # The repairing reader resolves the backslash codes, as viewers do; the plain one leaves them to the viewer.
    repaired, auditor = recover.read(io.BytesIO(data))
    plain = ezdxf.read(io.StringIO(data.decode("utf-8")))
    for drawing in (repaired, plain):
        shown = [text.plain_text().replace("\u200b", "") for text in drawing.modelspace().query("TEXT")]
        assert shown == list(NASTY)
    assert not auditor.errors
    assert literal("two\nlines\ttab") == "two lines tab"


def test_figure_shows_a_users_text_as_text() -> None:
    shown = figure(nasty_scene())
    assert "<script" not in str(shown["layout"]["annotations"])
    assert "<b>bold" not in str(shown["layout"]["annotations"])


def test_dxf_release_units_and_layers(demo_drawings: dict[str, Scene]) -> None:
    for scene in demo_drawings.values():
        for unit, code, measurement in (("m", 6, 1), ("ft", 2, 0)):
            drawing = ezdxf.read(io.StringIO(dxf(scene, unit).decode("utf-8")))  # type: ignore[arg-type]
            assert drawing.dxfversion == "AC1032"  # release 2018, DXF reference [memory]
            assert drawing.header["$INSUNITS"] == code  # 2 feet, 6 metres, DXF reference [memory]
            assert drawing.header["$MEASUREMENT"] == measurement
            assert not drawing.audit().errors
            assert not drawing.audit().fixes
            names = set(layer_names(scene))
            assert {layer.dxf.name for layer in drawing.layers} - {"0", "Defpoints"} == names
            assert {entity.dxf.layer for entity in drawing.modelspace()} <= names
            for name in names:
                entry, layer = drawing.layers.get(name), LAYERS[name]
                assert entry.dxf.linetype in drawing.linetypes
                assert (entry.dxf.linetype.upper() == "CONTINUOUS") == (layer.dash == "solid")
                assert entry.dxf.lineweight == pytest.approx(100 * layer.weight, abs=3)
                assert entry.rgb == (None if layer.colour == INK else tuple(bytes.fromhex(layer.colour[1:])))


def test_unknown_unit_is_told() -> None:
    with pytest.raises(ValueError, match='"yd"'):
        dxf(nasty_scene(), "yd")  # type: ignore[arg-type]


def test_svg_sizes() -> None:
    scene = nasty_scene()
    screen = ElementTree.fromstring(svg(scene, width_px=1000)).attrib
    assert (float(screen["width"]), float(screen["height"])) == (1000, 1300)
    paper = ElementTree.fromstring(svg(scene, paper_scale=50))
    # 10 m at 1:50 are 200 mm.
    assert paper.attrib["width"] == "200.000mm"
    wall = next(path for path in paper.iter(f"{SVG}path") if path.get("class") == "stroke wall")
    view = float(paper.attrib["viewBox"].split()[2])
    assert float(wall.attrib["stroke-width"]) * 200 / view == pytest.approx(LAYERS["wall"].weight, abs=1e-3)
    for bad in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(ValueError, match="width_px"):
            svg(scene, width_px=bad)


def test_grey_svg_has_only_greys_and_keeps_lightness(demo_drawings: dict[str, Scene]) -> None:
    for scene in demo_drawings.values():
        root = ElementTree.fromstring(svg(scene, grey=True))
        for element in root.iter():
            for key in ("fill", "stroke"):
                colour = element.get(key, "none")
                if colour.startswith("#"):
                    assert colour[1:3] == colour[3:5] == colour[5:7]
    for layer in LAYERS.values():
        # One step of 255 is at most this much light.
        assert luminance(grey_of(layer.colour)) == pytest.approx(luminance(layer.colour), abs=0.5 * 2.4 / 255)


def test_hatched_areas_refer_to_a_pattern_of_their_own_file(demo_drawings: dict[str, Scene]) -> None:
    for scene in demo_drawings.values():
        root = ElementTree.fromstring(svg(scene))
        known = {pattern.attrib["id"] for pattern in root.iter(f"{SVG}pattern")}
        used = {
            path.attrib["fill"][5:-1]
            for path in root.iter(f"{SVG}path")
            if path.get("fill", "").startswith("url(#")
        }
        assert used == known


def test_handles_are_editable_shapes_on_screens_only() -> None:
    scene = nasty_scene()
    shapes = [shape for shape in figure(scene)["layout"]["shapes"] if shape.get("editable")]
    assert [(shape["name"], shape["x0"], shape["x1"], shape["y0"], shape["y1"]) for shape in shapes] == [
        ("step|A-B|1.0000", 1.0, 1.2, 0.0, 0.6)
    ]
    assert "step|A-B" not in svg(scene)
    assert b"step|A-B" not in dxf(scene)
