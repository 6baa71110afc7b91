"""Pads, stoops and porch footings: each stands at the level that its own place asks for."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import shapely

from foundation.footing.limits import dig_limit, frost_limit
from foundation.footing.problem import FIT, highest_bottom
from foundation.model.levels import LevelBook
from foundation.model.problem import Problem
from foundation.model.walls import FootingLine, StepRules
from foundation.plan.beside import Beside
from foundation.plan.footings import (
    BEARING,
    DIG,
    FLOOR,
    FROST,
    UNDISTURBED,
    counted_grade,
    part_of,
)
from foundation.plan.ground import Survey
from foundation.plan.levelling import reading
from foundation.plan.lines import PlanError, outline, slab_top
from foundation.plan.result import PlacedExtra
from foundation.project import Project
from foundation.project.schema import Extra


def place(
    project: Project,
    extra: Extra,
    survey: Survey | None,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    book: LevelBook,
    rules: StepRules,
) -> PlacedExtra:
    """One footing beside the network, at the highest level of the module that its place allows.

    Parameters
    ----------
    project : Project
        The project.
    extra : Extra
        The footing.
    survey : Survey or None
        The survey.
    lines : tuple of FootingLine
        Footing lines of the network.
    beside : mapping of str to Beside
        Grade beside each wall.
    book : LevelBook
        Marks and set-ups.
    rules : StepRules
        The step rules; their module is kept.

    Returns
    -------
    PlacedExtra
        The footing with its level and what binds it.

    Raises
    ------
    PlanError
        If it stands in a part that is not there.
    """
    names = [part.name for part in project.parts]
    if extra.inside and extra.inside not in names:
        sentence = (
            f'{extra.name} stands in "{extra.inside}", which is no part; there are: {", ".join(names)}.'
        )
        raise PlanError((Problem("extras", extra.inside, sentence),))
    plan = shapely.box(
        extra.east - extra.length / 2,
        extra.north - extra.width / 2,
        extra.east + extra.length / 2,
        extra.north + extra.width / 2,
    )
    existing, finished = _grades(plan, survey, lines, beside)
    frost = project.frost
    limits = {UNDISTURBED: existing - frost.into_undisturbed}
    inside = part_of(project, extra.inside) if extra.inside else None
    if inside is None or not inside.is_heated:
        counted = counted_grade(project, np.array([existing]), np.array([finished]))
        if inside is not None:
            counted = np.minimum(counted, slab_top(project, inside))
        to_top = frost.measured_to == "top of footing"
        limits[FROST] = float(frost_limit(counted, frost.depth, extra.thickness, to_top=to_top)[0])
    if inside is not None:
        limits[FLOOR] = slab_top(project, inside) - inside.build_up - extra.thickness
    if frost.bearing_level is not None:
        limits[BEARING] = frost.bearing_level
    for part in project.parts:
        area = outline(project, part)
        if part.use not in ("basement", "crawl space") or area is None or extra.inside == part.name:
            continue
        for line in (line for line in lines if line.wall.part == part.name):
            wall = shapely.linestrings([line.wall.start_at, line.wall.end_at])
            gap = max(shapely.distance(plan, wall), shapely.distance(plan, area))
            clear = line.wall.projection + project.digging.working_room + project.digging.over_dig
            at = float(shapely.line_locate_point(wall, shapely.centroid(plan)))
            bottom = float(np.interp(at, (line.node[:-1] + line.node[1:]) / 2, highest_bottom(line)))
            limit = float(dig_limit(np.array([gap]), bottom, clear, project.digging.side_slope)[0])
            limits[DIG] = min(limit, limits.get(DIG, np.inf))
    binds = min(limits, key=lambda reason: limits[reason])
    main = lines[0].wall
    datum = main.wall_top - part_of(project, main.part).wall_height - main.footing_thickness
    level = datum + np.floor((limits[binds] + FIT - datum) / rules.module) * rules.module
    return PlacedExtra(
        name=extra.name,
        kind=extra.kind,
        east=extra.east,
        north=extra.north,
        length=extra.length,
        width=extra.width,
        thickness=extra.thickness,
        bottom=reading(book, float(level)),
        binds=binds,
        sized_by=extra.sized_by,
    )


def _grades(
    plan: shapely.Polygon, survey: Survey | None, lines: tuple[FootingLine, ...], beside: Mapping[str, Beside]
) -> tuple[float, float]:
    """Lowest existing and finished grade over a footing's plan; beside the nearest wall where no shots tell."""
    east, north = np.array(plan.exterior.coords).T
    if survey is not None:
        grades = [surface.grade(east, north) for surface in (survey.existing, survey.finished)]
        if np.isfinite(grades[0]).any():
            finished = float(np.nanmin(grades[1])) if np.isfinite(grades[1]).any() else np.nan
            return float(np.nanmin(grades[0])), finished
    walls = [shapely.linestrings([line.wall.start_at, line.wall.end_at]) for line in lines]
    nearest = int(np.argmin([shapely.distance(plan, wall) for wall in walls]))
    at = float(shapely.line_locate_point(walls[nearest], shapely.centroid(plan)))
    ground = beside[lines[nearest].wall.name]
    return (
        float(np.interp(at, ground.existing.station, ground.existing.grade)),
        float(np.interp(at, ground.finished.station, ground.finished.grade)),
    )
