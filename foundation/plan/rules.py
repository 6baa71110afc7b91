"""The rule set that a project names, with the numbers it replaces."""

from __future__ import annotations

import math
from collections.abc import Mapping

from foundation import tables, units
from foundation.model.problem import Problem
from foundation.model.walls import StepRules
from foundation.plan.lines import PlanError
from foundation.project import Project

TABLE = "practice_step-rules_2026_rule-sets"
OWN = "own"
FINEST = 2 * 0.0254
"""Levels are offered this close where a rule set has no module [practice]. [m]"""


def rule_sets() -> dict[str, Mapping[str, str]]:
    """The named rule sets that ship, as their table has them.

    Returns
    -------
    dict of str to mapping
        For each name its row.
    """
    return {row["name"]: row for row in tables.load(TABLE).rows}


def step_rules(project: Project) -> StepRules:
    """The step rules in force.

    Parameters
    ----------
    project : Project
        The project.

    Returns
    -------
    StepRules
        The named set's numbers, each replaced where the project types its own.

    Raises
    ------
    PlanError
        If no set has the name.
    """
    typed = project.rules
    known = rule_sets()
    if typed.set not in known and typed.set != OWN:
        names = ", ".join([*known, OWN])
        raise PlanError(
            (Problem("rules.set", typed.set, f'rules.set is "{typed.set}": the rule sets are {names}.'),)
        )
    row = known.get(typed.set, {})

    def length(own: float | None, column: str, missing: float) -> float:
        if own is not None:
            return own
        return units.read(row[column], "length") if row.get(column) else missing

    ratio = typed.rise_over_run
    if ratio is None:
        ratio = units.read(row["rise_over_run"], "number") if row.get("rise_over_run") else math.inf
    source = f"{row['source']} [{row['mark']}]" if row else "typed in the project"
    changed = [
        name for name in ("rise", "run", "rise_over_run", "module", "leg") if getattr(typed, name) is not None
    ]
    if row and changed:
        source += f"; typed in the project: {', '.join(name.replace('_', ' ') for name in changed)}"
    return StepRules(
        name=typed.set,
        source=source,
        rise=length(typed.rise, "max_rise", math.inf),
        run=length(typed.run, "min_run", 0.0),
        rise_over_run=ratio,
        ratio_binds_both=(typed.ratio_binds or row.get("ratio_binds", "lower")) == "both",
        module=length(typed.module, "module", FINEST),
        leg=typed.leg or 0.0,  # the table's is the least that a leg may be, not what it is
        station_grid=typed.station_grid,
        corner_clearance=typed.corner_clearance,
    )
