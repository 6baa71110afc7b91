"""Hourly or daily temperatures out of text: one mean for each day, or sentences that say what would do."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

import numpy as np
from numpy.typing import NDArray

LARGEST = 10_000_000  # text that is read [characters]
COLDEST, WARMEST = -70.0, 57.0  # air where people live; records are −68 and 57 [memory] [°C]
READ = 0.75  # share of a day's readings without which its extremes are not known [practice] [-]
FEWEST = 4  # readings a day [practice] [-]
MOST_SENTENCES = 10
SHOWN = 40  # characters of a cell that a sentence repeats
HEAD = 40  # lines in which the header is looked for

EMPTY = {"", "na", "n/a", "nan", "null", "none", "m", "-", "--"}
NOT_AIR = (
    *("dew", "wet", "feel", "chill", "index", "apparent", "soil", "ground", "water", "normal", "depart"),
    *("flag", "quality", "source", "uncert", "code", "heating", "cooling", "hdd", "cdd", "time", "minute"),
)
"""What a column is that holds no temperature of the air."""
UNITS = {"f": True, "°f": True, "degf": True, "fahrenheit": True}
UNITS |= {"c": False, "°c": False, "degc": False, "celsius": False}
WOULD_DO = 'such as "date,min [°F],max [°F]" or "time,temperature [°C]"'
_YEAR_FIRST = re.compile(r"(\d{4})([-/.])(\d{1,2})\2(\d{1,2})|(\d{4})()(\d\d)(\d\d)")
_YEAR_LAST = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4})")


class WeatherError(ValueError):
    """Text that no year can be read from.

    Parameters
    ----------
    *sentences : str
        What is wrong, one sentence each; a long list is cut short.
    """

    def __init__(self, *sentences: str) -> None:
        rest = len(sentences) - MOST_SENTENCES
        more = (f"And {rest} more like these.",) if rest > 0 else ()
        self.sentences = sentences[:MOST_SENTENCES] + more
        super().__init__("\n".join(self.sentences))


@dataclass(frozen=True, eq=False)
class Days:
    """A mean for each day; n days.

    Attributes
    ----------
    first : date
        First day.
    mean : ndarray, shape (n,)
        Mean of the day's highest and lowest, nan where they are missing. [°C]
    notes : tuple of str
        What was made of the text, one sentence each.
    """

    first: date
    mean: NDArray[np.float64]
    notes: tuple[str, ...]


def read_days(text: str, name: str) -> Days:
    """Read a file of daily or hourly temperatures.

    Parameters
    ----------
    text : str
        The file; :func:`foundation.weather.read_weather` says its form.
    name : str
        What sentences call it.

    Returns
    -------
    Days
        Its days, without missing ones at either end.

    Raises
    ------
    WeatherError
        If something is wrong with it.
    """
    if len(text) > LARGEST:
        raise WeatherError(
            f"{name} has over {LARGEST // 1_000_000} million characters: cut it to fewer years."
        )
    table = _table(text, name)
    day, typical = _dates(table)
    notes = ("its months come from different years and are taken as one typical year",) if typical else ()
    mean = _means(table, day - day.min())
    there = np.flatnonzero(np.isfinite(mean))
    if not there.size:
        raise WeatherError(f"{name} has no temperature for any day.")
    first = date.fromordinal(int(day.min() + there[0]))
    return Days(first, mean[there[0] : there[-1] + 1], notes)


@dataclass
class _Table:
    """Rows of the text under its header."""

    name: str
    column: dict[str, list[int]]
    """Places of ``when`` (date first), and of ``max``, ``min``, ``mean`` or ``reading``."""
    fahrenheit: dict[str, bool]
    rows: list[list[str]]
    line: list[int]
    """Number of each row's line."""

    def at(self, row: int) -> str:
        return f"{self.name} line {self.line[row]}"

    def typed(self, row: int, column: str = "when") -> str:
        return _shortened(self.rows[row][self.column[column][0]])


def _table(text: str, name: str) -> _Table:
    lines = text.split("\n")
    refused = ""
    for number, line in enumerate(lines[:HEAD], start=1):
        separator = max("\t;,", key=line.count)
        if line.startswith("#") or separator not in line:
            continue
        header = _cells(line, separator)
        column, fahrenheit, wrong = _columns(header)
        if wrong:
            refused = refused or f"{name} line {number}: {wrong}"
        elif column:
            break
    else:
        raise WeatherError(
            refused or f"{name}: no line names the columns; write one above the values, {WOULD_DO}."
        )
    kept = [
        (at, _cells(line, separator))
        for at, line in enumerate(lines[number:], start=number + 1)
        if line.strip() and not line.startswith("#")
    ]
    needed = max(max(places) for places in column.values()) + 1
    if short := [(at, len(cells)) for at, cells in kept if len(cells) < needed]:
        raise WeatherError(
            *(f"{name} line {at} has {count} columns; the header asks for {needed}." for at, count in short)
        )
    if not kept:
        raise WeatherError(f"{name} has no values under its header.")
    return _Table(name, column, fahrenheit, [cells for _, cells in kept], [at for at, _ in kept])


def _shortened(cell: str) -> str:
    return cell if len(cell) <= SHOWN else f"{cell[:SHOWN]}…"


def _cells(line: str, separator: str) -> list[str]:
    # One line at a time: a quote that never closes cannot swallow the lines after it.
    cells = next(csv.reader([line], delimiter=separator)) if '"' in line else line.split(separator)
    return [cell.strip() for cell in cells]


def _columns(header: Sequence[str]) -> tuple[dict[str, list[int]], dict[str, bool], str]:
    """Places of the columns, which are in °F, and what is wrong with a line that looks like a header."""
    column: dict[str, list[int]] = {}
    fahrenheit: dict[str, bool] = {}
    for place, cell in enumerate(header):
        kind, unit = _kind(cell)
        if kind == "when":
            column.setdefault(kind, []).append(place)
            if "date" in cell.lower():
                column[kind].sort(key=lambda other: other != place)
        elif kind in column:
            return {}, {}, f'"{header[column[kind][0]]}" and "{cell}" are two columns of one kind; keep one.'
        elif kind:
            column[kind] = [place]
            if unit is not None:
                fahrenheit[kind] = unit
    for kind in ("max", "min"):
        if "max" in column and "min" in column:
            column.pop("mean", None)  # degree days are by the mean of highest and lowest
        elif "mean" in column:
            column.pop(kind, None)
    names = {kind: header[places[0]] for kind, places in column.items() if kind != "when"}
    if not column.get("when") or not names:
        return {}, {}, ""
    if {"max", "min"} & names.keys() and not {"max", "min"} <= names.keys():
        only = " ".join(names.values())
        return {}, {}, f'"{only}" stands alone: give min and max of each day, or its mean.'
    if "reading" in names and len(names) > 1:
        column.pop("reading")
        names.pop("reading")
    for kind, typed in names.items():
        if kind not in fahrenheit:
            return {}, {}, f'column "{typed}" has no unit; write it as "{typed} [°F]" or "{typed} [°C]".'
    return column, fahrenheit, ""


def _kind(cell: str) -> tuple[str, bool | None]:
    """What a column holds, "" for nothing of use, and whether it is in °F."""
    words = re.sub(r"[^a-z0-9°]+", " ", cell.lower().replace("° ", "°")).split()
    unit = next((UNITS[word] for word in reversed(words) if word in UNITS), None)
    named = [word for word in words if word not in UNITS and word not in ("deg", "degree", "degrees", "°")]
    if any("date" in word or "time" in word or word in ("day", "hour", "hr") for word in named):
        return "when", None
    if any(part in word for word in named for part in NOT_AIR):
        return "", None
    for kind, parts in (
        ("max", ("max", "high")),
        ("min", ("min", "low")),
        ("mean", ("mean", "avg", "average")),
    ):
        if any(part in word for word in named for part in parts):
            return kind, unit
    air = any(word in ("t", "air", "tmp", "tdb") or "temp" in word or "dry" in word for word in named)
    return ("reading", unit) if air or (unit is not None and not named) else ("", None)


def _dates(table: _Table) -> tuple[NDArray[np.int64], bool]:
    """Ordinal of each row's date, and whether a typical year was made one."""
    place = table.column["when"][0]
    typed = [row[place].replace("T", " ").partition(" ")[0] for row in table.rows]
    unique = dict.fromkeys(typed)
    last = [found for text in unique if (found := _YEAR_LAST.fullmatch(text))]
    month_first = any(int(found[3]) > 12 for found in last)
    if month_first and (wrong := next((found for found in last if int(found[1]) > 12), None)):
        raise WeatherError(
            f'{table.at(typed.index(wrong[0]))}: "{wrong[0]}" has its day first, other lines their month; '
            "write all dates as 2013-01-31."
        )
    day_first = bool(last) and not month_first and any(int(found[1]) > 12 for found in last)
    parsed = {text: _date(text, day_first) for text in unique}
    if bad := [row for row, text in enumerate(typed) if parsed[text] is None]:
        raise WeatherError(
            *(
                f'{table.at(row)}: "{_shortened(typed[row])}" is not a date; write it as 2013-01-31.'
                for row in bad
            )
        )
    dates = [each for text in typed if (each := parsed[text])]
    day = np.array([each.toordinal() for each in dates])
    steps = np.diff(day)
    if not (steps < 0).any() or not (steps > 0).any():
        return day, False
    calendar = np.array([100 * each.month + each.day for each in dates])
    if (np.diff(calendar) >= 0).all():
        # The 29th of February of one of its years makes way for a year of 365 days.
        kept = np.flatnonzero(calendar != 229)
        table.rows, table.line = [table.rows[row] for row in kept], [table.line[row] for row in kept]
        return np.array([date(2001, dates[row].month, dates[row].day).toordinal() for row in kept]), True
    rising = (steps > 0).sum() >= (steps < 0).sum()
    turn = int(np.flatnonzero(steps < 0 if rising else steps > 0)[0])
    raise WeatherError(
        f"{table.at(turn + 1)}: {typed[turn + 1]} follows {typed[turn]}; "
        "keep the lines of one station and sort them by time."
    )


def _date(text: str, day_first: bool) -> date | None:
    first, last = _YEAR_FIRST.fullmatch(text), _YEAR_LAST.fullmatch(text)
    try:
        if first:
            year, month, day = (int(part) for part in first.groups() if part and part.isdigit())
        elif last:
            month, day, year = int(last[1]), int(last[3]), int(last[4])
            month, day = (day, month) if day_first else (month, day)
        else:
            return None
        return date(year, month, day)
    except ValueError:
        return None


def _means(table: _Table, day: NDArray[np.int64]) -> NDArray[np.float64]:
    """Mean of each day from the table's first, nan where it is missing."""
    count = np.bincount(day)
    usual = float(np.median(count[count > 0]))
    mean = np.full(len(count), np.nan)
    if usual > 1 and "reading" in table.column:
        _refuse_repeated(table, len(count))
        if usual < FEWEST:
            raise WeatherError(
                f"{table.name} has {usual:g} readings a day; give at least {FEWEST}, or each day's min and max."
            )
        reading = _values(table, "reading")
        known = np.isfinite(reading)
        highest, lowest = np.full(len(count), -np.inf), np.full(len(count), np.inf)
        np.maximum.at(highest, day[known], reading[known])
        np.minimum.at(lowest, day[known], reading[known])
        enough = np.bincount(day[known], minlength=len(count)) >= ceil(READ * usual)
        mean[enough] = (highest[enough] + lowest[enough]) / 2
        return mean
    if (count > 1).any():
        again = int(np.flatnonzero(np.diff(np.sort(day)) == 0)[0])
        row = int(np.flatnonzero(day == np.sort(day)[again])[1])
        raise WeatherError(f"{table.at(row)}: {table.typed(row)} stands twice; keep one line for each day.")
    if "max" in table.column:
        high, low = _values(table, "max"), _values(table, "min")
        if crossed := np.flatnonzero(high < low).tolist():
            raise WeatherError(
                *(
                    f"{table.at(row)}: the max, {table.typed(row, 'max')}, is below the min, "
                    f"{table.typed(row, 'min')}; check both."
                    for row in crossed
                )
            )
        mean[day] = (high + low) / 2
    else:
        mean[day] = _values(table, "mean" if "mean" in table.column else "reading")
    return mean


def _refuse_repeated(table: _Table, days: int) -> None:
    """Local time has an hour twice in autumn; more of that is two stations in one file, or dates without times."""
    stamps = [" ".join(row[place] for place in table.column["when"]) for row in table.rows]
    if len(stamps) - len(set(stamps)) <= 2 * ceil(days / 365):
        return
    count = Counter(stamps)
    row = next(row for row, stamp in enumerate(stamps) if count[stamp] > 1)
    raise WeatherError(
        f'{table.at(row)}: "{stamps[row]}" stands {count[stamps[row]]} times; '
        "keep the lines of one station, each with its time."
    )


def _values(table: _Table, column: str) -> NDArray[np.float64]:
    """A column's numbers in °C, nan where one is missing."""
    fahrenheit = table.fahrenheit[column]
    unit, factor, zero = ("°F", 1.8, 32.0) if fahrenheit else ("°C", 1.0, 0.0)
    value = (np.array([_number(row[table.column[column][0]]) for row in table.rows]) - zero) / factor
    wrong = np.flatnonzero((value < COLDEST) | (value > WARMEST)).tolist()
    if wrong:
        limits = f"{COLDEST * factor + zero:.0f} to {WARMEST * factor + zero:.0f} {unit}"
        raise WeatherError(
            *(
                f'{table.at(row)}: "{table.typed(row, column)}" is no number; leave a missing one empty.'
                if np.isinf(value[row])
                else f"{table.at(row)}: {table.typed(row, column)} {unit} is no outdoor temperature ({limits}); "
                "check the unit in the header, and leave a missing one empty."
                for row in wrong
            )
        )
    return value


def _number(text: str) -> float:
    """The number, nan where it is missing, inf where it is none."""
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        return float("nan") if text.lower() in EMPTY else float("inf")
    return value if "_" not in text else float("inf")
