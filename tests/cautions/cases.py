"""Cautions of a project's tables, and of the demo lot with something changed."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from foundation import places
from foundation.model.caution import Caution
from foundation.model.concrete import Fill, FillStage, WallPiece
from foundation.model.walls import Stepping
from foundation.plan import Plan
from foundation.plan.beside import ground_of
from foundation.plan.cautioning import cautions_of
from foundation.plan.planner import covers_of, schedule_of
from foundation.plan.walls import walls_of
from tests.conftest import planned

FOOT = 0.3048
INCH = FOOT / 12
SURVEY = places.data("demo", "shots.csv").read_text(encoding="utf-8")
Change = Callable[[dict[str, Any]], object]


def demo(*changes: Change) -> dict[str, Any]:
    """The demo project's tables, changed."""
    tables = tomllib.loads(places.data("demo", "fallow-fen.toml").read_text(encoding="utf-8"))
    for change in changes:
        change(tables)
    return tables


def cautions(
    plan: Plan, survey: str = SURVEY, answer: str = "least cost", stepping: Stepping | None = None
) -> tuple[Caution, ...]:
    """Cautions of one answer, or of a stepping made by hand from one."""
    chosen = stepping or plan.stepping(answer)
    ground, _, beside = ground_of(plan.project, survey)
    covers = covers_of(plan.project, chosen, plan.lines, beside)
    return cautions_of(
        plan.project,
        chosen,
        plan.lines,
        beside,
        covers,
        schedule_of(chosen, plan.lines, covers, plan.level_book),
        walls_of(plan.project, chosen, plan.lines, beside, ground),
        plan.level_book,
        ground,
        plan.rules,
        plan.extras,
    )


def of_demo(*changes: Change, answer: str = "least cost") -> tuple[Caution, ...]:
    """Cautions of the demo lot, changed."""
    return cautions(planned(demo(*changes), SURVEY), answer=answer)


def named(found: Iterable[Caution], key: str) -> list[Caution]:
    """The cautions of one trap."""
    return [caution for caution in found if caution.trap.key == key]


def number(caution: Caution) -> float:
    """The number that tripped a caution."""
    return next(iter(caution.amounts.values())).value


def told(caution: Caution) -> tuple[int, str, float]:
    """Number of the trap, place, and the number that tripped it."""
    return caution.trap.number, caution.where, number(caution)


def piece(line: str, start: float, end: float, bottom: float, top: float) -> WallPiece:
    """A wall piece in feet."""
    edges = (value * FOOT for value in (start, end, bottom, top))
    return WallPiece(line, *edges, 10 * INCH, (), 0.0, 0.0)


def fill(line: str, height: float, *, top: bool = True, foot: bool = True, framed: bool = True) -> Fill:
    """Even fill along ten feet of wall, in feet; what holds it at the backfill, and its top in the end."""
    station = np.linspace(0.0, 10 * FOOT, 121)
    inside = np.zeros(len(station))
    stages = (FillStage("backfill", top, foot), FillStage("framed", framed, True))
    return Fill(line, station, inside + height * FOOT, inside, inside + height * FOOT, stages)
