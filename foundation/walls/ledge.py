"""Ledges: whether what stands on one fills it, and whether heat passes beside the foam."""

from __future__ import annotations

from foundation.model.concrete import Ledge

SIXTEENTH = 0.0254 / 16
"""Least length that anyone types. [m]"""


def ledge_of(
    line: str,
    level: float,
    wall: float,
    upper: float,
    foam: float,
    bearing: float,
    gap: float,
    carries: float,
    veneer: bool,
    foam_below: float,
) -> Ledge:
    """A ledge with what does not close on it, and whether its slab is a bypass.

    Heat passes beside the edge foam (a bypass) where a slab bears on the ledge and

    - there is no edge foam, so that its edge touches the wall above; or
    - no foam lies between it and the ledge, so that it bears on bare concrete; or
    - edge foam, bearing and gap are narrower than the ledge: the pour runs into what is left.

    A veneer bears no slab and is none.

    Parameters
    ----------
    line : str
        Name of the wall line.
    level : float
        Level of the ledge. [m]
    wall, upper : float
        Thickness of the wall below and above it. [m]
    foam : float
        Edge foam that stands on it. [m]
    bearing : float
        Slab's edge, or veneer, that stands on it. [m]
    gap : float
        Left free on purpose. [m]
    carries : float
        Thickness of the wall that stands on the upper one, nan where nobody has told. [m]
    veneer : bool
        True for a veneer shelf.
    foam_below : float
        Foam between the ledge and the underside of the slab. [m]

    Returns
    -------
    Ledge
        With the remainder, 0 where it is less than half a sixteenth of an inch.

    Examples
    --------
    A 10 in wall thinned to 5 1/2 in leaves 4 1/2 in for 2 in of foam and the slab's edge [practice].

    >>> inch = 0.0254
    >>> parts = {"foam": 2 * inch, "bearing": 2.5 * inch, "gap": 0.0, "foam_below": 2 * inch}
    >>> ledge = ledge_of("A-B", 2.0, 10 * inch, 5.5 * inch, carries=5.5 * inch, veneer=False, **parts)
    >>> ledge.remainder, ledge.bypass
    (0.0, False)
    """
    remainder = wall - upper - foam - bearing - gap
    if abs(remainder) < SIXTEENTH / 2:
        remainder = 0.0
    bears = bearing > 0 and not veneer
    bypass = bears and (foam <= 0 or foam_below <= 0 or remainder > 0)
    return Ledge(line, level, wall, upper, foam, bearing, gap, remainder, carries, veneer, bypass)
