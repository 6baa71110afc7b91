"""Solves the sparse equations of conduction, real or complex."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.sparse.linalg import splu

TOLERANCE = 1e-13  # of the residual against the right-hand side, Euclidean norm
Order = Literal["NATURAL", "MMD_AT_PLUS_A"]  # names of the sparse library

ITERATIONS = 200  # a sound body needs about twenty


def factorised(matrix: Any, order: Order = "NATURAL") -> Any:
    """Factorise a matrix of symmetric pattern without exchanging rows.

    Rows need not be exchanged where each diagonal is as large as the rest of its column.

    Parameters
    ----------
    matrix : sparse matrix by columns, shape (n, n)
        The matrix.
    order : Order
        Order of elimination: as the cells stand, or of minimum degree.

    Returns
    -------
    scipy.sparse.linalg.SuperLU
        Its factors.
    """
    return splu(matrix, permc_spec=order, diag_pivot_thresh=0.0, options={"SymmetricMode": True})


class SymmetricSolver:
    """Solves symmetric diagonally dominant systems that share one pattern.

    Plane grids are factorised in the minimum-degree order of the symmetric pattern; the first solve finds the order,
    the others save that work. Solids, where the factors would fill up, are iterated: conjugate gradients with the plain
    (not conjugated) inner product, which holds for the complex symmetric matrix of a wave as well [1]_, after a cycle
    of algebraic multigrid by classical coarsening. The coarse grids are those of the real part of the first matrix;
    what lies on them is made from each matrix.

    Parameters
    ----------
    dimensions : int
        Dimensions of the grid, 2 or 3. [-]

    References
    ----------
    .. [1] H. A. van der Vorst, J. B. M. Melissen, *A Petrov–Galerkin type method for solving Ax = b, where A is
       symmetric complex*, IEEE Transactions on Magnetics 26 (1990) [memory].
    """

    def __init__(self, dimensions: int) -> None:
        self.dimensions = dimensions
        self._order: NDArray[np.intp] | None = None
        self._transfers: list[tuple[Any, Any]] | None = None

    def solve(self, matrix: Any, right: NDArray[Any]) -> NDArray[Any]:
        """Solve one system.

        Parameters
        ----------
        matrix : sparse matrix by columns, shape (n, n)
            Symmetric, its diagonal positive in the real part; of the pattern of the first one. [W/K]
        right : ndarray, shape (n,)
            Right-hand side. [W]

        Returns
        -------
        ndarray, shape (n,)
            Solution. [K]

        Raises
        ------
        ArithmeticError
            If the iterations do not come to rest.
        """
        if self.dimensions == 2:
            return self._eliminated(matrix, right)
        rows = sparse.csr_matrix(
            (matrix.data, matrix.indices, matrix.indptr), matrix.shape
        )  # it is symmetric
        return _conjugate_gradients(rows, self._cycle(rows), right)

    def _eliminated(self, matrix: Any, right: NDArray[Any]) -> NDArray[Any]:
        if self._order is None:
            factors = factorised(matrix, "MMD_AT_PLUS_A")
            self._order = np.argsort(factors.perm_c)
            there: Any = slice(None)
        else:
            there = self._order
            matrix = matrix[there][:, there]
            factors = factorised(matrix)
        right = right[there]
        solution = np.empty_like(right)
        first = factors.solve(right)
        # One step of refinement takes away what thin layers of metal cost in digits.
        solution[there] = first + factors.solve(right - matrix @ first)
        return solution

    def _cycle(self, matrix: Any) -> _Cycle:
        # Here, since it is slow to import and for solids alone.
        from pyamg import ruge_stuben_solver  # type: ignore[import-untyped]

        if self._transfers is not None:
            return _Cycle(self._transfers, _on_coarse_grids(matrix, self._transfers))
        real = matrix.copy()
        real.data = matrix.data.real.copy()
        strength = ("classical", {"theta": 0.25, "norm": "min"})
        levels = ruge_stuben_solver(real, strength, interpolation="direct").levels
        self._transfers = [(level.R, level.P) for level in levels[:-1]]
        if np.iscomplexobj(matrix.data):
            return _Cycle(self._transfers, _on_coarse_grids(matrix, self._transfers))
        return _Cycle(self._transfers, [level.A for level in levels])


def _on_coarse_grids(matrix: Any, transfers: list[tuple[Any, Any]]) -> list[Any]:
    matrices = [matrix]
    for gather, spread in transfers:
        matrices.append(sparse.csr_matrix(gather @ matrices[-1] @ spread))
    return matrices


class _Cycle:
    """A symmetric V-cycle: one sweep forward on the way down, one backward on the way up."""

    def __init__(self, transfers: list[tuple[Any, Any]], matrices: list[Any]) -> None:
        self.transfers, self.matrices = transfers, matrices
        self.coarsest = np.linalg.inv(matrices[-1].toarray())

    def __call__(self, right: NDArray[Any], level: int = 0) -> NDArray[Any]:
        from pyamg.relaxation.relaxation import gauss_seidel  # type: ignore[import-untyped]

        if level == len(self.transfers):
            return self.coarsest @ right
        matrix, (gather, spread) = self.matrices[level], self.transfers[level]
        solution = np.zeros_like(right)
        gauss_seidel(matrix, solution, right, sweep="forward")
        solution += spread @ self(gather @ (right - matrix @ solution), level + 1)
        gauss_seidel(matrix, solution, right, sweep="backward")
        return solution


def _conjugate_gradients(matrix: Any, cycle: _Cycle, right: NDArray[Any]) -> NDArray[Any]:
    # Sums of products, not dot products: those of the algebra library start threads that cost more than they save.
    solution, residual = np.zeros_like(right), right.copy()
    goal = TOLERANCE**2 * np.sum(np.abs(right) ** 2)
    direction = np.zeros_like(right)
    before = 1.0
    for _ in range(ITERATIONS):
        if np.sum(np.abs(residual) ** 2) <= goal:
            return solution
        smooth = cycle(residual)
        product = np.sum(residual * smooth)
        direction = smooth + (product / before) * direction
        image = matrix @ direction
        step = product / np.sum(direction * image)
        solution += step * direction
        residual -= step * image
        before = product
    raise ArithmeticError(f"The heat flow did not come to rest in {ITERATIONS} iterations; coarsen the grid.")
