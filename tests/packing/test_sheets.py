"""Cutting layouts: every one is checked for overlaps and straight cuts; the count against the area and brute force."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.packing.sheets import Cut, Sheet, cut_sheets, tiles

LONG, WIDE = 8.0, 4.0
SIDES = st.tuples(st.floats(0.1, 8.0), st.floats(0.1, 4.0))


def by_area(pieces: Sequence[Cut]) -> int:
    """No fewer sheets than the pieces' area fills."""
    return math.ceil(sum(piece.area for piece in pieces) / (LONG * WIDE) - 1e-9)


def cut_apart(boxes: list[tuple[float, float, float, float]]) -> bool:
    """Whether pieces come apart by cuts from edge to edge alone; plain recursion over every cut."""
    if len(boxes) <= 1:
        return True
    for axis in (0, 1):
        for line in {box[axis + 2] for box in boxes}:
            before = [box for box in boxes if box[axis + 2] <= line + 1e-6]
            after = [box for box in boxes if box[axis] >= line - 1e-6]
            if before and after and len(before) + len(after) == len(boxes):
                return cut_apart(before) and cut_apart(after)
    return False


def check(pieces: Sequence[Cut], sheets: Sequence[Sheet]) -> None:
    cut = [each.cut for sheet in sheets for each in sheet.placed]
    assert sorted(map(id, cut)) == sorted(map(id, pieces))
    for sheet in sheets:
        boxes = [(p.x, p.y, p.x + p.dx, p.y + p.dy) for p in sheet.placed]
        for placed, box in zip(sheet.placed, boxes, strict=True):
            assert sorted((placed.dx, placed.dy)) == pytest.approx(
                sorted((placed.cut.length, placed.cut.width))
            )
            assert min(box[:2]) >= 0
            assert box[2] <= LONG + 1e-6
            assert box[3] <= WIDE + 1e-6
        left = [(x, y, x + dx, y + dy) for x, y, dx, dy in sheet.left]
        for number, one in enumerate([*boxes, *left]):
            for other in [*boxes, *left][:number]:
                apart = max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])
                assert apart > -1e-6
        assert cut_apart(boxes)


@given(st.lists(SIDES, max_size=40))
def test_every_piece_is_cut_once_and_straight(sides: list[tuple[float, float]]) -> None:
    pieces = [Cut(str(number), *pair) for number, pair in enumerate(sides)]
    sheets = cut_sheets(pieces, LONG, WIDE)
    check(pieces, sheets)
    assert by_area(pieces) <= len(sheets) <= len(pieces)
    assert cut_sheets(pieces, LONG, WIDE) == sheets


@cache
def fits_one(sides: tuple[tuple[int, int], ...], long: int, wide: int) -> bool:
    """Whether whole-foot pieces come from one rectangle by straight cuts: every cut and every split is tried."""
    if not sides:
        return True
    if sum(a * b for a, b in sides) > long * wide:
        return False
    if len(sides) == 1:
        (a, b) = sides[0]
        return (a <= long and b <= wide) or (b <= long and a <= wide)
    for chosen in range(1, 2 ** (len(sides) - 1)):
        first = tuple(side for number, side in enumerate(sides) if chosen >> number & 1)
        second = tuple(side for number, side in enumerate(sides) if not chosen >> number & 1)
        for at in range(1, long):
            if fits_one(first, at, wide) and fits_one(second, long - at, wide):
                return True
            if fits_one(second, at, wide) and fits_one(first, long - at, wide):
                return True
        for at in range(1, wide):
            if fits_one(first, long, at) and fits_one(second, long, wide - at):
                return True
            if fits_one(second, long, at) and fits_one(first, long, wide - at):
                return True
    return False


def fewest(sides: tuple[tuple[int, int], ...]) -> int:
    """Fewest sheets by brute force over every division of the pieces among sheets."""
    if not sides:
        return 0
    head, rest = sides[0], sides[1:]
    best = len(sides)
    for chosen in range(2 ** len(rest)):
        own = (head, *(side for number, side in enumerate(rest) if chosen >> number & 1))
        if fits_one(own, 8, 4):
            others = tuple(side for number, side in enumerate(rest) if not chosen >> number & 1)
            best = min(best, 1 + fewest(others))
    return best


def test_against_brute_force() -> None:
    random = np.random.default_rng(20261125)
    for _ in range(120):
        count = int(random.integers(1, 7))
        sides = tuple((int(random.integers(1, 9)), int(random.integers(1, 5))) for _ in range(count))
        pieces = [Cut("", float(a), float(b)) for a, b in sides]
        assert len(cut_sheets(pieces, LONG, WIDE)) == fewest(tuple(sorted(sides))), sides


def test_strips_fill_their_sheets() -> None:
    # 24 strips of 8 ft × 4 in make two sheets to the last inch.
    assert len(cut_sheets([Cut("edge", 8.0, 1 / 3)] * 24, LONG, WIDE)) == 2


def test_cut_offs_are_used_again() -> None:
    # A wall of 9 ft in sheets standing up leaves a foot of height: eight such rests come from one sheet.
    wall = tiles("wall", 32.0, 9.0, WIDE, LONG)
    assert len(wall) == 16
    assert len(cut_sheets(wall, LONG, WIDE)) == 9


@pytest.mark.parametrize("piece", [Cut("board", 8.5, 1.0), Cut("board", 4.5, 4.5), Cut("board", 1.0, 0.0)])
def test_refuses_what_no_sheet_makes(piece: Cut) -> None:
    with pytest.raises(ValueError, match="board"):
        cut_sheets([piece], LONG, WIDE)
