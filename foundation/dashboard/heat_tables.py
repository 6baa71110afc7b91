"""Tables of the heat page as HTML: losses, stretches of edge, gaps, second opinions, what foam has to bear."""

from __future__ import annotations

import calendar
import datetime
import html
import math
from collections.abc import Collection, Iterable, Sequence

from foundation import units
from foundation.model.foam import Bearing
from foundation.model.heat import Band, ClimateUsed, HouseHeat, Loss, SectionResponse, StretchHeat
from foundation.model.section import InsulationGap

BTU_HOUR = 0.29307107017222
BTU = 1055.05585262
KWH = 3.6e6


def banded(band: Band, factor: float = 1.0) -> str:
    """A number with its band, to two figures.

    Parameters
    ----------
    band : Band
        The number. [in its unit]
    factor : float
        What it is multiplied by for the reader's unit. [-]

    Returns
    -------
    str
        HTML: the likely number, low and high small beside it.
    """
    low, high = units.rounded(band.low * factor), units.rounded(band.high * factor)
    likely = units.rounded(band.likely * factor)
    return f"{likely} <small>{low} to {high}</small>" if low != high else likely


def temperature(value: float, system: str) -> str:
    """A temperature to a degree, or half a degree Celsius.

    Parameters
    ----------
    value : float
        The temperature, not a number where there is none. [°C]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.
    """
    if not math.isfinite(value):
        return "–"
    return f"{value * 1.8 + 32:.0f} °F" if system == "us" else f"{value:.1f} °C"


def difference(value: float, system: str) -> str:
    """A difference of temperatures.

    Parameters
    ----------
    value : float
        The difference. [K]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.
    """
    return f"{value * 1.8:.0f} °F" if system == "us" else f"{value:.1f} K"


def table(
    heads: Sequence[str], rows: Iterable[Sequence[str]], caption: str, words: Collection[str] = ()
) -> str:
    """A table whose cells name their column, for narrow screens; the first column names the row.

    Parameters
    ----------
    heads : sequence of str
        Heads, not yet escaped.
    rows : iterable of sequence of str
        Cells as HTML.
    caption : str
        What it says, not yet escaped.
    words : collection of str
        Heads of the columns that hold words; the others hold numbers.

    Returns
    -------
    str
        HTML.
    """
    kinds = ["words" if not column or name in words else "number" for column, name in enumerate(heads)]
    head = "".join(
        f'<th scope="col" class="{kind}">{html.escape(name)}</th>'
        for name, kind in zip(heads, kinds, strict=True)
    )
    body = "".join(
        "<tr>"
        + "".join(
            f'<td class="{kind}" data-head="{html.escape(name)}"><div>{cell}</div></td>'
            for name, kind, cell in zip(heads, kinds, row, strict=True)
        )
        + "</tr>"
        for row in rows
    )
    return (
        f'<table class="schedule figures"><caption>{html.escape(caption)}</caption>'
        f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
    )


def day_of_year(days: float) -> str:
    """A day as a date, the coldest of the mean year taken as 15 January.

    Parameters
    ----------
    days : float
        Days after the coldest. [d]

    Returns
    -------
    str
        Such as ``26 Jan``.

    Examples
    --------
    >>> day_of_year(0), day_of_year(11.4), day_of_year(364)
    ('15 Jan', '26 Jan', '14 Jan')
    """
    day = datetime.date(2025, 1, 15) + datetime.timedelta(round(days))  # a year of 365 days
    return f"{day.day} {calendar.month_abbr[day.month]}"


def loss_table(heat: HouseHeat, system: str) -> str:
    """What leaves through the ground, part by part, floors and walls.

    Parameters
    ----------
    heat : HouseHeat
        The house.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    us = system == "us"
    per_degree, flow, energy = (
        (1 / BTU_HOUR / 1.8, 1 / BTU_HOUR, 1 / (1e6 * BTU)) if us else (1.0, 1.0, 1 / KWH)
    )
    names = ("Btu/h·°F", "Btu/h", "MMBtu") if us else ("W/K", "W", "kWh")
    heads = ["Where", names[0], f"Design day, {names[1]}", f"Mean, {names[1]}", f"Most, {names[1]}"]
    heads += ["Most on", f"A year, {names[2]}"]
    if us:
        heads.append("kWh")

    def row(name: str, loss: Loss) -> list[str]:
        cells = [
            f"<b>{html.escape(name)}</b>",
            banded(loss.conductance, per_degree),
            banded(loss.design, flow) if loss.design is not None else "–",
            banded(loss.mean, flow),
            banded(loss.peak, flow),
            day_of_year(loss.peak_day),
            banded(loss.yearly, energy),
        ]
        return cells + ([banded(loss.yearly, 1 / KWH)] if us else [])

    rows = []
    for part, loss in heat.parts.items():
        rows += [row(part, loss), row(f"{part}, floor alone", heat.floors[part])]
    rows.append(row("all heated parts", heat.total))
    near = "2 ft" if us else "0.6 m"
    design = (
        f"On the design day surfaces within {near} of grade meet the design temperature, what lies deeper the season."
        if heat.total.design is not None
        else "No design temperature is entered: the design day stays open."
    )
    return table(
        heads, rows, f"Through floors and concrete walls to outdoors; small: low to high soil. {design}"
    )


def stretch_table(stretches: Sequence[StretchHeat], system: str) -> str:
    """The edge, stretch by stretch: its F-factor beside the bare one, floor and coldest surface.

    Parameters
    ----------
    stretches : sequence of StretchHeat
        Stretches of wall line.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    us = system == "us"
    factor, unit = (0.5777893, "Btu/h·ft·°F") if us else (1.0, "W/(m·K)")
    heads = [
        "Wall",
        "From",
        "To",
        "Section",
        f"Edge F, {unit}",
        "Bare edge",
        f"Floor {inside(system)} inside",
    ]
    heads += ["Coldest surface", "Above dew point"]
    rows = []
    for each in stretches:
        rows.append(
            [
                f"<b>{html.escape(each.line)}</b>",
                html.escape(units.length(each.start, system)),
                html.escape(units.length(each.end, system)),
                html.escape(str(each.response.section.situation)),
                banded(each.edge_factor, factor),
                units.rounded(each.bare_edge_factor * factor),
                temperature(each.floor_temperature, system),
                temperature(each.coldest_surface, system),
                over_dew_point(each, system),
            ]
        )
    caption = "Floor and concrete wall together, for each length of edge and degree."
    return table(heads, rows, caption, words=("Section",))


def over_dew_point(stretch: StretchHeat, system: str) -> str:
    """How far the coldest inner surface lies over the air's dew point, and whether it is wet.

    Parameters
    ----------
    stretch : StretchHeat
        Stretch of wall line.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    margin = difference(stretch.dew_margin, system)
    return f"<b>◧ {margin}: wet</b>" if stretch.dew_margin < 0 else margin


def gap_table(gaps: Sequence[InsulationGap], system: str) -> str:
    """Where the pencil lifts.

    Parameters
    ----------
    gaps : sequence of InsulationGap
        Gaps of one section, solved for.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    if not gaps:
        return (
            "<p>The insulation line runs from the framed wall to the middle of the floor without a gap.</p>"
        )
    factor, unit = (0.5777893, "Btu/h·ft·°F") if system == "us" else (1.0, "W/(m·K)")
    rows = [
        [
            html.escape(gap.where),
            html.escape(units.inches(gap.length) if system == "us" else units.millimetres(gap.length)),
            units.rounded(gap.conductance * factor) if math.isfinite(gap.conductance) else "–",
        ]
        for gap in gaps
    ]
    heads = ["Break in the insulation line", "Length", f"Closing it saves, {unit}"]
    return table(heads, rows, "Closed with foam as thick as the foam beside it.")


def section_facts(stretch: StretchHeat, foamed: SectionResponse, climate: ClimateUsed, system: str) -> str:
    """What a station's temperatures come to, and what they were computed from.

    Parameters
    ----------
    stretch : StretchHeat
        A length of wall there.
    foamed : SectionResponse
        How its section answers.
    climate : ClimateUsed
        The year outdoors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    rows = "".join(
        f"<tr><th scope='row'>{name}</th><td>{value}</td></tr>"
        for name, value in (
            (f"Floor {inside(system)} inside, coldest", temperature(stretch.floor_temperature, system)),
            ("Coldest inner surface", temperature(stretch.coldest_surface, system)),
            ("Over the air's dew point by", over_dew_point(stretch, system)),
        )
    )
    assumed = f" ▲ Assumed: {climate.assumed}." if climate.assumed else ""
    return (
        f'<table class="facts numbers">{rows}</table>'
        f'<p class="quiet">The year: {html.escape(f"{climate.source}.{assumed}")}</p>'
        "<details><summary>About these numbers</summary>"
        f"<p>Heat conduction in two dimensions, steady and yearly wave; {foamed.cells:,} cells, flows within "
        f"{foamed.error * 100:.1f} %, heat balance closed to {foamed.imbalance:.0e}.</p></details>"
    )


def inside(system: str) -> str:
    """How far inside the wall the floor's temperature is told.

    Parameters
    ----------
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        A foot, with its unit.
    """
    return "1 ft" if system == "us" else "0.3 m"


def bearing_table(bearings: Sequence[tuple[str, Bearing]]) -> str:
    """What foam under the slabs carries; stresses are left to whoever signs.

    Parameters
    ----------
    bearings : sequence of tuple of str and Bearing
        Part and what its foam has to bear.

    Returns
    -------
    str
        HTML.
    """
    if not bearings:
        return ""
    rows = [
        [
            html.escape(part),
            html.escape(bearing.board),
            html.escape(bearing.load),
            f"{bearing.pressure / bearing.allowed * 100:.0f} %",
            "carries it" if bearing.carries else "<b>◧ is too weak</b>",
        ]
        for part, bearing in bearings
    ]
    heads = ["Slab of", "Foam under it", "Load", "Of what it may take", "It"]
    return table(
        heads,
        rows,
        "A third of the strength for what stands, a fifth for what rolls. An engineer decides on lifts and posts.",
        words=("Foam under it", "Load", "It"),
    )
