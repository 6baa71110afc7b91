"""Where texts go, so that none lies on another: rows under a drawing, stacks beside it, places around a point."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

LINE = 1.35
"""Height of a line of text over the type's size. [-]"""
SIZE = 13.0
"""Height of the type on drawings. [px]"""
REFERENCE = "to outside of concrete"
"""The plan reference line that every dimension of the drawings goes to."""

# Widths over the type's size by kind of character, on the wide side of the common sans types.
THIN, NARROW, PLAIN, WIDE, CAPITAL, FOREIGN, DOUBLE = 0.36, 0.47, 0.64, 1.0, 0.79, 1.0, 1.4
STRONG = 1.12
"""Width of bold type over plain type. [-]"""

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]


@lru_cache(maxsize=4096)
def _character_width(character: str) -> float:
    if character in "ijlI'|.,:;!":
        return THIN
    if character in ' ()[]{}-/\\"frt':
        return NARROW
    if character in "mwMW@%—…&+=×<>~":
        return WIDE
    if unicodedata.east_asian_width(character) in "WF" or ord(character) > 0xFFFF:
        return DOUBLE
    if ord(character) > 0x2FF:
        return FOREIGN * (1.1 if character.isupper() else 1.0)
    return CAPITAL if character.isupper() else PLAIN


def text_width(text: str, size: float, strong: bool = False) -> float:
    """Width of a line of text.

    Parameters
    ----------
    text : str
        The text.
    size : float
        Height of the type. [px]
    strong : bool
        True for bold type.

    Returns
    -------
    float
        Width, estimated on the wide side. [px]
    """
    return sum(map(_character_width, text)) * size * (STRONG if strong else 1.0)


def shortened(text: str, room: float, size: float = SIZE, strong: bool = False) -> str:
    """A text cut so that it fits, with an ellipsis where something is left out.

    Parameters
    ----------
    text : str
        The text.
    room : float
        Width that it has. [px]
    size : float
        Height of the type. [px]
    strong : bool
        True for bold type.

    Returns
    -------
    str
        The text on one line, or its beginning.
    """
    text = " ".join(text.split())
    if text_width(text, size, strong) <= room:
        return text
    while text and text_width(text + "…", size, strong) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def rows(
    centres: Sequence[float], widths: Sequence[float], left: float, right: float, gap: float
) -> list[tuple[float, int]]:
    """Put texts in rows, each as near to its own place as the frame allows, none on another.

    Parameters
    ----------
    centres : sequence of float
        Where each would like its middle. [px]
    widths : sequence of float
        Width of each. [px]
    left, right : float
        Ends of the frame. [px]
    gap : float
        Least gap between two in a row. [px]

    Returns
    -------
    list of tuple
        For each text its middle [px] and its row, counted from 0.
    """
    free: list[float] = []
    placed: dict[int, tuple[float, int]] = {}
    for index in sorted(range(len(centres)), key=lambda i: centres[i]):
        half = widths[index] / 2
        centre = min(max(centres[index], left + half), max(right - half, left + half))
        row = next((r for r, end in enumerate(free) if centre - half >= end + gap), len(free))
        if row == len(free):
            free.append(0.0)
        free[row] = centre + half
        placed[index] = (centre, row)
    return [placed[i] for i in range(len(centres))]


def stack(middles: Sequence[float], height: float) -> list[float]:
    """Spread texts beside a drawing up and down until none lies on another, moving each as little as it can.

    Parameters
    ----------
    middles : sequence of float
        Where each would like to be, measured upward. [px]
    height : float
        Height of a line. [px]

    Returns
    -------
    list of float
        Where each goes. [px]
    """
    order = sorted(range(len(middles)), key=lambda i: middles[i])
    # Blocks of touching texts; each block sits at the mean of what its texts would like.
    blocks: list[list[int]] = []

    def base(block: list[int]) -> float:
        wanted = [middles[i] - place * height for place, i in enumerate(block)]
        return sum(wanted) / len(wanted)

    for index in order:
        blocks.append([index])
        while len(blocks) > 1 and base(blocks[-2]) + len(blocks[-2]) * height > base(blocks[-1]) + 1e-9:
            last = blocks.pop()
            blocks[-1] = blocks[-1] + last
    result = [0.0] * len(middles)
    for block in blocks:
        start = base(block)
        for place, index in enumerate(block):
            result[index] = start + place * height
    return result


def overlap(first: Box, second: Box) -> bool:
    """Whether two boxes share more than an edge.

    Parameters
    ----------
    first, second : tuple of float
        Left, right, bottom, top. [px]

    Returns
    -------
    bool
        True when they overlap.
    """
    return first[0] < second[1] and second[0] < first[1] and first[2] < second[3] and second[2] < first[3]


def around(
    points: Sequence[tuple[float, float]],
    sizes: Sequence[tuple[float, float]],
    frame: Box,
    taken: Sequence[Box] = (),
    lines: Sequence[Box] = (),
) -> list[tuple[float, float]]:
    """Put a text beside each point, the nearest free place first.

    Parameters
    ----------
    points : sequence of tuple
        What each text belongs to. [px]
    sizes : sequence of tuple
        Width and height of each text. [px]
    frame : tuple of float
        Left, right, bottom, top of the drawing. [px]
    taken : sequence of tuple
        Boxes of other texts, never covered while there is a free place in the frame. [px]
    lines : sequence of tuple
        Boxes of lines and markers, covered only when nothing else is free nearby. [px]

    Returns
    -------
    list of tuple
        The middle of each text. [px]
    """
    texts = list(taken)
    middles = []
    for point, size in zip(points, sizes, strict=True):
        middle = (
            _nearest_free(_beside(point, size, frame, range(1, 9)), size, [*texts, *lines])
            or _nearest_free(_beside(point, size, frame, range(9, 30)), size, [*texts, *lines])
            or _nearest_free(_everywhere(point, size, frame), size, texts)
            or point
        )
        x, y = middle
        texts.append((x - size[0] / 2, x + size[0] / 2, y - size[1] / 2, y + size[1] / 2))
        middles.append(middle)
    return middles


DIRECTIONS = np.column_stack(
    [[1, -1, 1, -1, 0, 0, 1, -1, 0.5, -0.5, 0.5, -0.5], [0.6, 0.6, -0.6, -0.6, 1, -1, 0, 0, 1, 1, -1, -1]]
)
"""Sides of a point on which a text is tried, the best first."""


def _beside(point: tuple[float, float], size: tuple[float, float], frame: Box, rings: range) -> Array:
    """Middles in growing rings around a point, pushed into the frame."""
    away = 6.0 + (np.asarray(rings) - 1.0) * 0.6 * size[1]
    reach = away[:, None, None] + np.array(size) / 2
    return _into(np.asarray(point) + (DIRECTIONS * reach).reshape(-1, 2), size, frame)


def _everywhere(point: tuple[float, float], size: tuple[float, float], frame: Box) -> Array:
    """Middles all over the frame, the nearest first."""
    x, y = np.meshgrid(np.arange(frame[0], frame[1], 12.0), np.arange(frame[2], frame[3], size[1] / 2))
    places = _into(np.column_stack([x.ravel(), y.ravel()]), size, frame)
    return places[np.argsort(np.hypot(*(places - point).T), kind="stable")]


def _into(places: Array, size: tuple[float, float], frame: Box) -> Array:
    half = np.array(size) / 2
    low, high = np.array([frame[0], frame[2]]) + half, np.array([frame[1], frame[3]]) - half
    return np.clip(places, low, np.maximum(low, high))


def _nearest_free(
    places: Array,
    size: tuple[float, float],
    taken: Sequence[Box],
) -> tuple[float, float] | None:
    if len(taken):
        boxes = np.array(taken)
        x, y = places[:, :1], places[:, 1:]
        covered = (
            (x - size[0] / 2 < boxes[:, 1])
            & (boxes[:, 0] < x + size[0] / 2)
            & (y - size[1] / 2 < boxes[:, 3])
            & (boxes[:, 2] < y + size[1] / 2)
        ).any(axis=1)
        places = places[~covered]
    return (float(places[0, 0]), float(places[0, 1])) if len(places) else None
