"""Traps of the work on warm floors: retarder, pressure test, saw cuts, breaks between slabs, the first heat."""

from __future__ import annotations

from collections.abc import Iterable

from foundation.cautions import register
from foundation.cautions.words import likewise, listed, plain
from foundation.model.caution import Amount, Caution

COVER = 2 * 0.0254
"""Concrete over the tube of a structural slab (California Mechanical Code 1217.5 [read]). [m]"""
TEST_PRESSURE = 100 * 6894.757
"""Pressure of the test before the pour, 100 psi for 30 minutes (IRC 2018 M2103.4 [read]). [Pa]"""
WITHIN = 0.001
"""Lengths this close are equal. [m]"""


def garage_with_living(
    mixed: Iterable[tuple[str, str, str]], joined: Iterable[tuple[str, str]]
) -> list[Caution]:
    """Garage and living on one slab.

    Parameters
    ----------
    mixed : iterable of tuple of str
        A part that has both, its garage zone and a zone of another use.
    joined : iterable of tuple of str
        A heated garage and a heated part whose slabs meet without a break.

    Returns
    -------
    list of Caution
        One for each.
    """
    found = [
        Caution(
            register.GARAGE_WITH_LIVING,
            f"slab of {plain(part)}",
            f"Zones {listed([garage, other])} share the slab of {plain(part)}: part it, with foam between, and give "
            "the garage a part of its own.",
            {},
        )
        for part, garage, other in mixed
    ]
    return found + [
        Caution(
            register.GARAGE_WITH_LIVING,
            f"slabs of {plain(garage)} and {plain(other)}",
            "The slabs lie at one level and meet without foam between them.",
            {},
        )
        for garage, other in joined
    ]


def pressure_test(freezing_weather: bool, test: str, air_allowed: str) -> list[Caution]:
    """What is in the tube while it is tested and poured over.

    Parameters
    ----------
    freezing_weather : bool
        Whether it may freeze meanwhile.
    test : str
        ``water``, ``air``, ``none`` or ``unknown``.
    air_allowed : str
        Whether the tube's maker and the office allow air: ``yes``, ``no`` or ``unknown``.

    Returns
    -------
    list of Caution
        None, one, or several.
    """
    found = []
    if freezing_weather and test in ("water", "unknown"):
        told = "Water stands in the tube" if test == "water" else "Nobody has said what stands in the tube"
        what = f"{told} while it may freeze: what freezes bursts it. Fill it with a mixture that does not, or heat."
        found.append(Caution(register.FREEZES_IN_POUR, "tube before the pour", what, {}))
    if test == "none":
        found.append(
            Caution(
                register.NO_PRESSURE,
                "tube before the pour",
                "No pressure is held during the pour, so that nobody sees a nail or a barrow hit the tube: {pressure} "
                "for half an hour before it, and under pressure until the concrete is set.",
                {"pressure": Amount(TEST_PRESSURE, "strength")},
            )
        )
    elif test == "air" and air_allowed != "yes":
        asked = "do not allow" if air_allowed == "no" else "have not been asked about"
        found.append(
            Caution(
                register.AIR_NOT_ALLOWED,
                "tube before the pour",
                f"Maker and office {asked} a test with air.",
                {},
            )
        )
    elif test == "air":
        found.append(
            Caution(
                register.AIR_TEST,
                "tube before the pour",
                "Air at {pressure} bursts a fitting with the force of a shot: keep people off, raise it slowly, look "
                "for leaks with suds.",
                {"pressure": Amount(TEST_PRESSURE, "strength")},
            )
        )
    elif test == "unknown" and not freezing_weather:
        found.append(
            Caution(
                register.TEST_OPEN,
                "tube before the pour",
                "Nobody has said what the tube is tested with: water, or air where maker and office allow it.",
                {},
            )
        )
    return found


def retarder_open(retarder: str, held: str) -> list[Caution]:
    """Where the vapor retarder lies.

    Parameters
    ----------
    retarder : str
        ``over foam``, ``panel's own film``, ``both``, ``none`` or ``unknown``.
    held : str
        How the tube is held.

    Returns
    -------
    list of Caution
        None or one.
    """
    told = {
        "unknown": "Nobody has said where the vapor retarder lies: over the foam, as the panel's own film, or both.",
        "none": "No vapor retarder lies under the heated slab.",
        "panel's own film": "The panel's own film is the vapor retarder: seal its joints and penetrations, turn it up "
        "at the edge, and ask the office whether it counts.",
    }
    found = []
    if retarder in told:
        found.append(Caution(register.RETARDER, "heated slabs", told[retarder], {}))
    elif retarder == "over foam" and held == "stapled to foam":
        sentence = (
            "Staples go through the retarder on the foam: ask the office, or lay it under the foam as well."
        )
        found.append(Caution(register.RETARDER, "heated slabs", sentence, {}))
    return found


def oxygen_barrier(barrier: str) -> list[Caution]:
    """Tube without an oxygen barrier.

    Parameters
    ----------
    barrier : str
        ``yes``, ``no`` or ``unknown``.

    Returns
    -------
    list of Caution
        None or one.
    """
    if barrier == "yes":
        return []
    if barrier == "no":
        sentence = "Tube without an oxygen barrier rusts every pump and boiler of iron: take a tube with one."
        return [Caution(register.NO_BARRIER, "tube", sentence, {})]
    return [
        Caution(register.BARRIER_OPEN, "tube", "Nobody has said whether the tube has an oxygen barrier.", {})
    ]


def no_thermal_break(edges: Iterable[tuple[str, str]]) -> list[Caution]:
    """Heated slabs that touch concrete beside them.

    Parameters
    ----------
    edges : iterable of tuple of str
        Part with a heated slab, and wall line that it meets without foam between.

    Returns
    -------
    list of Caution
        One for each part; it names all walls.
    """
    by_part: dict[str, list[str]] = {}
    for part, line in edges:
        by_part.setdefault(part, []).append(line)
    return [
        Caution(
            register.NO_THERMAL_BREAK,
            f"slab of {plain(part)}",
            f"No foam parts the heated slab from wall{'s' if len(set(lines)) > 1 else ''} "
            f"{listed(dict.fromkeys(lines))}.",
            {},
            lines[0],
        )
        for part, lines in by_part.items()
    ]


def tube_near_surface(tops: Iterable[tuple[str, float]], least: float = COVER) -> list[Caution]:
    """Tube too near the surface of the slab.

    Parameters
    ----------
    tops : iterable of tuple
        Part, and the depth of its tube's top below the top of slab [m].
    least : float
        Concrete that is asked for over the tube. [m]

    Returns
    -------
    list of Caution
        None or one, where it is nearest; it names the other parts.
    """
    short = sorted((top for top in tops if top[1] < least - WITHIN), key=lambda top: top[1])
    if not short:
        return []
    part, top = short[0]
    return [
        Caution(
            register.TUBE_SHALLOW,
            f"slab of {plain(part)}",
            "{top} of concrete lie over the tube; {least} are asked for in a structural slab."
            + likewise(name for name, _ in short[1:]),
            {"top": Amount(top, "inches"), "least": Amount(least, "inches")},
        )
    ]


def saw_cut_meets_tube(cuts: Iterable[tuple[str, str, float, float]], margin: float) -> list[Caution]:
    """Saw cuts over heated floor that come too near to the tube.

    Parameters
    ----------
    cuts : iterable of tuple
        Joint, part, depth of the cut [m] and depth of the tube's top [m].
    margin : float
        What has to stay between them. [m]

    Returns
    -------
    list of Caution
        One for each cut.
    """
    return [
        Caution(
            register.SAW_MEETS_TUBE,
            f"{plain(joint)} in the slab of {plain(part)}",
            "The cut goes {depth} deep and the tube's top lies at {top}: {margin} have to stay between them. Cut less "
            "deep, lay the tube deeper, or keep it off.",
            {
                "left": Amount(top - depth, "inches"),
                "depth": Amount(depth, "inches"),
                "top": Amount(top, "inches"),
                "margin": Amount(margin, "inches"),
            },
        )
        for joint, part, depth, top in cuts
        if depth + margin >= top
    ]


def first_heat(supply: float | None, cure_days: int = 28) -> list[Caution]:
    """The slab cures before it is heated, and is heated slowly at first.

    Parameters
    ----------
    supply : float or None
        Hottest water of the job; None without a warm floor. [°C]
    cure_days : int
        Days that concrete cures before heat runs. [d]

    Returns
    -------
    list of Caution
        None or one.
    """
    if supply is None:
        return []
    return [
        Caution(
            register.FIRST_HEAT,
            "heated slabs",
            "Let the slab cure for {days} days, then run water of {first} for three days, and a little hotter every "
            "day up to {supply}.",
            {
                "days": Amount(float(cure_days), "number"),
                "first": Amount(25.0, "temperature"),
                "supply": Amount(max(supply, 25.0), "temperature"),
            },
        )
    ]
