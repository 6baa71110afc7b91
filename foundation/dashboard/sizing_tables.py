"""Cards and tables of the foam sizing as HTML."""

from __future__ import annotations

import html
from collections.abc import Sequence

from foundation import units
from foundation.dashboard.heat_tables import BTU, KWH, inside, table, temperature
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


def _dollars(value: float, plus: str = "") -> str:
    """Money to two figures, as it is estimated."""
    return f"{plus}${units.rounded(value)}" if value >= 0 else f"−${units.rounded(-value)}"


def _set(foam: FoamSet, system: str) -> str:
    lines = "".join(
        f"<dt>{name}</dt><dd>{html.escape(laid(foam.at(place), system))}</dd>"
        for place, name in NAMES.items()
    )
    return f"<dl>{lines}</dl>"


def choice_card(title: str, why: str, choice: Choice, sizing: FoamSizing, system: str, tag: str) -> str:
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
    tag : str
        What stands beside the name of the foam that the project has, "" for any other.

    Returns
    -------
    str
        HTML.
    """
    more = choice.first_cost - sizing.planned.first_cost
    energy = (
        f"{units.rounded(choice.yearly_heat / BTU / 1e6)} MMBtu"
        if system == "us"
        else f"{units.rounded(choice.yearly_heat / KWH)} kWh"
    )
    rows = (
        ("First cost", _dollars(choice.first_cost)),
        ("Against the plan", _dollars(more, "+") if abs(more) >= 1 else "–"),
        ("Fuel a year", _dollars(choice.yearly_money)),
        ("Heat a year", energy),
        ("Over the years", _dollars(choice.life_cycle_cost)),
        (f"Floor {inside(system)} inside, coldest", temperature(choice.floor_temperature, system)),
    )
    facts = "".join(f"<dt>{name}</dt><dd>{html.escape(value)}</dd>" for name, value in rows)
    mark = f" <small>{html.escape(tag)}</small>" if tag and tag != title else ""
    return (
        f'<div class="card{" chosen" if tag else ""}"><h3>{html.escape(title)}{mark}</h3>'
        f"<p class='quiet'>{html.escape(why)}</p>"
        f"<dl>{facts}</dl>{_set(choice.foam, system)}</div>"
    )


CHOICES = (
    ("As planned", "planned", "The project's own foam."),
    ("Least first cost", "code_floor", "The least that the office's numbers allow."),
    ("Least over the years", "least_cost", "Foam and fuel together cost least."),
    ("Warmest", "warmest", "Least heat within 5 % of the least cost over the years."),
)
"""Title, name in the sizing and purpose of each choice."""


def choice_cards(sizing: FoamSizing, system: str, taken: int | None = None) -> list[tuple[str, Choice, str]]:
    """The choices of a sizing, each with its card.

    Parameters
    ----------
    sizing : FoamSizing
        The study.
    system : str
        ``us`` or ``metric``.
    taken : int or None
        Number of the choice that the project has since been given; None while it has its own foam. [-]

    Returns
    -------
    list of tuple
        Title, choice and HTML of its card.
    """
    found = []
    for number, (title, name, why) in enumerate(CHOICES):
        choice: Choice = getattr(sizing, name)
        if taken is None:
            tag = CHOICES[0][0] if choice.foam == sizing.planned.foam else ""
        else:
            tag = "in the project now" if number == taken else ""
        found.append((title, choice, choice_card(title, why, choice, sizing, system, tag)))
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
    words = ("Fuel's price rises", *(name.capitalize() for name in NAMES.values()))
    return table(heads, rows, "Least over the years, for each soil and each rise of the fuel's price.", words)


def _percent_over(value: float, other: float) -> str:
    """How much a number is over another, in whole percent."""
    if not other:
        return "–"
    over = round((value / other - 1) * 100)
    return f"{over:+d} %".replace("-", "−") if over else "none"


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
            _percent_over(choice.degree_day_heat, choice.yearly_heat),
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
