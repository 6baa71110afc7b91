"""One wall as it is seen from outside: finished grade, the concrete that will show, openings, framed wall."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.developed import Developed, developed, footing_edges
from foundation.drawings.labels import REFERENCE, SIZE
from foundation.drawings.profile_concrete import draw_opening, dropped, leg_of, opening_text
from foundation.drawings.scene import Label, Scene
from foundation.drawings.sheet import Note, Sheet
from foundation.model.walls import FootingLine, Stepping, WallLine
from foundation.plan import Plan

Array = NDArray[np.float64]

SQUARE_FOOT = 0.3048**2


def outside_scene(
    plan: Plan, stepping: Stepping, line_name: str, width: float = 960.0, lit: float | None = None
) -> Scene:
    """Elevation of one wall, seen from outside.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer to draw.
    line_name : str
        Name of the wall line.
    width : float
        Width of the drawing. [px]
    lit : float or None
        Station of a place to light up. [m]

    Returns
    -------
    Scene
        The drawing, in true shape; its labels lie clear of each other.
    """
    return _Outside(developed(plan, stepping, [line_name]), width, lit).scene()


def mirrored(wall: WallLine) -> bool:
    """Whether a wall's stations run from right to left for who stands outside before it.

    Parameters
    ----------
    wall : WallLine
        The wall.

    Returns
    -------
    bool
        True when they do.
    """
    along = np.subtract(wall.end_at, wall.start_at)
    # Who looks against the outward direction has this on the right hand.
    right = np.array([-wall.outward[1], wall.outward[0]])
    return float(along @ right) < 0


class _Outside:
    """One drawing in the making."""

    def __init__(self, view: Developed, width: float, lit: float | None) -> None:
        self.view, self.lit = view, lit
        self.line: FootingLine = view.lines[0]
        self.wall = self.line.wall
        self.back = mirrored(self.wall)
        self.grade = self.line.finished if np.isfinite(self.line.finished).any() else self.line.existing
        self.tops = view.tops(self.line)
        self.drops = [top for top in (view.walls.tops if view.walls else ()) if top.line == self.wall.name]
        self.openings = [
            opening
            for opening in (view.walls.openings if view.walls else ())
            if opening.line == self.wall.name
        ]
        levels = [run.bottom for run in view.runs] + [level for *_, level in self.tops]
        levels += self.grade[np.isfinite(self.grade)].tolist()
        levels += [level for opening in self.openings for level in (opening.bottom, opening.top)]
        levels += [top.full_top for top in self.drops if dropped(top)]
        self.sheet = Sheet(view.plan.project.units, view.length, min(levels), max(levels), width, 1.0)

    def scene(self) -> Scene:
        sheet = self.sheet
        self.footing()
        bare = self.bare()
        above = []
        for opening in self.openings:
            draw_opening(sheet, opening, *self.across(opening.start, opening.end))
            middle = float(self.x((opening.start + opening.end) / 2))
            above.append(Note("opening", opening_text(sheet, opening), (middle, opening.top)))
        self.soil()
        self.top_line()
        if self.lit is not None:
            x = float(self.x(self.lit))
            sheet.line(
                "chosen", [(x, sheet.low), (x, sheet.high)], f"{sheet.level(self.lit)} on {self.wall.name}"
            )
        self.at_edges()
        below, over = self.drop_notes()
        base = sheet.rows(self.corners(), sheet.clear())
        base = sheet.rows(below, base)
        base = sheet.rows([Note("bare", bare, self.most_bare()[1], True)], base)
        sheet.labels.append(
            Label("note", f"seen from outside; stations {REFERENCE}", (0.0, base), "left", SIZE)
        )
        top = sheet.rows([*over, *above], sheet.clear(upward=True), upward=True)
        title = f"Wall {self.wall.name} from outside: {bare}"
        return sheet.scene(title, self.summary(title), base, top)

    def x(self, station: Array | float) -> Array | float:
        """Where a station is drawn."""
        return self.wall.length - station if self.back else station

    def across(self, start: float, end: float) -> tuple[float, float]:
        return float(self.x(start)), float(self.x(end))

    def run(self, points: Array) -> Array:
        """Stations and levels as they are drawn."""
        return np.column_stack([np.asarray(self.x(points[:, 0])), points[:, 1]])

    def footing(self) -> None:
        """Footing and wall below grade: the ground hides them, so only their edges are drawn, dashed."""
        bottom, top = footing_edges(self.view.runs, leg_of(self.view, self.line))
        shape = np.vstack([bottom, top[::-1], bottom[:1]])
        self.sheet.line("hidden", self.run(shape), "footing, under ground")

    def soil(self) -> None:
        ok = np.isfinite(self.grade)
        grade = np.column_stack([self.line.node, self.grade])[ok]
        if not len(grade):
            return
        depth = max(self.sheet.up(14.0), 0.2)
        self.sheet.area(
            "earth", self.run(np.vstack([grade, (grade - [0, depth])[::-1]])), "finished ground", edge=False
        )
        has = np.isfinite(self.line.finished).any()
        self.sheet.line(
            "finished-grade" if has else "existing-grade",
            self.run(grade),
            "finished grade" if has else "grade",
        )

    def concrete_above(self) -> Array:
        """Stations, grade and top of concrete, at every place where either turns or they cross."""
        found: list[tuple[float, float, float]] = []
        ok = np.isfinite(self.grade)
        node, grade = self.line.node[ok], self.grade[ok]
        if not len(node):
            return np.zeros((0, 3))
        for start, end, top in self.tops:
            stations = np.unique(np.concatenate([[start, end], node[(node > start) & (node < end)]]))
            levels = np.interp(stations, node, grade)
            # Where grade crosses the top, the showing part begins or ends.
            over = levels - top
            crossing = np.flatnonzero(over[:-1] * over[1:] < 0)
            more = stations[crossing] + (stations[crossing + 1] - stations[crossing]) * over[crossing] / (
                over[crossing] - over[crossing + 1]
            )
            stations = np.sort(np.concatenate([stations, more]))
            levels = np.interp(stations, node, grade)
            found += [(float(s), float(level), top) for s, level in zip(stations, levels, strict=True)]
        return np.array(found)

    def bare(self) -> str:
        """Draw the concrete that will show, and say how much it is."""
        edge = self.concrete_above()
        if len(edge):
            shown = np.column_stack([edge[:, 0], np.maximum(edge[:, 1], edge[:, 2])])
            grade = edge[:, [0, 1]]
            if (shown[:, 1] - grade[:, 1] > 1e-6).any():
                self.sheet.area(
                    "bare", self.run(np.vstack([grade, shown[::-1]])), "bare concrete", edge=False
                )
        found = [
            bare for bare in (self.view.walls.bare if self.view.walls else ()) if bare.line == self.wall.name
        ]
        highest = float(found[0].height.max()) if found else self.most_bare()[0]
        if not len(edge):
            return "no grade outside"
        if highest < 1e-6:
            return "no bare concrete"
        at_most = f"at most {self.sheet.level(highest)} high"
        if not found:
            return f"bare concrete {at_most}"
        area = (
            f"{found[0].area / SQUARE_FOOT:,.0f} ft²"
            if self.sheet.system == "us"
            else units.write(found[0].area, "area", "metric")
        )
        return f"{area} of bare concrete, {at_most}"

    def most_bare(self) -> tuple[float, tuple[float, float]]:
        """Greatest height of concrete over grade, and the place on it."""
        edge = self.concrete_above()
        if not len(edge):
            return 0.0, (self.wall.length / 2, self.sheet.low)
        height = edge[:, 2] - edge[:, 1]
        worst = int(height.argmax())
        # A little in from the ends, so that the leader ends on the area and not on its edge.
        station = float(np.clip(edge[worst, 0], 0.05 * self.wall.length, 0.95 * self.wall.length))
        return max(float(height[worst]), 0.0), (float(self.x(station)), float(edge[worst, 1:].mean()))

    def top_line(self) -> None:
        points = np.array(
            [point for start, end, level in self.tops for point in ((start, level), (end, level))]
        )
        self.sheet.line("wall", self.run(points), "top of concrete")
        ok = np.isfinite(self.grade)
        if not ok.any():
            return
        for station, level in ((0.0, self.tops[0][2]), (self.wall.length, self.tops[-1][2])):
            grade = float(np.interp(station, self.line.node[ok], self.grade[ok]))
            if level > grade + 1e-6:
                self.sheet.line(
                    "wall", [(float(self.x(station)), grade), (float(self.x(station)), level)], "corner"
                )

    def drop_notes(self) -> tuple[list[Note], list[Note]]:
        """Draw the framed wall over each drop; where it is, below, and its name, above."""
        below, above = [], []
        for top in self.drops:
            stretch = dropped(top)
            if stretch is None:
                continue
            start, end = self.across(*stretch)
            corners = [(start, top.low_top), (start, top.full_top), (end, top.full_top), (end, top.low_top)]
            self.sheet.area("framed", corners, "framed wall", edge=False)
            self.sheet.line("framed", corners, "framed wall")
            words = (
                f"concrete drops from {self.sheet.level(stretch[0])} to {self.sheet.level(stretch[1])} "
                f"from {self.wall.start}"
            )
            below.append(Note("framed", words, ((start + end) / 2, top.low_top)))
            above.append(Note("framed", "framed wall", ((start + end) / 2, top.full_top)))
        return below, above

    def at_edges(self) -> None:
        """Grade at the left, levels of the concrete's top at the right."""
        sheet, ok = self.sheet, np.isfinite(self.grade)
        name = "finished grade" if np.isfinite(self.line.finished).any() else "grade"
        left, right = (self.wall.length, 0.0) if self.back else (0.0, self.wall.length)
        if ok.any():
            levels = [float(np.interp(s, self.line.node[ok], self.grade[ok])) for s in (left, right)]
            sheet.beside([Note("finished-grade", name, (0.0, levels[0]))], right=False)
            wanted = [Note("level", f"grade {sheet.level(levels[1])}", (self.wall.length, levels[1]), True)]
        else:
            wanted = []
        for level in sorted({round(level, 6) for *_, level in self.tops}):
            ends = [
                float(self.x(end)) for pair in self.tops if abs(pair[2] - level) < 1e-6 for end in pair[:2]
            ]
            if max(ends) < self.wall.length - 1e-6:
                sheet.line("level", [(max(ends), level), (self.wall.length, level)], "top of concrete")
            wanted.append(Note("level", f"concrete {sheet.level(level)}", (self.wall.length, level)))
        sheet.beside(wanted, right=True)

    def corners(self) -> list[Note]:
        ends = ((self.wall.start, 0.0), (self.wall.end, self.wall.length))
        return [Note("corner", name, (float(self.x(s)), self.sheet.low), True) for name, s in ends]

    def summary(self, title: str) -> str:
        tops = ", ".join(
            f"{self.sheet.level(level)} from {self.sheet.level(start)} to {self.sheet.level(end)}"
            for start, end, level in self.tops
        )
        names = ", ".join(opening.name for opening in self.openings) or "none"
        return f"{title}. Top of concrete: {tops}. Openings: {names}."
