"""Charts of the warm floors: surface across two tubes, water against the weather, load beside what a floor can give."""

from __future__ import annotations

from foundation.drawings.charts import Axis, Bars, Chart, Line, Vertical
from foundation.model.floors import FloorsPlan, ZoneFloor

FLUX = 3.15459
"""W/m² in a Btu/h·ft²."""


def degrees(value: float, system: str) -> float:
    """A temperature in the reader's degrees.

    Parameters
    ----------
    value : float
        The temperature. [°C]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    float
        In °F or °C. [as the axis]
    """
    return value * 1.8 + 32 if system == "us" else value


def _degree(system: str) -> str:
    return "°F" if system == "us" else "°C"


def across_tubes(zone: ZoneFloor, system: str) -> Chart:
    """The floor's surface across two tubes.

    Parameters
    ----------
    zone : ZoneFloor
        The zone.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Chart
        One line for each finish, the limit as a line of its own.
    """
    unit, name = (0.0254, "in") if system == "us" else (0.001, "mm")
    lines = [
        Line(
            case.finish,
            tuple(x / unit for x in case.across),
            tuple(degrees(t, system) for t in case.surface),
        )
        for case in zone.cases
    ]
    first = zone.cases[0]
    ends = (first.across[0] / unit, first.across[-1] / unit)
    limit = degrees(zone.limit, system)
    lines.append(Line("limit", ends, (limit, limit)))
    peak = max(case.output.floor_peak for case in zone.cases)
    over = peak - zone.limit
    told = f"{abs(over) * (1.8 if system == 'us' else 1):.0f} {_degree(system)}"
    finding = f"{told} over its limit" if over > 0.05 else f"{told} under its limit"
    verticals = tuple(Vertical("tube", x / unit) for x in (zone.spacing / 2, 1.5 * zone.spacing))
    return Chart(
        f"{zone.shape.name}: the floor's hottest line lies {finding}",
        Axis(f"Across the tubes [{name}]", places=0),
        Axis(f"Floor's surface [{_degree(system)}]", places=1),
        lines=tuple(lines),
        verticals=verticals,
    )


def water_by_weather(floors: FloorsPlan, system: str) -> Chart | None:
    """Supply water against the air outdoors, zone by zone.

    Parameters
    ----------
    floors : FloorsPlan
        The warm floors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Chart or None
        None where no design temperature is entered.
    """
    lines = []
    for zone in floors.zones:
        points = sorted((point.outdoors, point.supply) for point in zone.reset)
        if points:
            lines.append(
                Line(
                    zone.shape.name,
                    tuple(degrees(x, system) for x, _ in points),
                    tuple(degrees(y, system) for _, y in points),
                )
            )
    if not lines:
        return None
    hottest = max(line.y[0] for line in lines)
    return Chart(
        f"The coldest day takes water of {hottest:.0f} {_degree(system)}; milder days take less",
        Axis(f"Air outdoors [{_degree(system)}]", places=0),
        Axis(f"Supply water [{_degree(system)}]", places=0),
        lines=tuple(lines),
    )


def load_and_output(floors: FloorsPlan, system: str) -> Chart | None:
    """What each floor has to give beside the most that it can.

    Parameters
    ----------
    floors : FloorsPlan
        The warm floors.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Chart or None
        None without zones.
    """
    if not floors.zones:
        return None
    unit, name = (FLUX, "Btu/h·ft²") if system == "us" else (1.0, "W/m²")
    nan = float("nan")
    names = tuple(zone.shape.name for zone in floors.zones)
    loads = tuple(zone.load.flux / unit if zone.load is not None else nan for zone in floors.zones)
    can = tuple(zone.cases[0].can_give / unit for zone in floors.zones)
    short = [zone.shape.name for zone in floors.zones if zone.cases[0].carries is False]
    known = any(zone.load is not None for zone in floors.zones)
    title = "What each floor can give at its limit"
    if known:
        title = f"{', '.join(short)} cannot carry the load" if short else "Every floor carries its load"
    bars = [Bars("has to give", loads)] if known else []
    return Chart(
        title,
        Axis("", names=names),
        Axis(f"Upward, on the design day [{name}]", zero=True, places=0 if system == "metric" else 1),
        bars=(*bars, Bars("can give", can)),
        lying=True,
    )
