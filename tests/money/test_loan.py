"""Loans: a textbook payment, the loan paid off month by month, and the limits."""

from __future__ import annotations

import pytest

from foundation.money.loan import loan_payment


@pytest.mark.parametrize(
    ("principal", "rate", "years", "printed"),
    [
        (100_000, 0.06, 30, 599.55),  # the thirty-year mortgage of every table of payments [memory]
        (1_000, 0.12, 1, 88.85),  # twelve payments at 1 % a month, tables of engineering economy [memory]
    ],
)
def test_printed_payments(principal: float, rate: float, years: int, printed: float) -> None:
    assert loan_payment(principal, rate, years) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(("rate", "years"), [(0.065, 30), (0.03, 15), (0.3, 40), (1e-9, 30), (0.0, 7)])
def test_the_last_payment_pays_the_loan_off(rate: float, years: int) -> None:
    """Month by month: interest on what is owed, less the payment [derived]."""
    owed = 25_000.0
    payment = loan_payment(owed, rate, years)
    for _ in range(12 * years):
        owed += owed * rate / 12 - payment
    assert owed == pytest.approx(0.0, abs=1e-4)


def test_limits() -> None:
    assert loan_payment(1200.0, 0.0, 10) == 10.0
    assert loan_payment(1200.0, 1e-12, 10) == pytest.approx(10.0, rel=1e-9)
    assert loan_payment(0.0, 0.065, 30) == 0
    assert loan_payment(-500.0, 0.065, 30) == -loan_payment(500.0, 0.065, 30)
    payments = [loan_payment(1000.0, rate, 30) for rate in (0.0, 0.02, 0.05, 0.1)]
    assert payments == sorted(payments)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((float("nan"), 0.05, 30), "the loan is nan"),
        ((1.0, -0.01, 30), "the interest is -0.01 a year"),
        ((1.0, 0.05, 0), "runs 0 years"),
    ],
)
def test_what_is_no_loan(arguments: tuple[float, float, int], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        loan_payment(*arguments)
