"""The paper of a chart: data on axes, with texts and swatches placed in pixels beside them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foundation.drawings.charts import Bars, Chart, Line
from foundation.drawings.labels import LINE, SIZE, shortened, text_width
from foundation.drawings.scene import Area, Label, Point, Scene, Stroke, joined

Array = NDArray[np.float64]

ROW = SIZE * LINE
"""Height of a row of texts. [px]"""
EDGE = 6.0
"""Room kept free at the edges of the paper. [px]"""
SWATCH = 26.0
"""Width of the sample beside a name in the key. [px]"""
NARROW = 560.0
"""Narrower charts name their lines in a key, wider ones at the lines' ends. [px]"""


@dataclass
class Canvas:
    """What is drawn so far, in the units of the axes; pixels count from the axes' lower left corner.

    Attributes
    ----------
    origin : tuple of float
        Values at that corner. [as the axes]
    scale : tuple of float
        Pixels of one unit of either axis. [px]
    strokes : list of Stroke
        Lines.
    areas : list of Area
        Areas.
    labels : list of Label
        Texts.
    """

    origin: Point
    scale: tuple[float, float]
    strokes: list[Stroke] = field(default_factory=list)
    areas: list[Area] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def pixels(self, x: float, y: float) -> Point:
        """A place in pixels.

        Parameters
        ----------
        x, y : float
            The place. [as the axes]

        Returns
        -------
        tuple of float
            From the corner. [px]
        """
        return (x - self.origin[0]) * self.scale[0], (y - self.origin[1]) * self.scale[1]

    def place(self, across: float, up: float) -> Point:
        """A place in the units of the axes.

        Parameters
        ----------
        across, up : float
            From the corner. [px]

        Returns
        -------
        tuple of float
            The place. [as the axes]
        """
        return self.origin[0] + across / self.scale[0], self.origin[1] + up / self.scale[1]

    def line(self, layer: str, points: Sequence[Point] | Array, name: str = "") -> None:
        """Draw a line.

        Parameters
        ----------
        layer : str
            Its layer.
        points : sequence of tuple, or ndarray of shape (n, 2)
            Its nodes. [as the axes]
        name : str
            What it is.
        """
        self.strokes.append(Stroke(layer, np.asarray(points, float).reshape(-1, 2), name))

    def boxes(self, layer: str, sides: Sequence[tuple[float, float, float, float]], name: str = "") -> None:
        """Draw filled boxes with their outlines.

        Parameters
        ----------
        layer : str
            Their layer.
        sides : sequence of tuple
            Left, right, bottom and top of each. [as the axes]
        name : str
            What they are.
        """
        if not sides:
            return
        corners = [np.array([(a, c), (b, c), (b, d), (a, d)]) for a, b, c, d in sides]
        self.areas.append(Area(layer, joined(corners), name))
        # Dashes are for lines; round a bar they would only be untidy.
        self.line("edge", joined([np.vstack([box, box[:1]]) for box in corners]), name)

    def pointers(self, points: Sequence[Point], texts: Sequence[str], name: str) -> None:
        """What is told to who points at values.

        Parameters
        ----------
        points : sequence of tuple
            Where the values are. [as the axes]
        texts : sequence of str
            What each says.
        name : str
            What they are.
        """
        if points:
            self.strokes.append(Stroke("pointer", np.array(points, float), name, tuple(texts)))

    def text(
        self, layer: str, text: str, across: float, up: float, anchor: str = "middle", strong: bool = False
    ) -> None:
        """Write a text.

        Parameters
        ----------
        layer : str
            Its layer.
        text : str
            The text; nothing is written where it is empty.
        across, up : float
            Where its anchor stands. [px]
        anchor : str
            ``left``, ``middle`` or ``right``.
        strong : bool
            True for the few that are read first.
        """
        if text:
            self.labels.append(Label(layer, text, self.place(across, up), anchor, SIZE, None, strong))

    def key(
        self, chart: Chart, series: Sequence[Line | Bars], left: float, right: float, base: float
    ) -> float:
        """Name series beside samples of their look, in rows upward.

        Parameters
        ----------
        chart : Chart
            The chart.
        series : sequence of Line or Bars
            Which to name.
        left, right : float
            Ends of the rows. [px]
        base : float
            Middle of the lowest row. [px]

        Returns
        -------
        float
            Middle of the next row that is free. [px]
        """
        rows = key_rows(series, right - left)
        for number, row in enumerate(rows):
            up, across = base + (len(rows) - 1 - number) * ROW, left
            for each in row:
                self.swatch(chart.layer_of(each), isinstance(each, Bars), bool(each.low), across, up)
                name = shortened(each.name, right - left - SWATCH - 6.0)
                self.text(chart.layer_of(each), name, across + SWATCH + 6.0, up, "left")
                across += _key_width(each, right - left)
        return base + len(rows) * ROW

    def swatch(self, layer: str, bar: bool, band: bool, across: float, up: float) -> None:
        """A sample of how a series looks.

        Parameters
        ----------
        layer : str
            Its layer.
        bar : bool
            Whether it is bars.
        band : bool
            Whether it has a band.
        across, up : float
            Its left end and its middle. [px]
        """
        (x0, y0), (x1, y1) = self.place(across, up - 5.0), self.place(across + SWATCH, up + 5.0)
        if bar:
            self.boxes(layer, [(x0, x1, y0, y1)])
            return
        if band:
            corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
            self.areas.append(Area(f"{layer}-band", corners))
        self.line(layer, [self.place(across, up), self.place(across + SWATCH, up)])

    def scene(self, chart: Chart, left: float, right: float, bottom: float, top: float) -> Scene:
        """The finished chart.

        Parameters
        ----------
        chart : Chart
            What it shows.
        left, right, bottom, top : float
            Edges of the paper. [px]

        Returns
        -------
        Scene
            The drawing, in the units of the axes.
        """
        (x0, y0), (x1, y1) = self.place(left, bottom), self.place(right, top)
        return Scene(
            title=chart.title,
            summary=chart.summary,
            window=(x0, x1, y0, y1),
            pixels_per_metre=self.scale[0],
            stretch=self.scale[1] / self.scale[0],
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )


def key_rows(series: Sequence[Line | Bars], room: float) -> list[list[Line | Bars]]:
    """Rows that a key takes.

    Parameters
    ----------
    series : sequence of Line or Bars
        What it names.
    room : float
        Width of a row. [px]

    Returns
    -------
    list of list
        Series by row.
    """
    rows: list[list[Line | Bars]] = []
    used = room
    for each in series:
        width = _key_width(each, room)
        if used + width > room or not rows:
            rows.append([])
            used = 0.0
        rows[-1].append(each)
        used += width
    return rows


def _key_width(series: Line | Bars, room: float) -> float:
    return min(SWATCH + 6.0 + text_width(series.name, SIZE) + 18.0, room)


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers from one not above the low to one not under the high.

    Parameters
    ----------
    low, high : float
        What they must reach round. [as the axis]
    most : int
        About how many steps there may be. [-]

    Returns
    -------
    list of float
        Rising. [as the axis]

    Examples
    --------
    >>> ticks(0.0, 9.1, 5)
    [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]
    """
    span = high - low if high - low > 1e-9 * max(abs(low), abs(high), 1e-300) else max(abs(high), 1.0)
    least = span / max(most, 1)
    power = 10.0 ** math.floor(math.log10(least) + 1e-12)
    step = next(f * power for f in (1.0, 2.0, 2.5, 5.0, 10.0) if f * power >= least * (1 - 1e-9))
    first, last = math.floor(low / step + 1e-9), math.ceil((low + span) / step - 1e-9)
    return [round(place * step, 12) for place in range(first, last + 1)]


def tick_texts(values: Sequence[float], prefix: str) -> list[str]:
    """Write the numbers of an axis, all with the same places.

    Parameters
    ----------
    values : sequence of float
        The numbers. [as the axis]
    prefix : str
        What stands before each.

    Returns
    -------
    list of str
        One text each.

    Examples
    --------
    >>> tick_texts([0.0, 0.25, 0.5], "$")
    ['$0.00', '$0.25', '$0.50']
    """
    places = next(p for p in range(10) if all(abs(round(v, p) - v) < 1e-9 * max(1.0, abs(v)) for v in values))
    return [f"{'-' if value < 0 else ''}{prefix}{abs(value):,.{places}f}" for value in values]
