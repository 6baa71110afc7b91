"""Traps of the footing drain: whether it runs out, stays under the slab, and how near water stands."""

from __future__ import annotations

from foundation.cautions import register
from foundation.cautions.words import plain
from foundation.model.caution import Amount, Caution

FLATTEST = 1 / 96
"""Least fall of a drain to daylight, 1/8 in/ft [practice]. [-]"""
WATER_UNDER = 3 * 0.3048
"""Ground water stays so far under a slab [practice]. [m]"""
WITHIN = 1e-4
"""Levels that miss by less are level with each other. [m]"""


def drain_runs_out(
    invert: float | None, outlet: float | None, length: float | None, flattest: float = FLATTEST
) -> list[Caution]:
    """The drain comes out no lower than it begins, or falls too little on its way.

    Parameters
    ----------
    invert : float or None
        Invert at the low corner, None where nobody told. [m]
    outlet : float or None
        Level where it comes to daylight, None where nobody told. [m]
    length : float or None
        Length to daylight, None where nobody told. [m]
    flattest : float
        Least fall. [-]

    Returns
    -------
    list of Caution
        None or one.
    """
    if invert is None or outlet is None:
        return []
    fall = invert - outlet
    if fall < WITHIN:
        sentence = (
            "It comes to daylight {over} above its low corner: it cannot run out. Lower the outlet, or pump."
        )
        return [Caution(register.DRAIN_STUCK, "footing drain", sentence, {"over": Amount(-fall)})]
    if length is None or fall >= length * flattest - WITHIN:
        return []
    sentence = "It falls {fall} on {length} to daylight; {least} are asked for."
    amounts = {
        "fall": Amount(fall, "inches"),
        "length": Amount(length),
        "least": Amount(length * flattest, "inches"),
    }
    return [Caution(register.DRAIN_FLAT, "footing drain", sentence, amounts)]


def drain_above_slab(
    part: str, high: float, slab_underside: float, line: str, station: float
) -> list[Caution]:
    """The drain's high point stands above the underside of the slab that it keeps dry.

    Parameters
    ----------
    part : str
        The part.
    high : float
        Invert of its high point. [m]
    slab_underside : float
        Underside of the slab. [m]
    line : str
        Wall line of the high point.
    station : float
        Station of it. [m]

    Returns
    -------
    list of Caution
        None or one.
    """
    over = high - slab_underside
    if over < WITHIN:
        return []
    sentence = (
        f"The drain's high point stands {{over}} above the underside of the slab of {plain(part)}: lower it."
    )
    return [Caution(register.DRAIN_HIGH, "footing drain", sentence, {"over": Amount(over)}, line, station)]


def water_under_slab(
    part: str, slab_top: float, water: float | None, clear: float = WATER_UNDER
) -> list[Caution]:
    """Ground water has been seen close under a slab.

    Parameters
    ----------
    part : str
        The part.
    slab_top : float
        Top of its slab. [m]
    water : float or None
        Highest level that water was seen at, None where nobody told. [m]
    clear : float
        How far under the slab it has to stay. [m]

    Returns
    -------
    list of Caution
        None or one.
    """
    if water is None or slab_top - water >= clear - WITHIN:
        return []
    under = slab_top - water
    told = "{under} under" if under >= 0 else "{under} above"
    sentence = (
        f"Water was seen {told} the top of the slab of {plain(part)}; {{clear}} under it are asked for: "
        "raise the slab, or drain and tank it."
    )
    amounts = {"under": Amount(abs(under)), "clear": Amount(clear)}
    return [Caution(register.WATER_NEAR, f"slab of {part}", sentence, amounts)]
