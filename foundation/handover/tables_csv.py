"""Tables as CSV files: RFC 4180, numbers plain, and no text that a spreadsheet would take for a formula."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Sequence

from foundation.drawings.to_svg import NOT_XML
from foundation.handover.grid import Cell, Column, Grid, value_of
from foundation.handover.grids_count import count_grids
from foundation.handover.grids_floors import zones_grid
from foundation.handover.grids_levels import rods_grid, schedule_grid
from foundation.handover.grids_walls import diagonals_grid, steps_grid, walls_grid
from foundation.handover.grids_words import as_built_form, as_built_grid, cautions_grid, inputs_grid
from foundation.handover.points import numbers_of_corners, stake_points
from foundation.model.as_built import AsBuiltPlan
from foundation.model.floors import FloorsPlan
from foundation.model.takeoff import TakeOff
from foundation.plan import Plan
from foundation.project import Project

PLACES = {"length": 4, "inches": 4, "volume": 4, "area": 3, "number": 4, "whole": 0, "price": 4, "money": 2}
"""Decimal places of each form. [-]"""
DANGEROUS = "=+-@\t\r\n＝＋－＠"
"""What spreadsheets begin a formula with, and what they skip before one (OWASP, CSV injection [memory])."""


def tables(
    plan: Plan,
    answer: str,
    revision: str,
    count: TakeOff | None = None,
    floors: FloorsPlan | None = None,
    as_built: AsBuiltPlan | None = None,
    typed: Project | None = None,
) -> dict[str, str]:
    """Every table of a job as CSV text, to be saved as UTF-8.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    revision : str
        The revision hash; it stands in the last column of every row.
    count : TakeOff, optional
        Its count.
    floors : FloorsPlan, optional
        Its warm floors.
    as_built : AsBuiltPlan, optional
        Its levels as built.
    typed : Project, optional
        The inputs as typed; those of the plan when left out.

    Returns
    -------
    dict of str to str
        Text by the file's name, such as ``schedule.csv``. Formulas are given by their values.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    plan.stepping(answer)
    project = plan.project
    cautions = [*plan.cautions[answer], *(floors.cautions if floors is not None else ())]
    grids = [
        schedule_grid(plan, answer),
        steps_grid(plan, answer),
        walls_grid(plan, answer),
        rods_grid(plan, answer),
        diagonals_grid(plan, numbers_of_corners(stake_points(plan, answer))),
        cautions_grid(cautions, project),
        inputs_grid(typed or project),
        as_built_form(plan, answer),
    ]
    if count is not None:
        grids += count_grids(count, project.units)
    if floors is not None and floors.zones:
        grids.append(zones_grid(floors, project.units))
    if as_built is not None and as_built.rows:
        grids.append(as_built_grid(as_built, project.units))
    return {f"{grid.name}.csv": grid_as_csv(grid, revision) for grid in grids}


def grid_as_csv(grid: Grid, revision: str) -> str:
    """A table as CSV text; totals are left to the reader, parts of a row follow it.

    Parameters
    ----------
    grid : Grid
        The table.
    revision : str
        The revision hash.

    Returns
    -------
    str
        Headings with units, then the rows.
    """
    columns = list(grid.columns)
    parted = any(row.level for row in grid.rows)
    head = [*(["level"] if parted else []), *(column.heading for column in columns), "revision"]
    rows = [
        [
            *([str(row.level)] if parted else []),
            *(_cell(row.cells.get(column.key), column) for column in columns),
            revision,
        ]
        for row in grid.rows
    ]
    return csv_text(head, rows)


def csv_text(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """CSV as RFC 4180 has it: commas, quotes where they are needed, lines ended by CR LF.

    Parameters
    ----------
    head : sequence of str
        Headings.
    rows : iterable of sequence of str
        Cells as they shall be read.

    Returns
    -------
    str
        The text.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows(rows)
    return stream.getvalue()


def safe(text: str) -> str:
    """A text that no spreadsheet takes for a formula.

    Parameters
    ----------
    text : str
        Any text, a user's among them.

    Returns
    -------
    str
        The same, an apostrophe before what would begin a formula; characters that are none replaced by a visible mark.

    Examples
    --------
    >>> safe("=1+1"), safe(" -2"), safe("A-B")
    ("'=1+1", "' -2", 'A-B')
    """
    plain = NOT_XML.sub("�", text)
    begins = plain[:1] in DANGEROUS or plain.lstrip()[:1] in DANGEROUS
    return f"'{plain}" if plain and begins else plain


def _cell(cell: Cell, column: Column) -> str:
    value = value_of(cell)
    if value is None:
        return ""
    if isinstance(value, str):
        return safe(value)
    if not math.isfinite(value):
        return ""
    text = f"{value:z.{PLACES.get(column.form, 4)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
