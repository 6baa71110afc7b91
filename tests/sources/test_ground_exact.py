"""Ground heat with exact answers: floors on a half-space, and the wave of the year under open ground.

The rectangle is case GC10a of the in-depth ground coupling cases of IEA SHC Task 34 / ECBCS Annex 43, report
NREL/TP-550-43388 (2008): 2432.597 W [read]. The strip is the same problem without end walls [derived]. The wave is
the textbook one: H. S. Carslaw, J. C. Jaeger, *Conduction of Heat in Solids*, 2.6 [memory].
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import integrate

from foundation.heat.conduction import Body, annual, steady
from foundation.heat.exact import (
    YEAR,
    damping_depth,
    half_space_flux,
    half_space_wave,
    rectangle_loss,
    strip_loss,
)
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Fixed, Patch

WIDTH, RAMP, CONDUCTIVITY, DELTA_T = 12.0, 0.24, 1.9, 20.0  # of case GC10a


def test_rectangle_as_printed() -> None:
    loss = rectangle_loss(WIDTH, WIDTH, RAMP, CONDUCTIVITY, DELTA_T)
    assert loss == pytest.approx(2432.597, rel=1e-6)


def test_long_rectangle_is_a_strip() -> None:
    """Between two lengths the ends cancel: what a metre more loses is the strip."""
    longer = rectangle_loss(4001.0, WIDTH, RAMP, CONDUCTIVITY, DELTA_T)
    metre = longer - rectangle_loss(4000.0, WIDTH, RAMP, CONDUCTIVITY, DELTA_T)
    assert metre == pytest.approx(strip_loss(WIDTH, RAMP, CONDUCTIVITY, DELTA_T), rel=1e-4)


def test_strip_by_quadrature() -> None:
    """The flux under a floor of sharp edge is (k ΔT/π)(1/(x + s) + 1/(L + s − x)); integrate over floor and ramp."""

    def flux(x: float, s: float) -> float:
        return CONDUCTIVITY * DELTA_T / np.pi * (1 / (x + s) + 1 / (WIDTH + s - x))

    # x = t² takes the peak at the corner away
    total, _ = integrate.dblquad(
        lambda t, s: flux(t * t, s) * 2 * t, 1e-9, RAMP, 0, np.sqrt(WIDTH), epsrel=1e-8
    )
    assert total / RAMP == pytest.approx(strip_loss(WIDTH, RAMP, CONDUCTIVITY, DELTA_T), rel=1e-5)


def test_strip_by_finite_volumes() -> None:
    """Half a floor, 400 m of ground beyond and below it."""
    half, far = WIDTH / 2, 400.0
    grid = Grid(
        (
            graded_lines([0, half, half + RAMP, far], [1.0, 0.01, 0.01, np.inf], growth=1.15),
            graded_lines([0, far], [0.01, np.inf], growth=1.15),
        )
    )
    across = np.broadcast_to(grid.centre(0), grid.shape)
    falling = DELTA_T * (1 - (across - half) / RAMP)
    found = steady(
        Body(grid, CONDUCTIVITY),
        [
            Patch("floor", 1, End.LOW, Fixed(DELTA_T), across < half),
            Patch("ramp", 1, End.LOW, Fixed(falling), (across > half) & (across < half + RAMP)),
            Patch("outside", 1, End.LOW, Fixed(0.0), across > half + RAMP),
        ],
    )
    assert found.imbalance < 1e-9
    assert 2 * found.flow["floor"] == pytest.approx(strip_loss(WIDTH, RAMP, CONDUCTIVITY, DELTA_T), rel=0.01)


CLAY, CLAY_STORE = 1.5, 3.0e6  # clay or silt of ISO 13370 [W/(m·K)], [J/(m³·K)]


@pytest.mark.parametrize("axes", [2, 3])
def test_year_under_open_ground(axes: int) -> None:
    """Amplitude, lag and surface flux, down 20 m of clay: nine damping depths."""
    down = graded_lines([0, 20.0], [0.02, np.inf], growth=1.03)
    grid = Grid((*[np.array([0.0, 1.0, 3.0])] * (axes - 1), down))
    swing = 12.0 * np.exp(-0.7j)
    found = annual(Body(grid, CLAY, CLAY_STORE), [Patch("air", axes - 1, End.LOW, Fixed(8.0, swing))])
    assert found.swing.imbalance < 1e-9
    depth = grid.centre(axes - 1).ravel()
    shallow = depth < 3 * damping_depth(CLAY / CLAY_STORE)
    exact = swing * half_space_wave(depth, CLAY / CLAY_STORE)
    ratio = (found.swing.temperature / exact)[..., shallow]
    np.testing.assert_allclose(np.abs(ratio), 1, rtol=0, atol=0.005)
    np.testing.assert_allclose(np.angle(ratio), 0, rtol=0, atol=0.005)
    area = 3.0 ** (axes - 1)
    assert found.swing.flow["air"] / area == pytest.approx(
        swing * half_space_flux(CLAY, CLAY / CLAY_STORE), rel=0.005
    )
    assert found.mean.temperature == pytest.approx(np.full(grid.shape, 8.0), abs=1e-12)


def test_year_behind_a_film() -> None:
    """A film in series with the half-space: flux = swing / (1/h + 1/Y)."""
    grid = Grid((np.array([0.0, 1.0]), graded_lines([0, 25.0], [0.02, np.inf], growth=1.03)))
    found = annual(Body(grid, CLAY, CLAY_STORE), [Patch("air", 1, End.LOW, Film(2.0, 8.0, 10j))])
    flux = 10j / (1 / 2.0 + 1 / half_space_flux(CLAY, CLAY / CLAY_STORE))
    assert found.swing.flow["air"] == pytest.approx(flux, rel=0.005)
    assert found.flow("air", YEAR / 4) == pytest.approx(-flux.imag, rel=0.005)


def test_ground_wave_as_tabulated() -> None:
    """Tm 10, A 12, coldest surface on day 35, α 0.05 m²/day, at 2 m: day 1 9.188, day 182 10.678 [derived].

    The equation is that of T. Kusuda, P. R. Achenbach, *Earth temperature and thermal diffusivity at selected
    stations in the United States*, ASHRAE Transactions 71 (1965) [memory].
    """
    wave = half_space_wave(2.0, 0.05 / 86400)
    day = np.array([1.0, 182.0])
    found = 10 - 12 * np.real(wave * np.exp(2j * np.pi * (day - 35) / 365))
    np.testing.assert_allclose(found, [9.188, 10.678], rtol=0, atol=0.0005)
    coldest = 35 - np.angle(wave) * 365 / (2 * np.pi)
    assert coldest == pytest.approx(83.2, abs=0.05)
