"""Pages that try the frame alone: one with everything a chart and the guard can do, one with six charts."""

from __future__ import annotations

import html

import ipywidgets as widgets
import numpy as np

from foundation import places
from foundation.dashboard.chart import Chart, Click, Drag
from foundation.dashboard.guard import debounced, guarded
from foundation.dashboard.preheat import when_page_opens

STEP = {"name": "step", "x0": 3, "x1": 6, "y0": -3.5, "y1": -2.5}
SOIL = {"name": "soil", "x0": 7, "x1": 11, "y0": -3.5, "y1": -2.5}


def line(depth: float, title: str, points: int = 3) -> dict[str, object]:
    """A figure of two lines that a depth moves, with a shape that can be dragged. [m]"""
    station = np.linspace(0.0, 12.0, points)
    grade = -station / 12.0
    shots = [f"shot {number}" for number in range(points)]
    return {
        "data": [
            {
                "x": station,
                "y": grade,
                "name": "Finished grade",
                "customdata": shots,
            },
            {"x": station, "y": grade - depth, "name": "Frost line", "mode": "lines"},
        ],
        "layout": {
            "title": {"text": title},
            "xaxis": {"title": {"text": "Station [m]"}},
            "yaxis": {"range": [-4, 1]},
            "shapes": [
                {
                    **SOIL,
                    "type": "rect",
                    "fillcolor": "#D9D4C9",
                },
                {**STEP, "type": "rect", "fillcolor": "#C9C4BA", "editable": True},
            ],
        },
    }


def show_frame() -> widgets.Widget:
    """A slider with its chart, a chart that is hidden at first, and buttons that fail in two ways."""
    slider = widgets.FloatSlider(value=1.2, min=0.3, max=2.4, step=0.1, description="Frost depth [m]")
    slider.style.description_width = "initial"
    trouble, heard, moved = (widgets.HTML() for _ in range(3))
    for name, widget in (("trouble", trouble), ("heard", heard), ("moved", moved)):
        widget.add_class(name)
    chart, hidden, empty = Chart(), Chart(), Chart()
    hidden.layout.display = "none"
    clicks: list[Click] = []

    def tell(words: str) -> None:
        trouble.value = html.escape(words)

    def draw() -> None:
        chart.show(line(slider.value, f"Frost line {slider.value:.1f} m down"))
        hidden.show(line(slider.value, f"Hidden {slider.value:.1f}"))

    def clicked(click: Click) -> None:
        clicks.append(click)
        heard.value = f"{len(clicks)} {click.name} {click.customdata}"

    def dragged(drag: Drag) -> None:
        moved.value = f"{drag.name} {drag.x0:.2f}"

    def fail(_button: object) -> None:
        raise RuntimeError("the inside of the planner broke")

    def refuse(_button: object) -> None:
        places.data("..", "<b>pyproject.toml</b>")

    def reveal(_button: object) -> None:
        hidden.layout.display = None

    slider.observe(debounced(guarded(lambda _change: draw(), tell), 0.02), "value")
    chart.on_click(guarded(clicked, tell))
    chart.on_drag(guarded(dragged, tell))
    buttons = []
    for words, callback in (("Fail", fail), ("Refuse", refuse), ("Reveal", reveal)):
        button = widgets.Button(description=words)
        button.on_click(guarded(callback, tell))
        buttons.append(button)
    draw()
    row = widgets.HBox([slider, *buttons], layout={"flex_flow": "row wrap"})
    return widgets.VBox([widgets.HTML("<h1>Frame</h1>"), row, trouble, heard, moved, chart, hidden, empty])


def show_six() -> widgets.Widget:
    """Six charts of 200 points that one slider redraws."""
    slider = widgets.FloatSlider(value=1.2, min=0.3, max=2.4, step=0.01, description="Frost depth [m]")
    charts = [Chart() for _ in range(6)]
    for chart in charts:
        chart.layout.width = "420px"

    def draw(_change: object = None) -> None:
        for number, chart in enumerate(charts):
            chart.show(line(slider.value + number / 10, f"Wall {number + 1}", points=200))

    slider.observe(guarded(draw, print), "value")
    draw()
    return widgets.VBox([slider, widgets.HBox(charts, layout={"flex_flow": "row wrap"})])


def show_waiting() -> widgets.Widget:
    """A word that changes once somebody asks for the page."""
    word = widgets.HTML("built")
    word.add_class("word")

    def opened() -> None:
        word.value = "opened"

    when_page_opens(guarded(opened, print))
    return word
