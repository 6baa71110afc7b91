"""Temperatures in a section on one day: bands, lines of equal temperature, and where it freezes."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.drawings.heat_bands import Cells, bands, cells_in, extended, isotherm, solid, temperatures
from foundation.drawings.labels import LINE, SIZE, Box, overlap, text_width
from foundation.drawings.layers import HEAT
from foundation.drawings.scene import Area, Label, Scene, Stroke
from foundation.drawings.section_shapes import INSULATION, edges, lines_of, outline, seen
from foundation.model.heat import SectionResponse
from foundation.model.section import BlockKind, Section

Array = NDArray[np.float64]

INWARD, OUTWARD, UNDER = 1.5, 2.0, 1.0
"""How far a picture reaches from the wall's faces, and under the lowest thing. [m]"""
MOST_HEIGHT = 620.0
"""A picture higher than this is drawn smaller. [px]"""
NARROW = 640.0
"""Narrower drawings show two pictures one above the other. [px]"""
EDGE, BETWEEN = 8.0, 18.0
"""Room at the edges, and between two pictures. [px]"""
DETAIL = 0.4
"""Details smaller than this are left out. [px]"""
POINTED = 44.0
"""Distance of the places that tell their temperature. [px]"""
COLDEST = datetime.date(2001, 1, 15)
"""The coldest day of the mean year; the year itself does not matter."""


def heat_scene(
    response: SectionResponse,
    inside: float,
    mean: float,
    amplitude: float,
    day: float,
    width: float = 905.0,
    bare: SectionResponse | None = None,
    system: str = "us",
    names: tuple[str, str] = ("as planned", "without foam"),
) -> Scene:
    """Temperatures in a section, and beside it in another that is compared with it.

    Parameters
    ----------
    response : SectionResponse
        The section's answer.
    inside, mean : float
        Inner air, and yearly mean of the outer air. [°C]
    amplitude : float
        Of the outer air's yearly wave. [K]
    day : float
        Days after the coldest day. [d]
    width : float
        Width of the drawing; under 640 px the two stand one above the other. [px]
    bare : SectionResponse or None
        Another answer, such as that of the same section without foam.
    system : str
        ``us`` for bands of 5 °F, ``metric`` for 2 °C.
    names : tuple of str
        What the two are called.

    Returns
    -------
    Scene
        The drawing in true shape, on one scale of colours; its labels lie clear of each other.
    """
    responses = [response] if bare is None else [response, bare]
    return _Heat(responses, (inside, mean, amplitude, day), width, system, names).scene()


class _Heat:
    """One drawing in the making; each picture is moved to its place on the paper."""

    def __init__(
        self,
        responses: Sequence[SectionResponse],
        weather: tuple[float, float, float, float],
        width: float,
        system: str,
        names: tuple[str, str],
    ) -> None:
        self.responses, self.weather, self.width, self.system, self.names = (
            responses, weather, width, system, names,
        )  # fmt: skip
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.labels: list[Label] = []
        self.taken: list[Box] = []
        windows = [window_of(r) for r in responses]
        self.window = (
            max(w[0] for w in windows),
            min(w[1] for w in windows),
            max(w[2] for w in windows),
            min(w[3] for w in windows),
        )
        left, right, low, high = self.window
        self.columns = len(responses) if width >= NARROW else 1
        room = (width - 2 * EDGE - BETWEEN * (self.columns - 1)) / self.columns
        self.scale = min(room / (right - left), MOST_HEIGHT / (high - low))
        self.spare = (width - self.columns * (right - left) * self.scale - BETWEEN * (self.columns - 1)) / 2
        fields = [temperatures(r.picture, *weather) for r in responses]
        self.fields = [cells_in(r.picture, f, self.window) for r, f in zip(responses, fields, strict=True)]
        self.levels, self.step = levels_of(self.fields, system)

    def scene(self) -> Scene:
        left, right, low, high = self.window
        row = SIZE * LINE / self.scale
        for place, (response, cells) in enumerate(zip(self.responses, self.fields, strict=True)):
            across = place % self.columns * (right - left + BETWEEN / self.scale)
            down = place // self.columns * (high - low + 2.5 * row)
            self.picture(response, cells, np.array([across, -down]), place)
        rows = math.ceil(len(self.responses) / self.columns)
        bottom = low - (rows - 1) * (high - low + 2.5 * row) - 1.0 * row
        bottom = self.key(bottom)
        start = left - self.spare / self.scale
        window = (start, start + self.width / self.scale, bottom, high + 1.6 * row)
        title = self.title()
        return Scene(
            title,
            self.summary(title),
            window,
            self.scale,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )

    def picture(self, response: SectionResponse, cells: Cells, move: Array, place: int) -> None:
        """One section with its bands, lines, edges and texts."""
        section, window, pixel = response.section, self.window, 1 / self.scale
        body, full = solid(cells, window), extended(cells)
        for number, shape in enumerate(bands(full, self.levels, body, DETAIL * pixel)):
            points = outline(shape)
            if len(points):
                low, high = (self.text(self.levels[number + i]) for i in (0, 1))
                self.areas.append(Area(self.shade(number), points + move, f"{low} to {high}"))
        for block, shape in zip(section.blocks, seen(section.blocks, window), strict=True):
            if shape.area > 1e-8 and block.kind in INSULATION:
                # Lines crowd where it insulates: a text there would hide what it names.
                x0, z0, x1, z1 = (np.array(shape.bounds) + np.tile(move, 2)) * self.scale
                self.taken.append((float(x0), float(x1), float(z0), float(z1)))
            if shape.area > 1e-8 and block.kind is not BlockKind.SOIL:
                self.line("block-edge", edges(shape, window), move, block.name)
        self.line("block-edge", edges(body, window), move, "edge of the air")
        frost = isotherm(full, 0.0, body, DETAIL * pixel)
        lines = [(level, isotherm(full, level, body, DETAIL * pixel)) for level in self.levels[1:-1]]
        for level, line in lines:
            if abs(level) > 1e-9:
                self.line("isotherm", lines_of(line), move, self.text(level))
        self.line("freezing", lines_of(frost), move, self.text(0.0))
        name = self.names[place] if len(self.responses) > 1 else f"{section.inside}, section {section.line}"
        at = (window[0] + move[0], window[3] + move[1] + 0.8 * SIZE * LINE * pixel)
        self.labels.append(Label("note", name, at, "left", SIZE, None, True))
        frame = (window[0] + move[0], window[1] + move[0], window[2] + move[1], window[3] + move[1])
        self.label_line(0.0, frost, move, frame, True)
        for level, line in sorted(lines, key=lambda pair: abs(pair[0])):
            if abs(level) > 1e-9:
                self.label_line(level, line, move, frame, False)
        self.pointers(cells, move, place)

    def line(self, layer: str, points: Array, move: Array, name: str) -> None:
        if len(points):
            self.strokes.append(Stroke(layer, points + move, name))

    def label_line(self, level: float, line: shapely.Geometry, move: Array, frame: Box, strong: bool) -> None:
        """The temperature on its line, where its longest piece is free; a line too short for it stays without."""
        text = self.text(level)
        half = (text_width(text, SIZE, strong) / 2 + 3.0, SIZE * LINE / 2)
        parts = [part for part in shapely.get_parts(line) if isinstance(part, shapely.LineString)]
        left, right, low, high = (value * self.scale for value in frame)
        for part in sorted(parts, key=lambda each: -each.length):
            if part.length * self.scale < (40 if strong else 70):
                break
            for share in (0.5, 0.62, 0.38, 0.74, 0.26, 0.86, 0.14):
                point = part.interpolate(share, normalized=True)
                x, z = (point.x + move[0]) * self.scale, (point.y + move[1]) * self.scale
                box = (x - half[0], x + half[0], z - half[1], z + half[1])
                free = box[0] > left and box[1] < right and box[2] > low and box[3] < high
                if free and not any(overlap(box, other) for other in self.taken):
                    self.taken.append(box)
                    layer = "freezing" if strong else "isotherm"
                    at = (x / self.scale, z / self.scale)
                    self.labels.append(Label(layer, text, at, "middle", SIZE, None, strong))
                    return

    def pointers(self, cells: Cells, move: Array, place: int) -> None:
        """What the reader is told who points at the ground."""
        step = POINTED / self.scale
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
        points = np.column_stack([cells.x[columns], cells.z[rows]]) + move
        self.strokes.append(Stroke("pointer", points, self.names[place], texts))

    def shade(self, number: int) -> str:
        """Colour of a band: all colours are used, from the coldest to the warmest band."""
        last = max(len(self.levels) - 2, 1)
        return list(HEAT)[round(number * (len(HEAT) - 1) / last)]

    def key(self, top: float) -> float:
        """The scale of colours with its numbers; the lower edge of the drawing. [m]"""
        pixel = 1 / self.scale
        count = len(self.levels) - 1
        wide = min(34.0, (self.width - 2 * EDGE - 40.0) / count)
        left = self.window[0] - self.spare * pixel + (EDGE + 20.0) * pixel
        high = 12.0
        for number in range(count):
            x0, x1 = left + number * wide * pixel, left + (number + 1) * wide * pixel
            corners = np.array([(x0, top - high * pixel), (x1, top - high * pixel), (x1, top), (x0, top)])
            self.areas.append(Area(self.shade(number), corners))
            self.strokes.append(Stroke("isotherm", np.vstack([corners, corners[:1]])))
        texts = [self.text(level) for level in self.levels]
        each = math.ceil((max(text_width(text, SIZE) for text in texts) + 8.0) / wide)
        row = top - (high + 0.75 * SIZE * LINE) * pixel
        for number in range(0, count + 1, each):
            at = (left + number * wide * pixel, row)
            self.labels.append(Label("isotherm", texts[number], at, "middle", SIZE))
        return row - SIZE * LINE * pixel

    def text(self, celsius: float, places: int = 0) -> str:
        if self.system == "us":
            return f"{celsius * 1.8 + 32:z.{places}f} °F"
        return f"{celsius:z.{places}f} °C"

    def date(self) -> str:
        when = COLDEST + datetime.timedelta(days=round(self.weather[3]))
        return f"{when.day} {when:%B}"

    def under_footing(self, place: int) -> float | None:
        """Coldest ground right under the footing. [°C]"""
        return coldest_under_footing(self.responses[place].section, self.fields[place])

    def title(self) -> str:
        found = [self.under_footing(place) for place in range(len(self.responses))]
        if found[0] is None:
            return f"Temperatures on {self.date()}"
        said = [
            f"{self.text(t)} {self.names[i]}" if len(found) > 1 else self.text(t)
            for i, t in enumerate(found)
            if t is not None
        ]
        frost = " – it freezes there" if found[0] < 0 else ""
        return f"{self.date()}: under the footing {', '.join(said)}{frost}"

    def summary(self, title: str) -> str:
        inside, mean, amplitude, day = self.weather
        outside = mean - amplitude * math.cos(2 * math.pi * day / 365.0)
        ranges = ". ".join(
            f"{self.names[place]}: from {self.text(float(np.nanmin(cells.temperature)))} to "
            f"{self.text(float(np.nanmax(cells.temperature)))} in the picture"
            for place, cells in enumerate(self.fields)
        )
        return (
            f"{title}. Inner air {self.text(inside)}, outer air {self.text(outside)} on that day of the mean year. "
            f"{ranges}. Lines every {self.step}; the heavy line is {self.text(0.0)}. Heat of freezing is left out."
        )


def window_of(response: SectionResponse) -> tuple[float, float, float, float]:
    """What a picture shows.

    Parameters
    ----------
    response : SectionResponse
        The section's answer.

    Returns
    -------
    tuple of float
        Left, right, bottom and top, within the grid. [m]
    """
    section, picture = response.section, response.picture
    own = [block for block in section.blocks if block.kind is not BlockKind.SOIL]
    low = min([section.bed, *(block.bottom for block in own)]) - UNDER
    return (
        max(section.inner_face - min(section.half_width, INWARD), float(picture.x[0])),
        min(OUTWARD, float(picture.x[-1])),
        max(low, float(picture.z[0])),
        min(section.top, float(picture.z[-1])),
    )


def levels_of(fields: Sequence[Cells], system: str) -> tuple[list[float], str]:
    """Round temperatures round everything that is shown.

    Parameters
    ----------
    fields : sequence of Cells
        The pictures.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    list of float
        Rising, at least two. [°C]
    str
        The step in words.
    """
    low = min(float(np.nanmin(cells.temperature)) for cells in fields)
    high = max(float(np.nanmax(cells.temperature)) for cells in fields)
    factor, zero, step = (1.8, 32.0, 5) if system == "us" else (1.0, 0.0, 2)
    # More bands than colours would look alike: the step grows instead.
    while (high - low) * factor / step > len(HEAT) - 1:
        step *= 2
    first = math.floor((low * factor + zero) / step)
    last = max(math.ceil((high * factor + zero) / step), first + 1)
    levels = [(place * step - zero) / factor for place in range(first, last + 1)]
    return levels, f"{step} °F" if system == "us" else f"{step} °C"


def coldest_under_footing(section: Section, cells: Cells) -> float | None:
    """Coldest ground right under the footing.

    Parameters
    ----------
    section : Section
        The section.
    cells : Cells
        Temperatures round it.

    Returns
    -------
    float or None
        The temperature [°C]; None for a section without a footing.
    """
    footings = [b for b in section.blocks if b.kind is BlockKind.CONCRETE and "footing" in b.name]
    if not footings:
        return None
    foot = min(footings, key=lambda block: block.bottom)
    across = (cells.x > foot.left) & (cells.x < foot.right)
    row = int(np.searchsorted(cells.z, foot.bottom)) - 1
    values = cells.temperature[across, row] if row >= 0 else np.array([])
    return float(np.nanmin(values)) if np.isfinite(values).any() else None
