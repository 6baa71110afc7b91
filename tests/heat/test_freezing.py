"""Freezing ground against exact answers, against the solver without freezing, and what every season must keep."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import erf

from foundation.heat import enthalpy
from foundation.heat.conduction import Body, annual, steady
from foundation.heat.exact import YEAR
from foundation.heat.freezing import Season, freeze, frost_level
from foundation.heat.freezing_body import FreezingBody, freezing_body
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Fixed, Flux, Patch
from foundation.model.section import Material

DAY = 86400.0
EARTH = Material("earth", 1.5, 3.0e6, 2.2, 1.0e8)
FOAM = Material("foam", 0.03, 4.5e4, 0.03)


def edge(wing: float = 0.5) -> tuple[FreezingBody, list[Patch]]:
    """Ground under a warm floor and cold air, foam lying in it, a notch without material."""
    grid = Grid(
        (
            graded_lines([-2, 0, 0.5, 4], [np.inf, 0.1, 0.1, np.inf], 1.3),
            graded_lines([-5, -0.4, -0.3, 0], [np.inf, 0.05, 0.05, 0.1], 1.3),
        )
    )
    material = np.zeros(grid.shape, dtype=int)
    material[grid.inside((-2, wing), (-0.4, -0.3))] = 1
    material[grid.inside((0, 0.5), (-0.3, 0))] = -1
    right = np.broadcast_to(grid.centre(0) > 0, grid.shape)
    patches = [
        Patch("floor", 1, End.HIGH, Film(6.0, 20.0), ~right),
        Patch("air", 1, End.HIGH, Film(25.0, 5.0), right),
        Patch("notch", 0, End.LOW, Film(25.0, 5.0), grid.inside((0.5, 4), (-0.3, 0))),
        Patch("deep", 1, End.LOW, Flux(0.05)),
    ]
    return freezing_body(grid, material, (EARTH, FOAM)), patches


def winter(time: float) -> float:
    """A hard winter with a thaw in it. [°C]"""
    return 5 - 18 * math.sin(math.pi * time / (150 * DAY)) + 9 * math.sin(2 * math.pi * time / (30 * DAY))


def season_of(body: FreezingBody, patches: list[Patch], step: float = DAY) -> Season:
    course = {"air": winter, "notch": winter}
    return freeze(body, patches, 6.0, np.arange(0, 151, 30) * DAY, step, course)


def test_energy() -> None:
    """Heat in is what the cells hold more, counted from temperatures and frozen shares."""
    body, patches = edge()
    season = season_of(body, patches)
    assert season.imbalance < 1e-6
    assert season.steps == 150
    assert 0 < season.most_frozen[np.asarray(body.latent_heat) > 0].mean() < 0.9

    def held(temperature: np.ndarray, frozen: np.ndarray) -> float:
        cold, warm = np.minimum(temperature, 0), np.maximum(temperature, 0)
        each = body.frozen_heat_capacity * cold + body.heat_capacity * warm - body.latent_heat * frozen
        return float(np.nansum(body.grid.volume * each))

    first = held(season.temperature[0], season.frozen[0])
    for k in range(1, 6):
        gained = held(season.temperature[k], season.frozen[k]) - first
        come = sum(heat[k] for heat in season.heat.values())
        assert come == pytest.approx(gained, rel=1e-6)
        assert season.stored[k] == pytest.approx(gained, rel=1e-6)
    assert season.heat["deep"] == pytest.approx(6.0 * 0.05 * season.times, rel=1e-9)


def test_what_was_most_frozen() -> None:
    """Between the looks too: as in a season looked at every day."""
    body, patches = edge()
    course = {"air": winter, "notch": winter}
    daily = freeze(body, patches, 6.0, np.arange(151) * DAY, DAY, course)
    season = season_of(body, patches)
    np.testing.assert_array_equal(season.most_frozen, daily.frozen.max(axis=0))
    np.testing.assert_array_equal(season.coldest, daily.temperature.min(axis=0))
    assert np.isnan(season.coldest).sum() == (np.asarray(body.conductivity) == 0).sum()
    levels = frost_level(body.grid, season.most_frozen)
    assert np.nanmin(levels) == levels[-1]  # deepest far from the house
    assert levels[-1] < -1
    assert np.isnan(levels[0])


def column(cells: int, depth: float) -> Grid:
    return Grid((np.array([0.0, 1.0]), np.linspace(-depth, 0, cells + 1)))


def test_without_latent_heat_it_is_plain_conduction() -> None:
    """A half-space from +4 to −6 °C at its surface, T = −6 + 10 erf(z / √(4 a t)) [textbook]; steps of first order."""
    grid = column(400, 10.0)
    body = FreezingBody(grid, 1.5, 1.5, 3e6, 3e6, 0.0)
    exact = -6 + 10 * erf(-grid.centre(1).ravel() / math.sqrt(4 * 5e-7 * 40 * DAY))
    errors = []
    for steps in (100, 200, 400):
        found = freeze(body, [Patch("top", 1, End.HIGH, Fixed(-6.0))], 4.0, [0, 40 * DAY], 40 * DAY / steps)
        errors.append(np.abs(found.temperature[-1][0] - exact).max())
    assert errors[-1] < 0.005
    np.testing.assert_allclose(np.log2(errors[:-1]) - np.log2(errors[1:]), 1, rtol=0, atol=0.1)


def test_without_latent_heat_years_come_to_the_wave() -> None:
    """Against the complex amplitudes of the same body: four years of steps of a day, the last one compared."""
    body, patches = edge()
    plain = replace(
        body,
        frozen_conductivity=body.conductivity,
        frozen_heat_capacity=body.heat_capacity,
        latent_heat=0.0,
    )
    patches = [
        replace(one, surrounding=Film(25.0, 5.0, -15.0)) if one.name in ("air", "notch") else one
        for one in patches
    ]
    wave = annual(Body(body.grid, body.conductivity, body.heat_capacity), patches)
    when = YEAR * np.array([0, 4.0, 4.25, 4.5])

    def air(time: float) -> float:
        return 5 - 15 * math.cos(2 * math.pi * time / YEAR)

    season = freeze(plain, patches, wave.temperature(0), when, YEAR / 365, {"air": air, "notch": air})
    for k in (1, 2, 3):
        np.testing.assert_allclose(season.temperature[k], wave.temperature(when[k]), rtol=0, atol=0.15)


def test_long_after_it_is_steady() -> None:
    """All thawed and all frozen, against the steady solver; to rest in one step."""
    body, patches = edge()
    cold = np.asarray(body.frozen_conductivity)
    for conductivity, shift in ((body.conductivity, 0.0), (cold, -40.0)):
        around = [
            replace(one, surrounding=Film(one.surrounding.coefficient, one.surrounding.temperature + shift))
            if isinstance(one.surrounding, Film)
            else one
            for one in patches
        ]
        found = freeze(body, around, 3.0, [0, 1e15], 1e15)
        still = steady(Body(body.grid, conductivity), around)
        np.testing.assert_allclose(found.temperature[-1], still.temperature, rtol=0, atol=1e-5)
        for name in ("floor", "air", "notch"):
            assert found.heat[name][-1] / 1e15 == pytest.approx(still.flow[name], rel=1e-5)


@pytest.mark.parametrize("film", [math.inf, 8.0])
def test_half_frozen_wall_at_rest(film: float) -> None:
    """Each side follows its own conductivity: q d = k T up to 0 °C and k' T' beyond, whatever the cells [derived]."""
    body = FreezingBody(column(7, 0.5), 1.5, 2.2, 3e6, 2.4e6, 1e8)
    outer = Fixed(-5.0) if film == math.inf else Film(film, -5.0)
    found = freeze(
        body,
        [Patch("in", 1, End.LOW, Fixed(12.0)), Patch("out", 1, End.HIGH, outer)],
        4.0,
        [0, 1e15],
        1e15,
    )
    flux = found.heat["in"][-1] / 1e15
    outside = -5 + flux / film
    assert flux * 0.5 == pytest.approx(1.5 * 12 - 2.2 * outside, rel=1e-6)
    assert found.heat["out"][-1] == pytest.approx(-found.heat["in"][-1], rel=1e-6)


def test_more_latent_heat_freezes_less_deep() -> None:
    grid, depths = column(100, 4.0), []
    for latent in (2e7, 6e7, 1e8, 2e8):
        body = FreezingBody(grid, 1.5, 2.2, 3e6, 2.4e6, latent)
        found = freeze(body, [Patch("top", 1, End.HIGH, Fixed(-6.0))], 4.0, [0, 90 * DAY], DAY)
        depths.append(-frost_level(grid, found.frozen[-1])[0])
    assert all(deep > shallow for deep, shallow in zip(depths, depths[1:], strict=False))
    assert depths[-1] > 0.5


def test_wider_foam_freezes_less() -> None:
    frozen = []
    for wing in (0.0, 0.5):
        body, patches = edge(wing)
        beside = body.grid.inside((0, 0.5), (-5, -0.4))
        frozen.append(season_of(body, patches).most_frozen[beside].sum())
    assert frozen[1] < frozen[0]


def test_axes_change_places() -> None:
    body, patches = edge()
    turned = FreezingBody(
        Grid(body.grid.lines[::-1]), *(np.transpose(v) for v in list(vars(body).values())[1:])
    )
    around = [
        replace(one, axis=1 - one.axis, cells=None if one.cells is None else one.cells.T) for one in patches
    ]
    one, other = season_of(body, patches), season_of(turned, around)
    np.testing.assert_allclose(other.temperature[-1].T, one.temperature[-1], rtol=0, atol=1e-6)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(-15, 15), min_size=6, max_size=6),
    st.floats(-15, 15),
    st.floats(3.0, 6.5),
    st.integers(0, 10_000),
)
def test_no_cell_leaves_the_temperatures_round_it(
    air: list[float], first: float, step: float, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    grid = Grid(tuple(np.concatenate([[0], np.cumsum(10 ** rng.uniform(-2, 0, 6))]) for _ in range(2)))
    wet = np.where(rng.random(grid.shape) < 0.7, 10 ** rng.uniform(7, 8.3, grid.shape), 0)
    conductivity, capacity = 10 ** rng.uniform(-1.5, 0.5, grid.shape), 10 ** rng.uniform(4.7, 6.6, grid.shape)
    body = FreezingBody(
        grid, conductivity, np.where(wet > 0, 1.5, 1) * conductivity, capacity, 0.8 * capacity, wet
    )
    length = 10**step
    found = freeze(
        body,
        [Patch("air", 1, End.HIGH, Film(20.0, 0.0)), Patch("held", 0, End.LOW, Fixed(first))],
        first,
        np.arange(7) * length,
        length,
        {"air": lambda time: air[max(round(time / length) - 1, 0)]},
    )
    assert found.imbalance < 1e-6
    assert found.temperature.min() >= min(*air, first) - 1e-6
    assert found.temperature.max() <= max(*air, first) + 1e-6


def test_steps_that_find_no_balance_are_halved(monkeypatch: pytest.MonkeyPatch) -> None:
    """What they give is as near to the season in short steps as whole steps are."""
    body, patches = edge()
    short, whole = (season_of(body, patches, step) for step in (DAY / 4, 5 * DAY))
    monkeypatch.setattr(enthalpy, "ITERATIONS", 5)
    halved = season_of(body, patches, 5 * DAY)
    assert whole.steps == 30 < halved.steps
    assert halved.imbalance < 1e-6
    errors = [np.nanmean(np.abs(found.temperature - short.temperature)) for found in (halved, whole)]
    assert errors[0] < 1.1 * errors[1]
    monkeypatch.setattr(enthalpy, "ITERATIONS", 1)
    with pytest.raises(ArithmeticError, match="no balance at"):
        season_of(body, patches)


def test_frozen_heat_capacity() -> None:
    """334 kJ and 4.19 − 2.10 kJ/K in a kilogram of water [memory]: 1e8 J/m³ are 299 kg, 626 kJ/K less as ice."""
    body, _ = edge()
    wet = np.asarray(body.latent_heat) > 0
    assert np.asarray(body.frozen_heat_capacity)[wet] == pytest.approx(3.0e6 - 0.626e6, abs=500)
    foam = np.asarray(body.conductivity) == 0.03
    assert np.asarray(body.frozen_heat_capacity)[foam] == pytest.approx(4.5e4)


GROUND = FreezingBody(column(4, 1.0), 1.5, 2.2, 3e6, 2.4e6, 1e8)
TOP = Patch("top", 1, End.HIGH, Fixed(-6.0))


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"patches": []}, "no patch"),
        ({"patches": [TOP, TOP]}, "Two patches are named top"),
        ({"times": [0.0]}, "two or more rising"),
        ({"times": [0.0, 0.0]}, "two or more rising"),
        ({"step": 0.0}, "step is 0"),
        ({"start": np.nan}, "start has a temperature that is not finite"),
        ({"start": np.zeros(3)}, "start has shape"),
        ({"course": {"side": winter}}, "course names side; the patches are top"),
        ({"course": {"top": lambda time: math.nan}}, "Patch top has a value at 86400 s"),
        ({"course": {"top": lambda time: np.zeros(3)}}, "course of top has shape"),
    ],
)
def test_bad_seasons(change: dict, complaint: str) -> None:
    given_values = {"patches": [TOP], "start": 4.0, "times": [0.0, DAY], "step": DAY, **change}
    with pytest.raises(ValueError, match=complaint):
        freeze(GROUND, **given_values)


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"conductivity": 0.0}, "No cell has a conductivity"),
        ({"frozen_conductivity": 0.0}, "frozen conductivity 0"),
        ({"heat_capacity": 0.0}, "heat capacity 0"),
        ({"latent_heat": -1.0}, "latent heat goes from -1"),
        ({"latent_heat": np.ones(3)}, "latent heat has shape"),
        ({"grid": Grid((np.array([0.0, 1.0]),) * 3)}, "3 axes; freezing takes 2"),
    ],
)
def test_bad_ground(change: dict, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        replace(GROUND, **change)


def test_ground_of_too_much_water() -> None:
    with pytest.raises(ValueError, match="mud has a latent heat"):
        freezing_body(column(1, 1.0), np.zeros((1, 1), dtype=int), [Material("mud", 1.5, 2e6, 2.2, 3.3e8)])
