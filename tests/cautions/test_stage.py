"""Traps 17, 37, 39, 43 and 44: stages and sheets."""

from __future__ import annotations

from typing import Any

import pytest

from foundation.cautions import sheets, stage
from foundation.handover.as_text import caution_text
from tests.cautions.cases import named, of_demo, told


def staged(**fields: Any) -> tuple:
    return of_demo(lambda t: t["stage"].update(fields))


@pytest.mark.parametrize("plan", ["open", "unknown"])
def test_stands_a_winter(plan: str) -> None:
    (caution,) = named(staged(stands_winter=plan), "stands-a-winter")
    assert (caution.trap.number, caution.where, caution.trap.severity) == (17, "footings", 3)


@pytest.mark.parametrize("plan", ["no", "heated", "protected"])
def test_winter_that_is_planned(plan: str) -> None:
    assert not stage.stands_winter(plan)


def test_cold_pour() -> None:
    """Below 40 °F protect (ACI 306 [read])."""
    (caution,) = named(staged(air_at_pour="35 °F"), "cold-pour")
    assert told(caution) == (37, "pours", pytest.approx(3 / 1.8))
    assert caution_text(caution, "us").startswith("Air of 35 °F")
    assert not named(staged(air_at_pour="40 °F"), "cold-pour")
    assert not stage.cold_pour(None, False)


def test_frozen_ground() -> None:
    (caution,) = named(staged(frozen_ground=True), "cold-pour")
    assert (caution.trap.number, caution.where) == (37, "ground")


def test_sheets_of_different_revisions() -> None:
    issued = [("layout", "A"), ("footings", "A"), ("layout", "B")]
    found = of_demo(
        lambda t: t.update(issued=[{"sheet": sheet, "revision": revision} for sheet, revision in issued])
    )
    (caution,) = named(found, "sheets-of-different-revisions")
    assert (caution.trap.number, caution.where) == (39, "sheets")
    assert "layout (B)" in caution.sentence
    (older,) = sheets.sheets_of_different_revisions(issued, "B")
    assert "footings (A)" in older.sentence
    assert "layout" not in older.sentence  # the last one given out counts
    assert not sheets.sheets_of_different_revisions([*issued, ("footings", "B")], "B")
    assert not sheets.sheets_of_different_revisions([], "A")


def test_weak_mix() -> None:
    """Exposed walls 3,000 psi, garage slab 3,500 (IRC Table R402.2 [read]); 1 psi = 6894.757 Pa."""
    found = named(staged(wall_concrete="2500 psi", garage_slab_concrete="3000 psi"), "weak-mix")
    assert [told(caution) for caution in found] == [
        (43, "walls", pytest.approx(2500 * 6894.757, rel=1e-6)),
        (43, "garage slab", pytest.approx(3000 * 6894.757, rel=1e-6)),
    ]
    assert not named(staged(wall_concrete="3000 psi", garage_slab_concrete="3500 psi"), "weak-mix")
    assert not stage.weak_mix(None, None)


def test_temporary_heaters() -> None:
    (caution,) = named(staged(temporary_heaters=True), "temporary-heaters")
    assert (caution.trap.number, caution.where, caution.trap.severity) == (44, "basement", 1)
    for danger in ("carbon monoxide", "silica", "burns", "green wall"):
        assert danger in caution.sentence
    assert not stage.temporary_heaters(False)
