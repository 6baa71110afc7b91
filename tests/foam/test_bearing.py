from __future__ import annotations

from dataclasses import replace

import pytest

from foundation.foam.bearing import (
    BARROW,
    CAR,
    CONCRETE_STRENGTH,
    LIFT,
    PointLoad,
    bearing_of,
    foam_pressure,
    foundation_modulus,
    plate_stiffness,
    weakest_that_carries,
)
from foundation.foam.boards import board_named, board_types

INCH = 0.0254
BOARDS = [*board_types().values()]


def test_standing_loads_may_take_a_third_and_moving_ones_a_fifth() -> None:
    board = board_named("XPS IV")  # 25 psi
    standing = bearing_of(board, 2 * INCH, 4 * INCH, replace(CAR, moves=False))
    moving = bearing_of(board, 2 * INCH, 4 * INCH, CAR)
    assert standing.allowed / 6894.757 == pytest.approx(25 / 3, rel=1e-6)
    assert moving.allowed / 6894.757 == pytest.approx(5, rel=1e-6)
    assert standing.pressure == moving.pressure
    assert (moving.board, moving.load) == ("XPS IV", CAR.name)


def test_carries_up_to_what_is_allowed() -> None:
    board = board_named("EPS IX")
    found = bearing_of(board, 2 * INCH, 4 * INCH, CAR)
    just = CAR.force * found.allowed / found.pressure
    assert bearing_of(board, 2 * INCH, 4 * INCH, replace(CAR, force=just * 0.999999)).carries
    assert not bearing_of(board, 2 * INCH, 4 * INCH, replace(CAR, force=just * 1.000001)).carries


def test_the_weakest_is_the_weakest() -> None:
    for slab in (3.5 * INCH, 5 * INCH):
        for loads in ((BARROW,), (CAR,), (LIFT,), (BARROW, CAR, LIFT)):
            found = weakest_that_carries(BOARDS, 2 * INCH, slab, loads)
            assert found is not None
            for board in BOARDS:
                carries = all(bearing_of(board, 2 * INCH, slab, load).carries for load in loads)
                if board.strength < found.strength and board.family != "polyiso":
                    assert not carries
                if board == found:
                    assert carries


def test_more_loads_never_ask_for_less() -> None:
    def strength(loads: tuple[PointLoad, ...]) -> float:
        board = weakest_that_carries(BOARDS, 2 * INCH, 4 * INCH, loads)
        assert board is not None
        return board.strength

    assert strength((BARROW,)) < strength((BARROW, CAR))
    assert strength((BARROW, CAR)) <= strength((BARROW, CAR, LIFT))


def test_none_carries_a_load_that_crushes_all() -> None:
    assert weakest_that_carries(BOARDS, 2 * INCH, 4 * INCH, [PointLoad("a pile", 1e6, 0.3, False)]) is None


def test_polyiso_is_never_chosen() -> None:
    assert weakest_that_carries([board_named("polyiso")], 2 * INCH, 4 * INCH, [BARROW]) is None


def test_refusals_name_the_thing() -> None:
    board = board_named("EPS II")
    with pytest.raises(ValueError, match="the thickness of the foam is 0 m"):
        bearing_of(board, 0.0, 4 * INCH, CAR)
    with pytest.raises(ValueError, match="the thickness of the slab is -1 m"):
        bearing_of(board, 2 * INCH, -1.0, CAR)
    with pytest.raises(ValueError, match="the strength of the concrete is 0 Pa"):
        bearing_of(board, 2 * INCH, 4 * INCH, CAR, 0.0)
    with pytest.raises(ValueError, match="the weight of a crate is nan N"):
        bearing_of(board, 2 * INCH, 4 * INCH, PointLoad("a crate", float("nan"), 0.1, False))
    with pytest.raises(ValueError, match="the side of the foot of a crate is 0 m"):
        bearing_of(board, 2 * INCH, 4 * INCH, PointLoad("a crate", 1.0, 0.0, False))


@pytest.mark.parametrize("at", ["middle", "edge", "corner"])
def test_monotony(at: str) -> None:
    load = replace(CAR, at=at)

    def pressure(slab: float = 4.0, foam: float = 2.0, strength: float = CONCRETE_STRENGTH) -> float:
        return foam_pressure(
            load, plate_stiffness(slab * INCH, strength), foundation_modulus(7e6, foam * INCH)
        )

    assert pressure(slab=6) < pressure(slab=4) < pressure(slab=3)
    assert pressure(foam=4) < pressure(foam=2) < pressure(foam=1)
    assert pressure(strength=4e7) < pressure(strength=2e7)
    assert foam_pressure(replace(load, force=2 * load.force), 1e5, 1e8) == pytest.approx(
        2 * foam_pressure(load, 1e5, 1e8)
    )


@pytest.mark.parametrize("at", ["middle", "edge", "corner"])
def test_limits_of_the_slab(at: str) -> None:
    """Infinitely soft, the load presses on its own foot; infinitely stiff, it is spread to nothing."""
    load = replace(CAR, at=at)
    assert foam_pressure(load, 1e-6, 1e8) == pytest.approx(load.force / load.side**2)
    assert foam_pressure(load, 1e18, 1e8) < 1.0
    assert foam_pressure(load, 1e5, 1e-6) < 1.0


def test_the_middle_is_best_and_the_corner_worst() -> None:
    middle, edge, corner = (
        foam_pressure(replace(CAR, at=at), 1.7e5, 5e7) for at in ("middle", "edge", "corner")
    )
    assert middle < edge < corner
