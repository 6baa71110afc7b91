"""Materials of a section, and the ground's band."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from foundation.foam.boards import board_named
from foundation.materials import CONCRETE, STONE, WOOD, foam_material, framed_wall, soil_band, soil_of
from foundation.materials.conductivity import (
    johansen_conductivity,
    kersten_conductivity,
    saturated_moisture,
)
from foundation.materials.ground import ground_classes
from foundation.tables import MARKS, load

GROUNDS = [*ground_classes()]


@pytest.mark.parametrize(
    ("ground", "conductivity", "heat_capacity", "depth"),
    [("clay or silt", 1.5, 3.0e6, 2.24), ("sand or gravel", 2.0, 2.0e6, 3.17), ("rock", 3.5, 2.0e6, 4.19)],
)
def test_classes_of_iso_13370(ground: str, conductivity: float, heat_capacity: float, depth: float) -> None:
    """ISO 13370:2017, with the periodic depth δ = √(3.15e7 λ/(π ρc)) that it gives [memory]."""
    found = soil_of(ground)
    assert (found.conductivity, found.heat_capacity) == (conductivity, heat_capacity)
    reached = (3.15e7 * found.conductivity / (3.141592653589793 * found.heat_capacity)) ** 0.5
    assert reached == pytest.approx(depth, abs=0.005)


def test_the_band_of_clay() -> None:
    """0.9 to 2.5 W/(m·K) about 1.5 [practice]."""
    assert [soil.conductivity for soil in soil_band("clay or silt")] == [0.9, 1.5, 2.5]


def test_the_table_marks_its_columns() -> None:
    for row in load("iso_13370_2017_ground").rows:
        assert {row["standard_mark"], row["practice_mark"]} <= {*MARKS}


def test_plain_materials_do_not_freeze() -> None:
    foam = foam_material(board_named("XPS IV"), 34.0)
    wall = framed_wall(3.4, 0.14)
    for material in (CONCRETE, WOOD, STONE, foam, wall):
        assert material.latent_heat == 0
        assert material.frozen_conductivity == material.conductivity
    assert foam.conductivity == pytest.approx(1 / 34.0)
    assert 0.14 / wall.conductivity == pytest.approx(3.4)
    assert (
        foam.conductivity < wall.conductivity < WOOD.conductivity < STONE.conductivity < CONCRETE.conductivity
    )


def test_foam_that_is_not_for_the_ground_is_no_material_there() -> None:
    polyiso = board_named("polyiso")
    with pytest.raises(ValueError, match="the resistivity of polyiso is nan"):
        foam_material(polyiso, polyiso.wet_horizontal)


@pytest.mark.parametrize("ground", ["clay or silt", "sand or gravel"])
def test_density_and_moisture_give_the_mean_of_both_methods(ground: str) -> None:
    kind = ground_classes()[ground]
    for frozen in (False, True):
        mean = (
            kersten_conductivity(1700, 0.12, fine=kind.is_fine, frozen=frozen)
            + johansen_conductivity(1700, 0.12, kind.quartz, fine=kind.is_fine, frozen=frozen)
        ) / 2
        soil = soil_of(ground, dry_density=1700, moisture=0.12)
        assert (soil.frozen_conductivity if frozen else soil.conductivity) == pytest.approx(mean)


def test_dry_ground_says_that_one_method_is_left() -> None:
    assert soil_of("clay or silt", dry_density=1700, moisture=0.05).name.endswith("(Johansen alone)")
    assert not soil_of("clay or silt", dry_density=1700, moisture=0.08).name.endswith("alone)")


def test_water_frees_its_heat_and_holds_it() -> None:
    """Sandy silt of UFC 3-130-06, 100 lb/ft³ and 15 %: L 2160 Btu/ft³ with its rounded 144 Btu/lb [memory].

    Its C of 28.25 Btu/(ft³·°F) is the mean of frozen and unfrozen; unfrozen it is 100 (0.17 + 0.15) = 32.
    """
    soil = soil_of("clay or silt", dry_density=100 * 16.018463, moisture=0.15)
    btu_per_foot3 = 1055.056 / 0.3048**3
    assert soil.latent_heat / btu_per_foot3 == pytest.approx(2160, rel=0.004)
    assert soil.heat_capacity / (btu_per_foot3 * 1.8) == pytest.approx(32, rel=0.001)


def test_rock_has_no_pores() -> None:
    rock = soil_of("rock", dry_density=2300, moisture=0.03)
    assert rock == soil_of("rock")
    assert rock.latent_heat == 0


def test_more_water_than_the_pores_hold_is_not_counted() -> None:
    full = saturated_moisture(1800)
    assert soil_of("clay or silt", dry_density=1800, moisture=0.5) == soil_of(
        "clay or silt", dry_density=1800, moisture=full
    )


def test_typed_values_win() -> None:
    band = soil_band("clay or silt", 1600, 0.2, low=1.0, likely=1.3, high=2.1)
    assert [soil.conductivity for soil in band] == [1.0, 1.3, 2.1]
    assert len({soil.latent_heat for soil in band}) == 1
    shares = {round(soil.frozen_conductivity / soil.conductivity, 12) for soil in band}
    assert len(shares) == 1


def test_a_typed_likely_value_keeps_the_bands_proportions() -> None:
    low, likely, high = (soil.conductivity for soil in soil_band("clay or silt", likely=1.0))
    assert (low, likely, high) == (pytest.approx(0.6), 1.0, pytest.approx(2.5 / 1.5))


def test_typed_ends_move_the_likely_value_only_when_they_have_to() -> None:
    assert [s.conductivity for s in soil_band("clay or silt", low=1.2)] == [1.2, 1.5, 2.5]
    assert soil_band("clay or silt", low=1.8)[1].conductivity == pytest.approx(3.0)
    assert soil_band("clay or silt", high=1.0)[1].conductivity == pytest.approx(0.6)
    assert soil_band("clay or silt", low=0.5, high=0.8)[1].conductivity == pytest.approx(0.4**0.5)


def test_refusals() -> None:
    with pytest.raises(
        KeyError, match='there is no ground "peat"; there are: clay or silt, sand or gravel, rock'
    ):
        soil_band("peat")
    with pytest.raises(ValueError, match=r"conductivities 2, 1\.5 W/\(m·K\) do not rise"):
        soil_band("clay or silt", low=2.0, likely=1.5)
    with pytest.raises(ValueError, match="the conductivity of the ground is -1"):
        soil_band("clay or silt", likely=-1.0)
    with pytest.raises(ValueError, match=r"the dry density of the soil is 2800 kg/m³; .* less than 2700"):
        soil_of("clay or silt", dry_density=2800, moisture=0.1)
    with pytest.raises(ValueError, match="the resistance of the framed wall is 0"):
        framed_wall(0.0, 0.1)


numbers = st.floats(0.3, 6)


@example("sand or gravel", 2400.0, 0.0105, True, [None, None, None])  # dry end has one method alone
@given(
    ground=st.sampled_from(GROUNDS),
    density=st.floats(800, 2400),
    moisture=st.floats(0.001, 0.6),
    known=st.booleans(),
    typed=st.lists(st.one_of(st.none(), numbers), min_size=3, max_size=3),
)
def test_every_band_rises_and_holds_what_was_typed(
    ground: str, density: float, moisture: float, known: bool, typed: list[float | None]
) -> None:
    values = iter(sorted(value for value in typed if value is not None))
    low, likely, high = (None if value is None else next(values) for value in typed)
    band = soil_band(ground, density if known else None, moisture if known else None, low, likely, high)
    found = [soil.conductivity for soil in band]
    assert 0 < found[0] <= found[1] * (1 + 1e-12) <= found[2] * (1 + 1e-9)
    for asked, got in zip((low, likely, high), found, strict=True):
        assert asked is None or asked == got
    assert all(soil.frozen_conductivity > 0 and soil.heat_capacity > 0 for soil in band)


@given(ground=st.sampled_from(["clay or silt", "sand or gravel"]), density=st.floats(1100, 2000))
def test_wetter_ground_conducts_more(ground: str, density: float) -> None:
    """From where both methods hold up to saturation."""
    full = saturated_moisture(density)
    waters = [w for w in (0.07, 0.10, 0.15, 0.20, 0.25, 0.30) if w < full]
    found = [soil_of(ground, dry_density=density, moisture=w).conductivity for w in waters]
    assert found == sorted(found)
