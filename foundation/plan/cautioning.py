"""What the rules of the cautions ask for, gathered from a project and one stepping, and the cautions they return."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from foundation import cautions
from foundation.cautions import frost, ground, levels, may_initial, sheets, site_work, stage, steps
from foundation.cautions import walls as wall_traps
from foundation.cautions.ground import FALL_DISTANCE, Along
from foundation.footing.cover import inch_stations
from foundation.model.caution import Caution
from foundation.model.concrete import Opening, Walls
from foundation.model.cover import Cover
from foundation.model.ground import Profile
from foundation.model.levels import LevelBook
from foundation.model.walls import FootingLine, Stepping, StepRules, WallLine
from foundation.plan import nearness
from foundation.plan.beside import Beside
from foundation.plan.footings import COLD_FLOOR, part_of
from foundation.plan.ground import Survey
from foundation.plan.lines import along_named, slab_top
from foundation.plan.nearness import DUG_OUT
from foundation.plan.result import FallAway, PlacedExtra, ScheduleRow
from foundation.plan.walls import face_grade
from foundation.project import Project
from foundation.site.profile import fall_away, profile_along

__all__ = ["cautions_of", "may_initial"]

Array = NDArray[np.float64]
FOOT = 0.3048


def cautions_of(
    project: Project,
    stepping: Stepping,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    covers: Mapping[str, Cover],
    schedule: tuple[ScheduleRow, ...],
    walls: Walls,
    book: LevelBook,
    survey: Survey | None,
    rules: StepRules,
    extras: tuple[PlacedExtra, ...],
) -> tuple[Caution, ...]:
    """Every caution of one stepping.

    Parameters
    ----------
    project : Project
        The project.
    stepping : Stepping
        The answer.
    lines : tuple of FootingLine
        Its footing lines.
    beside : mapping of str to Beside
        Grade beside each wall.
    covers : mapping of str to Cover
        Its frost cover.
    schedule : tuple of ScheduleRow
        What the crew reads.
    walls : Walls
        The walls on it.
    book : LevelBook
        Marks and set-ups.
    survey : Survey or None
        The survey.
    rules : StepRules
        The step rules in force.
    extras : tuple of PlacedExtra
        Footings beside the network.

    Returns
    -------
    tuple of Caution
        Worst first.
    """
    around, work = project.surroundings, project.stage
    return cautions.worst_first(
        [
            *_of_levels(project, book, schedule),
            *_of_ground(project, lines, beside, survey, walls),
            *_of_frost(project, stepping, lines, beside, covers, survey),
            *_of_steps(project, stepping, lines, rules),
            *_of_digging(project, stepping, lines, walls, extras),
            *_of_walls(project, lines, beside, survey, walls),
            *stage.cold_pour(work.air_at_pour, work.frozen_ground),
            *stage.weak_mix(work.wall_concrete, work.garage_slab_concrete),
            *stage.temporary_heaters(work.temporary_heaters),
            *stage.stands_winter(work.stands_winter),
            *frost.snow_free_paving(covers, _named(project, around.melted, lines)),
            *sheets.sheets_of_different_revisions(
                [(sheet.sheet, sheet.revision) for sheet in project.issued], project.revision
            ),
        ]
    )


def _named(project: Project, names: Iterable[str], lines: tuple[FootingLine, ...]) -> set[str]:
    """Wall lines that lie on walls named by two corners."""
    return {
        line.wall.name
        for name in names
        for line in lines
        if along_named(project, name, line.wall) is not None
    }


def _outdoors(project: Project, lines: tuple[FootingLine, ...]) -> list[WallLine]:
    walls = [line.wall for line in lines]
    return [wall for wall in walls if not wall.beyond and part_of(project, wall.part).use != "interior wall"]


def _of_levels(project: Project, book: LevelBook, schedule: tuple[ScheduleRow, ...]) -> list[Caution]:
    around = project.surroundings
    found = [
        *levels.mark_not_checked(book),
        *levels.rod_too_long(book, [(f"footing of wall {row.line}", row.bottom) for row in schedule]),
    ]
    for garage in (part for part in project.parts if part.use == "garage"):
        slab = slab_top(project, garage)
        found += levels.drive_falls_to_door(garage.name, slab, around.drive_level, around.drain_at_door)
        found += levels.garage_low(garage.name, slab, around.street_level)
    return found


def _of_ground(
    project: Project,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    survey: Survey | None,
    walls: Walls,
) -> list[Caution]:
    graded = [wall for wall in _outdoors(project, lines) if beside[wall.name].has_finished]
    faces = {wall.name: face_grade(project, wall, beside[wall.name], survey) for wall in graded}
    falls = _falls_along(project, lines, beside, survey)
    heights = {wall.name: _concrete_over_grade(wall, faces[wall.name], walls) for wall in graded}
    veneered = {ledge.line for ledge in walls.ledges if ledge.veneer}
    doors = [
        (door, _door_over_grade(project, door, part, faces[door.line]))
        for door in walls.openings
        if door.line in faces and door.kind in ("door", "overhead door")
        for part in [next(wall.part for wall in graded if wall.name == door.line)]
    ]
    return [
        *ground.grade_does_not_fall_away(falls, _named(project, project.surroundings.paved, lines)),
        *ground.steep_slope_near(falls),
        *ground.concrete_near_grade(heights, veneered),
        *ground.wood_near_soil(heights, project.surroundings.sill_treated),
        *ground.framing_near_paving(doors),
    ]


def _falls_along(
    project: Project, lines: tuple[FootingLine, ...], beside: Mapping[str, Beside], survey: Survey | None
) -> Along:
    """For each outdoor wall on finished ground, how far that falls straight out, a foot apart."""
    if survey is None or not survey.has_finished:
        return {}
    graded = [wall for wall in _outdoors(project, lines) if beside[wall.name].has_finished]
    return {w.name: _falls(survey, w.start_at, w.end_at, w.outward, w.length) for w in graded}


def falls_of(
    project: Project, lines: tuple[FootingLine, ...], beside: Mapping[str, Beside], survey: Survey | None
) -> tuple[FallAway, ...]:
    """How finished ground falls away from each outdoor wall.

    Parameters
    ----------
    project : Project
        The project.
    lines : tuple of FootingLine
        Its footing lines.
    beside : mapping of str to Beside
        Grade beside each.
    survey : Survey or None
        Its survey.

    Returns
    -------
    tuple of FallAway
        The least fall of each wall that has ground ten feet out anywhere.
    """
    found = []
    for name, (station, fall) in _falls_along(project, lines, beside, survey).items():
        if np.isfinite(fall).any():
            least = int(np.nanargmin(fall))
            found.append(FallAway(name, float(station[least]), float(fall[least])))
    return tuple(found)


@functools.lru_cache(maxsize=256)
def _falls(
    survey: Survey,
    start: tuple[float, float],
    end: tuple[float, float],
    outward: tuple[float, float],
    length: float,
) -> tuple[Array, Array]:
    """Stations a foot apart, and how far finished ground falls straight out from each."""
    station = np.append(np.arange(0.0, length - 1e-6, FOOT), length)
    share = station[:, None] / length
    places = (1 - share) * start + share * end
    fall = [fall_away(survey.finished, (east, north), outward, FALL_DISTANCE) for east, north in places]
    return station, np.array(fall)


def _concrete_over_grade(wall: WallLine, face: Profile, walls: Walls) -> tuple[Array, Array]:
    """Stations an inch apart, and the height of concrete over finished grade, nan at doors."""
    station = inch_stations(wall.length)
    top = np.full(len(station), np.nan)
    for piece in (piece for piece in walls.pieces if piece.line == wall.name):
        here = (station >= piece.start - 1e-6) & (station <= piece.end + 1e-6)
        top[here] = np.fmin(top[here], piece.top)
    for door in walls.openings:
        if door.line == wall.name and door.kind in ("door", "overhead door"):
            top[(station >= door.start - 1e-6) & (station <= door.end + 1e-6)] = np.nan
    return station, top - np.interp(station, face.station, face.grade)


def _door_over_grade(project: Project, door: Opening, part: str, face: Profile) -> float:
    """Height of a door's floor over the highest finished grade along it."""
    inner = face.station[(face.station > door.start) & (face.station < door.end)]
    grade = np.interp([door.start, *inner, door.end], face.station, face.grade)
    floor = slab_top(project, part_of(project, part)) if door.kind == "overhead door" else door.bottom
    return floor - float(grade.max())


def _existing_at_face(
    project: Project, wall: WallLine, beside: Beside, survey: Survey | None, station: Array
) -> Array:
    """Existing grade at a wall's face: the typed table where there is one, else the surface."""
    typed = any(
        table.surface != "finished" and along_named(project, table.line, wall) is not None
        for table in project.ground.walls
    )
    profile = beside.existing
    if survey is not None and not typed:
        profile = _surveyed_existing(survey, wall.start_at, wall.end_at)
    return np.interp(station, profile.station, profile.grade)


@functools.lru_cache(maxsize=256)
def _surveyed_existing(survey: Survey, start: tuple[float, float], end: tuple[float, float]) -> Profile:
    return profile_along(survey.existing, start, end)


def _of_frost(
    project: Project,
    stepping: Stepping,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    covers: Mapping[str, Cover],
    survey: Survey | None,
) -> list[Caution]:
    asked = project.frost
    found = [
        *frost.frost_unsourced(asked.source, asked.date is not None),
        *frost.cover_short(covers, asked.depth),
        *frost.frost_from_side(covers),
        *frost.no_finished_grade([name for name in covers if not beside[name].has_finished]),
        *frost.unheated_space_inside(_cold_floors(project, stepping, lines), asked.depth),
    ]
    if asked.fill_counts:
        lower = {}
        for name, cover in covers.items():
            existing, finished = (
                np.interp(cover.station, profile.station, profile.grade)
                for profile in (beside[name].existing, beside[name].finished)
            )
            lower[name] = cover.station, cover.straight_down - np.maximum(finished - existing, 0.0)
        return [*found, *frost.depth_from_fill(lower, asked.depth)]
    fill = {}
    for wall in _outdoors(project, lines):
        if beside[wall.name].has_finished:
            station = inch_stations(wall.length)
            face = face_grade(project, wall, beside[wall.name], survey)
            existing = _existing_at_face(project, wall, beside[wall.name], survey, station)
            fill[wall.name] = station, np.interp(station, face.station, face.grade) - existing
    return [*found, *frost.fill_not_counted(fill)]


def _cold_floors(
    project: Project, stepping: Stepping, lines: tuple[FootingLine, ...]
) -> list[frost.ColdFloor]:
    """Footings beside a space that nobody heats; a porch has no space inside its wall."""
    found = []
    for line in lines:
        wall, bottom = line.wall, stepping.bottoms[line.wall.name]
        to_top = project.frost.measured_to == "top of footing"
        level = bottom + (wall.footing_thickness if to_top else 0.0)
        highest = int(level.argmax())
        governs = any(run.line == wall.name and run.binds == COLD_FLOOR for run in stepping.runs)
        for part in (part_of(project, name) for name in (wall.part, wall.beyond) if name):
            if not part.is_heated and part.use != "porch":
                cover = slab_top(project, part) - float(level[highest])
                found.append(frost.ColdFloor(wall.name, part.name, cover, float(line.node[highest]), governs))
    return found


def _of_steps(
    project: Project, stepping: Stepping, lines: tuple[FootingLine, ...], rules: StepRules
) -> list[Caution]:
    work = project.stage
    slopes = {
        line.wall.name: size.footing_slope
        for part in project.parts
        for size in part.walls
        for line in lines
        if size.footing_slope is not None
        and line.wall.part == part.name
        and along_named(project, size.line, line.wall) is not None
    }
    return [
        *steps.step_outside_rules(stepping.steps, rules),
        *steps.slope_not_stepped(slopes),
        *steps.thin_leg(
            stepping.steps,
            {line.wall.name: rules.leg or line.wall.footing_thickness for line in lines},
            {line.wall.name: line.wall.footing_width for line in lines},
            work.leg_width,
        ),
        *steps.bars_not_through(stepping.steps, work.bars_through_steps),
    ]


def _of_digging(
    project: Project,
    stepping: Stepping,
    lines: tuple[FootingLine, ...],
    walls: Walls,
    extras: tuple[PlacedExtra, ...],
) -> list[Caution]:
    beds = nearness.beds_of(project, stepping, lines, extras)
    beside = nearness.footings_beside_dig(project, stepping, lines, beds)
    over = site_work.footing_over_dig(beside)
    told = {caution.where for caution in over}
    deepest = []
    for line in lines:
        existing = np.maximum(line.existing[:-1], line.existing[1:])
        depth = existing - stepping.bottoms[line.wall.name]
        worst = int(depth.argmax())
        deepest.append((line.wall.name, float(line.node[worst]), float(depth[worst])))
    return [
        *site_work.inside_line_of_another(nearness.separate_footings(project, beds)),
        *site_work.step_in_loose_soil(
            len(stepping.steps), project.digging.soil_class, project.stage.over_dig == "yes"
        ),
        *over,
        *site_work.footing_beside_dig(each for each in beside if each.name not in told),
        *site_work.dig_inside_line(nearness.trenches_below(project, beds)),
        *site_work.pipe_through_footing(nearness.pipes_across(project, beds, walls.openings)),
        *site_work.opening_at_height_change(walls.openings, walls.pieces),
        *site_work.deep_dig(deepest, project.stage.dig_protection),
    ]


def _of_walls(
    project: Project,
    lines: tuple[FootingLine, ...],
    beside: Mapping[str, Beside],
    survey: Survey | None,
    walls: Walls,
) -> list[Caution]:
    by_name = {line.wall.name: line.wall for line in lines}
    filled = {
        wall.name: wall.beyond
        for wall in by_name.values()
        if wall.beyond and part_of(project, wall.beyond).use in ("garage", "porch")
    }
    soil: dict[str, tuple[Array, Array]] = {}
    sides: dict[str, dict[tuple[str, ...], tuple[tuple[float, float], float]]] = {}
    for fill in walls.fills:
        part = part_of(project, by_name[fill.line].part)
        if part.use in DUG_OUT:
            soil[fill.line] = fill.station, np.maximum(fill.outside - slab_top(project, part), 0.0)
            _add_side(sides.setdefault(part.name, {}), by_name[fill.line], float(soil[fill.line][1].max()))
    under = _fill_under_slabs(project, lines, beside, survey)
    ledges = [
        (ledge, under.get((by_name[ledge.line].part, ledge.line), (0.0, 0.0))) for ledge in walls.ledges
    ]
    deepest: dict[str, tuple[float, str, float]] = {}
    for (name, line), (depth, station) in under.items():
        if name not in deepest or depth > deepest[name][0]:
            deepest[name] = depth, line, station
    full_top = {name: wall.wall_top for name, wall in by_name.items()}
    return [
        *wall_traps.backfill_before_support(walls.fills),
        *wall_traps.wall_over_10_ft(walls.pieces),
        *wall_traps.wall_under_garage_fill(walls.fills, filled),
        *wall_traps.wall_below_floor(walls.pieces, full_top, soil),
        *wall_traps.retaining_wall(walls.fills, _named(project, project.surroundings.surcharge, lines)),
        *wall_traps.unequal_walls(sides),
        *wall_traps.slab_on_deep_fill(deepest),
        *wall_traps.ledge_over_fill((ledge, depth) for ledge, (depth, _) in ledges),
        *wall_traps.ledge_does_not_fit(walls.ledges),
        *wall_traps.slab_on_bare_ledge(walls.ledges),
    ]


def _add_side(
    sides: dict[tuple[str, ...], tuple[tuple[float, float], float]], wall: WallLine, soil: float
) -> None:
    """Put a wall line to the lines of its part that face the same way."""
    for names, (outward, most) in sides.items():
        if outward[0] * wall.outward[0] + outward[1] * wall.outward[1] > 0.99:
            del sides[names]
            sides[(*names, wall.name)] = outward, max(most, soil)
            return
    sides[(wall.name,)] = wall.outward, soil


def _fill_under_slabs(
    project: Project, lines: tuple[FootingLine, ...], beside: Mapping[str, Beside], survey: Survey | None
) -> dict[tuple[str, str], tuple[float, float]]:
    """For each part with a slab and each wall line round it: the deepest fill under the slab, and its station.

    Fill is what lies between the ground as it is and the underside of the slab; the trench of the footing itself,
    which is filled again beside every wall, is not counted.
    """
    found = {}
    for part in project.parts:
        if part.use in ("crawl space", "interior wall"):
            continue
        underside = slab_top(project, part) - part.slab_thickness
        for line in lines:
            if part.name in (line.wall.part, line.wall.beyond):
                existing = _existing_at_face(project, line.wall, beside[line.wall.name], survey, line.node)
                depth = underside - existing
                worst = int(depth.argmax())
                found[part.name, line.wall.name] = float(depth[worst]), float(line.node[worst])
    return found
