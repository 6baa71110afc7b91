"""Levels as built against the plan: tolerances, what holds a footing down, and frost cover checked again."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foundation import tables
from foundation.cautions.words import plain
from foundation.model.as_built import AsBuiltPlan, AsBuiltRow, Verdict
from foundation.model.caution import Amount
from foundation.model.problem import Problem
from foundation.model.walls import FootingLine, Run
from foundation.plan.as_built_cover import READS, BuiltCover, built_cover
from foundation.plan.as_built_text import read_as_built
from foundation.plan.footings import FROST
from foundation.plan.levelling import reading
from foundation.plan.lines import along_named, slab_top
from foundation.plan.result import Plan
from foundation.project.schema_money import AsBuilt

TABLE = "aci_117_1990_levels"
INCH = 0.0254
NEAR = INCH
"""A station is laid out to the inch: so close to a step either side may have been measured. [m]"""
BOTTOM, TOP, WALL, SLAB, GRADE = (
    "bottom of footing",
    "top of footing",
    "top of wall",
    "slab",
    "finished grade",
)
LIMITS = "the limits of the plan"


@dataclass(frozen=True)
class Tolerance:
    """How far a level may be off.

    Attributes
    ----------
    low, high : float
        Down and up, low negative. [m]
    source : str
        Where it comes from, with its mark.
    """

    low: float
    high: float
    source: str


def tolerance(what: str, under_masonry: bool = False) -> Tolerance | None:
    """How far a level may be off by ACI 117.

    Parameters
    ----------
    what : str
        What was measured.
    under_masonry : bool
        Whether masonry stands on the footing.

    Returns
    -------
    Tolerance or None
        None where that standard says nothing, as for grade and the bottom of a footing.

    Examples
    --------
    >>> found = tolerance("top of footing")
    >>> round(found.low / 0.0254, 2), round(found.high / 0.0254, 2)
    (-2.0, 0.5)
    """
    table = tables.load(TABLE)
    carries = "masonry" if under_masonry and what == TOP else "other"
    for row in table.rows:
        if (row["what"], row["carries"]) == (what, carries):
            low, high = float(row["low"]) * INCH, float(row["high"]) * INCH
            return Tolerance(low, high, f"{table.edition}: {row['said_of']} [{row['mark']}]")
    return None


@dataclass(frozen=True, eq=False)
class _Measured:
    """An entry at its place on the plan."""

    place: str
    entry: AsBuilt
    line: FootingLine | None
    part: str
    station: float
    run: Run | None
    target: float
    actual: float

    @property
    def off(self) -> float:
        """How much higher it is than planned. [m]"""
        return self.actual - self.target


def as_built_of(plan: Plan, answer: str, csv_text: str = "", under_masonry: bool = False) -> AsBuiltPlan:
    """Every level as built, typed in the project or read from a file, against the plan.

    The top of a footing, the top of a wall and a slab are held against ACI 117. The bottom of a footing may be lower;
    where it is higher its frost cover and every other limit are checked again. Frost cover is looked at straight down,
    on the finished grade as built where that was shot; frost from the side stays as planned.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping that is built.
    csv_text : str
        Text of a file of levels as built, "" for none.
    under_masonry : bool
        Whether masonry stands on the footings.

    Returns
    -------
    AsBuiltPlan
        One row for each level that could be used, and a sentence for each that could not.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    plan.stepping(answer)
    read, problems = read_as_built(csv_text)
    typed = [(f"as_built[{number}]", entry) for number, entry in enumerate(plan.project.as_built, 1)]
    found, measured = list(problems), list[_Measured]()
    for place, entry in [*typed, *read]:
        try:
            measured.append(_measured(plan, answer, place, entry))
        except ValueError as error:
            found.append(Problem(place, entry.line or entry.part, f"{place}: {error}"))
    covers = _covers(plan, answer, measured)
    rows = tuple(_row(plan, each, covers, under_masonry) for each in measured)
    worst = [cover.worst() for cover in covers.values()]
    return AsBuiltPlan(answer, rows, tuple(cover for cover in worst if cover is not None), tuple(found))


def _measured(plan: Plan, answer: str, place: str, entry: AsBuilt) -> _Measured:
    """An entry at its place; a ValueError says why it has none."""
    if entry.what == SLAB:
        part, target = _slab(plan, entry)
        return _Measured(place, entry, None, part, math.nan, None, target, _actual(plan, entry, target))
    line, station = _place_on_line(plan, entry)
    runs: list[Run | None] = [None]
    if entry.what in (BOTTOM, TOP):
        runs = [
            run
            for run in plan.stepping(answer).runs
            if run.line == line.wall.name and run.start - NEAR <= station <= run.end + NEAR
        ]
    targets = _targets(plan, answer, entry.what, line, station, runs)
    if not targets:
        raise ValueError(f"wall {line.wall.name} has no {entry.what} there: check line and station.")
    actual = _actual(plan, entry, targets[0])
    best = min(range(len(targets)), key=lambda i: abs(actual - targets[i]))
    run = runs[best] if runs[0] is not None else None
    return _Measured(place, entry, line, line.wall.part, station, run, targets[best], actual)


def _slab(plan: Plan, entry: AsBuilt) -> tuple[str, float]:
    parts = plan.project.parts
    name = entry.part or (parts[0].name if len(parts) == 1 else "")
    for part in parts:
        if part.name == name:
            return name, slab_top(plan.project, part)
    known = ", ".join(part.name for part in parts)
    raise ValueError(
        f'there is no part "{entry.part}": the slab belongs to one of {known}.'
        if entry.part
        else f"a slab needs its part: one of {known}."
    )


def _place_on_line(plan: Plan, entry: AsBuilt) -> tuple[FootingLine, float]:
    """Wall line and station on it; a wall may be named from either end, and over the tees in it."""
    if not entry.line:
        known = ", ".join(line.wall.name for line in plan.lines)
        raise ValueError(f"{entry.what} needs its wall line: one of {known}.")
    if entry.station is None:
        raise ValueError(f"wall {entry.line} needs the station where it was measured.")
    pieces = [(line, along_named(plan.project, entry.line, line.wall)) for line in plan.lines]
    on_it = [(line, piece) for line, piece in pieces if piece is not None]
    if not on_it:
        known = ", ".join(line.wall.name for line in plan.lines)
        raise ValueError(f'there is no wall "{entry.line}": one of {known} would do.')
    for line, (start, end) in on_it:
        if min(start, end) - NEAR <= entry.station <= max(start, end) + NEAR:
            return line, min(max(abs(entry.station - start), 0.0), line.wall.length)
    longest = max(max(piece) for _, piece in on_it)
    raise ValueError(
        f"station {_spoken(plan, entry.station)} is not on wall {entry.line}, which is {_spoken(plan, longest)} long."
    )


def _targets(
    plan: Plan, answer: str, what: str, line: FootingLine, station: float, runs: list[Run | None]
) -> list[float]:
    """Levels that the plan has at a station: two where a step is close by."""
    if what == BOTTOM:
        return [run.bottom for run in runs if run is not None]
    if what == TOP:
        return [run.top for run in runs if run is not None]
    if what == WALL:
        return [
            piece.top
            for piece in plan.walls[answer].pieces
            if piece.line == line.wall.name and piece.start - NEAR <= station <= piece.end + NEAR
        ]
    grade = float(np.interp(station, line.node, line.finished))
    return [grade] if math.isfinite(grade) else []


def _actual(plan: Plan, entry: AsBuilt, target: float) -> float:
    if entry.level is not None:
        return entry.level
    if entry.rod is None:
        raise ValueError(f"{entry.what} has no level and no rod: write one of them.")
    # The set-up is the one whose rod is printed beside the target.
    name = reading(plan.level_book, target).set_up
    for set_up in plan.level_book.set_ups:
        if set_up.name == name:
            return set_up.instrument - entry.rod
    raise ValueError(
        f"rod {_spoken(plan, entry.rod)} says no level without levels.backsight: write that, or the level itself."
    )


def _spoken(plan: Plan, length: float) -> str:
    return f"{length / 0.3048:.2f} ft" if plan.project.units == "us" else f"{length:.3f} m"


def _covers(plan: Plan, answer: str, measured: list[_Measured]) -> dict[str, BuiltCover]:
    """Frost cover as built of each wall line where footing or grade were measured."""
    held_to = TOP if plan.project.frost.measured_to == TOP else BOTTOM
    found = {}
    for name, cover in plan.covers[answer].items():
        own = [each for each in measured if each.line is not None and each.line.wall.name == name]
        footing = [
            (each.run, each.off) for each in own if each.entry.what == held_to and each.run is not None
        ]
        grade = [(each.station, each.actual) for each in own if each.entry.what == GRADE]
        if footing or grade:
            line = plan.line(name)
            runs = [run for run in plan.stepping(answer).runs if run.line == name]
            found[name] = built_cover(plan.project, line, runs, cover, footing, grade)
    return found


def _row(plan: Plan, each: _Measured, covers: Mapping[str, BuiltCover], under_masonry: bool) -> AsBuiltRow:
    name = each.line.wall.name if each.line is not None else ""
    allowed = tolerance(each.entry.what, under_masonry)
    verdict, sentence, amounts, source = _verdict(plan, each, covers.get(name), allowed)
    return AsBuiltRow(
        place=each.place,
        what=each.entry.what,
        line=name,
        part=each.part,
        station=each.station,
        target=each.target,
        actual=each.actual,
        difference=each.off,
        low=allowed.low if allowed else math.nan,
        high=allowed.high if allowed else math.nan,
        verdict=verdict,
        sentence=sentence,
        amounts=amounts,
        source=source,
        date=each.entry.date,
        who=each.entry.who,
    )


Said = tuple[Verdict, str, dict[str, Amount], str]


def _verdict(plan: Plan, each: _Measured, cover: BuiltCover | None, allowed: Tolerance | None) -> Said:
    by = {"by": Amount(abs(each.off), "inches")}
    way = "Higher" if each.off > 0 else "Lower"
    held_to = plan.project.frost.measured_to
    if cover is not None and each.entry.what in (GRADE, held_to):
        # The run is level: it counts along all of it; grade counts where it was shot.
        least = (
            cover.least(each.run.start, each.run.end) if each.run else cover.least(each.station, each.station)
        )
        numbers = {"cover": Amount(least, "inches"), "asked": Amount(cover.asked, "inches")}
        if least < cover.asked - READS:
            off = f"{way} by {{by}}" if abs(each.off) > READS else "On the level of the plan"
            said = f"{off}: frost cover is {{cover}} where {{asked}} is asked for."
            return Verdict.SHORT, said, by | numbers, plan.project.frost.source
    else:
        numbers = {}
    if allowed is not None:
        if allowed.low - 1e-6 <= each.off <= allowed.high + 1e-6:
            return Verdict.WITHIN, "Within its tolerance.", {}, allowed.source
        bound = Amount(abs(allowed.high if each.off > 0 else allowed.low), "inches")
        said = f"{way} by {{by}}: {{bound}} is allowed."
        return Verdict.OUT, said, by | {"bound": bound}, allowed.source
    if abs(each.off) <= READS:
        return Verdict.WITHIN, "On the level of the plan.", {}, LIMITS
    if each.entry.what == GRADE:
        said = f"{way} by {{by}}: frost cover is {{cover}}, {{asked}} is asked for."
        return Verdict.HOLDS, said if numbers else f"{way} by {{by}}.", by | numbers, LIMITS
    return _bottom(each, by, numbers)


def _bottom(each: _Measured, by: dict[str, Amount], numbers: dict[str, Amount]) -> Said:
    """A bottom of footing off the plan that is not short of frost cover."""
    line, run = each.line, each.run
    assert line is not None
    assert run is not None
    if each.off < 0:
        if each.actual < line.lowest - READS:
            past = {"past": Amount(line.lowest - each.actual, "inches")}
            said = f"Lower by {{by}}, {{past}} below what {plain(line.lowest_reason)} allows."
            return Verdict.OUT, said, by | past, LIMITS
        said = "Lower by {by}: no harm to frost cover; fill with concrete, not with soil."
        return Verdict.DEEPER, said, by, LIMITS
    middle = (line.node[:-1] + line.node[1:]) / 2
    under = (middle > run.start) & (middle < run.end)
    # Frost is checked above, on the grade as built.
    rest = {
        limit.reason: float(limit.highest[under].min())
        for limit in line.limits
        if limit.reason != FROST or not numbers
    }
    tight = min(rest, key=lambda reason: rest[reason], default="")
    if tight and each.actual > rest[tight] + READS:
        over = {"over": Amount(each.actual - rest[tight], "inches")}
        verdict = Verdict.SHORT if tight == FROST else Verdict.OUT
        said = f"Higher by {{by}}, {{over}} above what {plain(tight)} allows."
        return verdict, said, by | over, LIMITS
    held = "frost cover is {cover}, {asked} is asked for" if numbers else "every limit still holds"
    return Verdict.HOLDS, f"Higher by {{by}}: {held}.", by | numbers, LIMITS
