"""Charts of the foam's cost: over the thickness of one place, inch by inch, and the answers beside each other."""

from __future__ import annotations

import itertools
import math

from foundation import units
from foundation.drawings.charts import Axis, Bars, Chart, Line, Mark, Vertical
from foundation.drawings.section_words import size
from foundation.model.sizing import Choice, Curve, FoamSizing, Place, Rung

NAMES = {
    Place.WALL: "outside the walls",
    Place.SLAB_EDGE: "at the slab's edge",
    Place.UNDER_SLAB: "under the slab",
    Place.WING: "wing in the ground",
}
"""Places in words."""
INCH = 0.0254
CENTIMETRE = 0.01


def _two(value: float) -> float:
    """A value to two figures, as money is shown."""
    return float(f"{value:.2g}")


def _thickness(rung: Rung) -> float:
    return rung.foam.thickness if rung.foam is not None else 0.0


def _words(rung: Rung, system: str) -> str:
    return size(_thickness(rung), system) if rung.foam is not None else "none"


def _finding(curve: Curve, system: str) -> str:
    """Where more foam stops paying, in words."""
    place, rungs, knee = NAMES[curve.place], curve.rungs, curve.knee
    if len(rungs) == 1:
        return f"{place}: only {_words(rungs[0], system)} of {curve.board} may lie there"
    best = _words(rungs[knee], system)
    if knee == len(rungs) - 1:
        return f"{place}: {best} of {curve.board}, the thickest there is, still pays"
    if knee == 0 and rungs[knee].foam is not None:
        return f"{place}: {best} of {curve.board}, the least that may lie there, costs least"
    if rungs[knee].foam is None:
        return f"{place}: no foam costs least; {_words(rungs[1], system)} of {curve.board} does not pay back"
    return f"{place}: {best} of {curve.board} is where more stops paying"


def trade_off(
    curve: Curve,
    system: str,
    planned: float | None = None,
) -> Chart:
    """Life-cycle cost over the thickness of one place's foam, and what it is made of.

    Parameters
    ----------
    curve : Curve
        The trade-off.
    system : str
        ``us`` or ``metric``.
    planned : float or None
        Thickness that the project has there. [m]

    Returns
    -------
    Chart
        Lines with the thickness of least cost ringed; the whole cost with the band of the fuel's price.
    """
    unit, name = (INCH, "in") if system == "us" else (1e-3, "mm")
    rungs = curve.rungs
    x = tuple(_thickness(rung) / unit for rung in rungs)
    total = tuple(rung.life_cycle_cost for rung in rungs)
    first = tuple(rung.first_cost for rung in rungs)
    fuel = tuple(whole - part for whole, part in zip(total, first, strict=True))
    low = tuple(rung.life_cycle_low for rung in rungs)
    high = tuple(rung.life_cycle_high for rung in rungs)
    known = all(math.isfinite(value) for value in (*low, *high))
    best = rungs[curve.knee]
    marks = (Mark(f"least cost: {_words(best, system)}", x[curve.knee], total[curve.knee]),)
    verticals = () if planned is None else (Vertical(f"planned: {size(planned, system)}", planned / unit),)
    return Chart(
        _finding(curve, system),
        Axis(f"Thickness of {curve.board} [{name}]", zero=True, places=1 if system == "us" else 0),
        Axis("Cost over the years that count, worth today [$]", zero=True, prefix="$"),
        lines=(
            Line("foam and fuel", x, total, low if known else (), high if known else ()),
            Line("foam", x, first),
            Line("fuel", x, fuel),
        ),
        marks=marks,
        verticals=verticals,
        notes=(
            "The other places as in the set of least life-cycle cost",
            *(("Band: low to high rise of the fuel's price",) if known else ()),
        ),
    )


def next_inch(curve: Curve, system: str) -> Chart:
    """What each further step of thickness costs and saves, both over the thickness it adds.

    Parameters
    ----------
    curve : Curve
        The trade-off.
    system : str
        ``us`` for dollars an inch, ``metric`` for dollars a centimetre.

    Returns
    -------
    Chart
        Bars, cost beside saving, one pair to a step.
    """
    unit, name = (INCH, "inch") if system == "us" else (CENTIMETRE, "centimetre")
    steps = list(itertools.pairwise(curve.rungs))
    names = tuple(f"{_words(before, system)} to {_words(after, system)}" for before, after in steps)
    bars = (
        Bars("costs", tuple(_two(after.marginal_cost * unit) for _, after in steps)),
        Bars("saves, worth today", tuple(_two(after.marginal_saving * unit) for _, after in steps)),
    )
    return Chart(
        _finding(curve, system),
        Axis(f"Step of {curve.board}", names=names),
        Axis(f"Over each {name} that is added [$]", zero=True, prefix="$"),
        bars=bars,
        lying=True,
        notes=("A step pays while it saves more than it costs",),
    )


def answers(sizing: FoamSizing) -> Chart:
    """First cost and fuel of the project's foam and of the answers beside it.

    Parameters
    ----------
    sizing : FoamSizing
        The sizing.

    Returns
    -------
    Chart
        Stacked bars, one to an answer.
    """
    choices: tuple[tuple[str, str, Choice], ...] = (
        ("as planned", "planned", sizing.planned),
        ("least first cost", "first", sizing.code_floor),
        ("least over the years", "least", sizing.least_cost),
        ("warmest", "warmest", sizing.warmest),
    )
    first = tuple(choice.first_cost for *_, choice in choices)
    fuel = tuple(choice.life_cycle_cost - choice.first_cost for *_, choice in choices)
    saved = sizing.planned.life_cycle_cost - sizing.least_cost.life_cycle_cost
    title = "The planned foam already costs least over the years"
    if math.isfinite(saved) and saved >= 1.0:
        title = f"The best saves ${units.rounded(saved)} over the years beside the planned foam"
    whole = "; ".join(
        f"{name} ${units.rounded(choice.life_cycle_cost)} in all" for name, _, choice in choices
    )
    return Chart(
        title,
        Axis("", names=tuple(name for name, *_ in choices), short=tuple(short for _, short, _ in choices)),
        Axis("Cost over the years that count, worth today [$]", zero=True, prefix="$"),
        bars=(Bars("foam", first, layer="series-1"), Bars("fuel", fuel, layer="series-2")),
        stacked=True,
        notes=(whole,),
    )
