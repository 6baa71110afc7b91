"""The job as a workbook: live formulas that carry their values, names that stay text, pages that print."""

from __future__ import annotations

import io
import math
import re
from typing import TYPE_CHECKING, Any

from foundation import __version__
from foundation.drawings.to_svg import NOT_XML
from foundation.handover.grid import Cell, Formula, Grid
from foundation.handover.grids_count import count_grids
from foundation.handover.grids_floors import zones_grid
from foundation.handover.grids_levels import rods_grid, schedule_grid
from foundation.handover.grids_words import as_built_grid, cautions_grid, inputs_grid
from foundation.model.as_built import AsBuiltPlan
from foundation.model.floors import FloorsPlan
from foundation.model.takeoff import TakeOff
from foundation.plan import Plan
from foundation.project import Project

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

FORMS = {
    "length": "0.000",
    "inches": "0 ??/16",
    "volume": "#,##0.00",
    "area": "#,##0.0",
    "number": "#,##0.0##",
    "whole": "0",
    "price": "$#,##0.00",
    "money": "$#,##0",
}
"""How the numbers of each form are written."""
LONGEST = 32_767
"""Most characters that a cell holds. [-]"""
LONGEST_NAME = 60
"""A page's header holds 255 characters in all: a longer name of the job is cut there. [-]"""
LETTER, A4 = 1, 9
UNREAD = "�"


def workbook(
    plan: Plan,
    answer: str,
    count: TakeOff,
    revision: str,
    floors: FloorsPlan | None = None,
    as_built: AsBuiltPlan | None = None,
    typed: Project | None = None,
) -> bytes:
    """The job as the bytes of an XLSX workbook.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    count : TakeOff
        Its count.
    revision : str
        The revision hash that all papers of the set carry.
    floors : FloorsPlan, optional
        Its warm floors.
    as_built : AsBuiltPlan, optional
        Its levels as built.
    typed : Project, optional
        The inputs as typed; those of the plan, in which the house stands where it was raised to, when left out.

    Returns
    -------
    bytes
        The file; the same bytes for the same plan.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    import datetime

    import xlsxwriter

    project = plan.project
    stepping = plan.stepping(answer)
    grids = grids_of(plan, answer, count, floors, as_built, typed)
    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    # A day of making would make each file another one; the revision says what it was made from.
    book.set_properties(
        {
            "title": clean(project.name)[:250],
            "subject": clean(f"{stepping.name}, revision {project.revision}, {revision}"),
            "comments": f"foundation {__version__}",
            "created": datetime.datetime(1980, 1, 1),
        }
    )
    writer = _Writer(book, project, revision)
    for grid in grids:
        writer.sheet(grid)
    book.close()
    return stream.getvalue()


def grids_of(
    plan: Plan,
    answer: str,
    count: TakeOff,
    floors: FloorsPlan | None,
    as_built: AsBuiltPlan | None,
    typed: Project | None,
) -> list[Grid]:
    """The tables of the workbook, in the order of its sheets.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    count : TakeOff
        Its count.
    floors : FloorsPlan or None
        Its warm floors.
    as_built : AsBuiltPlan or None
        Its levels as built.
    typed : Project or None
        The inputs as typed.

    Returns
    -------
    list of Grid
        Take-off, prices, pours, schedule, rods, zones, levels as built, cautions, inputs.
    """
    project = plan.project
    take_off, prices, pours = count_grids(count, project.units)
    grids = [take_off, prices, pours, schedule_grid(plan, answer), rods_grid(plan, answer)]
    if floors is not None and floors.zones:
        grids.append(zones_grid(floors, project.units))
    if as_built is not None and as_built.rows:
        grids.append(as_built_grid(as_built, project.units))
    cautions = [*plan.cautions[answer], *(floors.cautions if floors is not None else ())]
    return [*grids, cautions_grid(cautions, project), inputs_grid(typed or project)]


def clean(text: str) -> str:
    """A text that a workbook can hold.

    Parameters
    ----------
    text : str
        Any text, a user's among them.

    Returns
    -------
    str
        The same, each character that no XML file may hold replaced by one visible mark, cut where a cell is full.
    """
    return NOT_XML.sub(UNREAD, text)[:LONGEST]


class _Writer:
    """One workbook in the making."""

    def __init__(self, book: Any, project: Project, revision: str) -> None:
        self.book, self.project, self.revision = book, project, revision
        self.formats: dict[tuple[str, ...], Format] = {}

    def sheet(self, grid: Grid) -> None:
        sheet: Worksheet = self.book.add_worksheet(grid.name)
        self.page(sheet, grid)
        name = self.project.name or "Unnamed job"
        sheet.write_string(0, 0, clean(f"{name}: {grid.title}"), self.format("text", "bold"))
        sheet.write_string(1, 0, clean(f"Revision {self.project.revision}, {self.revision}"))
        for place, fact in enumerate(grid.facts, 2):
            sheet.write_string(place, 0, clean(fact.label))
            look = ("typed",) if fact.typed else ()
            self.cell(sheet, place, 1, fact.value, self.format(fact.form, *look))
            sheet.write_string(place, 2, fact.unit)
        header = grid.header_row - 1
        for place, column in enumerate(grid.columns):
            wide = self.format("text", "wrap") if column.form == "text" and column.width >= 40 else None
            sheet.set_column(place, place, column.width, wide)
            sheet.write_string(header, place, column.heading, self.format("text", "head"))
        for number, row in enumerate(grid.rows, header + 1):
            opens = row.level == 0 and number - header < len(grid.rows) and grid.rows[number - header].level
            # Pieces are folded away under their line.
            sheet.set_row(
                number,
                None,
                None,
                {"level": row.level, "hidden": bool(row.level), "collapsed": bool(opens)},
            )
            self.row(sheet, grid, number, row.cells, ())
        if grid.total:
            self.row(sheet, grid, header + 1 + len(grid.rows), grid.total, ("total",))

    def row(self, sheet: Worksheet, grid: Grid, number: int, cells: Any, look: tuple[str, ...]) -> None:
        for place, column in enumerate(grid.columns):
            own = ("wrap",) if column.form == "text" and column.width >= 40 else ()
            self.cell(sheet, number, place, cells.get(column.key), self.format(column.form, *look, *own))

    def cell(self, sheet: Worksheet, row: int, column: int, value: Cell, look: Format) -> None:
        if isinstance(value, Formula):
            sheet.write_formula(row, column, value.text, look, value.value)
        elif isinstance(value, str):
            # As text whatever it begins with: a name is no formula and no address.
            sheet.write_string(row, column, clean(value), look)
        elif value is None or not math.isfinite(value):
            sheet.write_blank(row, column, None, look)
        else:
            sheet.write_number(row, column, value, look)

    def page(self, sheet: Worksheet, grid: Grid) -> None:
        """Print landscape on one page's width, with headings and revision on each page."""
        sheet.set_landscape()
        sheet.set_paper(LETTER if self.project.units == "us" else A4)
        sheet.fit_to_pages(1, 0)
        sheet.set_margins(left=0.4, right=0.4, top=0.75, bottom=0.6)
        sheet.repeat_rows(grid.header_row - 1)
        last = grid.header_row - 1 + len(grid.rows) + bool(grid.total)
        sheet.print_area(0, 0, last, len(grid.columns) - 1 - grid.unprinted)
        sheet.freeze_panes(grid.header_row, 1)
        sheet.outline_settings(visible=True, symbols_below=False, symbols_right=False)
        name = _in_header(self.project.name or "Unnamed job")
        revision = _in_header(f"revision {self.project.revision}, {self.revision}")
        sheet.set_header(f"&L{name}&C&A&R{revision}")
        sheet.set_footer("&LPlanning aid, not engineering advice&Rpage &P of &N")

    def format(self, form: str, *look: str) -> Format:
        """The format of a form with a look, made once."""
        key = (form, *look)
        if key not in self.formats:
            made: dict[str, Any] = {"valign": "top"}
            if form in FORMS:
                made["num_format"] = FORMS[form]
            if "bold" in look or "head" in look or "total" in look:
                made["bold"] = True
            if "head" in look:
                made |= {"text_wrap": True, "bottom": 1, "bg_color": "#E7E5E0"}
            if "total" in look:
                made["top"] = 1
            if "wrap" in look:
                made["text_wrap"] = True
            if "typed" in look:
                made |= {"border": 1, "bg_color": "#FFF6D6"}
            self.formats[key] = self.book.add_format(made)
        return self.formats[key]


def _in_header(text: str) -> str:
    """Text in a page's header, where an ampersand begins a code."""
    plain = re.sub(r"\s+", " ", clean(text)).strip()
    short = plain if len(plain) <= LONGEST_NAME else plain[: LONGEST_NAME - 1] + "…"
    return short.replace("&", "&&")
