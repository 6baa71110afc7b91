"""Tables and lists of a page as HTML: everything a user typed is escaped here."""

from __future__ import annotations

import html
import math
from collections.abc import Sequence

from foundation import units
from foundation.dashboard.fields import shown
from foundation.drawings.profile import binding_text
from foundation.handover.as_text import caution_text, initialled, place_text
from foundation.model.caution import Caution, Severity
from foundation.model.levels import Reading
from foundation.model.walls import Stepping
from foundation.plan import Plan

SHAPES = {Severity.STOP: "■", Severity.WARN: "◧", Severity.NOTE: "□"}


def layout_number(metres: float, system: str) -> str:
    """A layout number: feet, inches and sixteenths with the decimal feet small beside it.

    Parameters
    ----------
    metres : float
        Length or level. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    if math.isnan(metres):
        return "–"
    if system == "metric":
        return html.escape(units.metres(metres))
    return f"{html.escape(units.feet_inches(metres))} <small>{units.decimal_feet(metres)}</small>"


def schedule_table(plan: Plan, stepping: Stepping) -> str:
    """The schedule of an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.

    Returns
    -------
    str
        HTML table; every cell names its column for narrow screens.
    """
    system, book = plan.project.units, plan.level_book
    heads = ["Wall", "From", "To", "Bottom of footing", "Top of footing", "Wall height", "Least frost cover"]
    if book.benchmark:
        heads.append(f"Below {book.benchmark}")
    if book.set_ups:
        heads.append("Rod today")
    heads += ["Held down by", "Step at its end"]
    # What hangs on a size that nobody typed is marked where it shows.
    for head, keys in (("Top of footing", ("footing_thickness",)), ("Wall height", ("footing_thickness",))):
        if assumed(plan, *keys):
            heads[heads.index(head)] = f"{head} ▲"
    rows = []
    for row in plan.schedules[stepping.name]:
        start = row.line.split("-")[0]
        cells = [
            f"<b>{html.escape(row.line)}</b>",
            f"{layout_number(row.start, system)}",
            f"{layout_number(row.end, system)}",
            f"<b>{layout_number(row.bottom.level, system)}</b>",
            layout_number(row.top.level, system),
            layout_number(row.wall_height, system),
            "–" if math.isnan(row.least_cover) else html.escape(inches_or_metres(row.least_cover, system)),
        ]
        if book.benchmark:
            cells.append(layout_number(row.bottom.below_benchmark, system))
        if book.set_ups:
            cells.append(rod_text(row.bottom, system))
        binds = html.escape(binding_text(row, system))
        if binds != html.escape(row.binds):  # it bites at a station
            binds += f" from {html.escape(start)}"
        step = "–"
        if row.step is not None:
            way = "up" if row.rise > 0 else "down"
            step = f"{row.step}: {way} {html.escape(units.length(abs(row.rise), system))}"
        cells += [binds, step]
        rows.append(
            "<tr>"
            + "".join(
                f'<td data-head="{html.escape(head)}">{cell}</td>'
                for head, cell in zip(heads, cells, strict=True)
            )
            + "</tr>"
        )
    head = "".join(f'<th scope="col">{html.escape(text)}</th>' for text in heads)
    caption = "Stations from the wall's first-named corner, outside face of concrete."
    return (
        f'<table class="schedule"><caption>{caption}</caption><thead><tr>{head}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>"
    )


def assumed(plan: Plan, *keys: str) -> str:
    """The mark of what rests on an assumption.

    Parameters
    ----------
    plan : Plan
        The plan.
    *keys : str
        Last keys of the fields that a number rests on, or tables they stand in.

    Returns
    -------
    str
        " ▲" when any of them was assumed, else "".
    """
    places = [assumption.place for assumption in plan.assumptions]
    return " ▲" if any(set(place.replace("[", ".").split(".")) & set(keys) for place in places) else ""


def assumption_list(plan: Plan) -> str:
    """What was not typed, with what is taken and why.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    str
        HTML, folded away; empty when everything was typed.
    """
    if not plan.assumptions:
        return ""
    rows = []
    for each in plan.assumptions:
        value = html.escape(shown(each.value, each.kind, plan.project.units))
        rows.append(
            f"<li>▲ {html.escape(each.description)} <b>{value}</b> <small>{html.escape(each.why)}</small></li>"
        )
    count = f"{len(rows)} value{'s' if len(rows) > 1 else ''} assumed, not typed"
    return f"<details><summary>▲ {count}</summary><ul>{''.join(rows)}</ul></details>"


def inches_or_metres(metres: float, system: str) -> str:
    """A short length as the trade reads it.

    Parameters
    ----------
    metres : float
        Length. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Inches, or metres.
    """
    return units.inches(metres) if system == "us" else units.metres(metres)


def rod_text(reading: Reading, system: str) -> str:
    """The rod for a level, with the set-up that reads it.

    Parameters
    ----------
    reading : Reading
        The level.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    if reading.rod is None:
        return "–"
    flag = " <b>rod too short</b>" if reading.too_long else ""
    return f"{layout_number(reading.rod, system)} <small>{html.escape(reading.set_up)}</small>{flag}"


def caution_entry(plan: Plan, caution: Caution) -> str:
    """One caution with its rule and who decides.

    Parameters
    ----------
    plan : Plan
        The plan.
    caution : Caution
        The caution.

    Returns
    -------
    str
        HTML.
    """
    system = plan.project.units
    read = initialled(caution, plan.project)
    by = f" Read by {html.escape(read.who)}, {read.date.isoformat()}." if read else ""
    rule = html.escape(f"{caution.trap.rule} Decides: {caution.trap.decides}.")
    word = caution.trap.severity.name
    return (
        f'<div class="caution {word.lower()}"><b class="mark">{SHAPES[caution.trap.severity]} {word}</b>'
        f"<div><b>{html.escape(place_text(caution, system))}</b> {html.escape(caution_text(caution, system))}"
        f'<p class="rule">{rule}{by}</p></div></div>'
    )


def cautions_below(plan: Plan, cautions: Sequence[Caution]) -> str:
    """The cautions after the first few, folded away.

    Parameters
    ----------
    plan : Plan
        The plan.
    cautions : sequence of Caution
        What is left to show.

    Returns
    -------
    str
        HTML, empty when nothing is left.
    """
    if not cautions:
        return ""
    entries = "".join(caution_entry(plan, caution) for caution in cautions)
    return f"<details><summary>{len(cautions)} more</summary>{entries}</details>"


def answer_card(plan: Plan, stepping: Stepping, *, chosen: bool) -> str:
    """One answer as a card.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer.
    chosen : bool
        Whether it is the one that is shown.

    Returns
    -------
    str
        HTML.
    """
    quantities, system = stepping.quantities, plan.project.units
    cheapest = min(each.quantities.money for each in plan.steppings)
    more = quantities.money - cheapest
    beside = "the least" if more < 5 else f"{units.money(more, 10)} more"
    twin = next(
        (each.name for each in plan.steppings if each.name != stepping.name and same_levels(each, stepping)),
        None,
    )
    volume = units.cubic_yards if system == "us" else (lambda v, places=2: f"{v:.{places}f} m³")
    rows = [
        ("Steps", f"{quantities.steps}{assumed(plan, 'rules')}"),
        ("Concrete", volume(quantities.concrete, 1) + assumed(plan, *SIZES)),
        ("Forms", units.write(round(quantities.forms / AREA[system]) * AREA[system], "area", system)),
        ("Digging", volume(quantities.digging, 0)),
        ("Fillers along", units.length(quantities.filler, system)),
    ]
    lines = "".join(f"<dt>{name}</dt><dd>{html.escape(text)}</dd>" for name, text in rows)
    return (
        f'<div class="card{" chosen" if chosen else ""}"><h3>{stepping.name.capitalize()}'
        f"{' <small>shown</small>' if chosen else ''}</h3>"
        f'<p class="big">{units.money(quantities.money, 10)}{assumed(plan, "prices")}</p><p class="quiet">{beside}'
        f"{f'; same levels as {twin}' if twin else ''}</p><dl>{lines}</dl></div>"
    )


SIZES = ("wall_thickness", "footing_width", "footing_thickness")
AREA = {"us": 0.3048**2, "metric": 1.0}


def same_levels(first: Stepping, second: Stepping) -> bool:
    """Whether two answers have the same levels.

    Parameters
    ----------
    first, second : Stepping
        The answers.

    Returns
    -------
    bool
        True when no cell differs.
    """
    return all(abs(bottom - second.bottoms[name]).max() < 1e-6 for name, bottom in first.bottoms.items())
