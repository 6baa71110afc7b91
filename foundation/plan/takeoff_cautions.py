"""Cautions that the count finds: stale quotes, a payback on one price, the footing drain, water under the slab."""

from __future__ import annotations

import datetime

from foundation.cautions import drain, money, worst_first
from foundation.model.caution import Caution
from foundation.plan.footings import part_of
from foundation.plan.lines import slab_top
from foundation.plan.nearness import DUG_OUT
from foundation.plan.result import Plan
from foundation.plan.takeoff_drain import drains_of
from foundation.project import Project


def quotes_of(project: Project) -> dict[str, datetime.date]:
    """Days of every quote of a project.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    dict of str to date
        By what it prices: prices of the work, boards, fuel.
    """
    found = {}
    if project.prices.quoted is not None:
        found["prices of the work"] = project.prices.quoted
    found |= {each.board: each.quoted for each in project.foam_prices.boards if each.quoted is not None}
    if project.fuel.quoted is not None:
        found[project.fuel.kind] = project.fuel.quoted
    return found


def money_cautions(project: Project, today: datetime.date | None) -> tuple[Caution, ...]:
    """What is doubtful about prices.

    Parameters
    ----------
    project : Project
        The project.
    today : date or None
        Day that quotes' ages are counted to; None where nobody asks for it.

    Returns
    -------
    tuple of Caution
        Worst first.
    """
    fuel = project.fuel
    rises = fuel.escalation - fuel.escalation_band, fuel.escalation + fuel.escalation_band
    told = [(f"payback by {fuel.kind}", *rises)] if fuel.price is not None else []
    stale = (
        money.stale_prices(quotes_of(project), today, project.prices.stale_after) if today is not None else []
    )
    return worst_first([*stale, *money.payback_on_one_price(told)])


def drain_cautions(plan: Plan, answer: str) -> tuple[Caution, ...]:
    """What is doubtful about the footing drain, and water under slabs.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of Caution
        Worst first.
    """
    project, around = plan.project, plan.project.surroundings
    found = [
        *drain.drain_runs_out(around.drain_invert, around.drain_outlet, around.drain_length),
    ]
    for each in drains_of(plan, answer):
        part = part_of(project, each.part)
        underside = slab_top(project, part) - part.slab_thickness
        found += drain.drain_above_slab(each.part, each.high, underside, each.high_line, each.high_at)
    for part in project.parts:
        if part.use in (*DUG_OUT, "slab on grade", "garage"):
            found += drain.water_under_slab(part.name, slab_top(project, part), around.water_level)
    return worst_first(found)
