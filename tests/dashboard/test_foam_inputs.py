"""Fields of foam and climate: what is typed stays, what is wrong is said at its place."""

from __future__ import annotations

import pytest

from foundation import places
from foundation.dashboard.pages.foam_field import (
    NO_FOAM,
    FoamField,
    as_written,
    stock_thicknesses,
    usual_thickness,
)
from foundation.dashboard.pages.foam_inputs import FoamInputs
from foundation.dashboard.state import State
from foundation.foam.boards import board_types
from foundation.model.problem import Problem

OUTSIDE = "parts[1].foam.outside"
SCRIPT = "<script>alert(1)</script>"


@pytest.fixture
def state() -> State:
    opened = State()
    text = places.data("demo", "fallow-fen.toml").read_text(encoding="utf-8")
    opened.open_text(text, places.data("demo", "shots.csv").read_text(encoding="utf-8"))
    return opened


@pytest.fixture
def outside(state: State) -> FoamField:
    return FoamField(state, "Outside the walls", OUTSIDE, print)


def test_a_board_comes_with_a_thickness_and_goes_whole(state: State, outside: FoamField) -> None:
    assert (outside.board.value, outside.thickness.label) == ("XPS IV", '2"')
    outside.board.value = NO_FOAM
    assert state.typed(OUTSIDE) == ""
    assert state.problems == ()
    assert outside.thickness.layout.display == "none"
    outside.board.value = "EPS IX"
    assert state.typed(f"{OUTSIDE}.board") == "EPS IX"
    assert outside.thickness.label == '2"'
    assert outside.thickness.layout.display is None
    assert state.problems == ()


def test_another_board_keeps_the_thickness(state: State, outside: FoamField) -> None:
    state.edit({f"{OUTSIDE}.thickness": "1 in"})
    assert outside.thickness.label == '1"'
    outside.board.value = "XPS V"
    assert state.typed(f"{OUTSIDE}.thickness") == "1 in"


def test_an_unknown_board_is_shown_as_typed(state: State, outside: FoamField) -> None:
    before = state.plan
    state.edit({f"{OUTSIDE}.board": SCRIPT})
    assert outside.board.value == SCRIPT
    assert state.plan is before
    assert "XPS IV" in outside.message.value  # what would do
    assert SCRIPT not in outside.message.value
    outside.board.value = "XPS IV"
    assert outside.message.value == ""
    assert SCRIPT not in outside.board.options


@pytest.mark.parametrize("text", ["5 in", "130 mm", "2.2 in"])
def test_a_thickness_that_nobody_stocks_is_kept(state: State, outside: FoamField, text: str) -> None:
    state.edit({f"{OUTSIDE}.thickness": text})
    assert outside.thickness.label == text
    assert state.typed(f"{OUTSIDE}.thickness") == text


def test_a_thickness_that_is_none_is_said_beside_it(state: State, outside: FoamField) -> None:
    state.edit({f"{OUTSIDE}.thickness": "thick"})
    assert outside.thickness.value == "thick"
    assert "not a length" in outside.message.value
    other = FoamField(state, "Under the slab", "parts[1].foam.under_slab", print)
    assert other.message.value == ""


def test_thicknesses_in_both_systems(state: State, outside: FoamField) -> None:
    stock = board_types()["XPS IV"].thicknesses
    us, metric = stock_thicknesses("XPS IV", "us"), stock_thicknesses("XPS IV", "metric")
    assert [text for _, text in us] == [text for _, text in metric]
    assert len(us) == len(stock)
    assert ("51 mm", as_written("2 in")) in metric
    state.edit({"units": "metric"})
    assert outside.thickness.label == "51 mm"
    assert stock_thicknesses("no such board", "us") == []


def test_the_usual_thickness_is_in_stock() -> None:
    for name, board in board_types().items():
        assert usual_thickness(name) in board.thicknesses


def test_fields_follow_the_part(state: State) -> None:
    inputs = FoamInputs(state, print)
    boards = [box.children[0].children[0].value for box in inputs.inside.children[:4]]
    assert boards == ["XPS IV", NO_FOAM, "XPS IV", "EPS II"]
    inputs.part.value = 2
    boards = [box.children[0].children[0].value for box in inputs.inside.children[:4]]
    assert boards == ["XPS IV", NO_FOAM, "XPS IV", "EPS IX"]
    state.edit({"parts[2].name": SCRIPT})
    assert inputs.part.options[1] == (SCRIPT, 2)
    assert inputs.part.value == 2


def test_what_the_year_tells_stands_at_its_field(state: State) -> None:
    inputs = FoamInputs(state, print)
    index = inputs.notes["climate.freezing_index"]
    inputs.say([Problem("climate.freezing_index", "5", f"too much {SCRIPT}.")])
    assert "too much" in index.value
    assert SCRIPT not in index.value
    assert inputs.notes["climate.degree_days"].value == ""
    inputs.say([])
    assert index.value == ""


def test_bare_numbers_have_the_unit_of_the_screen(state: State) -> None:
    inputs = FoamInputs(state, print)

    def days() -> object:
        climate = inputs.box.children[2].children[1]
        return climate.children[0].children[0].children[0]

    days().value = "8000"  # type: ignore[attr-defined]
    assert state.typed("climate.degree_days") == "8000 °F·d"
    state.edit({"units": "metric"})
    days().value = "4500"  # type: ignore[attr-defined]
    assert state.typed("climate.degree_days") == "4500 K·d"
    assert state.problems == ()


def test_an_empty_project_has_its_one_part() -> None:
    inputs = FoamInputs(State(), print)
    assert inputs.part.options == (("house", 1),)
    assert inputs.inside.children[0].children[0].children[0].value == NO_FOAM


def test_a_weather_file_goes_with_its_name(state: State) -> None:
    inputs = FoamInputs(state, print)
    state.take_weather("rubbish", "days.csv")
    assert state.typed("climate.weather") == "days.csv"
    state.edit({"climate.weather": None})
    assert state.weather == ""
    assert inputs.box.children
