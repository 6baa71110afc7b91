"""What is wrong with something a user typed, as one plain sentence."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong with an input, said so that the reader knows what would do.

    Attributes
    ----------
    place : str
        Where it stands: a field's path in the project file, or a line or point of a shot file.
    value : str
        What was typed there, as typed.
    sentence : str
        What is wrong and what would do, one or two plain sentences.
    fatal : bool
        True when nothing can be planned with it; False when the value is used and the reader is only told.
    """

    place: str
    value: str
    sentence: str
    fatal: bool = True
