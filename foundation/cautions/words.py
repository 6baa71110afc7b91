"""Small helpers for the sentences of the cautions."""

from __future__ import annotations

from collections.abc import Iterable


def plain(text: str) -> str:
    """Text that someone typed, as it stands in a sentence: its braces are no places for numbers.

    Parameters
    ----------
    text : str
        As typed.

    Returns
    -------
    str
        With its braces doubled.

    Examples
    --------
    >>> plain("pad {north}").format()
    'pad {north}'
    """
    return text.replace("{", "{{").replace("}", "}}")


def listed(names: Iterable[str]) -> str:
    """Names in a row.

    Parameters
    ----------
    names : iterable of str
        The names.

    Returns
    -------
    str
        With commas, and "and" before the last.

    Examples
    --------
    >>> listed(["A-B", "B-C", "C-D"])
    'A-B, B-C and C-D'
    """
    *front, last = [plain(name) for name in names]
    return f"{', '.join(front)} and {last}" if front else last


def also(names: Iterable[str]) -> str:
    """Sentence that names the other walls where the same thing holds.

    Parameters
    ----------
    names : iterable of str
        Names of the other walls, repeats allowed.

    Returns
    -------
    str
        With a space before it, "" for no wall.
    """
    once = list(dict.fromkeys(names))
    return f" Likewise wall{'s' if len(once) > 1 else ''} {listed(once)}." if once else ""


def likewise(names: Iterable[str]) -> str:
    """Sentence that names other zones or parts where the same thing holds.

    Parameters
    ----------
    names : iterable of str
        Their names, repeats allowed.

    Returns
    -------
    str
        With a space before it, "" for none.
    """
    once = list(dict.fromkeys(names))
    return f" Likewise {listed(once)}." if once else ""
