"""Solves the sparse symmetric equations of conduction, real or complex."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.sparse.linalg import splu

TOLERANCE = 1e-13  # of the residual against the right-hand side, Euclidean norm
ITERATIONS = 20_000


def solve_symmetric(matrix: Any, right: NDArray[Any], dimensions: int) -> NDArray[Any]:
    """Solve one symmetric diagonally dominant system.

    Plane grids are factorised, without pivoting, in the minimum-degree order of the symmetric pattern. Solids, where
    the factors would fill up, are iterated: conjugate gradients scaled by the diagonal, with the plain (not
    conjugated) inner product, which holds for the complex symmetric matrix of a wave as well [1]_.

    Parameters
    ----------
    matrix : sparse matrix, shape (n, n)
        Symmetric, its diagonal positive in the real part. [W/K]
    right : ndarray, shape (n,)
        Right-hand side. [W]
    dimensions : int
        Dimensions of the grid, 2 or 3. [-]

    Returns
    -------
    ndarray, shape (n,)
        Solution. [K]

    Raises
    ------
    ArithmeticError
        If the iterations do not come to rest.

    References
    ----------
    .. [1] H. A. van der Vorst, J. B. M. Melissen, *A Petrov–Galerkin type method for solving Ax = b, where A is
       symmetric complex*, IEEE Transactions on Magnetics 26 (1990) [memory].
    """
    if dimensions == 2:
        factors = splu(
            sparse.csc_matrix(matrix),
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        solution = factors.solve(right)
        # One step of refinement takes away what thin layers of metal cost in digits.
        return solution + factors.solve(right - matrix @ solution)
    return _conjugate_gradients(sparse.csr_matrix(matrix), right)


def _conjugate_gradients(matrix: Any, right: NDArray[Any]) -> NDArray[Any]:
    # Sums of products, not dot products: those of the algebra library start threads that cost more than they save.
    inverse = 1 / matrix.diagonal()
    solution, residual = np.zeros_like(right), right.copy()
    goal = TOLERANCE**2 * np.sum(np.abs(right) ** 2)
    direction = np.zeros_like(right)
    before = 1.0
    for _ in range(ITERATIONS):
        if np.sum(np.abs(residual) ** 2) <= goal:
            return solution
        scaled = inverse * residual
        product = np.sum(residual * scaled)
        direction = scaled + (product / before) * direction
        image = matrix @ direction
        step = product / np.sum(direction * image)
        solution = solution + step * direction
        residual = residual - step * image
        before = product
    raise ArithmeticError(f"The heat flow did not come to rest in {ITERATIONS} iterations; coarsen the grid.")
