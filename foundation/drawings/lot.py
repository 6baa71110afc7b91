"""The lot from above: contours, shots, outline with footing, corner flags with their grades, steps."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.labels import LINE, REFERENCE, SIZE, Box, around, overlap, shortened, text_width
from foundation.drawings.scene import Area, Label, Scene, Stroke
from foundation.model.ground import ShotKind
from foundation.model.walls import FootingLine, Stepping
from foundation.plan import Plan

Array = NDArray[np.float64]

MARGIN = 26.0
"""Room around the drawing. [px]"""
MOST_TEXT = 240.0
"""Longer texts are cut. [px]"""
MOST_SHOTS = 400
"""More shots than this are drawn without their numbers."""


def lot_scene(
    plan: Plan,
    stepping: Stepping,
    width: float = 960.0,
    most_height: float = 820.0,
    lit: tuple[str, float] | None = None,
) -> Scene:
    """The lot from above, north up.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer whose steps are marked.
    width : float
        Width of the drawing. [px]
    most_height : float
        Most height of the drawing. [px]
    lit : tuple of str and float, or None
        Wall line and station [m] of a place to light up.

    Returns
    -------
    Scene
        The drawing; texts lie clear of each other.
    """
    draw = _Lot(plan, stepping, width, most_height)
    return draw.scene(lit)


class _Lot:
    """One drawing in the making; coordinates are metres east and north of the building's south-west corner."""

    def __init__(self, plan: Plan, stepping: Stepping, width: float, most_height: float) -> None:
        self.plan, self.stepping = plan, stepping
        self.system = plan.project.units
        ends = np.array([end for line in plan.lines for end in (line.wall.start_at, line.wall.end_at)])
        self.origin = ends.min(axis=0)
        building = ends - self.origin
        places = [building]
        if plan.shots is not None:
            shots = np.column_stack([plan.shots.east, plan.shots.north]) - self.origin
            reach = 1.5 * float(np.ptp(building, axis=0).max())
            near = (shots > -reach) & (shots < building.max(axis=0) + reach)
            places.append(shots[near.all(axis=1)])
        everything = np.vstack(places)
        low, high = everything.min(axis=0), everything.max(axis=0)
        pad = 0.06 * float((high - low).max()) + 1.0
        self.low, self.high = low - pad, high + pad
        span = self.high - self.low
        self.scale = min((width - 2 * MARGIN) / span[0], (most_height - 2 * MARGIN) / span[1])
        extra = (width / self.scale - span[0]) / 2
        self.window = (
            self.low[0] - extra,
            self.high[0] + extra,
            self.low[1] - MARGIN / self.scale,
            self.high[1] + MARGIN / self.scale,
        )
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.labels: list[Label] = []
        self.taken: list[Box] = []
        self.drawn: list[Box] = []

    def scene(self, lit: tuple[str, float] | None) -> Scene:
        self.scale_bar()
        self.building()
        if lit is not None and lit[0] in {line.wall.name for line in self.plan.lines}:
            self.light(*lit)
        self.shots()
        self.flags()
        self.contours()
        grades = [
            grade.finished if np.isfinite(grade.finished) else grade.existing
            for grade in self.plan.corner_grades.values()
        ]
        fall = max(grades) - min(grades)
        # Contours are placed last, below: their texts give way to all others, their lines lie under all others.
        self.strokes.sort(key=lambda stroke: not stroke.layer.startswith("contour"))
        title = f"Grade falls {units.length(fall, self.system)} from corner to corner"
        corners = ", ".join(f"{name} {text}" for name, text in self.corner_grades().items())
        return Scene(
            title=title,
            summary=f"Lot from above, north up. {title}. Grade at the corners: {corners}.",
            window=self.window,
            pixels_per_metre=self.scale,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )

    def contours(self) -> None:
        for number, contour in enumerate(self.plan.contours):
            points = contour.points - self.origin
            layer = "contour-index" if contour.index else "contour"
            name = f"{contour.surface} grade {units.length(contour.level, self.system)}"
            self.strokes.append(Stroke(layer, points, name, (name,) * len(points)))
            if contour.index and len(points) > 1:
                inside = points[
                    (points[:, 0] > self.low[0])
                    & (points[:, 0] < self.high[0])
                    & (points[:, 1] > self.low[1])
                    & (points[:, 1] < self.high[1])
                ]
                text = (
                    units.decimal_feet(contour.level, 0)
                    if self.system == "us"
                    else units.metres(contour.level, 1)
                )
                # The first of some places along the line that is free; else its hover tells it.
                order = np.roll(np.arange(len(inside)), -(len(inside) * (1 + number % 3)) // 4)
                any(self.put(text, "contour-index", inside[i], centred=True) for i in order)

    def building(self) -> None:
        for line in self.plan.lines:
            wall = line.wall
            start, end = np.array(wall.start_at) - self.origin, np.array(wall.end_at) - self.origin
            out = np.array(wall.outward)
            faces = [start, end, end - out * wall.wall_thickness, start - out * wall.wall_thickness]
            self.areas.append(Area("wall", np.array(faces), f"wall {wall.name}"))
            self.strokes.append(Stroke("outline", np.array([start, end]), f"wall {wall.name}"))
            for side in (wall.projection, -wall.wall_thickness - wall.projection):
                self.strokes.append(
                    Stroke(
                        "footing-edge", np.array([start + out * side, end + out * side]), "edge of footing"
                    )
                )
        for extra in self.plan.extras:
            at = np.array([extra.east, extra.north]) - self.origin
            half = np.array([extra.length, extra.width]) / 2
            box = at + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1], [-1, -1]])
            self.areas.append(Area("footing", box[:-1], extra.name))
            self.strokes.append(Stroke("footing", box, extra.name))
        for step in self.stepping.steps:
            at = self.at(self.plan.line(step.line), step.station)
            wall = self.plan.line(step.line).wall
            out = np.array(wall.outward)
            ends = np.array(
                [at + out * 2 * wall.projection, at - out * (wall.wall_thickness + 2 * wall.projection)]
            )
            self.strokes.append(Stroke("step", ends, f"step {step.number}"))

    def light(self, name: str, station: float) -> None:
        """Light up a place on a wall: a bar across it, longer than a step's."""
        line = self.plan.line(name)
        at, out = self.at(line, station), np.array(line.wall.outward)
        reach = 16 / self.scale
        ends = np.array([at + out * reach, at - out * (line.wall.wall_thickness + reach)])
        self.strokes.append(Stroke("chosen", ends, f"{units.length(station, self.system)} on {name}"))

    def at(self, line: FootingLine, station: float) -> Array:
        share = station / line.wall.length
        start, end = np.array(line.wall.start_at), np.array(line.wall.end_at)
        return start + share * (end - start) - self.origin

    def shots(self) -> None:
        shots = self.plan.shots
        if shots is None:
            return
        labelled = len(shots.point) <= MOST_SHOTS
        for layer, kinds, name in (
            ("shot-existing", {ShotKind.EXISTING, ShotKind.BOTH}, "existing"),
            ("shot-finished", {ShotKind.FINISHED}, "finished"),
            ("mark", {ShotKind.MARK}, "survey mark"),
        ):
            chosen = [i for i, kind in enumerate(shots.kind) if kind in kinds]
            if not chosen:
                continue
            places = np.column_stack([shots.east[chosen], shots.north[chosen]]) - self.origin
            hover = tuple(
                f"shot {shots.point[i]}, {name} {shots.note[i]}\n{units.length(shots.elevation[i], self.system)}"
                for i in chosen
            )
            self.strokes.append(Stroke(layer, places, f"{name} shots", hover if labelled else ()))
            self.drawn += [self.box(place, 8.0, 8.0) for place in places] if labelled else []
            if layer == "mark":
                for i, place in zip(chosen, places, strict=True):
                    self.put(
                        f"{shots.point[i]} {units.length(shots.elevation[i], self.system)}", "mark", place
                    )

    def corner_grades(self) -> dict[str, str]:
        """Finished grade at each corner, existing where none is finished, as the surveyor writes it."""
        found = {}
        for corner, grade in self.plan.corner_grades.items():
            level = grade.finished if np.isfinite(grade.finished) else grade.existing
            found[corner] = units.decimal_feet(level) if self.system == "us" else units.metres(level, 2)
        return found

    def flags(self) -> None:
        grades = self.corner_grades()
        corners: dict[str, Array] = {}
        for line in self.plan.lines:
            corners[line.wall.start] = np.array(line.wall.start_at) - self.origin
            corners[line.wall.end] = np.array(line.wall.end_at) - self.origin
            self.drawn += [
                self.box(self.at(line, s), 10.0, 10.0) for s in np.linspace(0, line.wall.length, 24)
            ]
        for name, place in corners.items():
            text = f"{name}  {grades[name]}" if name in grades else name
            self.put(text, "corner", place, strong=True)
        for step in self.stepping.steps:
            self.put(f"step {step.number}", "step", self.at(self.plan.line(step.line), step.station))
        for extra in self.plan.extras:
            self.put(
                f"{extra.name}, bottom {units.length(extra.bottom.level, self.system)}",
                "note",
                np.array([extra.east, extra.north]) - self.origin,
            )

    def box(self, place: Array, wide: float, high: float) -> Box:
        x, y = place * self.scale
        return (x - wide / 2, x + wide / 2, y - high / 2, y + high / 2)

    def put(
        self, text: str, layer: str, place: Array, *, strong: bool = False, centred: bool = False
    ) -> bool:
        """Put a text beside a place, or right on it, clear of all others; False where a centred one has no room."""
        text = shortened(text, MOST_TEXT, SIZE, strong)
        wide, high = text_width(text, SIZE, strong) + 4, SIZE * LINE
        left, right, bottom, top = (value * self.scale for value in self.window)
        frame = (left + 4, right - 4, bottom + 4, top - 4)
        point = (float(place[0] * self.scale), float(place[1] * self.scale))
        own = (point[0] - wide / 2, point[0] + wide / 2, point[1] - high / 2, point[1] + high / 2)
        inside = frame[0] <= own[0] and own[1] <= frame[1] and frame[2] <= own[2] and own[3] <= frame[3]
        if centred:
            if not inside or any(overlap(own, box) for box in (*self.taken, *self.drawn)):
                return False
            middle = point
        else:
            middle = around([point], [(wide, high)], frame, self.taken, self.drawn)[0]
        box = (middle[0] - wide / 2, middle[0] + wide / 2, middle[1] - high / 2, middle[1] + high / 2)
        self.taken.append(box)
        at = (middle[0] / self.scale, middle[1] / self.scale)
        away = max(abs(middle[0] - point[0]) - wide / 2, abs(middle[1] - point[1]) - high / 2)
        leader = (float(place[0]), float(place[1])) if away > 14 else None
        self.labels.append(Label(layer, text, at, "middle", SIZE, leader, strong))
        return True

    def scale_bar(self) -> None:
        """A bar of round length, and north, at the lower left."""
        unit, word = (0.3048, "ft") if self.system == "us" else (1.0, "m")
        longest = 0.25 * (self.high[0] - self.low[0]) / unit
        power = 10.0 ** np.floor(np.log10(longest))
        length = max(f for f in (1, 2, 5) if f * power <= longest) * power
        x, y = self.window[0] + 22 / self.scale, self.window[2] + 20 / self.scale
        tick = 5 / self.scale
        bar = np.array([[x, y + tick], [x, y], [x + length * unit, y], [x + length * unit, y + tick]])
        self.strokes.append(Stroke("outline", bar, "scale bar"))
        self.fixed(f"{length:g} {word}; outline: {REFERENCE.removeprefix('to ')}", x, y + 16 / self.scale)
        arrow_x, base = x, y + 46 / self.scale
        tip = base + 34 / self.scale
        arrow = np.array(
            [
                [arrow_x, base],
                [arrow_x, tip],
                [arrow_x - tick, tip - 2 * tick],
                [np.nan, np.nan],
                [arrow_x, tip],
                [arrow_x + tick, tip - 2 * tick],
            ]
        )
        self.strokes.append(Stroke("outline", arrow, "north"))
        self.fixed("N", arrow_x + 10 / self.scale, tip)

    def fixed(self, text: str, x: float, y: float) -> None:
        """A text at its own place, before all others are placed."""
        left, middle = x * self.scale, y * self.scale
        high = SIZE * LINE / 2
        self.taken.append((left, left + text_width(text, SIZE) + 4, middle - high, middle + high))
        self.labels.append(Label("note", text, (x, y), "left", SIZE))
