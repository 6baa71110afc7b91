"""From grades and rules to the footing lines, the stepping problem and its answers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from foundation.footing.forms import panel_heights
from foundation.footing.limits import cell_nodes, dig_limit, floor_limit, frost_limit, lowest_in_cells
from foundation.footing.optimum import solve
from foundation.footing.problem import OBJECTIVES, highest_bottom, level_lattice, stepping_problem
from foundation.footing.schedule import describe
from foundation.model.problem import Problem
from foundation.model.stepping import SteppingProblem
from foundation.model.walls import FootingLine, Limit, LineChain, Stepping, StepRules, UnitPrices, WallLine
from foundation.plan.beside import Beside
from foundation.plan.collisions import explain
from foundation.plan.lines import PlanError, along_named, outline, slab_top
from foundation.project import Project
from foundation.project.schema import Part

Array = NDArray[np.float64]

FROST = "frost"
UNDISTURBED = "undisturbed ground"
BEARING = "bearing ground"
FLOOR = "floor build-up"
COLD_FLOOR = "frost under the unheated floor"
DIG = "the basement's dig"
TALLEST = 8.0
"""Tallest stack of form panels that is looked up. [m]"""


def unit_prices(project: Project) -> UnitPrices:
    """Prices that steppings are compared by.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    UnitPrices
        Per cubic metre, square metre and step.
    """
    prices = project.prices
    return UnitPrices(prices.concrete, prices.forms, prices.digging, prices.step)


def footing_lines(
    project: Project, walls: tuple[WallLine, ...], beside: dict[str, Beside], rules: StepRules
) -> tuple[FootingLine, ...]:
    """Wall lines cut into cells, each with every limit that keeps its footing down.

    Parameters
    ----------
    project : Project
        The project.
    walls : tuple of WallLine
        Its wall lines.
    beside : dict of str to Beside
        Grade beside each.
    rules : StepRules
        The step rules.

    Returns
    -------
    tuple of FootingLine
        In the order of the walls.
    """
    lines = [_footing_line(project, wall, beside[wall.name], rules) for wall in walls]
    return tuple(_beside_basement(project, line, lines) for line in lines)


def part_of(project: Project, name: str) -> Part:
    """A part by its name.

    Parameters
    ----------
    project : Project
        The project.
    name : str
        Name of the part.

    Returns
    -------
    Part
        The part.
    """
    return next(part for part in project.parts if part.name == name)


def counted_grade(project: Project, existing: Array, finished: Array) -> Array:
    """Grade from which frost depth is taken: the lower one, unless the office lets fill count.

    Parameters
    ----------
    project : Project
        The project.
    existing, finished : ndarray
        Grades, nan for none. [m]

    Returns
    -------
    ndarray
        Grade that counts. [m]
    """
    if project.frost.fill_counts:
        return np.where(np.isnan(finished), existing, finished)
    return np.fmin(existing, finished)


def _footing_line(project: Project, wall: WallLine, beside: Beside, rules: StepRules) -> FootingLine:
    frost, part = project.frost, part_of(project, wall.part)
    node = cell_nodes(wall.length, rules.station_grid)
    existing = np.interp(node, beside.existing.station, beside.existing.grade)
    finished = np.interp(node, beside.finished.station, beside.finished.grade)
    lowest_grade = {
        name: lowest_in_cells(profile.station, profile.grade, node)
        for name, profile in (("existing", beside.existing), ("finished", beside.finished))
    }
    to_top = frost.measured_to == "top of footing"
    full = np.ones(len(node) - 1)
    limits = []
    frost_line = np.full(len(node), np.nan)
    outdoors = not wall.beyond and part.use != "interior wall"

    def below(grade: Array) -> Array:
        return frost_limit(grade, frost.depth, wall.footing_thickness, to_top=to_top)

    if outdoors:
        counted = counted_grade(project, lowest_grade["existing"], lowest_grade["finished"])
        limits.append(Limit(FROST, below(counted)))
        frost_line = counted_grade(project, existing, finished) - frost.depth
    else:
        finished = np.full(len(node), np.nan)
    limits.append(Limit(UNDISTURBED, lowest_grade["existing"] - frost.into_undisturbed))
    if frost.bearing_level is not None:
        limits.append(Limit(BEARING, full * frost.bearing_level))
    if part.use != "porch":
        limits.append(
            Limit(FLOOR, full * floor_limit(slab_top(project, part), part.build_up, wall.footing_thickness))
        )
    cold = [part] if not part.is_heated else []
    if wall.beyond:
        other = part_of(project, wall.beyond)
        cold += [other] if not other.is_heated else []
    for space in cold:
        limits.append(Limit(COLD_FLOOR, below(full * slab_top(project, space))))
    lowest, why = _lowest(project, wall)
    return FootingLine(
        wall,
        node,
        existing,
        finished,
        frost_line,
        tuple(limits),
        lowest,
        why,
        _steps_allowed(project, wall, node, rules),
    )


def _lowest(project: Project, wall: WallLine) -> tuple[float, str]:
    """Lowest bottom of footing that forms and ground allow, and which of them says so."""
    tallest, deepest = project.rules.tallest_wall, project.digging.deepest
    bounds = [(-np.inf, "")]
    if tallest is not None:
        bounds.append((wall.wall_top - tallest - wall.footing_thickness, "the tallest wall"))
    if deepest is not None:
        bounds.append((deepest, "the deepest dig"))
    return max(bounds)


def _steps_allowed(project: Project, wall: WallLine, node: Array, rules: StepRules) -> NDArray[np.bool_]:
    """Nodes where a step may stand; the first and last speak of a step at a tee there."""
    clear = rules.corner_clearance - 1e-9
    allowed = (node >= clear) & (node <= wall.length - clear)
    # A step never stands at a corner itself, except at a tee, where only a branch reads these two.
    allowed[0] = allowed[-1] = True
    for closed in project.rules.no_steps:
        piece = along_named(project, closed.line, wall)
        if piece is not None:
            along = piece[0] + node / wall.length * (piece[1] - piece[0])
            allowed &= (along < closed.start - 1e-9) | (along > closed.end + 1e-9)
    return allowed


def _beside_basement(project: Project, line: FootingLine, lines: list[FootingLine]) -> FootingLine:
    """Add the limit of the basement's dig to a line of another part (its footing stands on undisturbed soil)."""
    found = []
    for part in project.parts:
        area = outline(project, part)
        if part.name == line.wall.part or part.use not in ("basement", "crawl space") or area is None:
            continue
        if part_of(project, line.wall.part).use in ("basement", "interior wall"):
            continue
        own = [other for other in lines if other.wall.part == part.name]
        along = line.node / line.wall.length
        places = np.outer(1 - along, line.wall.start_at) + np.outer(along, line.wall.end_at)
        distance = shapely.distance(shapely.points(places), area)
        # Each wall of the basement digs to its own depth; the nearest point of each decides.
        bottoms = []
        for other in own:
            edge = shapely.linestrings([other.wall.start_at, other.wall.end_at])
            points = shapely.points(places)
            gap = np.maximum(shapely.distance(points, edge), distance)
            at = shapely.line_locate_point(edge, points)
            cap = np.interp(at, (other.node[:-1] + other.node[1:]) / 2, highest_bottom(other))
            clear = other.wall.projection + project.digging.working_room + project.digging.over_dig
            bottoms.append(dig_limit(gap, cap, clear, project.digging.side_slope))
        node_limit = np.min(bottoms, axis=0)
        found.append(Limit(DIG, np.minimum(node_limit[:-1], node_limit[1:])))
    return replace(line, limits=(*line.limits, *found)) if found else line


def levels(project: Project, lines: tuple[FootingLine, ...], rules: StepRules) -> Array:
    """Levels that bottoms of footing may have: whole modules under the main part's wall forms.

    Parameters
    ----------
    project : Project
        The project.
    lines : tuple of FootingLine
        Its footing lines.
    rules : StepRules
        The step rules.

    Returns
    -------
    ndarray, shape (l,)
        Levels, increasing. [m]

    Raises
    ------
    PlanError
        If there would be too many.
    """
    wall = lines[0].wall
    part = part_of(project, wall.part)
    datum = wall.wall_top - part.wall_height - wall.footing_thickness
    caps = np.concatenate([highest_bottom(line) for line in lines])
    spare = max(2 * 0.3048, rules.module)
    try:
        return level_lattice(datum, rules.module, float(caps.min()), float(caps.max()), spare)
    except ValueError as error:
        raise PlanError((Problem("rules.module", f"{rules.module:g} m", str(error)),)) from None


def answers(
    project: Project, lines: tuple[FootingLine, ...], chains: tuple[LineChain, ...], rules: StepRules
) -> tuple[Stepping, ...]:
    """The best steppings: least cost, fewest steps, no fillers.

    Parameters
    ----------
    project : Project
        The project.
    lines : tuple of FootingLine
        Its footing lines.
    chains : tuple of LineChain
        How they join.
    rules : StepRules
        The step rules.

    Returns
    -------
    tuple of Stepping
        One for each objective.

    Raises
    ------
    PlanError
        If no stepping keeps the rules; the sentence says where, which rules collide, and what would free it.
    """
    prices, room = unit_prices(project), project.digging.working_room
    stacks = panel_heights(project.forms.heights, TALLEST)
    level = levels(project, lines, rules)

    def build(some: tuple[FootingLine, ...], under: StepRules) -> SteppingProblem:
        return stepping_problem(some, chains, level, under, prices, room, stacks)

    found = solve(build(lines, rules))
    result = []
    for name, answer in zip(OBJECTIVES, found, strict=True):
        if answer is None:
            raise PlanError((explain(project, lines, chains, rules, level, build),))
        bottoms: dict[str, Array] = {}
        for chain, indices in zip(chains, answer.levels, strict=True):
            cells = np.split(level[indices], np.cumsum([_cells(lines, name_) for name_ in chain.lines])[:-1])
            bottoms |= dict(zip(chain.lines, cells, strict=True))
        result.append(describe(name, bottoms, lines, chains, rules, prices, room, stacks))
    return tuple(result)


def _cells(lines: tuple[FootingLine, ...], name: str) -> int:
    return next(len(line.node) - 1 for line in lines if line.wall.name == name)
