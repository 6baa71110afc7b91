"""CSV files read back by the standard library: whole tables, numbers plain, names that no spreadsheet runs."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.handover.tables_csv import csv_text, safe, tables
from foundation.plan import Plan
from foundation.plan.as_built import as_built_of
from foundation.plan.takeoff import take_off
from tests.handover.samples import HOSTILE, named

FOOT = 0.3048
HASH = "0123456789"
NAMES = {
    "schedule.csv",
    "steps.csv",
    "walls.csv",
    "rods.csv",
    "diagonals.csv",
    "cautions.csv",
    "inputs.csv",
    "as-built-form.csv",
    "take-off.csv",
    "prices.csv",
    "pours.csv",
}


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


@pytest.fixture(scope="module")
def found(demo_plan: Plan) -> dict[str, str]:
    answer = demo_plan.steppings[0].name
    return tables(demo_plan, answer, HASH, take_off(demo_plan, answer))


def test_every_table_carries_the_revision(found: dict[str, str]) -> None:
    assert set(found) == NAMES
    for text in found.values():
        rows = read(text)
        assert rows
        assert {row["revision"] for row in rows} == {HASH}
        assert text.count("\r\n") == text.count("\n")


def test_steps_and_walls_are_the_plans(found: dict[str, str], demo_plan: Plan) -> None:
    stepping = demo_plan.steppings[0]
    steps = read(found["steps.csv"])
    assert [int(row["step [-]"]) for row in steps] == [step.number for step in stepping.steps]
    for row, step in zip(steps, stepping.steps, strict=True):
        assert float(row["from its first corner [ft]"]) * FOOT == pytest.approx(step.station, abs=2e-5)
        assert float(row["rise [ft]"]) * FOOT == pytest.approx(step.rise, abs=2e-5)
    walls = read(found["walls.csv"])
    pieces = demo_plan.walls[stepping.name].pieces
    for row, piece in zip(walls, pieces, strict=True):
        assert row["wall"] == piece.line
        assert float(row["height [ft]"]) * FOOT == pytest.approx(piece.top - piece.bottom, abs=2e-5)
    diagonals = read(found["diagonals.csv"])
    for row, each in zip(diagonals, demo_plan.diagonals, strict=True):
        assert float(row["distance [ft]"]) * FOOT == pytest.approx(each.length, abs=2e-5)


def test_the_form_is_read_back(demo_plan: Plan, found: dict[str, str]) -> None:
    """The form as it is says nothing; filled in with its own targets it is sound."""
    answer = demo_plan.steppings[0].name
    assert not as_built_of(demo_plan, answer, found["as-built-form.csv"]).rows
    rows = read(found["as-built-form.csv"])
    for row in rows:
        row["level [ft]"] = row["target [ft]"]
    filled = csv_text(list(rows[0]), [list(row.values()) for row in rows])
    built = as_built_of(demo_plan, answer, filled)
    assert not built.problems
    assert len(built.rows) == len(rows)
    assert {row.verdict.value for row in built.rows} == {"within"}


@pytest.mark.parametrize("name", HOSTILE)
def test_names_come_out_as_text(name: str) -> None:
    plan = named(name)
    answer = plan.steppings[0].name
    built = as_built_of(plan, answer)
    made = tables(plan, answer, HASH, take_off(plan, answer), as_built=built)
    cells = {
        cell for text in made.values() for row in csv.reader(io.StringIO(text, newline="")) for cell in row
    }
    guarded = f"'{name}" if name[0] in "=+-@" else name
    assert guarded in cells
    for cell in cells:
        number = cell.removeprefix("-").replace(".", "", 1).isdigit()
        assert number or not cell.startswith(("=", "+", "-", "@"))
    assert {row["where"] for row in read(made["rods.csv"])} >= {guarded[: 60 + len(guarded) - len(name)]}


@given(st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=20), min_size=2, max_size=4))
def test_any_text_comes_back(texts: list[str]) -> None:
    """RFC 4180: quotes, commas and line breaks are read back as they were."""
    ((*back,),) = csv.reader(io.StringIO(csv_text(texts, []), newline=""), strict=True)
    assert back == texts


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "\t=1", "\r=1", " =1", "＝1"])
def test_what_begins_a_formula_is_guarded(text: str) -> None:
    assert safe(text) == f"'{text}"


@pytest.mark.parametrize("text", ["", "A-B", "1-2", "a=b", "Дом", "🏠"])
def test_what_is_no_formula_is_left_alone(text: str) -> None:
    assert safe(text) == text
