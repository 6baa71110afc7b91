"""The revision hash: ten characters that two sets share when they come from the same inputs, tables and program."""

from __future__ import annotations

import hashlib
import json

from foundation import __version__, places
from foundation.project import Project

LENGTH = 10
"""Characters that are printed. [-]"""


def revision_hash(project: Project, survey: str, weather: str = "") -> str:
    """Hash of everything that a set of papers is made from.

    It does not know the day, the machine, or the order in which tables and keys are written. A number typed in another
    unit is the same number.

    Parameters
    ----------
    project : Project
        The inputs as typed.
    survey : str
        Text of the shot file, "" for none.
    weather : str
        Text of the weather file, "" for none.

    Returns
    -------
    str
        Ten hexadecimal digits; a change of any input, of a table that ships, or of the version changes them.
    """
    whole = {
        "inputs": project.model_dump(mode="json", by_alias=True),
        "survey": _canonical(survey),
        "weather": _canonical(weather),
        "tables": {
            path.name: _canonical(path.read_text(encoding="utf-8"))
            for path in sorted(places.data().glob("*.csv"))
        },
        "version": __version__,
    }
    text = json.dumps(whole, sort_keys=True, ensure_ascii=True, allow_nan=False)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:LENGTH]


def _canonical(text: str) -> str:
    """Text as it is whatever system has saved it: without a byte-order mark, lines ended by a line feed."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
