"""Cards and tables of the foam sizing, and how a choice goes into the project and out again."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from foundation import places, units
from foundation.dashboard.pages.heat_place import inputs_of
from foundation.dashboard.pages.heat_sizing import HeatSizing, edits_for, typed_foam
from foundation.dashboard.sizing_tables import (
    CHOICES,
    choice_cards,
    laid,
    scenario_table,
    season_table,
    sizing_notes,
)
from foundation.dashboard.state import State
from foundation.model.sizing import Choice, CodeHint, FoamSet, FoamSizing, LaidFoam, Scenario
from tests.dashboard.readable import cells, tree, words

# NIST SP 811 (2008), appendix B.8 [memory]: 1 Btu(IT) = 1055.056 J, 1 kWh = 3.6 MJ; an inch is 25.4 mm exactly.
JOULE, INCH = 1055.056, 0.0254
SCRIPT = "<script>alert(1)</script>"


def board(name: str, inches: float, layers: int = 1) -> LaidFoam:
    return LaidFoam(name, inches * INCH, layers, math.nan, math.nan)


def choice(foam: FoamSet, first: float, money: float) -> Choice:
    return Choice(foam, first, first - 1000, 40e6 * JOULE, 36e6 * JOULE, money, first + 20 * money, 17.0)


BARE = FoamSet(None, None, None, None)
OWN = FoamSet(board("XPS IV", 2), board("XPS IV", 2), board("EPS II", 2.5), None)
BEST = FoamSet(board("EPS II", 4), None, board("EPS II", 6, layers=2), board("XPS IV", 2))


@pytest.fixture
def sizing() -> FoamSizing:
    best = choice(BEST, 12_345, 890)
    return FoamSizing(
        planned=choice(OWN, 13_000, 1250),
        code_floor=choice(BARE, 1000, 4300),
        least_cost=best,
        warmest=replace(best, first_cost=15_000, floor_temperature=math.nan),
        best=(best,),
        curves={},
        scenarios=(Scenario("low", "high", best), Scenario("likely", "likely", choice(OWN, 13_000, 1250))),
        considered=12_345,
        compared=678,
        solved=91,
        representatives=4,
        representation_error=0.0123,
        quoted=False,
        hint=CodeHint("6", 10 * 0.1761101838, 4 * 12 * INCH, 15 * 0.1761101838, f"a table {SCRIPT}"),
        assumed=(f"Something {SCRIPT}.",),
    )


def card(text: str) -> dict[str, str]:
    """What a card says, by its terms."""
    terms = ["".join(term.itertext()) for term in tree(text).iter("dt")]
    return dict(zip(terms, ["".join(said.itertext()) for said in tree(text).iter("dd")], strict=True))


def test_a_card_in_units_of_the_trade(sizing: FoamSizing) -> None:
    cards = [card(text) for _, _, text in choice_cards(sizing, "us")]
    assert cards[2] == {
        "First cost": "$12,000",
        "Against the plan": "−$660",
        "Fuel a year": "$890",
        "Heat a year": "40 MMBtu",
        "Over the years": "$30,000",
        "Floor 1 ft inside, coldest": "63 °F",  # 17 °C is 62.6 °F
        "outside the walls": '4" EPS II',
        "at the slab's edge": "none",
        "under the slab": '6" EPS II in 2 layers',
        "wing in the ground": '2" XPS IV',
    }
    assert cards[0]["Against the plan"] == "–"
    assert cards[3]["Against the plan"] == "+$2,000"
    assert cards[3]["Floor 1 ft inside, coldest"] == "–"


def test_a_card_in_metric_units(sizing: FoamSizing) -> None:
    text = choice_cards(sizing, "metric")[2][2]
    said = card(text)
    assert said["Heat a year"] == "12,000 kWh"  # 40e6 × 1055.056 J / 3.6 MJ = 11,723
    assert said["outside the walls"] == "102 mm EPS II"
    assert said["Floor 0.3 m inside, coldest"] == "17.0 °C"
    assert '"' not in words(text)


def test_which_card_is_the_projects(sizing: FoamSizing) -> None:
    def chosen(found: FoamSizing, taken: int | None = None) -> list[int]:
        return [n for n, (_, _, text) in enumerate(choice_cards(found, "us", taken)) if "card chosen" in text]

    assert chosen(sizing) == [0]
    assert chosen(replace(sizing, least_cost=choice(OWN, 13_000, 1250))) == [0, 2]
    assert chosen(sizing, taken=2) == [2]
    assert "in the project now" in choice_cards(sizing, "us", 2)[2][2]
    assert [title for title, _, _ in choice_cards(sizing, "us")] == [title for title, _, _ in CHOICES]


def test_words_of_a_board() -> None:
    assert laid(None, "us") == "none"
    assert laid(board("XPS IV", 1.5), "us") == '1 1/2" XPS IV'
    assert laid(board("XPS IV", 2), "metric") == "51 mm XPS IV"


def test_scenarios(sizing: FoamSizing) -> None:
    rows = cells(scenario_table(sizing, "us"))
    assert [(row["Soil conducts"], row["Fuel's price rises"]) for row in rows] == [
        ("low", "high"),
        ("likely", "likely"),
    ]
    assert rows[1]["Under the slab"] == '2 1/2" EPS II'
    assert rows[1]["Over the years"] == "$38,000"


def test_seasons_beside_degree_days(sizing: FoamSizing) -> None:
    none = replace(sizing.planned, yearly_heat=0.0, degree_day_heat=0.0)
    same = replace(sizing.planned, degree_day_heat=1.002 * sizing.planned.yearly_heat)
    rows = cells(season_table([("plan", sizing.planned), ("no heat", none), ("same", same)], "us"))
    assert [row["Difference"] for row in rows] == ["−10 %", "–", "none"]
    assert rows[0]["By season, MMBtu"] == "40"


def test_notes(sizing: FoamSizing) -> None:
    said = words(sizing_notes(sizing, "us"))
    assert "12,345 sets" in said
    assert "within 1.2 %" in said
    assert "R-10 at the slab's edge, 4'-0\" far, and R-15 on basement walls" in said
    assert "no client sees this money yet" in said
    assert SCRIPT in said
    assert "no quote" not in sizing_notes(replace(sizing, quoted=True, hint=None), "us")


@pytest.fixture
def state() -> State:
    opened = State()
    text = places.data("demo", "fallow-fen.toml").read_text(encoding="utf-8")
    opened.open_text(text, places.data("demo", "shots.csv").read_text(encoding="utf-8"))
    return opened


def test_a_set_goes_into_every_heated_part_and_out_again(state: State) -> None:
    assert state.plan is not None
    before, project = state.text(), state.plan.project
    back = typed_foam(state, project)
    state.edit(edits_for(BEST, project))
    assert state.problems == ()
    for part in state.plan.project.parts:
        assert part.foam.outside is not None
        assert (part.foam.outside.board, part.foam.outside.thickness) == ("EPS II", pytest.approx(4 * INCH))
        assert part.foam.slab_edge is None
        assert part.foam.under_slab is not None
        assert part.foam.under_slab.thickness == pytest.approx(6 * INCH)
        assert part.foam.wing is not None
        assert part.foam.wing.width == pytest.approx(24 * INCH)
    state.edit(back)
    assert state.plan.project == project
    assert "# the walkout: thinned" in before
    assert "# the walkout: thinned" in state.text()


def test_a_part_that_is_not_heated_keeps_its_foam(state: State) -> None:
    state.edit({"parts[2].heated": False})
    assert state.plan is not None
    garage = state.plan.project.parts[1].foam
    state.edit(edits_for(BEST, state.plan.project))
    assert state.plan.project.parts[1].foam == garage
    assert not any(path.startswith("parts[2]") for path in typed_foam(state, state.plan.project))


def test_taking_a_choice_and_going_back(state: State, sizing: FoamSizing) -> None:
    view = HeatSizing(state, print)
    view._done((inputs_of(state), sizing))
    assert [take.layout.display for take in view.takes] == ["none", None, None, None]
    view._take(2)
    assert state.typed("parts[1].foam.outside.board") == "EPS II"
    assert units.read(state.typed("parts[2].foam.under_slab.thickness"), "length") == pytest.approx(6 * INCH)
    assert [take.layout.display for take in view.takes] == [None, None, "none", None]
    assert "least over the years now" in view.work.words.value
    assert "stale" not in view.rest._dom_classes
    view._take(0)
    assert state.typed("parts[2].foam.under_slab.board") == "EPS IX"  # its own, not the first part's
    assert [take.layout.display for take in view.takes] == ["none", None, None, None]


def test_what_was_sized_for_other_inputs_is_greyed(state: State, sizing: FoamSizing) -> None:
    view = HeatSizing(state, print)
    view._done((inputs_of(state), sizing))
    state.edit({"units": "metric"})
    view.draw()
    assert "stale" not in view.rest._dom_classes
    assert "102 mm" in view.cards[2].value
    state.edit({"climate.degree_days": "8000 °F·d"})
    view.draw()
    assert "stale" in view.rest._dom_classes
    assert "size the foam again" in view.work.words.value
    state.edit({"climate.degree_days": "8410 °F·d"})
    view.draw()
    assert "stale" not in view.rest._dom_classes
    assert view.work.words.value == ""
