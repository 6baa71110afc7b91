"""What options cost beside their base: what is spent more, the loan on it, fuel over the years, and payback."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import inf

from foundation.model.heat import Band
from foundation.model.options import OptionFuel, Payback, YearsCost
from foundation.model.takeoff import Item, TakeOff
from foundation.money.fuels import fuels, heat_price
from foundation.money.lifecycle import escalating_worth
from foundation.money.loan import MONTHS, loan_payment
from foundation.money.payback import payback, yearly_worths
from foundation.project import Project
from foundation.project.schema_heat import Finance
from foundation.project.schema_money import Loan
from foundation.studies.option_heat import PlanHeat, band

CASES = ("low", "likely", "high")
LIKELY = 1
EQUAL = 0.005
"""Money that differs by half a cent is the same. [$]"""
FAR = 100
"""Years after which nothing pays back any more; a foundation may stand as long. [yr]"""


@dataclass(frozen=True)
class Running:
    """What one option's heat costs.

    Attributes
    ----------
    heat : PlanHeat
        Its heat.
    price : float
        Of a joule that reaches the room. [$/J]
    rises : tuple of float, length 3
        Low, likely and high real rise of the fuel's price a year. [-]
    """

    heat: PlanHeat
    price: float
    rises: tuple[float, float, float]

    def yearly(self, soil: int) -> float:
        """Fuel of a season at today's price.

        Parameters
        ----------
        soil : int
            Which soil, 0 to 2. [-]

        Returns
        -------
        float
            Money. [$]
        """
        return self.price * self.heat.seasons[soil]

    def worths(self, soil: int, fuel: int, rate: float, years: int) -> list[float]:
        """Worth today of each year's fuel.

        Parameters
        ----------
        soil, fuel : int
            Which soil and which rise of the price, 0 to 2. [-]
        rate : float
            Real discount rate a year. [-]
        years : int
            How many. [yr]

        Returns
        -------
        list of float
            Worths. [$]
        """
        return yearly_worths(self.yearly(soil), rate, self.rises[fuel], years)


def running_of(project: Project, heat: PlanHeat | None) -> Running | None:
    """What a project's heat costs.

    Parameters
    ----------
    project : Project
        The project, with its fuel.
    heat : PlanHeat or None
        Its heat.

    Returns
    -------
    Running or None
        None without heat or a price of fuel.
    """
    fuel = project.fuel
    if heat is None or fuel.price is None:
        return None
    step = fuel.escalation_band
    return Running(
        heat,
        heat_price(fuel.price, fuels()[fuel.kind].heat_content, fuel.efficiency),
        (fuel.escalation - step, fuel.escalation, fuel.escalation + step),
    )


def added_money(before: TakeOff, after: TakeOff) -> Band:
    """What one count costs more than another.

    Line by line: what both count is as dear in both, and prices of different lines may be off each its own way.

    Parameters
    ----------
    before, after : TakeOff
        The counts.

    Returns
    -------
    Band
        Money. [$]
    """
    each = [item_difference(one, other) for one, other in paired(before, after)]
    return Band(sum(b.low for b in each), sum(b.likely for b in each), sum(b.high for b in each))


def paired(before: TakeOff, after: TakeOff) -> list[tuple[Item | None, Item | None]]:
    """Lines of two counts that belong together.

    Parameters
    ----------
    before, after : TakeOff
        The counts.

    Returns
    -------
    list of tuple of Item or None
        In the order of the later count, then what only the earlier one has.
    """
    old, new = ({item.key: item for item in each.items} for each in (before, after))
    return [(old.get(key), new.get(key)) for key in dict.fromkeys((*new, *old))]


def item_difference(before: Item | None, after: Item | None) -> Band:
    """What a line costs more.

    Parameters
    ----------
    before, after : Item or None
        The line in each count, None where it has none.

    Returns
    -------
    Band
        Money. [$]
    """
    nothing = Band(0.0, 0.0, 0.0)
    was, now = (item.money if item is not None else nothing for item in (before, after))
    return band(now.low - was.low, now.likely - was.likely, now.high - was.high)


def monthly_payment(money: Band, loan: Loan) -> Band:
    """Payment on a loan of it.

    Parameters
    ----------
    money : Band
        What is borrowed. [$]
    loan : Loan
        How it is paid.

    Returns
    -------
    Band
        A month. [$]
    """
    return Band(
        *(loan_payment(each, loan.rate, loan.years) for each in (money.low, money.likely, money.high))
    )


def fuel_of(
    own: Running, base: Running, first: tuple[float, float], added: Band, finance: Finance, loan: Loan
) -> OptionFuel:
    """What an option's fuel comes to beside the base.

    Parameters
    ----------
    own, base : Running
        What heat costs in the option and in the base.
    first : tuple of float
        Likely first cost of the option and of the base. [$]
    added : Band
        What the option costs more. [$]
    finance : Finance
        How years are weighed.
    loan : Loan
        How it is paid.

    Returns
    -------
    OptionFuel
        The option's fuel.
    """
    yearly = band(*(own.yearly(soil) for soil in range(3)))
    months = tuple(
        Band(*(own.price * each for each in (m.low, m.likely, m.high))) for m in own.heat.heat.monthly
    )
    saved = band(*(base.yearly(soil) - own.yearly(soil) for soil in range(3)))
    cases = tuple(_cases(own, base, first, finance))
    likely = cases[4]
    owed = monthly_payment(added, loan)
    return OptionFuel(
        yearly=yearly,
        a_month=_twelfth(yearly),
        by_month=months,
        saved=saved,
        over_years=_range(likely.money, [case.money for case in cases]),
        over_years_added=_range(likely.over_base, [case.over_base for case in cases]),
        cases=cases,
        payback=_payback(own, base, added, finance),
        net_a_month=Band(
            owed.low - saved.high / MONTHS,
            owed.likely - saved.likely / MONTHS,
            owed.high - saved.low / MONTHS,
        ),
    )


def _cases(own: Running, base: Running, first: tuple[float, float], finance: Finance) -> Iterator[YearsCost]:
    for soil, fuel in product(range(3), range(3)):
        totals = [
            cost
            + each.yearly(soil) * escalating_worth(finance.discount_rate, each.rises[fuel], finance.years)
            for each, cost in zip((own, base), first, strict=True)
        ]
        yield YearsCost(CASES[soil], CASES[fuel], totals[0], totals[0] - totals[1])


def _payback(own: Running, base: Running, added: Band, finance: Finance) -> Payback:
    saved = base.yearly(LIKELY) - own.yearly(LIKELY)
    spent = added.likely
    if abs(spent) < EQUAL and abs(saved) < EQUAL:
        return Payback("no difference", 0.0, 0.0, 0.0)
    if abs(spent) < EQUAL and saved < 0:
        return Payback("never", inf, inf, inf)
    # Where less is spent and more is lost, the base is what pays back.
    turned = spent < 0 and saved < 0
    costs = [-added.high, -spent, -added.low] if turned else [added.low, spent, added.high]
    one, other = (own, base) if turned else (base, own)
    years: list[list[float]] = [[], [], []]
    for soil, fuel in product(range(3), range(3)):
        savings = [
            was - now
            for was, now in zip(
                *(each.worths(soil, fuel, finance.discount_rate, FAR) for each in (one, other)), strict=True
            )
        ]
        for case, cost in enumerate(costs):
            years[case].append(payback(cost, savings))
    likely = years[LIKELY][4]
    every = [year for some in years for year in some]
    if turned:
        kind = "eaten up"
    elif spent < EQUAL:
        kind = "at once"
    else:
        kind = "pays back" if min(every) < inf else "never"
    return Payback(kind, min(every), likely, max(every))


def _range(likely: float, every: Sequence[float]) -> Band:
    return Band(min(every), likely, max(every))


def _twelfth(money: Band) -> Band:
    return Band(money.low / MONTHS, money.likely / MONTHS, money.high / MONTHS)
