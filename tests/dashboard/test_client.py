"""The client's screen: everyday words, type for the sofa, and no number that the working pages contradict."""

from __future__ import annotations

import asyncio
import math
import re
from dataclasses import replace
from typing import Any

import pytest

from foundation import places
from foundation.cli import main
from foundation.dashboard import client as client_module
from foundation.dashboard.client import Client
from foundation.dashboard.client_cards import cards, cost_bars, ladder_numbers, shown_on_cards
from foundation.dashboard.client_pictures import BODY, heat_picture, outside_views
from foundation.dashboard.client_work import PLACES, Choices, Job, Ladder, find_choices, find_ladder, job_of
from foundation.dashboard.money_tables import comparison_table, payback_words
from foundation.dashboard.state import State
from foundation.drawings.money_charts import options_chart
from foundation.drawings.outside import outside_scene
from foundation.model.heat import Band
from foundation.model.options import Comparison, OptionFigures, Payback
from foundation.model.sizing import Place
from foundation.plan import Plan
from tests.dashboard.client_lot import client_text, jargon_in
from tests.dashboard.readable import cells, words

SYSTEMS = ("us", "metric")


def say(_share: float, _words: str) -> None:
    """Progress that nobody reads."""


def go_on() -> bool:
    """Nobody stops it."""
    return False


@pytest.fixture(scope="module")
def state() -> State:
    made = State()
    made.open_text(client_text())
    assert made.problems == ()
    return made


@pytest.fixture(scope="module")
def job(state: State) -> Job:
    return job_of(state)


@pytest.fixture(scope="module")
def choices(job: Job) -> Choices:
    return find_choices(job, say, go_on)


@pytest.fixture(scope="module")
def ladders(job: Job, choices: Choices) -> list[Ladder]:
    return [find_ladder(job, choices.sizing, number, say, go_on) for number in range(len(PLACES))]


@pytest.fixture
def comparison(choices: Choices) -> Comparison:
    return choices.comparison


def figures(comparison: Comparison, number: int) -> OptionFigures:
    found = comparison.options[number].figures
    assert found is not None
    return found


def numbers(text: str) -> set[str]:
    """Money, temperatures and ranges of years."""
    return set(
        re.findall(r"\$[\d,]+|-?[\d.]+\s°[FC]|\d+ to \d+ years", text.replace("\N{NO-BREAK SPACE}", " "))
    )


# --- the same numbers as on the working pages ---


@pytest.mark.parametrize("system", SYSTEMS)
def test_cards_say_what_the_comparison_says(comparison: Comparison, system: str) -> None:
    own = words(cards(comparison, system))
    table = words(comparison_table(comparison, system))
    assert numbers(own) - numbers(table) == set()
    # And not for want of numbers: floor, month and first cost of each choice stand in it.
    by_head = {row[""]: row for row in cells(comparison_table(comparison, system))}
    for option in shown_on_cards(comparison):
        for head in ("Coldest floor", "Fuel a month", "First cost", "Added cost"):
            assert numbers(by_head[head][option.name]) <= numbers(own) | {"$0"}
    assert len(shown_on_cards(comparison)) == 3


def test_bars_say_what_the_chart_and_the_table_say(comparison: Comparison) -> None:
    own = words(cost_bars(comparison))
    chart = options_chart(comparison)
    assert chart is not None
    table = {row[""]: row for row in cells(comparison_table(comparison, "us"))}
    totals = {value.split()[0] for head, value in table[f"Over {comparison.years} years"].items() if head}
    parts = {chart.y.text(value) for bars in chart.bars for value in bars.y}
    assert totals | parts == numbers(own)
    assert chart.title in own
    # Drawn to one scale from zero: the widths are as the sums.
    widths = [float(each) for each in re.findall(r"width:([\d.]+)%", cost_bars(comparison))]
    sums = [value for pair in zip(*(bars.y for bars in chart.bars), strict=True) for value in pair]
    scale = sum(widths) / sum(sums)
    assert widths == pytest.approx([scale * each for each in sums], abs=0.01)
    assert max(a + b for a, b in zip(widths[::2], widths[1::2], strict=True)) == pytest.approx(100, abs=0.02)


def test_slider_meets_the_card_that_it_starts_from(comparison: Comparison, ladders: list[Ladder]) -> None:
    better = next(option for option in comparison.options if option.name == "Better").figures
    assert [ladder.place for ladder in ladders] == list(PLACES)
    for ladder in ladders:
        start = ladder.notches[ladder.start].figures
        assert better is not None
        assert numbers(ladder_numbers(start, comparison, "us")) == numbers(
            ladder_numbers(better, comparison, "us")
        )
        assert start.heat == better.heat
        # More foam: a warmer floor and less fuel, notch by notch.
        warm = [notch.figures.heat.floor_temperature for notch in ladder.notches if notch.figures.heat]
        month = [notch.figures.fuel.a_month.likely for notch in ladder.notches if notch.figures.fuel]
        thick = [notch.thickness for notch in ladder.notches]
        assert len(warm) == len(month) == len(thick) > 2
        assert warm == sorted(warm)
        assert month == sorted(month, reverse=True)
        assert thick == sorted(set(thick))


def test_walls_say_what_their_drawings_say(job: Job) -> None:
    plan, stepping = job.plan, job.plan.stepping(job.answer)
    own = words(outside_views(plan, stepping)).replace("\N{NO-BREAK SPACE}", " ")
    bare = plan.walls[stepping.name].bare
    assert len(bare) == 4
    for each in bare:
        title = outside_scene(plan, stepping, each.line).title
        assert title.split(": ", 1)[1] in own
        # A wall of 8 in of concrete over level ground, by hand: length × 1 ft.
        assert each.area == pytest.approx(plan.line(each.line).wall.length * 0.3048, rel=1e-6)
    # 2 × (30 + 20) ft of wall, 1 ft over the ground [derived].
    assert "100 ft² of bare concrete will show" in own


# --- money only when confirmed ---


def test_no_money_before_a_quote(comparison: Comparison, ladders: list[Ladder]) -> None:
    silent = replace(comparison, quoted=False)
    notch = ladders[0].notches[0].figures
    shown = cards(silent, "us") + cost_bars(silent) + ladder_numbers(notch, silent, "us")
    assert "$" not in shown
    assert "Pays" not in shown
    own = words(shown).replace("\N{NO-BREAK SPACE}", " ")
    heat = figures(comparison, 0).heat
    assert heat is not None
    # NIST SP 811 (2008), appendix B.8 [memory]: 1 kWh = 3.6 MJ.
    assert f"{float(f'{heat.yearly.likely / 12 / 3.6e6:.2g}'):,.0f} kWh a month" in own
    assert "until one price and the fuel are confirmed" in own


def test_an_unquoted_project_compares_as_unquoted() -> None:
    state = State()
    state.open_text(client_text(quoted=False))
    found = find_choices(job_of(state), say, go_on)
    assert not found.comparison.quoted
    assert "$" not in cards(found.comparison, "us") + cost_bars(found.comparison)


PAYBACKS = [
    (Payback("pays back", 4.2, 8.0, 19.6), "Pays for itself in 4 to 20 years."),
    (Payback("pays back", 4.2, 8.0, math.inf), "Pays for itself in 4 years to never."),
    (Payback("eaten up", 2.4, 3.0, 4.6), "Saving used up in 2 to 5 years."),
    (Payback("at once", 0.0, 0.0, 0.0), "Pays for itself at once."),
    (Payback("never", math.inf, math.inf, math.inf), "Never pays for itself."),
]


@pytest.mark.parametrize(("payback", "told"), PAYBACKS)
def test_payback_is_a_range(comparison: Comparison, payback: Payback, told: str) -> None:
    found = figures(comparison, 0)
    assert found.fuel is not None
    option = replace(comparison.options[0], figures=replace(found, fuel=replace(found.fuel, payback=payback)))
    own = words(cards(replace(comparison, options=(option,) * 3), "us")).replace(" .", ".")
    assert told in own
    assert payback_words(payback).lower() in told.lower()


def test_added_cost_across_zero_says_both_ends(comparison: Comparison) -> None:
    option = replace(
        comparison.options[0], figures=replace(figures(comparison, 0), added_cost=Band(-890.0, -112.0, 668.0))
    )
    own = words(cards(replace(comparison, options=(option,) * 3), "us"))
    assert "$110 less to build than planned ($890 less to $670 more)." in own


def test_what_cannot_be_built_says_so(comparison: Comparison) -> None:
    option = replace(comparison.options[0], figures=None, name="<i>Odd</i>")
    own = words(cards(replace(comparison, options=(option, *comparison.options[1:])), "us"))
    assert "<i>Odd</i>" in own
    assert "cannot be built as it stands" in own


# --- everyday words ---


def test_jargon_is_found_where_it_is(comparison: Comparison) -> None:
    table = words(comparison_table(comparison, "us"))
    assert {"Btu", "design day", "WARN"} <= set(jargon_in(table))
    assert jargon_in("An upgrade of the bootleg lodge; stopping.") == []


@pytest.mark.parametrize("quoted", [True, False])
@pytest.mark.parametrize("system", SYSTEMS)
def test_no_jargon(job: Job, choices: Choices, ladders: list[Ladder], system: str, quoted: bool) -> None:
    comparison = replace(choices.comparison, quoted=quoted)
    assert choices.view is not None
    shown = [
        cards(comparison, system),
        cost_bars(comparison),
        *(ladder_numbers(notch.figures, comparison, system) for each in ladders for notch in each.notches),
        outside_views(job.plan, job.plan.stepping(job.answer)),
        heat_picture(choices.view, 1248.0, system),
    ]
    assert jargon_in(" ".join(words(each) for each in shown)) == []


def test_demo_walls_without_jargon(demo_plan: Plan) -> None:
    own = outside_views(demo_plan, demo_plan.steppings[0])
    assert jargon_in(words(own)) == []
    outdoors = [line for line in demo_plan.lines if not line.wall.beyond]
    assert own.count("<figure>") == len(outdoors)


@pytest.mark.parametrize("width", [1248.0, 800.0, 334.0])
def test_the_picture_s_type_is_read_from_the_sofa(choices: Choices, width: float) -> None:
    assert choices.view is not None
    shown = heat_picture(choices.view, width, "us")
    box = re.search(r'viewBox="0 0 ([\d.]+) ', shown)
    assert box is not None
    sizes = [float(each) * width / float(box[1]) for each in re.findall(r'font-size="([\d.]+)"', shown)]
    assert len(sizes) > 5
    assert min(sizes) >= BODY - 0.01
    for name in ("as planned", "without foam", "indoors", "outdoors", "32"):
        assert name in words(shown)


# --- the screen itself ---


def test_command_opens_the_client_s_notebook(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: dict[str, Any] = {}
    monkeypatch.setattr("foundation.serve.serve", lambda _project, **more: asked.update(more))
    assert main(["dashboard", "--client", "--no-browser"]) == 0
    assert asked["notebook"] == places.notebooks("client.ipynb")
    assert main(["dashboard", "--no-browser"]) == 0
    assert asked["notebook"] is None


@pytest.fixture
def screen(choices: Choices, ladders: list[Ladder], monkeypatch: pytest.MonkeyPatch) -> Client:
    """The screen with its long work done before."""
    monkeypatch.setattr(client_module, "_choices", lambda _job, *_how: choices)
    monkeypatch.setattr(client_module, "_ladder", lambda _job, _sizing, number, *_how: ladders[number])
    for name in (client_module.PROJECT, client_module.DEMO):
        monkeypatch.delenv(name, raising=False)
    state = State()
    state.open_text(client_text())
    made = Client(state)
    return made


def run(screen: Client) -> None:
    """All stages, as on a kernel's loop."""

    async def page() -> None:
        screen._seen()
        async with asyncio.timeout(60):
            while screen.todo:
                await asyncio.sleep(0)

    asyncio.run(page())


def test_screen_fills_and_slides(screen: Client, ladders: list[Ladder]) -> None:
    assert words(screen.cards.value).startswith("Good")
    assert "°F" not in screen.cards.value
    run(screen)
    assert screen.trouble.value == ""
    assert len(numbers(screen.cards.value)) > 6
    assert "<svg" in screen.picture.value
    assert screen.place.value == Place.UNDER_SLAB
    assert screen.notch.value == ladders[0].start
    before = screen.numbers.value
    screen.notch.value = 0
    assert screen.thickness.value == 0.0
    assert numbers(screen.numbers.value) != numbers(before)
    # Boards come in steps: what is typed goes to the nearest, slider and field alike.
    screen.thickness.value = 5.2
    assert screen.notch.value == 4
    assert screen.thickness.value == 6.0
    screen.place.value = Place.WALL
    assert screen.notch.value == ladders[1].start
    assert screen.notch.max == len(ladders[1].notches) - 1
    assert "Outside the walls the plan has" in screen.beside.value


def test_screen_escapes_and_names_no_jargon(screen: Client) -> None:
    run(screen)
    assert "Fen <b>Lot</b> 9" in words(screen.title.value)
    parts = (
        screen.title,
        screen.cards,
        screen.numbers,
        screen.beside,
        screen.cost,
        screen.walls,
        screen.open,
    )
    assert jargon_in(" ".join(words(part.value) for part in parts)) == []


def test_empty_and_unready_projects_say_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in (client_module.PROJECT, client_module.DEMO):
        monkeypatch.delenv(name, raising=False)
    empty = Client(State())
    assert "foundation dashboard --client" in empty.cards.value
    assert empty.demo.layout.display is None
    state = State()
    state.open_text('schema = 1\nname = "half"\n')
    unready = Client(state)
    assert "not complete yet" in unready.cards.value
    assert jargon_in(words(unready.cards.value)) == []


def test_a_project_without_climate_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    state = State()
    text = re.sub(r"\[climate\][^\[]*", "", client_text())
    state.open_text(text)
    assert state.problems == ()
    found = find_choices(job_of(state), say, go_on)
    own = words(cards(found.comparison, "us"))
    assert "how cold it gets here" in own
    assert found.view is None
    assert jargon_in(own) == []
