"""Traps of the sheets that were given out."""

from __future__ import annotations

from collections.abc import Iterable

from foundation.cautions import register
from foundation.cautions.words import listed, plain
from foundation.model.caution import Caution


def sheets_of_different_revisions(issued: Iterable[tuple[str, str]], current: str) -> list[Caution]:
    """Sheets that were given out are not all of the present revision.

    Parameters
    ----------
    issued : iterable of tuple
        Name of each sheet and its revision, in the order in which they were given out; the last one of a name
        counts.
    current : str
        The drawings' present revision.

    Returns
    -------
    list of Caution
        None or one, naming the sheets.
    """
    latest = dict(issued)
    old = [f"{sheet} ({revision})" for sheet, revision in latest.items() if revision != current]
    if not old:
        return []
    be = "is" if len(old) == 1 else "are"
    sentence = (
        f"{listed(old)} {be} out, but the drawings are at revision {plain(current)}: give out one revision."
    )
    return [Caution(register.MIXED_REVISIONS, "sheets", sentence, {})]
