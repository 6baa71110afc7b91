"""Cutting lengths from stock: bars, coils. Which piece comes from which, so that few are bought."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil

FIT = 1e-6
"""Lengths closer than a micrometre are equal. [m]"""


def pack(lengths: Sequence[float], stock: float) -> tuple[tuple[int, ...], ...]:
    """Cut lengths from stock of one length, in as few as were found.

    Longest first, each into the rest that it fills best or into the first that has room, whichever takes fewer.

    Parameters
    ----------
    lengths : sequence of float
        What is wanted, each > 0 and no longer than the stock. [m]
    stock : float
        Length of a bar or a coil. [m]

    Returns
    -------
    tuple of tuple of int
        For each bar or coil bought, which of the lengths are cut from it.

    Raises
    ------
    ValueError
        If a length is not positive, or longer than the stock.

    Examples
    --------
    >>> pack([6.0, 4.0, 3.0, 3.0], 8.0)
    ((0,), (1, 2), (3,))
    """
    for length in lengths:
        if not 0 < length <= stock + FIT:
            raise ValueError(f"a length of {length:.3f} m cannot be cut from {stock:.3f} m")
    least = ceil(sum(lengths) / stock - FIT)
    first = _filled(lengths, stock, lambda rest: 0.0)
    if len(first) <= least:
        return first
    return min(first, _filled(lengths, stock, lambda rest: rest), key=len)


def _filled(
    lengths: Sequence[float], stock: float, prefer: Callable[[float], float]
) -> tuple[tuple[int, ...], ...]:
    """Longest first into the open piece that is preferred, by what would be left of it."""
    cut: list[list[int]] = []
    left: list[float] = []
    for number in sorted(range(len(lengths)), key=lambda each: -lengths[each]):
        length = lengths[number]
        fits = [(prefer(rest - length), at) for at, rest in enumerate(left) if length <= rest + FIT]
        if fits:
            at = min(fits)[1]
        else:
            at = len(cut)
            cut.append([])
            left.append(stock)
        cut[at].append(number)
        left[at] -= length
    return tuple(tuple(each) for each in cut)
