"""Where texts go, so that none lies on another: rows under a drawing, stacks beside it, places around a point."""

from __future__ import annotations

from collections.abc import Sequence

CHARACTER = 0.56
"""Mean width of a character of a sans type over its size, on the wide side. [-]"""
LINE = 1.35
"""Height of a line of text over the type's size. [-]"""

Box = tuple[float, float, float, float]


def text_width(text: str, size: float) -> float:
    """Width of a line of text.

    Parameters
    ----------
    text : str
        The text.
    size : float
        Height of the type. [px]

    Returns
    -------
    float
        Width, estimated on the wide side. [px]
    """
    return len(text) * size * CHARACTER


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
        Boxes that are taken already. [px]

    Returns
    -------
    list of tuple
        The middle of each text. [px]
    """
    boxes = list(taken)
    middles = []
    for (x, y), (wide, high) in zip(points, sizes, strict=True):
        best: tuple[float, Box] | None = None
        for ring in range(1, 14):
            away = 6.0 + (ring - 1) * 0.6 * high
            for dx, dy in ((1, 0.6), (-1, 0.6), (1, -0.6), (-1, -0.6), (0, 1), (0, -1), (1, 0), (-1, 0)):
                cx, cy = x + dx * (away + wide / 2), y + dy * (away + high / 2)
                cx = min(max(cx, frame[0] + wide / 2), frame[1] - wide / 2)
                cy = min(max(cy, frame[2] + high / 2), frame[3] - high / 2)
                box = (cx - wide / 2, cx + wide / 2, cy - high / 2, cy + high / 2)
                if not any(overlap(box, other) for other in boxes):
                    best = (0.0, box)
                    break
            if best:
                break
        box = best[1] if best else (x, x + wide, y, y + high)
        boxes.append(box)
        middles.append(((box[0] + box[1]) / 2, (box[2] + box[3]) / 2))
    return middles
