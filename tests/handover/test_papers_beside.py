"""What stands beside the plan on the papers: warm floors, heat, and the count."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest

from foundation import units
from foundation.model.heat import Band
from foundation.model.takeoff import Item, PourOrder, TakeOff
from foundation.plan import Plan
from foundation.plan.floors import floors_of
from foundation.plan.heat import heat_of
from tests.conftest import planned
from tests.handover.papers import papers, sheet_texts, signed, texts
from tests.handover.test_papers_names import MINIMAL

YARD = 0.9144**3


@pytest.fixture(scope="module")
def warm() -> Plan:
    tables: dict[str, Any] = copy.deepcopy(MINIMAL)
    tables["parts"][0] |= {
        "floor_heated": True,
        "foam_over_footing": "2 in",
        "foam": {"under_slab": {"board": "EPS II", "thickness": "2 in"}},
    }
    tables["ground"]["corner_grades"]["A"]["finished"] = "100 ft"
    tables |= {
        "climate": {"degree_days": "8000 °F·d", "design_temperature": "-9 °F", "source": "invented"},
        "fuel": {"kind": "propane", "price": "$2.90"},
        "zones": [{"name": "hall", "part": "house", "load": "10 Btu/h·ft²"}],
        "manifolds": [{"name": "by the stairs", "part": "house", "at": {"east": "2 ft", "north": "22 ft"}}],
        "pours": [{"name": "footings", "state": "ordered", "date": "2026-11-20"}],
    }
    plan = planned(tables)
    return signed(plan, plan.steppings[0].name)


def counted() -> TakeOff:
    item = Item(
        key="concrete-footings",
        group="concrete",
        pour="footings",
        what="concrete in footings",
        kind="volume",
        quantity=10 * YARD,
        order=10.5 * YARD,
        order_words="10.50 yd³",
        formula="",
        pieces=(),
        price=Band(180.0, 190.0, 200.0),
        money=Band(1890.0, 1995.0, 2100.0),
        quoted=True,
        stale=False,
        source="invented",
    )
    pour = PourOrder("footings", "ordered", 10 * YARD, 10.5 * YARD, 2, float("nan"), "3,000 psi")
    return TakeOff((item,), (pour,), Band(18_900.0, 21_400.0, 25_100.0), ("No steel entered.",))


def test_the_plumber_gets_every_loop_with_its_length(warm: Plan, tmp_path: Path) -> None:
    floors = floors_of(warm, warm.steppings[0].name)
    loops = [loop for zone in floors.zones for laying in zone.layings for loop in laying.loops]
    assert len(loops) > 1
    text = sheet_texts(papers(warm, tmp_path, "plumber", floors=floors)["plumber"])["Warm floors"]
    if "HELD BACK" in text:
        raise AssertionError(text)
    for loop in loops:
        assert loop.name in text
        assert units.feet_inches(loop.length) in text
    assert f"Tube in house: {len(loops)} loops" in text
    assert "by the stairs" in text
    assert "Scale" in text


def test_the_client_reads_the_coldest_floor_and_the_cost(warm: Plan, tmp_path: Path) -> None:
    heat = heat_of(warm, warm.steppings[0].name)
    assert heat is not None
    found = papers(warm, tmp_path, "client", "plumber", heat=heat, takeoff=counted())
    text = " ".join(texts(found["client"])[0].split())
    coldest = min(stretch.floor_temperature for stretch in heat.stretches)
    assert f"{coldest * 1.8 + 32:.0f} °F" in text
    assert "$21,000" in text
    assert "between $19,000 and $25,000" in text
    assert '2" under the floor of the house' in text
    sheets = sheet_texts(found["plumber"])
    assert "3,000 psi" in sheets["Decide by, order by"]
    assert "10.50 yd³" in sheets["Decide by, order by"]
    assert "No steel entered." in sheets["Decide by, order by"]
    gaps = sum(len(stretch.gaps) for stretch in heat.stretches)
    assert ("gap 1" in sheets["Foam and sections"]) == (gaps > 0)


def test_no_quote_no_money_for_the_client(warm: Plan, tmp_path: Path) -> None:
    unquoted = counted()
    item = unquoted.items[0]
    plain = TakeOff((Item(**{**vars(item), "quoted": False}),), unquoted.pours, unquoted.money, ())
    text = texts(papers(warm, tmp_path, "client", takeoff=plain)["client"])[0]
    assert "$" not in text
    assert "until one price and the fuel are confirmed" in " ".join(text.split())
