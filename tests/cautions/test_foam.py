"""Traps 15 and 25 to 31: foam where it is missing, broken, weak, under a footing, or counted for more than it is."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from foundation.cautions import foam, register
from foundation.cautions.foam import DoorEdge, Edge
from foundation.model.caution import Caution
from foundation.model.foam import Bearing
from foundation.model.section import InsulationGap
from foundation.plan import PlanError
from tests.cautions.cases import FOOT, INCH, SURVEY, demo, named, told
from tests.conftest import planned

R = 0.1761101838  # m²·K/W in one h·ft²·°F/Btu
PSI = 6894.757
Change = Callable[[dict[str, Any]], object]


def of_foam(*changes: Change) -> tuple[Caution, ...]:
    """All cautions of the demo lot, changed."""
    return planned(demo(*changes), SURVEY).cautions["least cost"]


def door(**said: Any) -> Change:
    return lambda tables: tables["openings"][0].update(said)


FOAMED_DOOR = door(edge_foam={"board": "XPS IV", "thickness": "2 in"}, slab_through="no", break_covered="yes")


def garage(**said: Any) -> Change:
    return lambda tables: tables["parts"][1]["foam"].update(said)


def house(**said: Any) -> Change:
    return lambda tables: tables["parts"][0]["foam"].update(said)


def edge(line: str, resistance: float, reach: float) -> Edge:
    return Edge(line, 0.0, "slab edge", resistance * R, reach * FOOT)


def test_edge_left_bare() -> None:
    short = [edge("A-B", 5, 4), edge("B-C", 0, 0), edge("C-D", 10, 4)]
    (caution,) = foam.edge_left_bare(short, 10 * R, 4 * FOOT)
    assert told(caution) == (25, "wall B-C", 0.0)
    assert "no foam at all" in caution.sentence
    assert "A-B" in caution.sentence
    assert "C-D" not in caution.sentence
    assert not foam.edge_left_bare(short[2:], 10 * R, 4 * FOOT)


def test_edge_foam_that_ends_too_soon() -> None:
    (caution,) = foam.edge_left_bare([edge("A-B", 10, 2), edge("B-C", 10, 4)], 10 * R, 4 * FOOT)
    assert told(caution) == (25, "wall A-B", pytest.approx(2 * FOOT))


def test_without_an_office_only_a_bare_edge_trips() -> None:
    (caution,) = foam.edge_left_bare([edge("A-B", 0, 0), edge("B-C", 3, 1)], None, None)
    assert told(caution)[:2] == (25, "wall A-B")
    assert "asked for" not in caution.sentence


def test_the_garage_door_of_the_demo() -> None:
    found = of_foam()
    (caution,) = named(found, "edge-left-bare")
    assert told(caution) == (25, "wall E-F", 0.0)
    assert caution.station == pytest.approx(4 * FOOT)  # where the door begins
    (caution,) = named(found, "slab-through-door")
    assert told(caution)[:2] == (27, "garage door in wall E-F")
    assert not named(of_foam(FOAMED_DOOR), "edge-left-bare")


def test_edges_of_a_project() -> None:
    """R is read off the label: 2 in of XPS IV are R-10 (ASTM C578 [memory]), 1 in is R-5."""
    thin = {"board": "XPS IV", "thickness": "1 in"}
    found = of_foam(FOAMED_DOOR, garage(outside=thin, slab_edge=thin))
    assert not named(found, "edge-left-bare")  # 1 in outside and 1 in at the slab's edge
    (caution,) = named(
        of_foam(FOAMED_DOOR, garage(outside=thin), lambda t: t["parts"][1]["foam"].pop("slab_edge")),
        "edge-left-bare",
    )
    assert told(caution)[2] == pytest.approx(5 * R)
    assert "F-G" in caution.sentence


def test_basement_wall_short_of_r() -> None:
    def asked(r: str) -> Change:
        return lambda tables: tables["required"].update(wall=r)

    (caution,) = named(of_foam(asked("R-15")), "basement-wall-short-of-r")
    assert told(caution)[2] == pytest.approx(10 * R)
    assert not named(of_foam(asked("R-10")), "basement-wall-short-of-r")


def gap(where: str, inches: float) -> InsulationGap:
    return InsulationGap(where, (0.0, 0.0), (0.0, inches * INCH), inches * INCH, math.nan)


def test_insulation_line_broken() -> None:
    gaps = [("A-B", 1.0, gap("ledge", 4)), ("B-C", 2.0, gap("ledge", 7)), ("C-D", 3.0, gap("sill", 1.5))]
    (caution,) = foam.insulation_line_broken(gaps)
    assert told(caution) == (26, "wall B-C", pytest.approx(7 * INCH))
    assert "A-B" in caution.sentence


def test_change_of_side_of_a_project() -> None:
    """Foam outside the wall and under the slab leaves the wall's own thickness between them, 10 in of concrete."""
    found = named(of_foam(FOAMED_DOOR), "insulation-line-broken")
    assert any(told(c)[1:] == ("wall A-B", pytest.approx(10 * INCH)) for c in found)
    # Inside foam comes down to the slab's edge foam: nothing is left to bridge there.
    inside = {"board": "XPS IV", "thickness": "2 in"}
    found = named(
        of_foam(lambda t: t["parts"][0].update(foam={**t["parts"][0]["foam"], "inside": inside})),
        "insulation-line-broken",
    )
    assert not any("A-B" in (c.line, *c.sentence.split()) and told(c)[2] > 9 * INCH for c in found)


def door_edge(**said: Any) -> DoorEdge:
    usual = {"foam": 2 * INCH, "strength": 25 * PSI, "covered": True, "slab_through": "no"}
    return DoorEdge("door", "E-F", 1.0, **{**usual, **said})


def test_slab_through_door() -> None:
    assert not foam.slab_through_door([door_edge()])
    (caution,) = foam.slab_through_door([door_edge(slab_through="yes")])
    assert caution.trap is register.SLAB_THROUGH
    (caution,) = foam.slab_through_door([door_edge(foam=0.0, slab_through="unknown")])
    assert caution.trap is register.SLAB_THROUGH


def test_wheels_on_a_foam_break() -> None:
    """2,000 lb on 20 in² (IRC Table R301.5 note [memory]) are 100 psi; a fifth of 25 psi is 5."""
    (caution,) = foam.slab_through_door([door_edge(covered=False)])
    assert caution.trap is register.WHEELS_ON_FOAM
    assert told(caution)[2] == pytest.approx(20, rel=1e-6)
    assert not foam.slab_through_door([door_edge(covered=False, strength=501 * PSI)])


def test_heated_slab_short_of_r() -> None:
    assert not named(of_foam(), "heated-slab-short-of-r")  # 2 1/2 in of EPS II are R-10 by the label
    (caution,) = named(
        of_foam(house(under_slab={"board": "EPS II", "thickness": "2 in"})), "heated-slab-short-of-r"
    )
    assert told(caution) == (28, "slab of house", pytest.approx(8 * R))
    assert "R-10" not in caution.sentence  # numbers stand in the amounts
    assert not foam.heated_slab_short({"house": 0.0}, None)


def test_foam_too_weak() -> None:
    weak = Bearing("EPS I", "a car's wheel", 3 * PSI, 2 * PSI, False)
    (caution,) = foam.foam_too_weak([("garage", weak), ("house", Bearing("XPS IV", "", 1.0, 2.0, True))])
    assert told(caution) == (29, "slab of garage", 1.5)


def test_foam_under_the_garage() -> None:
    assert not named(of_foam(), "foam-too-weak")
    (caution,) = named(
        of_foam(garage(under_slab={"board": "EPS I", "thickness": "2 1/2 in"})), "foam-too-weak"
    )
    assert caution.where == "slab of garage"


def test_foam_under_a_footing() -> None:
    assert not named(of_foam(), "foam-under-footing")
    (caution,) = named(
        of_foam(house(under_footing={"board": "XPS VI", "thickness": "2 in"})), "foam-under-footing"
    )
    assert told(caution)[2] == pytest.approx(2 * INCH)
    assert caution.trap.decides == "a licensed engineer"


def test_wing_that_reaches_under_the_footing() -> None:
    wing = {"board": "XPS IV", "thickness": "2 in", "width": "2 ft", "depth": "5 ft"}
    (caution,) = named(of_foam(garage(wing=wing)), "foam-under-footing")
    assert caution.line in {"B-E", "E-F", "F-G", "G-H"}
    assert not named(of_foam(garage(wing={**wing, "depth": "1 ft"})), "foam-under-footing")


def test_foam_starves_footing() -> None:
    places = [("A-B", 1.0, 40 * INCH), ("B-C", 2.0, 30 * INCH), ("C-D", 3.0, 54 * INCH)]
    (caution,) = foam.foam_starves_footing(places, 54 * INCH, {"A-B", "B-C", "C-D"})
    assert told(caution) == (15, "wall B-C", pytest.approx(30 * INCH))
    assert not foam.foam_starves_footing(places, 54 * INCH, {"C-D"})
    assert not foam.foam_starves_footing(places, 30 * INCH, {"A-B", "B-C"})


def test_shallow_footing_over_foam_of_a_project() -> None:
    """A stepping of one's own 46 in below the benchmark of the walkout leaves 52.4 in of 54 (the lot's own trap)."""

    def shallow(tables: dict[str, Any]) -> None:
        tables["own_runs"] = [{"line": "C-D", "start": "0 ft", "end": "44 ft", "bottom": "200.84 ft"}]

    plan = planned(demo(shallow), SURVEY)
    (caution,) = named(plan.cautions["your own"], "foam-starves-footing")
    assert caution.line == "C-D"
    assert not named(plan.cautions["least cost"], "foam-starves-footing")


def test_label_in_the_ground() -> None:
    assert not named(of_foam(), "label-r-in-ground")
    (caution,) = named(of_foam(lambda t: t.update(foam_basis="label")), "label-r-in-ground")
    # EPS II lying in wet ground 2.6 of 4.0 an inch (ASCE 32 and ASTM C578 [memory]).
    assert told(caution)[2] == pytest.approx(0.65)


def test_foam_counted_twice() -> None:
    assert not named(of_foam(), "foam-counted-twice")
    edge_foam = {"slab_edge": {"board": "XPS IV", "thickness": "2 in"}}
    (caution,) = named(
        of_foam(lambda t: t["parts"][0]["walls"][0].update(foam=edge_foam)), "foam-counted-twice"
    )
    assert caution.line == "C-D"


@pytest.mark.parametrize("board", ["polyiso", "cork"])
def test_boards_that_do_not_go_into_the_ground(board: str) -> None:
    with pytest.raises(PlanError, match=board):
        of_foam(house(under_slab={"board": board, "thickness": "2 in"}))
