"""The house set higher and lower, and what that does to every wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foundation.plan import Plan, PlanError, plan
from foundation.project import Project

EIGHT_INCHES = 8 * 0.0254
"""One block course: by how much a house is usually set higher or lower [practice]. [m]"""


@dataclass(frozen=True)
class WallAtLevel:
    """One outdoor wall with the house at a level.

    Attributes
    ----------
    line : str
        Name of the wall line.
    bare : float
        Most bare concrete that shows. [m]
    fill : float
        Most unbalanced fill against it. [m]
    door_step : float or None
        Highest step from finished grade up to a door in it, negative when the door lies below grade; None without a
        door. [m]
    """

    line: str
    bare: float
    fill: float
    door_step: float | None


@dataclass(frozen=True)
class HouseLevel:
    """The house set at a level, and what that does.

    Attributes
    ----------
    raised_by : float
        Higher than it is typed; negative lower. [m]
    money : float or None
        Of the least-cost stepping; None when nothing fits. [$]
    concrete, digging : float
        Of the least-cost stepping. [m³]
    steps : int
        Of the least-cost stepping. [-]
    walls : tuple of WallAtLevel
        Every outdoor wall.
    problem : str
        Why nothing fits, "" when it does.
    """

    raised_by: float
    money: float | None
    concrete: float
    digging: float
    steps: int
    walls: tuple[WallAtLevel, ...]
    problem: str


def house_levels(
    project: Project, survey: str, offsets: Sequence[float] = (-EIGHT_INCHES, 0.0, EIGHT_INCHES)
) -> tuple[HouseLevel, ...]:
    """Set the house higher and lower, and see what it does to every wall.

    Parameters
    ----------
    project : Project
        The project as typed.
    survey : str
        Text of its shot file.
    offsets : sequence of float
        How much higher than the project's own setting. [m]

    Returns
    -------
    tuple of HouseLevel
        One for each offset.
    """
    return tuple(_at_level(project, survey, project.raise_by + offset) for offset in offsets)


def _at_level(project: Project, survey: str, raised_by: float) -> HouseLevel:
    try:
        made = plan(project.model_copy(update={"raise_by": raised_by}), survey)
    except PlanError as error:
        return HouseLevel(raised_by, None, 0.0, 0.0, 0, (), str(error))
    best = made.steppings[0]
    quantities = best.quantities
    return HouseLevel(
        raised_by=raised_by,
        money=quantities.money,
        concrete=quantities.concrete,
        digging=quantities.digging,
        steps=quantities.steps,
        walls=walls_at_level(made, best.name),
        problem="",
    )


def walls_at_level(made: Plan, answer: str) -> tuple[WallAtLevel, ...]:
    """What each outdoor wall shows, holds and asks to climb.

    Parameters
    ----------
    made : Plan
        The plan.
    answer : str
        Name of the answer.

    Returns
    -------
    tuple of WallAtLevel
        In the order of the lines.
    """
    walls = made.walls[answer]
    fills = {fill.line: float(fill.height.max()) for fill in walls.fills}
    found = []
    for bare in walls.bare:
        line = made.line(bare.line)
        steps = [
            opening.bottom - float(np.interp((opening.start + opening.end) / 2, line.node, line.finished))
            for opening in walls.openings
            if opening.line == bare.line and opening.kind in ("door", "overhead door")
        ]
        found.append(
            WallAtLevel(
                bare.line, float(bare.height.max()), fills.get(bare.line, 0.0), max(steps) if steps else None
            )
        )
    return tuple(found)
