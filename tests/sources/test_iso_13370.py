"""ISO 13370 [formulae memory]: a published table of floor U-values, exact admittances, the formulae's own limits."""

from __future__ import annotations

from itertools import pairwise
from math import log, pi

import numpy as np
import pytest

from foundation.heat.periodic import (
    basement_outside_periodic,
    inside_periodic,
    monthly_heat_flow,
    penetration_depth,
    slab_outside_periodic,
)
from foundation.heat.standard import (
    INSIDE_HORIZONTAL,
    basement_coefficient,
    basement_floor_transmittance,
    basement_wall_transmittance,
    characteristic_dimension,
    edge_thickness,
    edge_transmittance,
    equivalent_thickness,
    slab_coefficient,
    slab_transmittance,
)

CLAY = 1.5  # [W/(m·K)]
RESISTANCES = (0.0, 0.5, 1.0, 2.0)

# Solid floor on clay, walls 0.3 m: U by P/A and all-over R. UK Approved Document L family; the R = 0 column [memory],
# the others recomputed [derived].
TABLE = {
    0.10: (0.219, 0.180, 0.158, 0.131),
    0.30: (0.495, 0.376, 0.311, 0.234),
    0.50: (0.698, 0.500, 0.396, 0.278),
    1.00: (1.051, 0.676, 0.495, 0.331),
}


def floor(resistance: float) -> float:
    return equivalent_thickness(CLAY, resistance, wall_thickness=0.3)


@pytest.mark.parametrize("ratio", TABLE)
def test_published_table(ratio: float) -> None:
    dimension = characteristic_dimension(1.0, ratio)
    for resistance, printed in zip(RESISTANCES, TABLE[ratio], strict=True):
        found = slab_transmittance(dimension, floor(resistance), CLAY)
        assert found == pytest.approx(printed, abs=0.0005, rel=0)


@pytest.mark.parametrize(
    ("conductivity", "capacity", "printed"), [(1.5, 3.0e6, 2.2), (2.0, 2.0e6, 3.2), (3.5, 2.0e6, 4.2)]
)
def test_penetration_of_the_three_grounds(conductivity: float, capacity: float, printed: float) -> None:
    """Clay or silt, sand or gravel, rock [memory]."""
    assert penetration_depth(conductivity, capacity) == pytest.approx(printed, abs=0.05, rel=0)


def test_branches_meet() -> None:
    """What the 0.457 of one branch must be for the other to meet it at dt = B', to its last printed digit [derived]."""
    below = slab_transmittance(5.0, 5.0 * (1 - 1e-12), CLAY)
    assert CLAY / (below * 5.0) - 1 == pytest.approx(0.457, abs=0.0005, rel=0)
    above = slab_transmittance(5.0, 5.0, CLAY)
    assert CLAY / (above * 5.0) - 1 == pytest.approx(0.457, abs=1e-12, rel=0)


@pytest.mark.parametrize("dimension", [1.0, 5.0, 20.0])
def test_more_foam_loses_less(dimension: float) -> None:
    foams = np.linspace(0, 8, 41)
    slabs = [slab_transmittance(dimension, floor(foam), CLAY) for foam in foams]
    floors = [basement_floor_transmittance(dimension, floor(foam), CLAY, 2.4) for foam in foams]
    walls = [
        basement_wall_transmittance(
            floor(0.5), equivalent_thickness(CLAY, foam, inside=INSIDE_HORIZONTAL), CLAY, 2.4
        )
        for foam in foams
    ]
    edges = [
        edge_transmittance(0.6, floor(0.5), edge_thickness(CLAY, foam, foam * 0.03), CLAY, vertical=True)
        for foam in foams
    ]
    for falling in (slabs, floors, walls, edges):
        assert all(after < before for before, after in pairwise(falling))


def test_edge_foam_limits() -> None:
    """No foam saves nothing; endless foam saves as the thicker floor does; upright foam reaches twice its depth."""
    assert edge_transmittance(1.0, 1.2, 0.0, CLAY, vertical=True) == 0
    assert edge_transmittance(0.0, 1.2, 2.0, CLAY, vertical=False) == 0
    endless = edge_transmittance(1e9, 1.2, 2.4, CLAY, vertical=False)
    assert endless == pytest.approx(-CLAY / pi * log(3.6 / 1.2), rel=1e-8)
    upright = edge_transmittance(0.6, 1.2, 2.0, CLAY, vertical=True)
    assert upright == edge_transmittance(1.2, 1.2, 2.0, CLAY, vertical=False) < 0


def test_basement_at_grade_is_the_slab() -> None:
    assert basement_floor_transmittance(5.0, 1.2, CLAY, 0.0) == slab_transmittance(5.0, 1.2, CLAY)
    assert basement_coefficient(100.0, 40.0, 0.0, 0.4, 0.7) == slab_coefficient(100.0, 40.0, 0.4)
    plain = slab_outside_periodic(40.0, 1.2, CLAY, 2.24)
    assert basement_outside_periodic(40.0, 1.2, 0.6, CLAY, 2.24, 0.0) == pytest.approx(plain, rel=1e-14)


def test_shallow_wall_is_its_own_resistance() -> None:
    """As z → 0 the wall's log is z/dw, so U → (2λ/π dw)(1 + 1/2): by series [derived]; dw stands for a thicker dt."""
    found = basement_wall_transmittance(3.0, 0.6, CLAY, 1e-7)
    assert found == pytest.approx(3 * CLAY / (pi * 0.6), rel=1e-6)
    assert basement_wall_transmittance(3.0, 0.6, CLAY, 2.4) == basement_wall_transmittance(
        0.6, 0.6, CLAY, 2.4
    )
    assert basement_wall_transmittance(0.3, 0.6, CLAY, 2.4) < basement_wall_transmittance(0.6, 0.6, CLAY, 2.4)


@pytest.mark.parametrize("thickness", [0.1, 1.0, 4.0])
def test_inside_coefficient_is_an_admittance(thickness: float) -> None:
    """A layer λ/d in series with a half-space of admittance (1 + i) λ/δ [textbook, complex numbers]."""
    penetration = 2.24
    admittance = 1 / (thickness / CLAY + penetration / (CLAY * (1 + 1j)))
    assert inside_periodic(100.0, thickness, CLAY, penetration) == pytest.approx(
        100 * abs(admittance), rel=1e-12
    )


def test_outside_coefficient_limits() -> None:
    plain = slab_outside_periodic(40.0, 1.2, CLAY, 2.24)
    endless = slab_outside_periodic(40.0, 1.2, CLAY, 2.24, edge_depth=1e3, additional=2.0)
    assert endless == pytest.approx(slab_outside_periodic(40.0, 3.2, CLAY, 2.24), rel=1e-12)
    upright = slab_outside_periodic(40.0, 1.2, CLAY, 2.24, edge_depth=0.6, additional=2.0)
    flat = slab_outside_periodic(40.0, 1.2, CLAY, 2.24, edge_depth=0.6, additional=2.0, vertical=False)
    assert endless < upright < flat < plain
    deep = basement_outside_periodic(40.0, 1.2, 0.6, CLAY, 2.24, 1e3)
    assert deep == pytest.approx(2 * slab_outside_periodic(40.0, 0.6, CLAY, 2.24), rel=1e-12)


def test_by_hand() -> None:
    """The formulae as remembered, worked out in numbers apart from the code [derived]."""
    # R' = 2.0 − 0.06/1.5 = 1.96; d' = 1.96 · 1.5
    assert edge_thickness(CLAY, 2.0, 0.06) == pytest.approx(2.94, rel=1e-12)
    # 3/(5π + 2) · ln(5π/2 + 1) = 0.169415 · 2.180867
    assert basement_floor_transmittance(5.0, 1.0, CLAY, 2.0) == pytest.approx(0.36947, abs=5e-6, rel=0)
    # 0.37 · 40 · 1.5 · ln 3 = 22.2 · 1.098612
    assert slab_outside_periodic(40.0, 1.12, CLAY, 2.24) == pytest.approx(24.389, abs=5e-4, rel=0)


def test_months() -> None:
    """The year's mean is the steady flow; the peak comes the lag after the coldest month; a swing alike follows."""
    coefficients = (40.0, 15.0, 25.0)
    flows = [monthly_heat_flow(month, coefficients, (20.0, 0.0), (8.0, 12.0)) for month in range(1, 13)]
    assert np.mean(flows) == pytest.approx(40 * 12, rel=1e-12)
    assert np.argmax(flows) + 1 == 2
    assert max(flows) - min(flows) == pytest.approx(2 * 25 * 12, rel=1e-12)
    cool = monthly_heat_flow(1, coefficients, (20.0, 2.0), (8.0, 0.0))
    assert cool == pytest.approx(40 * 12 - 15 * 2, rel=1e-12)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: characteristic_dimension(100, 0), "the exposed perimeter is 0 m; it has to be more than 0"),
        (lambda: equivalent_thickness(CLAY, -1), "the resistance is -1 m²·K/W; it has to be 0 or more"),
        (
            lambda: slab_transmittance(5, float("nan"), CLAY),
            "the equivalent thickness is nan m; it has to be more than 0",
        ),
    ],
)
def test_refuses(call: object, sentence: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match="it has to be") as told:
        call()
    assert str(told.value) == sentence
