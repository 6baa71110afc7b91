"""Neumann's exact freezing front: a half-space of one temperature, its surface taken below 0 °C at once.

H. S. Carslaw, J. C. Jaeger, *Conduction of Heat in Solids*, 2nd ed., 11.2: the front stands at 2 λ √(a t), a the
diffusivity of the frozen side, and each side follows an error function [memory]. With equal properties it is the
modified Berggren formula of UFC 3-130-06, whose worked example (sandy silt, air index 2500 °F·d in 160 days, mean of
37.2 °F) goes 5.8 ft deep as printed [memory], 5.82 ft recomputed [derived].
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erf, erfc

from foundation.heat.freezing import Season, freeze, frost_level
from foundation.heat.freezing_body import FreezingBody
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Fixed, Patch

DAY = 86400.0


@dataclass(frozen=True)
class HalfSpace:
    """Conductivities [W/(m·K)] and heat capacities [J/(m³·K)], thawed and frozen, latent heat [J/m³], first [°C]."""

    conductivity: float
    frozen_conductivity: float
    heat_capacity: float
    frozen_heat_capacity: float
    latent_heat: float
    first: float
    surface: float

    def turned(self) -> HalfSpace:
        """The same front, thawing: states and signs exchanged."""
        return HalfSpace(
            self.frozen_conductivity,
            self.conductivity,
            self.frozen_heat_capacity,
            self.heat_capacity,
            self.latent_heat,
            -self.first,
            -self.surface,
        )

    @property
    def diffusivities(self) -> tuple[float, float]:
        """Behind the front, where the freezing has passed, and ahead of it. [m²/s]"""
        behind = self.frozen_conductivity / self.frozen_heat_capacity
        return behind, self.conductivity / self.heat_capacity

    def lam(self) -> float:
        """Neumann's λ, for freezing."""
        behind, ahead = self.diffusivities
        root = math.sqrt(behind / ahead)

        def balance(lam: float) -> float:
            inward = self.frozen_conductivity * -self.surface * math.exp(-(lam**2)) / erf(lam)
            outward = (
                self.conductivity * self.first * root * math.exp(-((lam * root) ** 2)) / erfc(lam * root)
            )
            return inward - outward - lam * math.sqrt(math.pi) * self.latent_heat * behind

        return float(brentq(balance, 1e-6, 5, xtol=1e-14))

    def front(self, time: float | np.ndarray) -> np.ndarray:
        return 2 * self.lam() * np.sqrt(self.diffusivities[0] * time)

    def temperature(self, depth: np.ndarray, time: float) -> np.ndarray:
        (behind, ahead), lam = self.diffusivities, self.lam()
        near = self.surface * (1 - erf(depth / (2 * math.sqrt(behind * time))) / erf(lam))
        reach = erfc(lam * math.sqrt(behind / ahead))
        far = self.first * (1 - erfc(depth / (2 * math.sqrt(ahead * time))) / reach)
        return np.where(depth < self.front(time), near, far)


SOIL = HalfSpace(1.5, 2.2, 3.0e6, 2.4e6, 1.0e8, first=4.0, surface=-6.0)
SPAN = 100 * DAY
WHEN = np.linspace(0, SPAN, 41)


def winter(soil: HalfSpace, cell: float, steps: int, times: np.ndarray = WHEN) -> tuple[Grid, Season]:
    """A column of 25 m, its cells even for the first 2.5 m."""
    even = np.arange(0, 2.5 - cell / 2, cell)
    depth = np.concatenate([even, graded_lines([2.5, 25.0], [cell, np.inf], 1 + cell)])
    grid = Grid((np.array([0.0, 1.0]), -depth[::-1]))
    body = FreezingBody(
        grid,
        soil.conductivity,
        soil.frozen_conductivity,
        soil.heat_capacity,
        soil.frozen_heat_capacity,
        soil.latent_heat,
    )
    surface = Patch("surface", 1, End.HIGH, Fixed(soil.surface))
    return grid, freeze(body, [surface], soil.first, times, (times[-1] - times[0]) / steps)


def fronts(grid: Grid, frozen: np.ndarray) -> np.ndarray:
    return np.array([-frost_level(grid, one)[0] for one in frozen])


def test_front_within_half_a_percent() -> None:
    """From the fourth part of the time on, when it stands 30 cells deep; temperatures within half a cell of it."""
    grid, season = winter(SOIL, 0.02, 1600)
    late = WHEN >= SPAN / 4
    np.testing.assert_allclose(fronts(grid, season.frozen[late]), SOIL.front(WHEN[late]), rtol=0.005)
    assert season.imbalance < 1e-6
    exact = SOIL.temperature(-grid.centre(1).ravel(), SPAN)
    half_a_cell = 0.01 * -SOIL.surface / SOIL.front(SPAN)
    np.testing.assert_allclose(season.temperature[-1][0], exact, rtol=0, atol=half_a_cell)


def test_thawing_front() -> None:
    """The same column with its states exchanged thaws as the other freezes."""
    grid, season = winter(SOIL.turned(), 0.02, 1600)
    late = WHEN >= SPAN / 4
    np.testing.assert_allclose(fronts(grid, 1 - season.frozen[late]), SOIL.front(WHEN[late]), rtol=0.005)


def test_front_of_ground_at_the_freezing_point() -> None:
    """Nothing flows from below: λ √π exp(λ²) erf λ = frozen capacity × fall / latent heat (Stefan's)."""
    soil = replace(SOIL, first=0.0)
    lam = soil.lam()
    stefan = soil.frozen_heat_capacity * 6.0 / soil.latent_heat
    assert lam * math.sqrt(math.pi) * math.exp(lam**2) * erf(lam) == pytest.approx(stefan, rel=1e-10)
    grid, season = winter(soil, 0.02, 1600)
    late = WHEN >= SPAN / 4
    np.testing.assert_allclose(fronts(grid, season.frozen[late]), soil.front(WHEN[late]), rtol=0.005)
    assert np.all(season.temperature[-1][season.frozen[-1] == 0] == 0)


def test_fronts_converge() -> None:
    """Cells and steps halved three times: first order, the front standing now here, now there in its cell."""
    late = WHEN >= SPAN / 8
    errors = []
    for halves in (1, 2, 4, 8):
        grid, season = winter(SOIL, 0.1 / halves, 80 * halves)
        error = fronts(grid, season.frozen[late]) - SOIL.front(WHEN[late])
        errors.append(np.sqrt(np.mean(error**2)))
    orders = -np.diff(np.log2(errors))
    np.testing.assert_allclose(orders, 1, rtol=0, atol=0.3)


def test_worked_example() -> None:
    """Btu, ft, °F and days as printed; conductivity the mean of frozen and thawed, 0.80 and 0.72."""
    foot, kelvin = 0.3048, 1 / 1.8
    conductivity, capacity, latent = 0.76 * 1.730735, 28.25 * 67066.1, 2160 * 37258.9
    mean, fall = (37.2 - 32) * kelvin, 2500 / 160 * kelvin
    soil = HalfSpace(conductivity, conductivity, capacity, capacity, latent, mean, -fall)
    times = np.array([0, 160 * DAY])
    assert soil.front(times)[-1] / foot == pytest.approx(5.82, abs=0.005)
    grid, season = winter(soil, 0.02, 1600, times)
    assert fronts(grid, season.frozen)[-1] / foot == pytest.approx(5.82, rel=0.005)
