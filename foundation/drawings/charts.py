"""A chart as data: what it finds, its axes with their units, lines with bands, bars, and the option that is chosen."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foundation.drawings.layers import SERIES

Values = tuple[float, ...]


@dataclass(frozen=True)
class Axis:
    """One axis.

    Attributes
    ----------
    title : str
        What it measures, with the unit: ``Heat out [kWh]``.
    zero : bool
        Whether zero is shown whatever the values are, as for money and heat.
    names : tuple of str
        What stands at 0, 1, 2 and so on, for an axis of things instead of numbers.
    short : tuple of str
        Shorter names for where those have no room.
    prefix : str
        What stands before each number, such as ``$``.
    places : int
        Decimal places of values in words. [-]
    """

    title: str
    zero: bool = False
    names: tuple[str, ...] = ()
    short: tuple[str, ...] = ()
    prefix: str = ""
    places: int = 0

    def text(self, value: float) -> str:
        """Write a value.

        Parameters
        ----------
        value : float
            The value, not a number for what is not known. [as the axis]

        Returns
        -------
        str
            With its prefix, without its unit.

        Examples
        --------
        >>> Axis("Cost [$]", prefix="$").text(-1234.4), Axis("Heat", places=1).text(0.26)
        ('-$1,234', '0.3')
        """
        if not math.isfinite(value):
            return "–"
        number = f"{value:z,.{self.places}f}"
        return f"-{self.prefix}{number[1:]}" if number.startswith("-") else f"{self.prefix}{number}"


@dataclass(frozen=True)
class Line:
    """A line, with a band when its low and high are given.

    Attributes
    ----------
    name : str
        What it is.
    x, y : tuple of float
        Its points, x rising; a y that is not a number breaks it. [as the axes]
    low, high : tuple of float
        Its band, empty for none. [as the axis]
    step : bool
        Whether a value holds from its x on to the next.
    layer : str
        How it is drawn, one of `layers.SERIES`; "" for the next that is free.
    """

    name: str
    x: Values
    y: Values
    low: Values = ()
    high: Values = ()
    step: bool = False
    layer: str = ""


@dataclass(frozen=True)
class Bars:
    """Bars at the names of the x axis.

    Attributes
    ----------
    name : str
        What they are.
    y : tuple of float
        Their values; not a number for no bar. [as the axis]
    low, high : tuple of float
        Their bands, drawn as whiskers, empty for none. [as the axis]
    layer : str
        How they are drawn, one of `layers.SERIES`; "" for the next that is free.
    """

    name: str
    y: Values
    low: Values = ()
    high: Values = ()
    layer: str = ""


@dataclass(frozen=True)
class Mark:
    """A point with a ring round it and a name beside it.

    Attributes
    ----------
    name : str
        What it is.
    x, y : float
        Where it is. [as the axes]
    """

    name: str
    x: float
    y: float


@dataclass(frozen=True)
class Vertical:
    """A line across the chart at one x.

    Attributes
    ----------
    name : str
        What is there.
    x : float
        Where it is. [as the axis]
    """

    name: str
    x: float


@dataclass(frozen=True)
class Chart:
    """A chart, whatever it is drawn with.

    Attributes
    ----------
    title : str
        What it finds.
    x, y : Axis
        Its axes; the values of bars are along y, also where the bars lie.
    lines : tuple of Line
        Lines.
    bars : tuple of Bars
        Bars, which need an x axis of names.
    marks : tuple of Mark
        Chosen points.
    verticals : tuple of Vertical
        Lines across.
    stacked : bool
        Whether bars stand on each other instead of beside.
    lying : bool
        Whether bars lie, each thing's name over its bars: for long names and narrow pages.
    notes : tuple of str
        What else has to be said, in words.
    """

    title: str
    x: Axis
    y: Axis
    lines: tuple[Line, ...] = ()
    bars: tuple[Bars, ...] = ()
    marks: tuple[Mark, ...] = ()
    verticals: tuple[Vertical, ...] = ()
    stacked: bool = False
    lying: bool = False
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for bars in self.bars:
            _same_length(self.title, bars, len(self.x.names))
        for line in self.lines:
            _same_length(self.title, line, len(line.x))
            if any(b < a for a, b in zip(line.x, line.x[1:], strict=False)):
                raise ValueError(f'The line "{line.name}" of "{self.title}" runs back: its x must rise.')
        if self.lying and (self.lines or self.marks or self.verticals):
            raise ValueError(f'"{self.title}" has lying bars: lines, marks and verticals need standing ones.')
        if self.x.short and len(self.x.short) != len(self.x.names):
            raise ValueError(
                f'"{self.title}" has {len(self.x.short)} short names for {len(self.x.names)} names.'
            )

    def layer_of(self, series: Line | Bars) -> str:
        """How a series is drawn.

        Parameters
        ----------
        series : Line or Bars
            One of its own.

        Returns
        -------
        str
            Name of a layer.
        """
        place = [*self.bars, *self.lines].index(series)
        return series.layer or SERIES[place % len(SERIES)]

    @property
    def header(self) -> tuple[str, ...]:
        """Heads of the table that says the same."""
        return self.x.title, *(bars.name for bars in self.bars), *(line.name for line in self.lines)

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """The table that says the same; a band stands in brackets after its value."""
        if self.x.names:
            keys: list[float] = [float(place) for place in range(len(self.x.names))]
        else:
            keys = sorted({x for line in self.lines for x in line.x})
        # Bars stand at places, lines at their x; over names the two are the same.
        columns = [dict(zip(keys, _words(self.y, bars), strict=True)) for bars in self.bars]
        columns += [dict(zip(line.x, _words(self.y, line), strict=True)) for line in self.lines]
        return tuple((self.name_at(key), *(column.get(key, "–") for column in columns)) for key in keys)

    def name_at(self, x: float) -> str:
        """What stands at a place of the x axis.

        Parameters
        ----------
        x : float
            The place. [as the axis]

        Returns
        -------
        str
            A name or a number.
        """
        return self.x.names[round(x)] if self.x.names else self.x.text(x)

    @property
    def summary(self) -> str:
        """The chart in words, for those who cannot see it."""
        parts = [self.title]
        if self.bars:
            parts += [
                f"{row[0]}: " + ", ".join(f"{n} {v}" for n, v in zip(self.header[1:], row[1:], strict=True))
                for row in self.rows
            ]
        for line in () if self.bars else self.lines:
            known = [(y, x) for x, y in zip(line.x, line.y, strict=True) if math.isfinite(y)]
            if known:
                places = (("from", known[0]), ("to", known[-1]), ("least", min(known)), ("most", max(known)))
                said = [f"{word} {self.y.text(y)} at {self.name_at(x)}" for word, (y, x) in places]
                parts.append(f"{line.name}: " + ", ".join(said))
        parts += [f"{mark.name}: {self.y.text(mark.y)} at {self.name_at(mark.x)}" for mark in self.marks]
        parts += [f"{vertical.name}: at {self.name_at(vertical.x)}" for vertical in self.verticals]
        parts.append(f"Across: {self.x.title}; values: {self.y.title}")
        return ". ".join([*(part.rstrip(".") for part in (*parts, *self.notes))]) + "."


def _same_length(title: str, series: Line | Bars, count: int) -> None:
    wanted: Sequence[Values] = [series.y, *(band for band in (series.low, series.high) if band)]
    if any(len(values) != count for values in wanted) or bool(series.low) != bool(series.high):
        raise ValueError(
            f'"{series.name}" of "{title}" has {len(series.y)} values, {len(series.low)} low and '
            f"{len(series.high)} high ones for {count} places: one each, and a band of both or none."
        )


def _words(axis: Axis, series: Line | Bars) -> list[str]:
    texts = [axis.text(value) for value in series.y]
    if series.low:
        bands = zip(texts, series.low, series.high, strict=True)
        texts = [f"{text} ({axis.text(low)} to {axis.text(high)})" for text, low, high in bands]
    return texts
