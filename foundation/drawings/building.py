"""The building in space: faces of walls, floors and stepped footings, and their edges, nearer over farther."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation.drawings.developed import footing_edges, runs_of, tops_of, walls_of
from foundation.drawings.solids import Face, Projection, far_first
from foundation.model.walls import FootingLine, Stepping
from foundation.plan import Plan
from foundation.plan.lines import slab_top
from foundation.project.schema import Part

Array = NDArray[np.float64]

FLOORLESS = ("interior wall", "porch")


def grade_beside(line: FootingLine) -> Array:
    """Finished grade beside a wall, existing where none is finished.

    Parameters
    ----------
    line : FootingLine
        The wall line.

    Returns
    -------
    ndarray, shape (n + 1,)
        Grade at its nodes, nan where there is none. [m]
    """
    return line.finished if np.isfinite(line.finished).any() else line.existing


class Building:
    """Faces and edges of a building, in metres from its south-west corner.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.
    projection : Projection
        How the reader looks.
    """

    def __init__(self, plan: Plan, stepping: Stepping, projection: Projection) -> None:
        self.plan, self.stepping, self.projection = plan, stepping, projection
        self.walls = walls_of(plan, stepping)
        ends = np.array([end for line in plan.lines for end in (line.wall.start_at, line.wall.end_at)])
        self.origin, self.size = ends.min(axis=0), np.ptp(ends, axis=0)
        self.edges: dict[str, list[Array]] = {}
        self.hidden_edges: list[Array] = []
        self.grades: dict[str, list[Array]] = {"finished-grade": [], "existing-grade": []}

    def faces(self) -> list[Face]:
        """Faces that turn toward the reader, in the order of painting; gathers the edges on the way.

        Returns
        -------
        list of Face
            The farthest first.
        """
        floors = [self._floor(part) for part in self.plan.project.parts]
        faces = [face for face in floors if face is not None]
        faces.sort(key=lambda face: -float(self.projection.flat(face.points)[1].mean()))
        places = [(np.array(line.wall.start_at), np.array(line.wall.end_at)) for line in self.plan.lines]
        for index in far_first(places, self.projection):
            faces += self._wall(self.plan.lines[index])
        return faces

    def at(self, line: FootingLine, station: Array | float, out: float, level: Array | float) -> Array:
        """Places beside a wall.

        Parameters
        ----------
        line : FootingLine
            The wall line.
        station : float or ndarray, shape (n,)
            Along it. [m]
        out : float
            Outward of its outer face. [m]
        level : float or ndarray, shape (n,)
            Level. [m]

        Returns
        -------
        ndarray, shape (n, 3)
            East, north, level. [m]
        """
        wall = line.wall
        start, along = np.array(wall.start_at), np.subtract(wall.end_at, wall.start_at) / wall.length
        station, level = np.broadcast_arrays(np.atleast_1d(station), np.atleast_1d(level))
        plan = start - self.origin + np.outer(station, along) + out * np.array(wall.outward)
        return np.column_stack([plan, level])

    def _floor(self, part: Part) -> Face | None:
        if part.use in FLOORLESS or len(part.corners) < 3:
            return None
        corners = self.plan.project.corners
        level = slab_top(self.plan.project, part)
        points = [(corners[name].east, corners[name].north, level) for name in part.corners]
        return Face("slab", np.array(points) - [*self.origin, 0.0], f"slab, {part.name}")

    def _floor_beside(self, line: FootingLine, inside: bool) -> float | None:
        """Level of the floor on one side of a wall, None outdoors or where there is none."""
        name = line.wall.part if inside else line.wall.beyond
        part = next((part for part in self.plan.project.parts if part.name == name), None)
        if part is None or part.use in FLOORLESS or len(part.corners) < 3:
            return None
        return slab_top(self.plan.project, part)

    def _wall(self, line: FootingLine) -> list[Face]:
        """Faces of a wall and its footing that turn toward the reader, in the order of painting."""
        wall, name = line.wall, f"wall {line.wall.name}"
        outside = self.projection.faces(np.array(wall.outward))
        floor = self._floor_beside(line, inside=not outside)
        bottom, top = footing_edges(
            runs_of(self.stepping, [wall.name]), self.plan.rules.leg or wall.footing_thickness
        )
        if outside and floor is None:
            bottom, top = (self.longer(line, shape, wall.projection) for shape in (bottom, top))
        faces: list[Face] = []
        offset = 0.0 if outside else -wall.wall_thickness
        footing = wall.projection if outside else -wall.wall_thickness - wall.projection
        stretches = tops_of(self.walls, line)
        for start, end, level in stretches:
            quad = np.vstack([self.at(line, np.array([start, end]), 0.0, level),
                              self.at(line, np.array([end, start]), -wall.wall_thickness, level)])  # fmt: skip
            faces.append(Face("wall", quad, name))
        edge = np.array(
            [point for start, end, level in stretches for point in ((start, level), (end, level))]
        )
        foot = top
        if floor is not None:
            foot = np.array([[0.0, floor], [wall.length, floor]])
            edge = np.column_stack([edge[:, 0], np.maximum(edge[:, 1], floor)])
        # The light comes from the reader's left.
        lit = float(np.array(wall.outward) @ self.projection.right) < 0
        light = "wall" if lit == outside else "wall-shade"
        outline = np.vstack([edge, foot[::-1]])
        outline[:, 0] = np.clip(outline[:, 0], 0.0, wall.length)
        outline = self.longer(line, outline, offset)
        faces.append(Face(light, self.at(line, outline[:, 0], offset, outline[:, 1]), name))
        if outside and floor is None:
            faces += self._buried(
                line, edge, np.column_stack([np.clip(top[:, 0], 0.0, wall.length), top[:, 1]])
            )
        self._edge("edge", self.at(line, edge[:, 0], 0.0, edge[:, 1]))
        inner = self.longer(line, edge, -wall.wall_thickness)
        self._edge("edge-inside", self.at(line, inner[:, 0], -wall.wall_thickness, inner[:, 1]))
        for station, level in ((0.0, edge[0, 1]), (wall.length, edge[-1, 1])):
            low = floor if floor is not None else float(top[0, 1] if station == 0.0 else top[-1, 1])
            if outside and low < level:
                self._edge("edge", self.at(line, np.array([station, station]), 0.0, np.array([low, level])))
        if floor is None:
            faces += self._footing(line, bottom, top, footing)
        self._footing_lines(line, bottom, top, footing)
        return faces

    def past(self, line: FootingLine, end: int) -> float:
        """How a wall's corner turns.

        Parameters
        ----------
        line : FootingLine
            The wall line.
        end : int
            0 for its start, -1 for its end. [-]

        Returns
        -------
        float
            1 at an outside corner of a square house, -1 at an inside one, 0 where no wall turns off. [-]
        """
        wall = line.wall
        along = np.subtract(wall.end_at, wall.start_at) / wall.length
        corner, ahead = (wall.end, along) if end else (wall.start, -along)
        turns = [
            float(np.array(other.wall.outward) @ ahead)
            for other in self.plan.lines
            if other is not line
            and other.wall.part == wall.part
            and corner in (other.wall.start, other.wall.end)
        ]
        return max(turns, key=abs, default=0.0)

    def longer(self, line: FootingLine, shape: Array, by: float) -> Array:
        """A line at a distance from a wall's face, drawn on or cut at the corners so that it meets the next wall's.

        Parameters
        ----------
        line : FootingLine
            The wall line.
        shape : ndarray, shape (n, 2)
            Station and level. [m]
        by : float
            Distance outward from the face. [m]

        Returns
        -------
        ndarray, shape (n, 2)
            The same with its ends moved. [m]
        """
        low, high = -by * self.past(line, 0), line.wall.length + by * self.past(line, -1)
        moved = shape.copy()
        moved[:, 0] = np.clip(moved[:, 0], low, high)
        moved[shape[:, 0] < 1e-9, 0] = low
        moved[shape[:, 0] > line.wall.length - 1e-9, 0] = high
        return moved

    def _buried(self, line: FootingLine, edge: Array, top: Array) -> list[Face]:
        """The part of an outer face under finished grade, drawn darker."""
        grade = grade_beside(line)
        ok = np.isfinite(grade)
        if not ok.any():
            return []
        station = np.unique(np.concatenate([line.node[ok], edge[:, 0], top[:, 0]]))
        station = station[(station >= line.node[ok][0]) & (station <= line.node[ok][-1])]
        level = np.interp(station, line.node[ok], grade[ok])
        under = np.minimum(level, np.interp(station, edge[:, 0], edge[:, 1]))
        inside = top[(top[:, 0] >= station[0]) & (top[:, 0] <= station[-1])]
        if len(inside) < 2 or len(station) < 2:
            return []
        upper = np.column_stack([station, np.maximum(under, np.interp(station, inside[:, 0], inside[:, 1]))])
        shape = np.vstack([upper, inside[::-1]])
        layer = "finished-grade" if np.isfinite(line.finished).any() else "existing-grade"
        self.grades[layer].append(self.at(line, line.node[ok], 0.0, grade[ok]))
        return [
            Face(
                "buried", self.at(line, shape[:, 0], 0.0, shape[:, 1]), f"wall {line.wall.name}, under grade"
            )
        ]

    def _footing(self, line: FootingLine, bottom: Array, top: Array, out: float) -> list[Face]:
        """Top and near side of a footing, and the risers of its steps that turn toward the reader."""
        wall, faces = line.wall, []
        outside = out > 0
        face = 0.0 if outside else -wall.wall_thickness
        along = np.subtract(wall.end_at, wall.start_at) / wall.length
        for (s1, l1), (s2, l2) in zip(top, top[1:], strict=False):
            if abs(l1 - l2) < 1e-9:
                if s2 - s1 > 1e-9:
                    quad = np.vstack([self.at(line, np.array([s1, s2]), face, l1),
                                      self.at(line, np.array([s2, s1]), out, l1)])  # fmt: skip
                    faces.append(Face("footing", quad, "footing"))
            elif self.projection.faces(along * (1 if l2 < l1 else -1)):
                quad = np.vstack([self.at(line, s1, face, l1), self.at(line, s1, out, l1),
                                  self.at(line, s1, out, l2), self.at(line, s1, face, l2)])  # fmt: skip
                faces.append(Face("footing", quad, "step of the footing"))
        shape = np.vstack([bottom, top[::-1]])
        faces.append(Face("footing", self.at(line, shape[:, 0], out, shape[:, 1]), "footing"))
        return faces

    def _footing_lines(self, line: FootingLine, bottom: Array, top: Array, out: float) -> None:
        for shape in (bottom, top):
            self._edge("edge", self.at(line, shape[:, 0], out, shape[:, 1]), hidden=shape is bottom)
        for end in (0, -1):
            ends = np.array([bottom[end], top[end]])
            self._edge("edge", self.at(line, ends[:, 0], out, ends[:, 1]))

    def _edge(self, layer: str, points: Array, hidden: bool = False) -> None:
        """Keep an edge for drawing; one whose hidden part is drawn too is kept among those as well."""
        self.edges.setdefault(layer, []).append(points)
        if hidden:
            self.hidden_edges.append(points)
