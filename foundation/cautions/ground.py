"""Traps of the finished ground beside the walls: its fall, its slope, and what it comes too close to."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from foundation.cautions import register
from foundation.cautions.words import also
from foundation.model.caution import Amount, Caution, Trap
from foundation.model.concrete import Opening

Along = Mapping[str, tuple[NDArray[np.float64], NDArray[np.float64]]]
"""For each wall line its stations and a value at each. [m]"""

FALL_DISTANCE = 10 * 0.3048
"""Distance from the wall over which the ground falls away (IRC R401.3 [read]). [m]"""
LEAST_FALL = 6 * 0.0254
"""Least fall of soil over that distance (IRC R401.3 [read]). [m]"""
PAVED_FALL = 0.02
"""Least slope of a hard surface (IRC R401.3 [read]). [-]"""
STEEP = 1 / 3
"""Slope that asks for a setback (IRC R403.1.7 text [read]). [-]"""
CONCRETE_OVER_GRADE = 6 * 0.0254
"""Least height of concrete above finished grade (IRC R404.1.6 [read]). [m]"""
UNDER_VENEER = 4 * 0.0254
"""The same under masonry veneer (IRC R404.1.6 [read]). [m]"""
WOOD_OVER_SOIL = 8 * 0.0254
"""Least height of untreated wood over soil (IRC R317.1 [memory]). [m]"""
FRAMING_OVER_PAVING = 2 * 0.0254
"""Least height of siding and framing over paving (IRC R317.1 [read]). [m]"""
WITHIN = 0.5e-3
"""What misses by less than half a millimetre does not trip: levels are printed to 1/16 in. [m]"""


def grade_does_not_fall_away(
    falls: Along, paved: Collection[str] = (), distance: float = FALL_DISTANCE
) -> list[Caution]:
    """Finished ground falls too little in the first 10 ft out from a wall.

    Parameters
    ----------
    falls : mapping of str to tuple of ndarray
        For each wall line its stations and the fall over the distance there, nan where it cannot be told. [m]
    paved : collection of str
        Lines with a hard surface against them.
    distance : float
        Distance out from the wall. [m]

    Returns
    -------
    list of Caution
        One for each such wall, at its worst station.
    """
    found = []
    for line, (station, fall) in falls.items():
        if not np.isfinite(fall).any():
            continue
        asked = PAVED_FALL * distance if line in paved else LEAST_FALL
        worst = int(np.nanargmin(fall))
        least = float(fall[worst])
        if least >= asked - WITHIN:
            continue
        say = "falls only {fall}" if least >= 0 else "rises {fall}"
        ground = "hard surface" if line in paved else "ground"
        found.append(
            Caution(
                register.NO_FALL,
                f"wall {line}",
                f"The finished {ground} {say} in the first {{distance}} out; a fall of {{asked}} is asked for.",
                {
                    "fall": Amount(abs(least), "inches"),
                    "distance": Amount(distance),
                    "asked": Amount(asked, "inches"),
                },
                line,
                float(station[worst]),
            )
        )
    return found


def steep_slope_near(falls: Along, distance: float = FALL_DISTANCE, steepest: float = STEEP) -> list[Caution]:
    """Ground beside the house falls or rises more steeply than 1 in 3.

    Parameters
    ----------
    falls : mapping of str to tuple of ndarray
        For each wall line its stations and the fall over the distance there, nan where it cannot be told. [m]
    distance : float
        Distance out from the wall. [m]
    steepest : float
        Steepest slope that asks for nothing. [-]

    Returns
    -------
    list of Caution
        None or one, at the steepest place.
    """
    worst = {
        line: int(np.nanargmax(np.abs(fall)))
        for line, (_, fall) in falls.items()
        if np.isfinite(fall).any() and np.nanmax(np.abs(fall)) > steepest * distance + WITHIN
    }
    if not worst:
        return []
    line = max(worst, key=lambda name: abs(falls[name][1][worst[name]]))
    station, fall = (values[worst[line]] for values in falls[line])
    return [
        Caution(
            register.STEEP_SLOPE,
            f"wall {line}",
            f"The ground {'falls' if fall > 0 else 'rises'} {{fall}} in {{distance}}, more than 1 in 3."
            + also(name for name in worst if name != line),
            {"fall": Amount(abs(float(fall))), "distance": Amount(distance)},
            line,
            float(station),
        )
    ]


def concrete_near_grade(heights: Along, veneered: Collection[str] = ()) -> list[Caution]:
    """Concrete stands too little above the finished grade.

    Parameters
    ----------
    heights : mapping of str to tuple of ndarray
        For each outdoor wall line its stations and the height of its concrete above finished grade there, nan
        at doors. [m]
    veneered : collection of str
        Lines with masonry veneer.

    Returns
    -------
    list of Caution
        One for each such wall, at its worst station.
    """
    return [
        caution
        for line in heights
        for caution in _too_low(
            register.CONCRETE_LOW,
            {line: heights[line]},
            UNDER_VENEER if line in veneered else CONCRETE_OVER_GRADE,
            "The concrete stands only {height} above finished grade; {asked} is asked for.",
            "Finished grade lies {height} above the concrete, which should stand {asked} above it.",
        )
    ]


def wood_near_soil(heights: Along, treated: bool) -> list[Caution]:
    """Untreated wood on the concrete comes too near to the soil.

    Parameters
    ----------
    heights : mapping of str to tuple of ndarray
        For each outdoor wall line its stations and the height of its concrete above finished grade there, nan
        at doors. [m]
    treated : bool
        Whether the sills are treated wood.

    Returns
    -------
    list of Caution
        One for each such wall, at its worst station.
    """
    if treated:
        return []
    return _too_low(
        register.WOOD_NEAR_SOIL,
        heights,
        WOOD_OVER_SOIL,
        "Untreated wood on the wall is {height} from the soil; {asked} is asked for.",
        "Untreated wood on the wall lies {height} below the soil; it should stay {asked} above it.",
    )


def _too_low(trap: Trap, heights: Along, asked: float, above: str, below: str) -> list[Caution]:
    found = []
    for line, (station, height) in heights.items():
        if not np.isfinite(height).any():
            continue
        worst = int(np.nanargmin(height))
        least = float(height[worst])
        if least < asked - WITHIN:
            amounts = {"height": Amount(abs(least), "inches"), "asked": Amount(asked, "inches")}
            sentence = above if least >= 0 else below
            found.append(Caution(trap, f"wall {line}", sentence, amounts, line, float(station[worst])))
    return found


def framing_near_paving(
    doors: Iterable[tuple[Opening, float]], asked: float = FRAMING_OVER_PAVING
) -> list[Caution]:
    """The framing round a door comes too near to the paving before it.

    Parameters
    ----------
    doors : iterable of tuple
        Each door, and the height of its floor above finished grade outside, the least along it. [m]
    asked : float
        Least height. [m]

    Returns
    -------
    list of Caution
        One for each such door.
    """
    found = []
    for door, height in doors:
        if not height < asked - WITHIN:
            continue
        lies = "only {height} above" if height >= 0 else "{height} below"
        found.append(
            Caution(
                register.FRAMING_NEAR_PAVING,
                door.name,
                f"The foot of its framing lies {lies} the paving; {{asked}} above it is asked for.",
                {"height": Amount(abs(height), "inches"), "asked": Amount(asked, "inches")},
                door.line,
                door.start,
            )
        )
    return found
