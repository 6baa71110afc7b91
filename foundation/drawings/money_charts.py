"""Charts of money: what the count comes to, and options beside each other."""

from __future__ import annotations

from foundation import units
from foundation.drawings.charts import Axis, Bars, Chart
from foundation.model.options import Comparison
from foundation.model.takeoff import TakeOff


def _ten(value: float) -> float:
    """Money to ten dollars."""
    return round(value / 10) * 10.0


def count_chart(count: TakeOff) -> Chart | None:
    """What each group of the count comes to, dearest first.

    Parameters
    ----------
    count : TakeOff
        The count.

    Returns
    -------
    Chart or None
        Lying bars with the band of their prices; None where nothing is counted.
    """
    groups = list(dict.fromkeys(item.group for item in count.items))

    def of(group: str, end: str) -> float:
        return sum(getattr(item.money, end) for item in count.items if item.group == group)

    groups = sorted((g for g in groups if of(g, "likely") > 0), key=lambda g: -of(g, "likely"))
    if not groups:
        return None
    likely = tuple(_ten(of(group, "likely")) for group in groups)
    share = 100 * likely[0] / max(_ten(count.money.likely), 1.0)
    return Chart(
        f"{groups[0].capitalize()} takes {share:.0f} % of {units.money(count.money.likely, 10)}",
        Axis("", names=tuple(groups)),
        Axis("Money [$]", zero=True, prefix="$"),
        bars=(
            Bars(
                "likely",
                likely,
                tuple(_ten(of(group, "low")) for group in groups),
                tuple(_ten(of(group, "high")) for group in groups),
            ),
        ),
        lying=True,
    )


def options_chart(comparison: Comparison) -> Chart | None:
    """First cost and fuel over the years of every option.

    Parameters
    ----------
    comparison : Comparison
        The comparison.

    Returns
    -------
    Chart or None
        Stacked bars; None where no option has fuel to count.
    """
    shown = [
        (each.name, each.figures)
        for each in (comparison.base, *comparison.options)
        if each.figures is not None and each.figures.fuel is not None
    ]
    if not shown:
        return None
    first = tuple(_ten(figures.first_cost.likely) for _, figures in shown)
    whole = [figures.fuel.over_years.likely if figures.fuel is not None else 0.0 for _, figures in shown]
    fuel = tuple(
        _ten(total - figures.first_cost.likely) for total, (_, figures) in zip(whole, shown, strict=True)
    )
    least = min(range(len(whole)), key=lambda place: whole[place])
    return Chart(
        f"{shown[least][0]} costs least over {comparison.years} years: {units.money(whole[least], 10)}",
        Axis("", names=tuple(name for name, _ in shown)),
        Axis(f"Over {comparison.years} years, worth today [$]", zero=True, prefix="$"),
        bars=(Bars("to build", first, layer="series-1"), Bars("fuel", fuel, layer="series-2")),
        stacked=True,
    )
