"""Traps of the foam: edges left bare, breaks in the line of insulation, weak boards, foam where none may be."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from foundation.cautions import register
from foundation.cautions.ground import WITHIN
from foundation.cautions.words import also, plain
from foundation.model.caution import Amount, Caution, Trap
from foundation.model.foam import Bearing
from foundation.model.section import InsulationGap

GAP = 2 * 0.0254
"""Shorter breaks, such as a sill's own thickness, are left to seal and tape [practice]. [m]"""
TYRE = 2000 * 4.4482216152605 / (20 * 0.0254**2)
"""Pressure of a car's wheel on a jack, 2,000 lb on 20 in² (IRC Table R301.5 note [memory]). [Pa]"""
MOVING = 5
"""Share of the strength that wheels and people may take is one over this. [-]"""
R_WITHIN = 0.005
"""Resistances this close are equal. [m²·K/W]"""


@dataclass(frozen=True)
class Edge:
    """A stretch of slab edge or basement wall as the rules see it.

    Attributes
    ----------
    line : str
        Name of the wall line.
    start : float
        Where the stretch starts. [m]
    what : str
        ``slab edge`` or ``basement wall``, and the door's name where it is one.
    resistance : float
        Of the foam between inside and outside or ground, by its label. [m²·K/W]
    reach : float
        How far the foam reaches below grade, or inward under the slab. [m]
    """

    line: str
    start: float
    what: str
    resistance: float
    reach: float


def edge_left_bare(
    edges: Iterable[Edge], required: float | None, depth: float | None, trap: Trap = register.EDGE_BARE
) -> list[Caution]:
    """Edges or walls of the heated envelope with less foam than the office asks for, or without any.

    Parameters
    ----------
    edges : iterable of Edge
        Stretches of heated parts.
    required : float or None
        What the office asks for; None where nobody has told, then only edges without foam trip. [m²·K/W]
    depth : float or None
        How far it has to reach; None where nobody has told. [m]
    trap : Trap
        Entry of the register.

    Returns
    -------
    list of Caution
        One for the walls without any foam or with too little, one for foam that ends too soon; each names the other
        walls.
    """
    edges = list(edges)
    target = required or 0.0
    short = [e for e in edges if e.resistance < max(target, 2 * R_WITHIN) - R_WITHIN]
    shallow = [e for e in edges if e not in short and depth is not None and e.reach < depth - WITHIN]
    found = []
    if short:
        worst = min(short, key=lambda edge: edge.resistance)
        bare = worst.resistance < R_WITHIN
        asked = " where {required} is asked for" if required else ""
        told = "no foam at all" if bare else "{has} of foam"
        amounts = {"has": Amount(worst.resistance, "resistance"), "required": Amount(target, "resistance")}
        found.append(_at(trap, worst, f"The {plain(worst.what)} has {told}{asked}.", amounts, short))
    if shallow and depth is not None:
        worst = min(shallow, key=lambda edge: edge.reach)
        amounts = {"reach": Amount(worst.reach, "inches"), "depth": Amount(depth, "inches")}
        sentence = f"Foam at the {plain(worst.what)} reaches {{reach}}; {{depth}} are asked for."
        found.append(_at(trap, worst, sentence, amounts, shallow))
    return found


def _at(
    trap: Trap, worst: Edge, sentence: str, amounts: dict[str, Amount], likewise: Sequence[Edge]
) -> Caution:
    others = also(edge.line for edge in likewise if edge.line != worst.line)
    return Caution(trap, f"wall {worst.line}", sentence + others, amounts, worst.line, worst.start)


def insulation_line_broken(
    gaps: Iterable[tuple[str, float, InsulationGap]], least: float = GAP
) -> list[Caution]:
    """The line of insulation from framed wall to floor is broken.

    Parameters
    ----------
    gaps : iterable of tuple
        Wall line, station [m] and gap.
    least : float
        Shorter ones are left to seal and tape. [m]

    Returns
    -------
    list of Caution
        One for each kind of break, at the longest; it names the other walls.
    """
    kinds: dict[str, list[tuple[str, float, InsulationGap]]] = {}
    for line, station, gap in gaps:
        if gap.length >= least:
            kinds.setdefault(gap.where, []).append((line, station, gap))
    found = []
    for where, places in kinds.items():
        line, station, gap = max(places, key=lambda place: place[2].length)
        found.append(
            Caution(
                register.LINE_BROKEN,
                f"wall {line}",
                f"The line of insulation lifts over {{length}}: {plain(where)}."
                + also(name for name, _, _ in places if name != line),
                {"length": Amount(gap.length, "inches")},
                line,
                station,
            )
        )
    return found


@dataclass(frozen=True)
class DoorEdge:
    """An overhead door of a heated part, with what parts the slab from outside.

    Attributes
    ----------
    name, line : str
        The door and its wall line.
    station : float
        Its near side. [m]
    foam : float
        Thickness of the foam break, 0 for none. [m]
    strength : float
        Strength of that foam. [Pa]
    covered : bool
        Whether wheels are kept off it.
    slab_through : str
        Whether the slab runs out in one with the apron: yes, no or unknown.
    """

    name: str
    line: str
    station: float
    foam: float
    strength: float
    covered: bool
    slab_through: str


def slab_through_door(doors: Iterable[DoorEdge]) -> list[Caution]:
    """Concrete that runs out through an overhead door, and foam breaks that wheels roll over.

    Parameters
    ----------
    doors : iterable of DoorEdge
        Overhead doors of heated parts.

    Returns
    -------
    list of Caution
        At most one for each door.
    """
    found = []
    for door in doors:
        place = (f"{plain(door.name)} in wall {door.line}", door.line, door.station)
        if door.slab_through == "yes" or door.foam <= 0:
            told = (
                "The apron is poured in one with the slab, with {foam} of foam between."
                if door.slab_through == "yes"
                else "Nothing parts the slab from the apron: {foam} of foam at its edge."
            )
            amounts = {"foam": Amount(door.foam, "inches")}
            found.append(Caution(register.SLAB_THROUGH, place[0], told, amounts, *place[1:]))
        elif not door.covered and door.strength / MOVING < TYRE:
            found.append(
                Caution(
                    register.WHEELS_ON_FOAM,
                    place[0],
                    "A wheel presses the foam break {times} as hard as it may: cover it, or cut it at 45 degrees under "
                    "the concrete.",
                    {"times": Amount(TYRE * MOVING / door.strength, "times")},
                    *place[1:],
                )
            )
    return found


def heated_slab_short(slabs: Mapping[str, float], required: float | None) -> list[Caution]:
    """Heated slabs with less foam under them than the office asks for.

    Parameters
    ----------
    slabs : mapping of str to float
        For each part with a heated slab the foam under the whole of it, by its label. [m²·K/W]
    required : float or None
        What the office asks for; None where nobody has told. [m²·K/W]

    Returns
    -------
    list of Caution
        One for each slab.
    """
    if required is None:
        return []
    return [
        Caution(
            register.HEATED_SLAB_SHORT,
            f"slab of {plain(part)}",
            "The heated slab lies on {has} of foam; {required} is asked for.",
            {"has": Amount(has, "resistance"), "required": Amount(required, "resistance")},
        )
        for part, has in slabs.items()
        if has < required - R_WITHIN
    ]


def foam_too_weak(bearings: Iterable[tuple[str, Bearing]]) -> list[Caution]:
    """Boards under a slab that a load presses too hard.

    Parameters
    ----------
    bearings : iterable of tuple of str and Bearing
        Part and what its foam has to bear.

    Returns
    -------
    list of Caution
        One for each load that is too much. Pressures stay in the tables of the engineer who signs.
    """
    return [
        Caution(
            register.WEAK_FOAM,
            f"slab of {plain(part)}",
            f"{plain(bearing.board)} under the slab is too weak for {plain(bearing.load)}: {{share}} of what it may "
            "take.",
            {"share": Amount(round(bearing.pressure / bearing.allowed, 2), "percent")},
        )
        for part, bearing in bearings
        if not bearing.carries
    ]


def foam_under_footing(places: Iterable[tuple[str, float, float]]) -> list[Caution]:
    """Foam under a footing.

    Parameters
    ----------
    places : iterable of tuple
        Wall line, station [m] and thickness of the foam [m].

    Returns
    -------
    list of Caution
        None or one, at the thickest; it names the other walls.
    """
    there = list(places)
    if not there:
        return []
    line, station, thickness = max(there, key=lambda place: place[2])
    return [
        Caution(
            register.FOAM_UNDER_FOOTING,
            f"wall {line}",
            "{thickness} of foam lie under the footing." + also(name for name, _, _ in there if name != line),
            {"thickness": Amount(thickness, "inches")},
            line,
            station,
        )
    ]


def foam_starves_footing(
    places: Iterable[tuple[str, float, float]], depth: float, foamed: Collection[str]
) -> list[Caution]:
    """Footings above the frost line whose heat the foam under the slab cuts off.

    Parameters
    ----------
    places : iterable of tuple
        Wall line, station [m] and frost cover [m] where it is least, of heated parts.
    depth : float
        Frost depth. [m]
    foamed : collection of str
        Wall lines beside a floor with foam under it.

    Returns
    -------
    list of Caution
        None or one, where cover is least; it names the other walls.
    """
    short = [place for place in places if place[0] in foamed and place[2] < depth - WITHIN]
    if not short:
        return []
    line, station, cover = min(short, key=lambda place: place[2])
    return [
        Caution(
            register.STARVED,
            f"wall {line}",
            "The footing has {cover} of frost cover, {depth} are asked for, and foam under the slab keeps the "
            "building's heat from it." + also(name for name, _, _ in short if name != line),
            {"cover": Amount(cover, "inches"), "depth": Amount(depth, "inches")},
            line,
            station,
        )
    ]


def label_in_ground(basis: str, counted: Mapping[str, float]) -> list[Caution]:
    """Heat and frost reckoned with the label's R in wet ground.

    Parameters
    ----------
    basis : str
        Which R the heat is computed with: ``design guide``, ``label`` or ``aged``.
    counted : mapping of str to float
        For each board in the ground, the design guide's R over the label's. [-]

    Returns
    -------
    list of Caution
        None or one, at the board that loses most.
    """
    if basis != "label" or not counted:
        return []
    board = min(counted, key=lambda name: counted[name])
    return [
        Caution(
            register.LABEL_IN_GROUND,
            "foam in the ground",
            f"R is taken from the label; in wet ground {plain(board)} keeps {{share}} of it by the design guide.",
            {"share": Amount(round(counted[board], 2), "percent")},
        )
    ]


def counted_twice(lines: Iterable[tuple[str, float]]) -> list[Caution]:
    """Walls where foam at the slab's edge is given twice, on the ledge and beside the slab.

    Parameters
    ----------
    lines : iterable of tuple of str and float
        Wall line and thickness of the foam that is left out of the count [m].

    Returns
    -------
    list of Caution
        One for each line.
    """
    return [
        Caution(
            register.COUNTED_TWICE,
            f"wall {line}",
            "The ledge has its own edge foam; the {foam} given beside the slab are not counted again.",
            {"foam": Amount(foam, "inches")},
            line,
        )
        for line, foam in lines
    ]
