"""The register's rules by name, for papers that print the rule beside a number that has tripped nothing."""

from __future__ import annotations

from functools import lru_cache

from foundation.cautions import register
from foundation.model.caution import Trap


@lru_cache(maxsize=1)
def _by_key() -> dict[str, Trap]:
    return {trap.key: trap for trap in register.all_traps()}


def trap(key: str) -> Trap:
    """An entry of the register.

    Parameters
    ----------
    key : str
        Its stable name, such as ``frost-cover-short``.

    Returns
    -------
    Trap
        The entry.

    Raises
    ------
    KeyError
        If the register has no such entry; the known ones are listed.
    """
    known = _by_key()
    if key not in known:
        raise KeyError(f"no trap is called {key}; there are: {', '.join(known)}")
    return known[key]
