"""Paths of fields, as errors print them and screens use them: ``parts[1].wall_top``, counted from one."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

Location = tuple[str | int, ...]


def path_text(location: Sequence[str | int]) -> str:
    """Path of a field as text.

    Parameters
    ----------
    location : sequence of str or int
        Keys from the top; list positions count from zero. [-]

    Returns
    -------
    str
        The path; list positions count from one, as people do.

    Examples
    --------
    >>> path_text(("parts", 0, "wall_top"))
    'parts[1].wall_top'
    """
    text = ""
    for key in location:
        text += f"[{key + 1}]" if isinstance(key, int) else f".{key}" if text else key
    return text


def location_of(path: str) -> Location:
    """Keys from the top for a path's text.

    Parameters
    ----------
    path : str
        Such as ``parts[1].wall_top``.

    Returns
    -------
    tuple of str or int
        Keys; list positions count from zero.

    Examples
    --------
    >>> location_of("parts[1].wall_top")
    ('parts', 0, 'wall_top')
    """
    return tuple(
        int(number) - 1 if number else key
        for key, number in re.findall(r"([^.\[\]]+)(?![^\[]*\])|\[(\d+)\]", path)
    )


def value_at(document: Any, location: Location) -> Any:
    """What stands at a location, None where nothing does.

    Parameters
    ----------
    document : mapping or list
        Nested tables as read from a project file.
    location : tuple of str or int
        Keys from the top. [-]

    Returns
    -------
    object
        The value or table there, or None.
    """
    for key in location:
        if isinstance(key, int):
            if not isinstance(document, list) or not 0 <= key < len(document):
                return None
            document = document[key]
        else:
            if not isinstance(document, Mapping) or key not in document:
                return None
            document = document[key]
    return document
