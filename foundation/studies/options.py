"""Options compared on one baseline: what each costs to build, to borrow and to heat, and how warm its floor is."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import Any

from foundation.model.caution import Caution, Severity
from foundation.model.floors import FloorsPlan
from foundation.model.options import CautionCount, Comparison, OptionFigures, OptionFuel, OptionResult
from foundation.model.problem import Problem
from foundation.model.takeoff import TakeOff
from foundation.money.fuels import fuels
from foundation.plan import Plan, PlanError, plan
from foundation.plan.climate import climate_of
from foundation.plan.floors import floors_of
from foundation.plan.takeoff import take_off
from foundation.plan.takeoff_cautions import drain_cautions, money_cautions
from foundation.project import Project, check
from foundation.project.differences import plain
from foundation.project.options import BASE, OptionProject, option_projects
from foundation.project.schema_money import OptionInput
from foundation.studies.option_foam import from_sizing
from foundation.studies.option_heat import HeatedPlan, PlanHeat, heat_of_plan, heated_plan, solve
from foundation.studies.option_money import (
    Running,
    added_money,
    fuel_of,
    monthly_payment,
    running_of,
)
from foundation.studies.running import Cancelled, Progress, Runner

__all__ = ["Comparison", "OptionProject", "compare", "from_sizing", "option_projects"]

GROUND_ALONE = (
    "Heat is what leaves through floors and concrete walls; the rest of the house is taken as the same in every "
    "choice."
)


@dataclass(frozen=True)
class _Planned:
    """An option that can be planned."""

    option: OptionProject
    plan: Plan
    heated: HeatedPlan | None


@dataclass(frozen=True)
class _Counted:
    """An option with everything that its figures are made of."""

    plan: Plan
    count: TakeOff
    cautions: tuple[Caution, ...]
    heat: PlanHeat | None
    running: Running | None


def compare(
    document: Mapping[str, Any],
    survey: str = "",
    weather: str = "",
    answer: str = "least cost",
    today: datetime.date | None = None,
    options: Sequence[OptionInput] | None = None,
    executor: Executor | None = None,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> Comparison:
    """Plan, count and heat every option of a project, and weigh each against the project as it stands.

    Parameters
    ----------
    document : mapping
        Tables of the project, as read from its file or typed in a page.
    survey : str
        Text of the shot file, "" for none.
    weather : str
        Text of the weather file, "" for none.
    answer : str
        Name of the stepping that is compared.
    today : date, optional
        Day that the age of quotes is counted to; none is stale when left out.
    options : sequence of OptionInput, optional
        Options in place of the project's own, such as those of :func:`from_sizing`.
    executor : concurrent.futures.Executor, optional
        What runs the solves, threads, processes or a cluster's; this thread when left out. The answer does not depend
        on it. Threads share what was solved with the warm floors, which are counted in this thread.
    progress : function, optional
        Called with the share done and a sentence.
    cancelled : function or threading.Event, optional
        Says whether to stop; looked at between solves.

    Returns
    -------
    Comparison
        The base and every option; one that cannot be planned says why.

    Raises
    ------
    PlanError
        If the project itself, or the path or value of an option, is wrong; each problem is one sentence.
    KeyError
        If the project has no such answer; the known ones are listed.
    StudyCancelled
        If it was stopped.
    """
    runner = Runner(executor, progress, cancelled)
    base = _base(document)
    read, problems = option_projects(document, options)
    if problems:
        raise PlanError(problems)
    planned: list[_Planned | tuple[Problem, ...]] = []
    for number, option in enumerate((base, *read)):
        runner.tell(0.1 * number / (len(read) + 1), f"Planning {option.name}")
        planned.append(_planned(option, survey, weather, answer, is_base=number == 0))
    able = [each for each in planned if isinstance(each, _Planned)]
    answers = solve([each.heated for each in able if each.heated is not None], runner, (0.1, 0.8))
    counted: dict[str, _Counted] = {}
    notes: list[str] = []
    for number, each in enumerate(able):
        runner.tell(0.8 + 0.2 * number / len(able), f"Counting {each.option.name}")
        heat = heat_of_plan(each.heated, answers) if each.heated is not None else None
        counted[each.option.name] = _counted(each.plan, answer, weather, today, heat, notes)
    found = [
        OptionResult(option.name, option.why, option.changes, None, each)
        if isinstance(each, tuple)
        else OptionResult(
            option.name,
            option.why,
            option.changes,
            _figures(counted[option.name], counted[BASE], answer, base.project),
            (),
        )
        for option, each in zip((base, *read), planned, strict=True)
    ]
    runner.tell(1.0, "Done")
    of_base = counted[BASE]
    project = base.project
    return Comparison(
        answer=answer,
        base=found[0],
        options=tuple(found[1:]),
        years=project.finance.years,
        loan_years=project.loan.years,
        loan_rate=project.loan.rate,
        quoted=project.fuel.quoted is not None
        and project.fuel.price is not None
        and any(item.quoted for item in of_base.count.items),
        cautions=money_cautions(project, today),
        notes=tuple(dict.fromkeys([*notes, *_notes(project, [each.project for each in read], of_base)])),
    )


def _base(document: Mapping[str, Any]) -> OptionProject:
    tables = plain(document)
    project, problems = check(tables)
    if project is None:
        raise PlanError(problems)
    return OptionProject(BASE, "", project, tables, ())


def _planned(
    option: OptionProject, survey: str, weather: str, answer: str, *, is_base: bool
) -> _Planned | tuple[Problem, ...]:
    """An option's plan, or why there is none; what is wrong with the base is raised."""
    try:
        made = plan(option.project, survey)
        made.stepping(answer)
        climate = climate_of(made.project, weather)
        heated = heated_plan(made, answer, climate) if climate is not None else None
    except PlanError as error:
        if is_base:
            raise
        return error.problems
    except KeyError as error:
        if is_base:
            raise
        return (Problem("", answer, f"{error.args[0]}."),)
    return _Planned(option, made, heated)


def _counted(
    made: Plan,
    answer: str,
    weather: str,
    today: datetime.date | None,
    heat: PlanHeat | None,
    notes: list[str],
) -> _Counted:
    floors: FloorsPlan | None = None
    try:
        floors = floors_of(made, answer, weather) if made.project.zones else None
    except PlanError as error:
        notes += [f"Warm floors are not counted: {problem.sentence}" for problem in error.problems]
    found = [*made.cautions[answer], *(floors.cautions if floors is not None else ())]
    found += [*drain_cautions(made, answer), *money_cautions(made.project, today)]
    return _Counted(
        plan=made,
        count=take_off(made, answer, floors, today),
        cautions=tuple({_key(caution): caution for caution in reversed(found)}.values())[::-1],
        heat=heat,
        running=running_of(made.project, heat),
    )


def _figures(own: _Counted, base: _Counted, answer: str, project: Project) -> OptionFigures:
    """What an option is compared by; finance and loan are the base project's for all."""
    first = own.count.money
    added = added_money(base.count, own.count)
    fuel: OptionFuel | None = None
    if own.running is not None and base.running is not None:
        likely = first.likely, base.count.money.likely
        fuel = fuel_of(own.running, base.running, likely, added, project.finance, project.loan)
    bare = own.plan.walls[answer].bare
    return OptionFigures(
        first_cost=first,
        added_cost=added,
        loan_payment=monthly_payment(first, project.loan),
        added_loan_payment=monthly_payment(added, project.loan),
        steps=own.plan.stepping(answer).quantities.steps,
        concrete=sum(pour.concrete for pour in own.count.pours),
        concrete_order=sum(pour.order for pour in own.count.pours),
        bare_concrete=sum(each.area for each in bare),
        barest=max((float(each.height.max()) for each in bare), default=0.0),
        cautions=_cautions(own.cautions, base.cautions),
        heat=own.heat.heat if own.heat is not None else None,
        fuel=fuel,
    )


def _cautions(own: Sequence[Caution], base: Sequence[Caution]) -> CautionCount:
    keys = [{_key(each) for each in some} for some in (own, base)]
    return CautionCount(
        stops=_of(own, Severity.STOP),
        warns=_of(own, Severity.WARN),
        notes=_of(own, Severity.NOTE),
        new=tuple(each for each in own if _key(each) not in keys[1]),
        gone=tuple(each for each in base if _key(each) not in keys[0]),
    )


def _of(cautions: Sequence[Caution], severity: Severity) -> int:
    return sum(each.trap.severity is severity for each in cautions)


def _key(caution: Caution) -> tuple[str, str]:
    """What makes two cautions the same: the trap and the place, whatever the number."""
    return caution.trap.key, caution.where


def _notes(project: Project, others: Sequence[Project], base: _Counted) -> list[str]:
    """What the reader should know about the numbers."""
    fuel = project.fuel
    notes = [*base.count.notes]
    if base.heat is None:
        return [*notes, "The climate is not told, or nothing is heated: heat and fuel are left out."]
    notes.append(GROUND_ALONE)
    if fuel.price is None:
        unit = fuels()[fuel.kind].priced_by
        return [*notes, f"The price of {fuel.kind} is not told: give it in dollars per {unit}."]
    if any(each.fuel.kind != fuel.kind for each in others):
        notes.append("Choices heat with different fuels; what the heaters themselves cost is in no number.")
    return notes
