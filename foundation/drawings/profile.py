"""The profile of walls, long way: grades, frost line, stepped footing, wall, and what binds each run."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.labels import LINE, rows, stack, text_width
from foundation.drawings.scene import Area, Label, Scene, Stroke
from foundation.model.walls import FootingLine, Run, Stepping
from foundation.plan import Plan, ScheduleRow

Array = NDArray[np.float64]

SIZE = 13.0
LEFT, RIGHT = 128.0, 214.0
"""Room beside the drawing for the names of lines and for level flags. [px]"""
EARTH = 0.35
"""Depth of the hatched band under finished grade. [m]"""


def profile_scene(
    plan: Plan, stepping: Stepping, names: Sequence[str], width: float = 960.0, stretch: float = 1.0
) -> Scene:
    """Developed profile of one or more wall lines that follow each other.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer to draw.
    names : sequence of str
        Wall lines from left to right.
    width : float
        Width of the drawing. [px]
    stretch : float
        Vertical scale over horizontal; 1 is true shape. [-]

    Returns
    -------
    Scene
        The drawing; its labels lie clear of each other at that width.
    """
    draw = _Profile(plan, stepping, [plan.line(name) for name in names], width, stretch)
    return draw.scene()


class _Profile:
    """One drawing in the making."""

    def __init__(
        self, plan: Plan, stepping: Stepping, lines: list[FootingLine], width: float, stretch: float
    ) -> None:
        self.plan, self.stepping, self.lines, self.stretch = plan, stepping, lines, stretch
        self.system = plan.project.units
        self.offset = np.concatenate([[0.0], np.cumsum([line.wall.length for line in lines])])
        self.length = float(self.offset[-1])
        self.scale = (width - LEFT - RIGHT) / self.length
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.labels: list[Label] = []
        shown = {line.wall.name for line in lines}
        self.runs = [run for run in stepping.runs if run.line in shown]
        self.schedule = [row for row in plan.schedules[stepping.name] if row.line in shown]
        levels = [run.bottom for run in self.runs] + [line.wall.wall_top for line in lines]
        for line in lines:
            for values in (line.existing, line.finished, line.frost_line):
                levels += values[np.isfinite(values)].tolist()
        self.low, self.high = min(levels), max(levels)

    def x(self, line: FootingLine, station: Array | float) -> Array | float:
        return self.offset[self.lines.index(line)] + station

    def px(self, pixels: float) -> float:
        """Height on the drawing of so many pixels. [m]"""
        return pixels / (self.scale * self.stretch)

    def text(self, level: float) -> str:
        return units.length(level, self.system)

    def scene(self) -> Scene:
        for line in self.lines:
            self.concrete(line)
            self.ground(line)
            self.short_cover(line)
            self.pointer(line)
        self.names_left()
        self.flags_right()
        top = self.heights_above()
        bottom = self.stations_below()
        first, last = self.lines[0].wall, self.lines[-1].wall
        steps = [step for step in self.stepping.steps if step.line in {line.wall.name for line in self.lines}]
        where = f"{first.start} to {last.end}"
        count = "no step" if not steps else f"{len(steps)} step{'s' if len(steps) > 1 else ''}"
        lowest = min(run.bottom for run in self.runs)
        title = f"{where}: {count}, lowest bottom of footing {self.text(lowest)}"
        return Scene(
            title=title,
            summary=self.summary(title),
            window=(-LEFT / self.scale, self.length + RIGHT / self.scale, bottom, top),
            pixels_per_metre=self.scale,
            stretch=self.stretch,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )

    def summary(self, title: str) -> str:
        parts = [
            f"{run.line} from {self.text(run.start)} to {self.text(run.end)}: bottom of footing {self.text(run.bottom)}"
            for run in self.runs
        ]
        return f"Profile, {title}. " + ". ".join(parts) + "."

    def ground(self, line: FootingLine) -> None:
        x = self.x(line, line.node)
        ok = np.isfinite(line.finished)
        if ok.any():
            grade = np.column_stack([x, line.finished])[ok]
            self.areas.append(
                Area("earth", np.vstack([grade, (grade - [0, EARTH])[::-1]]), "finished ground")
            )
            self.strokes.append(Stroke("finished-grade", grade, "finished grade"))
        for layer, values, name in (
            ("existing-grade", line.existing, "existing grade"),
            ("frost-line", line.frost_line, "frost line"),
        ):
            ok = np.isfinite(values)
            if ok.any():
                self.strokes.append(Stroke(layer, np.column_stack([x, values])[ok], name))

    def concrete(self, line: FootingLine) -> None:
        """Footing with its legs, and the wall on it."""
        runs = [run for run in self.runs if run.line == line.wall.name]
        leg = self.plan.rules.leg or line.wall.footing_thickness
        bottom: list[tuple[float, float]] = []
        top: list[tuple[float, float]] = []
        for i, run in enumerate(runs):
            start, end = float(self.x(line, run.start)), float(self.x(line, run.end))
            bottom += [(start, run.bottom), (end, run.bottom)]
            # The leg stands on the lower of two runs, against the end of the higher.
            if i and runs[i - 1].top > run.top:
                start = min(start + leg, end)
                top.append((start, runs[i - 1].top))
            after = runs[i + 1].top if i + 1 < len(runs) else run.top
            if after > run.top:
                end = max(end - leg, start)
            top += [(start, run.top), (end, run.top)]
            if after > run.top:
                top.append((end, after))
        footing = np.array(bottom + top[::-1])
        edge = [
            (float(self.x(line, 0.0)), line.wall.wall_top),
            (float(self.x(line, line.wall.length)), line.wall.wall_top),
        ]
        wall = np.array(top + edge[::-1])
        for layer, shape, name in (("wall", wall, "wall"), ("footing", footing, "footing")):
            self.areas.append(Area(layer, shape, name))
            self.strokes.append(Stroke(layer, np.vstack([shape, shape[:1]]), name))

    def short_cover(self, line: FootingLine) -> None:
        cover = self.plan.covers[self.stepping.name].get(line.wall.name)
        if cover is None:
            return
        depth = self.plan.project.frost.depth
        short = np.nan_to_num(cover.straight_down, nan=np.inf) < depth - 1e-4
        edges = np.flatnonzero(np.diff(np.concatenate([[0], short.astype(int), [0]])))
        for first, last in zip(edges[::2], edges[1::2], strict=True):
            x = self.x(line, cover.station[first:last])
            frost = np.interp(cover.station[first:last], line.node, line.frost_line)
            missing = depth - cover.straight_down[first:last]
            band = np.vstack([np.column_stack([x, frost + missing]), np.column_stack([x, frost])[::-1]])
            name = f"frost cover short by {units.inches(float(missing.max()))}"
            self.areas.append(Area("short-cover", band, name))
            self.strokes.append(Stroke("short-cover", np.vstack([band, band[:1]]), name))

    def pointer(self, line: FootingLine) -> None:
        """What the reader is told who points along the footing."""
        cover = self.plan.covers[self.stepping.name].get(line.wall.name)
        bottom = self.stepping.bottoms[line.wall.name]
        book = self.plan.level_book
        middle = (line.node[:-1] + line.node[1:]) / 2
        finished, existing = (
            np.interp(middle, line.node, values) for values in (line.finished, line.existing)
        )
        straight = np.interp(middle, cover.station, cover.straight_down) if cover is not None else None
        hover = []
        for i, station in enumerate(middle):
            text = [f"{self.text(station)} from {line.wall.start} on {line.wall.name}"]
            if np.isfinite(finished[i]):
                text.append(f"finished grade {self.text(finished[i])}")
            if np.isfinite(existing[i]):
                text.append(f"existing grade {self.text(existing[i])}")
            if straight is not None and np.isfinite(straight[i]):
                text.append(f"frost cover {self.text(straight[i])}")
            text.append(f"bottom of footing {self.text(bottom[i])}")
            if book.benchmark:
                text.append(f"{self.text(book.benchmark_level - bottom[i])} below {book.benchmark}")
            hover.append("\n".join(text))
        points = np.column_stack([self.x(line, middle), bottom])
        keys = tuple(f"{line.wall.name}|{station:.4f}" for station in middle)
        self.strokes.append(Stroke("pointer", points, line.wall.name, tuple(hover), keys))

    def names_left(self) -> None:
        """Names of the lines at the left edge, each led to where its line begins."""
        line = self.lines[0]
        wanted = [("wall", "top of wall", line.wall.wall_top)]
        for layer, values, name in (
            ("finished-grade", line.finished, "finished grade"),
            ("existing-grade", line.existing, "existing grade"),
            ("frost-line", line.frost_line, "frost line"),
        ):
            if np.isfinite(values[0]):
                wanted.append((layer, name, float(values[0])))
        step = SIZE * LINE
        spread = stack([level * self.scale * self.stretch for _, _, level in wanted], step)
        for (layer, name, level), middle in zip(wanted, spread, strict=True):
            at = (-14 / self.scale, middle / (self.scale * self.stretch))
            self.labels.append(Label(layer, name, at, "right", SIZE, leader=(0.0, level)))

    def flags_right(self) -> None:
        """Levels at the right edge, the crew's notation first."""
        found = sorted({round(run.bottom, 6) for run in self.runs})
        texts, levels = [], []
        for level in found:
            decimal = f" ({units.decimal_feet(level)})" if self.system == "us" else ""
            texts.append(f"{self.text(level)}{decimal}")
            levels.append(level)
        wanted = [level * self.scale * self.stretch for level in levels]
        spread = stack(wanted, SIZE * LINE)
        edge = self.length
        for text, level, middle in zip(texts, levels, spread, strict=True):
            ends = [
                self.x(self.plan.line(run.line), run.end)
                for run in self.runs
                if abs(run.bottom - level) < 1e-6
            ]
            self.strokes.append(
                Stroke(
                    "level",
                    np.array([[max(float(e) for e in ends), level], [edge, level]]),
                    "level of footing",
                )
            )
            at = (edge + 14 / self.scale, middle / (self.scale * self.stretch))
            self.labels.append(Label("level", text, at, "left", SIZE, leader=(edge, level), strong=True))

    def heights_above(self) -> float:
        """Wall heights in rows over the walls; returns the top of the window. [m]"""
        top = max(self.high, max(line.wall.wall_top for line in self.lines))
        centres, texts, targets = [], [], []
        for row in self.merged_heights():
            line = self.plan.line(row.line)
            start, end = float(self.x(line, row.start)), float(self.x(line, row.end))
            centres.append((start + end) / 2 * self.scale)
            texts.append(units.length(row.wall_height, self.system))
            targets.append(((start + end) / 2, line.wall.wall_top))
        places = rows(centres, [text_width(t, SIZE) for t in texts], 0.0, self.length * self.scale, 10.0)
        for text, (centre, row_number), target in zip(texts, places, targets, strict=True):
            at = (centre / self.scale, top + self.px(16 + row_number * SIZE * LINE))
            self.labels.append(Label("wall", text, at, "middle", SIZE, leader=target if row_number else None))
        most = max((row_number for _, row_number in places), default=0)
        caption = top + self.px(16 + (most + 1) * SIZE * LINE)
        self.labels.append(Label("note", "wall height on the footing", (0.0, caption), "left", SIZE))
        return caption + self.px(14)

    def merged_heights(self) -> list[ScheduleRow]:
        return list(self.schedule)

    def stations_below(self) -> float:
        """Corners, steps and what binds each run, in rows under the drawing; returns the window's bottom. [m]"""
        base = self.low - self.px(16)
        frame = (-LEFT * 0.9, self.length * self.scale + RIGHT * 0.9)
        items: list[tuple[float, str, str, tuple[float, float], bool]] = []
        for i, line in enumerate(self.lines):
            items.append(
                (float(self.offset[i]), line.wall.start, "corner", (float(self.offset[i]), self.low), True)
            )
        items.append((self.length, self.lines[-1].wall.end, "corner", (self.length, self.low), True))
        corner_row = [*rows([x * self.scale for x, *_ in items], [30.0] * len(items), *frame, 4.0)]
        steps = []
        for step in self.stepping.steps:
            if step.line not in {line.wall.name for line in self.lines}:
                continue
            line = self.plan.line(step.line)
            x = float(self.x(line, step.station))
            text = f"step {step.number}: {self.text(step.station)} from {line.wall.start}"
            steps.append((x, text, "step", (x, min(step.before, step.after)), True))
        binds = []
        for run in self.runs:
            line = self.plan.line(run.line)
            middle = float(self.x(line, (run.start + run.end) / 2))
            binds.append((middle, self.binding(run), "note", (middle, run.bottom), False))
        drawn = 0
        for group, placed in (
            (items, corner_row),
            (
                steps,
                rows(
                    [x * self.scale for x, *_ in steps],
                    [text_width(t, SIZE) for _, t, *_ in steps],
                    *frame,
                    10.0,
                ),
            ),
            (
                binds,
                rows(
                    [x * self.scale for x, *_ in binds],
                    [text_width(t, SIZE) for _, t, *_ in binds],
                    *frame,
                    10.0,
                ),
            ),
        ):
            deepest = -1
            for (_, text, layer, target, strong), (centre, row_number) in zip(group, placed, strict=True):
                at = (centre / self.scale, base - self.px((drawn + row_number) * SIZE * LINE))
                self.labels.append(Label(layer, text, at, "middle", SIZE, leader=target, strong=strong))
                deepest = max(deepest, row_number)
            drawn += deepest + 1
        return base - self.px((drawn + 0.3) * SIZE * LINE)

    def binding(self, run: Run) -> str:
        return binding_text(run, self.system)


def binding_text(run: Run, system: str) -> str:
    """What keeps a run from being higher, in words.

    Parameters
    ----------
    run : Run
        The run.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``frost at 31'-4"``.
    """
    if run.binds in ("frost", "undisturbed ground", "the basement's dig"):
        return f"{run.binds} at {units.length(run.binds_at, system)}"
    return run.binds
