"""Unbalanced fill: soil on one side of a wall above the other, and what holds the wall meanwhile."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from foundation.model.concrete import Fill, FillStage

Array = NDArray[np.float64]


def unbalanced_fill(
    line: str, station: Array, outside: Array, inside: Array, supports: tuple[FillStage, ...]
) -> Fill:
    """Unbalanced fill along a wall line; the higher of the two levels tells which way it pushes.

    Parameters
    ----------
    line : str
        Name of the wall line.
    station : ndarray, shape (n,)
        Stations an inch apart. [m]
    outside, inside : ndarray, shape (n,)
        Soil, or the floor that holds the wall, against the outer and the inner face. [m]
    supports : tuple of FillStage
        What holds it at each stage.

    Returns
    -------
    Fill
        With the difference of the two levels.
    """
    return Fill(line, station, outside, inside, np.abs(outside - inside), supports)


def support_stages(deck: str, slab: str, carries_deck: bool) -> tuple[FillStage, ...]:
    """What holds a wall's top and foot at each stage of the work.

    Parameters
    ----------
    deck : str
        Whether the tops are held before backfill: ``yes`` by the deck, ``braced``, ``no`` or ``unknown``, which
        counts as no.
    slab : str
        Whether the feet are held before backfill: ``yes`` by the slab, ``other support``, ``no`` or ``unknown``,
        which counts as no.
    carries_deck : bool
        Whether a floor deck bears on this wall: a deck holds no garage wall's top, and braces are taken away.

    Returns
    -------
    tuple of FillStage
        Forms stripped, backfill, slab poured, framed, in the order of the work.

    Examples
    --------
    >>> [(stage.stage, stage.top, stage.foot) for stage in support_stages("unknown", "unknown", True)]
    [('walls stripped', False, False), ('backfill', False, False), ('slab poured', False, True), ('framed', True, True)]
    """
    top = deck == "braced" or (deck == "yes" and carries_deck)
    foot = slab in ("yes", "other support")
    return (
        FillStage("walls stripped", False, False),
        FillStage("backfill", top, foot),
        FillStage("slab poured", top, True),
        FillStage("framed", carries_deck, True),
    )
