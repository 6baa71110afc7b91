"""A slab on foam: a published example [read], exact integrals of the plate equation, and finite elements [derived].

The plate equation is D ∇⁴w + K w = p (Hetényi, *Beams on elastic foundation*, 1946; Westergaard 1926) [memory]. All
checks with lengths in l = (D/K)^¼ and deflections in P l²/D.
"""

from __future__ import annotations

from functools import cache
from math import inf, log, pi, sqrt

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.sparse.linalg import spsolve
from scipy.special import j1
from skfem import Basis, BilinearForm, ElementTriMorley, LinearForm, MeshTri, condense
from skfem.helpers import dd, ddot

from foundation.foam.bearing import POISSON, PointLoad, foam_pressure, foundation_modulus, plate_stiffness

PSI, INCH, POUND = 6894.757293168, 0.0254, 4.4482216152605


def factor(at: str, side: float) -> float:
    """Pressure under 1 N on a plate with D = K = 1, so that l = 1 and pressure is deflection."""
    return foam_pressure(PointLoad("one newton", 1.0, side, False, at), 1.0, 1.0)  # type: ignore[arg-type]


def test_published_example() -> None:
    """8000 lb, 6 in slab, f'c 2500 psi, µ 0.15, 2 in of foam of 360 psi: K 180 pci, 1.85 psi; 45° spread 20.2 psi."""
    foundation = foundation_modulus(360 * PSI, 2 * INCH)
    assert foundation / (PSI / INCH) == pytest.approx(180, rel=1e-12)
    assert POISSON == 0.15
    load = PointLoad("a tyre", 8000 * POUND, sqrt(60) * INCH, True)
    found = foam_pressure(load, plate_stiffness(6 * INCH, 2500 * PSI), foundation)
    assert found / PSI == pytest.approx(1.85, abs=0.005)
    spread = 8000 / ((6 + 12) * (10 + 12))
    assert spread == pytest.approx(20.2, abs=0.05)
    assert found / PSI < spread / 10


def test_middle_is_hertz_and_westergaards_deflection() -> None:
    """w = P l²/(8 D), and a Hankel integral of the equation over a small disk tends to it."""
    assert factor("middle", 0.01) == pytest.approx(1 / 8, rel=1e-12)
    disks = []
    for radius in (0.4, 0.2, 0.1):
        value, _ = quad(lambda k, a=radius: j1(k * a) / (k**4 + 1), 0, inf, limit=400)
        disks.append(value / (pi * radius))
    assert disks == sorted(disks)
    assert disks[-1] < factor("middle", 0.1)  # a point is the worst foot
    assert disks[-1] == pytest.approx(factor("middle", 0.1), rel=0.01)
    point, _ = quad(lambda k: k / (k**4 + 1), 0, inf)
    assert point / (2 * pi) == pytest.approx(1 / 8, rel=1e-9)


def test_edge_against_a_fourier_integral() -> None:
    """A half-plane with a free edge: exact for each wave number along it. Westergaard prints 0.431 [memory]."""

    def at_the_edge(k: float) -> float:
        roots = -np.sqrt(k * k + np.array([1j, -1j]))
        moment = roots**2 - POISSON * k * k
        shear = roots**3 - (2 - POISSON) * k * k * roots
        return float(np.linalg.solve(np.array([moment, shear]), np.array([0, 1])).sum().real)

    value, _ = quad(at_the_edge, 0, inf, limit=400)
    assert value / pi == pytest.approx(0.431, abs=0.0005)
    assert factor("edge", 0.01) == pytest.approx(value / pi, abs=0.0005)


@cache
def by_elements(at: str, side: float, fineness: int) -> float:
    """Deflection under a square foot, by Morley's plate element on a quarter that reaches 12 l out."""
    mirrored = {"middle": (True, True), "edge": (False, True), "corner": (False, False)}[at]
    reach = [side / 2 if mirror else side for mirror in mirrored]
    lines = [
        np.unique(np.concatenate([np.linspace(0, c, fineness // 5), np.geomspace(c, 12, fineness)]))
        for c in reach
    ]
    mesh = MeshTri.init_tensor(*lines)
    basis = Basis(mesh, ElementTriMorley(), intorder=4)

    @BilinearForm
    def stiffness(u, v, _w):
        a, b = dd(u), dd(v)
        twist = (1 - POISSON) * ddot(a, b)
        return twist + POISSON * (a[0, 0] + a[1, 1]) * (b[0, 0] + b[1, 1]) + u * v

    @LinearForm
    def load(v, w):
        inside = (w.x[0] < reach[0]) * (w.x[1] < reach[1])
        return inside * v / side**2

    level = []  # no slope across a line of symmetry
    for axis, mirror in enumerate(mirrored):
        if mirror:
            level.append(basis.get_dofs(lambda x, axis=axis: np.isclose(x[axis], 0)).all(["u_n"]))
    matrix, vector = stiffness.assemble(basis), load.assemble(basis)
    here = basis.nodal_dofs[0, np.argmin(np.abs(mesh.p).sum(axis=0))]
    if not level:
        return float(spsolve(matrix.tocsc(), vector)[here])
    reduced, right, found, inner = condense(matrix, vector, D=np.unique(np.concatenate(level)))
    found[inner] = spsolve(reduced.tocsc(), right)
    return float(found[here])


def test_middle_with_a_foot_as_westergaard_has_it() -> None:
    """Middle: (1 + (ln(a/2l) - 0.673)(a/l)²/2π)/8, a the radius of the disk [memory]; a point is worse."""
    side = 0.4
    radius = side / sqrt(pi)
    printed = (1 + (log(radius / 2) - 0.673) * radius**2 / (2 * pi)) / 8
    assert by_elements("middle", side, 40) == pytest.approx(printed, rel=0.005)
    assert printed < factor("middle", side)


def test_edge_with_a_foot_as_westergaard_has_it() -> None:
    """Westergaard's edge with a foot: 0.431 (1 - (0.76 + 0.4 µ) a/l), a the radius of the disk [memory]."""
    side = 0.1
    printed = 0.431 * (1 - (0.76 + 0.4 * POISSON) * side / sqrt(pi))
    assert by_elements("edge", side, 40) == pytest.approx(printed, rel=0.01)
    assert by_elements("edge", side, 40) < factor("edge", side)


@pytest.mark.parametrize("side", [0.1, 0.2, 0.4, 0.8])
def test_corner_against_elements(side: float) -> None:
    assert factor("corner", side) == pytest.approx(by_elements("corner", side, 40), rel=0.01)


def test_elements_converge() -> None:
    coarse, middle, fine = (by_elements("corner", 0.4, fineness) for fineness in (20, 40, 80))
    assert abs(fine - middle) < abs(middle - coarse) / 3
    assert fine == pytest.approx(middle, rel=0.002)


@pytest.mark.parametrize("side", [0.1, 0.2, 0.4])
def test_corner_beside_what_is_printed(side: float) -> None:
    """Westergaard 1.1 - 0.88 √2 a/l is too low by a tenth or more; later work has 1.205 - 0.69 c/l [both memory].

    Westergaard took the corner's deflection from an energy with a one-term shape, which is too stiff; the later
    one is fitted to finite elements, as is ours.
    """
    westergaard = 1.1 - 0.88 * sqrt(2) * side / sqrt(pi)
    later = 1.205 - 0.69 * side
    exact = by_elements("corner", side, 40)
    assert westergaard < 0.91 * exact
    assert later == pytest.approx(exact, rel=0.015)
