"""The client's page: three sentences, big numbers, and the bare concrete on each side; no word of the trade."""

from __future__ import annotations

import math

from foundation import units
from foundation.handover.papers.blocks import Block, Cell, Sheet, degrees, heading, paragraph, table
from foundation.handover.papers.content import Content
from foundation.model.walls import WallLine

SIDES = ("east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east")
LIVED_IN = 15.0
"""Parts with air warmer than this are lived in; a garage's floor is not what a client asks for. [°C]"""
SHOWS = 0.0127
"""Less concrete than this is no bare concrete to a client: half an inch. [m]"""


def client_sheet(content: Content) -> Sheet:
    """One page for the client.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    numbers, sentences = [], []
    for number, what, sentence in (_warmth(content), _money(content), _forever(content)):
        sentences.append(sentence)
        if number:
            numbers.append({"number": number, "what": what})
    big = 17 if content.paper.name == "letter" else 25
    rows, total = bare_rows(content)
    if math.isfinite(total):
        numbers.append({"number": _area(total, content.system), "what": "of bare concrete will show outside"})
    blocks: list[Block] = [paragraph(sentence, size=big, above=4) for sentence in sentences]
    blocks.append({"kind": "big", "size": big * 2.2, "numbers": numbers})
    if rows:
        blocks += [
            heading("Bare concrete you will see"),
            table(("Side of the house", "How much", "Highest"), rows, (2, 1, 1), size=1.5),
        ]
    else:
        blocks.append(
            paragraph(
                "How much bare concrete will show is not known until the finished ground is given.", size=big
            )
        )
    return Sheet(
        "client", "Your foundation", "How warm, how much, and what can't we add later?", tuple(blocks)
    )


def _warmth(content: Content) -> tuple[str, str, str]:
    if content.heat is None or not content.heat.stretches:
        return "", "", "How warm the floor will be has not been worked out for this page yet."
    air = {part.name: part.air for part in content.plan.project.parts}
    rooms = [each for each in content.heat.stretches if air[each.response.section.inside] >= LIVED_IN]
    worst = min(rooms or content.heat.stretches, key=lambda each: each.floor_temperature)
    text, where = degrees(worst.floor_temperature, content.system), worst.response.section.inside
    step = "a foot" if content.system == "us" else "30 cm"
    return (
        text,
        f"the coldest that the floor of the {where} gets near a wall, before any floor heat",
        f"On the coldest days the floor of the {where} stays at about {text} or more {step} from an outside wall, "
        "before any floor heat.",
    )


def _money(content: Content) -> tuple[str, str, str]:
    takeoff = content.takeoff
    if (
        takeoff is None
        or content.plan.project.fuel.price is None
        or not any(item.quoted for item in takeoff.items)
    ):
        return "", "", "The cost is left off this page until one price and the fuel are confirmed."
    money = takeoff.money
    likely, low, high = (
        units.money(value, _nearest(money.likely)) for value in (money.likely, money.low, money.high)
    )
    return (
        likely,
        f"likely cost of what is counted; {low} to {high}",
        f"What is counted for the foundation comes to about {likely}, and between {low} and {high}.",
    )


def _nearest(money: float) -> int:
    """Money to two figures. [$]"""
    return max(10, int(10 ** (math.floor(math.log10(max(money, 100.0))) - 1)))


def _forever(content: Content) -> tuple[str, str, str]:
    parts = content.plan.project.parts
    size = units.inches if content.system == "us" else units.millimetres
    under = [(part.name, part.foam.under_slab) for part in parts if part.foam.under_slab is not None]
    if not under:
        return "", "", "No foam is drawn under the floors, and none can be added once they are poured."
    told = " and ".join(f"{size(foam.thickness)} under the floor of the {name}" for name, foam in under)
    edge = any(part.foam.slab_edge is not None for part in parts)
    also = " and along the edge of the floors" if edge else ""
    return "", "", f"Foam goes in now, {told}{also}: it cannot be added later."


def side_of(wall: WallLine) -> str:
    """Which way a wall looks.

    Parameters
    ----------
    wall : WallLine
        The wall.

    Returns
    -------
    str
        Such as ``south``.
    """
    turn = math.degrees(math.atan2(wall.outward[1], wall.outward[0]))
    return SIDES[round(turn / 45) % 8]


def bare_rows(content: Content) -> tuple[list[list[Cell]], float]:
    """Bare concrete of each outside wall.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    list of list
        Rows of a table, none where the finished ground is not known.
    float
        All of it, nan where it is not known. [m²]
    """
    given = any(math.isfinite(grade.finished) for grade in content.plan.corner_grades.values())
    if content.walls is None or not content.walls.bare or not given:
        return [], math.nan
    rows: list[list[Cell]] = []
    for bare in content.walls.bare:
        wall = content.plan.line(bare.line).wall
        highest = float(bare.height.max())
        shows = highest > SHOWS
        rows.append(
            [
                {
                    "text": f"{side_of(wall)} side of the {wall.part}",
                    "small": f"corner {wall.start} to {wall.end}",
                    "strong": True,
                },
                _area(bare.area, content.system) if shows else "none",
                plain_height(highest, content.system) if shows else "–",
            ]
        )
    return rows, sum(bare.area for bare in content.walls.bare)


def plain_height(metres: float, system: str) -> str:
    """A height in whole inches or centimetres, in everyday words.

    Parameters
    ----------
    metres : float
        The height. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.

    Examples
    --------
    >>> plain_height(2.8, "us"), plain_height(0.2, "us"), plain_height(0.2, "metric")
    ('9 ft 2 in', '8 in', '20 cm')
    """
    if system == "metric":
        return f"{metres * 100:.0f} cm" if metres < 1 else f"{metres:.2f} m"
    feet, inches = divmod(round(metres / 0.0254), 12)
    return " ".join([f"{feet} ft"] * bool(feet) + [f"{inches} in"] * bool(inches or not feet))


def _area(square_metres: float, system: str) -> str:
    return f"{square_metres / 0.3048**2:,.0f} ft²" if system == "us" else f"{square_metres:,.1f} m²"
