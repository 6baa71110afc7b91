"""Checks on shots: each trips on what is wrong, and is silent on sound ground."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.site.checks import check_corners, check_walls, odd_elevations
from foundation.site.shots import read_shots
from foundation.site.triangulation import delaunay
from tests.site.lot import FOOT, shots_of

SQUARE = [("1", 0, 0, 50, "EG"), ("2", 0, 90, 51, "EG"), ("3", 90, 90, 52, "EG"), ("4", 90, 0, 53, "EG")]


def told(rows: list[tuple], metres_per_unit: float = FOOT) -> list[tuple[str, bool]]:
    _, problems = read_shots("\n".join(",".join(map(str, row)) for row in rows), metres_per_unit)
    return [(problem.sentence, problem.fatal) for problem in problems]


def test_sound_shots_are_silent() -> None:
    assert told(SQUARE) == []
    assert told([*SQUARE, ("5", 0, 0, 49, "FG")]) == []  # two surfaces may differ at one place
    assert told([*SQUARE, ("5", 0, 0, 49, "BM nail")]) == []


def test_point_number_twice() -> None:
    ((sentence, fatal),) = told([*SQUARE, ("3", 40, 40, 51, "EG")])
    assert "point 3" in sentence
    assert not fatal


@pytest.mark.parametrize("kinds", [("EG", "EG"), ("FG", "FG"), ("TIE", "TIE"), ("EG", "TIE"), ("TIE", "FG")])
def test_one_place_two_elevations(kinds: tuple[str, str]) -> None:
    rows = [*SQUARE, ("17", 40, 40, 51, kinds[0]), ("18", 40.004, 40, 15, kinds[1])]
    ((sentence, fatal),) = told(rows)
    assert fatal
    assert "17 and 18" in sentence
    assert "15.00 ft" in sentence
    assert "51.00 ft" in sentence


def test_one_place_shot_again() -> None:
    ((near, near_fatal),) = told([*SQUARE, ("17", 0, 0, 50.04, "EG")])
    assert "the lower is used" in near
    assert not near_fatal
    ((same, same_fatal),) = told([*SQUARE, ("17", 0, 0, 50, "EG")])
    assert "twice" in same
    assert not same_fatal


def test_close_is_not_the_same() -> None:
    assert told([*SQUARE, ("17", 0, 0.02, 50.5, "EG")]) == []


def test_many_shots_at_one_place() -> None:
    """A file pasted over and over is told in short, and in no time."""
    sentences = told([(str(number), 10, 10, 50, "EG") for number in range(3000)])
    assert sentences[-1][0].startswith("And ")


def test_breakline_of_one_shot() -> None:
    ((sentence, fatal),) = told([*SQUARE, ("17", 40, 40, 51, "EG line=swale")])
    assert "swale" in sentence
    assert not fatal


def test_swapped_corners() -> None:
    shots = shots_of([(name, 5000 + n, 2000 + e, z, code) for name, n, e, z, code in SQUARE])
    right = {"A": (2010.0, 5010.0), "B": (2050.0, 5060.0)}
    assert check_corners(shots, right) == ()
    (problem,) = check_corners(shots, {name: (north, east) for name, (east, north) in right.items()})
    assert problem.fatal
    assert "A, B" in problem.sentence
    assert check_corners(shots, {"A": (9000.0, 9000.0)}) == ()  # outside either way: another message's matter
    assert check_corners(shots, {}) == ()


def test_wall_without_a_finished_shot() -> None:
    shots = shots_of([*SQUARE, ("5", 50, 5, 50, "FG"), ("6", 20, 60, 50, "TIE")], FOOT)
    walls = {
        "A-B": ((0.0, 40 * FOOT), (0.0, 60 * FOOT)),  # east 0, shot 5 stands 5 ft beside it
        "B-C": ((40 * FOOT, 9.9 * FOOT), (80 * FOOT, 9.9 * FOOT)),  # the tie stands 10.1 ft off
        "C-D": ((40 * FOOT, 10.1 * FOOT), (80 * FOOT, 10.1 * FOOT)),
    }
    (problem,) = check_walls(shots, walls, FOOT)
    assert problem.place == "wall B-C"
    assert "10.00 ft" in problem.sentence
    assert not problem.fatal
    assert len(check_walls(shots_of(SQUARE), walls, FOOT)) == 3


def odd(points: np.ndarray) -> list[int]:
    index, _ = odd_elevations(points, delaunay(points[:, :2], "shots"))
    return sorted(index.tolist())


def lot(seed: int, count: int = 150) -> np.ndarray:
    return np.random.default_rng(seed).uniform(0, 60, (count, 2))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("drop", [1.0, 3.0, 6.0, 12.0])
def test_cliffs_pads_and_slopes_are_sound(seed: int, drop: float) -> None:
    place = lot(seed)
    east, north = place.T
    rough = np.random.default_rng(seed + 100).normal(0, 0.1, len(place))
    steep = 64 + drop / 4 * north
    cliff = 64 + 0.05 * east + drop * (north > 30 + 3 * np.sin(east / 5)) + rough
    pad = 64 + 0.2 * east + drop * ((np.abs(east - 30) < 8) & (np.abs(north - 30) < 8))
    walkout = 64 + rough - drop * np.clip((north - 20) / 6, 0, 1)
    for level in (steep, cliff, pad, walkout):
        assert odd(np.column_stack([place, level])) == []


@given(st.integers(0, 200), st.sampled_from([-6.0, 6.0, 20.0]))
def test_a_wrong_elevation_on_a_lot_is_found(seed: int, error: float) -> None:
    place = lot(seed, 60)
    level = 64 + 0.08 * place[:, 1] + 0.5 * np.sin(place[:, 0] / 10)
    wrong = seed % len(place)
    level[wrong] += error
    assert odd(np.column_stack([place, level])) == [wrong]


def test_a_group_of_zeros_is_found() -> None:
    """Shots exported without elevation stand together and agree with each other."""
    place = lot(4)
    level = 64 + 0.08 * place[:, 1]
    zeros = np.flatnonzero(np.hypot(*(place - 30).T) < 10)
    assert len(zeros) > 5
    level[zeros] = 0
    assert odd(np.column_stack([place, level])) == zeros.tolist()


def test_the_rest_is_judged_without_the_wrong_one() -> None:
    """What the neighbours say is what the plane was."""
    place = lot(9, 80)
    level = 64 + 0.1 * place[:, 0]
    middle = int(np.hypot(*(place - 30).T).argmin())
    true = level[middle]
    level[middle] = 6.4
    index, expected = odd_elevations(np.column_stack([place, level]), delaunay(place, "shots"))
    assert index.tolist() == [middle]
    assert expected[0] == pytest.approx(true, abs=1e-3)
