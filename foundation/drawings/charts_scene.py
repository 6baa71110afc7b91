"""A chart laid out for a width: every line, area and text of it in its place."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from foundation.drawings.charts import Bars, Chart, Line
from foundation.drawings.charts_canvas import EDGE, NARROW, ROW, Canvas, tick_texts, ticks
from foundation.drawings.charts_lying import lying_scene
from foundation.drawings.labels import SIZE, Box, around, rows, shortened, stack, text_width
from foundation.drawings.scene import Area, Label, Scene, joined

Array = NDArray[np.float64]

TALL, LOW = 280.0, 230.0
"""Height of the axes on wide and on narrow charts. [px]"""
GROUP = 0.74
"""Width of a group of bars over what one name has. [-]"""


def chart_scene(chart: Chart, width: float = 640.0) -> Scene:
    """A chart as a scene, in the units of its axes.

    Parameters
    ----------
    chart : Chart
        What to draw.
    width : float
        Width of the drawing; below 560 px lines are named in a key instead of at their ends. [px]

    Returns
    -------
    Scene
        The drawing; its texts lie clear of each other and inside the frame.
    """
    return lying_scene(chart, width) if chart.lying else _Standing(chart, width).scene()


class _Standing:
    """One chart in the making."""

    def __init__(self, chart: Chart, width: float) -> None:
        self.chart, self.width = chart, width
        narrow = width < NARROW
        self.tall = LOW if narrow else TALL
        everything: list[Line | Bars] = [*chart.bars, *chart.lines]
        self.layers = {id(series): chart.layer_of(series) for series in everything}
        self.at_ends = [] if narrow else [line for line in chart.lines if line.name]
        self.in_key: list[Line | Bars] = [bars for bars in chart.bars if len(chart.bars) > 1 and bars.name]
        self.in_key += [line for line in chart.lines if line.name and narrow]
        low, high = self.range_up()
        self.y_ticks = ticks(low, high, round(self.tall / 45))
        self.y_texts = tick_texts(self.y_ticks, chart.y.prefix)
        self.left = max(text_width(text, SIZE) for text in self.y_texts) + 10.0 + EDGE
        most = 0.3 * width
        ends = [min(text_width(line.name, SIZE, True), most) for line in self.at_ends]
        self.gutter = max(ends, default=0.0) + (14.0 if ends else 0.0) + EDGE + 8.0
        across = width - self.left - self.gutter
        self.x_range = self.range_across()
        scale = (
            across / (self.x_range[1] - self.x_range[0]),
            self.tall / (self.y_ticks[-1] - self.y_ticks[0]),
        )
        self.across = across
        self.canvas = Canvas((self.x_range[0], self.y_ticks[0]), scale)

    def range_up(self) -> tuple[float, float]:
        chart = self.chart
        everything: list[Line | Bars] = [*chart.bars, *chart.lines]
        values = [v for series in everything for v in (*series.y, *series.low, *series.high)]
        values += [mark.y for mark in chart.marks]
        if chart.stacked:
            table = np.nan_to_num(np.array([bars.y for bars in chart.bars], float))
            values += [float(np.where(table > 0, table, 0).sum(0).max(initial=0.0))]
            values += [float(np.where(table < 0, table, 0).sum(0).min(initial=0.0))]
        known = [v for v in values if math.isfinite(v)]
        if chart.y.zero or chart.bars or not known:
            known.append(0.0)
        return min(known), max(known)

    def range_across(self) -> tuple[float, float]:
        chart = self.chart
        if chart.x.names:
            return -0.5, len(chart.x.names) - 0.5
        values = [x for line in chart.lines for x in line.x]
        values += [v.x for v in chart.verticals] + [mark.x for mark in chart.marks]
        low, high = min(values, default=0.0), max(values, default=1.0)
        low = min(low, 0.0) if chart.x.zero else low
        spare = 0.02 * (high - low) or 0.5
        return low - spare, high + spare

    def scene(self) -> Scene:
        self.axes()
        for line in self.chart.lines:
            self.band(line)
        if self.chart.stacked:
            self.stacked_bars()
        else:
            self.grouped_bars()
        for line in self.chart.lines:
            self.line(line)
        self.names_at_ends()
        top = self.above()
        self.marks()
        bottom = self.under()
        return self.canvas.scene(self.chart, -self.left, self.across + self.gutter, bottom, top)

    def axes(self) -> None:
        canvas, (x0, x1) = self.canvas, self.x_range
        # Zero is a line of its own; where it is not shown there is nothing that bars stand on.
        for value, text in zip(self.y_ticks, self.y_texts, strict=True):
            canvas.line("axis" if value == 0 else "grid", [(x0, value), (x1, value)])
            canvas.text("axis", text, -8.0, canvas.pixels(0, value)[1], "right")

    def band(self, line: Line) -> None:
        if not line.low:
            return
        layer = f"{self.layers[id(line)]}-band"
        low, high = (_path(line, values) for values in (line.low, line.high))
        ok = np.isfinite(low[:, 1]) & np.isfinite(high[:, 1])
        cuts = np.flatnonzero(np.diff(np.concatenate([[0], ok.astype(int), [0]])))
        shapes = [np.vstack([low[a:b], high[a:b][::-1]]) for a, b in zip(cuts[::2], cuts[1::2], strict=True)]
        if shapes:
            self.canvas.areas.append(Area(layer, joined(shapes), f"{line.name}, low to high"))
            self.canvas.line(layer, joined([low, high]), f"{line.name}, low and high")

    def line(self, line: Line) -> None:
        path = _path(line, line.y)
        ok = np.isfinite(path[:, 1])
        cuts = np.flatnonzero(np.diff(np.concatenate([[0], ok.astype(int), [0]])))
        shown = joined([path[a:b] for a, b in zip(cuts[::2], cuts[1::2], strict=True)])
        if not len(shown):
            return
        self.canvas.line(self.layers[id(line)], shown, line.name)
        known = [(x, y) for x, y in zip(line.x, line.y, strict=True) if math.isfinite(y)]
        self.canvas.pointers(known, [self.told(line.name, x, y) for x, y in known], line.name)

    def told(self, name: str, x: float, y: float, low: float = math.nan, high: float = math.nan) -> str:
        chart = self.chart
        band = f" ({chart.y.text(low)} to {chart.y.text(high)})" if math.isfinite(low) else ""
        at = chart.name_at(x) if chart.x.names else f"{chart.x.title}: {chart.x.text(x)}"
        return f"{at}\n{name}: {chart.y.text(y)}{band}\n{chart.y.title}"

    def grouped_bars(self) -> None:
        count = len(self.chart.bars)
        for place, bars in enumerate(self.chart.bars):
            wide = GROUP / count
            boxes, points, texts, whiskers = [], [], [], []
            for x, value in enumerate(bars.y):
                if not math.isfinite(value):
                    continue
                left = x - GROUP / 2 + place * wide
                boxes.append((left, left + wide, min(value, 0.0), max(value, 0.0)))
                low, high = (bars.low[x], bars.high[x]) if bars.low else (math.nan, math.nan)
                if math.isfinite(low) and math.isfinite(high):
                    half = min(0.3 * wide, 5.0 / self.canvas.scale[0])
                    whiskers += _whisker(left + wide / 2, low, high, half)
                points.append((left + wide / 2, value))
                texts.append(self.told(bars.name, x, value, low, high))
            self.canvas.boxes(self.layers[id(bars)], boxes, bars.name)
            if whiskers:
                self.canvas.line("whisker", joined(whiskers), f"{bars.name}, low to high")
            self.canvas.pointers(points, texts, bars.name)

    def stacked_bars(self) -> None:
        above, below = np.zeros(len(self.chart.x.names)), np.zeros(len(self.chart.x.names))
        for bars in self.chart.bars:
            boxes, points, texts = [], [], []
            for x, value in enumerate(bars.y):
                if not math.isfinite(value) or value == 0:
                    continue
                base = above if value > 0 else below
                low, high = sorted((float(base[x]), float(base[x] + value)))
                boxes.append((x - GROUP / 2, x + GROUP / 2, low, high))
                base[x] += value
                points.append((float(x), float(base[x])))
                texts.append(self.told(bars.name, x, value))
            self.canvas.boxes(self.layers[id(bars)], boxes, bars.name)
            self.canvas.pointers(points, texts, bars.name)

    def names_at_ends(self) -> None:
        """The name of each line beside its last point."""
        ends = []
        for line in self.at_ends:
            known = [(x, y) for x, y in zip(line.x, line.y, strict=True) if math.isfinite(y)]
            if known:
                ends.append((line, self.canvas.pixels(*known[-1])))
        spread = stack([end[1] for _, end in ends], ROW)
        # A pile at an edge is pushed back inside.
        push = min(0.0, self.tall - max(spread, default=0.0)) or max(0.0, -min(spread, default=0.0))
        for (line, (across, up)), middle in zip(ends, spread, strict=True):
            name = shortened(line.name, self.gutter - 14.0 - EDGE, SIZE, True)
            start = self.across + 14.0
            leader = (
                self.canvas.place(across, up) if abs(middle + push - up) > 4 or start - across > 24 else None
            )
            layer = self.layers[id(line)]
            at = self.canvas.place(start, middle + push)
            self.canvas.labels.append(Label(layer, name, at, "left", SIZE, leader, True))

    def above(self) -> float:
        """Names of the verticals, key, and title of the y axis; the upper edge of the paper."""
        canvas, chart = self.canvas, self.chart
        left, right = EDGE - self.left, self.across + self.gutter - EDGE
        base = self.tall + ROW + 1.0  # clear of the uppermost number
        if chart.verticals:
            names = [shortened(vertical.name, right - left) for vertical in chart.verticals]
            centres = [canvas.pixels(vertical.x, 0)[0] for vertical in chart.verticals]
            places = rows(centres, [text_width(name, SIZE) for name in names], left, right, 10.0)
            for vertical, name, (centre, row) in zip(chart.verticals, names, places, strict=True):
                up = base + row * ROW
                canvas.text("vertical", name, centre, up)
                foot, head = canvas.place(0, 0)[1], canvas.place(0, up - ROW / 2)[1]
                canvas.line("vertical", [(vertical.x, foot), (vertical.x, head)], vertical.name)
            base += (max(row for _, row in places) + 1) * ROW
        if self.in_key:
            base = canvas.key(chart, self.in_key, left, right, base)
        canvas.text("axis", shortened(chart.y.title, right - left), left, base, "left")
        return base + ROW / 2 + EDGE

    def marks(self) -> None:
        """A ring round each chosen point, its name where nothing is under it."""
        canvas, marks = self.canvas, self.chart.marks
        if not marks:
            return
        points = [canvas.pixels(mark.x, mark.y) for mark in marks]
        canvas.line("ring", [(mark.x, mark.y) for mark in marks], marks[0].name)
        # No name may lie on a line or a ring; across a vertical it may, if nothing else is left.
        held = [box for line in self.chart.lines for box in self.boxes_on(line)]
        held += [(x - 9, x + 9, y - 9, y + 9) for x, y in points]
        verticals = [(x - 3, x + 3, 0.0, self.tall) for x in self.vertical_pixels()]
        frame = (2.0, self.across - 2.0, 2.0, self.tall - 2.0)
        taken: list[Box] = []
        for mark, point in zip(marks, points, strict=True):
            name = shortened(mark.name, self.across - 16.0, SIZE, True)
            if not name:
                continue
            size = (text_width(name, SIZE, True) + 8.0, ROW)
            middle = around([point], [size], frame, [*held, *taken], verticals)[0]
            if middle == point:  # where the chart is full it may lie on lines, never on a name
                middle = around([point], [size], frame, taken)[0]
            taken.append(
                (middle[0] - size[0] / 2, middle[0] + size[0] / 2, middle[1] - ROW / 2, middle[1] + ROW / 2)
            )
            far = math.hypot(middle[0] - point[0], middle[1] - point[1]) > 40 + size[0] / 2
            leader = (mark.x, mark.y) if far else None
            canvas.labels.append(Label("ring", name, canvas.place(*middle), "middle", SIZE, leader, True))

    def vertical_pixels(self) -> list[float]:
        return [self.canvas.pixels(vertical.x, 0)[0] for vertical in self.chart.verticals]

    def boxes_on(self, line: Line) -> list[Box]:
        """Small boxes along a line, for texts to keep off."""
        path = _path(line, line.y)
        path = path[np.isfinite(path[:, 1])]
        if len(path) < 2:
            return []
        points = np.array([self.canvas.pixels(*point) for point in path])
        way = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
        places = np.linspace(0, way[-1], max(int(way[-1] / 8.0), 2))
        x, y = np.interp(places, way, points[:, 0]), np.interp(places, way, points[:, 1])
        return [(float(a) - 4, float(a) + 4, float(b) - 4, float(b) + 4) for a, b in zip(x, y, strict=True)]

    def under(self) -> float:
        """Names or numbers of the x axis and its title; the lower edge of the paper."""
        canvas, chart = self.canvas, self.chart
        left, right = EDGE - self.left, self.across + self.gutter - EDGE
        base = -ROW - 1.0  # clear of the lowest number
        if chart.x.names:
            base = self.names_under(left, right, base)
        else:
            low, high = self.x_range
            numbers = ticks(low, high, max(2, round(self.across / 80)))
            numbers = [value for value in numbers if low <= value <= high]
            for value, text in zip(numbers, tick_texts(numbers, chart.x.prefix), strict=True):
                across = canvas.pixels(value, 0)[0]
                canvas.line("axis", [canvas.place(across, 0.0), canvas.place(across, -5.0)])
                canvas.text("axis", text, across, base)
            base -= ROW
            if canvas.origin[1] != 0:
                canvas.line("axis", [canvas.place(0, 0), canvas.place(self.across, 0)])
        title = shortened(chart.x.title, right - left)
        half = text_width(title, SIZE) / 2
        centre = min(max(self.across / 2, left + half), right - half)
        canvas.text("axis", title, centre, base)
        return base - (ROW / 2 if title else -ROW / 2) - EDGE

    def names_under(self, left: float, right: float, base: float) -> float:
        """Names in one row where they fit, short ones where those do, else in rows; the middle of the next row."""
        canvas, chart = self.canvas, self.chart
        centres = [canvas.pixels(place, 0)[0] for place in range(len(chart.x.names))]
        for names in (chart.x.names, chart.x.short or chart.x.names):
            texts = [shortened(name, right - left) for name in names]
            places = rows(centres, [text_width(text, SIZE) for text in texts], left, right, 6.0)
            if max((row for _, row in places), default=0) == 0:
                break
        for text, target, (centre, row) in zip(texts, centres, places, strict=True):
            if text:
                at = canvas.place(centre, base - row * ROW)
                leader = canvas.place(target, 0.0) if row or abs(centre - target) > SIZE else None
                canvas.labels.append(Label("axis", text, at, "middle", SIZE, leader))
        return base - (max((row for _, row in places), default=0) + 1) * ROW


def _whisker(x: float, low: float, high: float, half: float) -> list[Array]:
    ends = [[(x, low), (x, high)], [(x - half, low), (x + half, low)], [(x - half, high), (x + half, high)]]
    return [np.array(end) for end in ends]


def _path(line: Line, values: tuple[float, ...]) -> Array:
    """Nodes of a line or of one edge of its band."""
    x, y = np.array(line.x, float), np.array(values, float)
    if line.step and len(x) > 1:
        x, y = np.repeat(x, 2)[1:], np.repeat(y, 2)[:-1]
    return np.column_stack([x, y])
