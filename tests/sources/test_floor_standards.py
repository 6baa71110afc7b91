"""EN 1264-2 and ISO 11855-2, and a rule of the trade, as printed; and how far type A is from conduction."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.radiant import FloorBuildUp, Tube
from foundation.radiant.standards import (
    PEAK_LIMITS,
    characteristic_excess,
    characteristic_flux,
    log_mean_difference,
    second_opinions,
    trade_rule_excess,
    type_a_coefficient,
)
from foundation.radiant.tube_row import floor_output
from tests.radiant.row_mesh import RowMesh

# The standard's own tube, 17 × 2 mm of 0.35 W/(m·K), under 45 mm of screed, on foam.
TUBE = Tube("17", 0.017, 0.013, 0.35, 0.1, 100.0)
SCREED = FloorBuildUp(0.062, 1.2, 0.0535, 0.15, TUBE, 0.0, 1.5)


@pytest.mark.parametrize(("excess", "flux"), [(9, 100), (15, 175)])
def test_basic_characteristic_curve(excess: float, flux: float) -> None:
    """8.92 ΔT^1.1: 9 K gives 100 W/m², 15 K 175 W/m² [read]."""
    assert characteristic_flux(excess) == pytest.approx(flux, abs=0.5, rel=0)


@given(st.floats(0, 300))
def test_curve_returns(flux: float) -> None:
    assert characteristic_flux(characteristic_excess(flux)) == pytest.approx(flux, rel=1e-9, abs=1e-12)


def test_limits() -> None:
    """29 °C occupied, 35 °C edge, 33 °C bath: 9 K over 20 °C, 15 K over 20 °C, 9 K over 24 °C [read]."""
    assert PEAK_LIMITS == {"occupied": 20 + 9, "edge strip": 20 + 15, "bath": 24 + 9}


def test_log_mean_difference() -> None:
    """40/35/20 °C [derived]."""
    assert log_mean_difference(40, 35, 20) == pytest.approx(17.380, abs=0.0005, rel=0)
    assert log_mean_difference(40, 40, 20) == 20
    assert log_mean_difference(40, 40 - 1e-6, 20) == pytest.approx(20 - 0.5e-6, rel=1e-12)


@given(st.floats(0.01, 40), st.floats(0, 30))
def test_log_mean_lies_below_the_plain_mean(excess: float, drop: float) -> None:
    found = log_mean_difference(20 + excess + drop, 20 + excess, 20)
    assert excess * (1 - 1e-9) <= found <= (excess + drop / 2) * (1 + 1e-9)


def test_rule_of_the_trade() -> None:
    """25 Btu/h·ft² over a room at 68 °F makes 80.5 °F [read]."""
    assert 68 + 1.8 * trade_rule_excess(25 * 3.15459) == pytest.approx(80.5, abs=0.005, rel=0)


def test_type_a() -> None:
    """KH 5.594 at 150 mm, cover 45 mm, 17 mm tube, bare, screed 1.2 W/(m·K) [derived]."""
    assert type_a_coefficient(SCREED) == pytest.approx(5.594, abs=0.0005, rel=0)


def test_factor_of_the_surface() -> None:
    """aB 1.058 for 1.2 W/(m·K), against 1 for 1.0 W/(m·K); 0.598 with R 0.10 [read]."""
    plain = replace(SCREED, slab_conductivity=1.0)
    assert type_a_coefficient(SCREED) / type_a_coefficient(plain) == pytest.approx(1.058, abs=0.0005, rel=0)
    # At a spacing of 75 mm the spacing factor has no power, and at its base tube and cover the others have none.
    lone = replace(
        SCREED,
        spacing=0.075,
        axis_depth=0.055,
        slab_thickness=0.065,
        finish_resistance=0.1,
        tube=replace(TUBE, outside_diameter=0.020, inside_diameter=0.016),
    )
    assert type_a_coefficient(lone) / 6.7 == pytest.approx(0.598, abs=0.0005, rel=0)


def test_deep_cover_conducts_as_a_layer() -> None:
    """Past 100 mm (spacing to 200 mm) each metre of cover adds 1/λ [memory]."""
    at = replace(SCREED, slab_thickness=0.3, axis_depth=0.1 + 0.0085)
    deeper = replace(at, axis_depth=0.16 + 0.0085)
    added = 1 / type_a_coefficient(deeper) - 1 / type_a_coefficient(at)
    assert added == pytest.approx(0.06 / 1.2, rel=1e-9)


@pytest.mark.parametrize("spacing", [0.1, 0.15, 0.225, 0.3])
@pytest.mark.parametrize("finish", [0.0, 0.05, 0.1, 0.15])
@pytest.mark.parametrize("conductivity", [1.0, 1.2, 1.73])
def test_type_a_beside_conduction_on_the_foam(spacing: float, finish: float, conductivity: float) -> None:
    """How far the power product is off for its own layout, as its docstring says [derived]."""
    floor = replace(SCREED, spacing=spacing, finish_resistance=finish, slab_conductivity=conductivity)
    up = floor_output(floor, 20.0, 20.0, 40.0).up
    assert -0.05 < type_a_coefficient(floor) * 20 / up - 1 < 0.19


@pytest.mark.parametrize("spacing", [0.1524, 0.2286, 0.3048])
@pytest.mark.parametrize("finish", [0.0, 0.05, 0.1, 0.15])
@pytest.mark.parametrize("conductivity", [1.2, 1.4, 1.73])
def test_type_a_beside_conduction_at_mid_depth(spacing: float, finish: float, conductivity: float) -> None:
    """The same for 1/2 in tube in a 4 in slab, over foam and ground at 10 °C or at the room's temperature."""
    tube = Tube("1/2", 0.015875, 0.012075, 0.41, 0.127, 91.44)
    floor = FloorBuildUp(0.1016, conductivity, 0.0508, spacing, tube, finish, 1.761)
    for ground in (10.0, 20.0):
        up = floor_output(floor, 20.0, ground, 40.0).up
        assert -0.143 < type_a_coefficient(floor) * 20 / up - 1 < 0.021


def test_conduction_on_the_foam_by_finite_elements() -> None:
    """So the difference is the power product's, not the row's."""
    floor = replace(SCREED, slab_thickness=0.0625)
    found = floor_output(floor, 20.0, 20.0, 40.0).up
    assert found == pytest.approx(RowMesh(floor).steady(20.0, 20.0, 40.0).up, rel=1e-3)


def test_second_opinions() -> None:
    output = floor_output(SCREED, 20.0, 10.0, 35.0)
    curve, rule, product = second_opinions(SCREED, output)
    for opinion in (curve, rule, product):
        assert opinion.theirs is not None
        assert opinion.difference == pytest.approx(opinion.ours / opinion.theirs - 1)
    assert curve.ours == rule.ours == pytest.approx(output.up / 10.8)
    assert curve.difference == pytest.approx(0, abs=0.02)
    assert rule.difference == pytest.approx(2 * 5.678263 / 10.8 - 1, rel=1e-6)
    assert product.theirs == pytest.approx(5.594 * 15, abs=0.01)


def test_outside_its_tables_there_is_no_opinion() -> None:
    carpet = replace(SCREED, finish_resistance=0.35)
    opinion = second_opinions(carpet, floor_output(carpet, 20.0, 10.0, 45.0))[2]
    assert opinion.theirs is None
    assert opinion.difference is None
    assert opinion.note == (
        "the resistance of the finish in the tables of EN 1264-2 is 0.35 m²·K/W; 0 to 0.15 m²·K/W would do"
    )
    cold = second_opinions(SCREED, floor_output(SCREED, 20.0, 10.0, 15.0))[0]
    assert cold.note.startswith("the flux to the room is -")


def test_refuses_a_return_below_the_room() -> None:
    with pytest.raises(ValueError, match="return less room temperature is -1 K; it has to be more than 0"):
        log_mean_difference(40, 19, 20)
