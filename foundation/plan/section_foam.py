"""The foam that holds at a wall line, what it is made of, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from foundation import materials, units
from foundation.foam.boards import board_types, refused_in_ground
from foundation.foam.choice import resistivity
from foundation.model.problem import Problem
from foundation.model.section import Material
from foundation.model.walls import WallLine
from foundation.plan.lines import along_named, wall_lines
from foundation.project import Project
from foundation.project.schema import Part
from foundation.project.schema_heat import FoamLayer, WallFoam, Wing
from foundation.project.schema_walls import WallSize

SLACK = 0.0254 / 16
"""Boards that miss by less than the smallest length anyone types still fit. [m]"""
COMMON_BOARD: str = FoamLayer.model_fields["board"].default
"""Board of foam whose thickness alone is told, as on a ledge."""


@dataclass(frozen=True)
class LineFoam:
    """Foam along one wall line.

    Attributes
    ----------
    outside, inside, slab_edge, under_slab, under_footing : FoamLayer or None
        On the faces, at the slab's edge, under the slab, under the footing.
    wing : Wing or None
        Lying outward in the ground.
    outside_depth : float or None
        Depth below finished grade that the outside foam goes to; None for the top of footing. [m]
    band : float or None
        Width of the foam under the slab from the wall inward, None for all of it. [m]
    """

    outside: FoamLayer | None
    inside: FoamLayer | None
    slab_edge: FoamLayer | None
    under_slab: FoamLayer | None
    under_footing: FoamLayer | None
    wing: Wing | None
    outside_depth: float | None
    band: float | None


def sizes_of(project: Project, part: Part, wall: WallLine) -> tuple[WallSize, ...]:
    """What a part says of one of its wall lines.

    Parameters
    ----------
    project : Project
        The project.
    part : Part
        The part.
    wall : WallLine
        Its wall line.

    Returns
    -------
    tuple of WallSize
        Those that name it, in the order of the project.
    """
    return tuple(size for size in part.walls if along_named(project, size.line, wall) is not None)


def line_foam(part: Part, sizes: Sequence[WallSize], shared: bool) -> LineFoam:
    """Foam along a wall line: its part's, each field of it replaced where the line names its own.

    Parameters
    ----------
    part : Part
        The part inside.
    sizes : sequence of WallSize
        What it says of the line.
    shared : bool
        Whether the part beyond is heated too: nobody lays foam outside such a wall, or a wing, unless the line itself
        names it.

    Returns
    -------
    LineFoam
        What holds.
    """
    found = {name: getattr(part.foam, name) for name in WallFoam.model_fields}
    if shared:
        found |= {"outside": None, "wing": None}
    for own in (size.foam for size in sizes if size.foam is not None):
        found |= {name: value for name in WallFoam.model_fields if (value := getattr(own, name)) is not None}
    floor = part.foam
    return LineFoam(
        under_slab=floor.under_slab, under_footing=floor.under_footing, band=floor.under_slab_band, **found
    )


@lru_cache(maxsize=200)
def material_of(board: str, place: str, basis: str) -> Material:
    """What a board is made of where it lies.

    Parameters
    ----------
    board : str
        Name of a known board.
    place : str
        One of `foundation.foam.choice.PLACES`.
    basis : str
        Which of its R-values counts, one of `foundation.foam.choice.BASES`.

    Returns
    -------
    Material
        The foam.
    """
    kind = board_types()[board]
    return materials.foam_material(kind, resistivity(kind, place, basis))


def foam_problems(project: Project) -> tuple[Problem, ...]:
    """Foam that nobody makes, that the ground would spoil, or that has no room.

    Parameters
    ----------
    project : Project
        The inputs, levels as typed or raised.

    Returns
    -------
    tuple of Problem
        All of them fatal; empty for sound inputs.

    Raises
    ------
    PlanError
        If the parts make no building.
    """
    found = list(_unknown_boards(project))
    found += _ledges(project)
    found += _edges_under_doors(project)
    return tuple(found)


def _boards(project: Project) -> Iterator[tuple[str, str, bool]]:
    """Path, name and ground contact of every board that the project names."""
    buried = {
        "outside": True,
        "inside": False,
        "slab_edge": True,
        "under_slab": True,
        "under_footing": True,
        "wing": True,
    }
    for number, part in enumerate(project.parts, 1):
        foams: list[tuple[str, WallFoam | None]] = [(f"parts[{number}].foam", part.foam)]
        foams += [
            (f"parts[{number}].walls[{count}].foam", size.foam) for count, size in enumerate(part.walls, 1)
        ]
        for place, foam in foams:
            for field, in_ground in buried.items():
                layer = getattr(foam, field, None)
                if layer is not None:
                    yield f"{place}.{field}.board", layer.board, in_ground
    for number, opening in enumerate(project.openings, 1):
        if opening.edge_foam is not None:
            yield f"openings[{number}].edge_foam.board", opening.edge_foam.board, True
    if project.frame.outside_foam is not None:
        yield "frame.outside_foam.board", project.frame.outside_foam.board, False
    for number, price in enumerate(project.foam_prices.boards, 1):
        yield f"foam_prices.boards[{number}].board", price.board, False


def _unknown_boards(project: Project) -> Iterator[Problem]:
    known = board_types()
    for place, board, in_ground in _boards(project):
        if board not in known:
            yield Problem(
                place,
                board,
                f'{place} is "{board}", which is not among the boards: {", ".join(known)}.',
            )
        elif in_ground and refused_in_ground(known[board]):
            fit = ", ".join(name for name, kind in known.items() if not refused_in_ground(kind))
            yield Problem(
                place,
                board,
                f"{place} is {board}, which takes up water and does not belong in the ground. "
                f"Take one of {fit}.",
            )


def _ledges(project: Project) -> Iterator[Problem]:
    for number, part in enumerate(project.parts, 1):
        for count, size in enumerate(part.walls, 1):
            if size.ledge is None:
                continue
            wall = part.wall_thickness if size.thickness is None else size.thickness
            room = wall - size.ledge.upper
            if size.ledge.foam > max(room, 0.0) + SLACK:
                say = [units.length(v, project.units) for v in (size.ledge.foam, max(room, 0.0))]
                place = f"parts[{number}].walls[{count}].ledge.foam"
                yield Problem(
                    place,
                    say[0],
                    f"The edge foam on the ledge of wall {size.line} is {say[0]} thick, but the ledge is {say[1]} "
                    "wide: take thinner foam, a thicker wall, or a thinner one above the ledge.",
                )


def _edges_under_doors(project: Project) -> Iterator[Problem]:
    doors = [(n, each) for n, each in enumerate(project.openings, 1) if each.edge_foam is not None]
    for number, door in doors:
        assert door.edge_foam is not None
        walls = [w for w in wall_lines(project) if along_named(project, door.line, w) is not None]
        room = min((wall.wall_thickness for wall in walls), default=door.edge_foam.thickness)
        if door.edge_foam.thickness > room + SLACK:
            say = [units.length(v, project.units) for v in (door.edge_foam.thickness, room)]
            yield Problem(
                f"openings[{number}].edge_foam.thickness",
                say[0],
                f"The edge foam of {door.kind} {door.name} is {say[0]} thick, but the wall under it is {say[1]}: "
                "take thinner foam.",
            )
