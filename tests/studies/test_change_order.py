"""Change orders: what differs, counted by hand; what is poured stays, what is ordered is told."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest

from foundation.model.options import ChangeOrder
from foundation.plan import Plan, PlanError
from foundation.plan.locked import held_by, moved_concrete, ordered_changes
from foundation.project import Job
from foundation.project.differences import field_changes
from foundation.studies.change_order import change_order, locked_changes
from tests.conftest import planned
from tests.studies.lots import slab_tables

FOOT = 0.3048
YARD3 = (3 * FOOT) ** 3
INCH = 0.0254
ANSWER = "least cost"


def changed(tables: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A copy with some tables replaced or added to; those of the first part by its fields."""
    made = copy.deepcopy(tables)
    made["parts"][0].update(more.pop("part", {}))
    for name, table in more.items():
        made[name] = {**made.get(name, {}), **table} if isinstance(table, dict) else table
    return made


def poured(*names: str, state: str = "poured") -> list[dict[str, str]]:
    return [{"name": name, "state": state, "date": "2026-05-04"} for name in names]


def totals(order: ChangeOrder) -> dict[str, float]:
    return {total.name: total.after - total.before for total in order.totals}


# --- what was typed ---


def test_other_units_are_no_change() -> None:
    tables = slab_tables()
    again = changed(tables, part={"wall_thickness": '8"', "wall_top": "30.48 m"}, fuel={"efficiency": "92 %"})
    again["fuel"]["efficiency"] = "0.920"
    assert field_changes(tables, again) == ()


def test_what_was_typed_otherwise() -> None:
    tables = slab_tables()
    after = changed(
        tables,
        part={"footing_width": "20 in", "slab_thickness": "5 in", "floor_heated": True},
        prices={"step": "$115"},
    )
    after["parts"][0]["foam"]["outside"] = {"board": "XPS V", "thickness": "3 in"}
    found = {change.path: change for change in field_changes(tables, after)}
    # The price of a step is what was assumed anyway.
    assert set(found) == {
        "parts[1].footing_width",
        "parts[1].slab_thickness",
        "parts[1].floor_heated",
        "parts[1].foam.outside.thickness",
    }
    thickness = found["parts[1].slab_thickness"]
    assert (thickness.before, thickness.after) == ("0'-4\"", "5 in")
    assert (thickness.before_assumed, thickness.after_assumed) == (True, False)
    assert (thickness.label, thickness.description) == ("house, slab thickness", "Slab thickness.")
    assert (found["parts[1].floor_heated"].before, found["parts[1].floor_heated"].after) == ("no", "yes")
    assert found["parts[1].foam.outside.thickness"].label == "house, foam, outside, thickness"
    turned = {change.path: change for change in field_changes(after, tables)}
    for path, change in found.items():
        assert (turned[path].before, turned[path].after) == (change.after, change.before)


def test_entries_are_known_by_their_names() -> None:
    pads = [
        {
            "name": name,
            "east": "5 ft",
            "north": north,
            "length": "2 ft",
            "width": "2 ft",
            "thickness": "10 in",
        }
        for name, north in (("post 1", "5 ft"), ("post 2", "9 ft"))
    ]
    before, after = (
        slab_tables() | {"extras": pads},
        slab_tables() | {"extras": [dict(pads[1]), dict(pads[0])]},
    )
    assert field_changes(before, after) == ()
    after["extras"] = [{**pads[0], "name": "new"}, pads[0], {**pads[1], "width": "3 ft"}]
    first, second = field_changes(before, after)
    assert (first.path, first.label, first.before) == ("extras[1]", "extras new", "")
    assert (second.path, second.label, second.after) == ("extras[3].width", "extras post 2, width", "3 ft")
    (gone,) = field_changes(before, slab_tables() | {"extras": pads[1:]})
    assert (gone.path, gone.after) == ("extras[1]", "")
    assert "post 1" in gone.before


# --- what is counted ---


def test_nothing_changes_nothing() -> None:
    order = change_order(slab_tables(), slab_tables())
    assert (order.fields, order.quantities, order.moved, order.refused, order.ordered) == ((),) * 5
    assert set(totals(order).values()) == {0.0}
    assert (order.money.low, order.money.likely, order.money.high) == (0.0, 0.0, 0.0)
    assert not order.survey_changed


def test_a_wider_footing_by_hand() -> None:
    """4 in more under 97 ft 4 in of wall axis (30 × 20 ft outside, 8 in thick), 10 in thick: 27.04 ft³."""
    order = change_order(slab_tables(), changed(slab_tables(), part={"footing_width": "20 in"}))
    (footing,) = [line for line in order.quantities if line.key == "concrete-footings"]
    more = (2 * (30 + 20) - 4 * 8 / 12) * (4 / 12) * (10 / 12)
    assert (footing.after - footing.before) / FOOT**3 == pytest.approx(more, rel=1e-6)
    # Ordered by the quarter yard, at $190 a yard.
    yards = (footing.order_after - footing.order_before) / YARD3
    assert yards * 4 == pytest.approx(round(yards * 4), abs=1e-6)
    assert footing.money.likely == pytest.approx(190 * yards, rel=1e-6)
    assert totals(order)["concrete"] / YARD3 == pytest.approx(yards, rel=1e-6)
    assert totals(order)["steps"] == totals(order)["foam"] == totals(order)["tube"] == 0
    assert order.money.likely == pytest.approx(order.money_after.likely - order.money_before.likely, abs=1e-6)
    assert order.money.low < order.money.likely < order.money.high


def test_thicker_foam_by_hand() -> None:
    """2 in more of foam of $1 a board foot on 100 ft of wall, 3 ft high: as many sheets, each $64 dearer."""
    after = slab_tables()
    after["parts"][0]["foam"]["outside"]["thickness"] = "4 in"
    order = change_order(slab_tables(), after)
    found = {total.name: total for total in order.totals}
    sheets = found["foam sheets"]
    assert sheets.before == sheets.after
    assert sheets.after * 32 * FOOT**2 == pytest.approx(found["foam"].after, rel=1e-9)
    assert sheets.after >= 300 / 32
    assert sheets.money.likely == pytest.approx(sheets.after * 32 * 2.00, rel=1e-6)
    assert found["concrete"].before == found["concrete"].after
    # Below grade foam takes the place of backfill, which is hauled away instead.
    more = {line.key: line.after - line.before for line in order.quantities}
    assert set(more) == {
        "foam-wall-outside-xps-v-51",
        "foam-wall-outside-xps-v-102",
        "backfill",
        "haul",
    }
    assert more["backfill"] < 0
    assert more["haul"] == pytest.approx(-more["backfill"], rel=1e-6)


def test_totals_there_and_back() -> None:
    one, other = slab_tables(), changed(slab_tables(), part={"wall_thickness": "10 in", "wall_top": "101 ft"})
    there, back = change_order(one, other), change_order(other, one)
    assert totals(there)["concrete"] > 0
    for name, value in totals(there).items():
        assert totals(back)[name] == pytest.approx(-value, abs=1e-9)
    assert back.money.likely == pytest.approx(-there.money.likely, abs=1e-6)
    assert back.money.low == pytest.approx(-there.money.high, abs=1e-6)


def test_what_cannot_be_planned_is_said() -> None:
    with pytest.raises(PlanError, match=r"frost\.depth is missing"):
        change_order(slab_tables(), slab_tables() | {"frost": {}})
    with pytest.raises(PlanError, match="tallest wall"):
        change_order(slab_tables(), changed(slab_tables(), rules={"tallest_wall": "4 ft"}))


# --- what is poured ---


@pytest.mark.parametrize(
    ("pours", "change", "words"),
    [
        (["footings"], {"frost": {"depth": "56 in"}}, "the bottom of footing A-B"),
        (["house footings"], {"part": {"footing_width": "20 in"}}, "the width of footing A-B"),
        (["footings"], {"part": {"footing_thickness": "12 in"}}, "of footing A-B"),
        (["walls"], {"part": {"wall_top": "101 ft"}}, "the top of wall A-B from 100'-0\""),
        (
            ["walls"],
            {"part": {"wall_thickness": "10 in"}},
            "the thickness of wall A-B from 0'-8\" to 0'-10\"",
        ),
        (
            ["slab of house"],
            {"part": {"slab_top": "100.5 ft", "wall_top": "100.5 ft"}},
            "the top of slab house",
        ),
        (["slab"], {"part": {"slab_thickness": "5 in"}}, "the thickness of slab house"),
        (["house"], {"part": {"slab_thickness": "5 in"}}, "the thickness of slab house"),
    ],
)
def test_what_is_poured_stays(pours: list[str], change: dict[str, Any], words: str) -> None:
    before = slab_tables() | {"pours": poured(*pours)}
    after = changed(before, **copy.deepcopy(change))
    refused = locked_changes(planned(before), planned(after))
    assert refused
    assert all(problem.fatal and problem.place == "pours[1]" for problem in refused)
    assert any(words in problem.sentence for problem in refused)
    assert all("since 2026-05-04" in problem.sentence for problem in refused)
    assert change_order(before, after).refused == refused
    # Planned or ordered it may move; ordered it is told.
    for state in ("planned", "ordered"):
        before["pours"] = poured(*pours, state=state)
        order = change_order(before, after)
        assert order.refused == ()
        assert bool(order.ordered) == (state == "ordered")
        assert not any(problem.fatal for problem in order.ordered)
        assert order.moved


@pytest.mark.parametrize(
    ("pours", "change"),
    [
        (["footings"], {"part": {"slab_thickness": "5 in"}}),
        (["walls"], {"part": {"footing_width": "20 in"}}),
        (["footings", "walls"], {"fuel": {"price": "$3.50"}}),
        (["footings", "walls", "slab"], {"name": "another name"}),
    ],
)
def test_what_does_not_move_what_is_poured(pours: list[str], change: dict[str, Any]) -> None:
    before = slab_tables() | {"pours": poured(*pours)}
    order = change_order(before, changed(before, **copy.deepcopy(change)))
    assert order.refused == order.ordered == ()


def test_foam_under_a_poured_slab() -> None:
    before = slab_tables() | {"pours": poured("slab")}
    after = copy.deepcopy(before)
    after["parts"][0]["foam"]["under_slab"] = {"board": "XPS V", "thickness": "2 in"}
    (problem,) = locked_changes(planned(before), planned(after))
    assert "the foam under it of slab house" in problem.sentence


def test_an_opening_in_a_poured_wall() -> None:
    door = {"name": "hatch", "kind": "sleeve", "line": "A-B", "start": "5 ft", "width": "1 ft"}
    door |= {"bottom": "97 ft", "height": "1 ft"}
    before = slab_tables() | {"pours": poured("walls")}
    with_door = before | {"openings": [door]}
    for one, other in ((before, with_door), (with_door, before)):
        (problem,) = locked_changes(planned(one), planned(other))
        assert "the opening of wall A-B between 5'-0\" and 6'-0\"" in problem.sentence


def test_a_moved_corner_and_a_renamed_one() -> None:
    before = slab_tables() | {"pours": poured("footings", "walls")}
    moved = copy.deepcopy(before)
    moved["corners"]["B"]["east"] = moved["corners"]["C"]["east"] = "31 ft"
    for wall in moved["ground"]["walls"]:
        wall["stations"] = ["0 ft", "20 ft"] if wall["line"] in ("B-C", "D-A") else ["0 ft", "31 ft"]
    sentences = [problem.sentence for problem in locked_changes(planned(before), planned(moved))]
    assert any("footing B-C" in sentence and "stand elsewhere" in sentence for sentence in sentences)
    # A-B is only longer: where it was poured it stays.
    assert not any("A-B" in sentence for sentence in sentences)
    # Other names for the same corners move nothing.
    text = json.dumps(before).replace('"A"', '"NW"').replace("A-B", "NW-B").replace("D-A", "D-NW")
    renamed = json.loads(text)
    assert moved_concrete(planned(before), planned(renamed), ANSWER) == ()
    assert moved_concrete(planned(renamed), planned(before), ANSWER) == ()


def test_moves_are_where_the_levels_differ(
    demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Job
) -> None:
    """Deeper frost under the demo: the stretches and levels against the two plans' own cells."""
    demo_tables["frost"]["depth"] = "62 in"
    deeper = planned(demo_tables, demo_job.survey)
    moved = [each for each in moved_concrete(demo_plan, deeper, ANSWER) if each.what == "bottom"]
    footings = [each for each in moved if each.kind == "footing"]
    assert footings
    differ = 0.0
    for line in demo_plan.lines:
        name = line.wall.name
        was, now = (made.stepping(ANSWER).bottoms[name] for made in (demo_plan, deeper))
        node = line.node
        here = [each for each in footings if each.name == name]
        for start, end, level, lower in zip(node[:-1], node[1:], was, now, strict=True):
            middle = (start + end) / 2
            told = [each for each in here if each.start < middle < each.end]
            assert len(told) == (abs(level - lower) > 1e-6)
            for each in told:
                assert (each.before, each.after) == pytest.approx((level, lower))
                differ += end - start
    assert sum(each.end - each.start for each in footings) == pytest.approx(differ)


def test_names_of_pours() -> None:
    parts = ["house", "house annex", "garage"]
    assert held_by("Footings", parts) == (("footing", "pad"), "")
    assert held_by("slab of house annex", parts) == (("slab",), "house annex")
    assert held_by("footings and walls", parts) == (("footing", "pad", "wall"), "")
    assert held_by("garage", parts) == (("footing", "wall", "slab"), "garage")
    assert held_by("Tuesday's", parts) is None
    before = slab_tables() | {"pours": poured("Tuesday's <b>")}
    (problem,) = locked_changes(planned(before), planned(before))
    assert not problem.fatal
    assert problem.place == "pours[1].name"
    assert "Tuesday's <b>" in problem.sentence


def test_one_part_s_pour_holds_nothing_of_another(
    demo_plan: Plan, demo_tables: dict[str, Any], demo_job: Job
) -> None:
    demo_tables["pours"] = poured("slab of garage")
    before = planned(demo_tables, demo_job.survey)
    demo_tables["parts"][0]["slab_thickness"] = "5 in"
    assert locked_changes(before, planned(demo_tables, demo_job.survey)) == ()
    demo_tables["parts"][1]["slab_thickness"] = "5 in"
    (problem,) = locked_changes(before, planned(demo_tables, demo_job.survey))
    assert "slab garage" in problem.sentence
    assert ordered_changes(before, demo_plan) == ()
