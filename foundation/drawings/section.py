"""A section through wall, footing and floor in true shape: what lies where, its thickness, levels, gaps."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation import units
from foundation.drawings.labels import LINE, SIZE, Box, around, shortened, stack, text_width
from foundation.drawings.scene import Area, Label, Point, Scene, Stroke, joined
from foundation.drawings.section_shapes import (
    LAYER_OF,
    edges,
    grade_line,
    ground,
    insulation_line,
    lines_of,
    marks,
    outline,
    seen,
)
from foundation.drawings.section_words import gap_text, level_notes, names_of, stack_text, title_of
from foundation.model.section import Block, BlockKind, InsulationGap, Section

Array = NDArray[np.float64]

INWARD, OUTWARD, FARTHEST = 0.9, 0.9, 2.0
"""How far the drawing reaches at least from the wall's faces, and at most. [m]"""
UNDER = 0.3
"""Ground that is drawn under the lowest thing. [m]"""
MOST_HEIGHT = 620.0
"""A drawing higher than this is drawn smaller. [px]"""
AWAY, EDGE = 14.0, 6.0
"""Distance of texts from the drawing, and from the frame. [px]"""
BESIDE = 84.0
"""Room for the text beside an upright dimension. [px]"""
BELOW = 48.0
"""Room for the dimension under the footing. [px]"""
TEXTS = 0.66
"""Most of the width that the two columns of texts take. [-]"""
EARTH = 0.18
"""Depth of the hatched band under grade. [m]"""


def section_scene(
    section: Section,
    width: float = 905.0,
    gaps: tuple[InsulationGap, ...] | None = None,
    highlight: str = "",
    system: str = "us",
) -> Scene:
    """A section to scale, with the name and thickness of every layer and the levels that things stand at.

    Parameters
    ----------
    section : Section
        The section.
    width : float
        Width of the drawing, 720 or more. [px]
    gaps : tuple of InsulationGap or None
        Breaks of the line of insulation; None where nobody has looked for them.
    highlight : str
        Name of blocks to light up.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Scene
        The drawing: wall and edge of the floor with the ground round them, cut off at break lines; its texts lie
        clear of each other.
    """
    return _Section(section, width, gaps, system).scene(highlight)


def _beyond(block: Block) -> bool:
    """Whether a block lies outside the concrete, and is named at the right."""
    return block.left > -1e-6


class _Section:
    """One drawing in the making."""

    def __init__(
        self, section: Section, width: float, gaps: tuple[InsulationGap, ...] | None, system: str
    ) -> None:
        self.section, self.width, self.gaps, self.system = section, width, gaps, system
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.labels: list[Label] = []
        self.inside: list[tuple[str, str, Point, bool]] = []
        self.held: list[tuple[float, float, float, float]] = []
        self.levels = level_notes(section, system)
        texts = [f"{note.text} {note.name}" for note in self.levels]
        self.names = names_of(section, system)
        texts += [name for block, name in zip(section.blocks, self.names, strict=True) if _beyond(block)]
        right = max(text_width(text, SIZE, True) for text in texts)
        names = [name for block, name in zip(section.blocks, self.names, strict=True) if not _beyond(block)]
        left = max((text_width(name, SIZE) for name in names), default=0.0)
        # A column that needs more than half of what texts may have takes what the other leaves.
        most = TEXTS * width
        self.left_room = min(left, max(most / 2, most - right))
        self.right_room = min(right, most - self.left_room)
        self.window = self.extent()

    def extent(self) -> tuple[float, float, float, float]:
        """Left, right, bottom and top of what is shown: about the wall, wider where there is room. [m]"""
        section = self.section
        own = [block for block in section.blocks if block.kind is not BlockKind.SOIL]
        low = min([section.bed, *(block.bottom for block in own)]) - UNDER
        high = section.top
        inner, outer = section.inner_face - INWARD, OUTWARD
        inner = min([inner, *(block.left - 0.2 for block in own if block.left > section.inner_face - 1.5)])
        # What reaches beyond the drawing goes on, as paving does, and need not be shown to its end.
        outer = max([outer, *(block.right + 0.2 for block in own if block.right < FARTHEST)])
        inner = max(inner, section.inner_face - min(section.half_width, FARTHEST))
        outer = min(outer, FARTHEST)
        room = self.width - self.left_room - self.right_room - 2 * (AWAY + EDGE)
        self.scale = min(room / (outer - inner), MOST_HEIGHT / (high - low))
        low = min(low, low + UNDER - BELOW / self.scale)
        # What room the height leaves goes to floor and ground, half each.
        spare = (room / self.scale - (outer - inner)) / 2
        left = max(inner - spare, section.inner_face - min(section.half_width, FARTHEST))
        right = min(outer + spare, FARTHEST)
        self.spare = (room - (right - left) * self.scale) / 2
        return left, right, low, high

    def scene(self, highlight: str) -> Scene:
        self.earth()
        self.blocks(highlight)
        self.breaks()
        self.line_of_insulation()
        self.dimensions()
        self.words_inside()
        self.beside()
        bottom = self.under()
        left, right, _, top = self.window
        side = (AWAY + EDGE + self.spare) / self.scale
        window = (
            left - side - self.left_room / self.scale,
            right + side + self.right_room / self.scale,
            bottom,
            top + (SIZE + EDGE) / self.scale,
        )
        title = title_of(self.section, self.gaps, self.system)
        return Scene(
            title,
            self.summary(title),
            window,
            self.scale,
            strokes=tuple(self.strokes),
            areas=tuple(self.areas),
            labels=tuple(self.labels),
        )

    def line(self, layer: str, points: Array | Sequence[Point], name: str = "") -> None:
        points = np.asarray(points, float).reshape(-1, 2)
        if len(points):
            self.strokes.append(Stroke(layer, points, name))

    def earth(self) -> None:
        """Ground with a hatched band under grade, its layers, and the line of grade."""
        section, window = self.section, self.window
        shape = self.ground = ground(section, window)
        self.areas.append(Area("soil", outline(shape), "ground"))
        grade = grade_line(section, window[1])
        band = shapely.Polygon([*map(tuple, grade), *((x, z - EARTH) for x, z in grade[::-1])])
        hatched = band.buffer(0).intersection(shape)
        if hatched.area > 1e-6:
            self.areas.append(Area("earth", outline(hatched), "ground under grade"))
        for layer in section.soil[1:]:
            across = shapely.LineString([(window[0], layer.top), (window[1], layer.top)]).intersection(shape)
            self.line("soil", lines_of(across), f"{layer.material.name} from here down")
        self.line("finished-grade", grade, "finished grade")
        x = window[1] - 0.15 * (window[1] - section.inner_face)
        depth = (SIZE + 8) / self.scale
        for place, layer in enumerate(section.soil):
            top = min(layer.top, grade[-1][1] - EARTH)
            below = section.soil[place + 1].top if place + 1 < len(section.soil) else -math.inf
            bottom = max(below, window[2])
            if top - bottom > 2 * depth:
                name = layer.material.name.split(",")[0]
                self.inside.append(("soil", name, (x, (top + max(bottom, top - 0.5)) / 2), False))

    def blocks(self, highlight: str) -> None:
        """Every block with its outline and the marks of its material."""
        section, window = self.section, self.window
        self.shapes = seen(section.blocks, window)
        points, told, keys = [], [], []
        for block, shape, text in zip(section.blocks, self.shapes, self.names, strict=True):
            if shape.area < 1e-8:
                continue
            layer = LAYER_OF[block.kind]
            self.areas.append(Area(layer, outline(shape), block.name))
            self.line(layer, edges(shape, window), block.name)
            self.line(layer, marks(block, shape, 1 / self.scale), block.name)
            for part in shapely.get_parts(shape):
                x0, z0, x1, z1 = part.bounds
                pixels = (x0 * self.scale, x1 * self.scale, z0 * self.scale, z1 * self.scale)
                self.held.append(pixels)
            middle = shape.representative_point()
            points.append((middle.x, middle.y))
            told.append(f"{text}\n{block.material.name}")
            keys.append(block.name)
        chosen = [s for b, s in zip(section.blocks, self.shapes, strict=True) if b.name == highlight]
        if chosen:
            self.line("chosen", lines_of(shapely.union_all(chosen)), highlight)
        self.strokes.append(Stroke("pointer", np.array(points), "layers", tuple(told), tuple(keys)))

    def breaks(self) -> None:
        """A zigzag wherever the drawing cuts off what goes on."""
        section, (left, right, low, high) = self.section, self.window
        step = 7 / self.scale
        zigzag = np.array([(0, -1.2), (-0.8, -0.4), (0.8, 0.4), (0, 1.2)]) * step
        cuts: list[tuple[Point, Point]] = []
        if section.half_width > section.inner_face - left + 1e-6:
            cuts.append(((left, low), (left, section.floor)))
        cuts.append(((right, low), (right, float(grade_line(section, right)[-1][1]))))
        for block in section.blocks:
            if block.top >= high - 1e-6 and block.kind is not BlockKind.SOIL:
                cuts.append(((block.left - step, high), (block.right + step, high)))
        for a, b in cuts:
            middle = (np.array(a) + b) / 2
            bend = zigzag if a[0] == b[0] else zigzag[:, ::-1]
            self.line("break", np.vstack([[a], middle + bend, [b]]), "cut off here")

    def line_of_insulation(self) -> None:
        """What a pencil would draw without being lifted, and where it has to be."""
        self.line("insulation", insulation_line(self.section.blocks, self.window), "line of insulation")
        marked: list[Array] = []
        for number, gap in enumerate(self.gaps or (), 1):
            ends = np.array([gap.start, gap.end], float)
            if not all(self.shown(x, z) for x, z in ends):
                continue
            name = f"gap {number}"
            self.line("gap", ends, f"{name}: {gap.where}")
            marked.append(ends)
            self.inside.append(("gap", name, (float(ends[:, 0].mean()), float(ends[:, 1].mean())), True))
            x, z = ends[:, 0] * self.scale, ends[:, 1] * self.scale
            self.held.append((x.min() - 6, x.max() + 6, z.min() - 6, z.max() + 6))
        self.line("gap-end", np.vstack(marked) if marked else np.zeros((0, 2)), "ends of gaps")

    def shown(self, x: float, z: float) -> bool:
        left, right, low, high = self.window
        return left <= x <= right and low <= z <= high

    def dimensions(self) -> None:
        """Width of the footing, its bottom below grade, and the wall's height inside."""
        section, pixel = self.section, 1 / self.scale
        footings = [
            block for block in section.blocks if "footing" in block.name and block.kind is BlockKind.CONCRETE
        ]
        if footings:
            foot = min(footings, key=lambda block: block.bottom)
            z = foot.bottom - 14 * pixel
            self.dimension((foot.left, z), (foot.right, z), units.length(foot.right - foot.left, self.system))
            outer = max(
                b.right for b in section.blocks if b.kind is not BlockKind.SOIL and b.bottom < foot.top + 1.0
            )
            x = min(max(outer + 34 * pixel, 0.25), self.window[1] - BESIDE * pixel)
            grade = grade_line(section, self.window[1])
            level = float(np.interp(x, grade[:, 0], grade[:, 1]))
            text = units.length(level - foot.bottom, self.system)
            if level - foot.bottom > 30 * pixel:
                self.dimension((x, foot.bottom), (x, level), text)
        height = section.concrete_top - section.floor
        if height > 60 * pixel:
            inner = min(b.left for b in section.blocks if b.bottom > section.floor - 1e-6 and b.right <= 1e-6)
            x = max(min(inner, section.inner_face) - 40 * pixel, self.window[0] + BESIDE * pixel)
            text = units.length(height, self.system)
            self.dimension((x, section.floor), (x, section.concrete_top), text)

    def dimension(self, start: Point, end: Point, text: str) -> None:
        a, b = np.array(start), np.array(end)
        slash = np.array([(-4.0, -4.0), (4.0, 4.0)]) / self.scale
        self.line("dimension", joined([np.array([a, b]), a + slash, b + slash]), text)
        self.inside.append(("dimension", text, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), False))
        x, z = np.array([a, b]).T * self.scale
        self.held.append((x.min() - 4, x.max() + 4, z.min() - 4, z.max() + 4))

    def words_inside(self) -> None:
        """Texts within the drawing, clear of each other and, where there is room, of what is drawn."""
        section, (left, right, low, high) = self.section, self.window
        inner = (
            left + 0.35 * (section.inner_face - left),
            max(section.floor + 0.75 * (high - section.floor), low),
        )
        self.inside.append(("note", section.inside, inner, True))
        level = float(grade_line(section, right)[-1][1])
        outer = (0.6 * right, level + 0.6 * max(high - level, 0.0))
        self.inside.append(("note", section.outside or "outdoors", outer, True))
        # Frame of the drawing, and each text in it.
        frame: Box = (
            left * self.scale + 3,
            right * self.scale - 3,
            low * self.scale + 3,
            high * self.scale - 3,
        )
        most = 0.55 * (right - left) * self.scale
        texts = [shortened(text, most, SIZE, strong) for _, text, _, strong in self.inside]
        sizes = [
            (text_width(t, SIZE, strong) + 6.0, SIZE * LINE)
            for t, (*_, strong) in zip(texts, self.inside, strict=True)
        ]
        # Gaps first: they are what the drawing is looked at for.
        ranks = ("gap", "dimension", "note", "soil")
        order = sorted(range(len(texts)), key=lambda i: ranks.index(self.inside[i][0]))
        points = [(self.inside[i][2][0] * self.scale, self.inside[i][2][1] * self.scale) for i in order]
        placed = around(points, [sizes[i] for i in order], frame, (), self.held)
        for i, (x, z) in zip(order, placed, strict=True):
            layer, _, target, strong = self.inside[i]
            # The name of the ground says nothing where it has no room in the ground.
            astray = layer == "soil" and not self.ground.contains(
                shapely.Point(x / self.scale, z / self.scale)
            )
            if not texts[i] or astray:
                continue
            away = math.hypot(x - target[0] * self.scale, z - target[1] * self.scale) - sizes[i][0] / 2
            leader = target if layer in ("gap", "dimension") and away > 26 else None
            at = (x / self.scale, z / self.scale)
            self.labels.append(Label(layer, texts[i], at, "middle", SIZE, leader, strong))

    def beside(self) -> None:
        """Blocks in a column at the left, at the right those outside the wall and every level, led to their places."""
        left, right = self.window[:2]
        names: list[tuple[str, str, Point, bool]] = []
        others: list[tuple[str, str, Point, bool]] = []
        for text, (_, block, target) in self.named().items():
            column = others if _beyond(block) else names
            column.append((LAYER_OF[block.kind], text, target, False))
        for note in self.levels:
            if self.shown(right, note.level):
                start = (max(note.start, left), note.level)
                self.line("level-line", [start, (right, note.level)], note.name)
                others.append(("level-line", f"{note.text} {note.name}", (right, note.level), note.strong))
        away = AWAY / self.scale
        for column, x, anchor, room in (
            (names, left - away, "right", self.left_room),
            (others, right + away, "left", self.right_room),
        ):
            column.sort(key=lambda each: (each[2][1], -each[2][0] if anchor == "right" else each[2][0]))
            spread = self.in_frame(stack([target[1] * self.scale for _, _, target, _ in column], SIZE * LINE))
            for (layer, text, target, strong), up in zip(column, spread, strict=True):
                words = shortened(text, room, SIZE, strong)
                self.labels.append(Label(layer, words, (x, up / self.scale), anchor, SIZE, target, strong))

    def named(self) -> dict[str, tuple[float, Block, Point]]:
        """Each text of a block, with the area [m²] of what is seen of it and the place to lead to."""
        left = self.window[0]
        best: dict[str, tuple[float, Block, Point]] = {}
        for block, shape, text in zip(self.section.blocks, self.shapes, self.names, strict=True):
            part = max(shapely.get_parts(shape), key=lambda s: s.area, default=None)
            if part is None or part.area < 1e-8:
                continue
            x0, z0, x1, z1 = part.bounds
            # Long layers are led to near the column, others in their middle.
            middle = part.representative_point()
            long = x0 - left < 0.05 and x1 - left > 0.25
            target = (left + 0.12, (z0 + z1) / 2) if long else (middle.x, middle.y)
            if text not in best or part.area > best[text][0]:
                best[text] = (part.area, block, target)
        return best

    def in_frame(self, middles: list[float]) -> list[float]:
        """A column pushed down where it would rise over the drawing; below it may hang out."""
        over = max(middles, default=0.0) - self.window[3] * self.scale
        return [middle - max(over, 0.0) for middle in middles]

    def under(self) -> float:
        """What is said under the drawing: the stack's check, each gap, the scale; the lower edge. [m]"""
        levels = [label.at[1] for label in self.labels]
        row = SIZE * LINE / self.scale
        base = min([self.window[2], *levels]) - 1.2 * row
        left = self.window[0] - (self.left_room + AWAY + self.spare) / self.scale
        room = self.width - 2 * EDGE
        said = [("note", *stack_text(self.section, self.system))]
        said += [("gap", gap_text(i, gap, self.system), False) for i, gap in enumerate(self.gaps or (), 1)]
        for layer, text, strong in said:
            words = shortened(text, room, SIZE, strong)
            self.labels.append(Label(layer, words, (left, base), "left", SIZE, None, strong))
            base -= row
        self.scale_bar(left, base)
        return base - 0.9 * row

    def scale_bar(self, x: float, y: float) -> None:
        unit, word = (0.3048, "ft") if self.system == "us" else (1.0, "m")
        longest = 0.3 * self.width / self.scale / unit
        length = max(f for f in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20) if f <= max(longest, 0.1))
        low, tick = y - 5 / self.scale, 5 / self.scale
        end = x + length * unit
        self.line("dimension", [(x, low + tick), (x, low), (end, low), (end, low + tick)], "scale bar")
        self.labels.append(Label("note", f"{length:g} {word}", (end + 8 / self.scale, y), "left", SIZE))

    def summary(self, title: str) -> str:
        section = self.section
        layers = "; ".join(dict.fromkeys(filter(None, self.names)))
        levels = "; ".join(f"{note.name} {note.text}" for note in self.levels)
        gaps = " ".join(f"{gap_text(i, gap, self.system)}." for i, gap in enumerate(self.gaps or (), 1))
        return f"{title}. Layers: {layers}. Levels: {levels}. {stack_text(section, self.system)[0]}. {gaps}".strip()
