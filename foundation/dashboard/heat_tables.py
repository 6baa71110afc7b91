"""Tables of the heat page as HTML: losses, stretches of edge, gaps, second opinions, what foam has to bear."""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence

from foundation import units
from foundation.model.foam import Bearing
from foundation.model.heat import Band, HouseHeat, Loss, StretchHeat
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
        The temperature. [°C]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.
    """
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


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], caption: str) -> str:
    """A table whose cells name their column, for narrow screens.

    Parameters
    ----------
    heads : sequence of str
        Heads, not yet escaped.
    rows : iterable of sequence of str
        Cells as HTML.
    caption : str
        What it says, not yet escaped.

    Returns
    -------
    str
        HTML.
    """
    head = "".join(f'<th scope="col">{html.escape(text)}</th>' for text in heads)
    body = "".join(
        "<tr>"
        + "".join(
            f'<td data-head="{html.escape(name)}">{cell}</td>' for name, cell in zip(heads, row, strict=True)
        )
        + "</tr>"
        for row in rows
    )
    return (
        f'<table class="schedule"><caption>{html.escape(caption)}</caption><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table>"
    )


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
    heads += ["Days after the coldest", f"A year, {names[2]}"]
    if us:
        heads.append("kWh")

    def row(name: str, loss: Loss) -> list[str]:
        cells = [
            f"<b>{html.escape(name)}</b>",
            banded(loss.conductance, per_degree),
            banded(loss.design, flow) if loss.design is not None else "–",
            banded(loss.mean, flow),
            banded(loss.peak, flow),
            f"{loss.peak_day:.0f}",
            banded(loss.yearly, energy),
        ]
        return cells + ([banded(loss.yearly, 1 / KWH)] if us else [])

    rows = []
    for part, loss in heat.parts.items():
        rows += [row(part, loss), row(f"{part}, floor alone", heat.floors[part])]
    rows.append(row("all heated parts", heat.total))
    design = (
        "On the design day what lies within 2 ft of grade feels the design temperature, deeper the season."
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
    heads = ["Wall", "From", "To", "Section", f"Edge F, {unit}", "Bare edge", "Floor 1 ft inside"]
    heads += ["Coldest surface", "Above dew point"]
    rows = []
    for each in stretches:
        wet = each.dew_margin < 0
        margin = difference(each.dew_margin, system)
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
                f"<b>◧ {margin}: wet</b>" if wet else margin,
            ]
        )
    return table(heads, rows, "Floor and concrete wall together, for each length of edge and degree.")


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
            units.rounded(gap.conductance * factor) if gap.conductance == gap.conductance else "–",
        ]
        for gap in gaps
    ]
    heads = ["Break in the insulation line", "Length", f"Closing it saves, {unit}"]
    return table(heads, rows, "Closed with foam as thick as the foam beside it.")


def standards_table(heat: HouseHeat, system: str) -> str:
    """The model beside published methods.

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
    factor, unit = (1 / BTU_HOUR / 1.8, "Btu/h·°F") if us else (1.0, "W/K")
    rows = []
    for part, loss in heat.parts.items():
        model = loss.conductance.likely
        for name, value in (
            ("ISO 13370:2017", heat.standard.get(part)),
            ("residential below grade", heat.residential.get(part)),
        ):
            if value is not None:
                rows.append(
                    [
                        html.escape(part),
                        name,
                        units.rounded(value * factor),
                        banded(loss.conductance, factor),
                        f"{(value / model - 1) * 100:+.0f} %",
                    ]
                )
    heads = ["Part", "Method", f"It says, {unit}", "The model", "Method over model"]
    return table(
        heads,
        rows,
        "Second opinions on what lies below grade. The residential method counts to the ground's coldest surface, the "
        "others to outdoor air.",
    )


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
            f"{bearing.pressure / bearing.allowed * 100:.0f} % of what it may take",
            "carries it" if bearing.carries else "<b>◧ too weak</b>",
        ]
        for part, bearing in bearings
    ]
    heads = ["Slab of", "Foam under it", "Load", "Used", ""]
    return table(
        heads,
        rows,
        "A third of the strength for what stands, a fifth for what rolls. An engineer decides on lifts and posts.",
    )
