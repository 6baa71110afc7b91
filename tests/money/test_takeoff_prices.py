"""Bands of prices: fresh quotes, stale ones, and prices that nobody quoted."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.heat import Band
from foundation.money.takeoff_prices import INVENTED, Quote, is_stale, price_band, times, total

DAY = datetime.date(2026, 3, 1)


@pytest.mark.parametrize(
    ("day", "today", "off", "quoted", "stale"),
    [
        (DAY, datetime.date(2026, 5, 30), 0.05, True, False),  # 90 days
        (DAY, datetime.date(2026, 5, 31), 0.3, True, True),  # 91
        (DAY, None, 0.05, True, False),
        (None, datetime.date(2026, 5, 31), 0.3, False, False),
        (DAY, datetime.date(2026, 1, 1), 0.05, True, False),  # dated ahead
    ],
)
def test_band(
    day: datetime.date | None, today: datetime.date | None, off: float, quoted: bool, stale: bool
) -> None:
    found = price_band(Quote(200.0, day, "the yard"), today, 90.0, 0.3)
    assert (found.price.low, found.price.high) == pytest.approx((200 * (1 - off), 200 * (1 + off)))
    assert (found.price.likely, found.quoted, found.stale) == (200.0, quoted, stale)
    assert found.source == ("the yard, 2026-03-01" if day else INVENTED)
    assert is_stale(day, today, 90.0) is stale


@given(st.lists(st.tuples(st.floats(0, 1e4), st.floats(0, 1e3), st.booleans()), max_size=8))
def test_sums_keep_their_order(lines: list[tuple[float, float, bool]]) -> None:
    bands = [
        times(price_band(Quote(price, DAY if quoted else None), DAY, 90, 0.3).price, amount)
        for price, amount, quoted in lines
    ]
    found = total(bands)
    assert found.low <= found.likely <= found.high
    assert found.likely == pytest.approx(sum(price * amount for price, amount, _ in lines))


def test_nothing_costs_nothing() -> None:
    assert total([]) == Band(0, 0, 0)
