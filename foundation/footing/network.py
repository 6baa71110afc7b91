"""The levels of all tees: they are settled one by one, each at its best for the levels of its neighbours."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foundation.footing.ends import Weight
from foundation.footing.recurrence import Array

MOST_NEIGHBOURS = 3
"""Most other tees whose levels may bear at once on the level of one. [-]"""
MOST_COMBINATIONS = 40_000_000
"""Most combinations of levels kept at once, about 0.3 GB. [-]"""


def settle(
    weights: Sequence[Weight], tees: Sequence[str], levels: int, objectives: int
) -> tuple[Array, NDArray[np.intp]]:
    """Choose the levels of all tees.

    A tee with the fewest neighbours is settled first: for every combination of its neighbours' levels its own
    best one is found, and what that costs is a weight between the neighbours. In the end nothing is left to
    choose, and the levels are read back in the other order.

    Parameters
    ----------
    weights : sequence of Weight
        What the stretches cost by the levels of their tees.
    tees : sequence of str
        All tees.
    levels : int
        Number of levels. [-]
    objectives : int
        Number of objectives. [-]

    Returns
    -------
    cost : ndarray, shape (o,)
        Least cost, inf where nothing fits. [objective's own unit]
    chosen : ndarray of int, shape (o, t)
        Level index of each tee in the order of ``tees``; among equals the higher level. [-]

    Raises
    ------
    ValueError
        If more than three other tees would bear at once on one.
    """
    left, open_tees = list(weights), list(tees)
    settled: list[tuple[str, tuple[str, ...], list[Weight]]] = []
    while open_tees:
        near = {tee: _neighbours(tee, left, tees) for tee in open_tees}
        tee = min(open_tees, key=lambda name: len(near[name]))
        if len(near[tee]) > MOST_NEIGHBOURS or objectives * levels ** len(near[tee]) > MOST_COMBINATIONS:
            raise ValueError(
                f"The footings meet in too close a mesh: the levels of {', '.join(near[tee])} bear at once "
                f"on the level of {tee}, {levels} levels each. {MOST_NEIGHBOURS} such tees and "
                f"{MOST_COMBINATIONS:,} combinations can be weighed; one inner footing less, or fewer "
                "levels, would do."
            )
        mine = [weight for weight in left if tee in weight.tees]
        left = [weight for weight in left if tee not in weight.tees]
        least = np.full((objectives,) + (levels,) * len(near[tee]), np.inf)
        for level in range(levels):
            np.minimum(least, _together(mine, tee, level, near[tee], objectives), out=least)
        left.append(Weight(near[tee], least))
        settled.append((tee, near[tee], mine))
        open_tees.remove(tee)
    cost = sum((weight.cost for weight in left), np.zeros(objectives))
    chosen = np.zeros((objectives, len(tees)), np.intp)
    for objective in np.flatnonzero(np.isfinite(cost)):
        known: dict[str, int] = {}
        for tee, _, mine in reversed(settled):
            costs = np.zeros(levels)
            for weight in mine:
                costs = (
                    costs
                    + weight.cost[objective][
                        tuple(slice(None) if name == tee else known[name] for name in weight.tees)
                    ]
                )
            known[tee] = levels - 1 - int(costs[::-1].argmin())
        chosen[objective] = [known[tee] for tee in tees]
    return cost, chosen


def _neighbours(tee: str, weights: Sequence[Weight], order: Sequence[str]) -> tuple[str, ...]:
    """The other tees that share a weight with this one, in a fixed order."""
    near = {name for weight in weights if tee in weight.tees for name in weight.tees} - {tee}
    return tuple(name for name in order if name in near)


def _together(
    weights: Sequence[Weight], tee: str, level: int, near: tuple[str, ...], objectives: int
) -> Array:
    """Sum of the weights at one level of a tee, for every combination of its neighbours' levels."""
    whole = np.zeros((objectives,) + (1,) * len(near))
    for weight in weights:
        part: Array = np.take(weight.cost, level, axis=1 + weight.tees.index(tee))
        names = [name for name in weight.tees if name != tee]
        part = part.transpose(0, *(1 + names.index(name) for name in near if name in names))
        part = part[(slice(None), *(slice(None) if name in names else None for name in near))]
        whole = whole + part
    return whole
