"""A chart as SVG, for papers: the same lines, areas and texts as on the screen."""

from __future__ import annotations

from foundation.drawings.charts import Chart
from foundation.drawings.charts_scene import chart_scene
from foundation.drawings.to_svg import svg


def chart_svg(chart: Chart, width: float = 640.0, grey: bool = False) -> str:
    """A chart as the text of an SVG file.

    Parameters
    ----------
    chart : Chart
        What to show.
    width : float
        Width of the drawing. [px]
    grey : bool
        True to draw in greys of the same lightness.

    Returns
    -------
    str
        The file.
    """
    return svg(chart_scene(chart, width), grey=grey)
