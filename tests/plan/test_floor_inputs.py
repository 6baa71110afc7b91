"""Zones that make no floor end in sentences that name them; odd values end in floors or in sentences."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable
from typing import Any

import pytest

from foundation.plan import PlanError, plan
from foundation.plan.floors import floors_of
from foundation.project import Job, check
from tests.plan.floor_jobs import COLD_YEAR, FOOT, INCH, floors, job
from tests.plan.test_odd_inputs import VALUES, leaves

Tables = dict[str, Any]


def box(west: float, south: float, east: float, north: float) -> dict[str, str]:
    sides = {"start_east": west, "start_north": south, "end_east": east, "end_north": north}
    return {key: f"{value} ft" for key, value in sides.items()}


def zone(name: str, **said: Any) -> dict[str, Any]:
    return {"name": name, "part": "house", "load": "15 Btu/h·ft²", **said}


def with_zones(*zones: dict[str, Any]) -> Callable[[Tables], None]:
    return lambda tables: tables.update(zones=list(zones))


def corners(*places: tuple[float, float]) -> list[dict[str, str]]:
    return [{"east": f"{east} ft", "north": f"{north} ft"} for east, north in places]


BAD: dict[str, tuple[Callable[[Tables], Any], str, str]] = {
    "overlap": (
        with_zones(zone("one", box=box(2, 2, 12, 12)), zone("two", box=box(10, 10, 20, 20))),
        "zones[2]",
        "Zones one and two share 4 ft²",
    ),
    "outside": (
        with_zones(zone("one", box=box(20, 2, 40, 12))),
        "zones[1].box",
        "lie outside house",
    ),
    "in the walls": (with_zones(zone("one", box=box(0, 0, 26, 0.5))), "zones[1].box", "lies in the walls"),
    "flat": (with_zones(zone("one", box=box(2, 2, 2, 12))), "zones[1].box", "measures 0 ft²"),
    "crossing": (
        with_zones(zone("one", corners=corners((2, 2), (12, 12), (12, 2), (2, 12)))),
        "zones[1].corners",
        "crosses itself",
    ),
    "nothing left": (
        with_zones(zone("one"), zone("two")),
        "zones[2]",
        "has no shape",
    ),
    "one name": (
        with_zones(zone("one", box=box(2, 2, 8, 8)), zone("one", box=box(9, 9, 12, 12))),
        "zones[2].name",
        "Two zones are called one",
    ),
    "unknown part": (
        lambda t: t["zones"][0].update(part="barn"),
        "zones[1].part",
        "parts with a floor are: house",
    ),
    "unheated": (
        lambda t: t["parts"][0].update(heated=False),
        "zones[1].part",
        "set heated = true",
    ),
    "off the knobs": (
        lambda t: t.update(floors={"held": "knobbed panel", "knob_spacing": "2 in"}),
        "zones[1].spacing",
        "0'-8\" or 0'-10\" would do",
    ),
    "too close to turn": (
        lambda t: t["zones"][0].update(spacing="4 in"),
        "zones[1].spacing",
        "turns back from 4 11/16",
    ),
    "no foam to lie on": (
        lambda t: (t.update(floors={"held": "stapled to foam"}), t["parts"][0].update(foam={})),
        "floors.held",
        "has no foam under its slab",
    ),
    "typed depth on foam": (
        lambda t: t.update(floors={"held": "stapled to foam", "axis_depth": "2 in"}),
        "floors.axis_depth",
        "leave axis_depth out",
    ),
    "under the slab": (
        lambda t: t.update(floors={"axis_depth": "5 in"}),
        "floors.axis_depth",
        "would do",
    ),
    "thin slab": (
        lambda t: t["parts"][0].update(slab_thickness="1 in"),
        "parts[1].slab_thickness",
        "wants at least twice that",
    ),
    "base over the foam": (
        lambda t: t.update(floors={"held": "knobbed panel", "panel_base": "3 in"}),
        "floors.panel_base",
        "counts as part of that foam",
    ),
    "cool comfort": (
        lambda t: t["zones"][0].update(comfort="68 °F"),
        "zones[1].comfort",
        "wish for a warmer floor",
    ),
    "manifold outdoors": (
        lambda t: t["manifolds"][0].update(at={"east": "99 ft", "north": "1 ft"}),
        "manifolds[1].at",
        "place it within",
    ),
    "fluid of no part": (
        lambda t: t.update(floors={"fluid_by_part": {"barn": {}}}),
        "floors.fluid_by_part.barn",
        'in "barn"',
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_what_makes_no_floor(name: str) -> None:
    change, place, told = BAD[name]
    tables = job()
    change(tables)
    with pytest.raises(PlanError) as raised:
        floors(tables)
    found = [problem for problem in raised.value.problems if problem.place == place]
    assert found, [(problem.place, problem.sentence) for problem in raised.value.problems]
    assert told in found[0].sentence
    assert found[0].fatal


def test_shapes_share_the_floor_out() -> None:
    """A rectangle, corners, and what is left; posts and drains are holes, a box that overruns the wall ends at it."""
    tables = job()
    with_zones(
        zone("bath", use="bath", box=box(-0.01, 20, 10, 25.6)),
        zone("nook", corners=corners((20, 2), (25, 2), (25, 8))),
        zone("rest"),
    )(tables)
    tables["obstacles"] = [
        {"name": "post", "part": "house", "kind": "post", "box": box(12, 12, 13, 13)},
        {"name": "drain", "part": "house", "kind": "drain", "box": box(20, 20, 20.5, 20.5)},
    ]
    found = floors(tables)
    bath, nook, rest = (each.shape for each in found.zones)
    assert bath.area / FOOT**2 == pytest.approx((10 - 10 / 12) * (25.666667 - 10 / 12 - 20), rel=1e-3)
    assert nook.area / FOOT**2 == pytest.approx(15, rel=1e-4)
    assert (bath.area + nook.area + rest.area) / FOOT**2 == pytest.approx(600, abs=0.05)
    assert (rest.area - rest.covered) / FOOT**2 == pytest.approx(1.25, rel=1e-3)
    assert len(rest.areas[0].holes) == 3  # and the nook
    assert found.zones[0].limit == 33.0


def test_a_zone_in_two_pieces_says_which_has_no_loops() -> None:
    tables = job()
    with_zones(zone("band", box=box(0.5, 11, 26, 14)), zone("rest"))(tables)
    tables["manifolds"][0]["at"] = {"east": "1 ft", "north": "12 ft"}
    found = floors(tables)
    rest = found.zone("rest")
    assert len(rest.shape.areas) == 2
    # Leaders that find no way past the band are told of, and the floor they leave bare is drawn.
    bare = [laying for laying in rest.layings if not laying.loops]
    assert len(bare) < 2
    assert all(laying.unreached_area > 0 for laying in bare)
    assert any("zone rest" in notice.sentence for notice in found.notices) or not bare
    names = [loop.name for laying in rest.layings for loop in laying.loops]
    assert len(set(names)) == len(names)


def test_deep_saw_cut_is_a_barrier_and_a_stop() -> None:
    """A cut of a quarter of 4 in stays clear of tube on the foam; one of 3 in does not."""
    tables = job()
    tables["floors"] = {"held": "stapled to foam"}
    joint = {
        "name": "cut",
        "part": "house",
        "start": {"east": "13 ft", "north": "0.9 ft"},
        "end": {"east": "13 ft", "north": "24.8 ft"},
    }
    tables["joints"] = [joint]
    sound = floors(tables)
    assert sound.zones[0].shape.areas[0].barriers == ()
    assert not [c for c in sound.cautions if c.trap.key == "saw-cut-meets-tube"]
    joint["depth"] = "3 in"
    stopped = floors(tables)
    assert [barrier.name for barrier in stopped.zones[0].shape.areas[0].barriers] == ["cut"]
    (caution,) = [c for c in stopped.cautions if c.trap.key == "saw-cut-meets-tube"]
    assert caution.amounts["left"].value / INCH == pytest.approx(4 - 0.625 - 3)
    # An isolation joint is a barrier whatever its depth, and nobody saws it.
    del joint["depth"]
    joint["kind"] = "isolation"
    parted = floors(tables)
    assert len(parted.zones[0].shape.areas[0].barriers) == 1
    assert not [c for c in parted.cautions if c.trap.key == "saw-cut-meets-tube"]


def test_what_was_left_out_is_told() -> None:
    tables = job() | {"floors": {"fluid": "propylene glycol"}}
    del tables["manifolds"]
    del tables["zones"][0]["finish_resistance"]
    tables["parts"][0]["floor_heated"] = False
    found = floors(tables)
    told = [notice.place for notice in found.notices]
    assert {"manifolds", "parts[1].floor_heated"} <= set(told)
    assert any("glycol of house: 40%" in said for said in found.assumed)
    assert any("bare and carpet and pad of R-2" in said for said in found.assumed)
    assert len(found.zones[0].cases) == 2


@pytest.mark.parametrize("seed", range(2))
def test_odd_values_end_in_floors_or_in_sentences(demo_tables: Tables, demo_job: Job, seed: int) -> None:
    rng = random.Random(seed)
    made = refused = 0
    topics = ("zones", "obstacles", "joints", "manifolds", "floors")
    for _ in range(30):
        tables = copy.deepcopy(demo_tables)
        paths = [path for path in leaves(tables) if path[0] in topics]
        path = rng.choice(paths)
        place: Any = tables
        for key in path[:-1]:
            place = place[key]
        place[path[-1]] = rng.choice([*VALUES, "R-9", "300 Btu/h·ft²", "40 %", "none", "air"])
        project, problems = check(tables)
        if project is None:
            assert problems
            refused += 1
            continue
        try:
            problems = floors_of(plan(project, demo_job.survey), "least cost").notices
            made += 1
        except PlanError as error:
            problems = error.problems
            refused += 1
        assert all(problem.sentence for problem in problems)
    assert made
    assert refused


def test_climate_moves_the_design_alone() -> None:
    """A colder design day at the same year: more goes out at the edge, nothing else moves."""
    mild, cold = (
        floors(job() | {"climate": {**COLD_YEAR, "design_temperature": each}}).zones[0]
        for each in ("5 °F", "-9 °F")
    )
    assert mild.ground.resistance == cold.ground.resistance
    assert mild.ground.mean == cold.ground.mean
    assert mild.ground.temperature > cold.ground.temperature
    assert mild.cases[0].output.up == cold.cases[0].output.up
