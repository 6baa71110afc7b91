"""The border between what people type and read, and the SI floats inside.

What is typed is read by a grammar of our own: a finite number and a known unit, or one sentence that says
what would do. The factors come from pint, which is imported at the first conversion and never sees a user's
text. A foot is the international foot of 0.3048 m exactly.
"""

from foundation.units.kinds import Kind
from foundation.units.reading import UnitsError, read, read_decimal
from foundation.units.writing import (
    both,
    cubic_yards,
    decimal_feet,
    exact,
    feet_inches,
    inches,
    length,
    metres,
    millimetres,
    money,
    round_down,
    rounded,
    write,
)

__all__ = [
    "Kind",
    "UnitsError",
    "both",
    "cubic_yards",
    "decimal_feet",
    "exact",
    "feet_inches",
    "inches",
    "length",
    "metres",
    "millimetres",
    "money",
    "read",
    "read_decimal",
    "round_down",
    "rounded",
    "write",
]
