"""In-depth ground coupling cases of IEA SHC 34 / ECBCS 43 (NREL/TP-550-43388): a slab of 12 × 12 m on the ground.

Case GC65b: films of 7.95 W/m²K inside at 30 °C and 11.95 outside at 10 °C, ground 15 m deep to 10 °C and 15 m past the
wall, wall strip of 0.24 m adiabatic, k 1.9 W/mK. Published programs: 1991 to 2004 W [memory]; converged 2001 W [derived
from four grids].
"""

from __future__ import annotations

import numpy as np
import pytest

from foundation.heat.conduction import Body, steady
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Fixed, Patch

HALF_SLAB, WALL, FAR, DEEP = 6.0, 0.24, 15.0, 15.0


def slab_loss(finest: float, growth: float) -> float:
    """Heat into the floor of a quarter of the slab, times four. [W]"""
    across = graded_lines(
        [0.0, HALF_SLAB, HALF_SLAB + WALL, HALF_SLAB + WALL + FAR], [np.inf, finest, finest, np.inf], growth
    )
    grid = Grid((across, across, graded_lines([0.0, DEEP], [finest, np.inf], growth)))
    middle = (across[1:] + across[:-1]) / 2
    under, beyond = middle < HALF_SLAB, middle > HALF_SLAB + WALL
    floor = np.broadcast_to((under[:, None] & under[None, :])[:, :, None], grid.shape)
    outside = np.broadcast_to((beyond[:, None] | beyond[None, :])[:, :, None], grid.shape)
    found = steady(
        Body(grid, 1.9),
        [
            Patch("floor", 2, End.LOW, Film(7.95, 30.0), floor),
            Patch("ground", 2, End.LOW, Film(11.95, 10.0), outside),
            Patch("deep", 2, End.HIGH, Fixed(10.0)),
        ],
    )
    assert abs(found.imbalance) < 1e-9 * float(np.sum(np.abs(found.flow["floor"])))
    return 4 * float(np.sum(found.flow["floor"]))


def test_gc65b() -> None:
    assert slab_loss(0.02, 1.15) == pytest.approx(2001.0, rel=0.003)


def test_gc65b_grids_approach_it_from_below() -> None:
    coarse, finer = slab_loss(0.08, 1.3), slab_loss(0.04, 1.3)
    assert coarse < finer < 2004.0
