"""Levels as built out of text: a file that was filled in on site, or rows pasted from a spreadsheet."""

from __future__ import annotations

import csv
import datetime
import re
from collections.abc import Mapping, Sequence
from typing import Any, get_args

from pydantic import ValidationError

from foundation import units
from foundation.model.problem import Problem
from foundation.project.schema_money import AsBuilt
from foundation.site.words import cut_short

HEADER_WORDS = {
    "what": ("what", "measured"),
    "line": ("line", "wall", "wall line"),
    "part": ("part",),
    "station": ("station", "sta"),
    "level": ("level", "elevation", "elev"),
    "rod": ("rod", "foresight"),
    "date": ("date", "day"),
    "who": ("who", "by"),
}
"""Header words of each column."""
PASSED_OVER = ("target", "below benchmark", "rod today", "revision")
"""Columns of our own printed form that say what was planned."""
LENGTHS = ("station", "level", "rod")
KINDS: tuple[str, ...] = get_args(AsBuilt.model_fields["what"].annotation)
"""What can be measured."""
_NUMBER = re.compile(r"[-+]?\d+(\.\d*)?|[-+]?\.\d+")
_UNIT = re.compile(r"[\[(]\s*([^\])]*?)\s*[\])]")


def read_as_built(
    text: str, name: str = "levels as built"
) -> tuple[tuple[tuple[str, AsBuilt], ...], tuple[Problem, ...]]:
    """Read levels as built from text.

    The header names the columns, in any order: what, line, station, level or rod, date, who; and part, for a slab. A
    length has its unit in its cell or, in brackets, in the header. Tabs, semicolons or commas separate the columns.
    Blank lines, lines that start with ``#``, and rows in which nobody has written a level or a rod are passed over.

    Parameters
    ----------
    text : str
        The file, or what was pasted; "" for none.
    name : str
        What problems call the file.

    Returns
    -------
    entries : tuple of tuple of str and AsBuilt
        Each with the line where it stands.
    problems : tuple of Problem
        What is wrong, fatal ones first, at most about twenty.

    Examples
    --------
    >>> text = "what,line,station,level [ft],date\\ntop of footing,A-B,5 ft,205.31,2026-05-02"
    >>> entries, problems = read_as_built(text)
    >>> entries[0][1].what, round(entries[0][1].level, 4), problems
    ('top of footing', 62.5785, ())
    """
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines = [
        (number, line)
        for number, line in enumerate(plain.split("\n"), 1)
        if line.strip(" \t;,") and not line.lstrip().startswith("#")
    ]
    if not lines:
        return (), ()
    separator = next((mark for mark in "\t;," if mark in lines[0][1]), ",")
    header, *rows = [(number, _cells(line, separator)) for number, line in lines]
    places, in_units, problems = _columns(header[1], f"{name} line {header[0]}")
    entries: list[tuple[str, AsBuilt]] = []
    if not any(problem.fatal for problem in problems):
        for number, cells in rows:
            typed = {column: cells[at].strip() if at < len(cells) else "" for column, at in places.items()}
            if not (typed.get("level") or typed.get("rod")):
                continue
            where = f"{name} line {number}"
            try:
                entries.append((where, _entry(typed, in_units)))
            except ValueError as error:
                problems.append(Problem(where, separator.join(cells), f"{where}: {error}"))
    return tuple(entries), cut_short(problems, name)


def _cells(line: str, separator: str) -> list[str]:
    # One line at a time: a quote that never closes cannot swallow the lines after it.
    try:
        return next(csv.reader([line], delimiter=separator, skipinitialspace=True))
    except csv.Error:
        return line.split(separator)


def _columns(header: Sequence[str], where: str) -> tuple[dict[str, int], dict[str, str], list[Problem]]:
    """Where each column stands, the units of the lengths, and what is wrong with the header."""
    places: dict[str, int] = {}
    in_units: dict[str, str] = {}
    problems = []
    for at, cell in enumerate(header):
        word = " ".join(_UNIT.sub("", cell).replace("_", " ").lower().split())
        column = next((column for column, known in HEADER_WORDS.items() if word in known), None)
        if column is None:
            if word and word not in PASSED_OVER:
                known = ", ".join(HEADER_WORDS)
                sentence = f'{where}: column "{cell.strip()}" is not used; known are {known}.'
                problems.append(Problem(where, cell, sentence, fatal=False))
        elif column in places:
            problems.append(Problem(where, cell, f"{where}: two columns for the {column}; keep one."))
        else:
            places[column] = at
            unit = _UNIT.search(cell)
            if unit and column in LENGTHS:
                in_units[column] = unit.group(1)
    if "what" not in places:
        problems.append(
            Problem(where, "", f"{where}: the header names no column what, such as top of footing.")
        )
    if "level" not in places and "rod" not in places:
        problems.append(Problem(where, "", f"{where}: the header names no column level and none rod."))
    return places, in_units, problems


def _entry(typed: Mapping[str, str], in_units: Mapping[str, str]) -> AsBuilt:
    """One row; a ValueError says what is wrong with it."""
    what = " ".join(typed["what"].lower().split())
    if what not in KINDS:
        raise ValueError(f'what is "{typed["what"]}": write one of {", ".join(KINDS)}.')
    values: dict[str, Any] = {"what": what}
    values |= {column: typed[column] for column in ("line", "part", "who") if typed.get(column)}
    for column in LENGTHS:
        if typed.get(column):
            values[column] = _length(column, typed[column], in_units.get(column, ""))
    if typed.get("date"):
        try:
            values["date"] = datetime.date.fromisoformat(typed["date"])
        except ValueError:
            raise ValueError(
                f'date "{typed["date"]}" is not a date: write year-month-day, such as 2026-05-02.'
            ) from None
    try:
        return AsBuilt.model_validate(values, context={"si": True})
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        column = str(first["loc"][0])
        said = first["msg"][0].lower() + first["msg"][1:]
        raise ValueError(f'{column} "{typed[column][:40]}": {said}.') from None


def _length(column: str, cell: str, unit: str) -> float:
    if _NUMBER.fullmatch(cell):
        if not unit:
            raise ValueError(
                f'{column} "{cell}" has no unit: write {cell} ft or {cell} m, or put the unit in the header, '
                f"such as {column} [ft]."
            )
        cell = f"{cell} {unit}"
    try:
        return units.read(cell, "length")
    except units.UnitsError as error:
        raise ValueError(f"{column} {error}") from None
