"""A scene as a plotly figure: results in, figure out."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from foundation.drawings.layers import ACCENT, INK, LAYERS, PAPER, SANS
from foundation.drawings.scene import Handle, Label, Scene

DASHES = {
    "solid": "solid",
    "dash": "6px,4px",
    "longdash": "14px,6px",
    "dot": "2px,3px",
    "dashdot": "10px,4px,2px,4px",
}
MARKERS = {
    "x": "x-thin",
    "circle": "circle-open",
    "ring": "circle-open",
    "triangle": "triangle-up",
    "none": "circle",
}
ANCHORS = {"left": "left", "middle": "center", "right": "right"}


def figure(scene: Scene, revision: str = "") -> dict[str, Any]:
    """A scene as plotly's data and layout.

    Parameters
    ----------
    scene : Scene
        The drawing.
    revision : str
        Zoom is kept while this text stays the same.

    Returns
    -------
    dict
        ``data`` and ``layout`` of the figure; coordinates in metres, no axis drawn: the labels carry the units.
    """
    data: list[dict[str, Any]] = []
    across, up = (
        _digits(scale) for scale in (scene.pixels_per_metre, scene.pixels_per_metre * scene.stretch)
    )
    for area in scene.areas:
        layer = LAYERS[area.layer]
        trace: dict[str, Any] = {
            "type": "scatter",
            "mode": "lines",
            "x": _numbers(area.points[:, 0], across),
            "y": _numbers(area.points[:, 1], up),
            "fill": "toself",
            "line": {"width": 0},
            "hoverinfo": "skip",
            "fillcolor": layer.fill,
            "name": area.name,
        }
        if layer.hatch:
            trace["fillpattern"] = {
                "shape": layer.hatch,
                "fgcolor": layer.colour,
                "bgcolor": layer.fill,
                "size": 6 if layer.hatch == "." else 8,
                "solidity": 0.08 if layer.hatch == "." else 0.22,
                "fillmode": "replace",
            }
        data.append(trace)
    for stroke in scene.strokes:
        layer = LAYERS[stroke.layer]
        trace = {
            "type": "scatter",
            "mode": "markers" if layer.marker else "lines",
            "x": _numbers(stroke.points[:, 0], across),
            "y": _numbers(stroke.points[:, 1], up),
            "line": {"color": layer.colour, "width": layer.width, "dash": DASHES[layer.dash]},
            "name": stroke.name,
            "hoverinfo": "skip",
        }
        if layer.marker:
            hidden = layer.marker == "none"
            trace["marker"] = {
                "color": layer.colour,
                "size": 16 if layer.marker == "ring" else 9,
                "symbol": MARKERS[layer.marker],
                "opacity": 0 if hidden else 1,
                "line": {"color": layer.colour, "width": layer.width if layer.marker == "ring" else 1.4},
            }
        if stroke.hover:
            trace |= {"hoverinfo": "text", "hovertext": [_hover(text) for text in stroke.hover]}
        if stroke.keys:
            trace["customdata"] = list(stroke.keys)
        data.append(trace)
    shapes = [
        {
            "type": "line",
            "x0": label.leader[0],
            "y0": label.leader[1],
            "x1": label.at[0],
            "y1": label.at[1],
            "line": {"color": LAYERS["leader"].colour, "width": LAYERS["leader"].width},
            "layer": "above",
        }
        for label in scene.labels
        if label.leader is not None
    ]
    left, right, bottom, top = scene.window
    layout = {
        "template": "none",
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "font": {"family": SANS, "size": 13, "color": INK},
        "margin": {"l": 0, "r": 0, "t": 0, "b": 0},
        "height": round(scene.height),
        "showlegend": False,
        "hovermode": "closest",
        "hoverdistance": 40,
        "hoverlabel": {
            "bgcolor": "#FFFFFF",
            "bordercolor": INK,
            "font": {"size": 14, "family": SANS, "color": INK},
        },
        "dragmode": "pan",
        "uirevision": revision or scene.title,
        "xaxis": _axis(left, right),
        "yaxis": _axis(bottom, top) | {"scaleanchor": "x", "scaleratio": scene.stretch},
        "shapes": [*shapes, *map(_handle, scene.handles)],
        "annotations": [_annotation(label) for label in scene.labels],
    }
    return {"data": data, "layout": layout}


def _axis(low: float, high: float) -> dict[str, Any]:
    return {
        "range": [low, high],
        "visible": False,
        "showgrid": False,
        "zeroline": False,
        "constrain": "domain",
    }


def _handle(handle: Handle) -> dict[str, Any]:
    """A box that the page lets the reader drag."""
    return {
        "type": "rect",
        "name": handle.name,
        "editable": True,
        "x0": handle.left,
        "x1": handle.right,
        "y0": handle.low,
        "y1": handle.high,
        "line": {"color": ACCENT, "width": 1.2},
        "fillcolor": ACCENT,
        "opacity": 0.35,
        "layer": "above",
    }


def _annotation(label: Label) -> dict[str, Any]:
    colour = LAYERS[label.layer].ink
    text = escaped(label.text)
    return {
        "x": label.at[0],
        "y": label.at[1],
        "text": f"<b>{text}</b>" if label.strong else text,
        "showarrow": False,
        "xanchor": ANCHORS[label.anchor],
        "yanchor": "middle",
        "font": {"size": label.size, "color": colour},
        "bgcolor": PAPER,
        "borderpad": 0,
    }


def _hover(text: str) -> str:
    first, *rest = escaped(text).split("\n")
    return "<br>".join([f"<b>{first}</b>", *rest])


def escaped(text: str) -> str:
    """Text that plotly shows as it is.

    Parameters
    ----------
    text : str
        Any text, a user's among them.

    Returns
    -------
    str
        The same with its mark-up characters made harmless.
    """
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _digits(scale: float) -> int:
    """Places that hold a tenth of a pixel, and a tenth of a millimetre at any scale of a building."""
    return max(4, math.ceil(math.log10(scale)) + 1)


def _numbers(values: Any, digits: int) -> list[float | None]:
    return [None if not np.isfinite(v) else round(float(v), digits) for v in values]
