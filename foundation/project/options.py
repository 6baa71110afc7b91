"""Options of a project file: the tables with a few fields changed, read into projects of their own."""

from __future__ import annotations

import difflib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, get_origin

import tomlkit

from foundation.model.options import FieldChange
from foundation.model.problem import Problem
from foundation.project.check import check, field_at, section_at
from foundation.project.differences import field_changes, plain, text_of
from foundation.project.paths import Location, location_of, path_text, value_at
from foundation.project.schema import Project
from foundation.project.schema_money import OptionInput
from foundation.project.store import set_value

BASE = "as planned"
"""Name of the project itself among its options."""
LONGEST_PATH = 200
NOWHERE = "it leads nowhere; entries of a list are picked by their number, such as parts[1]"
KEPT = {
    "schema": "the form of the file",
    "options": "the options themselves",
    "units": "how numbers are written",
    "finance": "how all choices are weighed",
    "loan": "how all choices are paid",
    "pours": "a record of the work",
    "as_built": "a record of the work",
    "initials": "a record of the work",
    "issued": "a record of the work",
}
"""What no option changes, and what it is."""


@dataclass(frozen=True)
class OptionProject:
    """An option read into a project of its own.

    Attributes
    ----------
    name, why : str
        What the client calls it, and what it is for.
    project : Project
        The project with its fields changed.
    document : mapping
        Its tables.
    changes : tuple of FieldChange
        What differs from the base.
    """

    name: str
    why: str
    project: Project
    document: Mapping[str, Any]
    changes: tuple[FieldChange, ...]


def option_projects(
    document: Mapping[str, Any], options: Sequence[OptionInput] | None = None
) -> tuple[tuple[OptionProject, ...], tuple[Problem, ...]]:
    """Read every option of a project file.

    Parameters
    ----------
    document : mapping
        Tables as read from a file or typed in a page.
    options : sequence of OptionInput, optional
        Options in place of the project's own.

    Returns
    -------
    options : tuple of OptionProject
        Those that are sound, in their order.
    problems : tuple of Problem
        All that is wrong, together: with the project itself, else with its options at
        ``options[n].changes.<path>``.
    """
    base = plain(document)
    project, problems = check(base)
    if project is None:
        return (), problems
    found: list[OptionProject] = []
    wrong: list[Problem] = []
    taken = {BASE.casefold()}
    for number, option in enumerate(project.options if options is None else options, 1):
        place = f"options[{number}]"
        if option.name.casefold() in taken:
            wrong.append(
                Problem(
                    f"{place}.name",
                    option.name,
                    f"{place}.name is {_quoted(option.name)}, which another choice is called: give it a name of "
                    "its own.",
                )
            )
        taken.add(option.name.casefold())
        changed, problems = option_document(base, option, place)
        read, more = check(changed) if not problems else (None, ())
        if read is None:
            wrong += [*problems, *(_of_option(place, option, problem) for problem in more)]
            continue
        found.append(OptionProject(option.name, option.why, read, changed, field_changes(base, changed)))
    return (() if wrong else tuple(found)), tuple(wrong)


def option_document(
    document: Mapping[str, Any], option: OptionInput, place: str = "options[1]"
) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """The tables with an option's fields changed; its values are not read yet.

    Parameters
    ----------
    document : mapping
        Tables of a sound project.
    option : OptionInput
        What is changed.
    place : str
        Where the option stands, for what is wrong.

    Returns
    -------
    tables : dict
        The tables.
    problems : tuple of Problem
        Paths that lead nowhere, or where no option may lead.
    """
    made = tomlkit.document()
    made.update(plain(document))
    problems = []
    for path in _in_order(option.changes):
        text = option.changes[path]
        why = _wrong_path(path, text)
        if not why and not text:
            why = _take_out(made, path)
        elif not why:
            try:
                set_value(made, path, text)
            except (KeyError, IndexError, TypeError, ValueError, AttributeError):
                why = NOWHERE
        if why:
            shown = path[:LONGEST_PATH]
            problems.append(
                Problem(
                    f"{place}.changes.{shown}",
                    text,
                    f"Option {_quoted(option.name)} changes {_quoted(shown)}: {why}.",
                )
            )
    return made.unwrap(), tuple(problems)


def _in_order(changes: Mapping[str, str]) -> list[str]:
    """Paths so ordered that each means the project's own entry: what is taken out goes last, from behind."""

    def last_of(path: str) -> tuple[str, int]:
        location = location_of(path)
        number = location[-1] if location and isinstance(location[-1], int) else -1
        return path_text(location[:-1]), number

    out = [path for path, text in changes.items() if not text]
    return [*(path for path, text in changes.items() if text), *sorted(out, key=last_of, reverse=True)]


def _take_out(tables: tomlkit.TOMLDocument, path: str) -> str:
    """Take a field out where it is; what is wrong with its path, "" for nothing."""
    location = location_of(path)
    entries = [location[: at + 1] for at, key in enumerate(location) if isinstance(key, int)]
    if any(value_at(tables, entry) is None for entry in entries):
        return NOWHERE
    if value_at(tables, location) is not None:
        set_value(tables, path, None)
    return ""


def _wrong_path(path: str, text: str) -> str:
    """What is wrong with a path, "" for nothing."""
    if len(path) > LONGEST_PATH:
        return "no path is that long"
    location = location_of(path)
    if not location or path_text(location) != path:
        return "it is not the path of a field, such as parts[1].wall_top"
    if any(isinstance(key, int) and key < 0 for key in location):
        return "entries of a list are counted from 1"
    if location[0] in KEPT:
        return f"no option changes {KEPT[str(location[0])]}"
    last, section = location[-1], section_at(location)
    holder = _holds(location[:-1])
    field = None if holder else field_at(location)
    if isinstance(last, int) and holder is not list:
        return "it is not a list"
    if isinstance(last, str) and holder is list:
        return NOWHERE
    if holder is None and field is None:
        near = _nearest(location)
        return f"no field is called so{f'; the nearest is {near}' if near else ''}"
    if text and holder is None and _holds(location) is not None:
        return "it is a list: change its entries one by one"
    if text and section is not None:
        return "it is a whole table: change the fields in it, or leave the text empty to take it out"
    return ""


def _holds(location: Location) -> type | None:
    """What a field holds many of its kind in, list or dict; None for a single value or table."""
    field = field_at(location) if location else None
    kind = get_origin(field.annotation) if field is not None else None
    return kind if kind in (list, dict) else None


def _nearest(location: Location) -> str:
    section = section_at(location[:-1])
    known = [field.alias or name for name, field in section.model_fields.items()] if section else []
    return next(iter(difflib.get_close_matches(str(location[-1]), known, n=1, cutoff=0.4)), "")


def _of_option(place: str, option: OptionInput, problem: Problem) -> Problem:
    """What is wrong with the changed tables, told where it was changed."""
    path = max((path for path in option.changes if _same_place(path, problem.place)), key=len, default="")
    return Problem(
        f"{place}.changes.{path}" if path else f"{place}.changes",
        option.changes.get(path, problem.value),
        f"Option {_quoted(option.name)}: {problem.sentence}",
    )


def _same_place(path: str, place: str) -> bool:
    """Whether one lies in the other."""
    short, long = sorted((path, place), key=len)
    return bool(short) and (long == short or long.startswith((f"{short}.", f"{short}[")))


def _quoted(text: str) -> str:
    """Text of a user in a sentence, control characters made visible."""
    return json.dumps(text, ensure_ascii=False)


def with_text(path: str, value: float, system: str) -> tuple[str, str]:
    """A field's path beside the text that stands for a value there.

    Parameters
    ----------
    path : str
        The field.
    value : float
        What it is to hold. [SI unit of its kind]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    tuple of str
        Path and text.

    Examples
    --------
    >>> with_text("parts[1].wall_thickness", 0.2032, "metric")
    ('parts[1].wall_thickness', '0.2032 m')
    """
    return path, text_of(value, location_of(path), system)
