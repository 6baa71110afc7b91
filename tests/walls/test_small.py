"""Ledges, fill and what is wrong with openings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.concrete import Ledge
from foundation.walls.fill import support_stages, unbalanced_fill
from foundation.walls.ledge import ledge_of
from foundation.walls.openings import check_foot, check_overlaps, check_top
from tests.walls.walls import INCH, opening, wall_line


def ledge(wall: float, upper: float, foam: float, bearing: float, **more: float) -> Ledge:
    """In inches."""
    return ledge_of(
        "A-B", 2.0, wall * INCH, upper * INCH, foam * INCH, bearing * INCH, more.get("gap", 0.0) * INCH,
        more.get("carries", upper) * INCH, bool(more.get("veneer", False)), more.get("below", 2.0) * INCH,
    )  # fmt: skip


def test_ten_inches_thinned_to_five_and_a_half() -> None:
    """Leaves 4 1/2 in for 2 in of foam and the slab's edge [practice]."""
    assert ledge(10, 5.5, 2, 2.5).remainder == 0.0
    assert not ledge(10, 5.5, 2, 2.5).bypass
    assert ledge(10, 5.5, 2, 2).remainder / INCH == pytest.approx(0.5)
    assert ledge(10, 5.5, 2, 2, gap=0.5).remainder == 0.0
    assert ledge(10, 5.5, 2, 3).remainder / INCH == pytest.approx(-0.5)


def test_what_passes_beside_the_foam() -> None:
    assert ledge(10, 5.5, 0, 4.5).bypass  # no edge foam
    assert ledge(10, 5.5, 2, 2.5, below=0).bypass  # on bare concrete
    assert ledge(10, 5.5, 2, 2).bypass  # the pour runs into half an inch
    assert not ledge(10, 5.5, 4.5, 0).bypass  # foam alone
    assert not ledge(10, 5.5, 0, 4.5, veneer=True, below=0).bypass


@given(parts=st.lists(st.integers(0, 64), min_size=4, max_size=4))
def test_remainder_closes_the_sum(parts: list[int]) -> None:
    upper, foam, bearing, gap = (part / 16 for part in parts)
    wall = upper + foam + bearing + gap
    assert ledge(wall, upper, foam, bearing, gap=gap).remainder == 0.0
    assert ledge(wall + 1 / 16, upper, foam, bearing, gap=gap).remainder / INCH == pytest.approx(1 / 16)


def test_fill_pushes_either_way() -> None:
    station = np.array([0.0, 1.0, 2.0])
    fill = unbalanced_fill("A-B", station, np.array([3.0, 2.0, 1.0]), np.full(3, 2.0), ())
    assert fill.height.tolist() == [1.0, 0.0, 1.0]


@pytest.mark.parametrize(
    ("deck", "slab", "carries", "backfill", "slab_poured", "framed"),
    [
        ("unknown", "unknown", True, (False, False), (False, True), (True, True)),
        ("no", "no", True, (False, False), (False, True), (True, True)),
        ("yes", "yes", True, (True, True), (True, True), (True, True)),
        ("braced", "other support", True, (True, True), (True, True), (True, True)),
        # No deck ever bears on a garage wall; braces hold it while they stand.
        ("yes", "no", False, (False, False), (False, True), (False, True)),
        ("braced", "no", False, (True, False), (True, True), (False, True)),
    ],
)
def test_supports(
    deck: str, slab: str, carries: bool, backfill: tuple[bool, bool], slab_poured: tuple[bool, bool],
    framed: tuple[bool, bool],
) -> None:  # fmt: skip
    stages = support_stages(deck, slab, carries)
    assert [stage.stage for stage in stages] == ["walls stripped", "backfill", "slab poured", "framed"]
    held = [(stage.top, stage.foot) for stage in stages]
    assert held == [(False, False), backfill, slab_poured, framed]


def say(length: float) -> str:
    return f"{length:.2f} m"


def test_openings_against_the_top() -> None:
    wall = wall_line(10.0, 3.0)
    for kind in ("door", "window", "overhead door", "beam pocket", "sleeve"):
        assert check_top(opening(kind, 1, 2, 2.0, 3.0), "openings[1]", wall, say) == []
        (problem,) = check_top(opening(kind, 1, 2, 3.0, 3.2), "openings[1]", wall, say)
        assert problem.place == "openings[1].bottom"
        assert problem.fatal == (kind in ("beam pocket", "sleeve"))
        assert "3.00 m, the top of wall is 3.00 m" in problem.sentence
    assert check_top(opening("door", 1, 2, 2.0, 4.0), "openings[1]", wall, say) == []
    (problem,) = check_top(opening("sleeve", 1, 2, 2.9, 3.1), "openings[2]", wall, say)
    assert problem.place == "openings[2].height"


def test_openings_against_the_footing() -> None:
    assert check_foot(opening("door", 1, 2, 0.0, 2.0), "openings[1]", 0.0, say) == []
    (problem,) = check_foot(opening("door", 1, 2, 0.0, 2.0), "openings[1]", 0.1, say)
    assert problem.fatal
    assert problem.sentence == (
        "Door door in wall A-B begins at 0.00 m, the top of footing there is 0.10 m: raise it, or lower the footing."
    )
    assert check_foot(opening("sleeve", 1, 2, 0.0, 0.2), "openings[1]", 0.1, say) == []


def test_overlaps() -> None:
    first = opening("door", 1, 2, 0, 2)
    beside = opening("window", 2, 3, 1, 2)
    above = opening("sleeve", 1.5, 1.6, 2, 2.1)
    elsewhere = opening("door", 1, 2, 0, 2, line="B-C")
    across = opening("window", 1.9, 2.1, 1, 2)
    places = [f"openings[{n}]" for n in range(1, 6)]
    assert check_overlaps([first, beside, above, elsewhere], places) == []
    found = check_overlaps([first, beside, above, elsewhere, across], places)
    assert [problem.place for problem in found] == ["openings[5].start"] * 2
    assert "overlaps door door" in found[0].sentence
