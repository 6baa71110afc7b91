"""Life-cycle factors against their own sums and limits; the economic thickness against a plain search."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from foundation.money.fuels import degree_day_heat, fuel_needed, heat_price
from foundation.money.lifecycle import economic_thickness, escalating_worth, single_worth, uniform_worth

RATES = st.floats(-0.2, 0.3)


@given(RATES, RATES, st.integers(0, 80))
def test_is_the_sum_of_its_payments(rate: float, escalation: float, years: int) -> None:
    payments = [(1 + escalation) ** year * single_worth(rate, year) for year in range(1, years + 1)]
    assert escalating_worth(rate, escalation, years) == pytest.approx(
        math.fsum(payments), rel=1e-11, abs=1e-12
    )


@pytest.mark.parametrize("off", [0.0, 1e-16, 1e-12, 1e-9, -1e-9])
def test_equal_rates_count_the_years(off: float) -> None:
    """The limit e → d is n [derived]; next to it n (1 + (n + 1) off / 2)."""
    assert escalating_worth(0.03, 0.03 + off, 25) == pytest.approx(25 * (1 + 13 * off / 1.03), rel=1e-13)
    assert uniform_worth(off, 25) == pytest.approx(25 * (1 - 13 * off), rel=1e-13)


def test_refuses() -> None:
    with pytest.raises(ValueError, match="the discount rate is -1 a year; it has to be more than -1"):
        uniform_worth(-1, 10)
    with pytest.raises(ValueError, match="the escalation is inf a year"):
        escalating_worth(0.03, math.inf, 10)
    with pytest.raises(ValueError, match="the time is -2 years; it has to be 0 or more"):
        single_worth(0.03, -2)
    with pytest.raises(ValueError, match="the efficiency is 0; it has to be more than 0"):
        heat_price(2.0, 1e8, 0.0)
    with pytest.raises(ValueError, match="the heat content is 0 J"):
        fuel_needed(1.0, 0.0, 1.0)
    with pytest.raises(ValueError, match=r"the fuel price is -1 \$"):
        heat_price(-1.0, 1e8, 0.9)
    with pytest.raises(ValueError, match="the bare resistance is 0; it has to be more than 0"):
        economic_thickness(0.03, 0.0, 300.0, 4000.0, 6e-7)
    with pytest.raises(ValueError, match="the worth of heat is nan; it has to be 0 or more"):
        economic_thickness(0.03, 0.5, 300.0, 4000.0, math.nan)


@pytest.mark.parametrize("conductivity", [0.026, 0.035])
@pytest.mark.parametrize("degree_days", [2000.0, 4700.0])
@pytest.mark.parametrize("worth", [3e-7, 9e-7])
def test_economic_thickness_is_the_least_of_the_life_cycle_cost(
    conductivity: float, degree_days: float, worth: float
) -> None:
    """Scipy's bounded search over the cost itself finds the same thickness [derived]."""
    bare, price = 0.6, 250.0

    def cost(thickness: float) -> float:
        return price * thickness + worth * degree_day_heat(1 / (bare + thickness / conductivity), degree_days)

    searched = minimize_scalar(cost, bounds=(0, 1), method="bounded", options={"xatol": 1e-9}).x
    found = economic_thickness(conductivity, bare, price, degree_days, worth)
    assert found == pytest.approx(searched, abs=1e-6)


def test_economic_thickness_at_its_limits() -> None:
    assert economic_thickness(0.03, 0.5, 300.0, 4000.0, 0.0) == 0
    assert economic_thickness(0.03, 5.0, 300.0, 4000.0, 1e-8) == 0
    assert economic_thickness(0.03, 0.5, 0.0, 4000.0, 1e-7) == math.inf
    assert economic_thickness(0.03, 0.5, 0.0, 4000.0, 0.0) == 0
    rising = [economic_thickness(0.03, 0.5, 300.0, 4000.0, worth) for worth in np.linspace(0, 1e-5, 30)]
    assert rising == sorted(rising)
