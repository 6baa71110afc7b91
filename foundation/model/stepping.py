"""Nouns of the stepping problem: what the optimiser is given and what it answers.

A network of footings is cut into *stretches* at the tees where footings meet. A stretch is a row of short
cells; each cell lies at one of a finite set of levels, and a *step* is a change of level at a node between
two cells. A *run* is a stretch of equal level between whatever bounds it: two steps, a tee, or a free end.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Steps:
    """The steps that a rule set allows, one entry for each ordered pair of levels.

    Attributes
    ----------
    before, after : ndarray of int, shape (p,)
        Index of the level on the side of the smaller and of the larger station.
    run_before, run_after : ndarray, shape (p,)
        Least length of the run that ends, and of the run that begins, at the step. [m]
    cost : ndarray, shape (o, p)
        Cost of the step under each objective. [objective's own unit]
    """

    before: NDArray[np.int64]
    after: NDArray[np.int64]
    run_before: NDArray[np.float64]
    run_after: NDArray[np.float64]
    cost: NDArray[np.float64]


@dataclass(frozen=True)
class Stretch:
    """A row of cells between two tees or free ends, or a closed ring without a tee.

    Attributes
    ----------
    name : str
        Named by its end corners.
    position : ndarray, shape (n + 1,)
        Distance of the nodes from the stretch's start, strictly increasing from 0. [m]
    step_allowed : ndarray of bool, shape (n + 1,)
        Whether a step may stand at the node. The first and last entries speak of a step at the tee itself
        and are read only where the stretch is a branch there; on a closed ring entry 0 speaks of the joint
        and the last entry repeats it.
    cost : ndarray, shape (o, n, l)
        Cost of each cell at each level under each objective, inf where the level is not allowed.
        [objective's own unit]
    start, end : str or None
        Name of the tee at either end; None for a free end.
    start_branches, end_branches : bool
        True where this stretch tees into a footing that runs through: it shares that footing's level or
        steps at the tee. False where it is the footing that runs through: it has the tee's own level.
    closed : bool
        True for a ring without a tee: its end is its start.
    step_cost : ndarray, shape (o, p), or None
        Cost of each step on this stretch, where it differs from the one that ``Steps`` gives.
        [objective's own unit]
    """

    name: str
    position: NDArray[np.float64]
    step_allowed: NDArray[np.bool_]
    cost: NDArray[np.float64]
    start: str | None = None
    end: str | None = None
    start_branches: bool = False
    end_branches: bool = False
    closed: bool = False
    step_cost: NDArray[np.float64] | None = None


@dataclass(frozen=True)
class SteppingProblem:
    """Everything the optimiser needs.

    Attributes
    ----------
    level : ndarray, shape (l,)
        The levels that a bottom of footing may have, increasing. [m]
    stretches : tuple of Stretch
        The network; stretches meet where they name the same tee.
    steps : Steps
        The steps that may be taken between the levels.
    """

    level: NDArray[np.float64]
    stretches: tuple[Stretch, ...]
    steps: Steps


@dataclass(frozen=True)
class SteppingAnswer:
    """The best levels under one objective.

    Attributes
    ----------
    cost : float
        Its cost, the sum over cells and steps. [objective's own unit]
    levels : tuple of ndarray of int
        For each stretch the level index of each of its cells, shape (n,).
    tees : mapping of str to int
        Level index of the footing that runs through each tee.
    """

    cost: float
    levels: tuple[NDArray[np.int64], ...]
    tees: Mapping[str, int]
