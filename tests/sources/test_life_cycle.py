"""NIST Handbook 135, 1995, life-cycle factors as printed [read], and a degree-day estimate as published [read]."""

from __future__ import annotations

import pytest

from foundation.money.fuels import BTU, degree_day_heat, fuel_needed, fuels
from foundation.money.lifecycle import escalating_worth, single_worth, uniform_worth

BTU_PER_HOUR_FAHRENHEIT = BTU / 3600 * 1.8  # [W/K]


def test_uniform_worth() -> None:
    assert uniform_worth(0.03, 30) == pytest.approx(19.6004, abs=5e-5, rel=0)


def test_single_worth() -> None:
    assert single_worth(0.03, 30) == pytest.approx(0.4120, abs=5e-5, rel=0)


def test_escalating_worth() -> None:
    assert escalating_worth(0.03, 0.01, 20) == pytest.approx(16.3827, abs=5e-5, rel=0)


def test_degree_days_to_heat_to_oil() -> None:
    """675 Btu/(h·°F) in 5000 °F·d: 81.0 million Btu; 749 gallons of oil of 138 690 Btu at 78 % [read]."""
    heat = degree_day_heat(675 * BTU_PER_HOUR_FAHRENHEIT, 5000 / 1.8)
    assert heat / BTU == pytest.approx(81.0e6, abs=0.05e6, rel=0)
    assert fuel_needed(heat, 138_690 * BTU, 0.78) == pytest.approx(749, abs=0.5, rel=0)


@pytest.mark.parametrize(
    ("fuel", "unit", "printed"),
    [
        ("natural gas", "therm", 100_000),
        ("propane", "gallon", 91_452),
        ("fuel oil", "gallon", 138_500),
        ("electricity", "kWh", 3_412),
    ],
)
def test_heat_content(fuel: str, unit: str, printed: float) -> None:
    """Energy offices' tables [read]."""
    kind = fuels()[fuel]
    assert kind.priced_by == unit
    assert kind.heat_content / BTU == pytest.approx(printed, rel=1e-12)


def test_electricity_is_a_kilowatt_hour() -> None:
    """3 412 Btu is a kWh to the four figures that are printed; by definition it is 3.6 MJ."""
    assert fuels()["electricity"].heat_content == pytest.approx(3.6e6, abs=0.5 * BTU, rel=0)
