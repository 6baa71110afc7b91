"""Reference cases 1 and 2 of ISO 10211, annex for the validation of numerical methods [memory].

ISO 10211:2017, *Thermal bridges in building construction – Heat flows and surface temperatures – Detailed
calculations*. The printed values are from memory; case 1 is also checked against its own Fourier series.
"""

from __future__ import annotations

import numpy as np
import pytest

from foundation.heat.conduction import Body, steady
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Fixed, Patch

HALF_COLUMN = np.array(
    [
        [9.7, 13.4, 14.7, 15.1],
        [5.3, 8.6, 10.3, 10.8],
        [3.2, 5.6, 7.0, 7.5],
        [2.0, 3.6, 4.7, 5.0],
        [1.3, 2.3, 3.0, 3.2],
        [0.7, 1.4, 1.8, 1.9],
        [0.3, 0.6, 0.8, 0.9],
    ]
)  # °C, rows downward, from the cold face to the line of symmetry, a quarter of the half-width apart


def column(cells: int) -> np.ndarray:
    """Temperatures of half a column (4 wide, 8 high) at its whole coordinates, by cells to each unit."""
    grid = Grid((np.linspace(0, 4, 4 * cells + 1), np.linspace(0, 8, 8 * cells + 1)))
    cold = Fixed(0.0)
    patches = [
        Patch("top", 1, End.LOW, Fixed(20.0)),
        Patch("side", 0, End.LOW, cold),
        Patch("bottom", 1, End.HIGH, cold),
    ]
    found = steady(Body(grid, 1.0), patches)
    assert found.imbalance < 1e-9
    around = np.pad(found.temperature, ((0, 1), (0, 0)), mode="edge")  # the mirror
    node = (around[:-1, :-1] + around[1:, :-1] + around[:-1, 1:] + around[1:, 1:]) / 4
    return node[cells - 1 :: cells, cells - 1 :: cells].T


def test_case_1_as_printed() -> None:
    np.testing.assert_allclose(column(16), HALF_COLUMN, rtol=0, atol=0.1)


def test_case_1_against_its_series() -> None:
    """T = Σ (80/nπ) sin(nπx/8) sinh(nπ(8 − y)/8) / sinh(nπ), n odd [derived]."""
    order = np.arange(1, 200, 2)[:, None, None]
    x, y = np.arange(1, 5)[None, None, :], np.arange(1, 8)[None, :, None]
    # sinh over sinh by exponentials that cannot overflow
    fall = np.exp(-order * np.pi * y / 8) * -np.expm1(-order * np.pi * (8 - y) / 4)
    fall /= -np.expm1(-2 * order * np.pi)
    series = np.sum(80 / (order * np.pi) * np.sin(order * np.pi * x / 8) * fall, axis=0)
    np.testing.assert_allclose(series, HALF_COLUMN, rtol=0, atol=0.0501)
    np.testing.assert_allclose(column(16), series, rtol=0, atol=0.005)


def test_case_2() -> None:
    """Concrete on insulation with a wooden strip and an aluminium profile; millimetres from the cold face."""
    across = graded_lines([0, 0.0135, 0.015, 0.5], [5e-4, 2.5e-4, 2.5e-4, np.inf], growth=1.15)
    down = graded_lines(
        [0, 0.006, 0.011, 0.0125, 0.046, 0.0475], [1e-3, 5e-4, 2.5e-4, 2.5e-4, 2.5e-4, 2.5e-4], growth=1.15
    )
    grid = Grid((across, down))
    conductivity = np.full(grid.shape, 0.029)
    whole = (0, 0.5)
    conductivity[grid.inside(whole, (0, 0.006))] = 1.15
    conductivity[grid.inside((0, 0.015), (0.006, 0.011))] = 0.12
    conductivity[grid.inside((0, 0.015), (0.011, 0.0125))] = 230
    conductivity[grid.inside((0.0135, 0.015), (0.0125, 0.046))] = 230
    conductivity[grid.inside(whole, (0.046, 0.0475))] = 230
    found = steady(
        Body(grid, conductivity),
        [
            Patch("cold", 1, End.LOW, Film(1 / 0.06, 0.0)),
            Patch("warm", 1, End.HIGH, Film(1 / 0.11, 20.0)),
        ],
    )
    assert found.imbalance < 1e-9
    assert found.flow["warm"] == pytest.approx(9.5, abs=0.1)
    cold, warm = found.surface["cold"], found.surface["warm"]
    corners = cold[0], cold[-1], warm[0], warm[-1]  # A, B, H, I
    assert corners == pytest.approx((7.1, 0.8, 16.8, 18.3), abs=0.1)
