"""Tables of facts on a page: levels, corners, layout, walls, the house set higher or lower."""

from __future__ import annotations

import html
import math
from collections.abc import Sequence

from foundation import units
from foundation.dashboard.tables import inches_or_metres, layout_number
from foundation.plan import Plan
from foundation.studies.house_levels import HouseLevel


def level_table(plan: Plan) -> str:
    """Benchmark, closure and set-ups.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        HTML.
    """
    book, system = plan.level_book, plan.project.units
    if not book.benchmark:
        return "<p class='quiet'>No benchmark yet: levels hang from the survey's own zero.</p>"
    rows = [(f"Benchmark {book.benchmark}", layout_number(book.benchmark_level, system))]
    if book.second:
        if book.closure is None:
            text = "not read yet"
        else:
            ok = abs(book.closure) <= book.allowed_closure + 1e-9
            word = "closes" if ok else "does not close"
            text = f"{html.escape(inches_or_metres(abs(book.closure), system))} off, {word}"
        rows.append((f"Second mark {book.second}", text))
    rows += [(f"Line of sight, {up.name}", layout_number(up.instrument, system)) for up in book.set_ups]
    cells = "".join(
        f"<tr><th scope='row'>{html.escape(name)}</th><td>{text}</td></tr>" for name, text in rows
    )
    return f'<table class="facts">{cells}</table>'


def corner_table(plan: Plan) -> str:
    """Grades at the corners.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        HTML.
    """
    system = plan.project.units

    def grade(level: float) -> str:
        if math.isnan(level):
            return "–"
        return units.decimal_feet(level) if system == "us" else units.metres(level, 2)

    rows = "".join(
        f'<tr><th scope="row">{html.escape(name)}</th>'
        f"<td>{grade(each.existing)}</td><td>{grade(each.finished)}</td></tr>"
        for name, each in plan.corner_grades.items()
    )
    return (
        '<table class="facts"><thead><tr><th scope="col">Corner</th><th scope="col">Existing grade</th>'
        f'<th scope="col">Finished grade</th></tr></thead><tbody>{rows}</tbody></table>'
    )


def layout_tables(plan: Plan) -> str:
    """What the layout crew needs besides levels: diagonals, offset stakes, footings beside the network.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        HTML, folded away.
    """
    system = plan.project.units
    diagonals = _facts(
        ("Part", "From", "To", "Diagonal"),
        [(d.part, d.start, d.end, Html(layout_number(d.length, system))) for d in plan.diagonals],
    )
    stakes = _facts(
        ("Offset stake", "Off the corner", "East", "North"),
        [
            (s.name, *(Html(layout_number(n, system)) for n in (s.offset, s.east, s.north)))
            for s in plan.stakes
        ],
    )
    extras = _facts(
        ("Footing", "Kind", "Bottom", "Held down by", "Size"),
        [
            (
                e.name,
                e.kind,
                Html(layout_number(e.bottom.level, system)),
                e.binds,
                f"{units.length(e.length, system)} × {units.length(e.width, system)} × "
                f"{units.length(e.thickness, system)}, {'sized by ' + e.sized_by if e.sized_by else 'unsized'}",
            )
            for e in plan.extras
        ],
    )
    shown = f"<h3>Pads, stoops, porch footings</h3>{extras}" if plan.extras else ""
    return (
        f"{shown}<details><summary>Layout: diagonals and offset stakes</summary><h3>Diagonals</h3>{diagonals}"
        f"<h3>Offset stakes, on the wall lines produced</h3>{stakes}</details>"
    )


class Html(str):
    """Text that is HTML already."""

    __slots__ = ()


def _facts(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    head = "".join(f'<th scope="col">{html.escape(text)}</th>' for text in heads)
    body = "".join(
        "<tr>"
        + "".join(f"<td>{cell if isinstance(cell, Html) else html.escape(cell)}</td>" for cell in row)
        + "</tr>"
        for row in rows
    )
    return f'<table class="facts"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def fall_table(plan: Plan) -> str:
    """How the finished ground falls away from each wall.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        HTML, empty without surveyed finished ground.
    """
    if not plan.falls:
        return ""
    system = plan.project.units
    rows = [
        (
            fall.line,
            f"{'falls' if fall.least >= 0 else 'rises'} {inches_or_metres(abs(fall.least), system)}",
            f"{units.length(fall.station, system)} from {fall.line.split('-')[0]}",
        )
        for fall in plan.falls
    ]
    reach = "10 ft" if system == "us" else "3.05 m"
    return f"<h2>Fall away from the walls</h2>{_facts(('Wall', f'Least fall in the first {reach}', 'Where'), rows)}"


SHOWN = (("bare concrete", "bare"), ("fill against it", "fill"), ("step up to the door", "door_step"))
"""What is told of each wall with the house at a level."""


def house_level_table(levels: Sequence[HouseLevel], system: str) -> str:
    """What setting the house higher or lower does to every wall.

    Parameters
    ----------
    levels : sequence of HouseLevel
        The settings, side by side.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """

    def short(metres: float | None) -> str:
        return "–" if metres is None else units.length(metres, system)

    volume = units.cubic_yards if system == "us" else (lambda v, places=0: f"{v:.{places}f} m³")
    heads = ("", *(f"{'+' if level.raised_by > 0 else ''}{short(level.raised_by)}" for level in levels))
    rows: list[tuple[str, ...]] = [
        (
            "Money, least cost",
            *(units.money(v.money, 10) if v.money is not None else "does not fit" for v in levels),
        ),
        ("Steps", *(str(v.steps) for v in levels)),
        ("Concrete", *(volume(v.concrete, 1) for v in levels)),
        ("Digging", *(volume(v.digging, 0) for v in levels)),
    ]
    names = next((level.walls for level in levels if level.walls), ())
    for index, wall in enumerate(names):
        for title, key in (
            ("bare concrete", "bare"),
            ("fill against it", "fill"),
            ("step up to the door", "door_step"),
        ):
            values = [getattr(level.walls[index], key) if level.walls else None for level in levels]
            if any(value is not None for value in values):
                rows.append((f"{wall.line}, most {title}", *(short(value) for value in values)))
    problems = "".join(f'<p class="wrong">{html.escape(v.problem)}</p>' for v in levels if v.problem)
    return f"<h2>Set the house higher or lower</h2>{_facts(heads, rows)}{problems}"


def surroundings_table(plan: Plan) -> str:
    """Drive, outlets, water against the house's levels, and headroom.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        HTML, empty when nothing was typed.
    """
    system, around = plan.project.units, plan.project.surroundings
    levels = (
        ("Street at the drive", around.street_level),
        ("Drive 10 ft from the door", around.drive_level),
        ("Sewer invert at the house", around.sewer_outlet),
        ("Footing drain at its low corner", around.drain_invert),
        ("Footing drain at daylight", around.drain_outlet),
        ("Highest ground water seen", around.water_level),
    )
    rows = [(name, Html(layout_number(level, system))) for name, level in levels if level is not None]
    rows += [
        (f"Headroom, {room.part}", Html(layout_number(room.height, system)))
        for room in plan.walls[plan.steppings[0].name].headrooms
    ]
    if not rows:
        return ""
    return f"<h2>Outlets, water, headroom</h2>{_facts(('What', 'Level or height'), rows)}"


HELD = {True: "held", False: "free"}


def wall_table(plan: Plan, answer: str) -> str:
    """Pieces of wall with their form panels, and the bare concrete that will show.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the answer.

    Returns
    -------
    str
        HTML, folded away.
    """
    system, walls = plan.project.units, plan.walls[answer]
    pieces = [
        (
            piece.line,
            Html(layout_number(piece.start, system)),
            Html(layout_number(piece.end, system)),
            Html(layout_number(piece.top, system)),
            Html(layout_number(piece.top - piece.bottom, system)),
            units.length(piece.thickness, system) if system == "metric" else units.inches(piece.thickness),
            " + ".join(units.length(panel, system) for panel in piece.panels),
            units.length(piece.filler, system) if piece.filler > 1e-4 else "–",
        )
        for piece in walls.pieces
    ]
    heads = ("Wall", "From", "To", "Top of concrete", "Height", "Thickness", "Panels, upward", "Filler")
    ledges = [
        (
            ledge.line,
            Html(layout_number(ledge.level, system)),
            *(
                inches_or_metres(value, system)
                for value in (ledge.wall, ledge.upper, ledge.foam, ledge.bearing, ledge.gap)
            ),
            "closes"
            if abs(ledge.remainder) < 1e-4
            else f"{inches_or_metres(ledge.remainder, system)} left over",
            "yes" if ledge.bypass else "no",
        )
        for ledge in walls.ledges
    ]
    ledge_heads = (
        "Wall",
        "Ledge at",
        "Wall below",
        "Wall above",
        "Foam",
        "Bearing",
        "Gap",
        "Sum",
        "Bare bypass",
    )
    fills = [
        (
            fill.line,
            units.length(float(fill.height.max()), system),
            *(
                f"top {'held' if stage.top else 'free'}, foot {'held' if stage.foot else 'free'}"
                for stage in fill.supports
            ),
        )
        for fill in walls.fills
    ]
    stages = [stage.stage for stage in walls.fills[0].supports] if walls.fills else []
    fill_heads = ("Wall", "Most unbalanced fill", *stages)
    openings = [
        (
            each.name,
            each.kind,
            each.line,
            *(Html(layout_number(value, system)) for value in (each.start, each.end, each.bottom, each.top)),
        )
        for each in walls.openings
    ]
    opening_heads = ("Opening", "Kind", "Wall", "From", "To", "Lower edge", "Upper edge")
    more = f"<h3>Fill against the walls, and what holds them</h3>{_facts(fill_heads, fills)}" if fills else ""
    more += (
        f"<h3>Openings, taken out of concrete and forms</h3>{_facts(opening_heads, openings)}"
        if openings
        else ""
    )
    more += f"<h3>Ledges</h3>{_facts(ledge_heads, ledges)}" if ledges else ""
    sizes = sorted({part.name for part in plan.project.parts if not part.sized_by})
    unsized = (
        f'<p class="quiet">Unsized, by engineer or office: {html.escape(", ".join(sizes))}.</p>'
        if sizes
        else ""
    )
    return (
        f"<details><summary>Walls and forms</summary>{unsized}<p>To outside of concrete.</p>"
        f"{_facts(heads, pieces)}{more}</details>"
    )
