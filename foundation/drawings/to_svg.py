"""A scene as SVG, for papers and for pages without a chart: text stays text, and no font is fetched."""

from __future__ import annotations

import re
import zlib
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from numpy.typing import NDArray

from foundation.drawings.layers import LAYERS, PAPER, SANS, Layer
from foundation.drawings.scene import Label, Point, Scene, pieces

Array = NDArray[np.float64]

DASHES = {"dash": (6, 4), "longdash": (14, 6), "dot": (2, 3), "dashdot": (10, 4, 2, 4)}
"""Lengths of line and gap of each pattern. [px]"""
ANCHORS = {"left": "start", "middle": "middle", "right": "end"}
NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that no XML file may hold (XML 1.0, 5th edition, production 2 [memory])."""
MARKER = 4.5
"""Half the size of a marker. [px]"""
RING = 8.0
"""Half the size of the ring round a chosen point. [px]"""
HATCHES = {
    "/": "M-2,2 L2,-2 M0,8 L8,0 M6,10 L10,6",
    "\\": "M-2,6 L2,10 M0,0 L8,8 M6,-2 L10,2",
    "x": "M0,8 L8,0 M0,0 L8,8",
    "-": "M0,4 L8,4",
}
"""Lines of each pattern on a tile of 8 px."""
HALO = 5.0
"""Width of the paper kept free round a text. [px]"""


def svg(
    scene: Scene, width_px: float | None = None, paper_scale: float | None = None, grey: bool = False
) -> str:
    """A scene as the text of an SVG file.

    Parameters
    ----------
    scene : Scene
        The drawing.
    width_px : float or None
        Width on a screen, None for the scene's own. [px]
    paper_scale : float or None
        Scale on paper, 48 for 1:48; sizes are then millimetres, lines have their paper weights, and the ground is
        white. None for a screen. [-]
    grey : bool
        True to draw in greys of the same lightness.

    Returns
    -------
    str
        The file. Inside it one unit is a pixel of the scene, from the upper left corner of its window.

    Raises
    ------
    ValueError
        If a size is not above 0.
    """
    for name, value in (("width_px", width_px), ("paper_scale", paper_scale)):
        if value is not None and not (np.isfinite(value) and value > 0):
            raise ValueError(f"{name} is {value}: a number above 0 is wanted.")
    return _Drawing(scene, paper_scale, grey).text(width_px)


class _Drawing:
    """One file in the making."""

    def __init__(self, scene: Scene, paper_scale: float | None, grey: bool) -> None:
        self.scene, self.grey, self.on_paper = scene, grey, paper_scale is not None
        self.paper = "#FFFFFF" if self.on_paper else PAPER
        # Millimetres on paper of one pixel of the scene.
        self.millimetre = 1000 / (paper_scale * scene.pixels_per_metre) if paper_scale else 1.0
        # Names of patterns are shared by all drawings of a page.
        key = f"{scene.title}|{scene.width}|{grey}|{paper_scale}"
        self.prefix = f"d{zlib.crc32(key.encode('utf-8', 'replace')):08x}-"

    def text(self, width_px: float | None) -> str:
        wide, high = self.scene.width, self.scene.height
        if self.on_paper:
            size = f'width="{wide * self.millimetre:.3f}mm" height="{high * self.millimetre:.3f}mm"'
        else:
            shown = width_px or wide
            size = f'width="{shown:.2f}" height="{shown * high / wide:.2f}"'
        hatched = sorted({area.layer for area in self.scene.areas if LAYERS[area.layer].hatch})
        body = [
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {wide:.3f} {high:.3f}" role="img"'
            f" font-family={quoteattr(SANS)} stroke-linejoin='round'>",
            f"<title>{xml_text(self.scene.title)}</title>",
            f"<desc>{xml_text(self.scene.summary)}</desc>",
            "<defs>",
            *(self.pattern(name) for name in hatched),
            "</defs>",
            f'<rect width="{wide:.3f}" height="{high:.3f}" fill="{self.colour(self.paper)}"/>',
        ]
        for area in self.scene.areas:
            layer = LAYERS[area.layer]
            fill = f"url(#{self.prefix}{area.layer})" if layer.hatch else self.colour(layer.fill)
            body.append(
                f'<path class="area {area.layer}" fill="{fill}" stroke="none" '
                f'd="{self.path(area.points, closed=True)}">{_told(area.name)}</path>'
            )
        body += [self.leader(label.at, label.leader) for label in self.scene.labels if label.leader]
        for stroke in self.scene.strokes:
            layer = LAYERS[stroke.layer]
            if layer.marker == "none":
                continue  # only there to be pointed at on a screen
            d = self.markers(stroke.points, layer.marker) if layer.marker else self.path(stroke.points)
            fill = self.colour(layer.colour) if layer.marker == "triangle" else "none"
            body.append(
                f'<path class="stroke {stroke.layer}" fill="{fill}" {self.pen(layer)} d="{d}">'
                f"{_told(stroke.name)}</path>"
            )
        body += [self.label(label) for label in self.scene.labels]
        return "\n".join([*body, "</svg>"])

    def place(self, point: Point | Array) -> tuple[float, float]:
        """A place of the scene in pixels from the upper left."""
        left, _, _, top = self.scene.window
        scale = self.scene.pixels_per_metre
        return (point[0] - left) * scale, (top - point[1]) * scale * self.scene.stretch

    def path(self, points: Array, closed: bool = False) -> str:
        end = "Z" if closed else ""
        return " ".join(
            "M" + " L".join("{:.3f},{:.3f}".format(*self.place(point)) for point in piece) + end
            for piece in pieces(points)
        )

    def markers(self, points: Array, shape: str) -> str:
        """Small shapes, each beginning with a move to its own middle."""
        m, r = MARKER, RING
        shapes = {
            "x": f"m{-m},{-m} l{2 * m},{2 * m} m0,{-2 * m} l{-2 * m},{2 * m}",
            "circle": f"m{-m},0 a{m},{m} 0 1,0 {2 * m},0 a{m},{m} 0 1,0 {-2 * m},0",
            "ring": f"m{-r},0 a{r},{r} 0 1,0 {2 * r},0 a{r},{r} 0 1,0 {-2 * r},0",
            "triangle": f"m{-m},{m} l{2 * m},0 l{-m},{-2 * m} z",
        }
        return " ".join(
            "M{:.3f},{:.3f} ".format(*self.place(point)) + shapes[shape]
            for piece in pieces(points)
            for point in piece
        )

    def pen(self, layer: Layer) -> str:
        width = layer.weight / self.millimetre if self.on_paper else layer.width
        dash = DASHES.get(layer.dash)
        dashes = f' stroke-dasharray="{" ".join(map(str, dash))}"' if dash else ""
        return f'stroke="{self.colour(layer.colour)}" stroke-width="{width:.3f}"{dashes}'

    def pattern(self, name: str) -> str:
        """Hatching of a layer: lines or a stipple over its fill."""
        layer = LAYERS[name]
        fill, ink = self.colour(layer.fill), self.colour(layer.colour)
        size = 6 if layer.hatch == "." else 8
        mark = (
            f'<circle cx="1.5" cy="1.5" r="0.7" fill="{ink}"/><circle cx="4.5" cy="4.5" r="0.7" fill="{ink}"/>'
            if layer.hatch == "."
            else f'<path d="{HATCHES[layer.hatch]}" stroke="{ink}" stroke-width="1.1"/>'
        )
        return (
            f'<pattern id="{self.prefix}{name}" width="{size}" height="{size}" patternUnits="userSpaceOnUse">'
            f'<rect width="{size}" height="{size}" fill="{fill}"/>{mark}</pattern>'
        )

    def leader(self, start: Point, end: Point) -> str:
        (x1, y1), (x2, y2) = self.place(start), self.place(end)
        return (
            f'<line class="leader" x1="{x1:.3f}" y1="{y1:.3f}" x2="{x2:.3f}" y2="{y2:.3f}" '
            f"{self.pen(LAYERS['leader'])}/>"
        )

    def label(self, label: Label) -> str:
        x, y = self.place(label.at)
        weight = ' font-weight="bold"' if label.strong else ""
        return (
            f'<text class="label {label.layer}" x="{x:.3f}" y="{y:.3f}" dy="0.35em" '
            f'text-anchor="{ANCHORS[label.anchor]}" font-size="{label.size:g}"{weight} '
            f'fill="{self.colour(LAYERS[label.layer].ink)}" stroke="{self.colour(self.paper)}" '
            f'stroke-width="{HALO}" paint-order="stroke" xml:space="preserve">{xml_text(label.text)}</text>'
        )

    def colour(self, colour: str) -> str:
        if not colour:
            return "none"
        return grey_of(colour) if self.grey else colour


def grey_of(colour: str) -> str:
    """The grey that is as light as a colour.

    Parameters
    ----------
    colour : str
        A colour such as ``#2C6FBB``.

    Returns
    -------
    str
        A grey of the same relative luminance.
    """
    light = luminance(colour)
    value = light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return "#" + f"{round(value * 255):02X}" * 3


def luminance(colour: str) -> float:
    """Relative luminance of a colour, as WCAG 2.2 and IEC 61966-2-1 define it [memory].

    Parameters
    ----------
    colour : str
        A colour such as ``#2C6FBB``.

    Returns
    -------
    float
        From 0 for black to 1 for white. [-]
    """
    values = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in values]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def xml_text(text: str) -> str:
    """A text that an XML file shows as it is.

    Parameters
    ----------
    text : str
        Any text, a user's among them.

    Returns
    -------
    str
        The same with mark-up characters escaped, and without characters that XML does not know.
    """
    return escape(NOT_XML.sub("", text), {'"': "&quot;", "'": "&#39;"})


def _told(name: str) -> str:
    return f"<title>{xml_text(name)}</title>" if name else ""
