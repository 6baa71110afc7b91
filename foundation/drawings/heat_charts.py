"""Charts of the ground's heat: month by month, along the edge, beside published methods."""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterable, Sequence

from foundation import units
from foundation.drawings.charts import Axis, Bars, Chart
from foundation.model.heat import Band, HouseHeat, Loss
from foundation.units.kinds import scale

MONTHS = tuple(calendar.month_abbr[1:])
NAN = math.nan


def unit_of(quantity: str, system: str) -> tuple[float, str]:
    """Unit that a chart of heat is written in.

    Parameters
    ----------
    quantity : str
        ``energy``, ``conductance`` or ``edge``.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    float
        Size of the unit in J, W/K or W/(m·K). [SI unit of the quantity]
    str
        Its name.
    """
    si, us, metric = {
        "energy": ("joule", ("megaBtu_it", "MMBtu"), ("kilowatt_hour", "kWh")),
        "conductance": ("watt/kelvin", ("Btu_it/(hour*delta_degF)", "Btu/h·°F"), ("watt/kelvin", "W/K")),
        "edge": (
            "watt/(meter*kelvin)",
            ("Btu_it/(hour*foot*delta_degF)", "Btu/h·ft·°F"),
            ("watt/(meter*kelvin)", "W/(m·K)"),
        ),
    }[quantity]
    spelling, name = us if system == "us" else metric
    return float(scale(spelling, si)[0]), name


def places_for(values: Iterable[float], digits: int = 3) -> int:
    """Places that tell so many digits of the greatest value.

    Parameters
    ----------
    values : iterable of float
        The values. [as the axis]
    digits : int
        Digits to be told; a band of a fifth needs no more than two. [-]

    Returns
    -------
    int
        Decimal places. [-]

    Examples
    --------
    >>> places_for([0.21, 0.7]), places_for([5.0, 123.4])
    (3, 0)
    """
    most = max((abs(value) for value in values if math.isfinite(value)), default=0.0)
    return 0 if most == 0 else min(max(digits - 1 - math.floor(math.log10(most)), 0), 4)


def _bars(name: str, bands: Sequence[Band | None], unit: float) -> Bars:
    def each(which: str) -> tuple[float, ...]:
        return tuple(getattr(band, which) / unit if band is not None else NAN for band in bands)

    return Bars(name, each("likely"), each("low"), each("high"))


def _values(bars: Sequence[Bars]) -> list[float]:
    return [value for each in bars for value in each.y]


def monthly_heat(loss: Loss, system: str, bare: Loss | None = None) -> Chart:
    """Heat that leaves through the ground, month by month.

    Parameters
    ----------
    loss : Loss
        Of the house or of a part.
    system : str
        ``us`` for MMBtu, ``metric`` for kWh.
    bare : Loss or None
        The same without foam.

    Returns
    -------
    Chart
        Bars with what the soil makes uncertain.
    """
    unit, name = unit_of("energy", system)
    bars = [_bars("as planned", loss.monthly, unit)]
    if bare is not None:
        bars.append(_bars("without foam", bare.monthly, unit))
    axis = Axis(f"Heat out through the ground [{name}]", zero=True, places=places_for(_values(bars)))
    likely = bars[0].y
    most = max(range(12), key=lambda month: likely[month])
    year = f"{units.rounded(loss.yearly.likely / unit)} {name}"
    title = f"{calendar.month_name[most + 1]} takes most, {units.rounded(likely[most])} of the year's {year}"
    if bare is not None and bare.yearly.likely > 0:
        less = 100 * (1 - loss.yearly.likely / bare.yearly.likely)
        title += f"; without foam it would be {units.rounded(bare.yearly.likely / unit)}"
        title += f", so foam keeps {less:.0f} % in" if less > 0.5 else ""
    return Chart(
        title,
        Axis("Month of the mean year", names=MONTHS, short=tuple(month[0] for month in MONTHS)),
        axis,
        bars=tuple(bars),
        notes=(f"Whiskers: low to high soil; the year: {_band(loss.yearly, unit)} {name}",),
    )


def edge_heat(heat: HouseHeat, system: str) -> Chart:
    """Heat through floor and concrete wall per length of edge and degree, bare beside foamed.

    Parameters
    ----------
    heat : HouseHeat
        The house's heat.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Chart
        Lying bars, two to a stretch of wall and situation.
    """
    unit, name = unit_of("edge", system)
    names = tuple(
        f"{e.line} {units.length(e.start, system)} to {units.length(e.end, system)}, {e.situation}"
        for e in heat.edges
    )
    planned = _bars("as planned", [e.edge_factor for e in heat.edges], unit)
    bare = Bars("without foam", tuple(e.bare_edge_factor / unit for e in heat.edges))
    axis = Axis(f"F-factor of the edge [{name}]", zero=True, places=places_for(_values([planned, bare]), 2))
    title = "No edge to lose heat at"
    if names:
        # What counts is the heat: factor times length.
        lengths = [e.end - e.start for e in heat.edges]
        worst = max(range(len(names)), key=lambda i: planned.y[i] * lengths[i])
        title = f"{names[worst]} loses most: {axis.text(planned.y[worst])} {name} along its length"
        if planned.y[worst] < 0.99 * bare.y[worst]:
            title += f", {axis.text(bare.y[worst])} without foam"
    return Chart(title, Axis("", names=names), axis, bars=(planned, bare), lying=True, notes=(heat.soil,))


def beside_standards(heat: HouseHeat, system: str) -> Chart:
    """Steady conductance of each heated part beside what published methods say.

    Parameters
    ----------
    heat : HouseHeat
        The house's heat.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Chart
        Lying bars, one to a method.
    """
    unit, name = unit_of("conductance", system)
    names = tuple(heat.parts)
    below = tuple(heat.below_grade.get(part, NAN) / unit for part in names)
    bars = [
        _bars("this plan", [loss.conductance for loss in heat.parts.values()], unit),
        Bars("of it below grade", below),
    ]
    for method, found in (("ISO 13370:2017", heat.standard), ("residential method", heat.residential)):
        if any(part in found for part in names):
            bars.append(Bars(method, tuple(found.get(part, NAN) / unit for part in names)))
    axis = Axis(f"Steady conductance [{name}]", zero=True, places=places_for(_values(bars), 2))
    said = []
    for i, part in enumerate(names):
        standard = heat.standard.get(part, NAN) / unit
        if math.isfinite(standard) and math.isfinite(below[i]) and standard > 0:
            off = 100 * (below[i] / standard - 1)
            beside = f"{abs(off):.0f} % {'over' if off > 0 else 'under'}" if abs(off) >= 0.5 else "as much as"
            said.append(f"{part} {axis.text(below[i])} {name} below grade, {beside} ISO 13370:2017")
    notes = ["Whiskers: low to high soil", "The methods reckon floors and what of the walls lies below grade"]
    if any(bars.name == "residential method" for bars in bars):
        notes.append("The residential method's difference is to the coldest ground surface, not to the air")
    return Chart(
        "; ".join(said) or "Steady conductance of each part",
        Axis("", names=names),
        axis,
        bars=tuple(bars),
        lying=True,
        notes=tuple(notes),
    )


def _band(band: Band, unit: float) -> str:
    low, likely, high = (units.rounded(value / unit) for value in (band.low, band.likely, band.high))
    return f"{likely} ({low} to {high})"
