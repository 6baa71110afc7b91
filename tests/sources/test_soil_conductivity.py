"""Soil conductivity by Kersten (1949) and Johansen (1975), both [memory]; values of Kersten recomputed by hand."""

from __future__ import annotations

import pytest

from foundation.materials.conductivity import (
    johansen_conductivity,
    kersten_conductivity,
    kersten_holds,
    saturated_moisture,
)

DENSITY = 110 * 16.018463  # 110 lb/ft³ [kg/m³]


@pytest.mark.parametrize(
    ("fine", "frozen", "printed"),
    [(True, False, 1.56), (False, False, 2.22), (True, True, 1.77), (False, True, 3.09)],
)
def test_kersten(fine: bool, frozen: bool, printed: float) -> None:
    """110 lb/ft³, 15 %."""
    found = kersten_conductivity(DENSITY, 0.15, fine=fine, frozen=frozen)
    assert found == pytest.approx(printed, abs=0.005, rel=0)


@pytest.mark.parametrize("fine", [True, False])
@pytest.mark.parametrize("frozen", [True, False])
def test_johansen_dry(fine: bool, frozen: bool) -> None:
    """(0.135 γ + 64.7)/(2700 - 0.947 γ): γ 1600 gives 280.7/1184.8."""
    found = johansen_conductivity(1600, 0.0, 0.5, fine=fine, frozen=frozen)
    assert found == pytest.approx(280.7 / 1184.8, rel=1e-12)


@pytest.mark.parametrize("fine", [True, False])
@pytest.mark.parametrize(("frozen", "water"), [(False, 0.57), (True, 2.2)])
def test_johansen_saturated(fine: bool, frozen: bool, water: float) -> None:
    """Geometric mean of solids and water or ice: with half the volume pores and pure quartz √(7.7 kw)."""
    density = 1350.0
    found = johansen_conductivity(density, saturated_moisture(density), 1.0, fine=fine, frozen=frozen)
    assert found == pytest.approx((7.7 * water) ** 0.5, rel=1e-12)


@pytest.mark.parametrize(
    ("quartz", "solids"), [(0.0, 3.0), (0.2, 7.7**0.2 * 3.0**0.8), (0.5, (7.7 * 2.0) ** 0.5)]
)
def test_johansen_solids(quartz: float, solids: float) -> None:
    """Other minerals conduct 2.0, or 3.0 where no more than a fifth is quartz."""
    density = 1350.0
    found = johansen_conductivity(density, saturated_moisture(density), quartz, fine=True, frozen=False)
    assert found == pytest.approx((solids * 0.57) ** 0.5, rel=1e-12)


@pytest.mark.parametrize(("fine", "factor"), [(True, 1.0), (False, 0.7)])
def test_johansen_between(fine: bool, factor: float) -> None:
    """A tenth saturated: Ke 0 fine and 0.3 coarse; frozen Ke is the saturation."""
    density = 1500.0
    full = saturated_moisture(density)

    def share(moisture: float, frozen: bool) -> float:
        dry, now, wet = (
            johansen_conductivity(density, w, 0.4, fine=fine, frozen=frozen) for w in (0.0, moisture, full)
        )
        return (now - dry) / (wet - dry)

    assert share(0.1 * full, False) == pytest.approx(1 - factor, abs=1e-12)
    assert share(0.01 * full, False) == 0
    assert share(0.3 * full, True) == pytest.approx(0.3, abs=1e-12)


@pytest.mark.parametrize("fine", [True, False])
@pytest.mark.parametrize("density", [1400.0, 1600.0, 1800.0])
def test_the_two_methods_agree_as_well_as_they_claim(fine: bool, density: float) -> None:
    """Either is good to some ±25 % [memory], so two of them lie within a factor 1.25/0.75 on moist soil."""
    quartz = 0.25 if fine else 0.6
    for moisture in (0.10, 0.15, 0.20):
        if moisture > saturated_moisture(density):
            continue
        for frozen in (False, True):
            one = kersten_conductivity(density, moisture, fine=fine, frozen=frozen)
            other = johansen_conductivity(density, moisture, quartz, fine=fine, frozen=frozen)
            assert 0.75 / 1.25 < one / other < 1.25 / 0.75


def test_kersten_ends_where_it_was_not_measured() -> None:
    assert kersten_holds(0.07, fine=True)
    assert not kersten_holds(0.069, fine=True)
    assert kersten_holds(0.01, fine=False)
    with pytest.raises(
        ValueError, match=r"the moisture of the soil is 5 % of dry mass; Kersten's formula holds from 7 %"
    ):
        kersten_conductivity(DENSITY, 0.05, fine=True, frozen=False)
