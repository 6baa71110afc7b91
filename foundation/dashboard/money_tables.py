"""Tables of counting, choosing and handing over as HTML."""

from __future__ import annotations

import html
import math
from collections.abc import Sequence

from foundation import units
from foundation.dashboard.heat_tables import table, temperature
from foundation.handover.as_text import amount_text
from foundation.model.as_built import SOUND, AsBuiltPlan
from foundation.model.heat import Band
from foundation.model.options import ChangeOrder, Comparison, OptionFigures, OptionResult, Payback
from foundation.model.takeoff import Item, TakeOff


def dollars(value: float) -> str:
    """Money to ten dollars.

    Parameters
    ----------
    value : float
        The sum. [$]

    Returns
    -------
    str
        With its sign.
    """
    return units.money(value, 10)


def money_band(band: Band) -> str:
    """Money with its band.

    Parameters
    ----------
    band : Band
        The sum. [$]

    Returns
    -------
    str
        HTML.
    """
    low, likely, high = (dollars(value) for value in (band.low, band.likely, band.high))
    return likely if low == high else f"{likely} <small>{low} to {high}</small>"


def _drawn(item: Item, system: str) -> str:
    if item.kind == "volume" and system == "us":
        return units.cubic_yards(item.quantity)
    if item.kind == "mass":
        return f"{item.quantity / 0.45359237:,.0f} lb" if system == "us" else f"{item.quantity:,.0f} kg"
    if item.kind == "number":
        return f"{item.quantity:,.0f}"
    if item.kind == "length":
        return f"{item.quantity / 0.3048:,.0f} ft" if system == "us" else f"{item.quantity:,.1f} m"
    return units.write(item.quantity, item.kind, system)


def count_table(count: TakeOff, group: str, system: str) -> str:
    """Lines of one group of the count; each opens its formula and the pieces that it sums.

    Parameters
    ----------
    count : TakeOff
        The count.
    group : str
        The group.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    rows = []
    for item in count.items:
        if item.group != group:
            continue
        pieces = "".join(
            f"<li>{html.escape(piece.name)}: {html.escape(piece.formula)}</li>" for piece in item.pieces
        )
        what = (
            f"<details><summary>{html.escape(item.what)}</summary><p>{html.escape(item.formula)}</p>"
            f"<ul>{pieces}</ul></details>"
        )
        quote = (
            "quoted" if item.quoted and not item.stale else "◧ stale quote" if item.quoted else "▲ no quote"
        )
        rows.append(
            [
                what,
                html.escape(_drawn(item, system)),
                f"<b>{html.escape(item.order_words)}</b>",
                money_band(item.money),
                f"{quote}, {html.escape(item.source)}" if item.source else quote,
            ]
        )
    if not rows:
        return ""
    heads = ["What", "As drawn", "Order", "Money", "Price"]
    return f"<h3>{html.escape(group.capitalize())}</h3>" + table(heads, rows, "", ("Price",))


def count_tables(count: TakeOff, system: str) -> str:
    """The whole count with its total.

    Parameters
    ----------
    count : TakeOff
        The count.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    groups = dict.fromkeys(item.group for item in count.items)
    notes = "".join(f"<li>{html.escape(note)}</li>" for note in count.notes)
    return (
        f"<p class='total'>All of it: <b>{money_band(count.money)}</b></p>"
        + "".join(count_table(count, group, system) for group in groups)
        + (f"<h3>What the count leaves out or assumes</h3><ul>{notes}</ul>" if notes else "")
    )


def pour_table(count: TakeOff, system: str) -> str:
    """The pours in the order of the work.

    Parameters
    ----------
    count : TakeOff
        The count.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """

    def volume(value: float) -> str:
        return units.cubic_yards(value) if system == "us" else f"{value:.2f} m³"

    rows = [
        [
            f"<b>{html.escape(pour.name)}</b>",
            html.escape(pour.state),
            volume(pour.concrete),
            f"<b>{volume(pour.order)}</b>",
            str(pour.trucks),
            "–" if math.isnan(pour.hours) else f"{pour.hours:.1f} h",
            html.escape(pour.mix or "mix by office and plant"),
        ]
        for pour in count.pours
    ]
    heads = ["Pour", "State", "As drawn", "Order", "Trucks", "Time at the rise rate", "Mix"]
    return table(heads, rows, "Concrete is ordered up to the next quarter yard.", ("State", "Mix"))


def payback_words(payback: Payback) -> str:
    """A payback as a range.

    Parameters
    ----------
    payback : Payback
        The payback.

    Returns
    -------
    str
        Such as ``8 to 21 years``.
    """
    if payback.kind in ("no difference", "at once", "never"):
        return payback.kind

    def years(value: float) -> str:
        return "never" if math.isinf(value) else f"{value:.0f}"

    soonest, latest = years(payback.soonest), years(payback.latest)
    told = f"{soonest} years" if soonest == latest else f"{soonest} to {latest} years"
    told = told.replace("to never years", "years to never")
    return f"saving used up in {told}" if payback.kind == "eaten up" else told


def comparison_table(comparison: Comparison, system: str) -> str:
    """Options beside the project, on one baseline.

    Parameters
    ----------
    comparison : Comparison
        The comparison.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML: one column for each option.
    """
    all_ones: Sequence[OptionResult] = (comparison.base, *comparison.options)

    def volume(value: float) -> str:
        return units.cubic_yards(value) if system == "us" else f"{value:.2f} m³"

    def load(figures: OptionFigures) -> str:
        if figures.heat is None or figures.heat.design_load is None:
            return "–"
        watts = figures.heat.design_load.likely
        return f"{units.rounded(watts / 0.29307107)} Btu/h" if system == "us" else f"{units.rounded(watts)} W"

    lines: list[tuple[str, list[str]]] = []

    def line(name: str, value) -> None:  # type: ignore[no-untyped-def]
        lines.append(
            (
                name,
                [value(each.figures) if each.figures is not None else "cannot be built" for each in all_ones],
            )
        )

    line("First cost", lambda f: money_band(f.first_cost))
    line("Added cost", lambda f: money_band(f.added_cost))
    line("Fuel a year", lambda f: money_band(f.fuel.yearly) if f.fuel else "–")
    line("Fuel a month", lambda f: money_band(f.fuel.a_month) if f.fuel else "–")
    line(f"Over {comparison.years} years", lambda f: money_band(f.fuel.over_years) if f.fuel else "–")
    line("Loan payment a month", lambda f: money_band(f.loan_payment))
    line("Payback", lambda f: html.escape(payback_words(f.fuel.payback)) if f.fuel else "–")
    line("Coldest floor", lambda f: temperature(f.heat.floor_temperature, system) if f.heat else "–")
    line("Through the ground, design day", load)
    line("Steps", lambda f: str(f.steps))
    line("Concrete to order", lambda f: volume(f.concrete_order))
    line("Cautions", lambda f: f"{f.cautions.stops} STOP, {f.cautions.warns} WARN, {f.cautions.notes} NOTE")
    heads = ["", *(each.name for each in all_ones)]
    rows = [[f"<b>{html.escape(name)}</b>", *cells] for name, cells in lines]
    notes = "".join(f"<li>{html.escape(note)}</li>" for note in comparison.notes)
    return table(heads, rows, "Small: low to high.") + (f"<ul>{notes}</ul>" if notes else "")


def change_table(order: ChangeOrder, system: str) -> str:
    """A change order: what changed, what it takes, what is refused.

    Parameters
    ----------
    order : ChangeOrder
        The change order.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    if not order.fields and not order.survey_changed:
        return "<p>Nothing differs.</p>"
    refused = "".join(f'<p class="wrong">■ {html.escape(p.sentence)}</p>' for p in order.refused)
    ordered = "".join(f'<p class="notice">◧ {html.escape(p.sentence)}</p>' for p in order.ordered)
    fields = table(
        ["What", "Before", "After"],
        [
            [html.escape(f.label), html.escape(f.before or "–"), html.escape(f.after or "–")]
            for f in order.fields
        ],
        "What was typed otherwise.",
        ("Before", "After"),
    )

    def amount(value: float, kind: str) -> str:
        if kind == "number":
            return f"{value:,.0f}"
        if kind == "volume" and system == "us":
            return units.cubic_yards(value)
        if kind == "length":
            return f"{value / 0.3048:,.0f} ft" if system == "us" else f"{value:,.1f} m"
        return units.write(value, kind, system)

    totals = table(
        ["", "Before", "After", "Money"],
        [
            [
                f"<b>{html.escape(t.name)}</b>",
                amount(t.before, t.kind),
                amount(t.after, t.kind),
                money_band(t.money),
            ]
            for t in order.totals
        ],
        f"The change costs {html.unescape(dollars(order.money.likely))}.",
    )
    return refused + ordered + totals + fields


def as_built_table(built: AsBuiltPlan, system: str) -> str:
    """Levels as built against the plan.

    Parameters
    ----------
    built : AsBuiltPlan
        The levels.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    problems = "".join(f'<p class="wrong">{html.escape(p.sentence)}</p>' for p in built.problems)
    if not built.rows:
        return problems or "<p>No level as built is typed or read yet.</p>"
    rows = []
    for row in built.rows:
        amounts = {name: amount_text(each, system) for name, each in row.amounts.items()}
        mark = "" if row.verdict in SOUND else "■ "
        where = row.line if math.isnan(row.station) else f"{row.line} {units.length(row.station, system)}"
        rows.append(
            [
                f"<b>{html.escape(row.what)}</b>",
                html.escape(where or row.part),
                html.escape(units.length(row.target, system)),
                html.escape(units.length(row.actual, system)),
                html.escape(units.length(row.difference, system)),
                f"{mark}{html.escape(row.sentence.format_map(amounts))}",
            ]
        )
    heads = ["What", "Where", "Target", "As built", "Difference", "Verdict"]
    words = ("Where", "Verdict")
    return problems + table(heads, rows, "Tolerances by ACI 117; frost cover is looked at again.", words)
