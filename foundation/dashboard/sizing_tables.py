"""Cards and tables of the foam sizing as HTML."""

from __future__ import annotations

import html
from collections.abc import Sequence

from foundation import units
from foundation.dashboard.heat_tables import BTU, KWH, table, temperature
from foundation.drawings.foam_charts import NAMES
from foundation.model.sizing import Choice, FoamSet, FoamSizing, LaidFoam


def laid(foam: LaidFoam | None, system: str) -> str:
    """Foam of one place in words.

    Parameters
    ----------
    foam : LaidFoam or None
        The foam.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``2" XPS IV``.
    """
    if foam is None:
        return "none"
    thick = units.inches(foam.thickness) if system == "us" else units.millimetres(foam.thickness)
    return f"{thick} {foam.board}" + (f" in {foam.layers} layers" if foam.layers > 1 else "")


def _dollars(value: float) -> str:
    """Money to two figures, as it is estimated."""
    return f"${units.rounded(value)}" if value >= 0 else f"−${units.rounded(-value)}"


def _set(foam: FoamSet, system: str) -> str:
    lines = "".join(
        f"<dt>{name}</dt><dd>{html.escape(laid(foam.at(place), system))}</dd>"
        for place, name in NAMES.items()
    )
    return f"<dl>{lines}</dl>"


def choice_card(
    title: str, why: str, choice: Choice, sizing: FoamSizing, system: str, *, chosen: bool
) -> str:
    """One choice of foam as a card.

    Parameters
    ----------
    title : str
        Its name.
    why : str
        What it is for.
    choice : Choice
        The choice.
    sizing : FoamSizing
        The study it comes from.
    system : str
        ``us`` or ``metric``.
    chosen : bool
        Whether the project has this foam.

    Returns
    -------
    str
        HTML.
    """
    more = choice.first_cost - sizing.planned.first_cost
    than = "as planned" if abs(more) < 1 else f"{_dollars(more)} against the plan"
    energy = (
        f"{units.rounded(choice.yearly_heat / BTU / 1e6)} MMBtu"
        if system == "us"
        else f"{units.rounded(choice.yearly_heat / KWH)} kWh"
    )
    rows = (
        ("Foam", f"{_dollars(choice.first_cost)}, {than}"),
        ("Fuel a year", _dollars(choice.yearly_money)),
        ("Heat a year", energy),
        ("Over the years", _dollars(choice.life_cycle_cost)),
        ("Coldest floor", temperature(choice.floor_temperature, system)),
    )
    facts = "".join(f"<dt>{name}</dt><dd>{html.escape(value)}</dd>" for name, value in rows)
    return (
        f'<div class="card{" chosen" if chosen else ""}"><h3>{html.escape(title)}'
        f"{' <small>as planned</small>' if chosen and title != CHOICES[0][0] else ''}</h3>"
        f"<p class='quiet'>{html.escape(why)}</p><dl>{facts}</dl>{_set(choice.foam, system)}</div>"
    )


CHOICES = (
    ("as planned", "planned", "The project's own foam."),
    ("least first cost", "code_floor", "The least that the office's numbers allow."),
    ("least over the years", "least_cost", "Foam and fuel together cost least."),
    ("warmest", "warmest", "Least heat within 5 % of the least cost over the years."),
)


def choice_cards(sizing: FoamSizing, system: str) -> list[tuple[str, Choice, str]]:
    """The choices of a sizing, each with its card.

    Parameters
    ----------
    sizing : FoamSizing
        The study.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    list of tuple
        Title, choice and HTML of its card.
    """
    found = []
    for title, name, why in CHOICES:
        choice: Choice = getattr(sizing, name)
        same = choice.foam == sizing.planned.foam
        found.append((title, choice, choice_card(title, why, choice, sizing, system, chosen=same)))
    return found


def scenario_table(sizing: FoamSizing, system: str) -> str:
    """The best foam for each soil and fuel.

    Parameters
    ----------
    sizing : FoamSizing
        The study.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    heads = ["Soil conducts", "Fuel's price rises", *(name.capitalize() for name in NAMES.values())]
    heads += ["Foam", "Over the years"]
    rows = [
        [
            each.soil,
            each.fuel,
            *(html.escape(laid(each.choice.foam.at(place), system)) for place in NAMES),
            _dollars(each.choice.first_cost),
            _dollars(each.choice.life_cycle_cost),
        ]
        for each in sizing.scenarios
    ]
    return table(heads, rows, "Least over the years, for each soil and each rise of the fuel's price.")


def _percent(value: float, other: float) -> str:
    """One number over another, less 1, in whole percent."""
    if not other:
        return "–"
    over = round((value / other - 1) * 100)
    return f"{over:+d} %" if over else "none"


def season_table(choices: Sequence[tuple[str, Choice]], system: str) -> str:
    """Heat by season beside heat by degree days, where the two differ.

    Parameters
    ----------
    choices : sequence of tuple of str and Choice
        Choices with their names.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    factor, unit = (1 / BTU / 1e6, "MMBtu") if system == "us" else (1 / KWH, "kWh")
    rows = [
        [
            html.escape(name),
            units.rounded(choice.yearly_heat * factor),
            units.rounded(choice.degree_day_heat * factor),
            f"{(choice.degree_day_heat / choice.yearly_heat - 1) * 100:+.0f} %"
            if choice.yearly_heat
            else "–",
        ]
        for name, choice in choices
    ]
    heads = ["Foam", f"By season, {unit}", f"By degree days alone, {unit}", "Difference"]
    return table(
        heads,
        rows,
        "Degree days fit what faces air; the middle of a floor follows the yearly mean.",
    )


def sizing_notes(sizing: FoamSizing, system: str) -> str:
    """What the study did, what it assumed, and what the model code asks for.

    Parameters
    ----------
    sizing : FoamSizing
        The study.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    hint = ""
    if sizing.hint is not None:
        asked = sizing.hint
        hint = (
            f"<p>In climate zone {html.escape(asked.zone)} the model code asks for "
            f"{units.write(asked.edge, 'resistance', system)} at the slab's edge, "
            f"{units.length(asked.edge_depth, system)} far, and {units.write(asked.wall, 'resistance', system)} on "
            f"basement walls ({html.escape(asked.source)}). A hint only: ask your office.</p>"
        )
    assumed = "".join(f"<li>{html.escape(sentence)}</li>" for sentence in sizing.assumed)
    quoted = (
        ""
        if sizing.quoted
        else "<p>▲ Some prices have no quote with a day: no client sees this money yet.</p>"
    )
    return (
        f"{quoted}{hint}<details><summary>About these numbers</summary><p>{sizing.considered:,} sets of stock "
        f"boards are allowed; {sizing.compared:,} were compared on {sizing.representatives} sections that stand "
        f"for the house within {sizing.representation_error * 100:.1f} %, {sizing.solved:,} solves in all.</p>"
        f"<ul>{assumed}</ul></details>"
    )
