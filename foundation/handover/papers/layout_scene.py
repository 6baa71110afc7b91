"""The building from above for whoever lays it out: wall lengths, corners, diagonals, offset stakes, steps, pads."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.labels import LINE, REFERENCE, SIZE, Box, around, shortened, text_width
from foundation.drawings.scene import Area, Label, Scene, Stroke
from foundation.model.walls import Stepping
from foundation.plan import Plan

Array = NDArray[np.float64]

ROOM = 46.0
"""Room for texts round the drawing. [px]"""
MOST_TEXT = 200.0
"""Longer texts are cut. [px]"""


def layout_scene(plan: Plan, stepping: Stepping, pixels_per_metre: float) -> Scene:
    """The building from above, north up, with what its corners are found and checked by.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer whose steps are marked.
    pixels_per_metre : float
        Scale that the texts are placed for. [px/m]

    Returns
    -------
    Scene
        The drawing, in metres from the building's south-west corner; stakes bear their number in the plan's list.
    """
    return _Layout(plan, stepping, pixels_per_metre).scene()


class _Layout:
    """One drawing in the making."""

    def __init__(self, plan: Plan, stepping: Stepping, scale: float) -> None:
        self.plan, self.stepping, self.scale = plan, stepping, scale
        self.system = plan.project.units
        self.corners = {
            name: np.array(place)
            for line in plan.lines
            for name, place in ((line.wall.start, line.wall.start_at), (line.wall.end, line.wall.end_at))
        }
        places = [*self.corners.values(), *(np.array([s.east, s.north]) for s in plan.stakes)]
        for extra in plan.extras:
            half = np.array([extra.length, extra.width]) / 2
            middle = np.array([extra.east, extra.north])
            places += [middle - half, middle + half]
        self.origin = np.min(list(self.corners.values()), axis=0)
        low, high = np.min(places, axis=0) - self.origin, np.max(places, axis=0) - self.origin
        pad = ROOM / scale
        self.window = (low[0] - pad, high[0] + pad, low[1] - pad, high[1] + pad)
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.labels: list[Label] = []
        self.taken: list[Box] = []
        self.drawn: list[Box] = []

    def scene(self) -> Scene:
        self.diagonals()
        self.walls()
        self.extras()
        stakes = [np.array([s.east, s.north]) - self.origin for s in self.plan.stakes]
        if stakes:
            self.strokes.append(Stroke("mark", np.array(stakes), "offset stakes"))
            self.drawn += [self.box(place, 12.0, 12.0) for place in stakes]
        for name, place in self.corners.items():
            self.put(name, "corner", place - self.origin, strong=True)
        for line in self.plan.lines:
            wall = line.wall
            middle = (np.array(wall.start_at) + np.array(wall.end_at)) / 2 - self.origin
            out = np.array(wall.outward) * (wall.projection + 12 / self.scale)
            self.put(units.length(wall.length, self.system), "dimension", middle + out)
        for number, place in enumerate(stakes, 1):
            self.put(f"S{number}", "mark", place)
        for step in self.stepping.steps:
            self.put(f"step {step.number}", "step", self.at(step.line, step.station))
        for extra in self.plan.extras:
            self.put(extra.name, "note", np.array([extra.east, extra.north]) - self.origin)
        count, steps = len(self.corners), len(self.stepping.steps)
        title = f"Layout: {count} corners, {steps} step{'' if steps == 1 else 's'} in the footing"
        told = ", ".join(
            f"{line.wall.name} {units.length(line.wall.length, self.system)}" for line in self.plan.lines
        )
        return Scene(
            title=title,
            summary=f"{title}, from above, north up. Walls {REFERENCE}: {told}.",
            window=self.window,
            pixels_per_metre=self.scale,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )

    def diagonals(self) -> None:
        for each in self.plan.diagonals:
            ends = np.array([self.corners[each.start], self.corners[each.end]]) - self.origin
            self.strokes.append(Stroke("corner", ends, f"diagonal {each.start} to {each.end}"))

    def walls(self) -> None:
        for line in self.plan.lines:
            wall = line.wall
            start, end = np.array(wall.start_at) - self.origin, np.array(wall.end_at) - self.origin
            out = np.array(wall.outward)
            inner = out * wall.wall_thickness
            self.areas.append(
                Area("wall", np.array([start, end, end - inner, start - inner]), f"wall {wall.name}")
            )
            self.strokes.append(Stroke("outline", np.array([start, end]), f"wall {wall.name}"))
            for side in (wall.projection, -wall.wall_thickness - wall.projection):
                edge = np.array([start + out * side, end + out * side])
                self.strokes.append(Stroke("footing-edge", edge, "edge of footing"))
            self.drawn += [
                self.box(start + share * (end - start), 10.0, 10.0) for share in np.linspace(0, 1, 30)
            ]
        for step in self.stepping.steps:
            wall = self.plan.line(step.line).wall
            at, out = self.at(step.line, step.station), np.array(wall.outward)
            ends = [at + out * 2 * wall.projection, at - out * (wall.wall_thickness + 2 * wall.projection)]
            self.strokes.append(Stroke("step", np.array(ends), f"step {step.number}"))

    def extras(self) -> None:
        for extra in self.plan.extras:
            half = np.array([extra.length, extra.width]) / 2
            middle = np.array([extra.east, extra.north]) - self.origin
            box = middle + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1], [-1, -1]])
            self.areas.append(Area("footing", box[:-1], extra.name))
            self.strokes.append(Stroke("footing", box, extra.name))

    def at(self, line: str, station: float) -> Array:
        wall = self.plan.line(line).wall
        start, end = np.array(wall.start_at), np.array(wall.end_at)
        return start + station / wall.length * (end - start) - self.origin

    def box(self, place: Array, wide: float, high: float) -> Box:
        x, y = place * self.scale
        return (x - wide / 2, x + wide / 2, y - high / 2, y + high / 2)

    def put(self, text: str, layer: str, place: Array, strong: bool = False) -> None:
        """A text beside a place, clear of all others."""
        text = shortened(text, MOST_TEXT, SIZE, strong)
        wide, high = text_width(text, SIZE, strong) + 4, SIZE * LINE
        left, right, bottom, top = (value * self.scale for value in self.window)
        point = (float(place[0] * self.scale), float(place[1] * self.scale))
        frame = (left + 4, right - 4, bottom + 4, top - 4)
        x, y = around([point], [(wide, high)], frame, self.taken, self.drawn)[0]
        self.taken.append((x - wide / 2, x + wide / 2, y - high / 2, y + high / 2))
        away = max(abs(x - point[0]) - wide / 2, abs(y - point[1]) - high / 2)
        leader = (float(place[0]), float(place[1])) if away > 14 else None
        self.labels.append(
            Label(layer, text, (x / self.scale, y / self.scale), "middle", SIZE, leader, strong)
        )
