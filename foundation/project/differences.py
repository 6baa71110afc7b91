"""What two project files differ in, field by field, in the words they were typed in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from foundation import units
from foundation.model.options import FieldChange
from foundation.project.check import check, field_at, kind_at
from foundation.project.paths import Location, path_text, value_at
from foundation.project.schema import Project

SAME = 1e-9
"""Values closer than this, over their size, were typed in other units. [-]"""
UNTOLD = ("schema", "options", "initials", "issued")
"""Tables that say nothing of what is built."""
NAMES = ("name", "line", "board", "what", "where")
"""Fields that tell entries of a list apart."""


def plain(document: Mapping[str, Any]) -> dict[str, Any]:
    """Tables as plain ones, whatever they were read with.

    Parameters
    ----------
    document : mapping
        Tables as read from a file or typed in a page.

    Returns
    -------
    dict
        A copy, in which what holds nothing is left out; changing it changes nothing else.
    """
    unwrap = getattr(document, "unwrap", None)
    tables: dict[str, Any] = _copied(unwrap() if unwrap is not None else document)
    return tables


def field_changes(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[FieldChange, ...]:
    """Fields that two project files differ in; the same value in other units is no difference.

    Entries of lists are matched by their names, else by their place.

    Parameters
    ----------
    before, after : mapping
        Tables of two sound projects.

    Returns
    -------
    tuple of FieldChange
        In the order of the file; a table that is new or gone is one change.

    Raises
    ------
    ValueError
        If one of them is no project; all that is wrong with it stands in the message.
    """
    tables = plain(before), plain(after)
    projects = [_sound(each) for each in tables]
    values = [
        {key: value for key, value in project.model_dump(by_alias=True).items() if key not in UNTOLD}
        for project in projects
    ]
    system = projects[1].units
    return tuple(
        _change(tables, places, pair, system) for places, pair in _differing(values[0], values[1], ((), ()))
    )


def text_of(value: Any, location: Location, system: str) -> str:
    """A field's value as it would be typed.

    Parameters
    ----------
    value : object
        What stands there, in SI units; None for nothing.
    location : tuple of str or int
        Keys from the top. [-]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        Text that reads back to the value.

    Examples
    --------
    >>> text_of(0.0508, ("parts", 0, "foam", "outside", "thickness"), "us")
    '0\\'-2"'
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return ", ".join(
            f"{_words(key)} {text_of(each, (*location, key), system)}"
            for key, each in value.items()
            if each not in (None, "", [], {})
        )
    if isinstance(value, list | tuple):
        return ", ".join(text_of(each, (*location, number), system) for number, each in enumerate(value))
    kind = kind_at(location[:-1] if isinstance(location[-1], int) else location)
    if kind in (None, "date", "number") or not isinstance(value, float):
        return f"{value:.12g}" if isinstance(value, float) else str(value)
    return units.exact(value, kind, system)


def _sound(tables: Mapping[str, Any]) -> Project:
    project, problems = check(tables)
    if project is None:
        raise ValueError(" ".join(problem.sentence for problem in problems))
    return project


Places = tuple[Location, Location]
Pair = tuple[Any, Any]


def _differing(before: Any, after: Any, places: Places) -> Iterator[tuple[Places, Pair]]:
    """Places where two trees of values differ, in each of them."""
    if isinstance(before, dict) and isinstance(after, dict):
        for key in dict.fromkeys((*before, *after)):
            here = (*places[0], key), (*places[1], key)
            yield from _differing(before.get(key), after.get(key), here)
    elif _holds_tables(before) and _holds_tables(after):
        for one, other in _matched(before, after):
            here = (
                (*places[0], len(before) if one is None else one),
                (*places[1], len(after) if other is None else other),
            )
            pair = None if one is None else before[one], None if other is None else after[other]
            yield from _differing(*pair, here)
    elif not _same(before, after):
        yield places, (before, after)


def _holds_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(entry, dict) for entry in value)


def _matched(
    before: Sequence[Mapping[str, Any]], after: Sequence[Mapping[str, Any]]
) -> list[tuple[int | None, int | None]]:
    """Entries that belong together, those of the later list first, then those that are gone."""
    names = [[_name(entry) for entry in entries] for entries in (before, after)]
    named = all(len(set(each)) == len(each) and "" not in each for each in names)
    keys: list[list[Any]] = [list(each) if named else list(range(len(each))) for each in names]
    of_before = {key: number for number, key in enumerate(keys[0])}
    pairs = [(of_before.get(key), number) for number, key in enumerate(keys[1])]
    return [*pairs, *((number, None) for number, key in enumerate(keys[0]) if key not in keys[1])]


def _name(entry: Mapping[str, Any]) -> str:
    return next((str(entry[name]) for name in NAMES if entry.get(name)), "")


def _same(before: Any, after: Any) -> bool:
    if isinstance(before, float) and isinstance(after, float):
        return math.isclose(before, after, rel_tol=SAME, abs_tol=SAME)
    if isinstance(before, list) and isinstance(after, list):
        return len(before) == len(after) and all(_same(*pair) for pair in zip(before, after, strict=True))
    return bool(before == after)


def _change(
    tables: tuple[Mapping[str, Any], Mapping[str, Any]], places: Places, pair: Pair, system: str
) -> FieldChange:
    texts, assumed = [], []
    for document, location, value in zip(tables, places, pair, strict=True):
        typed = value_at(document, location)
        texts.append(text_of(value if typed is None else typed, location, system))
        assumed.append(typed is None and value is not None)
    gone = pair[1] is None and isinstance(places[0][-1], int)
    location, document = (places[0], tables[0]) if gone else (places[1], tables[1])
    field = field_at(location)
    return FieldChange(
        path=path_text(location),
        label=_label(location, document),
        description=field.description or "" if field is not None else "",
        before=texts[0],
        after=texts[1],
        before_assumed=assumed[0],
        after_assumed=assumed[1],
    )


def _label(location: Location, document: Mapping[str, Any]) -> str:
    words: list[str] = []
    for at, key in enumerate(location):
        if isinstance(key, str):
            words.append(_words(key))
            continue
        entry = value_at(document, location[: at + 1])
        name = _name(entry) if isinstance(entry, Mapping) else ""
        # A part is known by its name alone.
        words[-1] = name if name and words[-1] == "parts" else f"{words[-1]} {name or key + 1}"
    return ", ".join(words)


def _words(key: str) -> str:
    return key.replace("_", " ")


def _copied(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(key): _copied(each) for key, each in value.items() if each is not None}
    if isinstance(value, list | tuple):
        return [_copied(each) for each in value]
    return value
