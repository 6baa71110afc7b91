"""The schedule as text for a terminal."""

from __future__ import annotations

import math
from collections.abc import Sequence

from foundation import units
from foundation.model.caution import Amount, Caution
from foundation.model.levels import Reading
from foundation.plan import Plan, ScheduleRow
from foundation.plan.cautioning import may_initial
from foundation.project import Initials, Project

PSI = 6894.757
"""Pounds per square inch (NIST SP 811 [memory]). [Pa]"""
DISCLAIMER = "Local code and licensed practice decide; this is a planning aid, not engineering advice."


def level_text(reading: Reading, system: str) -> str:
    """A level in both notations.

    Parameters
    ----------
    reading : Reading
        The level.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``204'-8" (204.67 ft)``; metres in the metric system.
    """
    return units.both(reading.level) if system == "us" else units.metres(reading.level)


def plan_as_text(plan: Plan, answer: str = "") -> str:
    """What a builder reads in a terminal: answers side by side, the schedule, the worst cautions.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the answer whose schedule is printed; the first when left out.

    Returns
    -------
    str
        Lines of text.
    """
    project, system = plan.project, plan.project.units
    stepping = plan.stepping(answer) if answer else plan.steppings[0]
    lines = [f"{project.name or 'Unnamed job'}, revision {project.revision}", ""]
    lines += [
        f"{'answer':<14}{'steps':>6}{'concrete':>13}{'forms':>12}{'digging':>13}{'filler':>12}{'money':>11}"
    ]
    for each in plan.steppings:
        q = each.quantities
        if system == "us":
            concrete, forms = units.cubic_yards(q.concrete), units.write(q.forms, "area", "us")
            digging = units.cubic_yards(q.digging, 0)
        else:
            concrete, forms, digging = (
                f"{q.concrete:.2f} m³",
                units.write(q.forms, "area", "metric"),
                f"{q.digging:.0f} m³",
            )
        lines.append(
            f"{each.name:<14}{q.steps:>6}{concrete:>13}{forms:>12}{digging:>13}"
            f"{units.length(q.filler, system):>12}{units.money(q.money, 10):>11}"
        )
    lines += ["", f"Schedule: {stepping.name}", *_table(plan, plan.schedules[stepping.name])]
    cautions = plan.cautions[stepping.name]
    lines += ["", *cautions_as_text(cautions[:3], project)]
    if len(cautions) > 3:
        lines.append(f"and {len(cautions) - 3} more: foundation check")
    for notice in plan.notices:
        lines.append(f"notice: {notice.sentence}")
    assumed = [assumption.place for assumption in plan.assumptions]
    if assumed:
        lines += ["", f"▲ assumed: {', '.join(assumed)}"]
    return "\n".join([*lines, "", DISCLAIMER])


def caution_text(caution: Caution, system: str) -> str:
    """A caution's sentence with its numbers in the reader's units.

    Parameters
    ----------
    caution : Caution
        The caution.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        The sentence.
    """
    return caution.sentence.format_map(
        {name: amount_text(amount, system) for name, amount in caution.amounts.items()}
    )


def amount_text(amount: Amount, system: str) -> str:
    """A caution's number with its unit.

    Parameters
    ----------
    amount : Amount
        The number.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``52 3/8"``.
    """
    if amount.kind == "inches":
        return units.inches(amount.value) if system == "us" else units.millimetres(amount.value)
    if amount.kind == "strength":
        return f"{amount.value / PSI:,.0f} psi" if system == "us" else f"{amount.value / 1e6:.1f} MPa"
    if amount.kind == "times":
        return f"{amount.value:.1f} times"
    if amount.kind == "length":
        return units.length(amount.value, system)
    return units.write(amount.value, amount.kind, system)


def place_text(caution: Caution, system: str) -> str:
    """Where a caution is, with its station.

    Parameters
    ----------
    caution : Caution
        The caution.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Such as ``wall D-A at 13'-6" from D``.
    """
    if not caution.line:
        return caution.where
    return f"{caution.where} at {units.length(caution.station, system)} from {caution.line.split('-')[0]}"


def initialled(caution: Caution, project: Project) -> Initials | None:
    """The initials under a caution, if its number is still the one that was read.

    Parameters
    ----------
    caution : Caution
        The caution.
    project : Project
        The inputs with their record of initials.

    Returns
    -------
    Initials or None
        The record; None when nobody read it, or its number has changed since.
    """
    place = f"{caution.trap.key} {caution.where}"
    number = tripping_number(caution)
    return next(
        (
            entry
            for entry in project.initials
            if (entry.caution, entry.number) == (place, number) and may_initial(caution.trap, entry.role)
        ),
        None,
    )


def tripping_number(caution: Caution) -> str:
    """The number that tripped a caution, as the record of initials keeps it.

    Parameters
    ----------
    caution : Caution
        The caution.

    Returns
    -------
    str
        In SI units to a tenth of a millimetre, whatever the screen shows; "" where no number did.
    """
    first = next(iter(caution.amounts.values()), None)
    return f"{first.value:.4f}" if first else ""


def cautions_as_text(cautions: Sequence[Caution], project: Project) -> list[str]:
    """Cautions, two lines each.

    Parameters
    ----------
    cautions : sequence of Caution
        Worst first.
    project : Project
        The inputs with their record of initials.

    Returns
    -------
    list of str
        Lines of text.
    """
    lines = []
    for caution in cautions:
        read = initialled(caution, project)
        by = f" Read by {read.who}, {read.date.isoformat()}." if read else ""
        place = place_text(caution, project.units)
        lines.append(f"{caution.trap.severity.name:<5} {place}: {caution_text(caution, project.units)}")
        lines.append(f"      {caution.trap.rule} Decides: {caution.trap.decides}.{by}")
    return lines


def _table(plan: Plan, schedule: Sequence[ScheduleRow]) -> list[str]:
    system = plan.project.units
    benchmark = plan.level_book.benchmark
    header = f"{'wall':<6}{'from':>11}{'to':>11}  {'bottom of footing':<26}{'cover':>10}  "
    lines = [header + (f"{'below ' + benchmark:<16}" if benchmark else "") + "held down by"]
    for row in schedule:
        cover = "–" if math.isnan(row.least_cover) else units.length(row.least_cover, system)
        below = f"{units.length(row.bottom.below_benchmark, system):<16}" if benchmark else ""
        lines.append(
            f"{row.line:<6}{units.length(row.start, system):>11}{units.length(row.end, system):>11}  "
            f"{level_text(row.bottom, system):<26}{cover:>10}  {below}{row.binds}"
        )
        if row.step is not None:
            lines.append(
                f"{'':<6}step {row.step}: {'up' if row.rise > 0 else 'down'} {units.length(abs(row.rise), system)}"
            )
    return lines
