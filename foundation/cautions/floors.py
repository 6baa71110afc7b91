"""Traps of warm floors that their results tell: too hot, too weak, too much downward, loops, water."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from foundation.cautions import register
from foundation.cautions.words import likewise, listed, plain
from foundation.model.caution import Amount, Caution

DOWN_SHARE = 0.10
"""Down over up that some designers aim at [practice]. [-]"""
SCALDS = (120 - 32) / 1.8
"""Water that scalds within minutes, 120 °F [practice]. [°C]"""
TWO_SUPPLIES = 5 / 1.8
"""Zones whose water differs by no more can share it, 5 °F [practice]. [K]"""
SLAB_WARMER = 5.0
"""A slab on the ground never gets as cold as the air on the design day; by so much [practice]. [K]"""
WITHIN = 0.001
"""Lengths this close are equal. [m]"""


@dataclass(frozen=True)
class HeatedZone:
    """A zone of heated floor as the rules see it.

    Attributes
    ----------
    name : str
        The zone.
    peak, limit : float
        Hottest floor on the design day, and hottest that its use allows. [°C]
    can_give, load : float
        Most that it gives within its limits, and what it has to; load is 0 where nobody has told. [W/m²]
    down : float
        What goes down over what goes up on the design day, with the ground. [-]
    season : float or None
        The same over the heating season. [-]
    supply : float
        Water that goes out to it. [°C]
    """

    name: str
    peak: float
    limit: float
    can_give: float
    load: float
    down: float
    season: float | None
    supply: float


def floor_too_hot(zones: Iterable[HeatedZone]) -> list[Caution]:
    """Floors that their load makes hotter than their use allows.

    Parameters
    ----------
    zones : iterable of HeatedZone
        The zones.

    Returns
    -------
    list of Caution
        One for each zone.
    """
    return [
        Caution(
            register.FLOOR_TOO_HOT,
            f"zone {plain(zone.name)}",
            "To carry its load the floor is {peak} over a tube; {limit} is as hot as it may be. It can give {gives} of "
            "{load}.",
            {
                "peak": Amount(zone.peak, "temperature"),
                "limit": Amount(zone.limit, "temperature"),
                "gives": Amount(zone.can_give, "heat_flux"),
                "load": Amount(zone.load, "heat_flux"),
            },
        )
        for zone in zones
        if zone.peak > zone.limit + 0.01
    ]


def floor_falls_short(zones: Iterable[HeatedZone]) -> list[Caution]:
    """Floors that do not carry their load, though none gets too hot for its use: comfort or water stand in the way.

    Parameters
    ----------
    zones : iterable of HeatedZone
        The zones.

    Returns
    -------
    list of Caution
        One for each zone.
    """
    return [
        Caution(
            register.FLOOR_FALLS_SHORT,
            f"zone {plain(zone.name)}",
            "The floor can give {gives} of the {load} that it is asked for: {missing} are missing.",
            {
                "missing": Amount(zone.load - zone.can_give, "heat_flux"),
                "gives": Amount(zone.can_give, "heat_flux"),
                "load": Amount(zone.load, "heat_flux"),
            },
        )
        for zone in zones
        if zone.load > zone.can_give * (1 + 1e-6) and zone.peak <= zone.limit + 0.01
    ]


def downward_loss(zones: Iterable[HeatedZone], aim: float = DOWN_SHARE) -> list[Caution]:
    """Much of the floors' heat goes down into the ground.

    Parameters
    ----------
    zones : iterable of HeatedZone
        The zones.
    aim : float
        Down over up that is told of when it is passed. [-]

    Returns
    -------
    list of Caution
        None or one, at the zone that loses the greatest share; it names the others.
    """
    over = sorted((z for z in zones if math.isfinite(z.down) and z.down > aim), key=lambda z: -z.down)
    if not over:
        return []
    worst = over[0]
    amounts = {"share": Amount(round(worst.down, 2), "percent"), "aim": Amount(aim, "percent")}
    sentence = "{share} of what the floor gives goes down on the design day, with the ground counted"
    if worst.season is not None:
        amounts["season"] = Amount(round(worst.season, 2), "percent")
        sentence += ", {season} over the heating season"
    sentence += "; some designers aim at {aim}."
    return [
        Caution(
            register.DOWNWARD_LOSS,
            f"zone {plain(worst.name)}",
            sentence + likewise(z.name for z in over[1:]),
            amounts,
        )
    ]


def water_too_hot(zones: Iterable[HeatedZone], hottest: float) -> list[Caution]:
    """Water hotter than a cement slab takes, or so hot that bare pipe scalds.

    Parameters
    ----------
    zones : iterable of HeatedZone
        The zones.
    hottest : float
        Hottest water in a cement slab. [°C]

    Returns
    -------
    list of Caution
        None or one, at the hottest zone.
    """
    zones = list(zones)
    if not zones:
        return []
    worst = max(zones, key=lambda zone: zone.supply)
    amounts = {"supply": Amount(worst.supply, "temperature")}
    place = f"zone {plain(worst.name)}"
    if worst.supply > hottest + 0.01:
        amounts["hottest"] = Amount(hottest, "temperature")
        return [
            Caution(
                register.WATER_TOO_HOT,
                place,
                "The zone would take water of {supply}; a cement slab takes {hottest}, and bare pipe scalds.",
                amounts,
            )
        ]
    if worst.supply > SCALDS:
        amounts["scalds"] = Amount(SCALDS, "temperature")
        return [
            Caution(
                register.SCALD,
                place,
                "Water of {supply} runs in manifold and pipes; from {scalds} bare metal scalds: cover it, and limit "
                "the mixing valve.",
                amounts,
            )
        ]
    return []


def two_supplies(supplies: Sequence[tuple[str, float]]) -> list[Caution]:
    """Zones that want water of different temperature.

    Parameters
    ----------
    supplies : sequence of tuple
        Zone and the water that goes out to it [°C].

    Returns
    -------
    list of Caution
        None or one, naming the hottest and the coolest zone.
    """
    if len(supplies) < 2:
        return []
    hot, cool = max(supplies, key=lambda s: s[1]), min(supplies, key=lambda s: s[1])
    if hot[1] - cool[1] <= TWO_SUPPLIES:
        return []
    return [
        Caution(
            register.TWO_SUPPLIES,
            f"zones {listed([hot[0], cool[0]])}",
            f"{plain(hot[0])} takes water of {{hot}}, {plain(cool[0])} of {{cool}}, {{apart}} apart: each wants a "
            "mixing valve of its own, or closer tube in the one that takes the hotter.",
            {
                "apart": Amount(hot[1] - cool[1], "temperature_difference"),
                "hot": Amount(hot[1], "temperature"),
                "cool": Amount(cool[1], "temperature"),
            },
        )
    ]


@dataclass(frozen=True)
class LaidZone:
    """A zone's tube as it is laid.

    Attributes
    ----------
    name : str
        The zone.
    lengths : tuple of float
        Of its loops, with their leaders. [m]
    tight_bends : int
        Bends that have no room for the tube's radius. [-]
    """

    name: str
    lengths: tuple[float, ...]
    tight_bends: int


def loops_out_of_rule(
    zones: Iterable[LaidZone], longest: float, bend_radius: float, equal_within: float
) -> list[Caution]:
    """Loops that are too long, bent too tight, or unequal.

    Parameters
    ----------
    zones : iterable of LaidZone
        The zones.
    longest : float
        Longest loop with its leaders. [m]
    bend_radius : float
        Tightest bend that the tube takes. [m]
    equal_within : float
        How far loops of a zone may differ, over their mean. [-]

    Returns
    -------
    list of Caution
        For each zone at most one of each.
    """
    found = []
    for zone in zones:
        place = f"zone {plain(zone.name)}"
        if max(zone.lengths, default=0.0) > longest + WITHIN:
            amounts = {"length": Amount(max(zone.lengths)), "longest": Amount(longest)}
            sentence = "A loop is {length} long with its leaders; {longest} is the longest."
            found.append(Caution(register.LOOP_TOO_LONG, place, sentence, amounts))
        if zone.tight_bends > 0:
            amounts = {
                "bends": Amount(float(zone.tight_bends), "number"),
                "least": Amount(bend_radius, "inches"),
            }
            sentence = "Bends without room for a radius of {least}, most of them of leaders: {bends}. Lead them wider."
            found.append(Caution(register.BEND_TOO_TIGHT, place, sentence, amounts))
        if len(zone.lengths) > 1:
            mean = sum(zone.lengths) / len(zone.lengths)
            apart = (max(zone.lengths) - min(zone.lengths)) / mean
            if apart > equal_within + 1e-6:
                amounts = {
                    "apart": Amount(round(apart, 2), "percent"),
                    "within": Amount(equal_within, "percent"),
                    "longest": Amount(max(zone.lengths)),
                    "shortest": Amount(min(zone.lengths)),
                }
                sentence = (
                    "Its loops differ by {apart}, from {shortest} to {longest}; {within} is asked for: set the valves "
                    "as listed."
                )
                found.append(Caution(register.LOOPS_UNEQUAL, place, sentence, amounts))
    return found


def fluid_freezes(
    fluids: Iterable[tuple[str, bool, float | None]], design_temperature: float | None
) -> list[Caution]:
    """Tube that may freeze when the heat fails.

    Parameters
    ----------
    fluids : iterable of tuple
        Part, whether it is a garage, and where its fluid begins to freeze [°C], None where that is not known.
    design_temperature : float or None
        Air outdoors on the design day. [°C]

    Returns
    -------
    list of Caution
        One for each part: a garage with plain water, or a mixture too weak.
    """
    found = []
    for part, garage, freezing in fluids:
        if freezing is None or not (garage or freezing < 0):
            continue
        cold = (design_temperature if design_temperature is not None else -math.inf) + SLAB_WARMER
        too_weak = freezing < 0 and math.isfinite(cold) and freezing > cold
        if freezing >= 0 or too_weak:
            what = "Plain water" if freezing >= 0 else "A mixture that is too weak"
            amounts = {"freezing": Amount(freezing, "temperature")}
            sentence = f"{what} runs in the slab: it freezes at {{freezing}} when the heat fails or a door stands open"
            if design_temperature is not None:
                amounts["design"] = Amount(design_temperature, "temperature")
                sentence += ", and the design day has {design}"
            found.append(Caution(register.FLUID_FREEZES, f"loops of {plain(part)}", sentence + ".", amounts))
    return found
