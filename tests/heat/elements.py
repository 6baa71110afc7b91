"""A second solver of sections, by a general finite-element library, scikit-fem.

It shares nothing with ours but the `Section`: its own mesh and far field, biquadratic elements where ours has
cell-centred volumes, and air told from ground by its own rule. Films by ISO 6946 [memory].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuad0, ElementQuad2, FacetBasis, LinearForm, MeshQuad
from skfem.helpers import dot, grad

from foundation.model.section import BlockKind, Section, Situation

YEAR = 365 * 86400.0
FAR = 300.0  # metres of ground outward and downward


def graded(points: list[float], first: dict[float, float], ratio: float) -> np.ndarray:
    """Lines through points, each span filled from both ends in geometric steps."""
    lines = [points[0]]
    for start, stop in zip(points[:-1], points[1:], strict=True):
        left, right = [start], [stop]
        steps = [first[start], first[stop]]
        while right[-1] - left[-1] > 1.5 * min(steps):
            if steps[0] <= steps[1]:
                left.append(left[-1] + steps[0])
                steps[0] *= ratio
            else:
                right.append(right[-1] - steps[1])
                steps[1] *= ratio
        if len(left) + len(right) > 2 and right[-1] - left[-1] < 0.4 * min(steps) / ratio:
            (left if len(left) > 1 else right).pop()
        lines += [*left[1:], *right[::-1]]
    return np.array(lines)


@dataclass(frozen=True)
class Finite:
    """Flow into the construction through floor, wall and frame, per kelvin: steady and yearly wave."""

    floor: tuple[float, complex]
    wall: tuple[float, complex]
    frame: tuple[float, complex]
    unknowns: int

    def sum(self, *names: str) -> np.ndarray:
        return np.sum([getattr(self, name) for name in names], axis=0)


def by_elements(section: Section, ratio: float = 2.0, first: float = 0.002) -> Finite:
    """Solve a section, cells growing by a ratio from a first one beside foam, frame and sill."""
    left, right = section.inner_face - section.half_width, FAR
    low = -FAR
    sides = {left: 1.0, right: FAR, section.divide: 0.05, section.inner_face: 0.05}
    levels = {low: FAR, section.top: 0.3, section.floor: 0.05, section.bed: 0.2}
    sides |= {step.start: 0.5 for step in section.grade[1:]}
    levels |= {step.level: 0.1 for step in section.grade}
    levels |= {layer.top: 0.3 for layer in section.soil if layer.top < section.top}
    for block in section.blocks:
        size = first if block.kind in (BlockKind.FOAM, BlockKind.FRAME, BlockKind.WOOD) else 0.1
        for where, ends in ((sides, (block.left, block.right)), (levels, (block.bottom, block.top))):
            for end in ends:
                near = [at for at in where if abs(at - end) < 1e-6]
                where[near[0] if near else end] = min(size, where[near[0]] if near else size)
    x = graded(sorted(at for at in sides if left <= at <= right), sides, ratio)
    z = graded(sorted(at for at in levels if low <= at <= section.top), levels, ratio)
    whole = MeshQuad.init_tensor(x, z)
    across, up = whole.p[:, whole.t].mean(axis=1)

    conductivity = np.zeros(len(across))
    capacity = np.zeros(len(across))
    level = np.where(across < section.divide, section.bed, section.grade[0].level)
    for step in section.grade[1:]:
        level[across > step.start] = step.level
    for layer in section.soil:
        inside = (up < level) & (up < layer.top)
        conductivity[inside], capacity[inside] = layer.material.conductivity, layer.material.heat_capacity
    for block in section.blocks:
        inside = (across > block.left) & (across < block.right) & (up > block.bottom) & (up < block.top)
        conductivity[inside], capacity[inside] = block.material.conductivity, block.material.heat_capacity
    solid = conductivity > 0
    mesh = whole.restrict(np.flatnonzero(solid))
    conductivity, capacity = conductivity[solid], capacity[solid]

    basis = Basis(mesh, ElementQuad2())
    per_cell = basis.with_element(ElementQuad0())

    @BilinearForm
    def conduct(u, v, w):
        return w["k"] * dot(grad(u), grad(v))

    @BilinearForm
    def mass(u, v, w):
        return w["c"] * u * v

    stiffness = conduct.assemble(basis, k=per_cell.interpolate(conductivity))
    storage = mass.assemble(basis, c=per_cell.interpolate(capacity))

    facets = mesh.boundary_facets()
    middle = mesh.p[:, mesh.facets[:, facets]].mean(axis=1)
    lying = np.abs(np.diff(mesh.p[1, mesh.facets[:, facets]], axis=0)[0]) < 1e-9
    outermost = (
        (np.abs(middle[0] - left) < 1e-6)
        | (np.abs(middle[0] - right) < 1e-6)
        | (np.abs(middle[1] - low) < 1e-6)
        | (np.abs(middle[1] - section.top) < 1e-6)
    )
    # Which air lies before an upright face: that of the side its cell does not lie on.
    cell = mesh.f2t[0, facets]
    beyond = 2 * middle - mesh.p[:, mesh.t[:, cell]].mean(axis=1)
    inner = (beyond[0] < section.divide) & ~outermost
    outer = (beyond[0] > section.divide) & ~outermost
    floor = inner & lying & (middle[1] < section.floor + 1e-6)
    indoors = inner | (section.situation is Situation.BETWEEN)
    film = np.where(~indoors, 0.04, np.where(~lying, 0.13, np.where(beyond[1] < middle[1], 0.10, 0.17)))
    wall = inner & ~floor & (middle[1] < section.concrete_top + 1e-6)
    frame = inner & ~floor & ~wall

    @BilinearForm
    def exchange(u, v, _):
        return u * v

    @LinearForm
    def pour(v, _):
        return v

    matrix = stiffness
    weights = {}
    for name, which in (("floor", floor), ("wall", wall), ("frame", frame), ("out", outer)):
        weights[name] = np.zeros(basis.N)
        for resistance in np.unique(film[which]):
            on = FacetBasis(mesh, ElementQuad2(), facets=facets[which & (film == resistance)])
            matrix = matrix + exchange.assemble(on) / resistance
            weights[name] += pour.assemble(on) / resistance
    load = weights.pop("out")
    symmetric = {"permc_spec": "MMD_AT_PLUS_A", "diag_pivot_thresh": 0.0, "options": {"SymmetricMode": True}}
    mean = splu(matrix.tocsc(), **symmetric).solve(load)
    wave = (matrix + 2j * np.pi / YEAR * storage).tocsc()
    swing = splu(wave, **symmetric).solve(load.astype(complex))
    return Finite(
        **{name: (float(weight @ mean), complex(weight @ swing)) for name, weight in weights.items()},
        unknowns=basis.N,
    )
