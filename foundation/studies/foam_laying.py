"""A set of foam laid in the plan: whether the office allows it, and where it has room."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from foundation.foam.boards import board_types
from foundation.model.section import Situation
from foundation.model.sizing import FoamSet, LaidFoam, Place
from foundation.plan import Plan
from foundation.project import Project
from foundation.project.schema import Part
from foundation.project.schema_heat import FoamLayer, Wing
from foundation.studies.foam_boards import FIELDS, WITHIN, heated, thickness_of

INCH = 0.0254
BEARING = 1.5 * INCH
"""Least slab's edge on a ledge beside thicker edge foam [practice]. [m]"""
WING_WIDTH = 24 * INCH
"""Width of wings in a project that has none [practice]. [m]"""
THICKEST = {Place.WALL: 4 * INCH, Place.SLAB_EDGE: 4 * INCH, Place.UNDER_SLAB: 8 * INCH, Place.WING: 4 * INCH}
"""Most that is compared in each place: thicker foam outside a wall or at an edge asks for details of its own, such as
framing that hangs over [practice]. [m]"""


def allowed(project: Project, foam: FoamSet, situations: Iterable[Situation]) -> bool:
    """Whether the office's numbers allow a set. R is the label's; foam inside the walls counts with that outside.

    The slab's edge is covered where the wall's foam has the R and reaches the depth, or where the foam at the edge
    has it and that under the slab carries it inward. Wings are not counted.

    Parameters
    ----------
    project : Project
        The project.
    foam : FoamSet
        The set.
    situations : iterable of Situation
        Kinds of place that the house has.

    Returns
    -------
    bool
        False where it falls short anywhere.
    """
    required, present = project.required, set(situations)
    wall, edge, under = (_label(each) for each in (foam.wall, foam.slab_edge, foam.under_slab))
    for part in heated(project):
        inside = part.foam.inside
        both = wall + (inside.thickness * board_types()[inside.board].label if inside else 0.0)
        if required.wall and Situation.BASEMENT in present and both < required.wall - WITHIN:
            return False
        if required.heated_slab and part.floor_heated and under < required.heated_slab - WITHIN:
            return False
        if required.edge and Situation.EDGE in present:
            reach = required.edge_depth or 0.0
            down = wall >= required.edge - WITHIN and _reaches(part.foam.outside_depth, reach)
            inward = under >= required.edge - WITHIN and _reaches(part.foam.under_slab_band, reach)
            inward = inward or reach <= part.slab_thickness + WITHIN
            if not (down or (edge >= required.edge - WITHIN and inward)):
                return False
    return True


def with_foam(plan: Plan, answer: str, foam: FoamSet) -> Plan:
    """The plan with a set of foam in every heated part, levels held as planned.

    On ledges the slab's bearing gives way to the foam. What else the plan holds is not planned again: it is for
    sections alone.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    foam : FoamSet
        The set.

    Returns
    -------
    Plan
        The plan with its project's foam, and the answer's ledges, replaced.
    """
    parts = [_with(part, foam) if part.is_heated else part for part in plan.project.parts]
    project = plan.project.model_copy(update={"parts": parts})
    edge = thickness_of(foam.slab_edge)
    walls = plan.walls[answer]
    ledges = tuple(
        ledge if ledge.veneer else replace(ledge, foam=edge, bearing=ledge.bearing + ledge.foam - edge)
        for ledge in walls.ledges
    )
    return replace(plan, project=project, walls={**plan.walls, answer: replace(walls, ledges=ledges)})


def rooms(plan: Plan, answer: str) -> dict[Place, float]:
    """Thickest foam that is compared in each place; at the slab's edge no more than ledges leave room for.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    dict of Place to float
        Thicknesses; beside a ledge that is narrower already what is planned. [m]
    """
    ledges = [ledge for ledge in plan.walls[answer].ledges if not ledge.veneer and ledge.bearing > 0]
    room = [max(ledge.foam, ledge.foam + ledge.bearing - BEARING) for ledge in ledges]
    return {**THICKEST, Place.SLAB_EDGE: min([THICKEST[Place.SLAB_EDGE], *room])}


def wing_of(part: Part) -> tuple[float, float]:
    """Width of a part's wing and depth of its top.

    Parameters
    ----------
    part : Part
        The part.

    Returns
    -------
    tuple of float
        As planned, else 24 in wide and 12 in deep. [m]
    """
    wing = part.foam.wing
    return (wing.width, wing.depth) if wing else (WING_WIDTH, Wing.model_fields["depth"].default)


def _with(part: Part, foam: FoamSet) -> Part:
    layers: dict[str, FoamLayer | None] = {
        FIELDS[place]: _layer(foam.at(place)) for place in Place if place is not Place.WING
    }
    width, depth = wing_of(part)
    wing = (
        Wing.model_construct(board=foam.wing.board, thickness=foam.wing.thickness, width=width, depth=depth)
        if foam.wing
        else None
    )
    own = {field: None for field in FIELDS.values() if field != "under_slab"}
    walls = [
        wall.model_copy(update={"foam": wall.foam.model_copy(update=own)}) if wall.foam else wall
        for wall in part.walls
    ]
    return part.model_copy(
        update={"foam": part.foam.model_copy(update={**layers, "wing": wing}), "walls": walls}
    )


def _layer(foam: LaidFoam | None) -> FoamLayer | None:
    return FoamLayer.model_construct(board=foam.board, thickness=foam.thickness) if foam else None


def _label(foam: LaidFoam | None) -> float:
    return foam.label if foam else 0.0


def _reaches(depth: float | None, reach: float) -> bool:
    return depth is None or depth >= reach - WITHIN
