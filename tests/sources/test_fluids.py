"""Water and propylene glycol: CoolProp, Lange's Handbook Table 5.13 [read], trade figures [derived]."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from foundation import tables
from foundation.model.radiant import Fluid
from foundation.radiant.fluids import (
    WATER,
    fluid_state,
    freezing_temperature,
    mass_fraction_from_volume,
    propylene_glycol,
    propylene_glycol_by_mass,
    volume_fraction_from_mass,
)

KELVIN = 273.15
PRESSURE = 2e5  # [Pa]
LETTERS = {"density": "D", "heat_capacity": "C", "viscosity": "V", "conductivity": "L"}


def theirs(name: str, letter: str, temperature: float) -> float:
    return float(PropsSI(letter, "T", temperature + KELVIN, "P", PRESSURE, name))


@pytest.mark.parametrize("temperature", [0.5, 5, 10, 20, 30, 38, 50, 60, 80, 95])
@pytest.mark.parametrize(
    ("quantity", "within"),
    [("density", 0.002), ("heat_capacity", 0.002), ("viscosity", 0.013), ("conductivity", 0.013)],
)
def test_water(quantity: str, within: float, temperature: float) -> None:
    """CoolProp's water, the international formulation; the bounds that the module states."""
    found = getattr(fluid_state(WATER, temperature), quantity)
    assert found == pytest.approx(theirs("Water", LETTERS[quantity], temperature), rel=within)


@pytest.mark.parametrize("volume_fraction", [0.2, 0.3, 0.4, 0.5])
@pytest.mark.parametrize("temperature", [0, 20, 38, 60])
@pytest.mark.parametrize(
    ("quantity", "within"),
    [("density", 0.01), ("heat_capacity", 0.01), ("viscosity", 0.1), ("conductivity", 0.02)],
)
def test_glycol_by_volume(quantity: str, within: float, temperature: float, volume_fraction: float) -> None:
    """CoolProp's fit to a handbook's tables by volume, which have another origin than ours by mass."""
    found = getattr(fluid_state(propylene_glycol(volume_fraction), temperature), quantity)
    other = theirs(f"INCOMP::APG[{volume_fraction}]", LETTERS[quantity], temperature)
    assert found == pytest.approx(other, rel=within)


@pytest.mark.parametrize("mass_fraction", [0.1, 0.3, 0.5, 0.6])
@pytest.mark.parametrize("temperature", [-2, 15, 40, 90])
@pytest.mark.parametrize("quantity", list(LETTERS))
def test_glycol_by_mass(quantity: str, temperature: float, mass_fraction: float) -> None:
    """CoolProp carries the same coefficients: this catches a slip in copying ours."""
    found = getattr(fluid_state(propylene_glycol_by_mass(mass_fraction), temperature), quantity)
    other = theirs(f"INCOMP::MPG[{mass_fraction}]", LETTERS[quantity], temperature)
    assert found == pytest.approx(other, rel=1e-6)


@pytest.mark.parametrize(
    ("mass_fraction", "btu", "within"), [(0.0, 496, 0.5), (0.3, 474, 0.5), (0.5, 442, 0.5)]
)
def test_heat_of_a_gallon_a_minute(mass_fraction: float, btu: float, within: float) -> None:
    """Btu/h for each gpm and °F at 100 °F, propylene glycol by mass [derived]; the trade's rule has 500."""
    state = fluid_state(propylene_glycol_by_mass(mass_fraction), (100 - 32) / 1.8)
    found = state.density * state.heat_capacity * 6.30902e-5 / 1.8 / 0.29307107
    assert found == pytest.approx(btu, abs=within, rel=0)


@pytest.mark.parametrize(("percent", "point"), [(30, 9), (40, -5), (50, -28)])
def test_freezing_by_volume(percent: float, point: float) -> None:
    """°F as printed."""
    found = freezing_temperature(propylene_glycol(percent / 100)) * 1.8 + 32
    assert found == pytest.approx(point, abs=1e-6)


@pytest.mark.parametrize("volume_fraction", [0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5])
def test_freezing_against_another_table(volume_fraction: float) -> None:
    """CoolProp's fit by mass: the two strengths are told apart, which at 40 % is worth 1 K."""
    mass_fraction = mass_fraction_from_volume(volume_fraction)
    other = theirs(f"INCOMP::MPG[{mass_fraction}]", "T_freeze", 20.0) - KELVIN
    assert freezing_temperature(propylene_glycol(volume_fraction)) == pytest.approx(other, abs=1.3)


def test_density_by_volume() -> None:
    """Specific gravity at 60 °F, printed beside the volume percent: our way from volume to mass and density."""
    water = fluid_state(WATER, 15.6).density
    for row in tables.load("lange_handbook-of-chemistry_15th_table-5.13").rows:
        found = fluid_state(propylene_glycol(float(row["volume_percent"]) / 100), 15.6).density / water
        assert found == pytest.approx(float(row["specific_gravity"]), rel=0.005)


@given(st.floats(0, 1))
def test_volume_and_mass_return(fraction: float) -> None:
    assert volume_fraction_from_mass(mass_fraction_from_volume(fraction)) == pytest.approx(
        fraction, abs=1e-12
    )
    assert mass_fraction_from_volume(fraction) >= fraction * (1 - 1e-12)


@given(st.floats(0.001, 0.5))
def test_names_tell_both(fraction: float) -> None:
    fluid = propylene_glycol(fraction)
    assert "by volume" in fluid.name
    assert "by mass" in fluid.name


def test_water_is_water() -> None:
    assert propylene_glycol(0.0) == WATER == propylene_glycol_by_mass(0.0)
    assert freezing_temperature(WATER) == 0


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: propylene_glycol(0.7), r"the glycol is 70 % by volume; 0 to 59\.\d+ % by volume would do"),
        (lambda: propylene_glycol_by_mass(-0.1), "the glycol is -10 % by mass; 0 to 60 % by mass would do"),
        (lambda: fluid_state(WATER, -1.0), "the temperature of the water is -1 °C; 0 to 100 °C would do"),
        (
            lambda: freezing_temperature(Fluid("strong", 0.6)),
            r"the glycol in the freezing table is 59\.\d+ % by volume; 0 to 50",
        ),
    ],
)
def test_refusals(call, sentence: str) -> None:
    with pytest.raises(ValueError, match=sentence):
        call()
