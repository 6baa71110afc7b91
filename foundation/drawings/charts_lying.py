"""Lying bars: each thing's name in a row over its bars, each bar's value at its end."""

from __future__ import annotations

import math

from foundation.drawings.charts import Bars, Chart
from foundation.drawings.charts_canvas import EDGE, ROW, Canvas, tick_texts, ticks
from foundation.drawings.labels import SIZE, shortened, text_width
from foundation.drawings.scene import Scene

BAR = 14.0
"""Height of a bar; its row is as high as a row of text. [px]"""
APART = 8.0
"""Room between two things. [px]"""


def lying_scene(chart: Chart, width: float) -> Scene:
    """A chart of lying bars as a scene; x is in the values' unit, y in pixels.

    Parameters
    ----------
    chart : Chart
        What to draw.
    width : float
        Width of the drawing. [px]

    Returns
    -------
    Scene
        The drawing; its texts lie clear of each other and inside the frame.
    """
    several = len(chart.bars) > 1
    full = [
        [_at_end(chart, bars, place, several) for bars in chart.bars] for place in range(len(chart.x.names))
    ]
    wide = max((text_width(text, SIZE) for texts in full for text in texts), default=0.0)
    # Where names take too much of the width, a key names the series and the bars' ends say their values alone.
    key = several and wide > 0.45 * width
    if wide > 0.45 * width:
        full = [[_value(chart, bars, place) for bars in chart.bars] for place in range(len(chart.x.names))]
        wide = max((text_width(text, SIZE) for texts in full for text in texts), default=0.0)
    low, high = _range(chart)
    across = width - 2 * EDGE - wide - 12.0
    numbers = ticks(low, high, max(2, round(across / 90)))
    scale = across / (numbers[-1] - numbers[0])
    group = ROW * (1 + len(chart.bars)) + APART
    tall = group * len(chart.x.names)
    canvas = Canvas((numbers[0], 0.0), (scale, 1.0))
    _axis(canvas, chart, numbers, tall, across)
    for place, name in enumerate(chart.x.names):
        top = tall - place * group
        canvas.text("axis", shortened(name, width - 2 * EDGE, SIZE, True), 0.0, top - ROW / 2, "left", True)
        _group(canvas, chart, place, full[place], top - ROW)
    right = width - EDGE
    above = tall + ROW / 2
    if key:
        above = canvas.key(chart, chart.bars, 0.0, right - EDGE, above)
    if chart.x.title:
        canvas.text("axis", shortened(chart.x.title, right - EDGE), 0.0, above, "left")
        above += ROW
    bottom = -5.0 - ROW
    canvas.text("axis", shortened(chart.y.title, right - EDGE), 0.0, bottom - ROW / 2, "left")
    return canvas.scene(chart, -EDGE, right, bottom - ROW - EDGE, above - ROW / 2 + EDGE)


def _range(chart: Chart) -> tuple[float, float]:
    values = [
        value for bars in chart.bars for value in (*bars.y, *bars.low, *bars.high) if math.isfinite(value)
    ]
    return min([0.0, *values]), max([0.0, *values])


def _value(chart: Chart, bars: Bars, place: int) -> str:
    return chart.y.text(bars.y[place]) if math.isfinite(bars.y[place]) else "not known"


def _at_end(chart: Chart, bars: Bars, place: int, several: bool) -> str:
    text = _value(chart, bars, place)
    if bars.low and math.isfinite(bars.low[place]):
        text += f" ({chart.y.text(bars.low[place])} to {chart.y.text(bars.high[place])})"
    return f"{bars.name} {text}" if several and bars.name else text


def _axis(canvas: Canvas, chart: Chart, numbers: list[float], tall: float, across: float) -> None:
    texts = tick_texts(numbers, chart.y.prefix)
    free = -math.inf
    for place, (number, text) in enumerate(zip(numbers, texts, strict=True)):
        canvas.line("axis" if number == 0 else "grid", [(number, 0.0), (number, tall)])
        # The first stands over the corner of the paper: its text begins there. One without room is left out.
        middle, wide = place * across / (len(numbers) - 1), text_width(text, SIZE)
        start = middle - (wide / 2 if place else 0.0)
        if start > free:
            canvas.text("axis", text, middle, -5.0 - ROW / 2, "middle" if place else "left")
            free = start + wide + 8.0


def _group(canvas: Canvas, chart: Chart, place: int, texts: list[str], top: float) -> None:
    points, told = [], []
    for row, (bars, text) in enumerate(zip(chart.bars, texts, strict=True)):
        value, middle = bars.y[place], top - (row + 0.5) * ROW
        end = 0.0
        if math.isfinite(value):
            layer = chart.layer_of(bars)
            sides = (min(value, 0.0), max(value, 0.0), middle - BAR / 2, middle + BAR / 2)
            canvas.boxes(layer, [sides], bars.name)
            end = max(value, 0.0)
            points.append((value, middle))
            told.append(f"{chart.x.names[place]}\n{_at_end(chart, bars, place, True)}\n{chart.y.title}")
        if bars.low and math.isfinite(bars.low[place]):
            low, high = bars.low[place], bars.high[place]
            nan = (math.nan, math.nan)
            ends = [(x, middle + up) for x in (low, high) for up in (-5.0, 5.0)]
            canvas.line(
                "whisker", [(low, middle), (high, middle), nan, *ends[:2], nan, *ends[2:]], "low to high"
            )
            end = max(end, high)
        canvas.text("axis", text, canvas.pixels(end, 0)[0] + 8.0, middle, "left")
    canvas.pointers(points, told, chart.x.names[place])
