"""Discounted payback: by hand, and against the life-cycle factors that it has to agree with."""

from __future__ import annotations

from math import inf

import pytest

from foundation.money.lifecycle import escalating_worth
from foundation.money.payback import payback, yearly_worths


def test_by_hand() -> None:
    """$300 for $110 a year at 10 %: 100.00, 90.91, 82.64 and 75.13 are worth it; 26.45 of the last is left to pay."""
    savings = yearly_worths(110.0, 0.10, 0.0, 10)
    assert savings[:4] == pytest.approx([100.0, 90.909, 82.645, 75.131], abs=5e-4)
    assert payback(300.0, savings) == pytest.approx(3 + 26.446 / 75.131, abs=5e-5)


@pytest.mark.parametrize("escalation", [-0.01, 0.0, 0.01, 0.03])
def test_worths_add_up_to_the_factor(escalation: float) -> None:
    """UPV* of NIST Handbook 135 in closed form [read] against the sum of the years."""
    worth = escalating_worth(0.03, escalation, 30)
    assert sum(yearly_worths(1.0, 0.03, escalation, 30)) == pytest.approx(worth, rel=1e-12)


@pytest.mark.parametrize("years", [1, 7, 30])
def test_what_is_saved_in_so_many_years_is_paid_back_by_then(years: int) -> None:
    added = 80.0 * escalating_worth(0.03, 0.01, years)
    assert payback(added, yearly_worths(80.0, 0.03, 0.01, 100)) == pytest.approx(years, rel=1e-9)


def test_never_and_at_once() -> None:
    assert payback(0.0, []) == 0
    assert payback(-5.0, [-1.0]) == 0
    assert payback(1.0, [-1.0] * 100) == inf
    assert payback(1.0, [0.0] * 100) == inf
    # At 5 % a dollar a year for ever is worth $20.
    assert payback(20.0, yearly_worths(1.0, 0.05, 0.0, 100)) == inf
