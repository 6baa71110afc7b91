"""A table with its formulas as data: written as a sheet of a workbook and as a CSV file alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from foundation.units.kinds import MEASURES, Kind, scale

POUND = 0.45359237
"""The international pound, exactly (NIST SP 811 [memory]). [kg]"""
TITLE_ROWS = 2
"""Rows above the facts: the job with the sheet's title, and the revision. [-]"""


@dataclass(frozen=True)
class Shown:
    """How a kind of quantity is shown in one system of units.

    Attributes
    ----------
    unit : str
        Its label.
    factor : float
        Size of the unit. [SI unit of the kind]
    zero : float
        Where the SI unit's zero lies on its scale; 0 for all but temperatures. [unit of its kind]
    """

    unit: str
    factor: float
    zero: float = 0.0

    def of(self, value: float) -> float:
        """A value in this unit.

        Parameters
        ----------
        value : float
            The value. [SI unit of its kind]

        Returns
        -------
        float
            The number that is shown. [unit of its kind]
        """
        return value / self.factor + self.zero


def shown(kind: str, system: str) -> Shown:
    """Unit in which a kind of quantity is shown.

    Parameters
    ----------
    kind : str
        Kind of quantity; ``number`` and ``mass`` among them.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Shown
        The unit.

    Examples
    --------
    >>> shown("volume", "us").unit, round(shown("volume", "us").of(1.0), 4)
    ('yd³', 1.308)
    >>> shown("temperature", "us").of(20.0)
    68.0
    """
    if kind == "number":
        return Shown("each", 1.0)
    if kind == "mass":
        return Shown("lb", POUND) if system == "us" else Shown("kg", 1.0)
    measure = MEASURES[Kind(kind)]
    label, spelling, _ = measure.us if system == "us" else measure.metric
    factor, zero = scale(measure.units[spelling], measure.si)
    return Shown(label, float(factor), float(zero))


@dataclass(frozen=True)
class Formula:
    """A formula of a sheet with the value that it has now.

    Attributes
    ----------
    text : str
        The formula, beginning with ``=``.
    value : float or str
        Its value. [unit of its column]
    """

    text: str
    value: float | str


Cell = str | float | Formula | None


@dataclass(frozen=True)
class Column:
    """A column.

    Attributes
    ----------
    key : str
        What the code calls it.
    title : str
        What stands over it.
    unit : str
        Its unit, "" for none.
    form : str
        How its numbers are written: ``text``, ``length``, ``inches``, ``volume``, ``area``, ``number``, ``whole``,
        ``price``, ``money``.
    width : float
        Its width. [characters]
    """

    key: str
    title: str
    unit: str = ""
    form: str = "text"
    width: float = 12.0

    @property
    def heading(self) -> str:
        """Title and unit."""
        return f"{self.title} [{self.unit}]" if self.unit else self.title


@dataclass(frozen=True)
class Fact:
    """A line over the table: a label, its value, its unit.

    Attributes
    ----------
    label : str
        What it is.
    value : str, float, Formula or None
        The value; None for a cell that is left to be filled in. [as its unit says]
    unit : str
        Its unit.
    form : str
        How its number is written, as in `Column`.
    typed : bool
        Whether the reader is meant to overwrite it.
    """

    label: str
    value: Cell
    unit: str = ""
    form: str = "text"
    typed: bool = False


@dataclass(frozen=True)
class Row:
    """A row.

    Attributes
    ----------
    cells : mapping of str to str, float, Formula or None
        What stands in each column.
    level : int
        0 for a row, 1 for a part of the row above it, which is folded away. [-]
    """

    cells: Mapping[str, Cell]
    level: int = 0


@dataclass
class Grid:
    """A table in the making; its addresses are those of the sheet that it will be.

    Attributes
    ----------
    name : str
        Name of the sheet and of the file.
    title : str
        What it shows.
    columns : sequence of Column
        Its columns.
    facts : list of Fact
        Lines over the table; all of them stand before the first address is asked for.
    rows : list of Row
        Its rows.
    total : mapping of str to str, float, Formula or None
        What stands under the rows; empty for none.
    unprinted : int
        Columns at the right end that are left off paper, where they would make the rest too small to read. [-]
    """

    name: str
    title: str
    columns: Sequence[Column]
    facts: list[Fact] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    total: dict[str, Cell] = field(default_factory=dict)
    unprinted: int = 0

    @property
    def header_row(self) -> int:
        """Row of the headings, counted from 1. [-]"""
        return TITLE_ROWS + len(self.facts) + 2

    @property
    def next_row(self) -> int:
        """Row that the next added one will have, counted from 1. [-]"""
        return self.header_row + 1 + len(self.rows)

    def add(self, cells: Mapping[str, Cell], level: int = 0) -> None:
        """Add a row.

        Parameters
        ----------
        cells : mapping of str to str, float, Formula or None
            What stands in each column; a column that is not named stays empty.
        level : int
            0 for a row, 1 for a part of the row above it. [-]
        """
        unknown = set(cells) - {column.key for column in self.columns}
        if unknown:
            raise KeyError(f"{self.name} has no column {', '.join(sorted(unknown))}")
        self.rows.append(Row(cells, level))

    def at(self, key: str, row: int, of_sheet: bool = False) -> str:
        """Address of a cell.

        Parameters
        ----------
        key : str
            The column's key.
        row : int
            Row, counted from 1. [-]
        of_sheet : bool
            Whether it is asked for from another sheet; it is then fixed.

        Returns
        -------
        str
            Such as ``E7``, or ``prices!$E$7``.
        """
        letter = _letter([column.key for column in self.columns].index(key))
        return f"'{self.name}'!${letter}${row}" if of_sheet else f"{letter}{row}"

    def fact_at(self, label: str) -> str:
        """Address of a fact's value.

        Parameters
        ----------
        label : str
            The fact's label.

        Returns
        -------
        str
            Such as ``$B$4``.
        """
        place = [fact.label for fact in self.facts].index(label)
        return f"$B${TITLE_ROWS + place + 1}"

    def sum_of(self, key: str) -> Formula:
        """Sum of a column over all rows.

        Parameters
        ----------
        key : str
            The column's key.

        Returns
        -------
        Formula
            The sum with its value.
        """
        values = [value_of(row.cells.get(key)) for row in self.rows]
        first, last = self.header_row + 1, self.next_row - 1
        return Formula(
            f"=SUM({self.at(key, first)}:{self.at(key, last)})",
            float(sum(value for value in values if isinstance(value, int | float))),
        )


def value_of(cell: Cell) -> str | float | None:
    """What a cell shows.

    Parameters
    ----------
    cell : str, float, Formula or None
        The cell. [unit of its column]

    Returns
    -------
    str, float or None
        Its text or number; a formula's value. [unit of its column]
    """
    return cell.value if isinstance(cell, Formula) else cell


def _letter(index: int) -> str:
    """Letter of a column, counted from 0; no sheet has more than 26."""
    return "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[index]
