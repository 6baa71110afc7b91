"""What a sheet is made of: texts, tables and drawings as plain data that the page template shows."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from foundation import units
from foundation.model.levels import Reading

Block = dict[str, Any]
Cell = str | dict[str, Any]


@dataclass(frozen=True)
class Sheet:
    """One sheet of the papers, over as many pages as it takes.

    Attributes
    ----------
    key : str
        Its stable name, such as ``layout``.
    title, question : str
        What it is, and the question that it answers.
    blocks : tuple of dict
        What stands on it.
    """

    key: str
    title: str
    question: str
    blocks: tuple[Block, ...] = field(default=())


def paragraph(text: str, **style: Any) -> Block:
    """A paragraph.

    Parameters
    ----------
    text : str
        Its words.
    **style
        Of the template: ``size`` [pt], ``strong``, ``quiet``, room ``above`` [mm].

    Returns
    -------
    dict
        The block.
    """
    above = style.pop("above", 1.6)
    return {"kind": "text", "text": {"text": text, **style}, "above": above}


def heading(text: str) -> Block:
    """A heading inside a sheet.

    Parameters
    ----------
    text : str
        Its words.

    Returns
    -------
    dict
        The block.
    """
    return {"kind": "heading", "text": text}


def table(
    heads: Sequence[str],
    rows: Sequence[Sequence[Cell]],
    widths: Sequence[float] | None = None,
    right: Sequence[int] = (),
    **style: Any,
) -> Block:
    """A table.

    Parameters
    ----------
    heads : sequence of str
        Heads, with the unit where all cells share one.
    rows : sequence of sequence
        Cells: text, or a dict with ``text`` and ``small``, ``strong``, ``quiet``, ``span``.
    widths : sequence of float or None
        Shares of the width, 0 for as wide as the text; all by their text when left out. [-]
    right : sequence of int
        Columns whose cells stand at the right. [-]
    **style
        Of the template: ``size`` [em], ``row`` least height of rows [mm], ``boxed``, ``inset`` [mm].

    Returns
    -------
    dict
        The block.
    """
    return {
        "kind": "table",
        "heads": list(heads),
        "rows": [list(row) for row in rows],
        "widths": list(widths if widths is not None else [0] * len(heads)),
        "aligns": ["right" if place in right else "left" for place in range(len(heads))],
        **style,
    }


def beside(parts: Sequence[Sequence[Block]], widths: Sequence[float]) -> Block:
    """Blocks beside each other.

    Parameters
    ----------
    parts : sequence of sequence of dict
        What stands in each column.
    widths : sequence of float
        Shares of the width, 0 for as wide as what stands in it. [-]

    Returns
    -------
    dict
        The block.
    """
    return {"kind": "beside", "parts": [list(part) for part in parts], "widths": list(widths)}


def layout_cell(metres: float, system: str, strong: bool = False) -> Cell:
    """A layout number: feet, inches and sixteenths with the decimal feet small beside it.

    Parameters
    ----------
    metres : float
        Length or level. [m]
    system : str
        ``us`` or ``metric``.
    strong : bool
        True for the few that are read first.

    Returns
    -------
    str or dict
        The cell.
    """
    if not math.isfinite(metres):
        return "–"
    if system == "metric":
        return {"text": units.metres(metres), "strong": strong}
    return {"text": units.feet_inches(metres), "small": units.decimal_feet(metres), "strong": strong}


def short_text(metres: float, system: str) -> str:
    """A short length as the trade reads it: inches, or metres.

    Parameters
    ----------
    metres : float
        Length. [m]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit, a dash for none.
    """
    if not math.isfinite(metres):
        return "–"
    return units.inches(metres) if system == "us" else units.metres(metres)


def rod_cell(reading: Reading, system: str, several: bool) -> Cell:
    """The rod that reads a level.

    Parameters
    ----------
    reading : Reading
        The level.
    system : str
        ``us`` or ``metric``.
    several : bool
        Whether there is more than one set-up, so that each rod names its own.

    Returns
    -------
    str or dict
        The cell, blank where no backsight was typed.
    """
    if reading.rod is None:
        return ""
    if reading.too_long:
        return {"text": "rod too short", "small": units.length(reading.rod, system)}
    small = [units.decimal_feet(reading.rod)] if system == "us" else []
    small += [reading.set_up] if several else []
    return {"text": units.length(reading.rod, system), "small": " ".join(small), "strong": True}


def degrees(celsius: float, system: str) -> str:
    """A temperature to a degree.

    Parameters
    ----------
    celsius : float
        The temperature. [°C]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        With its unit.

    Examples
    --------
    >>> degrees(35, "us"), degrees(-0.2, "metric")
    ('95 °F', '0 °C')
    """
    return f"{celsius * 1.8 + 32:z.0f} °F" if system == "us" else f"{celsius:z.0f} °C"


def worded(value: Any, change: Any) -> Any:
    """Blocks with every text put through a function.

    Parameters
    ----------
    value : object
        Blocks, cells or texts.
    change : callable
        What makes a text printable.

    Returns
    -------
    object
        The same shape; drawings and the template's own words stay as they are.
    """
    if isinstance(value, str):
        return change(value)
    if isinstance(value, Mapping):
        return {
            name: each if name in ("kind", "svg", "aligns") else worded(each, change)
            for name, each in value.items()
        }
    if isinstance(value, list | tuple):
        return [worded(each, change) for each in value]
    return value
