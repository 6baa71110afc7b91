"""Two options or two revisions side by side: what was typed otherwise, what is counted otherwise, what it costs."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from foundation.model.heat import Band
from foundation.model.options import ChangeOrder, QuantityChange, TotalChange
from foundation.model.problem import Problem
from foundation.model.takeoff import Item, TakeOff
from foundation.plan import Plan, PlanError, plan
from foundation.plan.floors import floors_of
from foundation.plan.locked import locked_changes, moved_concrete, ordered_changes
from foundation.plan.takeoff import take_off
from foundation.project import check
from foundation.project.differences import field_changes, plain
from foundation.studies.option_money import added_money, item_difference, paired

__all__ = ["change_order", "locked_changes"]

NUMBER = "number"
WORK = ("foam-laying", "foam-cover")
"""Lines of foam that are no sheets."""
TOTALS: tuple[tuple[str, str, Callable[[Item], bool], Callable[[Item], bool]], ...] = (
    ("concrete", "volume", lambda i: i.key.startswith("concrete-"), lambda i: i.group == "concrete"),
    (
        "forms",
        "area",
        lambda i: i.key.startswith("forms-"),
        lambda i: i.group == "forms" and i.key != "steps",
    ),
    ("digging", "volume", lambda i: i.key == "digging", lambda i: i.group == "digging"),
    ("foam", "area", lambda i: i.group == "foam" and i.key not in WORK, lambda i: i.group == "foam"),
    ("tube", "length", lambda i: i.key == "tube", lambda i: i.group == "tube"),
    ("steps", NUMBER, lambda i: i.key == "steps", lambda i: i.key == "steps"),
)
"""What a change order is told by: name, kind, lines that are counted, and lines that are paid with them."""
SAME = 1e-9  # quantities that differ by less were only summed in another order


def change_order(
    before: Mapping[str, Any],
    after: Mapping[str, Any],
    survey: str = "",
    survey_after: str | None = None,
    weather: str = "",
    answer: str = "least cost",
    today: datetime.date | None = None,
) -> ChangeOrder:
    """What changes from one project to another.

    Parameters
    ----------
    before, after : mapping
        Tables of two options or two revisions; the pours are those of the earlier one.
    survey : str
        Text of the earlier one's shot file, "" for none.
    survey_after : str, optional
        Text of the later one's, the same when left out.
    weather : str
        Text of the weather file, "" for none; warm floors ask for it.
    answer : str
        Name of the stepping that is built.
    today : date, optional
        Day that the age of quotes is counted to; none is stale when left out.

    Returns
    -------
    ChangeOrder
        The changes.

    Raises
    ------
    PlanError
        If one of them cannot be planned; each problem is one sentence.
    KeyError
        If one of them has no such answer; the known ones are listed.
    """
    surveys = survey, survey if survey_after is None else survey_after
    tables = plain(before), plain(after)
    plans = [_planned(each, text) for each, text in zip(tables, surveys, strict=True)]
    counts = [_count(made, answer, weather, today) for made in plans]
    return ChangeOrder(
        fields=field_changes(*tables),
        survey_changed=surveys[0] != surveys[1],
        totals=tuple(_totals(plans, counts)),
        quantities=tuple(_quantities(*counts)),
        money_before=counts[0].money,
        money_after=counts[1].money,
        money=added_money(*counts),
        moved=moved_concrete(plans[0], plans[1], answer),
        refused=locked_changes(plans[0], plans[1], answer),
        ordered=(*ordered_changes(plans[0], plans[1], answer), *_reordered(*counts)),
        notes=counts[1].notes,
    )


def _planned(tables: Mapping[str, Any], survey: str) -> Plan:
    project, problems = check(tables)
    if project is None:
        raise PlanError(problems)
    return plan(project, survey)


def _count(made: Plan, answer: str, weather: str, today: datetime.date | None) -> TakeOff:
    return take_off(made, answer, floors_of(made, answer, weather) if made.project.zones else None, today)


def _totals(plans: Sequence[Plan], counts: Sequence[TakeOff]) -> Iterator[TotalChange]:
    for name, kind, counted, paid in TOTALS:
        orders = [math.fsum(item.order for item in count.items if counted(item)) for count in counts]
        yield TotalChange(name, kind, orders[0], orders[1], _money(counts, paid))
        if name == "foam":
            sheets = [plan.project.waste.sheet_length * plan.project.waste.sheet_width for plan in plans]
            pieces = [float(round(order / sheet)) for order, sheet in zip(orders, sheets, strict=True)]
            yield TotalChange("foam sheets", NUMBER, pieces[0], pieces[1], _money(counts, counted))


def _money(counts: Sequence[TakeOff], paid: Callable[[Item], bool]) -> Band:
    return added_money(*(replace(each, items=tuple(filter(paid, each.items))) for each in counts))


def _quantities(before: TakeOff, after: TakeOff) -> Iterator[QuantityChange]:
    for was, now in paired(before, after):
        item = now if now is not None else was
        assert item is not None  # a pair has at least one side
        quantity, order = (
            [getattr(each, what) if each is not None else 0.0 for each in (was, now)]
            for what in ("quantity", "order")
        )
        money = item_difference(was, now)
        same = was is not None and now is not None and was.order_words == now.order_words
        if same and all(abs(b - a) < SAME for a, b in (quantity, order)) and abs(money.likely) < SAME:
            continue
        words = [each.order_words if each is not None else "" for each in (was, now)]
        yield QuantityChange(
            key=item.key,
            group=item.group,
            pour=item.pour,
            what=item.what,
            kind=item.kind,
            before=quantity[0],
            after=quantity[1],
            order_before=order[0],
            order_after=order[1],
            words_before=words[0],
            words_after=words[1],
            money=money,
        )


def _reordered(before: TakeOff, after: TakeOff) -> Iterator[Problem]:
    """Pours that are ordered, and of which another amount is needed now."""
    now = {pour.name: pour for pour in after.pours}
    for pour in before.pours:
        if pour.state != "ordered":
            continue
        later = now.get(pour.name)
        if later is None:
            does = "is no longer needed"
        elif abs(later.order - pour.order) > SAME:
            does = f"takes {'more' if later.order > pour.order else 'less'} concrete"
        else:
            continue
        yield Problem(
            "pours",
            pour.name,
            f'Pour "{pour.name}" is ordered and {does} with this change: tell whoever has the order.',
            fatal=False,
        )
