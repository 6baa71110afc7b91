"""Traps of the stages: winter, cold pours, the mix, and a closed basement."""

from __future__ import annotations

from foundation.cautions import register
from foundation.model.caution import Amount, Caution

COLDEST_POUR = (40 - 32) / 1.8
"""Air below which concrete is protected: 40 °F (ACI 306 [read]). [°C]"""
PSI = 6894.757
"""A pound per square inch, in pascals."""
EXPOSED_WALLS = 3000 * PSI
"""Least strength of walls that freeze (IRC Table R402.2 [read]). [Pa]"""
GARAGE_SLAB = 3500 * PSI
"""Least strength of a garage slab (IRC Table R402.2 [read]). [Pa]"""


def stands_winter(plan: str) -> list[Caution]:
    """The foundation stands a winter open or unheated, or nobody knows.

    Parameters
    ----------
    plan : str
        ``no``, ``heated``, ``protected``, ``open``, or ``unknown``, which counts as open.

    Returns
    -------
    list of Caution
        None or one.
    """
    if plan not in ("open", "unknown"):
        return []
    why = "It stands a winter open" if plan == "open" else "Nobody said whether it stands a winter unheated"
    sentence = f"{why}: the inside of the footings then has no cover. Heat it, protect it, or close it in before frost."
    return [Caution(register.STANDS_WINTER, "footings", sentence, {})]


def cold_pour(air: float | None, frozen: bool, coldest: float = COLDEST_POUR) -> list[Caution]:
    """Concrete is poured in the cold, or on frozen ground.

    Parameters
    ----------
    air : float or None
        Coldest air expected at a pour, None where nobody said. [°C]
    frozen : bool
        Whether ground or backfill is frozen.
    coldest : float
        Air below which concrete is protected. [°C]

    Returns
    -------
    list of Caution
        None, one, or one of each.
    """
    found = []
    if air is not None and air < coldest - 1e-9:
        sentence = "Air of {air} is expected at a pour, below {coldest}: protect the concrete, or wait."
        amounts = {"air": Amount(air, "temperature"), "coldest": Amount(coldest, "temperature")}
        found.append(Caution(register.COLD_POUR, "pours", sentence, amounts))
    if frozen:
        sentence = (
            "The ground or the backfill is frozen: thaw it before anything is placed on it or against it."
        )
        found.append(Caution(register.COLD_POUR, "ground", sentence, {}))
    return found


def weak_mix(walls: float | None, garage_slab: float | None) -> list[Caution]:
    """Concrete that freezes is ordered too weak.

    Parameters
    ----------
    walls, garage_slab : float or None
        Strength that was typed, None where nobody said. [Pa]

    Returns
    -------
    list of Caution
        None, one, or one of each.
    """
    parts = (("walls", walls, EXPOSED_WALLS), ("garage slab", garage_slab, GARAGE_SLAB))
    return [
        Caution(
            register.WEAK_MIX,
            where,
            "Concrete of {strength}; where it freezes, {least} and 5–7 % of air are asked for.",
            {"strength": Amount(strength, "strength"), "least": Amount(least, "strength")},
        )
        for where, strength, least in parts
        if strength is not None and strength < least * (1 - 1e-6)
    ]


def temporary_heaters(burning: bool) -> list[Caution]:
    """Heaters burn in a closed basement.

    Parameters
    ----------
    burning : bool
        Whether they do.

    Returns
    -------
    list of Caution
        None or one.
    """
    if not burning:
        return []
    sentence = (
        "Heaters in the closed basement: fresh air against carbon monoxide. Wet concrete burns the skin, cutting makes "
        "silica dust, and no machine comes close to a green wall."
    )
    return [Caution(register.HEATERS, "basement", sentence, {})]
