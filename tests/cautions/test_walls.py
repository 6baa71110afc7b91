"""Traps 18, 19, 22, 23 and 24: what walls hold back, ledges, and slabs on fill."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from foundation.cautions import walls
from foundation.model.concrete import Ledge
from tests.cautions.cases import FOOT, INCH, cautions, fill, named, of_demo, piece, told
from tests.conftest import planned
from tests.plan.walls import wall_tables


def test_backfill_before_support() -> None:
    """More than 48 in of unbalanced fill needs top and foot held (IRC 2024 R404.1.1 [read])."""
    for loose in ({"top": False}, {"foot": False}):
        (caution,) = walls.backfill_before_support([fill("A-B", 5, **loose), fill("B-C", 7, **loose)])
        assert told(caution) == (18, "wall B-C", pytest.approx(7 * FOOT))
        assert "A-B" in caution.sentence
    assert not walls.backfill_before_support([fill("A-B", 7)])
    assert not walls.backfill_before_support([fill("A-B", 4, top=False, foot=False)])


def test_backfill_of_a_project() -> None:
    def held(deck: str, slab: str) -> Any:
        return lambda t: t["stage"].update(deck_before_backfill=deck, slab_before_backfill=slab)

    assert not named(of_demo(held("yes", "other support")), "backfill-before-support")
    for deck, slab in (("no", "yes"), ("braced", "no"), ("unknown", "yes")):
        (caution,) = named(of_demo(held(deck, slab)), "backfill-before-support")
        assert caution.trap.decides == "a licensed engineer"


def test_wall_over_10_ft() -> None:
    pieces = [piece("A-B", 0, 10, 0, 11), piece("B-C", 0, 8, -2, 11), piece("C-D", 0, 8, 0, 10)]
    (caution,) = walls.wall_over_10_ft(pieces)
    assert told(caution) == (19, "wall B-C", pytest.approx(13 * FOOT))
    assert "A-B" in caution.sentence
    assert "C-D" not in caution.sentence
    assert not walls.wall_over_10_ft(pieces[2:])


def test_wall_under_garage_fill() -> None:
    """With wheels on the fill over 24 in (IRC 2015 R404.4 [read])."""
    (caution,) = walls.wall_under_garage_fill([fill("B-H", 8), fill("A-B", 9)], {"B-H": "garage"})
    assert told(caution) == (19, "wall B-H", pytest.approx(8 * FOOT))
    assert not walls.wall_under_garage_fill([fill("B-H", 2)], {"B-H": "garage"})
    assert not walls.wall_under_garage_fill([fill("A-B", 9)], {})


def test_wall_below_floor() -> None:
    station = np.linspace(0, 20 * FOOT, 241)
    soil = {"A-B": (station, np.where(station < 10 * FOOT, 5 * FOOT, 0.0))}
    tops = {"A-B": 9 * FOOT, "B-C": 9 * FOOT}
    short = piece("A-B", 0, 12, 0, 6)
    (caution,) = walls.wall_below_floor([short], tops, soil)
    assert told(caution) == (19, "wall A-B", pytest.approx(5 * FOOT))
    assert not walls.wall_below_floor([piece("A-B", 0, 12, 0, 9)], tops, soil)  # up to the floor
    assert not walls.wall_below_floor([piece("A-B", 11, 20, 0, 6)], tops, soil)  # no soil against it
    assert not walls.wall_below_floor([piece("B-C", 0, 12, 0, 6)], tops, soil)


def test_retaining_wall() -> None:
    """Over 48 in without top support, over 24 in with other load (IRC 2015 R404.4 [read])."""
    free = fill("A-B", 5, framed=False)
    (caution,) = walls.retaining_wall([free, fill("B-C", 9)])
    assert told(caution) == (19, "wall A-B", pytest.approx(5 * FOOT))
    assert not walls.retaining_wall([fill("A-B", 4, framed=False), fill("B-C", 9)])
    (loaded,) = walls.retaining_wall([fill("B-C", 3)], {"B-C"})
    assert told(loaded) == (19, "wall B-C", pytest.approx(3 * FOOT))
    assert not walls.retaining_wall([fill("B-C", 2)], {"B-C"})
    (driven,) = named(of_demo(lambda t: t["surroundings"].update(surcharge=["A-D"])), "retaining-wall")
    assert driven.where == "wall D-A"


def test_unequal_walls() -> None:
    north, south, east = (0.0, 1.0), (0.0, -1.0), (1.0, 0.0)

    def sides(back: float) -> dict:
        return {"house": {("A-B",): (north, 7 * FOOT), ("C-D", "D-E"): (south, back), ("B-C",): (east, 0.0)}}

    (caution,) = walls.unequal_walls(sides(2 * FOOT))
    assert told(caution) == (19, "house, wall A-B", pytest.approx(5 * FOOT))
    assert "C-D and D-E" in caution.sentence
    assert not walls.unequal_walls(sides(3 * FOOT))
    (other,) = walls.unequal_walls(sides(12 * FOOT))
    assert other.line == "C-D"


def test_slab_on_deep_fill() -> None:
    """Inside fill deeper than 2 ft [practice]."""
    (caution,) = walls.slab_on_deep_fill(
        {"garage": (3 * FOOT, "G-H", 1.0), "house": (1.0 * FOOT, "A-B", 0.0)}
    )
    assert told(caution) == (22, "garage", pytest.approx(3 * FOOT))
    assert not walls.slab_on_deep_fill({"garage": (2 * FOOT, "G-H", 1.0)})


def ledge(**changes: Any) -> Ledge:
    """The lot's walkout: 12 in thinned to 7 1/4 in; 4 3/4 in = 2 in of foam + 2 3/4 in of bearing."""
    inches = {"level": 0.0, "wall": 12, "upper": 7.25, "foam": 2, "bearing": 2.75, "gap": 0, "remainder": 0}
    sound = Ledge(
        "C-D", **{k: v * INCH for k, v in inches.items()}, carries=7.25 * INCH, veneer=False, bypass=False
    )
    return dataclasses.replace(sound, **changes)


@pytest.mark.parametrize(
    ("changes", "value"),
    [
        ({"remainder": 0.75 * INCH}, 0.75 * INCH),
        ({"remainder": -0.25 * INCH}, 0.25 * INCH),
        ({"carries": 9.25 * INCH}, 7.25 * INCH),
        ({"veneer": True, "upper": 3.5 * INCH}, 3.5 * INCH),
    ],
)
def test_ledge_that_does_not_fit(changes: dict[str, Any], value: float) -> None:
    (caution,) = walls.ledge_does_not_fit([ledge(**changes)])
    assert told(caution) == (23, "wall C-D", pytest.approx(value))


def test_ledge_that_fits() -> None:
    assert not walls.ledge_does_not_fit([ledge(), ledge(carries=np.nan)])
    assert not walls.ledge_does_not_fit([ledge(veneer=True, upper=4 * INCH, carries=6 * INCH)])


def test_ledge_of_a_project() -> None:
    def size(**fields: str) -> Any:
        return lambda t: t["parts"][0]["walls"][0]["ledge"].update(fields)

    (caution,) = named(of_demo(size(bearing="2 in")), "ledge-does-not-fit")
    assert told(caution) == (23, "wall C-D", pytest.approx(0.75 * INCH))
    bare = of_demo(size(foam="0 in", bearing="4 3/4 in"))
    (bypass,) = named(bare, "slab-on-bare-ledge")
    assert told(bypass) == (24, "wall C-D", pytest.approx(4.75 * INCH))
    sound = of_demo()
    assert not named(sound, "ledge-does-not-fit")
    assert not named(sound, "slab-on-bare-ledge")


def test_bare_ledge() -> None:
    (caution,) = walls.slab_on_bare_ledge([ledge(bypass=True)])
    assert told(caution) == (24, "wall C-D", pytest.approx(2.75 * INCH))
    assert not walls.slab_on_bare_ledge([ledge()])


def test_ledge_over_fill() -> None:
    (caution,) = walls.ledge_over_fill([(ledge(), 3 * FOOT)])
    assert told(caution) == (22, "wall C-D", pytest.approx(3 * FOOT))
    assert not walls.ledge_over_fill([(ledge(), 2 * FOOT), (ledge(veneer=True), 3 * FOOT)])


def test_plain_basement_needs_no_engineer() -> None:
    """One straight wall in level ground: nothing of the walls' structure trips but the backfill before support."""
    tables = wall_tables("40 ft", ["0 ft", "40 ft"], ["100 ft", "100 ft"], "48 in", {"slab_top": "93 ft"})
    found = cautions(planned(tables), survey="")
    assert {c.trap.key for c in found if c.trap.number in range(18, 25)} == {"backfill-before-support"}
