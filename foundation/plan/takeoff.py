"""The take-off: everything that one answer takes, counted from the plan's own geometry, ordered and priced."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Sequence

from foundation import units
from foundation.foam.boards import board_types
from foundation.model.floors import FloorsPlan
from foundation.model.heat import Band
from foundation.model.takeoff import Item, Piece, PourOrder, TakeOff
from foundation.money.quantities import concrete_order, trucks
from foundation.money.takeoff_prices import PriceBand, Quote, price_band, times, total
from foundation.money.usual import usual_board_price
from foundation.plan.result import Plan
from foundation.plan.takeoff_bars import bar_items
from foundation.plan.takeoff_concrete import footing_concrete, wall_concrete
from foundation.plan.takeoff_drain import drain_items
from foundation.plan.takeoff_floors import FloorShape, floor_shapes
from foundation.plan.takeoff_foam import foam_items
from foundation.plan.takeoff_forms import form_items
from foundation.plan.takeoff_ground import ground_items
from foundation.plan.takeoff_under import retarder, slab_pieces, stone
from foundation.plan.takeoff_words import AREA, LENGTH, NUMBER, VOLUME, Drawn, Words
from foundation.project import Project
from foundation.project.schema_money import Pour

IN_ANOTHER = "in the price of another line"
"""Source of a line that is not priced by itself."""
UNPRICED = "nobody has priced it"
PSI = 6894.757293168
"""A pound per square inch. [Pa]"""
FILM = "panel's own film"


def take_off(
    plan: Plan, answer: str, floors: FloorsPlan | None = None, today: datetime.date | None = None
) -> TakeOff:
    """Everything that one answer takes.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    floors : FloorsPlan or None
        Its warm floors; without them no tube is counted.
    today : date or None
        Day that quotes' ages are counted to; None where nobody asks for it, and none is stale.

    Returns
    -------
    TakeOff
        Lines, pours, money and what was left out.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    plan.stepping(answer)
    words = Words(plan.project.units)
    shapes = floor_shapes(plan, answer)
    slabs = [shape for shape in shapes if shape.part.slab_thickness > 0 and shape.slab.area > 0]
    concrete = _concrete(plan, answer, slabs, words)
    bars, notes = bar_items(plan, answer, slabs, words)
    foam, _ = foam_items(plan, answer, shapes, words)
    drain, more = drain_items(plan, answer, words)
    ground, untold = ground_items(plan, answer, _beside_walls(foam, drain), words)
    drawn = [
        *concrete,
        *bars,
        *form_items(plan, answer, words),
        *foam,
        *_under_slabs(plan.project, slabs, words),
        *drain,
        *_tube(plan.project, floors, words),
        *ground,
    ]
    items = tuple(_priced(plan.project, each, today) for each in drawn)
    notes += [*more, *untold, *_notes(plan.project, floors, items)]
    return TakeOff(
        items=items,
        pours=tuple(_pours(plan, answer, concrete)),
        money=total(item.money for item in items),
        notes=tuple(notes),
    )


def _concrete(plan: Plan, answer: str, slabs: Sequence[FloorShape], words: Words) -> list[Drawn]:
    """Concrete of each pour, in the order of the work."""
    waste = plan.project.waste.concrete
    pours: list[tuple[str, str, tuple[Piece, ...]]] = [
        ("footings", "concrete of footings, legs and pads", footing_concrete(plan, answer, words).pieces),
        ("walls", "concrete of walls", wall_concrete(plan, answer, words).pieces),
    ]
    pours += [
        (slab_pour(s.part.name), f"concrete of the slab of {s.part.name}", slab_pieces(s, words))
        for s in slabs
    ]
    found = []
    for pour, what, pieces in pours:
        if not pieces:
            continue
        drawn = sum(piece.quantity for piece in pieces)
        order = concrete_order(drawn, waste)
        formula = f"{words.of(drawn, VOLUME)} drawn, {waste:.3g} of it for waste, up to the next quarter yard"
        formula = formula.replace(f"{waste:.3g} of it", f"{waste:.0%}")
        key = f"concrete-{pour.replace(' ', '-')}"
        found.append(
            Drawn(
                key,
                "concrete",
                pour,
                what,
                VOLUME,
                order,
                words.of(order, VOLUME),
                formula,
                pieces,
                "concrete",
            )
        )
    area = sum(s.slab.area for s in slabs)
    if slabs:
        pieces = tuple(Piece(slab_pour(s.part.name), words.of(s.slab.area, AREA), s.slab.area) for s in slabs)
        found.append(
            Drawn(
                "slab-work",
                "concrete",
                "slabs",
                "placing and finishing of slabs",
                AREA,
                area,
                words.of(area, AREA),
                "between the walls, without the foam at the edge",
                pieces,
                "slab_work",
            )
        )
    return found


def slab_pour(part: str) -> str:
    """Name of the pour of a part's slab.

    Parameters
    ----------
    part : str
        Name of the part.

    Returns
    -------
    str
        Such as ``slab of house``.
    """
    return f"slab of {part}"


def _under_slabs(project: Project, slabs: Sequence[FloorShape], words: Words) -> Iterator[Drawn]:
    if not slabs:
        return
    bedded = stone(slabs, project.waste.stone, words)
    if bedded.quantity > 0:
        yield bedded
    covered = [slab for slab in slabs if slab.part.use != "porch"]
    if covered and project.floors.retarder not in ("none", FILM):
        yield retarder(covered, project.waste.retarder_width, project.waste.retarder_lap, words)


def _tube(project: Project, floors: FloorsPlan | None, words: Words) -> Iterator[Drawn]:
    if floors is None or not floors.zones:
        return
    loops = [loop for zone in floors.zones for laying in zone.layings for loop in laying.loops]
    if loops:
        pieces = tuple(
            Piece(f"{loop.zone}, {loop.name}", f"leaders {words.of(loop.leaders, LENGTH)} of it", loop.length)
            for loop in loops
        )
        drawn = sum(piece.quantity for piece in pieces)
        order = sum(coil.length for coil in floors.coils) or drawn
        said = f"{len(floors.coils)} coils" if floors.coils else words.of(drawn, LENGTH)
        yield Drawn(
            "tube",
            "tube",
            "slabs",
            f"{project.floors.tube} in PEX tube",
            LENGTH,
            order,
            said,
            "each loop from one coil, without a joint",
            pieces,
            "tube",
        )
    if project.floors.held == "knobbed panel":
        panels = tuple(
            Piece(zone.shape.name, words.of(zone.shape.covered, AREA), zone.shape.covered)
            for zone in floors.zones
        )
        area = sum(piece.quantity for piece in panels)
        yield Drawn(
            "panel",
            "tube",
            "slabs",
            "knobbed panel",
            AREA,
            area,
            words.of(area, AREA),
            "floor of the zones",
            panels,
            "panel",
        )
    if floors.manifolds:
        count = float(len(floors.manifolds))
        each = tuple(Piece(water.name, f"in {water.part}", 1.0) for water in floors.manifolds)
        yield Drawn(
            "manifolds",
            "tube",
            "",
            "manifold with valves and pump",
            NUMBER,
            count,
            f"{count:g}",
            "those that serve loops",
            each,
            "manifold",
        )


def _beside_walls(foam: Sequence[Drawn], drain: Sequence[Drawn]) -> float:
    """What takes the backfill's place: drain stone, and foam outside below grade. [m³]"""
    stones = sum(item.quantity for item in drain if item.key == "stone-drain")
    outside = [item for item in foam if item.key.startswith("foam-wall-outside")]
    shown = sum(item.quantity for item in foam if item.key == "foam-cover")
    area = sum(item.quantity for item in outside)
    volume = sum(item.quantity * item.thickness for item in outside)
    return stones + (volume * max(0.0, 1 - shown / area) if area > 0 else 0.0)


def _quote(project: Project, drawn: Drawn) -> Quote | None:
    """Price of a line; None for what is in another one's price, or has none."""
    prices, foam = project.prices, project.foam_prices
    if not drawn.price:
        return None
    if drawn.price == "board":
        own = next((each for each in foam.boards if each.board == drawn.board), None)
        if own is not None:
            return Quote(own.price * drawn.thickness, own.quoted, own.source)
        try:
            return Quote(usual_board_price(board_types()[drawn.board].family) * drawn.thickness)
        except KeyError:
            return None
    if drawn.price in type(foam).model_fields:
        return Quote(getattr(foam, drawn.price))
    # The section's day is that of the prices that were typed; the others are still made up.
    typed = drawn.price in prices.model_fields_set
    price = getattr(prices, drawn.price)
    return Quote(price, prices.quoted, prices.source) if typed and prices.quoted else Quote(price)


def _priced(project: Project, drawn: Drawn, today: datetime.date | None) -> Item:
    quote = _quote(project, drawn)
    if quote is None:
        found = PriceBand(
            Band(0.0, 0.0, 0.0), False, False, IN_ANOTHER if drawn.group == "forms" else UNPRICED
        )
    else:
        found = price_band(quote, today, project.prices.stale_after, project.prices.band)
    return Item(
        key=drawn.key,
        group=drawn.group,
        pour=drawn.pour,
        what=drawn.what,
        kind=drawn.kind,
        quantity=drawn.quantity,
        order=drawn.order,
        order_words=drawn.order_words,
        formula=drawn.formula,
        pieces=drawn.pieces,
        price=found.price,
        money=times(found.price, drawn.order),
        quoted=found.quoted,
        stale=found.stale,
        source=found.source,
    )


def _pours(plan: Plan, answer: str, concrete: Sequence[Drawn]) -> Iterator[PourOrder]:
    project = plan.project
    for item in concrete:
        if item.price != "concrete":
            continue
        typed = _typed_pour(project, item.pour)
        tallest = max((piece.top - piece.bottom for piece in plan.walls[answer].pieces), default=math.nan)
        yield PourOrder(
            name=item.pour,
            state=typed.state if typed is not None else "planned",
            concrete=item.quantity,
            order=item.order,
            trucks=trucks(item.order, project.waste.truck),
            hours=tallest / project.waste.rise_rate if item.pour == "walls" else math.nan,
            mix=_mix(project, item.pour, typed),
        )


def _typed_pour(project: Project, pour: str) -> Pour | None:
    """What the project says of a pour: by its own name, by its part's, or of all slabs."""
    names = [pour.casefold()]
    if pour.startswith("slab of "):
        names += [pour.removeprefix("slab of ").casefold(), "slab", "slabs"]
    for name in names:
        for typed in project.pours:
            if typed.name.casefold() == name:
                return typed
    return None


def _mix(project: Project, pour: str, typed: Pour | None) -> str:
    said = [typed.mix] if typed is not None and typed.mix else []
    garages = [slab_pour(part.name) for part in project.parts if part.use == "garage"]
    usual = project.stage.wall_concrete if pour == "walls" else None
    usual = project.stage.garage_slab_concrete if pour in garages else usual
    strength = typed.strength if typed is not None and typed.strength is not None else usual
    if strength is not None:
        us = project.units == "us"
        said.append(f"{strength / PSI:,.0f} psi" if us else f"{strength / 1e6:.1f} MPa")
    if typed is not None and typed.air is not None:
        said.append(f"{units.write(typed.air, 'percent', project.units)} air")
    return ", ".join(said)


def _notes(project: Project, floors: FloorsPlan | None, items: Sequence[Item]) -> Iterator[str]:
    if project.zones and floors is None:
        yield "Warm floors are not in this count: their tube, panels and manifolds come on top."
    if project.floors.retarder in ("none", FILM):
        yield f"No vapor retarder is counted: the project says {project.floors.retarder}."
    if project.zones and project.floors.held == "knobbed panel":
        yield "What a panel's knobs take of the slab's concrete is not deducted: their size is not told."
    pockets = [opening.name for opening in project.openings if opening.kind == "beam pocket"]
    if pockets:
        yield f"Beam pockets are not deducted, their depth is not told: {', '.join(pockets)}."
    if any(opening.slab_through == "yes" for opening in project.openings):
        yield "An apron poured in one with the slab is not counted: its size is not told."
    stale = [item.what for item in items if item.stale]
    if stale:
        yield f"Quotes older than {project.prices.stale_after:g} days: {', '.join(stale)}."
    free = [item.what for item in items if item.source == UNPRICED]
    if free:
        yield f"Not in the sum, nobody has priced it: {', '.join(free)}."
    rock = project.digging.soil_class == "rock"
    if rock:
        yield "Digging is priced as soil; rock costs more."
