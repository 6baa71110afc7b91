"""Cautions with room for initials, and the log of every input with its source; assumed values are marked."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from foundation import units
from foundation.handover.as_text import caution_text, initialled, place_text
from foundation.handover.papers.blocks import Block, Cell, Sheet, paragraph, table
from foundation.handover.papers.content import SHAPES, Content
from foundation.handover.papers.holding import CONCERNS, stop_name
from foundation.model.caution import Caution, Severity
from foundation.project.check import kind_at
from foundation.project.paths import Location, path_text


def caution_sheet(content: Content, cautions: tuple[Caution, ...]) -> Sheet:
    """Every caution, worst first.

    Parameters
    ----------
    content : Content
        What is shown.
    cautions : tuple of Caution
        The cautions.

    Returns
    -------
    Sheet
        The sheet.
    """
    rows: list[list[Cell]] = []
    for each in cautions:
        read = initialled(each, content.plan.project)
        place, sentence = place_text(each, content.system), caution_text(each, content.system)
        rows.append(
            [
                {
                    "text": f"{SHAPES[each.trap.severity]} {each.trap.severity.name}",
                    "strong": each.trap.severity is Severity.STOP,
                },
                {"text": stop_name(each), "small": place, "strong": True},
                sentence,
                {"text": each.trap.rule, "quiet": True},
                each.trap.decides,
                {"text": f"{read.who}, {read.date.isoformat()}", "strong": True} if read else "",
            ]
        )
    blocks: list[Block] = [paragraph(_counts(content, cautions))]
    if rows:
        heads = (
            "",
            "What and where",
            "The number that tripped it",
            "Rule, with its edition and mark",
            "Decides",
            "Initials, date",
        )
        blocks.append(table(heads, rows, (0, 1.5, 3.0, 2.4, 0.8, 1.1), size=0.94, boxed=True))
    return Sheet("cautions", "Cautions", "What has to be settled, and who decides?", tuple(blocks))


def _counts(content: Content, cautions: tuple[Caution, ...]) -> str:
    if not cautions:
        return "No caution on these inputs."
    unread = [
        each
        for each in cautions
        if each.trap.severity is Severity.STOP and not initialled(each, content.plan.project)
    ]
    held = sorted(
        {key for each in unread for key, names in CONCERNS.items() if set(names) & set(each.trap.sheets)}
    )
    text = f"{len(cautions)} cautions; {len(unread)} STOP not read yet."
    if held:
        text += f" Held back until they are initialled: {', '.join(held)}."
    return text + " What an engineer decides takes the engineer's name."


def input_sheet(content: Content) -> Sheet:
    """Every input with its value and where it comes from.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    rows = list(input_rows(content))
    marked = len(content.plan.assumptions)
    words = (
        f"{marked} value{'' if marked == 1 else 's'} assumed, not typed: marked ▲. All others were entered."
    )
    log = table(("Input", "Value", "Source"), rows, (2.0, 1.6, 1.5), size=0.86, inset=0.45)
    return Sheet(
        "inputs",
        "Input log",
        "Where does each number come from?",
        (paragraph(words), {"kind": "columns", "count": 2, "blocks": [log]}),
    )


def input_rows(content: Content) -> Iterator[list[Cell]]:
    """Rows of the log, each group under its own head.

    Parameters
    ----------
    content : Content
        What is shown.

    Yields
    ------
    list
        Cells.
    """
    assumed = {each.place: each.why for each in content.plan.assumptions}
    group = None
    for location, section, name, value in _leaves(content.plan.project, ()):
        path = path_text(location)
        if path in assumed:
            source: Cell = {"text": f"▲ assumed: {assumed[path]}", "quiet": True}
        elif name in section.model_fields_set and value not in (None, "", [], {}):
            source = _source(section)
        else:
            continue
        here = path_text(location[:-1])
        if here != group:
            group = here
            title = getattr(section, "name", "") if here else ""
            yield [
                {
                    "text": f"{here or 'project'}{f': {title}' if title and isinstance(title, str) else ''}",
                    "strong": True,
                    "span": 3,
                }
            ]
        words = str(location[-1]).replace("_", " ")
        yield [words, {"text": value_text(value, kind_at(location), content.system), "strong": True}, source]


def _leaves(section: BaseModel, location: Location) -> Iterator[tuple[Location, BaseModel, str, Any]]:
    """Fields of a table that hold no tables, then those of the tables in it."""
    inside: list[tuple[Location, BaseModel]] = []
    for name, field in type(section).model_fields.items():
        value, here = getattr(section, name), (*location, field.alias or name)
        if isinstance(value, BaseModel):
            inside.append((here, value))
        elif isinstance(value, list) and value and all(isinstance(each, BaseModel) for each in value):
            inside += [((*here, place), each) for place, each in enumerate(value)]
        elif (
            isinstance(value, dict) and value and all(isinstance(each, BaseModel) for each in value.values())
        ):
            inside += [((*here, key), each) for key, each in value.items()]
        else:
            yield here, section, name, value
    for here, each in inside:
        yield from _leaves(each, here)


def _source(section: BaseModel) -> str:
    """Who said so and when, where the table tells."""
    who = getattr(section, "source", "") or getattr(section, "sized_by", "") or getattr(section, "by", "")
    day = getattr(section, "date", None) or getattr(section, "quoted", None)
    told = [who] if isinstance(who, str) and who else []
    return ", ".join(told + ([day.isoformat()] if isinstance(day, datetime.date) else [])) or "entered"


def value_text(value: Any, kind: str | None, system: str) -> str:
    """A value as the log shows it.

    Parameters
    ----------
    value : object
        SI value, choice, text or list.
    kind : str or None
        Kind of quantity, None for plain text and choices.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Text with its unit.
    """
    if isinstance(value, dict):
        return ", ".join(f"{key} {value_text(each, kind, system)}" for key, each in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(value_text(each, kind, system) for each in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int) and kind not in (None, "date"):
        # As it was typed: the log is where a rounded number is looked up.
        if kind == "money":
            return f"${value:,.2f}"
        return (
            units.exact(value, "length", system)
            if kind == "length"
            else units.write(value, str(kind), system)
        )
    return str(value)
