"""Cutting lengths from stock: every piece once, against the sum and brute force."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.packing import pack


@given(st.lists(st.floats(0.01, 6.0), max_size=60))
def test_every_length_is_cut_once(lengths: list[float]) -> None:
    bought = pack(lengths, 6.0)
    assert sorted(number for each in bought for number in each) == list(range(len(lengths)))
    for each in bought:
        assert math.fsum(lengths[number] for number in each) <= 6.0 + 1e-5
    least = math.ceil(math.fsum(lengths) / 6.0 - 1e-9)
    # Longest first never takes more than 11/9 of the fewest and 6/9 of one (a proven bound).
    assert least <= len(bought) <= max(least, len(lengths))
    assert pack(lengths, 6.0) == bought


def fewest(lengths: tuple[int, ...], stock: int) -> int:
    """Fewest bars by brute force: whole feet into bars with room, each choice tried."""
    best = len(lengths)

    def fill(left: tuple[int, ...], rooms: list[int]) -> None:
        nonlocal best
        if len(rooms) >= best:
            return
        if not left:
            best = len(rooms)
            return
        for at, room in enumerate(rooms):
            if room >= left[0]:
                fill(left[1:], [*rooms[:at], room - left[0], *rooms[at + 1 :]])
        fill(left[1:], [*rooms, stock - left[0]])

    fill(lengths, [])
    return best


def test_against_brute_force() -> None:
    random = np.random.default_rng(20)
    more = 0
    for _ in range(200):
        lengths = tuple(int(each) for each in random.integers(2, 20, int(random.integers(1, 9))))
        found, least = len(pack([float(each) for each in lengths], 20.0)), fewest(lengths, 20)
        assert least <= found <= 11 / 9 * least + 6 / 9, lengths
        more += found > least
    assert more <= 4  # the proven bound allows more; on these it is rare


@pytest.mark.parametrize("length", [0.0, -1.0, 6.1])
def test_refuses_what_no_bar_gives(length: float) -> None:
    with pytest.raises(ValueError, match=r"cannot be cut from 6\.000 m"):
        pack([1.0, length], 6.0)
