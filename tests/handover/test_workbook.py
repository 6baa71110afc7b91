"""The workbook read back by another library: values are the plan's, formulas live and right, names text."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from foundation.handover.grid import Formula
from foundation.handover.grids_levels import targets
from foundation.handover.workbook import grids_of, workbook
from foundation.model.takeoff import TakeOff
from foundation.plan import Plan
from foundation.plan.as_built import as_built_of
from foundation.plan.floors import floors_of
from foundation.plan.takeoff import take_off
from foundation.project import Job
from tests.conftest import planned
from tests.handover.formulas import Recomputed
from tests.handover.samples import HOSTILE, named
from tests.plan.floor_jobs import job as floor_job

FOOT = 0.3048
YARD3 = (3 * FOOT) ** 3
HASH = "0123456789"


@pytest.fixture(scope="module")
def count(demo_plan: Plan) -> TakeOff:
    return take_off(demo_plan, demo_plan.steppings[0].name)


@pytest.fixture(scope="module")
def book(demo_plan: Plan, demo_job: Job, count: TakeOff) -> Recomputed:
    content = workbook(demo_plan, demo_plan.steppings[0].name, count, HASH, typed=demo_job.project)
    return Recomputed(content)


def table(book: Recomputed, sheet: str) -> list[dict[str, Any]]:
    """Rows of a sheet by their headings, as they are cached; the sheet's frozen row is its heading."""
    cells = list(book.values[sheet].iter_rows(values_only=True))
    head = int(book.values[sheet].freeze_panes[1:]) - 2
    return [dict(zip(cells[head], row, strict=True)) for row in cells[head + 1 :]]


def test_sheets(book: Recomputed) -> None:
    wanted = ["take-off", "prices", "pours", "schedule", "rods", "cautions", "inputs"]
    assert book.formulas.sheetnames == wanted


def test_every_formula_carries_its_value(book: Recomputed) -> None:
    found = book.cells()
    assert {sheet for sheet, _, _ in found} >= {"take-off", "pours", "schedule", "rods"}
    for sheet, address, formula in found:
        cached = book.values[sheet][address].value
        worked_out = book.work_out(sheet, formula)
        if worked_out == "":
            assert cached in ("", None)
        else:
            assert cached == pytest.approx(worked_out, rel=1e-12, abs=1e-9), (sheet, address, formula)


def test_take_off_is_the_count(book: Recomputed, count: TakeOff) -> None:
    rows = [row for row in table(book, "take-off") if row["key"]]
    assert [row["key"] for row in rows] == [item.key for item in count.items]
    sizes = {"volume": YARD3, "area": FOOT**2, "length": FOOT, "number": 1.0, "mass": 0.45359237}
    for row, item in zip(rows, count.items, strict=True):
        size = sizes[item.kind]
        assert row["as drawn [unit]"] == pytest.approx(item.quantity / size)
        assert row["order [unit]"] == pytest.approx(item.order / size)
        assert row["price likely [$/unit]"] == pytest.approx(item.price.likely * size)
        for name in ("low", "likely", "high"):
            assert row[f"{name} [$]"] == pytest.approx(getattr(item.money, name))
        assert row["what"] == item.what
        assert row["how it is worked out"] == item.formula
    total = next(row for row in table(book, "take-off") if row["what"] == "all")
    for name in ("low", "likely", "high"):
        assert total[f"{name} [$]"] == pytest.approx(getattr(count.money, name))
    pieces = sum(len(item.pieces) for item in count.items)
    assert len(table(book, "take-off")) == len(count.items) + pieces + 1


def test_money_and_quantities_are_formulas(book: Recomputed, count: TakeOff) -> None:
    formulas = {address: text for sheet, address, text in book.cells() if sheet == "take-off"}
    for column in "KLM":
        assert len([at for at in formulas if at.startswith(column)]) == len(count.items) + 1
    assert len([at for at in formulas if at.startswith("E")]) == sum(
        bool(item.pieces) for item in count.items
    )


def test_a_price_typed_over_moves_the_total(book: Recomputed, count: TakeOff) -> None:
    """Concrete at $300/yd³ in place of $190: every order of concrete, and the total, follow."""
    sheet = book.values["prices"]
    (row,) = [
        cell.row for cell in sheet["A"] if isinstance(cell.value, str) and cell.value.startswith("concrete")
    ]
    before = count.money.likely
    assert sheet[f"D{row}"].value == pytest.approx(190)
    book.typed["prices", f"D{row}"] = 300.0
    last = book.values["take-off"].max_row
    yards = (
        sum(item.order for item in count.items if item.kind == "volume" and item.group == "concrete") / YARD3
    )
    try:
        assert book.value("take-off", f"L{last}") == pytest.approx(before + 110 * yards)
    finally:
        book.typed.clear()


def test_schedule_is_the_plans(book: Recomputed, demo_plan: Plan) -> None:
    wanted = demo_plan.schedules[demo_plan.steppings[0].name]
    rows = table(book, "schedule")
    assert len(rows) == len(wanted)
    for row, run in zip(rows, wanted, strict=True):
        assert row["wall"] == run.line
        assert row["to [ft]"] * FOOT == pytest.approx(run.end)
        assert row["length [ft]"] * FOOT == pytest.approx(run.end - run.start)
        assert row["bottom of footing [ft]"] * FOOT == pytest.approx(run.bottom.level)
        assert row["top of footing [ft]"] * FOOT == pytest.approx(run.top.level)
        assert row["bottom below benchmark [ft]"] * FOOT == pytest.approx(run.bottom.below_benchmark)
        assert row["wall height [ft]"] * FOOT == pytest.approx(run.wall_height)
        assert row["held down by"] == run.binds
        assert row["step at its end [-]"] == run.step


def test_rods_are_the_plans(book: Recomputed, demo_plan: Plan) -> None:
    """Feet and inches give the rod back to the sixteenth."""
    wanted = targets(demo_plan, demo_plan.steppings[0].name)
    rows = table(book, "rods")
    assert len(rows) == len(wanted)
    for row, (what, where, _, target) in zip(rows, wanted, strict=True):
        assert (row["what"], row["where"]) == (what, where)
        assert row["rod today [ft]"] * FOOT == pytest.approx(target.rod)
        assert row["below benchmark [ft]"] * FOOT == pytest.approx(target.below_benchmark)
        over = row["rod, whole feet [ft]"] + row["rod, inches over [in]"] / 12
        assert abs(over - row["rod today [ft]"]) <= 1 / 384 + 1e-9
        assert (row["rod, inches over [in]"] * 16) % 1 == pytest.approx(0)
        assert target.set_up in row["read from"]


def test_todays_backsight_typed_over_moves_every_rod(book: Recomputed, demo_plan: Plan) -> None:
    """The demo's backsight is 4.62 ft; with 5.00 ft every rod is 0.38 ft longer, over the turning point too."""
    book.typed["rods", "B4"] = 5.0
    rows = [cell.row for cell in book.values["rods"]["D"][12:] if isinstance(cell.value, float)]
    assert len(rows) > 30
    try:
        for row in rows:
            longer = book.value("rods", f"F{row}") - book.values["rods"][f"F{row}"].value
            assert longer == pytest.approx(0.38)
    finally:
        book.typed.clear()


def test_rods_stay_blank_without_a_backsight(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["levels"] = {"marks": demo_tables["levels"]["marks"]}
    plan = planned(demo_tables, demo_job.survey)
    answer = plan.steppings[0].name
    book = Recomputed(workbook(plan, answer, take_off(plan, answer), HASH))
    assert {row["rod today [ft]"] for row in table(book, "rods")} <= {None, ""}
    assert all(row["below benchmark [ft]"] is not None for row in table(book, "rods"))
    book.typed["rods", "B4"] = 4.0
    first = book.values["rods"].max_row
    level = book.values["rods"][f"D{first}"].value
    assert book.value("rods", f"F{first}") == pytest.approx(216.20 + 4.0 - level)


def test_cautions_and_inputs(book: Recomputed, demo_plan: Plan, demo_job: Job) -> None:
    cautions = demo_plan.cautions[demo_plan.steppings[0].name]
    rows = table(book, "cautions")
    assert sorted(row["key"] for row in rows) == sorted(each.trap.key for each in cautions)
    assert [row["severity"] for row in rows] == sorted(
        (row["severity"] for row in rows), key=["STOP", "WARN", "NOTE"].index
    )
    assert all(row["rule, edition, source"] for row in rows)
    inputs = {row["field"]: row for row in table(book, "inputs")}
    assert inputs["frost.depth"]["value"] == "4'-6\""
    assert inputs["frost.depth"]["value [SI]"] == pytest.approx(54 * FOOT / 12)
    assert inputs["frost.depth"]["SI unit"] == "m"
    assert inputs["frost.depth"]["entered or assumed"] == "entered"
    assert inputs["frost.date"]["value"] == "2026-03-03"
    assert inputs["parts[1].wall_top"]["value [SI]"] == pytest.approx(demo_job.project.parts[0].wall_top)
    for assumption in demo_plan.assumptions:
        assert inputs[assumption.place]["entered or assumed"] == "▲ assumed"
        assert inputs[assumption.place]["why"] == assumption.why


def test_zones(demo_plan: Plan) -> None:
    plan = planned(floor_job())
    answer = plan.steppings[0].name
    floors = floors_of(plan, answer)
    book = Recomputed(workbook(plan, answer, take_off(plan, answer, floors), HASH, floors))
    zone, *loops, total = table(book, "zones")
    shape = floors.zones[0].shape
    laid = [loop for laying in floors.zones[0].layings for loop in laying.loops]
    assert zone["zone or loop"] == shape.name
    assert zone["area [ft²]"] * FOOT**2 == pytest.approx(shape.area)
    assert zone["load [Btu/h·ft²]"] == pytest.approx(22)
    assert [loop["tube [ft]"] * FOOT for loop in loops] == pytest.approx([loop.length for loop in laid])
    assert total["tube [ft]"] * FOOT == pytest.approx(sum(loop.length for loop in laid))
    for sheet, address, formula in book.cells():
        if sheet == "zones":
            cached = book.values[sheet][address].value
            assert cached == pytest.approx(book.work_out(sheet, formula), rel=1e-12)


@pytest.mark.parametrize("name", HOSTILE)
def test_names_stay_text(name: str) -> None:
    """Each cell is what its table says: a formula of ours, or text as typed; no cell is a link."""
    plan = named(name)
    answer = plan.steppings[0].name
    count, built = take_off(plan, answer), as_built_of(plan, answer)
    found = Recomputed(workbook(plan, answer, count, HASH, as_built=built))
    texts = set()
    for grid in grids_of(plan, answer, count, None, built, None):
        sheet = found.formulas[grid.name]
        for number, row in enumerate(grid.rows, grid.header_row + 1):
            for place, column in enumerate(grid.columns, 1):
                wanted, cell = row.cells.get(column.key), sheet.cell(number, place)
                assert (cell.data_type == "f") is isinstance(wanted, Formula)
                assert cell.hyperlink is None
                if isinstance(wanted, Formula):
                    assert cell.value == wanted.text
                elif isinstance(wanted, str) and wanted:
                    assert cell.value == wanted
                    texts.add(wanted)
    assert {name, name[:20], name[:60], name[:80], name[:120]} <= texts
    assert found.values["schedule"]["A1"].value.startswith(f"{name}: ")
    for sheet, address, formula in found.cells():
        if not formula.startswith("=IF"):
            assert found.values[sheet][address].value == pytest.approx(found.work_out(sheet, formula))


def test_texts_that_no_file_may_hold(demo_plan: Plan, count: TakeOff) -> None:
    """Control characters and half a character come out as one visible mark each, never blank."""
    project = demo_plan.project.model_copy(update={"name": "a\x00b\ud800c"})
    plan = Plan(
        **{**{name: getattr(demo_plan, name) for name in demo_plan.__dataclass_fields__}, "project": project}
    )
    book = Recomputed(workbook(plan, plan.steppings[0].name, count, HASH))
    assert book.values["rods"]["A1"].value.startswith("a�b�c: ")


PAGE: dict[str, Callable[[Any], bool]] = {
    "landscape": lambda sheet: sheet.page_setup.orientation == "landscape",
    "fits the width": lambda sheet: (
        (sheet.page_setup.fitToWidth or 1) == 1 and sheet.page_setup.fitToHeight == 0
    ),
    "fits": lambda sheet: sheet.sheet_properties.pageSetUpPr.fitToPage,
    "letter": lambda sheet: str(sheet.page_setup.paperSize) == "1",
    "frozen": lambda sheet: sheet.freeze_panes is not None,
    "hash in the header": lambda sheet: HASH in sheet.oddHeader.right.text,
    "hash on the sheet": lambda sheet: HASH in sheet["A2"].value,
    "printed to its last row": lambda sheet: sheet.print_area.endswith(f"${sheet.max_row}"),
    "headings repeated": lambda sheet: bool(sheet.print_title_rows),
}


@pytest.mark.parametrize("what", PAGE)
def test_page(book: Recomputed, what: str) -> None:
    for sheet in book.formulas:
        assert PAGE[what](sheet), sheet.title


def test_same_bytes_for_the_same_plan(demo_plan: Plan, count: TakeOff) -> None:
    answer = demo_plan.steppings[0].name
    assert workbook(demo_plan, answer, count, HASH) == workbook(demo_plan, answer, count, HASH)


def test_metric(demo_tables: dict[str, Any], demo_job: Job) -> None:
    demo_tables["units"] = "metric"
    plan = planned(demo_tables, demo_job.survey)
    answer = plan.steppings[0].name
    book = Recomputed(workbook(plan, answer, take_off(plan, answer), HASH))
    rows = table(book, "schedule")
    assert rows[0]["bottom of footing [m]"] == pytest.approx(plan.schedules[answer][0].bottom.level)
    assert not [heading for heading in rows[0] if "ft" in str(heading)]


def test_unknown_answer(demo_plan: Plan, count: TakeOff) -> None:
    with pytest.raises(KeyError, match="no answer is called dearest"):
        workbook(demo_plan, "dearest", count, HASH)
