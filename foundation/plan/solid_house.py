"""The house as one solid, as a check of what its sections say when they are joined."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import KDTree

from foundation.heat.solid import Grade, solid_of, strip_of
from foundation.model.section import Situation
from foundation.model.solid import Shares, SolidCheck, SolidPart, SolidStretch
from foundation.plan.heat import answer_of, soil_layers
from foundation.plan.lines import position
from foundation.plan.result import Plan
from foundation.plan.sections import PlacedSection, sections_along

Array = NDArray[np.float64]


def solid_house(plan: Plan, answer: str, fineness: float = 1.0, year: bool = False) -> SolidCheck:
    """Solve the heated parts and the ground round them in three dimensions, beside their joined sections.

    All parts are equally warm, so that nothing goes from one to another. Steps of the footing stand as in the
    sections, without their legs; grade is the finished surface's in each column of cells, and level beyond its rim.

    Parameters
    ----------
    plan : Plan
        The plan; all of its parts with an outline are heated, and their walls stand at right angles.
    answer : str
        Name of the stepping.
    fineness : float
        Cells are smaller by this, > 0. [-]
    year : bool
        Whether the year is solved too.

    Returns
    -------
    SolidCheck
        Solid and sections.

    Raises
    ------
    ValueError
        If a part is not heated, none has an outline, or a wall stands at an angle to the others.
    """
    for part in plan.project.parts:
        if not part.is_heated:
            raise ValueError(f"Part {part.name} is not heated; the solid takes heated parts alone.")
    placed = sections_along(plan, answer, soil_layers(plan.project)[1])
    if not placed:
        raise ValueError("No part of the plan has an outline; a solid needs one with three corners or more.")
    turn = _Turn(plan, placed)
    stretches = [turn.stretch(each) for each in placed]
    outlines = {
        part.name: [turn.there(*position(plan.project, name)) for name in part.corners]
        for part in plan.project.parts
        if any(each.section.inside == part.name for each in placed)
    }
    solid = solid_of(stretches, outlines, turn.grade(), fineness)
    steady, swing, imbalance = solid.shares(year)
    outdoors = [n for n, each in enumerate(placed) if each.section.situation is not Situation.BETWEEN]
    parts = {}
    for name in outlines:
        own = [n for n in outdoors if placed[n].section.inside == name]
        lengths = [placed[n].end - placed[n].start for n in own]
        alike = [strip_of(stretches, n, fineness).shares()[0][name] for n in own]
        parts[name] = SolidPart(
            solid=steady[name],
            alike=_sum(alike, lengths),
            joined=_sum([_joined(placed[n], "flow_steady") for n in own], lengths),
            swing=swing[name] if swing is not None else None,
            joined_swing=_sum([_joined(placed[n], "flow_annual") for n in own], lengths) if year else None,
        )
    return SolidCheck(solid.cells, imbalance, parts)


def _joined(placed: PlacedSection, flow: str) -> Shares:
    response = answer_of(placed.section)
    surface = response.surface
    group, through = np.array(surface.group), getattr(surface, flow)
    below = surface.exposure > 0
    return Shares(
        complex(through[group == "floor"].sum()),
        complex(through[group == "wall"].sum()),
        complex(through[below & (group != "frame")].sum()),
        0j,
    )


def _sum(shares: Sequence[Shares], lengths: Iterable[float]) -> Shares:
    each = list(zip(shares, lengths, strict=True))
    return Shares(
        sum(s.floor * n for s, n in each),
        sum(s.wall * n for s, n in each),
        sum(s.below_grade * n for s, n in each),
        0j,
    )


class _Turn:
    """The lot turned so that the first wall runs along x."""

    def __init__(self, plan: Plan, placed: Sequence[PlacedSection]) -> None:
        self.plan = plan
        self.lines = {line.wall.name: line.wall for line in plan.lines}
        first = self.lines[placed[0].section.line]
        self.origin = first.start_at
        self.axis = tuple((b - a) / first.length for a, b in zip(first.start_at, first.end_at, strict=True))

    def _turned(self, east: Any, north: Any) -> tuple[Any, Any]:
        c, s = self.axis
        return c * east + s * north, c * north - s * east

    def there(self, east: float, north: float) -> tuple[float, float]:
        """Where a place of the lot lies."""
        return self._turned(east - self.origin[0], north - self.origin[1])

    def stretch(self, placed: PlacedSection) -> SolidStretch:
        """A stretch in the turned lot, seen from the part inside."""
        wall = self.lines[placed.section.line]
        ends = [
            self.there(
                *(a + at / wall.length * (b - a) for a, b in zip(wall.start_at, wall.end_at, strict=True))
            )
            for at in (placed.start, placed.end)
        ]
        side = 1.0 if wall.part == placed.section.inside else -1.0
        outward = self._turned(*(side * each for each in wall.outward))
        return SolidStretch(ends[0], ends[1], outward, placed.section)

    def grade(self) -> Grade | None:
        """Finished grade in the turned lot, None without a surface."""
        surface = self.plan.finished
        if surface is None:
            return None
        c, s = self.axis

        def at(x: Array, y: Array) -> Array:
            east, north = c * x - s * y + self.origin[0], s * x + c * y + self.origin[1]
            found = surface.grade(east, north)
            told = np.isfinite(found)
            # Beyond its rim the ground goes on level.
            near = KDTree(np.column_stack([east[told], north[told]]))
            _, place = near.query(np.column_stack([east[~told], north[~told]]))
            found[~told] = found[told][place]
            return found

        return at
