"""The stepping problem of a building: levels, allowed steps, and what each cell costs at each level."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.footing.forms import needs_filler
from foundation.model.stepping import SteppingProblem, Steps, Stretch
from foundation.model.walls import FootingLine, LineChain, StepRules, UnitPrices, WallLine

Array = NDArray[np.float64]

OBJECTIVES = ("least cost", "fewest steps", "no fillers")
FIT = 1e-6
"""Levels and lengths closer than a micrometre are equal. [m]"""
INCH = 0.0254
MOST_LEVELS = 400


@dataclass(frozen=True)
class CellTake:
    """What cells of wall and footing take at each level.

    Attributes
    ----------
    concrete : ndarray
        Footing and wall. [m³]
    forms : ndarray
        Wall forms on both faces. [m²]
    digging : ndarray
        Trench below existing grade. [m³]
    """

    concrete: Array
    forms: Array
    digging: Array


def cell_take(wall: WallLine, width: Array, existing: Array, bottom: Array, working_room: float) -> CellTake:
    """What cells take with their footing at a level.

    Parameters
    ----------
    wall : WallLine
        The wall.
    width : ndarray
        Length of the cells along the wall. [m]
    existing : ndarray
        Mean existing grade of the cells; nan where none is known, which counts no digging. [m]
    bottom : ndarray
        Bottom of footing; the arrays broadcast. [m]
    working_room : float
        Room dug beside the footing on each side. [m]

    Returns
    -------
    CellTake
        Concrete, forms and digging, broadcast shape.
    """
    height = np.maximum(0.0, wall.wall_top - bottom - wall.footing_thickness)
    footing = wall.footing_width * wall.footing_thickness
    depth = np.maximum(0.0, np.nan_to_num(existing - bottom, nan=0.0))
    return CellTake(
        concrete=width * (footing + wall.wall_thickness * height),
        forms=width * 2 * height,
        digging=width * (wall.footing_width + 2 * working_room) * depth,
    )


def leg_concrete(wall: WallLine, rise: Array, leg: float) -> Array:
    """Concrete in the vertical legs of steps: full footing width.

    Parameters
    ----------
    wall : WallLine
        The wall on the stepped footing.
    rise : ndarray
        Height of each step, >= 0. [m]
    leg : float
        Thickness of the leg; 0 takes the footing's own. [m]

    Returns
    -------
    ndarray
        Concrete. [m³]
    """
    return rise * wall.footing_width * (leg or wall.footing_thickness)


def level_lattice(datum: float, module: float, lowest: float, highest: float, spare: float) -> Array:
    """The levels that bottoms of footing may have.

    Parameters
    ----------
    datum : float
        A level of the lattice: the main footing's bottom under the wall forms. [m]
    module : float
        Distance between levels. [m]
    lowest, highest : float
        Lowest and highest limit anywhere. [m]
    spare : float
        How far below the lowest limit levels are still offered. [m]

    Returns
    -------
    ndarray, shape (l,)
        Levels, increasing; none above the highest limit, and at least one at or below the lowest. [m]

    Raises
    ------
    ValueError
        If the module would make more than 400 levels.
    """
    first = np.floor((lowest + FIT - datum) / module) - np.floor(spare / module + 1e-9)
    last = np.floor((highest + FIT - datum) / module)
    if last - first + 1 > MOST_LEVELS:
        raise ValueError(
            f"A module of {module / INCH:.4g} in makes {last - first + 1:.0f} levels between "
            f"{lowest / 0.3048:.2f} ft and {highest / 0.3048:.2f} ft; at most {MOST_LEVELS} can be planned. "
            "Use a coarser module, or check the grades."
        )
    return datum + np.arange(first, last + 1) * module


def allowed_steps(
    level: Array, rules: StepRules
) -> tuple[NDArray[np.int64], NDArray[np.int64], Array, Array]:
    """Every step between two levels that the rules allow, with the runs it needs.

    Parameters
    ----------
    level : ndarray, shape (l,)
        The levels. [m]
    rules : StepRules
        The rules.

    Returns
    -------
    before, after : ndarray of int, shape (p,)
        Level indices on either side of the step.
    run_before, run_after : ndarray, shape (p,)
        Least length of the run on either side. [m]
    """
    rise = level[None, :] - level[:, None]
    modules = np.abs(rise) / rules.module
    allowed = (np.abs(rise) > FIT) & (np.abs(rise) <= rules.rise + FIT)
    allowed &= np.abs(modules - np.round(modules)) * rules.module < FIT
    before, after = np.nonzero(allowed)
    height = rise[before, after]
    by_ratio = np.abs(height) / rules.rise_over_run
    lower_is_before = height > 0
    both = rules.ratio_binds_both
    run_before = np.maximum(rules.run, np.where(lower_is_before | both, by_ratio, 0.0))
    run_after = np.maximum(rules.run, np.where(~lower_is_before | both, by_ratio, 0.0))
    return before, after, run_before, run_after


def highest_bottom(line: FootingLine) -> Array:
    """The tightest of a line's limits in each cell.

    Parameters
    ----------
    line : FootingLine
        The line.

    Returns
    -------
    ndarray, shape (n,)
        Highest bottom of footing that every limit allows. [m]
    """
    return np.min([limit.highest for limit in line.limits], axis=0)


def mean_existing(line: FootingLine) -> Array:
    """Mean existing grade of each cell.

    Parameters
    ----------
    line : FootingLine
        The line.

    Returns
    -------
    ndarray, shape (n,)
        Existing grade. [m]
    """
    return (line.existing[:-1] + line.existing[1:]) / 2


def stepping_problem(
    lines: Sequence[FootingLine],
    chains: Sequence[LineChain],
    level: Array,
    rules: StepRules,
    prices: UnitPrices,
    working_room: float,
    stacks: Array,
) -> SteppingProblem:
    """Put the network, the rules and the prices in the optimiser's terms.

    Money is counted in whole units of a millionth of a dollar (coarser on a very large building) over the
    highest level, so that sums are exact, ties are real, and the second aim (fewer steps, or less money) is
    carried in the lower digits without disturbing the first.

    Parameters
    ----------
    lines : sequence of FootingLine
        The wall lines, cut into cells.
    chains : sequence of LineChain
        How they join.
    level : ndarray, shape (l,)
        Levels that a bottom of footing may have. [m]
    rules : StepRules
        What a step may be.
    prices : UnitPrices
        What things cost.
    working_room : float
        Room dug beside the footing on each side. [m]
    stacks : ndarray, shape (k,)
        Wall heights that whole panels make. [m]

    Returns
    -------
    SteppingProblem
        Three objectives: least cost (ties: fewer steps), fewest steps (ties: less money), and least length of
        wall that needs a filler (ties: less money).
    """
    by_name = {line.wall.name: line for line in lines}
    before, after, run_before, run_after = allowed_steps(level, rules)
    rise = np.abs(level[after] - level[before])
    filler, forbidden, step_money = {}, {}, {}
    for name, line in by_name.items():
        height = line.wall.wall_top - level - line.wall.footing_thickness
        filler[name] = np.round(np.diff(line.node) / INCH)[:, None] * needs_filler(height, stacks)[None, :]
        too_high = level[None, :] > highest_bottom(line)[:, None] + FIT
        forbidden[name] = too_high | (level < line.lowest - FIT)[None, :]
        step_money[name] = leg_concrete(line.wall, rise, rules.leg) * prices.concrete + prices.step

    unit = 1e-6
    while True:
        money = {
            name: _whole_money(line, level, prices, working_room, unit) for name, line in by_name.items()
        }
        steps_whole = {name: np.round(each / unit) for name, each in step_money.items()}
        most = sum(float(each.max(axis=1).sum()) for each in money.values())
        most += MOST_STEPS * max((float(each.max(initial=0.0)) for each in steps_whole.values()), default=0.0)
        big = 2.0 ** np.ceil(np.log2(most + 2))
        lead = MOST_STEPS + sum(float(each.max(axis=1).sum()) for each in filler.values())
        if big * max(lead, TIE) < 2.0**52:
            break
        unit *= 10

    stretches = []
    for chain in chains:
        cells = [by_name[name] for name in chain.lines]
        offsets = np.concatenate([[0.0], np.cumsum([line.wall.length for line in cells])])
        position = np.concatenate(
            [[0.0], *(offset + line.node[1:] for offset, line in zip(offsets, cells, strict=False))]
        )
        allowed = np.concatenate([[cells[0].step_allowed[0]], *(line.step_allowed[1:] for line in cells)])
        # Never at a plain corner; a line's own ends speak of a step at a tee there.
        allowed[np.cumsum([len(line.node) - 1 for line in cells])[:-1]] = False
        if chain.closed:
            allowed[[0, -1]] = False
        dollars = np.concatenate([money[line.wall.name] for line in cells])
        fill = np.concatenate([filler[line.wall.name] for line in cells])
        stop = np.concatenate([forbidden[line.wall.name] for line in cells])
        cost = np.stack([dollars * TIE, dollars, fill * big + dollars])
        per_step = steps_whole[chain.lines[0]]
        stretches.append(
            Stretch(
                name=" ".join(chain.lines),
                position=position,
                step_allowed=allowed,
                cost=np.where(stop[None], np.inf, cost),
                step_cost=np.stack([per_step * TIE + 1, per_step + big, per_step]),
                start=chain.start,
                end=chain.end,
                start_branches=chain.start_branches,
                end_branches=chain.end_branches,
                closed=chain.closed,
            )
        )
    nothing = np.zeros((len(OBJECTIVES), len(before)))  # each stretch has its own
    return SteppingProblem(level, tuple(stretches), Steps(before, after, run_before, run_after, nothing))


def _whole_money(
    line: FootingLine, level: Array, prices: UnitPrices, working_room: float, unit: float
) -> Array:
    """Money of each cell at each level over the highest level, as whole units.

    What an even wall costs grows by the same whole number for each level down and each sixteenth of an inch
    along, so that layouts which tie on site tie here too: rounding cell by cell would tell them apart.
    """
    width = np.diff(line.node)
    existing = mean_existing(line)
    wall = line.wall
    take = cell_take(wall, width[:, None], existing[:, None], level[None, :], working_room)
    exact = take.concrete * prices.concrete + take.forms * prices.forms + take.digging * prices.digging
    trench = np.where(np.isnan(existing), 0.0, wall.footing_width + 2 * working_room)
    per_face = wall.wall_thickness * prices.concrete + 2 * prices.forms + trench * prices.digging
    down = level[-1] - level
    even = width[:, None] * down[None, :] * per_face[:, None]
    spacing = level[1] - level[0] if len(level) > 1 else 1.0
    sixteenths = np.round(width / (INCH / 16))
    rate = np.round(per_face * spacing * (INCH / 16) / unit)
    whole = sixteenths[:, None] * np.round(down / spacing)[None, :] * rate[:, None]
    # Where a wall has run out of height or a footing stands above grade, the cost is not even.
    return whole + np.round((exact - exact[:, -1:] - even) / unit)


TIE = 512
"""More than the steps any building has: one step in the lower digits never outweighs a unit of money."""
MOST_STEPS = 200
"""More steps than any building has."""
