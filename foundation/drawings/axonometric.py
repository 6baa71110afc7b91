"""The lot in space: ground, walls and stepped footings in a parallel projection with true heights."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.building import Building, grade_beside
from foundation.drawings.developed import footing_edges, runs_of
from foundation.drawings.labels import LINE, REFERENCE, SIZE, Box, around, shortened, text_width
from foundation.drawings.scene import Area, Label, Scene, Stroke, joined
from foundation.drawings.solids import Hiding, Projection
from foundation.model.walls import Stepping
from foundation.plan import Plan

Array = NDArray[np.float64]

QUARTERS = (-45.0, 45.0, 135.0, -135.0)
"""Turns at which both directions of a square house rise at 30°. [°]"""
MARGIN = 26.0
"""Room around the drawing. [px]"""
APRON = 2.5
"""Width of the ground that is drawn beside walls whose grade was typed. [m]"""
REACH = 0.3
"""How far the ground is drawn beyond the building, over the building's greater side. [-]"""


def axonometric_scene(
    plan: Plan,
    stepping: Stepping,
    width: float = 960.0,
    most_height: float = 720.0,
    turn: float | None = None,
    lit: tuple[str, float] | None = None,
) -> Scene:
    """Ground, walls and stepped footings in a parallel projection; heights are true.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer to draw.
    width : float
        Width of the drawing. [px]
    most_height : float
        Most height of the drawing. [px]
    turn : float or None
        How far the lot is turned anticlockwise under the reader, who then looks north; 45 looks north-east. None
        looks from the lower ground. [°]
    lit : tuple of str and float, or None
        Wall line and station [m] of a place to light up.

    Returns
    -------
    Scene
        The drawing, in metres on the plane of the drawing; its labels lie clear of each other.
    """
    if turn is None:
        turn = best_turn(plan, stepping)
    return _Axonometric(plan, stepping, turn).scene(width, most_height, lit)


def best_turn(plan: Plan, stepping: Stepping) -> float:
    """The quarter view from the lower ground, where most of the walls shows, and of equal ones that with most steps.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.

    Returns
    -------
    float
        Turn of the lot under the reader. [°]
    """

    def shown(turn: float) -> tuple[float, int]:
        projection = Projection(turn)
        seen = [
            line
            for line in plan.lines
            if not line.wall.beyond and projection.faces(np.array(line.wall.outward))
        ]
        names = {line.wall.name for line in seen}
        grades = [
            float(np.nanmean(grade_beside(line))) for line in seen if np.isfinite(grade_beside(line)).any()
        ]
        return -round(float(np.mean(grades or [0.0])), 2), sum(step.line in names for step in stepping.steps)

    return max(QUARTERS, key=shown)


class _Axonometric:
    """One drawing in the making."""

    def __init__(self, plan: Plan, stepping: Stepping, turn: float) -> None:
        self.plan, self.stepping, self.projection = plan, stepping, Projection(turn)
        self.system = plan.project.units
        self.building = Building(plan, stepping, self.projection)
        self.origin, self.size, self.at = self.building.origin, self.building.size, self.building.at
        self.reach = REACH * float(self.size.max())
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []

    def scene(self, width: float, most_height: float, lit: tuple[str, float] | None) -> Scene:
        faces = self.building.faces()
        hiding = Hiding(faces, self.projection)
        for face in faces:
            self.areas.append(Area(face.layer, self.flat(face.points), face.name))
        self.draw_ground(hiding)
        self.draw_edges(hiding)
        if lit is not None and lit[0] in {line.wall.name for line in self.plan.lines}:
            self.light(*lit)
        return self.labelled(width, most_height)

    def flat(self, points: Array) -> Array:
        return self.projection.flat(points)[0]

    def draw_edges(self, hiding: Hiding) -> None:
        for layer, name in (("edge-inside", "inner edge of wall"), ("edge", "edge of wall or footing")):
            seen = [part for points in self.building.edges.get(layer, ()) for part in hiding.parts(points)[0]]
            if seen:
                self.strokes.append(Stroke(layer, joined(seen), name))
        behind = [part for points in self.building.hidden_edges for part in hiding.parts(points)[1]]
        if behind:
            self.strokes.append(Stroke("hidden", joined(behind), "footing behind or below something"))
        for layer, lines in self.building.grades.items():
            seen = [part for points in lines for part in hiding.parts(points)[0]]
            if seen:
                self.strokes.append(Stroke(layer, joined(seen), layer.replace("-", " ")))

    def contours(self) -> list[tuple[str, str, Array]]:
        """Contours near the building: layer, words, and east, north, level of each."""
        low, high = -np.full(2, self.reach), self.size + self.reach
        found = []
        for contour in self.plan.contours:
            points = contour.points - self.origin
            level = units.length(contour.level, self.system)
            layer = "contour-index" if contour.index else "contour"
            line = shapely.intersection(shapely.linestrings(points), shapely.box(*low, *high))
            for piece in shapely.get_parts(line):
                place = shapely.get_coordinates(piece)
                if len(place) > 1:
                    place = np.column_stack([place, np.full(len(place), contour.level)])
                    found.append((layer, f"{contour.surface} grade {level}", place))
        return found

    def rims(self) -> list[Array]:
        """Edges of the ground that is filled: a piece of the surface, or strips beside walls with a typed grade."""
        surface = self.plan.finished if self.plan.finished is not None else self.plan.existing
        if surface is None:
            strips = []
            for line in self.plan.lines:
                grade = grade_beside(line)
                ok = np.isfinite(grade)
                if not line.wall.beyond and ok.any():
                    near = np.column_stack([line.node[ok], grade[ok]])
                    away = self.building.longer(line, near, APRON)[::-1]
                    strips.append(
                        np.vstack(
                            [
                                self.at(line, near[:, 0], 0.0, near[:, 1]),
                                self.at(line, away[:, 0], APRON, away[:, 1]),
                            ]
                        )
                    )
            return strips
        edges = shapely.linestrings(surface.points[surface.rim, :2] - self.origin)
        rings = shapely.get_parts(shapely.polygonize(edges))
        if not len(rings):
            return []
        whole = max((shapely.Polygon(ring.exterior) for ring in rings), key=lambda ring: ring.area)
        near = shapely.intersection(whole, shapely.box(*-np.full(2, self.reach), *(self.size + self.reach)))
        found = []
        for piece in shapely.get_parts(near):
            place = shapely.get_coordinates(shapely.segmentize(piece.exterior, 1.0))[:-1]
            level = surface.grade(*(place + self.origin).T)
            ok = np.isfinite(level)
            found += [np.column_stack([place, level])[ok]] if ok.sum() > 2 else []
        return found

    def draw_ground(self, hiding: Hiding) -> None:
        """Ground below everything; the reader looks through it, so its lines stop where concrete is drawn."""
        rims = self.rims()
        if rims:
            self.areas.insert(0, Area("ground", joined([self.flat(rim) for rim in rims]), "ground"))
            edges = [np.vstack([rim, rim[:1]]) for rim in rims]
            seen = [part for edge in edges for part in hiding.parts(edge, 0.5, always=True)[0]]
            if seen:
                self.strokes.append(Stroke("ground", joined(seen), "ground"))
        for layer, name, points in self.contours():
            seen = hiding.parts(points, 0.5, always=True)[0]
            if seen:
                self.strokes.append(Stroke(layer, joined(seen), name))

    def light(self, name: str, station: float) -> None:
        line = self.plan.line(name)
        bottom, _ = footing_edges(runs_of(self.stepping, [name]), 0.0)
        low = float(np.interp(station, bottom[:, 0], bottom[:, 1]))
        ends = self.at(
            line, np.array([station, station]), line.wall.projection, np.array([low, line.wall.wall_top])
        )
        self.strokes.append(
            Stroke("chosen", self.flat(ends), f"{units.length(station, self.system)} on {name}")
        )

    def corner_levels(self) -> dict[str, tuple[Array, float]]:
        """For each corner its place at the bottom of its lowest footing, and that level."""
        found: dict[str, tuple[Array, float]] = {}
        for line in self.plan.lines:
            runs = runs_of(self.stepping, [line.wall.name])
            ends = ((line.wall.start, 0.0, runs[0]), (line.wall.end, line.wall.length, runs[-1]))
            for corner, station, run in ends:
                if corner not in found or run.bottom < found[corner][1] - 1e-9:
                    found[corner] = (self.flat(self.at(line, station, 0.0, run.bottom))[0], run.bottom)
        return found

    def labelled(self, width: float, most_height: float) -> Scene:
        levels = self.corner_levels()
        drawn = np.vstack([area.points for area in self.areas] + [stroke.points for stroke in self.strokes])
        low, high = np.nanmin(drawn, axis=0), np.nanmax(drawn, axis=0)
        span = np.maximum(high - low, 1.0)
        room = np.array([width - 2 * MARGIN - 120.0, most_height - 2 * MARGIN - 2 * SIZE * LINE])
        scale = float((np.maximum(room, 120.0) / span).min())
        across = (width / scale - span[0]) / 2
        foot = (MARGIN + 2 * SIZE * LINE) / scale
        window = (low[0] - across, high[0] + across, low[1] - foot, high[1] + MARGIN / scale)
        caption = f"At each corner: bottom of footing. Walls {REFERENCE}."
        caption = shortened(caption, width - 2 * MARGIN)
        at = (window[0] + 12 / scale, window[2] + 14 / scale)
        labels = [Label("note", caption, at, "left", SIZE)]
        taken = [
            (at[0] * scale, at[0] * scale + text_width(caption, SIZE), at[1] * scale - 10, at[1] * scale + 10)
        ]
        wanted: list[tuple[str, str, Array, bool]] = [
            ("corner", f"{name}  {units.length(level, self.system)}", place, True)
            for name, (place, level) in levels.items()
        ]
        for step in self.stepping.steps:
            line = self.plan.line(step.line)
            place = self.flat(
                self.at(line, step.station, line.wall.projection, max(step.before, step.after))
            )[0]
            wanted.append(("step", f"step {step.number}", place, False))
        lines = self.obstacles(scale)
        frame = (window[0] * scale + 4, window[1] * scale - 4, window[2] * scale + 4, window[3] * scale - 4)
        for layer, text, place, strong in wanted:
            size = (text_width(text, SIZE, strong) + 4, SIZE * LINE)
            point = (float(place[0]) * scale, float(place[1]) * scale)
            x, y = around([point], [size], frame, taken, lines)[0]
            taken.append((x - size[0] / 2, x + size[0] / 2, y - size[1] / 2, y + size[1] / 2))
            label = Label(
                layer,
                text,
                (x / scale, y / scale),
                "middle",
                SIZE,
                (float(place[0]), float(place[1])),
                strong,
            )
            labels.append(label)
        count = len(self.stepping.steps)
        bottoms = [run.bottom for run in self.stepping.runs]
        words = "no step" if not count else f"{count} step{'s' if count > 1 else ''}"
        fall = units.length(max(bottoms) - min(bottoms), self.system)
        title = f"Footings in space: {words}, {fall} from the highest to the lowest"
        told = ", ".join(f"{name} {units.length(level, self.system)}" for name, (_, level) in levels.items())
        return Scene(
            title=title,
            summary=f"{title}. Bottom of footing at the corners: {told}.",
            window=window,
            pixels_per_metre=scale,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(labels),
        )

    def obstacles(self, scale: float) -> list[Box]:
        """Boxes along the edges of the concrete, which texts keep off where they can."""
        found: list[Box] = []
        for stroke in self.strokes:
            if stroke.layer not in ("edge", "finished-grade", "existing-grade"):
                continue
            points = stroke.points * scale
            middles = np.concatenate([points, (points[:-1] + points[1:]) / 2])
            found += [
                (x - 4, x + 4, y - 4, y + 4) for x, y in middles[np.isfinite(middles).all(axis=1)].tolist()
            ]
        return found
