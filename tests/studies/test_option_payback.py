"""Payback of options by hand, and its kinds."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from foundation.model.heat import Band
from foundation.model.options import OptionFuel, OptionHeat
from foundation.project.schema_heat import Finance
from foundation.project.schema_money import Loan
from foundation.studies.option_heat import PlanHeat
from foundation.studies.option_money import Running, fuel_of


def running(
    *seasons: float, price: float = 1.0, rises: tuple[float, float, float] = (0.0, 0.0, 0.0)
) -> Running:
    """Heat of so many dollars' worth a year with low, likely and high soil."""
    heat = OptionHeat(Band(*seasons), (Band(0.0, 0.0, 0.0),) * 12, None, 18.0, "house", "A-B", 0.0)
    low, likely, high = seasons
    return Running(PlanHeat((low, likely, high), heat), price, rises)


def paid(own: Running, base: Running, added: Band) -> OptionFuel:
    rate = Finance(discount_rate="10 %", years=30)
    return fuel_of(own, base, (0.0, 0.0), added, rate, Loan(rate="0 %", years=30))


def test_payback_by_hand() -> None:
    """$300 more at 10 %, a dollar of the first years being worth 0.9091, 0.8264, 0.7513, 0.6830 and 0.6209 [derived].

    $90 less a year: four years are worth 285.29, 14.71 of the fifth's 55.88 is left; $110: three are worth 273.55,
    26.45 of 75.13 is left; $130: two are worth 225.62, 74.38 of 97.67 is left.
    """
    base, own = running(300, 320, 350), running(210, 210, 220)
    found = paid(own, base, Band(300.0, 300.0, 300.0)).payback
    assert found.kind == "pays back"
    years = (found.latest, found.likely, found.soonest)
    assert years == pytest.approx((4 + 14.71 / 55.88, 3 + 26.45 / 75.13, 2 + 74.38 / 97.67), abs=2e-4)
    # A dearer fuel pays sooner, and a wider price of the foam widens the range.
    rising = replace(base, rises=(-0.02, 0.0, 0.03)), replace(own, rises=(-0.02, 0.0, 0.03))
    wider = paid(rising[1], rising[0], Band(250.0, 300.0, 350.0)).payback
    assert wider.soonest < found.soonest
    assert wider.likely == found.likely
    assert wider.latest > found.latest


@pytest.mark.parametrize(
    ("own", "added", "kind", "likely"),
    [
        (200, 0.0, "no difference", 0.0),
        (100, -50.0, "at once", 0.0),
        (100, 0.0, "at once", 0.0),
        (250, 80.0, "never", math.inf),
        (250, 0.0, "never", math.inf),
        (200, 80.0, "never", math.inf),
        (190, 5000.0, "never", math.inf),  # $10 a year for ever is worth $100 at 10 %
        (310, -100.0, "eaten up", 1.0),  # $110 a year from now is worth $100
    ],
)
def test_kinds_of_payback(own: float, added: float, kind: str, likely: float) -> None:
    found = paid(running(own, own, own), running(200, 200, 200), Band(added, added, added)).payback
    assert found.kind == kind
    assert (found.soonest, found.likely, found.latest) == pytest.approx((likely,) * 3)
