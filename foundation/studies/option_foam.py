"""Good, better, best: the choices of a foam sizing as options that the client may take."""

from __future__ import annotations

from collections.abc import Iterator

from foundation.model.sizing import FoamSet, FoamSizing, LaidFoam, Place
from foundation.project import Project
from foundation.project.options import with_text
from foundation.project.schema import Part
from foundation.project.schema_heat import FoamLayer, Wing
from foundation.project.schema_money import OptionInput
from foundation.studies.foam_boards import FIELDS, WITHIN, heated, thickness_of
from foundation.studies.foam_laying import wing_of

DUG_OUT = ("basement", "crawl space")


def from_sizing(project: Project, sizing: FoamSizing) -> tuple[OptionInput, ...]:
    """Options for the client, from the least that the office allows to the warmest floor.

    Wings lie along slab edges alone: in a dug-out part along the walls whose concrete may drop to a frame.

    Parameters
    ----------
    project : Project
        The project that was sized.
    sizing : FoamSizing
        Its sizing.

    Returns
    -------
    tuple of OptionInput
        Good, better and best; of two with the same foam the first alone.
    """
    required = project.required
    asked = any((required.edge, required.wall, required.heated_slab))
    least = "Costs least to build" + (", with just what the local office asks for." if asked else ".")
    years = project.finance.years
    both = "foam and heating taken together"
    choices = (
        ("Good", least, sizing.code_floor.foam),
        ("Better", f"Costs least over {years} years, {both}.", sizing.least_cost.foam),
        ("Best", f"Warmest floor, for at most 5 % more over {years} years, {both}.", sizing.warmest.foam),
    )
    found: dict[FoamSet, OptionInput] = {}
    for name, why, foam in choices:
        found.setdefault(foam, OptionInput(name=name, why=why, changes=foam_changes(project, foam)))
    return tuple(found.values())


def foam_changes(project: Project, foam: FoamSet) -> dict[str, str]:
    """What is typed otherwise for a set of foam in every heated part.

    Parameters
    ----------
    project : Project
        The project.
    foam : FoamSet
        The set.

    Returns
    -------
    dict of str to str
        Texts by the paths of their fields; "" takes a field out.
    """
    numbers = [number for number, part in enumerate(project.parts, 1) if part in heated(project)]
    return {
        path: text
        for number in numbers
        for path, text in _of_part(f"parts[{number}]", project.parts[number - 1], foam, project.units)
    }


def _of_part(place: str, part: Part, foam: FoamSet, system: str) -> Iterator[tuple[str, str]]:
    for where, field in FIELDS.items():
        if where is Place.WING:
            continue
        yield from _layer(f"{place}.foam.{field}", getattr(part.foam, field), foam.at(where), system)
    wing = foam.wing
    inside = part.use in DUG_OUT
    yield from _wing(f"{place}.foam.wing", part, part.foam.wing, None if inside else wing, system)
    for number, wall in enumerate(part.walls, 1):
        own = f"{place}.walls[{number}]"
        if wall.foam is not None:
            for field in ("outside", "slab_edge"):
                yield from _layer(f"{own}.foam.{field}", getattr(wall.foam, field), None, system)
        laid = wall.foam.wing if wall.foam is not None else None
        along = wing if inside and wall.low_top is not None else None
        yield from _wing(f"{own}.foam.wing", part, laid, along, system)
        ledge = wall.ledge
        edge = thickness_of(foam.slab_edge)
        if ledge is not None and not ledge.veneer and abs(edge - ledge.foam) > WITHIN:
            yield with_text(f"{own}.ledge.foam", edge, system)
            yield with_text(f"{own}.ledge.bearing", ledge.bearing + ledge.foam - edge, system)


def _layer(
    path: str, old: FoamLayer | Wing | None, new: LaidFoam | None, system: str
) -> Iterator[tuple[str, str]]:
    if new is None:
        if old is not None:
            yield path, ""
        return
    if old is None or old.board != new.board:
        yield f"{path}.board", new.board
    if old is None or abs(old.thickness - new.thickness) > WITHIN:
        yield with_text(f"{path}.thickness", new.thickness, system)


def _wing(
    path: str, part: Part, old: Wing | None, new: LaidFoam | None, system: str
) -> Iterator[tuple[str, str]]:
    yield from _layer(path, old, new, system)
    if new is not None and old is None:
        width, depth = wing_of(part)
        yield with_text(f"{path}.width", width, system)
        yield with_text(f"{path}.depth", depth, system)
