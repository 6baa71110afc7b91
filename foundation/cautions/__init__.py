"""The cautions: a register of traps, and rules grouped by topic that say where one has tripped."""

from __future__ import annotations

from collections.abc import Iterable

from foundation.cautions.register import ENGINEER
from foundation.model.caution import Caution, Trap


def worst_first(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions in the order in which they are read.

    Parameters
    ----------
    cautions : iterable of Caution
        As they were found.

    Returns
    -------
    tuple of Caution
        STOP before WARN before NOTE, then by the register's number; otherwise as found.
    """
    return tuple(sorted(cautions, key=lambda caution: (-caution.trap.severity, caution.trap.number)))


def may_initial(trap: Trap, role: str) -> bool:
    """Whether initials in a role count for a trap: what an engineer decides takes an engineer's name.

    Parameters
    ----------
    trap : Trap
        The trap.
    role : str
        Role of whoever signed: ``builder``, ``designer``, ``office`` or ``engineer``.

    Returns
    -------
    bool
        True where their initials count.
    """
    return trap.decides != ENGINEER or role == "engineer"
