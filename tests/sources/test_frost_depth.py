"""Depth of frost: UFC 3-130-06 / TM 5-852-6 modified Berggren, and a thaw example of a soils textbook."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.special import erf, erfc

from foundation.frost.depth import (
    berggren_coefficient,
    heat_capacity,
    latent_heat,
    modified_berggren_depth,
    stefan_depth,
)

FOOT = 0.3048  # [m]
POUND = 16.018463  # one lb/ft³ [kg/m³]
CONDUCTIVITY = 1.730735  # one Btu/(h·ft·°F) [W/(m·K)]
LATENT = 37258.9458  # one Btu/ft³ [J/m³]
CAPACITY = 67066.1024  # one Btu/(ft³·°F) [J/(m³·K)]


@pytest.mark.parametrize(
    ("ratio", "fusion", "coefficient"),
    [(0, 0.1, 0.984), (0.4, 0.2, 0.884), (1, 0.2, 0.776), (1, 1, 0.534), (2, 0.5, 0.492)],
)
def test_coefficient(ratio: float, fusion: float, coefficient: float) -> None:
    """Neumann's equation solved apart [derived]; the manual prints a chart."""
    assert berggren_coefficient(ratio, fusion) == pytest.approx(coefficient, abs=0.0005, rel=0)


def test_coefficient_solves_neumann_as_written() -> None:
    for ratio in (0.0, 0.3, 1.5, 4.0):
        for fusion in (0.01, 0.2, 1.0, 3.0):
            z = berggren_coefficient(ratio, fusion) * np.sqrt(fusion / 2)
            left = np.exp(-z * z) / erf(z) - ratio * np.exp(-z * z) / erfc(z)
            assert left == pytest.approx(np.sqrt(np.pi) * z / fusion, rel=1e-9)


def test_coefficient_limits() -> None:
    """With little heat to cool it is Stefan's: λ → 1 − µ/6 by series [derived]; warmer ground freezes less deep."""
    assert berggren_coefficient(0, 1e-3) == pytest.approx(1 - 1e-3 / 6, abs=1e-6, rel=0)
    falling = [berggren_coefficient(ratio, 0.3) for ratio in np.linspace(0, 50, 40)]
    assert all(0 < after < before < 1 for before, after in pairwise(falling))


def test_sandy_silt() -> None:
    """UFC 3-130-06 worked example [memory, recomputed]: printed 5.8 ft; its steps [derived]."""
    density = 100 * POUND
    assert latent_heat(density, 0.15) / LATENT == pytest.approx(2160, abs=0.5, rel=0)
    assert heat_capacity(density, 0.15) / CAPACITY == pytest.approx(28.25, abs=0.005, rel=0)
    mean = (37.2 - 32) / 1.8
    conductivity = (0.80 + 0.72) / 2 * CONDUCTIVITY
    depth = modified_berggren_depth(2500 / 1.8, 160, mean, conductivity, density, 0.15) / FOOT
    assert depth == pytest.approx(5.8, abs=0.05, rel=0)
    assert depth == pytest.approx(5.82, abs=0.005, rel=0)
    stefan = stefan_depth(2500 / 1.8, conductivity, latent_heat(density, 0.15)) / FOOT
    assert stefan == pytest.approx((48 * 0.76 * 2500 / 2160) ** 0.5, rel=1e-4)
    assert depth / stefan == pytest.approx(0.8956, abs=0.0005, rel=0)


def test_thaw() -> None:
    """Handy & Spangler, Geotechnical Engineering, 5th ed. [read]: 0.6 m at 2.6 W/(m·K), 77 000 kJ/m³ asks 62 °C·d."""
    shallow, deep = (stefan_depth(index, 2.6, 77e6) for index in (61.5, 62.5))
    assert shallow < 0.6 < deep


def test_refuses() -> None:
    with pytest.raises(ValueError, match=r"the yearly mean is -2 °C; .* the ground stays frozen"):
        modified_berggren_depth(1000, 150, -2, 1.3, 1600, 0.15)
    with pytest.raises(
        ValueError, match="the water content of the soil is 0 of dry mass; it has to be more than 0"
    ):
        latent_heat(1600, 0)
    with pytest.raises(ValueError, match="the surface freezing index is -1 K·d"):
        stefan_depth(-1, 1.3, 8e7)
    assert modified_berggren_depth(0, 150, 8, 1.3, 1600, 0.15) == 0
