"""From a project file's tables to a Project, or to all that is wrong with them, one sentence each."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from foundation import units
from foundation.model.problem import Problem
from foundation.project.paths import Location, path_text, value_at
from foundation.project.schema import SCHEMA_VERSION, Project

Migration = Callable[[dict[str, Any]], dict[str, Any]]
MIGRATIONS: dict[int, Migration] = {}
"""For each older version of the file's form, what turns it into the next one."""

LIMITS = {
    "greater_than": ("gt", "more than"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "less than"),
    "less_than_equal": ("le", "at most"),
}


def migrated(
    document: Mapping[str, Any],
    migrations: Mapping[int, Migration] = MIGRATIONS,
    current: int = SCHEMA_VERSION,
) -> dict[str, Any]:
    """The tables in the present form.

    Parameters
    ----------
    document : mapping
        Tables as read.
    migrations : mapping of int to function
        For each older version, what turns its tables into the next version's. [-]
    current : int
        The present version. [-]

    Returns
    -------
    dict
        The tables, brought up to the present version.

    Raises
    ------
    ValueError
        If the file is of a newer version, or of one that nobody can read.
    """
    tables = dict(document)
    version = tables.get("schema", current)
    if not isinstance(version, int) or isinstance(version, bool):
        raise ValueError(f'schema is "{version}": write a whole number, now {current}.')
    if version > current:
        raise ValueError(
            f"schema is {version}, written by a newer program; this one reads up to {current}. Update the program."
        )
    while version < current:
        if version not in migrations:
            raise ValueError(
                f"schema is {version}: no program ever wrote that. The present one is {current}."
            )
        tables = migrations[version](tables)
        version += 1
    return tables | {"schema": current}


def check(document: Mapping[str, Any]) -> tuple[Project | None, tuple[Problem, ...]]:
    """Read tables into a project.

    Parameters
    ----------
    document : mapping
        Tables as read from a file or typed in a page.

    Returns
    -------
    project : Project or None
        The project; None when something is wrong.
    problems : tuple of Problem
        Everything that is wrong, together.
    """
    try:
        tables = migrated(document)
    except ValueError as error:
        return None, (Problem("schema", str(document.get("schema")), str(error)),)
    try:
        return Project.model_validate(tables), ()
    except ValidationError as error:
        return None, tuple(_problem(details, tables) for details in error.errors(include_url=False))


def _problem(details: ErrorDetails, tables: Mapping[str, Any]) -> Problem:
    location = tuple(details["loc"])
    place = path_text(location)
    typed = value_at(tables, location)
    kind = details["type"]
    context = details.get("ctx", {})
    if kind == "missing":
        sentence = f"{place} is missing. {_description(location)}"
        typed = ""
    elif kind == "extra_forbidden":
        known = list(_fields(section_at(location[:-1])))
        near = difflib.get_close_matches(str(location[-1]), known, n=1, cutoff=0.0)
        sentence = (
            f"{place} is not a known key; the nearest is {near[0]}."
            if near
            else f"{place} is not a known key."
        )
        typed = "" if isinstance(typed, dict | list) else typed
    elif kind == "literal_error":
        sentence = f'{place} is "{typed}": use {context["expected"]}.'
    elif kind in LIMITS:
        key, words = LIMITS[kind]
        sentence = f"{place} is {typed}: it must be {words} {_limit(location, context[key])}."
    elif kind == "value_error":
        sentence = f"{place}: {context['error']}" if place else str(context["error"])
        typed = "" if isinstance(typed, dict | list) else typed
    else:
        shown = f' is "{typed}"' if isinstance(typed, str | int | float | bool) else ""
        sentence = f"{place}{shown}: {details['msg'][0].lower()}{details['msg'][1:]}."
    return Problem(place, "" if typed is None else str(typed), sentence)


def section_at(location: Location) -> type[BaseModel] | None:
    """Class of the table at a location, or of the tables that a list or a table of tables there holds.

    Parameters
    ----------
    location : tuple of str or int
        Keys from the top. [-]

    Returns
    -------
    type or None
        A class of the schema, None where the schema has no table.
    """
    section: type[BaseModel] | None = Project
    picks = False  # inside a list or a table of tables the next key only picks one
    for key in location:
        if picks:
            picks = False
            continue
        field = _fields(section).get(str(key))
        if field is None:
            return None
        parts = [field.annotation, *get_args(field.annotation)]
        section = next(
            (part for part in parts if isinstance(part, type) and issubclass(part, BaseModel)), None
        )
        picks = get_origin(field.annotation) in (list, dict)
    return section


def _fields(section: type[BaseModel] | None) -> dict[str, FieldInfo]:
    """Fields of a table by their key in the file."""
    return {field.alias or name: field for name, field in section.model_fields.items()} if section else {}


def field_at(location: Location) -> FieldInfo | None:
    """The schema's field at a location.

    Parameters
    ----------
    location : tuple of str or int
        Keys from the top. [-]

    Returns
    -------
    pydantic.fields.FieldInfo or None
        The field, None where the schema has none.
    """
    return _fields(section_at(location[:-1])).get(str(location[-1]))


def kind_at(location: Location) -> str | None:
    """Kind of quantity of a field, such as ``length``; None for plain text, choices and tables.

    Parameters
    ----------
    location : tuple of str or int
        Keys from the top. [-]

    Returns
    -------
    str or None
        A kind that :func:`foundation.units.read` knows, or ``date``.
    """
    field = field_at(location)
    if field is None:
        return None
    marks = list(field.metadata)
    for part in get_args(field.annotation):
        marks += list(getattr(part, "__metadata__", ()))
    return next((mark.name for mark in marks if type(mark).__name__ == "Kind"), None)


def _description(location: Location) -> str:
    field = field_at(location)
    return field.description if field is not None and field.description else "Give it."


def _limit(location: Location, bound: float) -> str:
    if kind_at(location) == "length":
        return f"{units.feet_inches(bound)} ({units.metres(bound)})"
    return f"{bound:g}"
