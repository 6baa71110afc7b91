"""The design winter against its freezing index, the modified Berggren formula and finer grids."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foundation.climate import AnnualWave, freezing_index_by_curve, wave_from_mean
from foundation.frost.depth import FUSION, heat_capacity, modified_berggren_depth
from foundation.heat.sections.winter import AFTER, bottom_of, design_winter, footing_of, grade_over
from foundation.heat.sections.winter_air import DAYS, winter_air
from foundation.model.section import Material, Section, SoilLayer
from foundation.model.winter import DesignWinter
from tests.heat.sections import FOAM_INCHES, SECTIONS, between, slab_edge

MEAN, SWING, INDEX = 7.0, 16.0, 1400.0


def winter(section: Section, inside: float | None = 20.0, **other: float) -> DesignWinter:
    given_values = {"mean": MEAN, "amplitude": SWING, "index": INDEX, **other}
    return design_winter(section, inside, **given_values)


@settings(max_examples=60)
@given(st.floats(-12, 15), st.floats(3, 25), st.floats(1.02, 4.0), st.floats(5, 800))
def test_air_has_the_index(mean: float, amplitude: float, times: float, more: float) -> None:
    """Counted from the air itself, by the cumulative curve and in steps of a twentieth of a day."""
    index = times * AnnualWave(mean, amplitude).freezing_index + more
    air = winter_air(mean, amplitude, index)
    assert air.freezing_index == pytest.approx(index, rel=1e-9)
    days = np.arange(-DAYS / 2, DAYS / 2, 0.05) + 0.025
    counted = freezing_index_by_curve([air.temperature(day) for day in days]) * 0.05
    if amplitude < -mean:  # the summer half never thaws, and begins and ends the curve
        counted = np.maximum(-np.array([air.temperature(day) for day in days]), 0).sum() * 0.05
    assert counted == pytest.approx(index, abs=0.05)
    warm = np.array([day for day in days if abs(day) > DAYS / 4])
    np.testing.assert_allclose(
        [air.temperature(day) for day in warm], AnnualWave(mean, amplitude).temperature(warm), atol=1e-9
    )


@pytest.mark.parametrize("mean", [7.0, 0.5, -4.0])
def test_its_own_index_is_the_mean_year(mean: float) -> None:
    wave = AnnualWave(mean, 16.0)
    air = winter_air(mean, 16.0, wave.freezing_index)
    assert air.colder == pytest.approx(16.0, rel=1e-9)
    for day in (-180.0, -91.25, -20.0, 0.0, 60.0, 100.0):
        assert air.temperature(day) == pytest.approx(float(wave.temperature(day)), abs=1e-8)


def test_it_freezes_as_long_as_a_wave_of_its_index() -> None:
    wave = wave_from_mean(7.0, 1400.0)
    air = winter_air(7.0, 16.0, 1400.0)
    assert air.colder == pytest.approx(wave.amplitude, rel=1e-9)
    assert 2 * air.thaws == pytest.approx(wave.days_below(0.0), rel=1e-9)
    assert air.temperature(air.thaws) == pytest.approx(0.0, abs=1e-9)
    assert air.temperature(-DAYS / 4 - 1e-6) == pytest.approx(air.temperature(-DAYS / 4 + 1e-6), abs=1e-5)


def test_no_winter_so_mild() -> None:
    with pytest.raises(ValueError, match="freezing index is 0 K·d; about a mean of 7"):
        winter_air(7.0, 16.0, 0.0)
    with pytest.raises(ValueError, match="has to be more than 2190"):
        winter_air(-6.0, 1e-9, 1000.0)  # 365 days at 6 K below freezing
    with pytest.raises(ValueError, match="the yearly amplitude is -1 K"):
        winter_air(7.0, -1.0, 100.0)


@pytest.mark.parametrize(("mean", "index", "share"), [(7.0, 1400.0, 1.0), (4.0, 1900.0, 0.7)])
def test_far_from_the_house_it_freezes_as_the_formula_says(mean: float, index: float, share: float) -> None:
    """Modified Berggren, UFC 3-130-06 (`foundation.frost.depth`), to 6 %.

    The formula has the surface at the season's mean from one day to the next over ground at the yearly mean, with
    properties half frozen, half thawed; this winter is half a sine over ground that has cooled since August. No more
    than 6 % lie between the two on soils like this one [derived].
    """
    density, water = 1600.0, 0.2
    latent = FUSION * density * water
    middle = heat_capacity(density, water)
    soil = Material("soil", 1.5, middle + latent / 334e3 * 2090 / 2, 2.2, latent)
    section = replace(slab_edge(outside=FOAM_INCHES), soil=(SoilLayer(math.inf, soil),))
    found = winter(section, mean=mean, index=index, surface=share)
    far = (found.x[1:] + found.x[:-1]) / 2 > 15
    days = wave_from_mean(mean, index).days_below(0.0)
    formula = modified_berggren_depth(share * index, days, mean, 1.85, density, water)
    np.testing.assert_allclose(-found.frost[far], formula, rtol=0.06)
    assert np.ptp(found.frost[far]) < 0.01
    assert 20 < found.day < 110  # weeks after the coldest day
    assert (
        found.day < winter_air(mean, SWING, index).thaws + AFTER - 5
    )  # and before the end of what is followed


def test_finer_cells_and_steps() -> None:
    """What is claimed of fineness 1: depth within 2.5 cm, distance within 4 cm, the footing up to 0.2 K too warm."""
    section = slab_edge(outside=FOAM_INCHES, wing=0.9, under=FOAM_INCHES)
    coarse, fine = winter(section), winter(section, fineness=1.5)
    assert fine.cells > 1.6 * coarse.cells
    assert fine.steps == pytest.approx(1.5 * coarse.steps, abs=2)
    assert coarse.depth == pytest.approx(fine.depth, abs=0.025)
    assert coarse.distance == pytest.approx(fine.distance, abs=0.04)
    assert -0.05 < coarse.under - fine.under < 0.2
    middle = [(w.x[1:] + w.x[:-1]) / 2 for w in (coarse, fine)]
    for x in (1.5, 2.0, 4.0, 8.0):
        one, other = (np.interp(x, m, w.frost) for m, w in zip(middle, (coarse, fine), strict=True))
        assert one == pytest.approx(other, abs=0.025)


@pytest.mark.parametrize("name", ["basement foam outside, slope", "walkout foamed", "garage foamed"])
def test_what_every_winter_keeps(name: str) -> None:
    section = SECTIONS[name]()
    found = winter(section, surface=0.7)
    assert found.imbalance < 1e-6
    assert found.index == pytest.approx(INDEX, rel=1e-9)
    assert found.coldest == pytest.approx(MEAN - wave_from_mean(MEAN, INDEX).amplitude, rel=1e-9)
    shape = (len(found.x) - 1, len(found.z) - 1)
    assert found.temperature.shape == found.front.shape == shape
    assert found.frost.shape == shape[:1]
    assert np.nanmin(found.temperature) >= found.coldest
    assert np.nanmax(found.temperature) <= 20.0
    # The line of the front lies where the frozen share ends, in open ground where it is level.
    column = int(np.argmin(np.abs((found.x[1:] + found.x[:-1]) / 2 - 8.0)))
    z = (found.z[1:] + found.z[:-1]) / 2
    ground = np.isfinite(found.front[column])
    crossing = np.interp(0.0, -found.front[column][ground][::1], z[ground])
    assert crossing == pytest.approx(found.frost[column], abs=0.02)
    foot = footing_of(section)
    assert foot is not None
    assert found.bottom == bottom_of(section, foot) == foot.bottom
    assert found.reaches == (found.under < 0)
    x = np.linspace(0.05, 2.0, 40)
    levels = np.interp(x, (found.x[1:] + found.x[:-1]) / 2, found.frost)
    assert found.depth == pytest.approx(np.nanmax(grade_over(section, x) - levels), abs=0.01)


def test_foam_under_the_slab_starves_the_footing() -> None:
    under = [winter(slab_edge(outside=FOAM_INCHES, under=under)).under for under in (0.0, 0.05, 0.15)]
    assert under[0] > under[1] + 0.1 > under[2] + 0.2


def test_a_wider_wing_keeps_the_frost_out() -> None:
    found = [winter(slab_edge(outside=FOAM_INCHES, wing=wing)) for wing in (0.0, 0.6, 1.2)]
    x = [(each.x[1:] + each.x[:-1]) / 2 for each in found]
    beside = [np.interp(0.5, middle, each.frost) for middle, each in zip(x, found, strict=True)]
    assert beside[0] < beside[1] - 0.1 < beside[2] - 0.1
    assert found[0].under < found[1].under < found[2].under
    assert found[0].distance < found[1].distance < found[2].distance


def test_colder_is_deeper() -> None:
    section = slab_edge(outside=FOAM_INCHES)
    mild, usual = winter(section, index=900.0, surface=0.7), winter(section, surface=0.7)
    bare, cold = winter(section), winter(section, inside=None)
    assert mild.depth < usual.depth < bare.depth < cold.depth
    assert mild.under > usual.under > bare.under > cold.under
    assert cold.inside is None
    # Nobody heats: it freezes under the slab as well.
    inner = (cold.x[1:] + cold.x[:-1]) / 2 < -2.0
    assert np.isfinite(cold.frost[inner]).all()
    assert np.isnan(usual.frost[inner]).all()


def test_hardly_any_frost() -> None:
    found = winter(slab_edge(), mean=14.0, amplitude=12.0, index=0.5)
    assert found.depth < 0.02
    assert not found.reaches
    assert found.distance > 0.5


@pytest.mark.parametrize(
    ("section", "other", "complaint"),
    [
        (between(), {}, "Beyond the wall of section"),
        (slab_edge(), {"surface": 0.0}, "share of the freezing index is 0"),
        (slab_edge(), {"fineness": -1.0}, "fineness is -1"),
        (slab_edge(), {"index": 0.0}, "about a mean of 7.0"),
    ],
)
def test_bad_winters(section: Section, other: dict[str, float], complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        winter(section, **other)
