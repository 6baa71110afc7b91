"""Levels as tables: the schedule, and the rods with today's backsight to be typed in."""

from __future__ import annotations

import math

from foundation import units
from foundation.handover.grid import Cell, Column, Fact, Formula, Grid, shown
from foundation.model.levels import Reading
from foundation.plan import Plan
from foundation.plan.levelling import reading
from foundation.plan.lines import slab_top

SIXTEENTHS = 192
"""Sixteenths of an inch in a foot. [-]"""


def schedule_grid(plan: Plan, answer: str) -> Grid:
    """The schedule of an answer: what the crew reads, run by run.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    Grid
        The table.
    """
    system, book = plan.project.units, plan.level_book
    length = shown("length", system)
    grid = Grid(
        "schedule",
        f"schedule of the footings, {answer}; stations from the wall's first corner, to outside of concrete",
        (
            Column("line", "wall", width=8),
            Column("start", "from", length.unit, "length"),
            Column("end", "to", length.unit, "length"),
            Column("length", "length", length.unit, "length"),
            Column("bottom", "bottom of footing", length.unit, "length", 14),
            *_words("bottom_words", "bottom of footing", system),
            Column("top", "top of footing", length.unit, "length", 14),
            *_words("top_words", "top of footing", system),
            Column("below", "bottom below benchmark", length.unit, "length", 14),
            Column("height", "wall height", length.unit, "length"),
            Column("cover", "least frost cover", length.unit, "length"),
            Column("binds", "held down by", width=26),
            Column("binds_at", "at", length.unit, "length"),
            Column("step", "step at its end", "-", "whole", 9),
            Column("rise", "rise there", length.unit, "length"),
        ),
        _benchmark(plan),
    )
    for run in plan.schedules[answer]:
        row = grid.next_row
        start, end = length.of(run.start), length.of(run.end)
        bottom = length.of(run.bottom.level)
        grid.add(
            {
                "line": run.line,
                "start": start,
                "end": end,
                "length": Formula(f"={grid.at('end', row)}-{grid.at('start', row)}", end - start),
                "bottom": bottom,
                "top": length.of(run.top.level),
                "below": _below(grid, "bottom", row, length.of(book.benchmark_level), bottom)
                if book.benchmark
                else None,
                "height": length.of(run.wall_height),
                "cover": None if math.isnan(run.least_cover) else length.of(run.least_cover),
                "binds": run.binds,
                "binds_at": length.of(run.binds_at),
                "step": run.step,
                "rise": length.of(run.rise) if run.step is not None else None,
                **(
                    {
                        "bottom_words": units.feet_inches(run.bottom.level),
                        "top_words": units.feet_inches(run.top.level),
                    }
                    if system == "us"
                    else {}
                ),
            }
        )
    return grid


def _words(key: str, title: str, system: str) -> list[Column]:
    return [Column(key, title, "ft-in", width=14)] if system == "us" else []


def _benchmark(plan: Plan) -> list[Fact]:
    book, length = plan.level_book, shown("length", plan.project.units)
    if not book.benchmark:
        return []
    return [Fact(f"benchmark {book.benchmark}", length.of(book.benchmark_level), length.unit, "length")]


def _below(grid: Grid, key: str, row: int, benchmark: float, level: float) -> Formula:
    return Formula(f"={grid.fact_at(grid.facts[0].label)}-{grid.at(key, row)}", benchmark - level)


def targets(plan: Plan, answer: str) -> list[tuple[str, str, str, Reading]]:
    """Every level that somebody sets with a rod.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    list of tuple of str, str, str and Reading
        What it is, where, between which stations, and the level.
    """
    system = plan.project.units

    def between(start: float, end: float) -> str:
        return f"{units.length(start, system)} to {units.length(end, system)}"

    found = []
    for run in plan.schedules[answer]:
        place = (run.line, between(run.start, run.end))
        found += [("bottom of footing", *place, run.bottom), ("top of footing", *place, run.top)]
    for piece in plan.walls[answer].pieces:
        place = (piece.line, between(piece.start, piece.end))
        found.append(("top of wall", *place, reading(plan.level_book, piece.top)))
    for ledge in plan.walls[answer].ledges:
        name = "veneer shelf" if ledge.veneer else "ledge"
        found.append((name, ledge.line, "", reading(plan.level_book, ledge.level)))
    for part in plan.project.parts:
        if part.use != "interior wall":
            found.append(
                ("top of slab", part.name, "", reading(plan.level_book, slab_top(plan.project, part)))
            )
    for extra in plan.extras:
        found.append((f"bottom of {extra.kind}", extra.name, "", extra.bottom))
    return found


def rods_grid(plan: Plan, answer: str) -> Grid:
    """Rod readings; today's backsight and turning points are typed over, and every rod follows.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    Grid
        The table; rods are blank until there is a backsight.
    """
    system, book = plan.project.units, plan.level_book
    length = shown("length", system)
    inches = (
        [
            Column("feet", "rod, whole feet", "ft", "whole"),
            Column("inches", "rod, inches over", "in", "inches"),
        ]
        if system == "us"
        else []
    )
    facts, sights = _instrument(plan)
    grid = Grid(
        "rods",
        "rods; type today's backsight over the one above the table",
        (
            Column("what", "what", width=32),
            Column("where", "where", width=18),
            Column("station", "stations", width=26),
            Column("level", "level", length.unit, "length"),
            Column("below", "below benchmark", length.unit, "length", 13),
            Column("rod", "rod today", length.unit, "length"),
            *inches,
            Column("set_up", "read from", width=26),
        ),
        facts,
    )
    for what, where, station, target in targets(plan, answer):
        row, level = grid.next_row, length.of(target.level)
        cells: dict[str, Cell] = {"what": what, "where": where, "station": station, "level": level}
        if book.benchmark:
            cells["below"] = _below(grid, "level", row, length.of(book.benchmark_level), level)
            name = target.set_up or "set-up 1"
            cells |= _rod(grid, row, f"height of instrument, {name}", sights[name], level, system)
            too_long = f"{name}: beyond the rod" if target.too_long else target.set_up
            cells["set_up"] = too_long
        grid.add(cells)
    return grid


def _instrument(plan: Plan) -> tuple[list[Fact], dict[str, float | None]]:
    """Benchmark, backsight, turning points and what follows from them; the line of sight of each set-up."""
    book, typed = plan.level_book, plan.project.levels
    length = shown("length", plan.project.units)
    facts = _benchmark(plan)
    sights: dict[str, float | None] = {}
    if not facts:
        return facts, sights
    # Filled by its own rules: the address of a fact is known once those before it stand.
    grid = Grid("rods", "", (), facts)

    def sight(number: int, text: str, blank: str, value: float | None) -> None:
        name = f"set-up {number}"
        formula = Formula(f'=IF({blank}="","",{text})', "" if value is None else value)
        facts.append(Fact(f"height of instrument, {name}", formula, length.unit, "length"))
        sights[name] = value

    benchmark = length.of(book.benchmark_level)
    back = None if typed.backsight is None else length.of(typed.backsight)
    facts.append(Fact(f"backsight on {book.benchmark} today", back, length.unit, "length", typed=True))
    first, second = grid.fact_at(facts[0].label), grid.fact_at(facts[1].label)
    sight(1, f"{first}+{second}", second, None if back is None else benchmark + back)
    for number, turn in enumerate(typed.turns, 1):
        before = sights[f"set-up {number}"]
        for name, rod in (("foresight", turn.foresight), ("backsight", turn.backsight)):
            facts.append(
                Fact(f"turning point {number}, {name}", length.of(rod), length.unit, "length", typed=True)
            )
        at = [grid.fact_at(fact.label) for fact in facts[-3:]]
        value = None if before is None else before - length.of(turn.foresight) + length.of(turn.backsight)
        sight(number + 1, f"{at[0]}-{at[1]}+{at[2]}", at[0], value)
    return facts, sights


def _rod(
    grid: Grid, row: int, instrument: str, sight: float | None, level: float, system: str
) -> dict[str, Cell]:
    """The rod, in feet and inches too; blank while there is no line of sight."""
    place, rod = grid.fact_at(instrument), grid.at("rod", row)
    value = None if sight is None else sight - level

    def blank(at: str, text: str, result: float | None) -> Formula:
        return Formula(f'=IF({at}="","",{text})', "" if result is None else result)

    cells: dict[str, Cell] = {"rod": blank(place, f"{place}-{grid.at('level', row)}", value)}
    if system == "us":
        parts = None if value is None else math.copysign(math.floor(abs(value) * SIXTEENTHS + 0.5), value)
        feet = None if parts is None else float(math.trunc(parts / SIXTEENTHS))
        over = None if parts is None or feet is None else parts / 16 - 12 * feet
        cells["feet"] = blank(rod, f"TRUNC(ROUND({rod}*{SIXTEENTHS},0)/{SIXTEENTHS})", feet)
        cells["inches"] = blank(rod, f"ROUND({rod}*{SIXTEENTHS},0)/16-12*{grid.at('feet', row)}", over)
    return cells
