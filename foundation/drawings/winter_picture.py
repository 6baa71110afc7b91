"""The design winter in a section: temperatures when frost is deepest, where it freezes, and the depth asked for."""

from __future__ import annotations

import datetime
import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foundation import units
from foundation.drawings.heat_bands import bands, cells_in, extended, isotherm, solid
from foundation.drawings.heat_picture import (
    BETWEEN,
    COLDEST,
    DETAIL,
    EDGE,
    INWARD,
    MOST_HEIGHT,
    OUTWARD,
    POINTED,
    levels_of,
)
from foundation.drawings.labels import LINE, SIZE, Box, around, text_width
from foundation.drawings.layers import HEAT
from foundation.drawings.scene import Area, Label, Scene, Stroke, pieces
from foundation.drawings.section_shapes import edges, grade_line, lines_of, outline, seen
from foundation.model.heat import Picture
from foundation.model.section import BlockKind
from foundation.model.winter import DesignWinter

Array = NDArray[np.float64]

UNDER = 0.4
"""How far a picture reaches under the footing, the frost and the depth that is asked for. [m]"""
INCH = 0.0254


def winter_scene(
    winter: DesignWinter, width: float = 905.0, system: str = "us", asked: float | None = None
) -> Scene:
    """Temperatures in a section when the design winter's frost is deepest.

    Parameters
    ----------
    winter : DesignWinter
        The winter.
    width : float
        Width of the drawing. [px]
    system : str
        ``us`` for bands of 5 °F, ``metric`` for 2 °C.
    asked : float or None
        Frost depth that the office asks for, drawn below the grade outside; None for none. [m]

    Returns
    -------
    Scene
        The drawing in true shape; its title says what was found.
    """
    return _Winter(winter, width, system, asked).scene()


def finding(winter: DesignWinter, system: str) -> str:
    """What a design winter does, in one sentence.

    Parameters
    ----------
    winter : DesignWinter
        The winter.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``14 March: frost stands 38 in deep, 9 in above the footing's bottom``.
    """
    when = COLDEST + datetime.timedelta(days=round(winter.day))
    if winter.depth <= 0:
        return "No frost in the ground beside the house in the design winter"
    said = f"{when.day} {when:%B}: frost stands {_whole(winter.depth, system)} deep"
    if math.isnan(winter.bottom):
        return said
    if winter.reaches:
        return f"{said} and reaches under the footing"
    above = winter.lowest - winter.bottom
    if above >= INCH / 2:
        return f"{said}, {_whole(above, system)} above the footing's bottom"
    if winter.distance < INCH:
        return f"{said} and comes up to the edge of the footing's bottom"
    return f"{said} and comes within {_whole(winter.distance, system)} of the footing's bottom"


class _Winter:
    """One drawing in the making."""

    def __init__(self, winter: DesignWinter, width: float, system: str, asked: float | None) -> None:
        self.winter, self.width, self.system, self.asked = winter, width, system, asked
        section = winter.section
        lows = [section.bed, *(block.bottom for block in section.blocks if block.kind is not BlockKind.SOIL)]
        lows += [winter.lowest] if winter.depth > 0 else []
        lows += [] if asked is None else [min(step.level for step in section.grade) - asked]
        wings = [block.right for block in section.blocks if block.kind is BlockKind.FOAM]
        left = max(section.inner_face - min(section.half_width, INWARD), float(winter.x[0]))
        right = min(max([OUTWARD, *(wing + UNDER for wing in wings)]), float(winter.x[-1]))
        low, high = max(min(lows) - UNDER, float(winter.z[0])), min(section.top, float(winter.z[-1]))
        self.window = (left, right, low, high)
        self.scale = min((width - 2 * EDGE) / (right - left), MOST_HEIGHT / (high - low))
        self.pixel = 1 / self.scale
        nothing = np.zeros(winter.temperature.shape, np.complex128)
        grid = Picture(winter.x, winter.z, winter.temperature, nothing)
        self.cells, front = (
            cells_in(grid, field, self.window) for field in (winter.temperature, winter.front)
        )
        self.levels, self.step = levels_of([self.cells], system)
        self.body, self.full = solid(self.cells, self.window), extended(self.cells)
        self.frost = isotherm(extended(front), 0.0, self.body, DETAIL * self.pixel)
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.labels: list[Label] = []

    def scene(self) -> Scene:
        left, right, _, high = self.window
        row = SIZE * LINE * self.pixel
        self.temperatures()
        self.edges()
        self.line("freezing", lines_of(self.frost), self.text(0.0))
        self.named([("freezing", self.text(0.0), self.frost), *self.depth_asked()])
        self.pointers()
        section = self.winter.section
        name = f"{section.inside}, section {section.line}"
        self.labels.append(Label("note", name, (left, high + 0.8 * row), "left", SIZE, None, True))
        bottom = self.key()
        spare = (self.width * self.pixel - (right - left)) / 2
        title = finding(self.winter, self.system)
        return Scene(
            title,
            self.summary(title),
            (left - spare, right + spare, bottom, high + 1.6 * row),
            self.scale,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )

    def temperatures(self) -> None:
        shapes = bands(self.full, self.levels, self.body, DETAIL * self.pixel)
        for number, shape in enumerate(shapes):
            points = outline(shape)
            if len(points):
                low, high = (self.text(self.levels[number + i]) for i in (0, 1))
                self.areas.append(Area(self.shade(number), points, f"{low} to {high}"))
        for level in self.levels[1:-1]:
            if abs(level) > 1e-9:
                line = isotherm(self.full, level, self.body, DETAIL * self.pixel)
                self.line("isotherm", lines_of(line), self.text(level))

    def edges(self) -> None:
        blocks = self.winter.section.blocks
        for block, shape in zip(blocks, seen(blocks, self.window), strict=True):
            if shape.area > 1e-8 and block.kind is not BlockKind.SOIL:
                self.line("block-edge", edges(shape, self.window), block.name)
        self.line("block-edge", edges(self.body, self.window), "edge of the air")

    def depth_asked(self) -> list[tuple[str, str, BaseGeometry]]:
        """The depth that the office asks for, straight below the grade outside."""
        if self.asked is None:
            return []
        points = grade_line(self.winter.section, self.window[1]) - np.array([0.0, self.asked])
        depth = _whole(self.asked, self.system)
        self.line("frost-line", points, f"frost depth asked for, {depth}")
        return [("frost-line", f"asked for: {depth}", shapely.LineString(points))]

    def named(self, lines: list[tuple[str, str, BaseGeometry]]) -> None:
        """The name of each line near the middle of its longest piece, clear of the others and of all lines."""
        points, sizes, named = [], [], []
        for layer, text, line in lines:
            parts = [
                each for each in shapely.get_parts(line) if each.geom_type == "LineString" and each.length > 0
            ]
            if parts:
                at = max(parts, key=lambda part: part.length).interpolate(0.75, normalized=True)
                points.append((at.x * self.scale, at.y * self.scale))
                sizes.append((text_width(text, SIZE, True) + 4.0, SIZE * LINE))
                named.append((layer, text))
        frame = tuple(value * self.scale for value in self.window)
        strong = [s for s in self.strokes if s.layer in ("freezing", "frost-line")]
        on_lines = [box for stroke in strong for piece in pieces(stroke.points) for box in self.along(piece)]
        middles = around(points, sizes, (frame[0], frame[1], frame[2], frame[3]), (), on_lines)
        for (layer, text), (x, y) in zip(named, middles, strict=True):
            at_text = (x * self.pixel, y * self.pixel)
            self.labels.append(Label(layer, text, at_text, "middle", SIZE, None, True))

    def along(self, piece: Array) -> list[Box]:
        """Boxes along a line that texts keep off."""
        line = shapely.LineString(piece * self.scale)
        count = max(int(line.length / 6.0), 1)
        share = np.arange(count + 1) / count
        at = shapely.get_coordinates(shapely.line_interpolate_point(line, share, normalized=True))
        return [(x - 3.0, x + 3.0, y - 3.0, y + 3.0) for x, y in at.tolist()]

    def line(self, layer: str, points: Array, name: str) -> None:
        if len(points):
            self.strokes.append(Stroke(layer, points, name))

    def pointers(self) -> None:
        """What the reader is told who points at the ground."""
        cells, step = self.cells, POINTED * self.pixel
        wanted = [
            np.unique(
                np.clip(np.searchsorted(middles, np.arange(a + step / 2, b, step)), 0, len(middles) - 1)
            )
            for middles, a, b in ((cells.x, *self.window[:2]), (cells.z, *self.window[2:]))
        ]
        columns, rows = (each.ravel() for each in np.meshgrid(*wanted, indexing="ij"))
        inner = (cells.x[columns] > self.window[0]) & (cells.x[columns] < self.window[1])
        inner &= (cells.z[rows] > self.window[2]) & (cells.z[rows] < self.window[3])
        known = inner & np.isfinite(cells.temperature[columns, rows])
        columns, rows = columns[known], rows[known]
        texts = tuple(self.text(t, 1) for t in cells.temperature[columns, rows])
        points = np.column_stack([cells.x[columns], cells.z[rows]])
        self.strokes.append(Stroke("pointer", points, "temperature", texts))

    def shade(self, number: int) -> str:
        last = max(len(self.levels) - 2, 1)
        return list(HEAT)[round(number * (len(HEAT) - 1) / last)]

    def key(self) -> float:
        """The scale of colours with its numbers; the lower edge of the drawing. [m]"""
        count, pixel = len(self.levels) - 1, self.pixel
        wide = min(34.0, (self.width - 2 * EDGE - 40.0) / count)
        middle = (self.window[0] + self.window[1]) / 2
        left = middle + (EDGE + 20.0 - self.width / 2) * pixel
        top = self.window[2] - BETWEEN * pixel
        for number in range(count):
            x0, x1 = left + number * wide * pixel, left + (number + 1) * wide * pixel
            low = top - 12.0 * pixel
            corners = np.array([(x0, low), (x1, low), (x1, top), (x0, top)])
            self.areas.append(Area(self.shade(number), corners))
            self.strokes.append(Stroke("isotherm", np.vstack([corners, corners[:1]])))
        texts = [self.text(level) for level in self.levels]
        each = math.ceil((max(text_width(text, SIZE) for text in texts) + 8.0) / wide)
        row = top - (12.0 + 0.75 * SIZE * LINE) * pixel
        for number in range(0, count + 1, each):
            at = (left + number * wide * pixel, row)
            self.labels.append(Label("isotherm", texts[number], at, "middle", SIZE))
        return row - SIZE * LINE * pixel

    def text(self, celsius: float, places: int = 0) -> str:
        if self.system == "us":
            return f"{celsius * 1.8 + 32:z.{places}f} °F"
        return f"{celsius:z.{places}f} °C"

    def summary(self, title: str) -> str:
        winter = self.winter
        inner = (
            "The part inside is not heated"
            if winter.inside is None
            else f"Inner air {self.text(winter.inside)}"
        )
        under = (
            ""
            if math.isnan(winter.under)
            else (f" Coldest under the footing in the whole winter: {self.text(winter.under, 1)}.")
        )
        return (
            f"{title}. Design winter with a freezing index of {units.write(winter.index, 'degree_days', self.system)}, "
            f"{self.text(winter.coldest)} on its coldest day, {winter.surface:g} of the index on the ground. {inner}."
            f"{under} Bands of {self.step}; the heavy line is {self.text(0.0)}."
        )


def _whole(length: float, system: str) -> str:
    """To the inch or centimetre: the soil alone moves frost by a third."""
    return f"{round(length / INCH)} in" if system == "us" else f"{round(length * 100)} cm"
