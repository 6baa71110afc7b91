"""Cautions, inputs and levels as built, as tables."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Sequence
from typing import Any

from pydantic import BaseModel

from foundation import units
from foundation.handover.as_json import SI_UNITS
from foundation.handover.as_text import amount_text, caution_text, initialled, place_text
from foundation.handover.grid import Cell, Column, Fact, Formula, Grid, shown
from foundation.handover.grids_levels import targets
from foundation.model.as_built import AsBuiltPlan
from foundation.model.caution import Caution
from foundation.plan import Plan
from foundation.project import Project
from foundation.project.check import field_at, kind_at
from foundation.project.paths import Location, path_text

ASSUMED = "▲ assumed"


def cautions_grid(cautions: Sequence[Caution], project: Project) -> Grid:
    """Cautions, with room for initials and date.

    Parameters
    ----------
    cautions : sequence of Caution
        In any order.
    project : Project
        The inputs with their record of initials.

    Returns
    -------
    Grid
        The table: STOP before WARN before NOTE, then by the register's number.
    """
    grid = Grid(
        "cautions",
        "cautions, worst first",
        (
            Column("number", "no.", "-", "whole", 7),
            Column("severity", "severity", width=9),
            Column("where", "where", width=24),
            Column("sentence", "what is the matter", width=50),
            Column("number_that_tripped", "number that tripped it", width=16),
            Column("rule", "rule, edition, source", width=50),
            Column("decides", "who decides", width=20),
            Column("sheets", "sheets held back", width=24),
            Column("read_by", "read by", width=16),
            Column("read_on", "on", width=12),
            Column("key", "key", width=26),
        ),
        unprinted=1,
    )
    for caution in sorted(cautions, key=lambda each: (-each.trap.severity, each.trap.number)):
        first = next(iter(caution.amounts.values()), None)
        read = initialled(caution, project)
        grid.add(
            {
                "number": caution.trap.number,
                "severity": caution.trap.severity.name,
                "where": place_text(caution, project.units),
                "sentence": caution_text(caution, project.units),
                "number_that_tripped": amount_text(first, project.units) if first else None,
                "rule": caution.trap.rule,
                "decides": caution.trap.decides,
                "sheets": ", ".join(caution.trap.sheets),
                "read_by": read.who if read else None,
                "read_on": read.date.isoformat() if read else None,
                "key": caution.trap.key,
            }
        )
    return grid


def inputs_grid(project: Project) -> Grid:
    """Every input with its value, and whether it was entered or is assumed.

    Parameters
    ----------
    project : Project
        The inputs.

    Returns
    -------
    Grid
        The table; what was neither entered nor is assumed is left out.
    """
    grid = Grid(
        "inputs",
        "inputs: entered, or ▲ assumed",
        (
            Column("place", "field", width=36),
            Column("value", "value", width=30),
            Column("number", "value", "SI", "number", 14),
            Column("unit", "SI unit", width=12),
            Column("entered", "entered or assumed", width=16),
            Column("why", "why", width=44),
            Column("says", "what it says", width=60),
        ),
    )
    for location, value, entered, why in _leaves(project, ()):
        kind = kind_at(location) or ""
        field = field_at(location)
        number = value if isinstance(value, int | float) and not isinstance(value, bool) else None
        unit = SI_UNITS.get(kind, "")
        grid.add(
            {
                "place": path_text(location),
                "value": _written(value, kind, project.units),
                "number": number if unit else None,
                "unit": unit if number is not None and unit else None,
                "entered": "entered" if entered else ASSUMED,
                "why": None if entered else why,
                "says": field.description if field is not None else "",
            }
        )
    return grid


def _leaves(section: BaseModel, location: Location) -> Iterable[tuple[Location, Any, bool, str]]:
    """Fields that hold a value, depth first, with whether they were entered and why they are assumed."""
    for name, field in type(section).model_fields.items():
        value, here = getattr(section, name), (*location, field.alias or name)
        extra = field.json_schema_extra
        why = str(extra["assumed"]) if isinstance(extra, dict) and "assumed" in extra else ""
        entered = name in section.model_fields_set
        if isinstance(value, BaseModel):
            yield from _leaves(value, here)
        elif isinstance(value, dict):
            for key, each in value.items():
                if isinstance(each, BaseModel):
                    yield from _leaves(each, (*here, key))
                else:
                    yield (*here, key), each, entered, why
        elif isinstance(value, list) and any(isinstance(each, BaseModel) for each in value):
            for place, each in enumerate(value):
                yield from _leaves(each, (*here, place))
        elif (entered and value is not None) or why:
            yield here, value, entered, why


def _written(value: Any, kind: str, system: str) -> str:
    if isinstance(value, list):
        return ", ".join(_written(each, kind, system) for each in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, int | float) and kind in SI_UNITS:
        return units.write(value, kind, system)
    return "" if value is None else str(value)


def as_built_grid(built: AsBuiltPlan, system: str) -> Grid:
    """Levels as built against their targets.

    Parameters
    ----------
    built : AsBuiltPlan
        The levels.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Grid
        The table.
    """
    length = shown("length", system)
    grid = Grid(
        "as-built",
        f"levels as built, held against {built.answer}",
        (
            Column("what", "what", width=18),
            Column("line", "line", width=8),
            Column("part", "part", width=18),
            Column("station", "station", length.unit, "length"),
            Column("target", "target", length.unit, "length"),
            Column("actual", "actual", length.unit, "length"),
            Column("difference", "difference", length.unit, "length"),
            Column("verdict", "verdict", width=18),
            Column("sentence", "what it means", width=60),
            Column("source", "by", width=50),
            Column("date", "date"),
            Column("who", "who", width=18),
        ),
        [
            Fact(
                "frost cover short",
                f"wall {cover.line} at {units.length(cover.station, system)}: "
                f"{amount(cover.cover, system)} where {amount(cover.asked, system)} is asked for",
            )
            for cover in built.covers
            if cover.short
        ],
    )
    for each in built.rows:
        row = grid.next_row
        target, actual = length.of(each.target), length.of(each.actual)
        grid.add(
            {
                "what": each.what,
                "line": each.line,
                "part": each.part,
                "station": None if math.isnan(each.station) else length.of(each.station),
                "target": target,
                "actual": actual,
                "difference": Formula(f"={grid.at('actual', row)}-{grid.at('target', row)}", actual - target),
                "verdict": each.verdict.value,
                "sentence": each.sentence.format_map(
                    {name: amount_text(number, system) for name, number in each.amounts.items()}
                ),
                "source": each.source,
                "date": each.date.isoformat() if each.date else None,
                "who": each.who,
            }
        )
    return grid


def amount(value: float, system: str) -> str:
    """A cover as the trade says it.

    Parameters
    ----------
    value : float
        The cover. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Inches, or millimetres.
    """
    return units.inches(value) if system == "us" else units.millimetres(value)


def as_built_form(plan: Plan, answer: str) -> Grid:
    """The form that is filled in on site and read back: every target with its level, rod, date and name left blank.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    Grid
        The table; its columns are those that the reader of levels as built knows.
    """
    length = shown("length", plan.project.units)
    grid = Grid(
        "as-built-form",
        "levels as built, to be filled in",
        (
            Column("what", "what", width=18),
            Column("line", "line", width=8),
            Column("part", "part", width=18),
            Column("station", "station", length.unit, "length"),
            Column("target", "target", length.unit, "length"),
            Column("level", "level", length.unit, "length"),
            Column("rod", "rod", length.unit, "length"),
            Column("date", "date"),
            Column("who", "who", width=18),
        ),
    )

    def add(what: str, level: float, line: str = "", station: Cell = None, part: str = "") -> None:
        target = length.of(level)
        grid.add({"what": what, "line": line, "part": part, "station": station, "target": target})

    for run in plan.schedules[answer]:
        middle = length.of((run.start + run.end) / 2)
        add("bottom of footing", run.bottom.level, run.line, middle)
        add("top of footing", run.top.level, run.line, middle)
    for piece in plan.walls[answer].pieces:
        add("top of wall", piece.top, piece.line, length.of((piece.start + piece.end) / 2))
    for what, where, _, target in targets(plan, answer):
        if what == "top of slab":
            add("slab", target.level, part=where)
    return grid
