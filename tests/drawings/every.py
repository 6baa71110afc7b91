"""Every drawing of a plan."""

from __future__ import annotations

from collections.abc import Iterator

from foundation.drawings.axonometric import axonometric_scene
from foundation.drawings.lot import lot_scene
from foundation.drawings.outside import outside_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.scene import Scene
from foundation.model.walls import Stepping
from foundation.plan import Plan


def drawings(plan: Plan, stepping: Stepping, width: float = 940.0) -> Iterator[tuple[str, Scene]]:
    """Each kind of drawing of a plan, of every wall."""
    other = plan.steppings[-1] if stepping is plan.steppings[0] else plan.steppings[0]
    place = (plan.lines[0].wall.name, plan.lines[0].wall.length / 3)
    for line in plan.lines:
        yield f"profile {line.wall.name}", profile_scene(plan, stepping, [line.wall.name], width, 1.0, place)
        yield f"outside {line.wall.name}", outside_scene(plan, stepping, line.wall.name, width)
    for chain in plan.chains:
        yield f"developed {chain.lines}", profile_scene(plan, stepping, chain.lines, width, 2.0, None, other)
    yield "lot", lot_scene(plan, stepping, width, lit=place)
    yield "axonometric", axonometric_scene(plan, stepping, width, lit=place)
