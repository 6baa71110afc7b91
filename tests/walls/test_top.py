"""The top-of-wall line, read again inch by inch with plain loops."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.concrete import TopOfWall
from foundation.model.ground import Profile
from foundation.walls.top import GradedLine, tops_of
from tests.walls.walls import FOOT, INCH, inches, profiles

CLEAR = 8 * INCH


def one(profile: Profile, low_top: float, **more: tuple[float, float]) -> TopOfWall:
    graded = GradedLine("A-B", inches(float(profile.station[-1])), profile)
    (top,) = tops_of([graded], 9.0, low_top, CLEAR, **more)
    return top


def highest_between(profile: Profile, start: float, end: float) -> float:
    """Highest grade between two stations, ends and breaks."""
    grades = [np.interp(x, profile.station, profile.grade) for x in (start, end)]
    grades += [g for x, g in zip(profile.station, profile.grade, strict=True) if start < x < end]
    return float(max(grades))


@given(profile=st.integers(12, 120).flatmap(lambda n: profiles(n, 0.0, 1.0)), low=st.floats(0.1, 1.3))
def test_every_inch_of_random_profiles(profile: Profile, low: float) -> None:
    top = one(profile, low)
    station = inches(float(profile.station[-1]))
    fits = [
        highest_between(profile, a, b) + CLEAR <= low + 1e-6
        for a, b in zip(station, station[1:], strict=False)
    ]
    head = next((i for i, fit in enumerate(fits) if not fit), len(fits))
    tail = next((i for i, fit in enumerate(fits[::-1]) if not fit), len(fits))
    if not any((head, tail)):
        assert (top.drop_from, top.drop_to) == (None, None)
        return
    assert top.drop_from is not None
    assert top.drop_to is not None
    assert top.drop_from in (0.0, pytest.approx(station[len(fits) - tail]))
    assert top.drop_to in (pytest.approx(station[-1]), pytest.approx(station[head]))
    assert (top.drop_to - top.drop_from) / INCH == pytest.approx(max(head, tail), abs=1e-6)
    inside = (station >= top.drop_from - 1e-9) & (station <= top.drop_to + 1e-9)
    assert (top.needed[inside] <= low + 1e-6).all()
    assert top.needed == pytest.approx(np.interp(station, profile.station, profile.grade) + CLEAR)


@given(profile=st.integers(12, 120).flatmap(lambda n: profiles(n, 0.0, 1.0)), low=st.floats(0.1, 1.3))
def test_the_same_from_the_other_end(profile: Profile, low: float) -> None:
    length = float(profile.station[-1])
    there = one(profile, low)
    back = one(Profile((length - profile.station)[::-1], profile.grade[::-1]), low)
    if there.drop_from is None or there.drop_to is None:
        assert back.drop_from is None
        return
    assert back.drop_from is not None
    assert back.drop_to is not None
    assert back.drop_to - back.drop_from == pytest.approx(there.drop_to - there.drop_from, abs=1e-9)


def test_by_hand() -> None:
    # 20 ft falling 100.00 to 96.00 ft, low top 98.00: grade must be at 97.3333 or lower, from 13'-4" on [derived].
    top = one(Profile(np.array([0.0, 20]) * FOOT, np.array([100.0, 96.0]) * FOOT), 98 * FOOT)
    assert top.drop_from is not None
    assert top.drop_to is not None
    assert top.drop_from / FOOT == pytest.approx(13 + 4 / 12)
    assert top.drop_to / FOOT == pytest.approx(20)


def test_a_bump_between_two_inches_counts() -> None:
    bump = Profile(np.array([0.0, 10.2, 10.5, 10.8, 40]) * INCH, np.array([0.0, 0, 1, 0, 0]))
    top = one(bump, 0.5)
    assert top.drop_from is not None
    assert top.drop_from / INCH == pytest.approx(11)
    assert (top.needed < 0.5).all()


def test_a_low_middle_stays_full() -> None:
    assert one(Profile(np.array([0.0, 2, 4]), np.array([1.0, 0, 1])), 0.5).drop_from is None


def test_the_higher_grade_at_a_corner_decides() -> None:
    flat = Profile(np.array([0.0, 4]), np.zeros(2))
    assert one(flat, 0.5).drop_from == 0.0
    held = one(flat, 0.5, round_corners=(0.6, 0.1))
    assert held.drop_from == pytest.approx(INCH, rel=0.01)
    assert held.needed[0] == pytest.approx(0.6 + CLEAR)
    assert one(flat, 0.5, round_corners=(0.6, 0.6)).drop_from is None


def test_one_wall_across_tees() -> None:
    """Cut in three, the wall drops as it does in one, unless another space lies beyond the middle."""
    profile = Profile(np.array([0.0, 10]), np.array([1.0, 0.0]))
    whole = one(profile, 0.7)
    assert whole.drop_from is not None
    cuts = [0.0, 4.0, 7.0, 10.0]
    pieces = [
        Profile(np.array([0.0, b - a]), np.interp([a, b], profile.station, profile.grade))
        for a, b in zip(cuts, cuts[1:], strict=False)
    ]
    lines = [GradedLine(name, inches(p.station[-1]), p) for name, p in zip("123", pieces, strict=True)]
    first, second, third = tops_of(lines, 9.0, 0.7, CLEAR)
    assert first.drop_from is None
    assert second.drop_from is not None
    assert second.drop_from + 4.0 == pytest.approx(whole.drop_from, abs=INCH)
    assert second.drop_to == pytest.approx(3.0)
    assert (third.drop_from, third.drop_to) == (0.0, pytest.approx(3.0))
    lines[1] = GradedLine("2", lines[1].station, None)
    first, third = tops_of(lines, 9.0, 0.7, CLEAR)
    assert first.drop_from is None
    assert third.drop_from == 0.0
