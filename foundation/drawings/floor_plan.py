"""The warm floors from above: zones, loops as they are laid, what they go round, manifolds."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.labels import REFERENCE, SIZE
from foundation.drawings.layers import LOOPS
from foundation.drawings.scene import Label, Point, Scene, Stroke
from foundation.drawings.sheet import Note, Sheet
from foundation.model.floors import FloorsPlan, ZoneFloor
from foundation.plan import Plan
from foundation.project.schema_floor import Box

Array = NDArray[np.float64]

ROOM = 1.2
"""Room round the floors. [m]"""
COLOURS = len(LOOPS) // 2


def tube_text(metres: float, system: str) -> str:
    """A length of tube to a foot, or a tenth of a metre.

    Parameters
    ----------
    metres : float
        The length. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.
    """
    return f"{metres / 0.3048:,.0f} ft" if system == "us" else f"{metres:,.1f} m"


def floor_scene(plan: Plan, floors: FloorsPlan, width: float = 905.0, lit: str = "") -> Scene:
    """The warm floors from above, north up.

    Parameters
    ----------
    plan : Plan
        The plan.
    floors : FloorsPlan
        Its warm floors.
    width : float
        Width of the drawing. [px]
    lit : str
        Name of a zone to light up.

    Returns
    -------
    Scene
        The drawing; its texts lie clear of each other.
    """
    return _FloorPlan(plan, floors, width).scene(lit)


class _FloorPlan:
    """One drawing in the making; coordinates are metres east and north of the floors' south-west corner."""

    def __init__(self, plan: Plan, floors: FloorsPlan, width: float) -> None:
        self.plan, self.floors, self.system = plan, floors, plan.project.units
        outlines = [area.outline for zone in floors.zones for area in zone.shape.areas]
        ends = np.array([end for line in plan.lines for end in (line.wall.start_at, line.wall.end_at)])
        every = np.vstack([*outlines, ends]) if outlines else ends
        self.origin = every.min(axis=0)
        self.span = np.ptp(every, axis=0)
        self.sheet = Sheet(self.system, float(self.span[0]), 0.0, float(self.span[1]), width, 1.0)

    def scene(self, lit: str) -> Scene:
        sheet = self.sheet
        for number, zone in enumerate(self.floors.zones):
            self.zone(zone, number, lit == zone.shape.name)
        self.obstacles()
        self.joints()
        for line in self.plan.lines:
            sheet.line(
                "outline", np.array([line.wall.start_at, line.wall.end_at]) - self.origin, line.wall.name
            )
        self.manifolds()
        left, right = self.notes()
        sheet.beside(left, right=False)
        sheet.beside(right, right=True)
        base = sheet.clear()
        text = f"north is up; outline {REFERENCE}; tube along its centre line"
        base = sheet.rows([Note("note", text, (sheet.length / 2, 0.0))], base, leaders=False)
        self.scale_bar(base)
        self.corners()
        title = self.title()
        summary = f"Warm floors from above, north up. {title}. {self.words()}"
        return sheet.scene(title, summary, base - sheet.up(20), sheet.high + sheet.up(28))

    def corners(self) -> None:
        """Names of the corners, outside of them."""
        middle = self.span / 2
        named: dict[str, tuple[float, float]] = {}
        for line in self.plan.lines:
            named |= {line.wall.start: line.wall.start_at, line.wall.end: line.wall.end_at}
        for name, place in named.items():
            at = np.asarray(place) - self.origin
            out = np.where(at >= middle, 1.0, -1.0) * self.sheet.up(13)
            self.sheet.labels.append(
                Label("corner", name, _point(at + out * (0.4, 1.0)), "middle", SIZE, None, True)
            )

    def zone(self, zone: ZoneFloor, number: int, lit: bool) -> None:
        for area in zone.shape.areas:
            self.sheet.area("floor", area.outline - self.origin, zone.shape.name)
            if lit:
                self.sheet.line("chosen", self._closed(area.outline), zone.shape.name)
        turn = 0
        for laying in zone.layings:
            for outline in laying.unreached:
                self.sheet.area("unreached", outline - self.origin, "no tube reaches here", edge=False)
            for loop in laying.loops:
                layer = f"loop-{number % COLOURS + 1}-{turn % 2 + 1}"
                turn += 1
                points = loop.path - self.origin
                told = f"{zone.shape.name}, loop {loop.name}\n{tube_text(loop.length, self.system)}"
                keys = (zone.shape.name,) * len(points)
                name = told.replace("\n", ", ")
                self.sheet.strokes.append(Stroke(layer, points, name, (told,) * len(points), keys))
                if loop.sleeves:
                    self.sheet.line("sleeve", np.array(loop.sleeves) - self.origin, "sleeved leader")

    def _closed(self, outline: Array) -> Array:
        points = outline - self.origin
        return np.vstack([points, points[:1]])

    def _corners(self, box: Box) -> Array:
        west, east = sorted((box.start_east, box.end_east))
        south, north = sorted((box.start_north, box.end_north))
        return np.array([(west, south), (east, south), (east, north), (west, north)]) - self.origin

    def obstacles(self) -> None:
        for obstacle in self.plan.project.obstacles:
            self.sheet.area("free", self._corners(obstacle.box), obstacle.name)

    def joints(self) -> None:
        for joint in self.plan.project.joints:
            layer = "saw-cut" if joint.kind == "saw cut" else "joint"
            ends = np.array([(joint.start.east, joint.start.north), (joint.end.east, joint.end.north)])
            self.sheet.line(layer, ends - self.origin, joint.name)

    def manifolds(self) -> None:
        for manifold in self.plan.project.manifolds:
            at = np.array([(manifold.at.east, manifold.at.north)]) - self.origin
            self.sheet.line("mark", at, manifold.name)

    def notes(self) -> tuple[list[Note], list[Note]]:
        """Texts for the left edge, which has less room, and for the right."""
        wanted: list[Note] = []
        for zone in self.floors.zones:
            if zone.shape.areas:
                middle = self._inside(zone)
                loops = [loop for laying in zone.layings for loop in laying.loops]
                count = f"{len(loops)} loop{'s' if len(loops) != 1 else ''}"
                apart = units.length(zone.spacing, self.system).removeprefix("0'-")
                wanted.append(Note("floor", f"{zone.shape.name}: {count} at {apart}", middle, strong=True))
                wanted += [
                    Note("note", f"{loop.name}: {tube_text(loop.length, self.system)}", self._far(loop.path))
                    for loop in loops
                ]
        for manifold in self.plan.project.manifolds:
            at = (manifold.at.east - self.origin[0], manifold.at.north - self.origin[1])
            wanted.append(Note("mark", manifold.name, at, strong=True))
        for obstacle in self.plan.project.obstacles:
            wanted.append(Note("free", obstacle.name, _point(self._corners(obstacle.box).mean(axis=0))))
        for joint in self.plan.project.joints:
            ends = np.array([(joint.start.east, joint.start.north), (joint.end.east, joint.end.north)])
            middle = ends.mean(axis=0)
            layer = "saw-cut" if joint.kind == "saw cut" else "joint"
            wanted.append(Note(layer, joint.name, _point(middle - self.origin)))
        half = self.sheet.length / 2
        left = [note for note in wanted if note.target[0] < half and note.layer not in ("note", "floor")]
        right = [note for note in wanted if note not in left]
        return left, right

    def _inside(self, zone: ZoneFloor) -> Point:
        """A place inside a zone that a leader points to."""
        outlines = [area.outline for area in zone.shape.areas]
        points = max(outlines, key=lambda each: float(np.ptp(each, axis=0).prod())) - self.origin
        return _point(0.15 * points[0] + 0.85 * points.mean(axis=0))

    def _far(self, path: Array) -> Point:
        """The place of a loop that is farthest from the manifold."""
        points = path - self.origin
        return _point(points[np.argmax(np.hypot(*(points - points[0]).T))])

    def scale_bar(self, base: float) -> None:
        length = 3.0 if self.system == "metric" else 10 * 0.3048
        start = 0.0
        self.sheet.line("level", [(start, base), (start + length, base)], "scale bar")
        text = units.length(length, self.system)
        self.sheet.labels.append(
            Label("level", text, (start + length + self.sheet.along(8), base), "left", SIZE)
        )

    def title(self) -> str:
        loops = sum(len(laying.loops) for zone in self.floors.zones for laying in zone.layings)
        if not loops:
            return "No tube is laid yet"
        count = f"{loops} loop{'s' if loops != 1 else ''}"
        return f"{count}, {tube_text(self.floors.tube_length, self.system)} of tube"

    def words(self) -> str:
        parts = []
        for zone in self.floors.zones:
            lengths = ", ".join(
                f"loop {loop.name} {tube_text(loop.length, self.system)}"
                for laying in zone.layings
                for loop in laying.loops
            )
            parts.append(f"{zone.shape.name}: {lengths or 'no tube'}")
        return ". ".join(parts) + "."


def _point(at: Array) -> Point:
    return float(at[0]), float(at[1])
