"""Sections in cells and their answers: signs, limits, balance, and whether the claimed error holds."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from foundation.heat.conduction import annual, steady
from foundation.heat.exact import YEAR
from foundation.heat.sections.assemble import assemble
from foundation.heat.sections.lines import APART, first_lines, points_of
from foundation.heat.sections.respond import (
    FAR,
    respond,
    steady_conductance,
    surface_of,
    unit_patches,
)
from foundation.model.heat import Surface
from foundation.model.section import GradeStep, Section, SoilLayer
from tests.heat.sections import (
    CONCRETE,
    FOAM,
    FOAM_INCHES,
    SAND,
    SECTIONS,
    SOIL,
    STRESSED,
    basement,
    between,
    garage,
    slab_edge,
    walkout,
)


def flows(surface: Surface) -> np.ndarray:
    """Through floor and wall, then through all; steady, then of the year."""
    below = np.array(surface.group) != "frame"
    return np.array(
        [
            part[which].sum()
            for part in (surface.flow_steady, surface.flow_annual)
            for which in (below, slice(None))
        ]
    )


def test_cells_have_the_section_s_sizes() -> None:
    section = basement(inside=FOAM_INCHES, under=FOAM_INCHES)
    found = assemble(section)
    volume = found.grid.volume
    foam = found.materials.index(FOAM)
    foam_area = FOAM_INCHES * (2.4 + 4.0)
    assert volume[found.material == foam].sum() == pytest.approx(foam_area, rel=1e-9)
    concrete = volume[found.material == found.materials.index(CONCRETE)].sum()
    wall, footing, floor = 0.2 * (2.5 + FOAM_INCHES), 0.4 * 0.2, 4.0 * 0.1
    assert concrete == pytest.approx(wall + footing + floor, rel=1e-9)
    x, z = (np.broadcast_to(found.grid.centre(axis), found.grid.shape) for axis in (0, 1))
    air = found.material < 0
    assert np.array_equal(found.conductivity == 0, air)
    # Outdoors all above grade that is no wall, indoors all above the floor.
    assert np.all(air[(x > FOAM_INCHES) & (z > 0)])
    assert np.all(air[(x < -0.2 - FOAM_INCHES) & (z > section.floor)])
    assert not np.any(air[(x < -0.2) & (z < section.floor)])
    assert np.all(found.material[(x > 0.2) & (z < -3.5)] == found.materials.index(SAND))
    assert np.all(found.material[(x > 0.2) & (z > -3.5) & (z < 0)] == found.materials.index(SOIL))


def test_inner_surface_has_its_area() -> None:
    section = basement(inside=FOAM_INCHES)
    surface = respond(section).surface
    group = np.array(surface.group)
    area = {name: surface.area[group == name].sum() for name in ("floor", "wall", "frame")}
    assert area["floor"] == pytest.approx(4.0 - FOAM_INCHES, rel=1e-9)
    assert area["wall"] == pytest.approx(2.4 + FOAM_INCHES + 0.06, rel=1e-9)  # with the tops of foam and wall
    assert area["frame"] == pytest.approx(0.6, rel=1e-9)


def test_exposure() -> None:
    """Down from grade, then inward over the floor; a floor above grade counts from the wall."""
    low = respond(basement(), 0.02).surface
    group = np.array(low.group)
    np.testing.assert_allclose(low.exposure[group == "wall"], np.maximum(-low.z[group == "wall"], 0))
    np.testing.assert_allclose(low.exposure[group == "floor"], 2.2 - 0.2 - low.x[group == "floor"])
    high = respond(slab_edge(), 0.02).surface
    floor = np.array(high.group) == "floor"
    np.testing.assert_allclose(high.exposure[floor], np.maximum(-0.2 - high.x[floor], 0), atol=1e-12)


def test_framed_wall_is_layers_in_series() -> None:
    """Well above the sill: U = 1/(0.13 + 3.0 + 0.04), ISO 6946 [memory]."""
    surface = respond(basement()).surface
    top = int(np.argmax(np.where(np.array(surface.group) == "frame", surface.z, -np.inf)))
    across = surface.flow_steady[top] / surface.area[top]
    assert across == pytest.approx(1 / (0.13 + 3.0 + 0.04), rel=1e-3)
    assert surface.steady[top] == pytest.approx(0.13 / (0.13 + 3.0 + 0.04), rel=1e-3)


@pytest.mark.parametrize("section", [basement(outside=FOAM_INCHES), garage()], ids=["basement", "garage"])
def test_factors_give_the_temperatures_they_are_said_to(section: Section) -> None:
    """Against the same cells driven by the real airs: Ti inside, Tm - A cos(2πt/year) outside."""
    inside, mean, swing = 20.0, 5.0, 12.0
    cells = assemble(section)
    factors = surface_of(cells, annual(cells.body, unit_patches(cells)))
    real = annual(
        cells.body,
        [faces.patch(inside) if faces.inner else faces.patch(mean, -swing) for faces in cells.faces],
    )
    inner = [faces for faces in cells.faces if faces.inner]
    for time in (0.0, 0.2 * YEAR, 0.6 * YEAR):
        turn = np.exp(2j * math.pi * time / YEAR)
        said = (
            inside + factors.steady * (mean - inside) - swing * np.real(factors.annual * turn),
            factors.flow_steady * (inside - mean) + swing * np.real(factors.flow_annual * turn),
        )
        measured = np.concatenate(
            [real.mean.surface[f.name] + np.real(real.swing.surface[f.name] * turn) for f in inner]
        )
        np.testing.assert_allclose(said[0], measured, rtol=1e-9)
        assert said[1].sum() == pytest.approx(sum(real.flow(f.name, time) for f in inner), rel=1e-9)
    assert factors.flow_steady.sum() > 0
    # Coldest outside at time 0: more leaves then, and it is felt later.
    assert factors.flow_annual.sum().real > 0
    assert factors.flow_annual.sum().imag < 0


@pytest.mark.parametrize("name", SECTIONS)
def test_balance(name: str) -> None:
    """What comes in from the inner air goes out to the outer."""
    cells = assemble(SECTIONS[name](), 0.7)
    field = steady(cells.body, unit_patches(cells))
    through = {
        side: sum(field.flow[f.name] for f in cells.faces if f.inner is side) for side in (True, False)
    }
    assert through[True] < 0 < through[False]
    assert through[True] == pytest.approx(-through[False], rel=1e-9)
    assert respond(SECTIONS[name](), 0.02).imbalance < 1e-9


def test_a_very_slow_year_is_steady() -> None:
    cells = assemble(basement(under=FOAM_INCHES))
    slow = surface_of(cells, annual(cells.body, unit_patches(cells), 1e7 * YEAR))
    np.testing.assert_allclose(slow.annual, slow.steady, rtol=1e-3)
    np.testing.assert_allclose(slow.flow_annual, slow.flow_steady, rtol=1e-3)


def test_a_year_is_felt_less_than_the_mean() -> None:
    """And least in the middle of the floor."""
    surface = respond(basement()).surface
    assert np.all(np.abs(surface.annual) < surface.steady * (1 + 1e-3))
    floor = np.flatnonzero(np.array(surface.group) == "floor")
    order = floor[np.argsort(surface.x[floor])]
    assert np.abs(surface.annual[order[0]]) < 0.2 * np.abs(surface.annual[order[-1]])


@pytest.mark.parametrize("name", [*SECTIONS, *STRESSED])
def test_far_field_part(name: str) -> None:
    """What the same lines with farther ends change, against the part of the claim that stands for it."""
    section = (SECTIONS | STRESSED)[name]()
    near, far = (
        flows(surface_of(cells, annual(cells.body, unit_patches(cells))))
        for reach in (1.0, 4.0)
        for cells in (assemble(section, lines=first_lines(section, reach=reach)),)
    )
    assert np.all(np.abs(near / far - 1) < FAR)


@pytest.mark.parametrize("name", [*SECTIONS, *STRESSED])
def test_quick_conductance(name: str) -> None:
    section = (SECTIONS | STRESSED)[name]()
    quick, full = steady_conductance(section), respond(section).surface
    below, total = flows(full)[:2].real
    assert quick.total == pytest.approx(total, rel=0.01)
    assert quick.floor + quick.wall == pytest.approx(below, rel=0.01)


def test_error_falls_with_the_tolerance() -> None:
    section = slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES)
    rough, fine = respond(section, 0.02), respond(section, 0.002)
    assert fine.error <= 0.002 < rough.error
    assert fine.cells > 2 * rough.cells


def test_foam_and_soil_do_what_they_should() -> None:
    bare, some, more = (
        steady_conductance(slab_edge(outside=thickness)).total
        for thickness in (0.0, FOAM_INCHES, 3 * FOAM_INCHES)
    )
    assert bare > some > more
    wet = replace(slab_edge(), soil=(SoilLayer(math.inf, replace(SOIL, conductivity=2.5)),))
    assert steady_conductance(wet).total > bare


def test_picture_is_the_field() -> None:
    response = respond(walkout(edge=FOAM_INCHES))
    picture = response.picture
    assert picture.steady.shape == (len(picture.x) - 1, len(picture.z) - 1)
    seen = ~np.isnan(picture.steady)
    assert seen.sum() == response.cells
    assert np.all((picture.steady[seen] > 0) & (picture.steady[seen] < 1))
    assert np.array_equal(seen, ~np.isnan(picture.annual))
    # Far from the house the ground has the mean of the air; at the surface it follows the year.
    assert picture.steady[-1][seen[-1]][-1] == pytest.approx(1.0, abs=0.01)
    assert abs(picture.annual[-1][seen[-1]][0]) < 1e-6


def test_films_between_two_parts() -> None:
    """Beyond the wall there is indoor air: its surfaces have the inner films."""
    outer = {faces.film for faces in assemble(between()).faces if not faces.inner}
    assert outer <= {0.17, 0.13, 0.10}
    assert {faces.film for faces in assemble(basement()).faces if not faces.inner} == {0.04}


def test_sliver_under_a_footing_is_ground() -> None:
    section = basement()
    low = replace(section, bed=section.bed - 0.1516)
    cells = assemble(low)
    below = cells.grid.lines[1][:-1] < section.floor - 0.15
    assert np.all(cells.material[:, below] >= 0)


def test_lines_stand_on_every_side_and_level() -> None:
    section = basement(outside=FOAM_INCHES, slope=True)
    picture = respond(section).picture
    for lines, points in zip((picture.x, picture.z), points_of(section), strict=True):
        for point in points:
            assert np.min(np.abs(lines - point)) < APART


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"half_width": 0.0}, "half width is 0 m"),
        ({"soil": ()}, "no grade or no soil"),
        ({"grade": ()}, "no grade or no soil"),
        ({"top": -0.5}, "cut at -0.5 m, which is not above"),
        ({"grade": (GradeStep(0.0, 0.9),)}, "not above floor and grade"),
        ({"divide": -50.0}, "meets the inner air"),
    ],
)
def test_bad_sections(change: dict[str, object], complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        respond(replace(basement(), **change))


def test_bad_numbers() -> None:
    with pytest.raises(ValueError, match="tolerance is 0"):
        respond(basement(), 0.0)
    with pytest.raises(ValueError, match="fineness is -1"):
        assemble(basement(), -1.0)
