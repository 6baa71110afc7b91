"""Digging: cut and fill between existing, dug and finished ground."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Polygon

from foundation.model.takeoff import Piece
from foundation.plan.lines import outline
from foundation.plan.result import Plan
from foundation.plan.takeoff_concrete import footing_solids, wall_solids
from foundation.plan.takeoff_dig import GRADED, PROTECTED, Grounds, grade_at, grounds_of
from foundation.plan.takeoff_shapes import Solid
from foundation.plan.takeoff_words import VOLUME, Drawn, Words, by_name

ANKLE = 0.15
"""Shallower digs at the survey's edge are not worth a word. [m]"""


def ground_items(plan: Plan, answer: str, beside_walls: float, words: Words) -> tuple[list[Drawn], list[str]]:
    """Cut, backfill, and what is hauled away or brought.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    beside_walls : float
        Stone round drains and foam below grade, which take the backfill's place. [m³]
    words : Words
        The reader's units.

    Returns
    -------
    items : list of Drawn
        The lines.
    notes : list of str
        What is not known.
    """
    ground = grounds_of(plan, answer)
    cuts = _cuts(ground, words)
    fills = _fills(plan, answer, ground, beside_walls, words)
    cut, fill = (sum(piece.quantity for piece in pieces) for pieces in (cuts, fills))
    digging = plan.project.digging
    slopes = sorted({1 / slope for slope in ground.sloped.values()})
    said = " and ".join(f"{slope:.3g}:1" for slope in slopes if slope > 0.01) or "upright"
    formula = (
        f"existing less dug ground over a grid of {words.size(np.sqrt(ground.cell))}; "
        f"working room {words.size(digging.working_room)}; sides {said}, run to rise: from {words.length(PROTECTED)} "
        f"deep by class {digging.soil_class}, OSHA 1926.652"
    )
    items = [
        Drawn(
            "digging", "digging", "", "digging", VOLUME, cut, words.of(cut, VOLUME), formula, cuts, "digging"
        ),
        Drawn(
            "backfill",
            "digging",
            "",
            "backfill and fill",
            VOLUME,
            fill,
            words.of(fill, VOLUME),
            "dug up to finished ground and slab beds, less what stands there; as compacted, no swell counted",
            fills,
            "backfill",
        ),
    ]
    over = abs(cut - fill)
    away = Piece(
        "cut less fill" if cut > fill else "fill less cut",
        f"{words.of(cut, VOLUME)} and {words.of(fill, VOLUME)}",
        over,
    )
    if cut > fill:
        items.append(
            Drawn(
                "haul",
                "digging",
                "",
                "spoil hauled away",
                VOLUME,
                over,
                words.of(over, VOLUME),
                "cut less fill, as it lies in the bank",
                (away,),
                "haul",
            )
        )
    elif fill > cut:
        items.append(
            Drawn(
                "borrow",
                "digging",
                "",
                "fill to bring in",
                VOLUME,
                over,
                words.of(over, VOLUME),
                "fill less cut; nobody has priced it",
                (away,),
                "",
            )
        )
    return [item for item in items if item.quantity > 1e-9], _notes(plan, ground, words)


def _cuts(ground: Grounds, words: Words) -> tuple[Piece, ...]:
    outside = ground.outside
    pieces = [
        Piece(
            f"inside {part}",
            "down to footings and slab beds",
            ground.sum(ground.existing - ground.dug_inside(part), share),
        )
        for part, share in ground.share.items()
    ]
    deep, low = ground.existing - ground.dug, np.minimum(ground.existing, ground.dug)
    graded = f"grading up to {words.length(GRADED)} from the footings"
    pieces.append(Piece("outside the walls", "working room and sloped sides", ground.sum(deep, outside)))
    pieces.append(Piece("down to finished grade", graded, ground.sum(low - ground.finished, outside)))
    return by_name(pieces)


def _fills(plan: Plan, answer: str, ground: Grounds, beside_walls: float, words: Words) -> tuple[Piece, ...]:
    room = ground.finished - ground.dug
    dug = ground.outside * (ground.existing - ground.dug > 1e-9)
    solids = [*footing_solids(plan, answer), *wall_solids(plan, answer)]
    outlines = {part.name: outline(plan.project, part) for part in plan.project.parts}
    house = shapely.union_all([shape for shape in outlines.values() if shape is not None])
    backfill = ground.sum(room, dug)
    standing = sum(_in_ground(plan, solid, house) for solid in solids)
    taken = min(backfill, standing + beside_walls)
    pieces = [
        Piece("backfill round the walls", "dug up to finished ground", backfill),
        Piece("concrete, drain stone and foam in it", "in its place", -taken),
        Piece("up to finished grade", "where nothing was dug", ground.sum(room, ground.outside - dug)),
    ]
    for part in plan.project.parts:
        shape = outlines[part.name]
        if shape is None:
            continue
        bed = ground.beds[part.name]
        under = ground.sum(bed - ground.dug_inside(part.name), ground.share[part.name])
        stands = sum(
            max(0.0, min(solid.top, bed) - solid.bottom)
            * shapely.area(shapely.intersection(solid.plan, shape))
            for solid in solids
        )
        pieces.append(
            Piece(
                f"under the slab of {part.name}",
                f"{words.of(under, VOLUME)} up to its bed, less {words.of(float(stands), VOLUME)} of concrete",
                max(0.0, under - float(stands)),
            )
        )
    return by_name(pieces)


def _in_ground(plan: Plan, solid: Solid, house: Polygon) -> float:
    """Volume of a body outside the building and below finished ground. [m³]"""
    beyond = shapely.difference(solid.plan, house)
    if beyond.area < 1e-9:
        return 0.0
    middle = beyond.representative_point()
    grade = grade_at(plan, "finished", np.array([middle.x]), np.array([middle.y]))[0]
    top = min(solid.top, grade) if np.isfinite(grade) else solid.top
    return float(beyond.area) * max(0.0, top - solid.bottom)


def _notes(plan: Plan, ground: Grounds, words: Words) -> list[str]:
    notes = []
    if plan.existing is None:
        notes.append("Digging is counted with the grade beside the nearest wall: there are no shots.")
    rim = np.pad(np.isnan(ground.existing).reshape(ground.shape), 1, mode="edge")
    beside = rim[:-2, 1:-1] | rim[2:, 1:-1] | rim[1:-1, :-2] | rim[1:-1, 2:]
    # Where the dig still goes down at the survey's rim, something beyond it is not counted.
    deep = np.nan_to_num(ground.existing - ground.dug).reshape(ground.shape)
    if not rim.all() and (deep[beside] > ANKLE).any():
        notes.append("The dig reaches the edge of the survey: what lies beyond it is not counted.")
    return notes
