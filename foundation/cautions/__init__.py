"""The cautions: a register of traps, and rules grouped by topic that say where one has tripped."""

from __future__ import annotations

from collections.abc import Iterable

from foundation.model.caution import Caution


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
