"""Tables of frost at the footing as HTML: the design winter, and the shallow footing that foam protects."""

from __future__ import annotations

import html
import math

from foundation import units
from foundation.dashboard.heat_tables import temperature
from foundation.model.winter import DesignWinter, ShallowAlternative


def winter_facts(winter: DesignWinter, system: str) -> str:
    """What a design winter freezes, and what it was computed with.

    Parameters
    ----------
    winter : DesignWinter
        The winter.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    away = "–"
    if math.isfinite(winter.distance):
        away = "<b>◧ reaches it</b>" if winter.reaches else _rough(winter.distance, system)
    rows = "".join(
        f"<tr><th scope='row'>{name}</th><td>{value}</td></tr>"
        for name, value in (
            ("Frost beside the house", _rough(winter.depth, system) if winter.depth > 0 else "none"),
            ("Coldest at the footing's bottom", temperature(winter.under, system)),
            ("Frost stays from that bottom by", away),
            ("Coldest air outdoors", temperature(winter.coldest, system)),
        )
    )
    air = "nobody heats inside" if winter.inside is None else f"{temperature(winter.inside, system)} inside"
    return (
        f'<table class="facts numbers">{rows}</table><details><summary>About these numbers</summary>'
        f"<p>Ground that freezes and thaws in two dimensions, over one winter of "
        f"{units.write(winter.index, 'degree_days', system)} of frost in the air; bare ground takes "
        f"{winter.surface:.2f} of it, and {air}. {winter.cells:,} cells, {winter.steps:,} steps, heat balance closed "
        f"to {winter.imbalance:.0e}. The frost depth that holds is the office's.</p></details>"
    )


def _rough(length: float, system: str) -> str:
    """A length as sure as a computed frost depth is: whole inches or centimetres."""
    return units.inches(length, 1) if system == "us" else f"{length * 100:.0f} cm"


def shallow_table(alternative: ShallowAlternative, system: str) -> str:
    """What a shallow footing costs beside the deepened one, and how cold it stays.

    Parameters
    ----------
    alternative : ShallowAlternative
        The alternative, which has a design.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.

    Raises
    ------
    ValueError
        If there is no design.
    """
    design = alternative.design
    if design is None:
        raise ValueError(f"There is no shallow footing along wall {alternative.line} to show.")
    cost = design.cost
    money = (
        ("Footing and wall as planned", cost.deepened),
        ("Footing and wall, shallow", cost.shallow),
        ("Foam beyond the planned", cost.foam),
        ("Steps of the other walls", cost.elsewhere),
        ("Saved", cost.saving),
    )
    rows = "".join(f"<tr><th scope='row'>{name}</th><td>{_ten(value)}</td></tr>" for name, value in money)
    spans = "; ".join(
        f"{units.length(start, system)} to {units.length(end, system)}" for start, end in design.stretches
    )
    low, likely, high = (
        temperature(value, system) for value in (design.under.low, design.under.likely, design.under.high)
    )
    facts = (
        f"<p>At {html.escape(spans)}. Coldest at its bottom in the design winter {likely}, {low} to {high} from soil "
        "to soil.</p>"
    )
    caption = f"Wall {html.escape(alternative.line)}, shallow beside deep; prices as on the footings page."
    return f'<table class="facts numbers"><caption>{caption}</caption>{rows}</table>{facts}'


def _ten(value: float) -> str:
    """Money to ten dollars."""
    dollars = 10 * round(value / 10)
    return f"−${-dollars:,.0f}" if dollars < 0 else f"${dollars:,.0f}"
