"""The client's cards and bars as HTML, in everyday words; every number is rounded as on the working pages."""

from __future__ import annotations

import html
import math

from foundation.dashboard.heat_tables import KWH, inside, temperature
from foundation.dashboard.money_tables import dollars, payback_words
from foundation.drawings.money_charts import options_chart
from foundation.model.heat import Band
from foundation.model.options import Comparison, OptionFigures, OptionHeat, OptionResult
from foundation.project.options import BASE
from foundation.units import rounded

CARDS = 3
"""With fewer choices the plan as it stands has a card too. [-]"""
MADE = ("Good", "Better", "Best")
"""What the choices will be called that are made from the foam sizing."""
PAYS = {
    "no difference": "Costs and saves the same as planned.",
    "at once": "Pays for itself <b>at once</b>.",
    "never": "<b>Never</b> pays for itself.",
}
"""Paybacks without years."""


def shown_on_cards(comparison: Comparison) -> tuple[OptionResult, ...]:
    """The choices that have a card.

    Parameters
    ----------
    comparison : Comparison
        The choices.

    Returns
    -------
    tuple of OptionResult
        All of them, after the plan as it stands where they are few.
    """
    options = comparison.options
    return options if len(options) >= CARDS else (comparison.base, *options)


def cards(comparison: Comparison, system: str) -> str:
    """All cards.

    Parameters
    ----------
    comparison : Comparison
        The choices.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    made = "".join(choice_card(each, comparison, system) for each in shown_on_cards(comparison))
    return f'<div class="client-cards">{made}</div>'


def waiting_cards(names: tuple[str, ...]) -> str:
    """Cards that hold the place of numbers to come.

    Parameters
    ----------
    names : tuple of str
        Names of the choices.

    Returns
    -------
    str
        HTML.
    """
    made = "".join(
        f'<div class="client-card"><h2>{_head(name)}</h2>{big("…", "floor")}{big("…", "a month")}</div>'
        for name in names
    )
    return f'<div class="client-cards waiting">{made}</div>'


def waiting_part(heading: str, kind: str) -> str:
    """A part of the screen that holds the place of what is still worked out.

    Parameters
    ----------
    heading : str
        Its heading.
    kind : str
        What will be there: ``heat`` or ``cost``.

    Returns
    -------
    str
        HTML.
    """
    return f'<div class="waiting-part {kind}"><h2>{html.escape(heading)}</h2><p>…</p></div>'


def choice_card(option: OptionResult, comparison: Comparison, system: str) -> str:
    """One choice.

    Parameters
    ----------
    option : OptionResult
        The choice.
    comparison : Comparison
        Where it stands.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    is_base = option.name == BASE
    why = option.why or ("The plan as it stands." if is_base else "")
    head = f"<h2>{_head(option.name)}</h2><p>{html.escape(why)}</p>"
    figures = option.figures
    if figures is None:
        return f'<div class="client-card">{head}<p><b>It cannot be built as it stands.</b></p></div>'
    numbers = figure_numbers(figures, comparison, system)
    if comparison.quoted:
        numbers += big(dollars(figures.first_cost.likely), f"to build{_range(figures.first_cost)}")
        numbers += "" if is_base else f"<p>{_added(figures.added_cost)}</p><p>{_payback(figures)}</p>"
    return f'<div class="client-card">{head}{numbers}</div>'


def figure_numbers(figures: OptionFigures, comparison: Comparison, system: str) -> str:
    """How warm, and what it takes a month: money where prices are quoted, else heat.

    Parameters
    ----------
    figures : OptionFigures
        What a choice comes to.
    comparison : Comparison
        Where the plan as it stands is, and whether money may be shown.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    if figures.heat is None:
        return "<p>How warm it will be is not known yet: the builder still has to enter how cold it gets here.</p>"
    heat = figures.heat
    floor = big(
        temperature(heat.floor_temperature, system),
        f"the coldest floor of the {html.escape(heat.floor_part)}, {inside(system)} inside the wall",
    )
    if comparison.quoted and figures.fuel is not None:
        month = figures.fuel.a_month
        return floor + big(dollars(month.likely), f"a month for heat lost below{_range(month)}")
    return floor + big(
        rounded(heat.yearly.likely / 12 / KWH), f"kWh a month of heat lost below{_less(heat, comparison)}"
    )


def ladder_numbers(figures: OptionFigures, comparison: Comparison, system: str) -> str:
    """What the slider stands for.

    Parameters
    ----------
    figures : OptionFigures
        What the house comes to with its foam.
    comparison : Comparison
        The choices.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    added = f'<p class="added">{_added(figures.added_cost)}</p>' if comparison.quoted else ""
    return f'<div class="client-numbers">{figure_numbers(figures, comparison, system)}{added}</div>'


def big(number: str, words: str) -> str:
    """A number that is read from the sofa.

    Parameters
    ----------
    number : str
        The number with its unit.
    words : str
        What it is, as HTML.

    Returns
    -------
    str
        HTML.
    """
    number = html.escape(number).replace(" ", "\N{NO-BREAK SPACE}")
    return f'<div class="big"><span class="number">{number}</span><span>{words}</span></div>'


def _head(name: str) -> str:
    return html.escape(name[:1].upper() + name[1:])


def _range(band: Band) -> str:
    low, high = dollars(band.low), dollars(band.high)
    return f" ({low} to {high})" if low != high else ""


def _more(value: float) -> str:
    """Money beside the plan, in words: ``$890 less``."""
    return f"{dollars(value).lstrip('-')} {'less' if dollars(value).startswith('-') else 'more'}"


def _added(band: Band) -> str:
    if dollars(band.low) == dollars(band.high) == "$0":
        return "Costs the same to build as planned."
    told = f"<b>{_more(band.likely)}</b> to build than planned"
    return (
        f"{told} ({_more(band.low)} to {_more(band.high)})."
        if dollars(band.low) != dollars(band.high)
        else f"{told}."
    )


def _payback(figures: OptionFigures) -> str:
    if figures.fuel is None:
        return ""
    payback = figures.fuel.payback
    if payback.kind in PAYS:
        return PAYS[payback.kind]
    years = payback_words(payback)
    return f"{years.capitalize()}." if payback.kind == "eaten up" else f"Pays for itself in <b>{years}</b>."


def _less(heat: OptionHeat, comparison: Comparison) -> str:
    """How much less heat than planned, in whole percent; nothing to say for the plan itself."""
    base = comparison.base.figures
    if base is None or base.heat is None or not base.heat.yearly.likely:
        return ""
    share = round((heat.yearly.likely / base.heat.yearly.likely - 1) * 100)
    return f", {abs(share)} % {'more' if share > 0 else 'less'} than planned" if share else ""


def cost_bars(comparison: Comparison) -> str:
    """What each choice costs over the years, or the heat it loses while no money may be shown.

    Parameters
    ----------
    comparison : Comparison
        The choices.

    Returns
    -------
    str
        HTML: stacked bars in one row each; "" where there is nothing to compare.
    """
    chart = options_chart(comparison) if comparison.quoted else None
    if chart is None:
        return _heat_bars(comparison)
    # The chart of the working page, in large type.
    build, fuel = (bars.y for bars in chart.bars)
    totals = {
        each.name: each.figures.fuel.over_years.likely
        for each in (comparison.base, *comparison.options)
        if each.figures is not None and each.figures.fuel is not None
    }
    most = max(one + other for one, other in zip(build, fuel, strict=True))
    rows = "".join(
        _bar(
            name,
            dollars(totals[name]),
            f"{chart.y.text(one)} to build, {chart.y.text(other)} for heat",
            (("build", one / most), ("fuel", other / most)),
        )
        for name, one, other in zip(chart.x.names, build, fuel, strict=True)
    )
    title = chart.title[:1].upper() + chart.title[1:]
    return (
        f"<h2>{html.escape(title)}</h2>{rows}<p><span class='bar-key build'></span> to build "
        f"<span class='bar-key fuel'></span> for heat over {comparison.years} years, in today's money</p>"
    )


def _heat_bars(comparison: Comparison) -> str:
    found = [
        (each.name, each.figures.heat.yearly.likely / KWH)
        for each in (comparison.base, *comparison.options)
        if each.figures is not None and each.figures.heat is not None
    ]
    if not found or not max(heat for _, heat in found) > 0:
        return ""
    most, least = (pick(found, key=lambda pair: pair[1]) for pick in (max, min))
    rows = "".join(
        _bar(name, f"{rounded(heat)} kWh", "", (("fuel", max(heat, 0.0) / most[1]),)) for name, heat in found
    )
    title = f"{least[0]} loses the least heat, {rounded(least[1])} kWh a winter"
    return (
        f"<h2>{html.escape(title[:1].upper() + title[1:])}</h2>{rows}"
        "<p>Money is left off until one price and the fuel are confirmed.</p>"
    )


def _bar(name: str, total: str, words: str, shares: tuple[tuple[str, float], ...]) -> str:
    pieces = "".join(
        f'<span class="{kind}" style="width:{100 * share:.2f}%"></span>'
        for kind, share in shares
        if math.isfinite(share)
    )
    more = f" <span>{html.escape(words)}</span>" if words else ""
    return (
        f'<div class="bar-row"><p><b>{html.escape(name)}</b> {html.escape(total)}{more}</p>'
        f'<div class="bar" aria-hidden="true">{pieces}</div></div>'
    )
