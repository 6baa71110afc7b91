"""The one chart class: a plotly figure on the page, and what was clicked or dragged on it back in Python."""

from __future__ import annotations

import importlib.resources
import math
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from foundation.dashboard.guard import log

DIGITS = 7  # significant digits sent: a thousandth of a foot on a level of a thousand feet


@dataclass(frozen=True)
class Click:
    """A point of a chart that was clicked.

    Parameters
    ----------
    curve : int
        Place of its curve in the figure's data, from 0. [-]
    name : str
        Name of its curve.
    x, y : object
        Where the point lies, as the figure gave it. [as the axis]
    customdata : object
        What the figure attached to the point.
    """

    curve: int
    name: str
    x: Any
    y: Any
    customdata: Any


@dataclass(frozen=True)
class Drag:
    """A shape of a chart that was moved or stretched; ``editable: True`` on the shape allows it.

    Parameters
    ----------
    index : int
        Place of the shape in the layout's shapes, from 0. [-]
    name : str
        Name of the shape.
    x0, y0, x1, y1 : float
        Where its corners now lie. [as the axis]
    """

    index: int
    name: str
    x0: float
    y0: float
    x1: float
    y1: float


class Chart(anywidget.AnyWidget):
    """A plotly figure on the page; nothing is drawn before it has one.

    Parameters
    ----------
    figure : dict or plotly.graph_objects.Figure, optional
        What to show first.
    summary : str, optional
        What it says, in words.

    Notes
    -----
    Clicks and drags arrive as messages, not as traits: a second click on the same point changes no trait.
    Give `on_click` and `on_drag` guarded callbacks, since an error in one would show nowhere.
    """

    _esm = Path(__file__).with_suffix(".js")
    _figure = traitlets.Dict().tag(sync=True)
    _runtime = traitlets.Unicode("").tag(sync=True)
    summary = traitlets.Unicode("").tag(sync=True)
    width = traitlets.Int(0).tag(sync=True)
    """Width that the page gives the chart, 0 until it is seen. [px]"""

    def __init__(self, figure: Any = None, summary: str | None = None) -> None:
        super().__init__(_runtime=f"plotly/plotly.min.js?v={version('plotly')}")
        self._clicked: list[Callable[[Click], object]] = []
        self._dragged: list[Callable[[Drag], object]] = []
        self.on_msg(self._receive)
        if figure is not None:
            self.show(figure, summary)

    def show(self, figure: Any, summary: str | None = None) -> None:
        """Put a figure in the place of the last one; zoom stays as it is.

        Parameters
        ----------
        figure : dict or plotly.graph_objects.Figure
            Data and layout. A plain dict is quicker: plotly's classes take half a second to import.
        summary : str, optional
            What the chart says, in words, for those who do not see it; the figure's title without it.
        """
        content = figure if isinstance(figure, dict) else figure.to_dict()
        layout = {"uirevision": "kept", **content.get("layout", {})}
        sent = plain({"data": content.get("data", []), "layout": layout})
        title = sent["layout"].get("title") or ""
        with self.hold_sync():
            self.summary = summary or (title.get("text", "") if isinstance(title, dict) else title)
            self._figure = sent

    def on_click(self, callback: Callable[[Click], object]) -> None:
        """Call back with every click on a point, also a repeated one.

        Parameters
        ----------
        callback : callable
            Takes a `Click`.
        """
        self._clicked.append(callback)

    def on_drag(self, callback: Callable[[Drag], object]) -> None:
        """Call back when a shape was dragged; afterwards the chart shows its figure again, as it is then.

        Parameters
        ----------
        callback : callable
            Takes a `Drag`.
        """
        self._dragged.append(callback)

    def _receive(self, _widget: object, message: dict[str, Any], _buffers: object) -> None:
        kind = message.pop("kind", "")
        if kind == "click":
            for clicked in self._clicked:
                clicked(Click(**message))
        elif kind == "drag":
            for dragged in self._dragged:
                dragged(Drag(**message))
            self.send(
                {"kind": "redraw"}
            )  # an unchanged figure is not sent again, yet the dragged shape must return
        elif kind == "runtime":
            script = importlib.resources.files("plotly") / "package_data" / "plotly.min.js"
            self.send({"kind": "runtime"}, [script.read_bytes()])
        elif kind == "failed":
            log().error("A chart could not be drawn: %s", message["error"])


NARROWEST = 720
"""Narrower than this a drawing is scrolled sideways instead of squeezed (pages.css has the same). [px]"""
USUAL = 905
"""Width of a drawing on a screen of 1280 px, until the page tells. [px]"""


def drawing_width(chart: Chart) -> float:
    """Width to place a drawing's texts for.

    Parameters
    ----------
    chart : Chart
        The chart it is shown in.

    Returns
    -------
    float
        Width. [px]
    """
    return float(max(chart.width or USUAL, NARROWEST))


def plain(value: Any) -> Any:
    """What JSON can carry: lists for arrays, numbers of seven digits, None for what is not a number.

    Parameters
    ----------
    value : object
        Dicts, lists, numpy arrays and scalars, inside each other.

    Returns
    -------
    object
        The same, of plain types only.

    Examples
    --------
    >>> import numpy as np
    >>> plain({"x": np.array([1 / 3, np.nan]), "y": (2, 1e-9 / 3)})
    {'x': [0.3333333, None], 'y': [2, 3.333333e-10]}
    """
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if hasattr(value, "tolist"):
        value = value.tolist()
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, float):
        return float(f"{value:.{DIGITS}g}") if math.isfinite(value) else None
    return value
