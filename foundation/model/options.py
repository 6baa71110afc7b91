"""Nouns of choosing: options on one baseline, and what changes between two of them or two revisions."""

from __future__ import annotations

from dataclasses import dataclass

from foundation.model.caution import Caution
from foundation.model.heat import Band
from foundation.model.problem import Problem


@dataclass(frozen=True)
class FieldChange:
    """A field that two projects differ in.

    Attributes
    ----------
    path : str
        Its path, where it stands in the later project or, if it was taken out, in the earlier one.
    label : str
        Where it is, in words, such as ``house, foam, outside, thickness``.
    description : str
        What the field says, "" for a whole table.
    before, after : str
        What stands there, as typed; what is taken where it is left out, and "" for nothing.
    before_assumed, after_assumed : bool
        Whether it is left out and that is assumed.
    """

    path: str
    label: str
    description: str
    before: str
    after: str
    before_assumed: bool = False
    after_assumed: bool = False


@dataclass(frozen=True)
class OptionHeat:
    """What leaves through the floors and concrete walls of all heated parts.

    Attributes
    ----------
    yearly : Band
        In the heating season, with low, likely and high soil. [J]
    monthly : tuple of Band, length 12
        What of it leaves in each month from January on. [J]
    design_load : Band or None
        On the design day; None without a design temperature. [W]
    floor_temperature : float
        Coldest floor 1 ft inside the worst slab's edge where people live; where they have none, inside the worst
        wall. [°C]
    floor_part, floor_line : str
        Part and wall line where that is.
    floor_station : float
        Station there. [m]
    """

    yearly: Band
    monthly: tuple[Band, ...]
    design_load: Band | None
    floor_temperature: float
    floor_part: str
    floor_line: str
    floor_station: float


@dataclass(frozen=True)
class YearsCost:
    """First cost and fuel of all years that count, at today's worth, for one soil and one rise of the fuel's price.

    Attributes
    ----------
    soil, fuel : str
        ``low``, ``likely`` or ``high``.
    money : float
        The cost. [$]
    over_base : float
        Less what the base costs with that soil and rise. [$]
    """

    soil: str
    fuel: str
    money: float
    over_base: float


@dataclass(frozen=True)
class Payback:
    """How long until what is spent more than the base has come back, from the luckiest to the unluckiest case.

    Attributes
    ----------
    kind : str
        ``no difference``; ``at once``, where no more is spent and none is lost; ``pays back``; ``never``; or ``eaten
        up``, where less is spent and more is lost each year: then it is how long until that has used up what was
        saved.
    soonest, likely, latest : float
        Years over all soils, rises of the fuel's price and ends of the added cost, infinite for never. [yr]
    """

    kind: str
    soonest: float
    likely: float
    latest: float


@dataclass(frozen=True)
class OptionFuel:
    """What heat costs, and what follows over the years.

    Attributes
    ----------
    yearly : Band
        Fuel for a heating season at today's price, with low, likely and high soil. [$]
    a_month : Band
        A twelfth of it. [$]
    by_month : tuple of Band, length 12
        Fuel of each month from January on. [$]
    saved : Band
        Less than the base, a year; negative where it takes more. [$]
    over_years : Band
        First cost and fuel of all years, least, likely and most of the nine cases. [$]
    over_years_added : Band
        Less what the base costs in the same case. [$]
    cases : tuple of YearsCost
        Low, likely and high soil, each with low, likely and high rise of the fuel's price.
    payback : Payback
        Against the base.
    net_a_month : Band
        Payment on the added cost less what fuel saves, a month; negative where the client is better off from the
        start. [$]
    """

    yearly: Band
    a_month: Band
    by_month: tuple[Band, ...]
    saved: Band
    over_years: Band
    over_years_added: Band
    cases: tuple[YearsCost, ...]
    payback: Payback
    net_a_month: Band


@dataclass(frozen=True)
class CautionCount:
    """Cautions of an option, and which of them the base does not have.

    Attributes
    ----------
    stops, warns, notes : int
        How many of each. [-]
    new, gone : tuple of Caution
        Those that the base does not have, and those that only the base has.
    """

    stops: int
    warns: int
    notes: int
    new: tuple[Caution, ...]
    gone: tuple[Caution, ...]


@dataclass(frozen=True)
class OptionFigures:
    """Everything that an option is compared by.

    Attributes
    ----------
    first_cost : Band
        Of all that is counted. [$]
    added_cost : Band
        Over the base; what both take is as dear in both, so that its uncertainty drops out. [$]
    loan_payment : Band
        A month, on the first cost. [$]
    added_loan_payment : Band
        A month, on the added cost. [$]
    steps : int
        Steps of the footings. [-]
    concrete, concrete_order : float
        Of all pours, as drawn and as ordered. [m³]
    bare_concrete : float
        Concrete that will show outside. [m²]
    barest : float
        Most of it above grade anywhere. [m]
    cautions : CautionCount
        Its cautions.
    heat : OptionHeat or None
        None without a climate, or where nothing is heated.
    fuel : OptionFuel or None
        None without heat, or without a price of fuel for it and the base.
    """

    first_cost: Band
    added_cost: Band
    loan_payment: Band
    added_loan_payment: Band
    steps: int
    concrete: float
    concrete_order: float
    bare_concrete: float
    barest: float
    cautions: CautionCount
    heat: OptionHeat | None
    fuel: OptionFuel | None


@dataclass(frozen=True)
class OptionResult:
    """An option with what it comes to, or why it comes to nothing.

    Attributes
    ----------
    name, why : str
        What the client calls it, and what it is for.
    changes : tuple of FieldChange
        What differs from the base.
    figures : OptionFigures or None
        None where nothing can be planned.
    problems : tuple of Problem
        Why not.
    """

    name: str
    why: str
    changes: tuple[FieldChange, ...]
    figures: OptionFigures | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class Comparison:
    """Options beside the project that they differ from, all on one baseline.

    Attributes
    ----------
    answer : str
        The stepping that is compared.
    base : OptionResult
        The project as it stands; it always has figures.
    options : tuple of OptionResult
        In the order of the project.
    years : int
        Years that count. [yr]
    loan_years : int
        Years of the loan. [yr]
    loan_rate : float
        Its interest a year. [-]
    quoted : bool
        Whether somebody has quoted a price of the count, and the fuel's: before that no client sees money.
    cautions : tuple of Caution
        What is doubtful about the money: quotes that are stale, a payback on one fuel price.
    notes : tuple of str
        What the reader should know about the numbers, in sentences.
    """

    answer: str
    base: OptionResult
    options: tuple[OptionResult, ...]
    years: int
    loan_years: int
    loan_rate: float
    quoted: bool
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class MovedConcrete:
    """A stretch of concrete that is not where it was.

    Attributes
    ----------
    kind : str
        ``footing``, ``wall``, ``slab`` or ``pad``.
    part : str
        Part that it belongs to, "" for a pad.
    name : str
        Wall line, part or pad.
    start, end : float
        Stations on the earlier plan's line; nan for slabs and pads. [m]
    what : str
        What is another, such as ``bottom``.
    before, after : float
        What it was and what it is; nan where nothing stood or stands. [m]
    """

    kind: str
    part: str
    name: str
    start: float
    end: float
    what: str
    before: float
    after: float


@dataclass(frozen=True)
class QuantityChange:
    """A line of the count, before and after.

    Attributes
    ----------
    key, group, pour, what, kind : str
        As in the count.
    before, after : float
        As drawn. [SI unit of its kind]
    order_before, order_after : float
        As ordered. [SI unit of its kind]
    words_before, words_after : str
        The orders in the trade's words, "" where there is none.
    money : Band
        What it costs more. [$]
    """

    key: str
    group: str
    pour: str
    what: str
    kind: str
    before: float
    after: float
    order_before: float
    order_after: float
    words_before: str
    words_after: str
    money: Band


@dataclass(frozen=True)
class TotalChange:
    """A number that a change order is told by, before and after.

    Attributes
    ----------
    name : str
        ``concrete``, ``forms``, ``digging``, ``foam``, ``foam sheets``, ``tube`` or ``steps``.
    kind : str
        Kind of quantity: ``volume``, ``area``, ``length`` or ``number``.
    before, after : float
        As ordered: with waste, whole sheets, coils or quarter yards. [SI unit of its kind]
    money : Band
        What it costs more, with the work that goes with it: laying and cover of foam, backfill and hauling of what is
        dug. [$]
    """

    name: str
    kind: str
    before: float
    after: float
    money: Band


@dataclass(frozen=True)
class ChangeOrder:
    """What changes from one option or revision to another.

    Attributes
    ----------
    fields : tuple of FieldChange
        What was typed otherwise.
    survey_changed : bool
        Whether the shots are others.
    totals : tuple of TotalChange
        The numbers that it is told by, changed or not.
    quantities : tuple of QuantityChange
        Lines of the count that are another.
    money_before, money_after : Band
        All that is counted. [$]
    money : Band
        What it costs more. [$]
    moved : tuple of MovedConcrete
        Concrete that is not where it was.
    refused : tuple of Problem
        What would move although it is poured; while there is one, the change cannot be made.
    ordered : tuple of Problem
        What is ordered and is another now: whoever has the order is told.
    notes : tuple of str
        What the count leaves out or assumes in the later one.
    """

    fields: tuple[FieldChange, ...]
    survey_changed: bool
    totals: tuple[TotalChange, ...]
    quantities: tuple[QuantityChange, ...]
    money_before: Band
    money_after: Band
    money: Band
    moved: tuple[MovedConcrete, ...]
    refused: tuple[Problem, ...]
    ordered: tuple[Problem, ...]
    notes: tuple[str, ...]
