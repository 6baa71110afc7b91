"""A chart as a plotly figure: its values on their own axes, every text placed for the width."""

from __future__ import annotations

from typing import Any

from foundation.drawings.charts import Chart
from foundation.drawings.charts_scene import chart_scene
from foundation.drawings.to_plotly import figure


def chart_figure(chart: Chart, width: float = 640.0, revision: str = "") -> dict[str, Any]:
    """A chart as plotly's data and layout.

    Parameters
    ----------
    chart : Chart
        What to show.
    width : float
        Width that the page gives it. [px]
    revision : str
        The page keeps what the reader has set while this text stays the same.

    Returns
    -------
    dict
        ``data`` and ``layout`` of the figure, in the units of the axes.
    """
    made = figure(chart_scene(chart, width), revision)
    layout = made["layout"]
    # A chart fills its frame and stands still: there is nothing to zoom into, and a finger scrolls the page.
    layout["dragmode"] = False
    layout["xaxis"]["fixedrange"] = layout["yaxis"]["fixedrange"] = True
    for held in ("scaleanchor", "scaleratio", "constrain"):
        layout["xaxis"].pop(held, None)
        layout["yaxis"].pop(held, None)
    return made
