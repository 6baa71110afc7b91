"""Where texts lie, measured with a real type: the widest of the common sans types, as matplotlib packs it."""

from __future__ import annotations

import functools
from pathlib import Path

import matplotlib
from matplotlib.ft2font import FT2Font, LoadFlags

from foundation.drawings.labels import Box, overlap
from foundation.drawings.scene import Label, Scene

TYPES = Path(matplotlib.get_data_path()) / "fonts" / "ttf"


@functools.lru_cache(maxsize=2)
def type_face(strong: bool) -> FT2Font:
    face = FT2Font(str(TYPES / f"DejaVuSans{'-Bold' if strong else ''}.ttf"))
    face.set_size(100, 72)
    return face


@functools.lru_cache(maxsize=100_000)
def measured_width(text: str, size: float, strong: bool) -> float:
    """Width of a text. [px]"""
    face = type_face(strong)
    face.set_text(text, 0.0, flags=LoadFlags.NO_HINTING)
    return face.get_width_height()[0] / 64 * size / 100


def box(label: Label, scene: Scene) -> Box:
    """Where a label's text lies. [px]"""
    across, up = scene.pixels_per_metre, scene.pixels_per_metre * scene.stretch
    wide = measured_width(label.text, label.size, label.strong)
    x, y = label.at[0] * across, label.at[1] * up
    left = {"left": x, "middle": x - wide / 2, "right": x - wide}[label.anchor]
    # From the top of a bracket to the bottom of a tail: 1.2 sizes.
    return left, left + wide, y - 0.6 * label.size, y + 0.6 * label.size


def clashes(scene: Scene) -> list[str]:
    """Labels that lie on each other or leave the frame."""
    boxes = [box(label, scene) for label in scene.labels]
    found = [
        f"{scene.labels[i].text} | {scene.labels[j].text}"
        for i in range(len(boxes))
        for j in range(i)
        if overlap(boxes[i], boxes[j])
    ]
    across, up = scene.pixels_per_metre, scene.pixels_per_metre * scene.stretch
    frame = (scene.window[0] * across, scene.window[1] * across, scene.window[2] * up, scene.window[3] * up)
    for label, each in zip(scene.labels, boxes, strict=True):
        inside = frame[0] <= each[0] and each[1] <= frame[1] and frame[2] <= each[2] and each[3] <= frame[3]
        if not inside:
            found.append(f"{label.text} leaves the frame")
    return found
