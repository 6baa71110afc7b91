"""A drawing of walls in the making: what is drawn so far, and texts put round it clear of each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.labels import LINE, SIZE, rows, shortened, stack, text_width
from foundation.drawings.scene import Area, Handle, Label, Point, Scene, Stroke

Array = NDArray[np.float64]

LEFT, RIGHT = 128.0, 232.0
"""Room beside the drawing for the names of lines and for level flags. [px]"""
MOST_HEIGHT = 620.0
"""A drawing higher than this is drawn smaller. [px]"""
AWAY = 14.0
"""Distance of texts from the drawing. [px]"""
RIGHT_ROOM = RIGHT - AWAY - 6.0
"""Longest text at the right edge. [px]"""


@dataclass(frozen=True)
class Note:
    """A text that wants to stand near a place.

    Attributes
    ----------
    layer : str
        Name of its layer.
    text : str
        The text.
    target : tuple of float
        What it belongs to. [m]
    strong : bool
        True for the few that are read first.
    """

    layer: str
    text: str
    target: Point
    strong: bool = False


@dataclass
class Sheet:
    """What is drawn so far; x runs along the walls, y is the level.

    Attributes
    ----------
    system : str
        ``us`` or ``metric``.
    length : float
        Length of the walls. [m]
    low, high : float
        Lowest and highest level of the drawing. [m]
    width : float
        Width of the whole drawing. [px]
    stretch : float
        Vertical scale over horizontal; 1 is true shape. [-]
    strokes : list of Stroke
        Lines.
    areas : list of Area
        Areas.
    labels : list of Label
        Texts.
    handles : list of Handle
        What may be dragged.
    """

    system: str
    length: float
    low: float
    high: float
    width: float
    stretch: float
    strokes: list[Stroke] = field(default_factory=list)
    areas: list[Area] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    handles: list[Handle] = field(default_factory=list)

    @property
    def scale(self) -> float:
        """Horizontal scale. [px/m]"""
        room = max(self.width - LEFT - RIGHT, 120.0)
        return min(room / self.length, MOST_HEIGHT / (self.stretch * (self.high - self.low)))

    @property
    def spare(self) -> float:
        """Width that the drawing leaves on each side when its height limits its scale. [px]"""
        return max(0.0, (self.width - LEFT - RIGHT - self.length * self.scale) / 2)

    def up(self, pixels: float) -> float:
        """Height of so many pixels.

        Parameters
        ----------
        pixels : float
            Height on the screen. [px]

        Returns
        -------
        float
            Height on the drawing. [m]
        """
        return pixels / (self.scale * self.stretch)

    def along(self, pixels: float) -> float:
        """Length of so many pixels.

        Parameters
        ----------
        pixels : float
            Length on the screen. [px]

        Returns
        -------
        float
            Length on the drawing. [m]
        """
        return pixels / self.scale

    def level(self, value: float) -> str:
        """Write a level or a length.

        Parameters
        ----------
        value : float
            The value. [m]

        Returns
        -------
        str
            As the sheet's system writes it.
        """
        return units.length(value, self.system)

    def line(self, layer: str, points: Sequence[Point] | Array, name: str = "") -> None:
        """Draw a line.

        Parameters
        ----------
        layer : str
            Its layer.
        points : sequence of tuple, or ndarray of shape (n, 2)
            Its nodes. [m]
        name : str
            What it is.
        """
        self.strokes.append(Stroke(layer, np.asarray(points, float).reshape(-1, 2), name))

    def area(self, layer: str, points: Sequence[Point] | Array, name: str = "", edge: bool = True) -> None:
        """Draw an area.

        Parameters
        ----------
        layer : str
            Its layer.
        points : sequence of tuple, or ndarray of shape (n, 2)
            Its outline, not closed. [m]
        name : str
            What it is.
        edge : bool
            Whether its outline is drawn too.
        """
        shape = np.asarray(points, float).reshape(-1, 2)
        self.areas.append(Area(layer, shape, name))
        if edge:
            self.line(layer, np.vstack([shape, shape[:1]]), name)

    def clear(self, upward: bool = False) -> float:
        """The first row below or above the drawing and every text on it.

        Parameters
        ----------
        upward : bool
            True for above.

        Returns
        -------
        float
            Middle of the row. [m]
        """
        levels = [label.at[1] for label in self.labels]
        row, gap = self.up(SIZE * LINE), self.up(AWAY + 2.0)
        if upward:
            return max([self.high + gap, *(level + row for level in levels)])
        return min([self.low - gap, *(level - row for level in levels)])

    def rows(self, notes: Sequence[Note], base: float, upward: bool = False, leaders: bool = True) -> float:
        """Put texts in rows below or above the drawing.

        Parameters
        ----------
        notes : sequence of Note
            The texts.
        base : float
            Middle of the first row. [m]
        upward : bool
            True to go up from there.
        leaders : bool
            False to lead only the texts that are not in the first row.

        Returns
        -------
        float
            Middle of the next row that is free. [m]
        """
        left, right = 6.0 - LEFT - self.spare, self.length * self.scale + RIGHT + self.spare - 6.0
        texts = [shortened(note.text, right - left, SIZE, note.strong) for note in notes]
        widths = [text_width(text, SIZE, note.strong) for text, note in zip(texts, notes, strict=True)]
        places = rows([note.target[0] * self.scale for note in notes], widths, left, right, 8.0)
        step = self.up(SIZE * LINE) * (1 if upward else -1)
        for note, text, (centre, row) in zip(notes, texts, places, strict=True):
            at = (centre / self.scale, base + row * step)
            away = row or abs(centre - note.target[0] * self.scale) > SIZE
            leader = note.target if leaders or away else None
            self.labels.append(Label(note.layer, text, at, "middle", SIZE, leader, note.strong))
        return base + step * (max((row for _, row in places), default=-1) + 1)

    def beside(self, notes: Sequence[Note], right: bool) -> None:
        """Stack texts at the left or the right edge, each as near to its level as it can be.

        Parameters
        ----------
        notes : sequence of Note
            The texts.
        right : bool
            Which edge.
        """
        room = RIGHT_ROOM if right else LEFT - AWAY - 6.0
        edge = self.length + self.along(AWAY) if right else -self.along(AWAY)
        spread = stack([note.target[1] * self.scale * self.stretch for note in notes], SIZE * LINE)
        for note, middle in zip(notes, spread, strict=True):
            text = shortened(note.text, room, SIZE, note.strong)
            anchor = "left" if right else "right"
            at = (edge, middle / (self.scale * self.stretch))
            self.labels.append(Label(note.layer, text, at, anchor, SIZE, note.target, note.strong))

    def scene(self, title: str, summary: str, bottom: float, top: float) -> Scene:
        """The finished drawing.

        Parameters
        ----------
        title : str
            What it shows, as a finding.
        summary : str
            The same in words.
        bottom, top : float
            Levels that must be inside. [m]

        Returns
        -------
        Scene
            The drawing; its window holds every text.
        """
        half = self.up(SIZE * LINE / 2 + 3)
        levels = [label.at[1] for label in self.labels]
        left, right = LEFT + self.spare, RIGHT + self.spare
        window = (
            -left / self.scale,
            self.length + right / self.scale,
            min([bottom, *(level - half for level in levels)]),
            max([top, *(level + half for level in levels)]),
        )
        return Scene(
            title=title,
            summary=summary,
            window=window,
            pixels_per_metre=self.scale,
            stretch=self.stretch,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
            handles=tuple(self.handles),
        )
