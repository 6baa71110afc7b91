"""One chart on a page: its finding as a title, the chart, the same in words and as a table."""

from __future__ import annotations

import html
from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.chart import Chart as ChartWidget
from foundation.dashboard.chart import drawing_width
from foundation.dashboard.guard import guarded
from foundation.drawings.charts import Chart
from foundation.drawings.charts_to_plotly import chart_figure


class Figure:
    """A chart made from its description.

    Parameters
    ----------
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, tell: Callable[[str], object]) -> None:
        self.shown: Chart | None = None
        self.caption = widgets.HTML()
        self.caption.add_class("caption")
        self.chart = ChartWidget()
        self.chart.observe(guarded(lambda _change: self._draw(), tell), "width")
        self.words = widgets.HTML()
        frame = widgets.Box([self.chart])
        frame.add_class("chart")
        self.box = widgets.VBox([self.caption, frame, self.words])
        self.box.layout.display = "none"

    def show(self, chart: Chart | None, title: str = "") -> None:
        """Put a chart in the place of the last one.

        Parameters
        ----------
        chart : Chart or None
            What to show; None for nothing.
        title : str
            Other words above it, where its own finding stands above the chart before.
        """
        self.shown = chart
        self.box.layout.display = None if chart is not None else "none"
        if chart is None:
            return
        self._draw()
        self.caption.value = f"<h2>{html.escape(_capital(title or chart.title))}</h2>"
        table = "".join(
            "<tr>" + "".join(f"<td>{html.escape(cell)}</td>" for cell in row) + "</tr>" for row in chart.rows
        )
        heads = "".join(f'<th scope="col">{html.escape(cell)}</th>' for cell in chart.header)
        notes = (
            f'<p class="quiet">{html.escape(". ".join(map(_capital, chart.notes)))}.</p>'
            if chart.notes
            else ""
        )
        self.words.value = (
            f"{notes}<details><summary>In words and numbers</summary><p>{html.escape(chart.summary)}</p>"
            f'<table class="facts"><thead><tr>{heads}</tr></thead><tbody>{table}</tbody></table></details>'
        )

    def _draw(self) -> None:
        if self.shown is not None:
            width = self.chart.width or drawing_width(self.chart)
            self.chart.show(chart_figure(self.shown, float(width)), self.shown.summary)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
