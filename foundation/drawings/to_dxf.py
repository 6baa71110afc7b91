"""A scene as DXF: true coordinates, one layer for each of the scene's, texts that stay as they were typed."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Literal

import numpy as np

from foundation.drawings.layers import INK, LAYERS
from foundation.drawings.scene import Label, Scene, pieces
from foundation.drawings.to_svg import MARKER, RING

if TYPE_CHECKING:
    from ezdxf.colors import RGB
    from ezdxf.document import Drawing
    from ezdxf.layouts import Modelspace

FOOT = 0.3048
CAPITAL = 0.72
"""Height of capitals over the size of the type; DXF measures a text by its capitals. [-]"""
LINETYPES = {
    "solid": "CONTINUOUS",
    "dash": "DASHED",
    "longdash": "DASHEDX2",
    "dot": "DOT",
    "dashdot": "DASHDOT",
}
DASH = 10.0
"""Length of the pattern of a dashed line on the screen. [px]"""
PATTERNS = {
    "/": ("ANSI31", 8.0 / 3.175, 0.0),
    "\\": ("ANSI31", 8.0 / 3.175, 90.0),
    "x": ("ANSI37", 8.0 / 3.175, 0.0),
    "-": ("ANSI31", 8.0 / 3.175, -45.0),
    ".": ("DOTS", 6.0 / 1.5, 0.0),
}
"""Hatch patterns, their scale for one pixel between lines, and the angle [°] they are turned by."""
WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)
"""Line weights that DXF knows. [1/100 mm]"""
NOT_TEXT = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029]")


def dxf(scene: Scene, unit: Literal["m", "ft"] = "m") -> bytes:
    """A scene as the bytes of a DXF file of release 2018.

    Parameters
    ----------
    scene : Scene
        The drawing. Its stretch is not applied, so a profile that is to go out is best drawn in true shape.
    unit : {"m", "ft"}
        Unit of the file's coordinates: metres, or international feet.

    Returns
    -------
    bytes
        The file, in UTF-8.

    Raises
    ------
    ValueError
        If the unit is not known.
    """
    if unit not in ("m", "ft"):
        raise ValueError(f'"{unit}" is no unit of a DXF file here: "m" and "ft" are known.')
    import ezdxf

    drawing = ezdxf.new("R2018", setup=["linetypes"])
    drawing.header["$INSUNITS"] = 6 if unit == "m" else 2
    drawing.header["$MEASUREMENT"] = 1 if unit == "m" else 0
    drawing.header["$LWDISPLAY"] = 1
    scale = 1.0 if unit == "m" else 1 / FOOT
    pixel = scale / scene.pixels_per_metre
    # The patterns of the line types are 0.6 long.
    drawing.header["$LTSCALE"] = DASH * pixel / 0.6
    drawing.styles.new("SANS", dxfattribs={"font": "arial.ttf"})
    for name in layer_names(scene):
        _add_layer(drawing, name)
    _draw(drawing, scene, scale, pixel)
    stream = io.StringIO()
    drawing.write(stream)
    return stream.getvalue().encode("utf-8")


def layer_names(scene: Scene) -> list[str]:
    """Layers that a scene's file has.

    Parameters
    ----------
    scene : Scene
        The drawing.

    Returns
    -------
    list of str
        Their names, in the order of the table of layers; what is only there to be pointed at is left out.
    """
    used = {stroke.layer for stroke in scene.strokes} | {area.layer for area in scene.areas}
    used |= {label.layer for label in scene.labels}
    used |= {"leader"} if any(label.leader for label in scene.labels) else set()
    return [name for name, layer in LAYERS.items() if name in used and layer.marker != "none"]


def _add_layer(drawing: Drawing, name: str) -> None:
    from ezdxf.colors import rgb2int

    layer = LAYERS[name]
    weight = min(WEIGHTS, key=lambda known: abs(known - 100 * layer.weight))
    # Ink stays the viewer's own black or white; other colours are given as they are.
    entry = drawing.layers.add(
        name,
        color=7,
        true_color=rgb2int(_rgb(layer.colour)) if layer.colour != INK else None,
        linetype=LINETYPES[layer.dash],
        lineweight=weight,
    )
    entry.description = layer.title
    if layer.marker:
        block = drawing.blocks.new(f"MARKER-{name}")
        if layer.marker == "x":
            block.add_line((-1, -1), (1, 1))
            block.add_line((-1, 1), (1, -1))
        elif layer.marker in ("circle", "ring"):
            block.add_circle((0, 0), 1)
        else:
            block.add_lwpolyline([(-1, -1), (1, -1), (0, 1)], close=True)


def _draw(drawing: Drawing, scene: Scene, scale: float, pixel: float) -> None:
    space = drawing.modelspace()
    for area in scene.areas:
        layer = LAYERS[area.layer]
        hatch = space.add_hatch(dxfattribs={"layer": area.layer})
        if layer.hatch:
            pattern, size, angle = PATTERNS[layer.hatch]
            hatch.set_pattern_fill(pattern, scale=size * pixel, angle=angle)
            hatch.bgcolor = _rgb(layer.fill)
        else:
            hatch.rgb = _rgb(layer.fill)
        for piece in pieces(area.points):
            hatch.paths.add_polyline_path((piece * scale).tolist(), is_closed=True)
    for stroke in scene.strokes:
        marker = LAYERS[stroke.layer].marker
        if marker == "none":
            continue
        size = RING if marker == "ring" else MARKER
        for piece in pieces(stroke.points):
            if marker:
                for point in piece * scale:
                    space.add_blockref(
                        f"MARKER-{stroke.layer}",
                        tuple(point),
                        dxfattribs={"layer": stroke.layer, "xscale": size * pixel, "yscale": size * pixel},
                    )
            else:
                space.add_lwpolyline((piece * scale).tolist(), dxfattribs={"layer": stroke.layer})
    for label in scene.labels:
        _add_text(space, label, scale, pixel)


def _add_text(space: Modelspace, label: Label, scale: float, pixel: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    at = np.array(label.at) * scale
    if label.leader is not None:
        space.add_line(np.array(label.leader) * scale, at, dxfattribs={"layer": "leader"})
    align = {
        "left": TextEntityAlignment.MIDDLE_LEFT,
        "middle": TextEntityAlignment.MIDDLE_CENTER,
        "right": TextEntityAlignment.MIDDLE_RIGHT,
    }[label.anchor]
    attributes = {"layer": label.layer, "style": "SANS", "linetype": "CONTINUOUS"}
    text = space.add_text(literal(label.text), height=label.size * CAPITAL * pixel, dxfattribs=attributes)
    text.set_placement(tuple(at), align=align)


def literal(text: str) -> str:
    """A text as a DXF TEXT must hold it so that it is shown as typed.

    Parameters
    ----------
    text : str
        Any text, a user's among them.

    Returns
    -------
    str
        The same with its control codes escaped: ``%%``, ``^``, and a backslash before ``U+`` or ``M+``.

    Examples
    --------
    >>> literal("50%% ^J"), literal("50%")
    ('50%%%%%% ^ J', '50%')
    """
    text = NOT_TEXT.sub(" ", text)
    # "%%%" is one percent sign; alone it begins no code and may stay.
    if "%%" in text:
        text = text.replace("%", "%%%")
    text = text.replace("^", "^ ")
    # Viewers and readers resolve the backslash codes at different times: a space without width keeps one from forming.
    return re.sub(r"\\(?=[UM]\+)", "\\\\\u200b", text)


def _rgb(colour: str) -> RGB:
    from ezdxf.colors import RGB

    return RGB(int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))
