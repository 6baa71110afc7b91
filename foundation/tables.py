"""Loads the sourced tables that ship as CSV: what a source printed, with where it stands there."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from foundation import places

MARKS = ("read", "memory", "derived", "practice")
"""How a value was come by, best first."""
_KEYS = ("title", "edition", "table", "mark", "source", "transcribed")


class TableError(ValueError):
    """A table that is not well formed; the message is one plain sentence with the table's name."""


@dataclass(frozen=True)
class Table:
    """A table as its source printed it.

    Attributes
    ----------
    name : str
        Its file's name without ``.csv``: body, title, edition and table, joined by underscores.
    names : tuple of str
        Names of the columns.
    units : mapping of str to str
        Unit of each column, "-" for none.
    rows : tuple of mapping of str to str
        The cells as printed, by column.
    title, edition, table : str
        The source, its edition, and the table's name there.
    mark : str
        One of `MARKS`; where the rows carry their own in a column ``mark``, the weakest of them.
    source : str
        Where it was found.
    transcribed : str
        The day it was copied.
    """

    name: str
    names: tuple[str, ...]
    units: Mapping[str, str]
    rows: tuple[Mapping[str, str], ...]
    title: str
    edition: str
    table: str
    mark: str
    source: str
    transcribed: str

    @property
    def cite(self) -> str:
        """The source in one line."""
        return f"{self.title}, {self.edition}, {self.table}: {self.source} [{self.mark}]"


def parse(name: str, text: str) -> Table:
    """Make a table of the text of its file.

    Parameters
    ----------
    name : str
        The file's name without ``.csv``.
    text : str
        Lines ``# key: value`` first, then a row of names, a row of units, and the rows.

    Returns
    -------
    Table
        The table.

    Raises
    ------
    TableError
        If anything is missing, doubled or of the wrong length.
    """

    def error(what: str) -> TableError:
        return TableError(f"The table {name} {what}.")

    if len(name.split("_")) != 4 or not all(name.split("_")):
        raise error("is not named <body>_<title>_<edition>_<table>")
    lines = text.splitlines()
    count = next((at for at, line in enumerate(lines) if not line.startswith("#")), len(lines))
    about: dict[str, str] = {}
    for line in lines[:count]:
        key, colon, value = (part.strip() for part in line.removeprefix("#").partition(":"))
        if not colon or not value or key not in _KEYS or key in about:
            raise error(
                f'has the line "{line}", where one of {", ".join(_KEYS)} with a value, each once, would do'
            )
        about[key] = value
    missing = [key for key in _KEYS if key not in about]
    if missing:
        raise error(f"does not say its {', '.join(missing)}")
    try:
        cells = [row for row in csv.reader(lines[count:], strict=True) if row]
    except csv.Error as problem:
        raise error(f"is not well-formed CSV: {problem}") from problem
    if len(cells) < 3:
        raise error("needs a row of names, a row of units and at least one row of values")
    names, units, *rows = ([cell.strip() for cell in row] for row in cells)
    if not all(names) or len(set(names)) != len(names):
        raise error("has a column without a name or two of one name")
    for at, row in enumerate((units, *rows)):
        if len(row) != len(names):
            where = f"row {at}" if at else "its row of units"
            raise error(f"has {len(row)} cells in {where}, where its {len(names)} names ask for as many")
    if not all(units):
        raise error("has a column without a unit; a dash stands for none")
    table = Table(
        name=name,
        names=tuple(names),
        units=MappingProxyType(dict(zip(names, units, strict=True))),
        rows=tuple(MappingProxyType(dict(zip(names, row, strict=True))) for row in rows),
        **about,
    )
    wrong = {table.mark, *(row["mark"] for row in table.rows if "mark" in row)} - {*MARKS}
    if wrong:
        raise error(f'has the mark "{min(wrong)}", where one of {", ".join(MARKS)} would do')
    return table


def load(name: str) -> Table:
    """Load a table that ships with the package.

    Parameters
    ----------
    name : str
        Its file's name without ``.csv``.

    Returns
    -------
    Table
        The table.

    Raises
    ------
    KeyError
        If there is no such table; the message lists those that there are.
    TableError
        If it is not well formed.

    Examples
    --------
    >>> [row["name"] for row in load("practice_step-rules_2026_rule-sets").rows]
    ['code-text', 'canada-600', 'trade-24']
    """
    known = {path.stem: path for path in sorted(places.data().glob("*.csv"))}
    if name not in known:
        raise KeyError(f"There is no table {name}; there are {', '.join(known)}.")
    return parse(name, known[name].read_text(encoding="utf-8"))
