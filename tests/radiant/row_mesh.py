"""A row of tubes in a slab by two-dimensional finite elements, apart from the code under test.

Half a spacing is meshed: rays from the tube's bore through its wall to the slab's outline, quadratic quadrilaterals.
"""

from __future__ import annotations

from math import atan2, inf, pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.linalg import eigsh
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad0,
    ElementQuad2,
    FacetBasis,
    LinearForm,
    MeshQuad,
    condense,
    solve,
)
from skfem.helpers import dot, grad

from foundation.model.radiant import FloorBuildUp

BORE_FILM = 1e7  # as good as a fixed temperature on the bore [W/(m²·K)]


class Found(NamedTuple):
    up: float
    down: float
    peak: float


@BilinearForm
def conduction(u, v, w):
    return w["k"] * dot(grad(u), grad(v))


@BilinearForm
def overlap(u, v, w):
    return w["k"] * u * v


@BilinearForm
def contact(u, v, w):
    return u * v


@LinearForm
def load(v, w):
    return v


class RowMesh:
    """The slab with its tube, ready to be solved."""

    def __init__(self, floor: FloorBuildUp, arc: int = 64, wall: int = 3, rays: int = 20) -> None:
        self.floor = floor
        half, above = floor.spacing / 2, floor.axis_depth
        below = floor.slab_thickness - above
        inner, outer = floor.tube.inside_diameter / 2, floor.tube.outside_diameter / 2
        corners = (-pi / 2, atan2(-below, half), atan2(above, half), pi / 2)
        angles = np.concatenate(
            [
                np.linspace(start, end, max(round((end - start) / pi * arc), 6), endpoint=False)
                for start, end in zip(corners, corners[1:], strict=False)
            ]
            + [[corners[-1]]]
        )
        across, along = np.cos(angles), np.sin(angles)
        tiny = 1e-12
        edge = np.where(across > tiny, half / np.maximum(across, tiny), inf)
        edge = np.minimum(edge, np.where(along > tiny, above / np.maximum(along, tiny), inf))
        edge = np.minimum(edge, np.where(along < -tiny, below / np.maximum(-along, tiny), inf))
        radii = np.vstack(
            [
                np.outer(np.linspace(inner, outer, wall + 1)[:-1], np.ones_like(angles)),
                outer * (edge / outer) ** np.linspace(0, 1, rays + 1)[:, None],
            ]
        )
        x, y = radii * across, below + radii * along
        x[:, [0, -1]] = 0.0
        number = np.arange(x.size).reshape(x.shape)
        quads = np.stack([number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]])
        mesh = MeshQuad(np.stack([x.ravel(), y.ravel()]), quads.reshape(4, -1))
        element = ElementQuad2()
        self.basis = Basis(mesh, element)
        in_wall = np.arange(mesh.t.shape[1]) // (angles.size - 1) < wall
        self.in_wall = in_wall

        def face(test) -> FacetBasis:
            facets = mesh.facets_satisfying(test, boundaries_only=True)
            return FacetBasis(mesh, element, facets=facets)

        self.top = face(lambda at: abs(at[1] - floor.slab_thickness) < 1e-9)
        self.bottom = face(lambda at: abs(at[1]) < 1e-9)
        self.bore = face(lambda at: np.hypot(at[0], at[1] - below) < inner * 1.001)
        self.over = 1 / (floor.finish_resistance + 1 / floor.surface_film)
        self.under = 1 / floor.resistance_below
        node = int(np.argmin(np.hypot(mesh.p[0], mesh.p[1] - floor.slab_thickness)))
        self.crown = self.basis.nodal_dofs[0, node]

    def per_cell(self, wall: float, slab: float) -> object:
        values: NDArray[np.float64] = np.where(self.in_wall, wall, slab)
        return self.basis.with_element(ElementQuad0()).interpolate(values)

    def stiffness(self):
        conductivity = self.per_cell(self.floor.tube.conductivity, self.floor.slab_conductivity)
        return (
            conduction.assemble(self.basis, k=conductivity)
            + self.over * contact.assemble(self.top)
            + self.under * contact.assemble(self.bottom)
        )

    def steady(self, room: float, below: float, water: float, film: float = inf) -> Found:
        matrix = self.stiffness()
        right = self.over * room * load.assemble(self.top) + self.under * below * load.assemble(self.bottom)
        if film < inf:
            matrix = matrix + film * contact.assemble(self.bore)
            found = solve(matrix, right + film * water * load.assemble(self.bore))
        else:
            fixed = self.basis.get_dofs(self.bore.find)
            found = solve(*condense(matrix, right, x=np.full(right.size, float(water)), D=fixed))
        half = self.floor.spacing / 2
        top = load.assemble(self.top) @ found / half
        bottom = load.assemble(self.bottom) @ found / half
        crown = float(found[self.crown])
        return Found(
            float(self.over * (top - room)),
            float(self.under * (bottom - below)),
            room + self.over / self.floor.surface_film * (crown - room),
        )

    def slowest(self, heat_capacity: float, film: float = BORE_FILM) -> float:
        """Time constant of the slowest mode, water at a fixed temperature. [s]"""
        matrix = self.stiffness() + film * contact.assemble(self.bore)
        capacity = overlap.assemble(self.basis, k=self.per_cell(0.0, heat_capacity))
        rate = eigsh(
            matrix, k=1, M=capacity, sigma=0.0, return_eigenvectors=False, v0=np.ones(matrix.shape[0])
        )
        return float(1 / rate[0])
