"""The solver against exact answers: layers, square-root edges, series; and what every solution must keep."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ellipj, ellipk

from foundation.heat.conduction import Body, Wave, annual, steady
from foundation.heat.grid import Grid, graded_lines
from foundation.heat.patches import End, Film, Fixed, Flux, Patch


@pytest.mark.parametrize(("axes", "axis"), [(2, 0), (2, 1), (3, 0), (3, 1), (3, 2)])
def test_layers_add_up(axes: int, axis: int) -> None:
    """Resistances in series, R = 1/h + Σ d/k + 1/h, whatever the cells and the way they lie [textbook]."""
    lines: list[np.ndarray] = [np.array([0.0, 0.7, 1.0]), np.linspace(0, 2, 4), np.array([0.0, 1.0, 5.0])][
        :axes
    ]
    thickness, conductivity = np.array([0.1, 0.05, 0.3]), np.array([2.0, 0.03, 230.0])
    edges = np.r_[0, np.cumsum(thickness)]
    lines[axis] = graded_lines(edges.tolist(), [0.01, 0.02, 0.004, np.inf])
    grid = Grid(tuple(lines))
    cells = np.ones(grid.shape)
    for value, start, stop in zip(conductivity, edges[:-1], edges[1:], strict=True):
        spans = [(-np.inf, np.inf)] * axes
        spans[axis] = (start, stop)
        cells[grid.inside(*spans)] = value
    found = steady(
        Body(grid, cells),
        [
            Patch("warm", axis, End.LOW, Film(7.7, 20.0)),
            Patch("cold", axis, End.HIGH, Film(25.0, -10.0)),
        ],
    )
    area = np.prod([line[-1] for place, line in enumerate(lines) if place != axis])
    flux = 30 / (1 / 7.7 + np.sum(thickness / conductivity) + 1 / 25)
    assert found.flow["warm"] == pytest.approx(flux * area, rel=1e-9)
    assert found.flow["cold"] == pytest.approx(-flux * area, rel=1e-9)
    assert found.surface["warm"] == pytest.approx(20 - flux / 7.7, rel=1e-9)
    assert found.surface["cold"] == pytest.approx(-10 + flux / 25, rel=1e-9)
    assert found.imbalance < 1e-9


def test_source_and_flux() -> None:
    """A bar warmed inside: what is made leaves by the cold end, T(0) = s l²/2k + q l/k [textbook]."""
    grid = Grid((np.linspace(0, 2, 101), np.array([0.0, 1.0])))
    found = steady(
        Body(grid, 0.5, source=3.0),
        [Patch("in", 0, End.LOW, Flux(4.0)), Patch("out", 0, End.HIGH, Fixed(1.0))],
    )
    assert found.flow["in"] == pytest.approx(4.0, rel=1e-12)
    assert found.flow["out"] == pytest.approx(-10.0, rel=1e-9)
    assert found.surface["in"] == pytest.approx(1 + 3 * 4 / 1 + 4 * 2 / 0.5, rel=1e-3)


def corner_to_side(cells: int) -> float:
    """Flow through a square from the left half of its bottom to its right side."""
    edge = np.linspace(0, 1, cells + 1)
    grid = Grid((edge, edge))
    found = steady(
        Body(grid, 1.0),
        [
            Patch("hot", 1, End.LOW, Fixed(1.0), grid.centre(0) < 0.5),
            Patch("cold", 0, End.HIGH, Fixed(0.0)),
        ],
    )
    assert found.imbalance < 1e-9
    return found.flow["hot"]


def test_first_order_at_the_edge_of_a_fixed_temperature() -> None:
    """Exact by conformal mapping: sn² takes the square to a half-plane, K(λ)/K(1 − λ) is the conductance [derived]."""
    s = float(ellipj(ellipk(0.5) / 2, 0.5)[0]) ** 2  # where the hot edge ends; the cold one is from 1 to 2
    ratio = s * (2 - 1) / (1 * (2 - s))
    exact = float(ellipk(ratio) / ellipk(1 - ratio))
    errors = np.array([corner_to_side(cells) - exact for cells in (16, 32, 64, 128)])
    orders = np.log2(errors[:-1] / errors[1:])
    np.testing.assert_allclose(orders, 1, rtol=0, atol=0.1)
    assert abs(errors[-1]) < 0.01 * exact


def under_films(cells: int, jump: bool) -> float:
    """Flow into the left half of a square's top, behind a film of 3; the air cos πx, or 1 left and 0 right."""
    edge = np.linspace(0, 1, cells + 1)
    grid = Grid((edge, edge))
    across = np.broadcast_to(grid.centre(0), grid.shape)
    air = np.where(across < 0.5, 1.0, 0.0) if jump else np.cos(np.pi * across)
    found = steady(
        Body(grid, 1.0),
        [
            Patch("left", 1, End.LOW, Film(3.0, air), across < 0.5),
            Patch("right", 1, End.LOW, Film(3.0, air), across > 0.5),
        ],
    )
    assert found.imbalance < 1e-9
    return found.flow["left"]


def orders_with_films(exact: float, jump: bool) -> np.ndarray:
    errors = np.array([under_films(cells, jump) - exact for cells in (16, 32, 64, 128)])
    return np.log2(errors[:-1] / errors[1:])


def test_second_order_with_films() -> None:
    """Exact by separation: U/π, 1/U = 1/h + 1/(π tanh π) [derived]."""
    exact = 1 / (1 / 3.0 + 1 / (np.pi * np.tanh(np.pi))) / np.pi
    np.testing.assert_allclose(orders_with_films(exact, jump=False), 2, rtol=0, atol=0.05)


def test_films_beside_a_jump_of_the_air() -> None:
    """Exact by cosine series: Σ 2/(nπ)² U, 1/U = 1/h + 1/(nπ tanh nπ), n odd [derived].

    The jump leaves a logarithm: the error is c x² ln(b/x) for a cell x, whose order climbs to 2 but slowly.
    """
    wave = np.arange(1, 20001, 2) * np.pi
    through = 1 / (1 / 3.0 + 1 / (wave * np.tanh(wave)))
    exact = 3.0 / 4 - np.sum(2 / wave**2 * (3.0 - through))  # Σ 2/(nπ)² = 1/4 over the odd n
    errors = np.array([under_films(cells, jump=True) - exact for cells in (16, 32, 64, 128)])
    # Over x² the error then grows by c ln 2 with every halving, evenly.
    growth = np.diff(errors * np.array([16, 32, 64, 128]) ** 2)
    np.testing.assert_allclose(growth / growth[-1], 1, rtol=0, atol=0.1)
    assert np.all(np.diff(orders_with_films(exact, jump=True)) > 0)
    assert abs(errors[-1]) < 0.001 * exact


def test_edge_of_two_walls() -> None:
    """Where two walls meet: 1 − 2 ln 2/π = 0.5587 [-], the square corner of a conducting sheet [memory].

    Incropera, *Fundamentals of Heat and Mass Transfer*, Table 4.1 prints the measured 0.54 [read].
    """
    grid = Grid((graded_lines([0, 1, 6], [0.1, 0.004, np.inf], 1.1),) * 2)
    solid = np.where(grid.inside((1, np.inf), (1, np.inf)), 0.0, 1.0)
    found = steady(
        Body(grid, solid),
        [
            Patch("out x", 0, End.LOW, Fixed(0.0)),
            Patch("out y", 1, End.LOW, Fixed(0.0)),
            Patch("in x", 0, End.HIGH, Fixed(1.0), grid.inside((0, 1), (1, np.inf))),
            Patch("in y", 1, End.HIGH, Fixed(1.0), grid.inside((1, np.inf), (0, 1))),
        ],
    )
    assert np.isnan(found.temperature).sum() == (solid == 0).sum()
    edge = found.flow["in x"] + found.flow["in y"] - 2 * 5.0
    assert edge == pytest.approx(1 - 2 * np.log(2) / np.pi, abs=0.005)
    assert found.imbalance < 1e-9


def solid_block(cells: int) -> tuple[Body, list[Patch]]:
    edge = graded_lines([0, 1, 3], [1 / cells, 1 / cells, np.inf], 1.2)
    grid = Grid((edge, edge, edge))
    warm = grid.inside((0, 1), (0, 1), (-np.inf, np.inf))
    conductivity = np.where(grid.inside((0, 1), (0, 1), (0, 1)), 0.04, 2.0)
    return Body(grid, conductivity, 2e6), [
        Patch("floor", 2, End.LOW, Film(5.0, 20.0, 1.0), warm),
        Patch("air", 2, End.LOW, Film(20.0, 5.0, 10.0j), ~warm),
    ]


def section(depth: list[np.ndarray]) -> Wave:
    """A foamed edge with an aluminium strip in it, as a section or drawn out along further axes."""
    across = graded_lines([0, 1, 1.002, 6], [0.1, 0.001, 0.001, np.inf], 1.3)
    down = graded_lines([0, 0.1, 0.8, 6], [0.02, 0.05, 0.1, np.inf], 1.3)
    grid = Grid((across, down, *depth))
    rest = [(-np.inf, np.inf)] * len(depth)
    conductivity = np.full(grid.shape, 1.5)
    conductivity[grid.inside((0, 1.002), (0, 0.1), *rest)] = 0.035
    conductivity[grid.inside((1, 1.002), (0, 0.8), *rest)] = 230
    left = np.broadcast_to(grid.centre(0) < 1, grid.shape)
    patches = [
        Patch("floor", 1, End.LOW, Film(6.0, 20.0, 1.0), left),
        Patch("air", 1, End.LOW, Film(25.0, 5.0, 12.0j), ~left),
    ]
    return annual(Body(grid, conductivity, 2.5e6), patches)


def test_solid_is_its_section_drawn_out() -> None:
    """The iterations of a solid against the factors of its section, steady and over the year."""
    flat, drawn = section([]), section([np.array([0.0, 0.5, 2.0])])
    for one, other in ((flat.mean, drawn.mean), (flat.swing, drawn.swing)):
        for name in ("floor", "air"):
            assert other.flow[name] / 2 == pytest.approx(one.flow[name], rel=1e-8)
        np.testing.assert_allclose(other.temperature[..., 1], one.temperature, rtol=1e-8)
        assert max(one.imbalance, other.imbalance) < 1e-9


def test_big_solid_balances() -> None:
    found = annual(*solid_block(14))
    assert max(found.mean.imbalance, found.swing.imbalance) < 1e-9
    assert found.mean.flow["floor"] > 0


def test_even_body_is_at_rest() -> None:
    grid = Grid((np.linspace(0, 1, 5), np.linspace(0, 1, 5)))
    found = steady(
        Body(grid, 1.0), [Patch("a", 0, End.LOW, Film(8.0, 13.7)), Patch("b", 1, End.LOW, Fixed(13.7))]
    )
    assert np.all(found.temperature == 13.7)
    assert found.flow == {"a": 0.0, "b": 0.0}
    assert found.imbalance == 0


def test_more_foam_loses_less() -> None:
    losses = []
    for foam in (0.5, 0.1, 0.02):
        body, patches = solid_block(4)
        cells = np.where(np.asarray(body.conductivity) < 1, foam, 2.0)
        losses.append(steady(Body(body.grid, cells), patches).flow["floor"])
    assert losses == sorted(losses, reverse=True)


SQUARE = Grid((np.linspace(0, 1, 3), np.linspace(0, 1, 3)))
WARM = Patch("warm", 0, End.LOW, Film(8.0, 20.0))


@pytest.mark.parametrize(
    ("patches", "conductivity", "complaint"),
    [
        ([], 1.0, "meets no temperature"),
        ([Patch("flux", 0, End.LOW, Flux(1.0))], 1.0, "meets no temperature"),
        ([WARM, WARM], 1.0, "Two patches are named warm"),
        ([WARM, Patch("other", 0, End.LOW, Fixed(0.0))], 1.0, "covers faces of another patch"),
        ([Patch("up", 2, End.LOW, Fixed(0.0))], 1.0, "give 0 to 1"),
        ([Patch("none", 0, End.LOW, Fixed(0.0), np.zeros((2, 2), dtype=bool))], 1.0, "covers no outer face"),
        ([Patch("hole", 0, End.LOW, Fixed(np.nan))], 1.0, "not finite"),
        ([Patch("odd", 0, End.LOW, Film(8.0, np.zeros(3)))], 1.0, "patch odd has shape"),
        ([WARM], np.ones(3), "conductivity has shape"),
        ([WARM], -1.0, "conductivity goes from -1.0"),
        ([WARM], 0.0, "No cell has a conductivity"),
    ],
)
def test_bad_bodies(patches: list[Patch], conductivity: float | np.ndarray, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        steady(Body(SQUARE, conductivity), patches)


def test_part_without_a_temperature() -> None:
    """A gap without material cuts the far part off from the only film."""
    grid = Grid((np.linspace(0, 1, 4), np.linspace(0, 1, 3)))
    cells = np.array([[1.0], [0.0], [1.0]])
    near = Patch("warm", 0, End.LOW, Film(8.0, 20.0), grid.centre(0) < 0.4)
    with pytest.raises(ValueError, match="meets no temperature"):
        steady(Body(grid, cells), [near])
    far = Patch("far", 0, End.HIGH, Fixed(3.0), grid.centre(0) > 0.6)
    found = steady(Body(grid, cells), [near, far])
    assert found.temperature[2] == pytest.approx(3.0, abs=1e-12)


def test_bad_waves() -> None:
    with pytest.raises(ValueError, match="no heat capacity"):
        annual(Body(SQUARE, 1.0), [WARM])
    with pytest.raises(ValueError, match="period is 0"):
        annual(Body(SQUARE, 1.0, 1e6), [WARM], period=0.0)
    with pytest.raises(ValueError, match="film coefficient is -1"):
        Film(-1.0, 20.0)
