"""In-depth ground coupling cases of IEA SHC 34 / ECBCS 43 (NREL/TP-550-43388): a slab of 12 × 12 m on the ground.

Ground k 1.9 W/mK, 30 °C inside and 10 °C outside, far sides adiabatic; a quarter is solved, its sides are mirrors.

Case GC10a: half-space, the surface falls evenly over the wall strip of 0.24 m, mitred at the corners: 2432.597 W exact
[read].
Case GC30a: temperatures direct on the surfaces, wall strip adiabatic, ground 30 m deep to 10 °C and 20 m past the wall.
Published programs: 2585 to 2695 W [memory]; converged 2690 W [derived from four grids].
Case GC65b: films of 7.95 W/m²K inside and 11.95 outside, wall strip adiabatic, ground 15 m deep to 10 °C and 15 m past
the wall. Published programs: 1991 to 2004 W [memory]; converged 2001 W [derived from four grids].
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from foundation.heat.conduction import Body, steady
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Fixed, Patch

CONDUCTIVITY, INSIDE, OUTSIDE = 1.9, 30.0, 10.0
HALF_SLAB, WALL = 6.0, 0.24


def quarter(finest: float, growth: float, far: float, deep: float) -> tuple[Grid, np.ndarray]:
    """Grid of a quarter, and how far each cell lies past the slab, the farther of both ways. [m]"""
    edges = [0.0, HALF_SLAB, HALF_SLAB + WALL, HALF_SLAB + WALL + far]
    across = graded_lines(edges, [np.inf, finest, finest, np.inf], growth)
    grid = Grid((across, across, graded_lines([0.0, deep], [finest, np.inf], growth)))
    past = np.maximum(grid.centre(0), grid.centre(1)) - HALF_SLAB
    return grid, np.broadcast_to(past, grid.shape)


def loss(grid: Grid, patches: list[Patch]) -> float:
    """Heat into the floor of the whole slab. [W]"""
    found = steady(Body(grid, CONDUCTIVITY), patches)
    assert found.imbalance < 1e-9
    return 4 * found.flow["floor"]


def fixed_loss(finest: float, growth: float) -> float:
    """Case GC30a. [W]"""
    grid, past = quarter(finest, growth, far=20.0, deep=30.0)
    floor = Patch("floor", 2, End.LOW, Fixed(INSIDE), past < 0)
    ground = Patch("ground", 2, End.LOW, Fixed(OUTSIDE), past > WALL)
    return loss(grid, [floor, ground, Patch("deep", 2, End.HIGH, Fixed(OUTSIDE))])


def film_loss(finest: float, growth: float) -> float:
    """Case GC65b. [W]"""
    grid, past = quarter(finest, growth, far=15.0, deep=15.0)
    floor = Patch("floor", 2, End.LOW, Film(7.95, INSIDE), past < 0)
    ground = Patch("ground", 2, End.LOW, Film(11.95, OUTSIDE), past > WALL)
    return loss(grid, [floor, ground, Patch("deep", 2, End.HIGH, Fixed(OUTSIDE))])


def ramp_loss(finest: float, growth: float) -> float:
    """Case GC10a, with 300 m of ground. [W]"""
    grid, past = quarter(finest, growth, far=300.0, deep=300.0)
    falling = INSIDE - (INSIDE - OUTSIDE) * past / WALL
    floor = Patch("floor", 2, End.LOW, Fixed(INSIDE), past < 0)
    ramp = Patch("ramp", 2, End.LOW, Fixed(falling), (past > 0) & (past < WALL))
    return loss(grid, [floor, ramp, Patch("ground", 2, End.LOW, Fixed(OUTSIDE), past > WALL)])


def halved(loss_on: Callable[[float, float], float], finest: float, growth: float, grids: int) -> np.ndarray:
    """Losses on grids each of which halves the cells of the one before. [W]"""
    return np.array([loss_on(finest / 2**k, growth ** (0.5**k)) for k in range(grids)])


def test_gc10a() -> None:
    """Of second order, since the surface changes evenly: the limit lies a third of the last step farther."""
    coarse, fine = halved(ramp_loss, 0.04, 1.4, 2)
    assert fine == pytest.approx(2432.597, rel=0.005)
    assert fine + (fine - coarse) / 3 == pytest.approx(2432.597, rel=0.001)


def test_gc30a() -> None:
    """Of first order, at the edges of the wall strip: the limit lies the last step farther."""
    losses = halved(fixed_loss, 0.12, 1.4, 3)
    steps = np.diff(losses)
    assert np.log2(steps[0] / steps[1]) == pytest.approx(1, abs=0.1)
    assert losses[2] + steps[1] == pytest.approx(2690.0, rel=0.005)


def test_gc65b() -> None:
    assert film_loss(0.02, 1.15) == pytest.approx(2001.0, rel=0.003)


def test_gc65b_grids_approach_it_from_below() -> None:
    coarse, finer = film_loss(0.08, 1.3), film_loss(0.04, 1.3)
    assert coarse < finer < 2004.0
