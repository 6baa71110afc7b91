"""Tables of the warm-floor page as HTML: zones, manifolds, loads, second opinions, coils."""

from __future__ import annotations

import html
from collections.abc import Sequence

from foundation import units
from foundation.dashboard.heat_tables import BTU_HOUR, table
from foundation.drawings.floor_plan import tube_text
from foundation.model.floors import FinishCase, FloorsPlan, ManifoldWater, ZoneFloor

FLUX = 3.15459
"""W/m² in a Btu/h·ft²."""
GPM = 6.30902e-5
"""m³/s in a gallon a minute."""
FOOT_HEAD = 0.3048
LITRE = 1e-3
GALLON = 3.785411784e-3


def degrees(value: float, system: str) -> str:
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


def _flux(value: float, system: str) -> str:
    return f"{value / FLUX:.1f}" if system == "us" else f"{value:.0f}"


def _heat(value: float, system: str) -> str:
    return units.rounded(value / BTU_HOUR if system == "us" else value, 3)


def _spacing(value: float, system: str) -> str:
    return units.inches(value) if system == "us" else units.millimetres(value)


def _verdict(case: FinishCase) -> str:
    if case.carries is None:
        return "no load given"
    return "carries it" if case.carries else "<b>■ falls short</b>"


def zone_table(floors: FloorsPlan, system: str) -> str:
    """What each zone's floor does.

    Parameters
    ----------
    floors : FloorsPlan
        The warm floors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML; what is over its limit has a mark and a word.
    """
    flux = "Btu/h·ft²" if system == "us" else "W/m²"
    area = "ft²" if system == "us" else "m²"
    heads = [
        "Zone",
        "Finish",
        f"Area, {area}",
        f"Load, {flux}",
        f"Can give, {flux}",
        "Floor, mean",
        "Floor, hottest",
    ]
    heads += ["Supply", "Verdict"]
    rows = []
    for zone in floors.zones:
        for number, case in enumerate(zone.cases):
            hot = case.output.floor_peak > zone.limit + 0.05
            peak = degrees(case.output.floor_peak, system)
            rows.append(
                [
                    f"<b>{html.escape(zone.shape.name)}</b>" if number == 0 else "",
                    html.escape(case.finish),
                    f"{zone.shape.area / (0.3048**2 if system == 'us' else 1):,.0f}",
                    _flux(zone.load.flux, system) if zone.load is not None else "–",
                    _flux(case.can_give, system),
                    degrees(case.output.floor_mean, system),
                    f"<b>■ {peak}, over</b>" if hot else peak,
                    degrees(case.supply, system),
                    _verdict(case),
                ]
            )
    floor = table(heads, rows, "On the design day.", ("Finish", "Verdict"))
    return floor + _tube_table(floors, system)


def _tube_table(floors: FloorsPlan, system: str) -> str:
    """Tube and water of each zone."""
    us = system == "us"
    flow, head = ("gpm", "ft") if us else ("L/min", "kPa")
    rows = []
    for zone in floors.zones:
        loops = [loop for laying in zone.layings for loop in laying.loops]
        names = {loop.name for loop in loops}
        own = [each for m in floors.manifolds for each in m.flow.loops if each.loop.name in names]
        density = next((m.flow.state.density for m in floors.manifolds if m.name == zone.manifold), 1000.0)
        volume = sum(each.volume_flow for each in own)
        lost = max((each.pressure for each in own), default=0.0)
        case = zone.cases[0]
        share = case.down_share_season if case.down_share_season is not None else case.down_share
        rows.append(
            [
                f"<b>{html.escape(zone.shape.name)}</b>",
                _spacing(zone.spacing, system),
                str(len(loops)),
                tube_text(sum(loop.length for loop in loops), system),
                f"{volume / GPM:.2f}" if us else f"{volume * 60000:.2f}",
                f"{lost / (density * 9.80665) / FOOT_HEAD:.1f}" if us else f"{lost / 1000:.1f}",
                f"{share * 100:.0f} %",
            ]
        )
    heads = ["Zone", "Spacing", "Loops", "Tube", f"Flow, {flow}", f"Head, {head}", "Down, season"]
    return table(heads, rows, "Down: what goes into the ground over what comes up, over the heating season.")


def shortfall_list(floors: FloorsPlan, system: str) -> str:
    """What would close a zone's shortfall.

    Parameters
    ----------
    floors : FloorsPlan
        The warm floors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML, "" where every floor carries its load.
    """
    flux = "Btu/h·ft²" if system == "us" else "W/m²"
    lines = []
    for zone in floors.zones:
        case = zone.cases[0]
        if case.carries is not False:
            continue
        closing = [r for r in case.remedies if r.closes] or list(case.remedies)
        told = "; ".join(f"{r.what} gives {_flux(r.gives, system)} {flux}" for r in closing)
        lines.append(
            f"<li>{html.escape(zone.shape.name)} lacks {_flux(case.missing, system)} {flux}"
            f"{': ' + html.escape(told) if told else ''}.</li>"
        )
    return f"<ul>{''.join(lines)}</ul>" if lines else ""


def manifold_table(manifold: ManifoldWater, system: str) -> str:
    """What the plumber sets at one manifold.

    Parameters
    ----------
    manifold : ManifoldWater
        The manifold.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    us = system == "us"
    flow = "gpm" if us else "L/min"
    head = "ft" if us else "kPa"
    heads = ["Loop", "Length", f"Flow, {flow}", "Water comes back cooler by", f"Lost in the tube, {head}"]
    heads += [f"The valve adds, {head}", "Runs"]

    def volume(value: float) -> str:
        return f"{value / GPM:.2f}" if us else f"{value * 60000:.2f}"

    def lost(value: float) -> str:
        height = value / (manifold.flow.state.density * 9.80665)
        return f"{height / FOOT_HEAD:.1f}" if us else f"{value / 1000:.1f}"

    rows = [
        [
            f"<b>{html.escape(each.loop.name)}</b>",
            tube_text(each.loop.length, system),
            volume(each.volume_flow),
            f"{each.delta_t * 1.8:.0f} °F" if us else f"{each.delta_t:.1f} K",
            lost(each.pressure),
            lost(each.valve),
            str(each.flow.regime),
        ]
        for each in manifold.flow.loops
    ]
    caption = (
        f"{manifold.name}: {manifold.fluid.name}, supply {degrees(manifold.supply, system)}, "
        f"{volume(manifold.flow.volume_flow)} {flow} against {lost(manifold.flow.pressure)} {head} for its loops alone."
    )
    return table(heads, rows, caption, ("Runs",)) + water_facts(manifold, system)


def water_facts(manifold: ManifoldWater, system: str) -> str:
    """Volumes of one manifold's water.

    Parameters
    ----------
    manifold : ManifoldWater
        The manifold.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """

    def volume(value: float) -> str:
        return f"{value / GALLON:.1f} gal" if system == "us" else f"{value / LITRE:.0f} L"

    facts = [("Its loops hold", volume(manifold.volume)), ("It grows by", volume(manifold.expansion))]
    if manifold.glycol > 0:
        facts.append(("Of it pure glycol", volume(manifold.glycol)))
        if manifold.freezing is not None:
            facts.append(("First crystals at", degrees(manifold.freezing, system)))
    if len(manifold.supplies) > 1:
        each = ", ".join(f"{name} {degrees(value, system)}" for name, value in manifold.supplies.items())
        facts.append(("Its zones want", each))
    rows = "".join(
        f"<tr><th scope='row'>{html.escape(name)}</th><td>{html.escape(value)}</td></tr>"
        for name, value in facts
    )
    return f'<table class="facts">{rows}</table>'


def opinion_table(zones: Sequence[ZoneFloor], system: str) -> str:
    """The row of tubes beside the standard and the trade's rule.

    Parameters
    ----------
    zones : sequence of ZoneFloor
        The zones.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """

    def value(number: float, unit: str) -> str:
        if system == "us" and unit == "W/m²":
            return f"{number / FLUX:.1f} Btu/h·ft²"
        if system == "us" and unit == "°C":
            return degrees(number, system)
        if system == "us" and unit == "K":
            return f"{number * 1.8:.1f} °F"
        return f"{number:.1f} {unit}"

    rows = []
    for zone in zones:
        for opinion in zone.cases[0].second_opinions:
            theirs = (
                value(opinion.theirs, opinion.unit)
                if opinion.theirs is not None
                else html.escape(opinion.note)
            )
            difference = f"{opinion.difference * 100:+.0f} %" if opinion.difference is not None else "–"
            rows.append(
                [
                    html.escape(zone.shape.name),
                    html.escape(opinion.quantity),
                    html.escape(opinion.source),
                    value(opinion.ours, opinion.unit),
                    theirs,
                    difference,
                ]
            )
    heads = ["Zone", "What", "Whose", "This plan", "They say", "This plan over theirs"]
    return table(heads, rows, "Second opinions.", heads[:3]) if rows else ""


def coil_table(floors: FloorsPlan, system: str) -> str:
    """Coils to buy.

    Parameters
    ----------
    floors : FloorsPlan
        The warm floors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    if not floors.coils:
        return ""
    rows = [
        [
            str(number),
            tube_text(coil.length, system),
            html.escape(", ".join(coil.loops)),
            tube_text(coil.left, system),
        ]
        for number, coil in enumerate(floors.coils, 1)
    ]
    heads = ["Coil", "Length", "Loops cut from it", "Left over"]
    return table(heads, rows, "Lengths measured along the path.", ("Loops cut from it",))
