"""The register itself: marks, sheets, and whose initials count."""

from __future__ import annotations

import re

import pytest

from foundation.cautions import may_initial, worst_first
from foundation.cautions.register import ENGINEER, all_traps
from foundation.model.caution import Caution, Severity, Trap

TRAPS = all_traps()


@pytest.mark.parametrize("trap", TRAPS, ids=lambda trap: trap.key)
def test_entry_says_its_mark_and_who_decides(trap: Trap) -> None:
    assert re.search(r"\[(read|memory|practice|derived)\b[^\]]*\]", trap.rule)
    assert trap.decides
    assert bool(trap.sheets) == (trap.severity is Severity.STOP), (
        "a STOP holds back its sheets, and nothing else does"
    )
    # A section of a code is code text only where it was read; one from memory says so beside it.
    if "memory" in trap.rule and "IRC" in trap.rule:
        assert re.search(r"\([^()]*\[memory\]\)", trap.rule)


def test_names_and_numbers() -> None:
    keys = [trap.key for trap in TRAPS]
    assert len(set(keys)) == len(keys)
    in_hand = {trap.number for trap in TRAPS}
    assert in_hand == {*range(1, 40), *range(41, 52)}


def test_initials_of_an_engineer() -> None:
    for trap in TRAPS:
        assert may_initial(trap, "engineer")
        assert may_initial(trap, "builder") == (trap.decides != ENGINEER)


def test_worst_first() -> None:
    found = [Caution(trap, "", "", {}) for trap in reversed(TRAPS)]
    order = [(caution.trap.severity, caution.trap.number) for caution in worst_first(found)]
    assert order == sorted(order, key=lambda pair: (-pair[0], pair[1]))
    assert order[0][0] is Severity.STOP
