"""One drawing on a page: its finding as a title, the chart, the same in words, and files to take away."""

from __future__ import annotations

import base64
import html
from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.chart import Chart, Click, Drag, drawing_width
from foundation.dashboard.fields import button
from foundation.dashboard.guard import guarded
from foundation.drawings.scene import Scene
from foundation.drawings.to_plotly import figure


class Drawing:
    """A chart of a scene.

    Parameters
    ----------
    redraw : callable
        Draws the scene again, for another width.
    tell : callable
        Puts a sentence on the page.
    name : str
        Name of the files that it is saved as.
    """

    def __init__(self, redraw: Callable[[], object], tell: Callable[[str], object], name: str) -> None:
        self.name, self.scene = name, None  # type: tuple[str, Scene | None]
        self.caption = widgets.HTML()
        self.caption.add_class("caption")
        self.chart = Chart()
        self.chart.observe(guarded(lambda _change: redraw(), tell), "width")
        self.words = widgets.HTML()
        self.files = widgets.HTML()
        frame = widgets.Box([self.chart])
        frame.add_class("drawing")
        under = widgets.HBox([button("Save this drawing", self._save, tell), self.files])
        under.add_class("under")
        self.box = widgets.VBox([self.caption, frame, self.words, under])

    @property
    def width(self) -> float:
        """Width to place texts for. [px]"""
        return drawing_width(self.chart)

    def show(self, scene: Scene, view: str) -> None:
        """Put a scene in the place of the last one.

        Parameters
        ----------
        scene : Scene
            What to show.
        view : str
            Zoom is kept while this stays the same.
        """
        self.scene = scene
        self.chart.show(figure(scene, view), scene.summary)
        self.caption.value = f"<h2>{html.escape(scene.title)}</h2>"
        self.words.value = (
            f"<details><summary>In words</summary><p>{html.escape(scene.summary)}</p></details>"
        )
        self.files.value = ""

    def on_click(self, callback: Callable[[Click], object]) -> None:
        """Call back with every click on a point.

        Parameters
        ----------
        callback : callable
            Takes a `Click`.
        """
        self.chart.on_click(callback)

    def on_drag(self, callback: Callable[[Drag], object]) -> None:
        """Call back when a handle was dragged.

        Parameters
        ----------
        callback : callable
            Takes a `Drag`.
        """
        self.chart.on_drag(callback)

    def _save(self) -> None:
        """Make the files when they are asked for: writing them takes longer than drawing."""
        if self.scene is None:
            return
        from foundation.drawings.to_dxf import dxf
        from foundation.drawings.to_svg import svg

        made = (
            ("SVG", "image/svg+xml", svg(self.scene).encode()),
            ("DXF", "image/vnd.dxf", dxf(self.scene, "ft")),
        )
        self.files.value = " ".join(
            f'<a class="download" download="{self.name}.{kind.lower()}" '
            f'href="data:{mime};base64,{base64.b64encode(content).decode()}">{kind}</a>'
            for kind, mime, content in made
        )
