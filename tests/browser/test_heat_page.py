"""The heat page in a real browser: what a builder does there, good and bad values, long work, wide and narrow."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.harness.server import Server, planner_command, running
from tests.browser.harness.watch import WatchedPage
from tests.studies.lots import slab_tables

QUESTION = "Where does the heat leave, and how much foam is worth it?"
SCRIPT = "<script>alert(1)</script>"
STATION, AT_15 = "Station, from its first corner", "15'-0\""
LONG = 60_000  # [ms] processes of its own start up first


def lot() -> dict[str, Any]:
    """A small slab on grade: few sections, so that all that is solved is solved soon."""
    tables = copy.deepcopy(slab_tables())
    tables["name"] = "Small slab"
    tables["climate"] |= {"design_temperature": "-9 °F", "design_index": "2500 °F·d"}
    return tables


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("lot") / "slab.toml"
    path.write_text(tomlkit.dumps(lot()), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def server(project: Path) -> Iterator[Server]:
    with running(planner_command(project=project, preheat=1)) as started:
        yield started


def turned_to_heat(watched: WatchedPage, server: Server) -> Page:
    page = watched.open(server.address)
    page.get_by_role("button", name="Heat and foam", exact=True).click()
    expect(page.get_by_role("heading", level=1, name=QUESTION)).to_be_visible()
    return page


@pytest.fixture(scope="module")
def loaded(browser: Browser, server: Server) -> Iterator[WatchedPage]:
    """One page for the tests that put back what they change: a load takes seconds."""
    with WatchedPage(browser.new_context(viewport={"width": 1280, "height": 900})) as watched:
        turned_to_heat(watched, server)
        yield watched


@pytest.fixture
def page(loaded: WatchedPage) -> Iterator[Page]:
    yield loaded.page
    assert loaded.complaints == []


def shown(page: Page, label: str) -> Locator:
    return page.get_by_label(label, exact=True).and_(page.locator(":visible"))


def drawing(page: Page, words: str) -> Locator:
    """The drawing whose words begin so."""
    begins = re.compile(f"^{re.escape(words)}")
    return page.locator(".foundation-chart[data-drawn]:visible").and_(page.get_by_role("img", name=begins))


def house(page: Page) -> Locator:
    """The table of what leaves."""
    return page.locator(".figures:visible").filter(has_text="all heated parts")


def heading(page: Page, words: str | re.Pattern[str]) -> Locator:
    return page.locator(".page:visible h2").filter(has_text=words)


def type_into(page: Page, label: str, text: str, kept: str | None = None) -> None:
    """Type as a person does, who sees what became of it before typing on."""
    box = shown(page, label)
    box.fill(text)
    box.press("Enter")
    expect(box).to_have_value(text if kept is None else kept)


def said_at(page: Page, label: str) -> Locator:
    """The sentences at a field."""
    return (
        page.locator(".climate-field, .field:not(.climate-field .field)")
        .filter(has=shown(page, label))
        .locator(".wrong")
    )


def start(page: Page, name: str) -> None:
    """Start long work. A click while the page is laid out anew is lost; a person then clicks again."""
    row = page.locator(".long-work:visible", has_text=name)
    for _ in range(4):
        row.get_by_role("button", name=name).click()
        try:
            expect(row.locator("button:disabled").or_(row.get_by_text("Done in")).first).to_be_visible(
                timeout=3000
            )
            return
        except AssertionError:
            assert row.locator(".wrong").all_inner_texts() == []
    raise AssertionError(f"{name} does not start")


def choose_files(page: Page, button: str, files: Any) -> None:
    with page.expect_file_chooser() as chooser:
        page.locator(".widget-upload:visible", has_text=button).click()
    chooser.value.set_files(files)


def unfold(page: Page, title: str) -> None:
    head = page.get_by_role("button", name=re.compile(f"^[▸▾] {title}")).and_(page.locator(":visible"))
    head.click()
    expect(head).to_have_text(re.compile("^▾"))


def test_turning_to_the_page_draws_section_picture_and_house(page: Page) -> None:
    expect(drawing(page, "A-B at 15'-0\", slab edge")).to_have_count(1)
    expect(drawing(page, "14 February")).to_have_count(1)
    expect(drawing(page, "Profile, A to B")).to_have_count(1)
    expect(page.locator(".facts:visible").first).to_contain_text("Floor 1 ft inside, coldest")
    expect(house(page)).to_contain_text("all heated parts")
    expect(heading(page, "takes most")).to_be_visible()
    expect(heading(page, "loses most")).to_be_visible()
    expect(page.locator(".page:visible")).to_contain_text("modified Berggren")
    expect(page.get_by_role("button", name="Size the foam")).to_be_enabled()


def test_what_is_secondary_is_folded(page: Page) -> None:
    second = heading(page, "ISO 13370")
    expect(second).to_have_count(0)
    unfold(page, "Second opinions")
    expect(second).to_be_visible()
    unfold(page, "What the foam under the slabs bears")
    unfold(page, "The edge, stretch by stretch")
    expect(page.locator(".figures:visible", has_text="Bare edge")).to_contain_text("slab edge")
    unfold(page, "Breaks in the insulation line")
    expect(page.locator(".figures:visible", has_text="Closing it saves")).to_contain_text("framed wall")


def test_choosing_wall_and_station(page: Page) -> None:
    shown(page, "Wall").select_option("B-C, house")
    expect(drawing(page, "B-C at 10'-0\"")).to_have_count(1)
    type_into(page, STATION, "4 ft", "4'-0\"")
    expect(drawing(page, "B-C at 4'-0\"")).to_have_count(1)
    type_into(page, STATION, "5", "5'-0\"")  # a bare number is in feet, as the page shows it
    expect(drawing(page, "B-C at 5'-0\"")).to_have_count(1)
    shown(page, "Wall").select_option("A-B, house")
    expect(drawing(page, "A-B at 15'-0\"")).to_have_count(1)


@pytest.mark.parametrize(("text", "told"), [("99 ft", "give 0 to 30'-0\""), ("nowhere", "not a length")])
def test_a_station_that_is_none(page: Page, text: str, told: str) -> None:
    type_into(page, STATION, text)
    expect(page.locator(".result:visible > .widget-vbox").first.locator(".wrong")).to_contain_text(told)
    expect(drawing(page, "A-B at 15'-0\"")).to_have_count(1)
    type_into(page, STATION, "15 ft", AT_15)
    expect(page.locator(".wrong:visible")).to_have_count(0)


def test_clicking_on_the_profile_moves_the_section(page: Page) -> None:
    chart = drawing(page, "Profile, A to B")
    chart.scroll_into_view_if_needed()
    plot = chart.locator(".nsewdrag").bounding_box()
    assert plot is not None
    title = heading(page, re.compile("^A-B at"))
    before = title.inner_text()
    # A click lands on a point of a line: the profile is swept until one is under it.
    for share in (0.55, 0.6, 0.65, 0.5, 0.7):
        page.mouse.move(plot["x"] + 0.3 * plot["width"], plot["y"] + share * plot["height"])
        if page.locator(".hoverlayer text").count():
            page.mouse.click(plot["x"] + 0.3 * plot["width"], plot["y"] + share * plot["height"])
            break
    expect(title).not_to_have_text(before)
    expect(shown(page, "Wall")).to_have_value("A-B, house")
    type_into(page, STATION, "15 ft", AT_15)
    expect(title).to_have_text(before)


def test_another_thickness_changes_section_picture_and_house(page: Page) -> None:
    table, facts = house(page), page.locator(".facts:visible").first
    expect(table).to_be_visible()
    before, cold = table.inner_text(), facts.inner_text()
    shown(page, "Outside the walls, thickness").select_option('3"')
    expect(drawing(page, "A-B at")).to_have_attribute("aria-label", re.compile('foam outside 3"'))
    expect(facts).not_to_have_text(cold, use_inner_text=True)
    expect(table).not_to_have_text(before, use_inner_text=True)
    expect(page.locator(".title")).to_contain_text("not saved")
    shown(page, "Outside the walls").select_option("no foam")
    expect(shown(page, "Outside the walls, thickness")).to_have_count(0)
    expect(drawing(page, "A-B at")).not_to_have_attribute("aria-label", re.compile("foam outside"))
    shown(page, "Outside the walls").select_option("XPS V")
    shown(page, "Outside the walls, thickness").select_option('2"')
    expect(table).to_have_text(before, use_inner_text=True)


def test_the_month_changes_the_picture_alone(page: Page) -> None:
    before = house(page).inner_text()
    shown(page, "Month").select_option("July")
    expect(drawing(page, "16 July")).to_have_count(1)
    expect(heading(page, "16 July")).to_be_visible()
    assert house(page).inner_text() == before
    shown(page, "Month").select_option("February")
    expect(drawing(page, "14 February")).to_have_count(1)


INDEX = "Freezing index, same years"
DESIGN = "Design winter's freezing index"
BAD = [
    ("Degree days", "abc", "7858 °F·d", "write degree days such as"),
    ("Degree days", "-3 °F·d", "7858 °F·d", "below zero"),
    (INDEX, "2600 °F·d", "1341 °F·d", "no less than the design winter's 2,500 °F·d"),
    ("Outdoor design temperature", "cold", "-9 °F", "cold"),
]


@pytest.mark.parametrize(("label", "bad", "good", "told"), BAD)
def test_a_bad_climate_is_told_at_its_place(page: Page, label: str, bad: str, good: str, told: str) -> None:
    picture, losses = drawing(page, "14 February"), house(page).inner_text()
    before = picture.get_attribute("aria-label")
    type_into(page, label, bad)  # and it stays: nothing typed is lost
    expect(said_at(page, label).first).to_contain_text(told)
    expect(page.locator(".result.stale:visible")).to_have_count(1)
    expect(picture).to_have_attribute("aria-label", before or "")
    assert house(page).inner_text() == losses
    type_into(page, label, good)
    expect(page.locator(".wrong:visible")).to_have_count(0)
    expect(page.locator(".result.stale:visible")).to_have_count(0)


def test_years_that_no_place_has(page: Page) -> None:
    type_into(page, DESIGN, "9000", "9000 °F·d")  # a bare number has the unit of the screen
    type_into(page, "Degree days", "3000 °F·d")
    type_into(page, INDEX, "5000 °F·d")
    expect(said_at(page, INDEX)).to_contain_text("make no year on Earth")
    expect(page.locator(".result:visible")).to_contain_text("the last climate that made a year")
    expect(drawing(page, "14 February")).to_have_count(1)
    type_into(page, INDEX, "1341 °F·d")
    type_into(page, "Degree days", "7858 °F·d")
    type_into(page, DESIGN, "2500 °F·d")
    expect(page.locator(".wrong:visible")).to_have_count(0)


def test_a_weather_file_of_rubbish(page: Page) -> None:
    unfold(page, "Monthly means or weather file")
    for content, told in (
        (b"hello\nworld\n", "no line names the columns"),
        (b"\xff\xfe\x00", "not plain text"),
    ):
        choose_files(page, "Weather file", [{"name": "days.csv", "mimeType": "text/csv", "buffer": content}])
        expect(page.locator(".inputs:visible .wrong").first).to_contain_text(told)
        expect(drawing(page, "14 February")).to_have_count(1)
    expect(shown(page, "Weather file beside the project")).to_have_value("days.csv")
    type_into(page, "Weather file beside the project", "")
    expect(said_at(page, "Weather file beside the project")).to_have_count(0)


def test_metric_shows_no_feet(page: Page) -> None:
    page.get_by_label("Units").select_option("metric")
    expect(drawing(page, "A-B at 4.572 m")).to_have_count(1)
    expect(house(page)).to_contain_text("W/K")
    words = (
        page.locator(".result:visible").inner_text().split("\nCautions\n")[0]
    )  # those quote the codes as printed
    drawn = page.locator(".foundation-chart:visible").evaluate_all(
        "charts => charts.map(c => c.getAttribute('aria-label') + ' ' + c.textContent).join(' ')"
    )
    feet = re.compile(r"""\d ?(ft|in|lb|psi)\b|\d["']|°F|Btu|MMBtu|\bfoot\b""")
    assert feet.findall(words + drawn) == []
    type_into(page, "Degree days", "4400", "4400 K·d")
    type_into(page, "Degree days", "7858 °F·d")
    page.get_by_label("Units").select_option("us")
    expect(house(page)).to_contain_text("Btu/h·°F")


def test_the_design_winter(page: Page) -> None:
    start(page, "Run the design winter")
    expect(page.locator(".facts:visible", has_text="Frost beside the house")).to_be_visible(timeout=LONG)
    expect(page.locator(".foundation-chart:visible").filter(has_text="asked for")).to_have_count(1)
    expect(heading(page, "frost stands")).to_be_visible()
    shown(page, "Wall").select_option("B-C, house")
    expect(page.locator(".stale:visible", has_text="Frost beside the house")).to_have_count(1)
    expect(page.get_by_text("run it again")).to_be_visible()
    shown(page, "Wall").select_option("A-B, house")
    expect(page.locator(".stale:visible")).to_have_count(0)
    type_into(page, DESIGN, "")
    expect(page.get_by_text("No design winter is known")).to_be_visible()
    expect(page.get_by_role("button", name="Run the design winter")).to_be_hidden()
    type_into(page, DESIGN, "2500 °F·d")
    expect(page.get_by_role("button", name="Run the design winter")).to_be_visible()


def test_the_shallow_footing(page: Page) -> None:
    start(page, "Price a frost-protected footing")
    expect(page.get_by_text("Only if the office accepts it")).to_be_visible(timeout=LONG)
    expect(page.locator(".facts:visible", has_text="Saved")).to_contain_text("$")
    expect(page.get_by_text("as long as the house is heated every winter")).to_be_visible()


def test_sizing_is_stopped_then_run_then_taken(page: Page) -> None:
    start(page, "Size the foam")
    page.get_by_role("button", name="Stop").and_(page.locator(":visible")).click()
    expect(page.get_by_text("Stopped.")).to_be_visible(timeout=LONG)
    expect(page.locator(".roomy .card:visible")).to_have_count(0)
    start(page, "Size the foam")
    # The page answers meanwhile.
    shown(page, "Month").select_option("March")
    expect(heading(page, re.compile(r"^\d+ March"))).to_be_visible()
    expect(page.locator(".roomy .card:visible")).to_have_count(4, timeout=LONG)
    cards = page.locator(".roomy > .widget-vbox:visible")
    expect(cards.nth(0).locator(".card.chosen")).to_have_count(1)
    expect(cards.nth(2)).to_contain_text("Foam and fuel together cost least")
    expect(heading(page, re.compile("^Under the slab"))).to_be_visible()
    shown(page, "Foam shown").select_option("outside the walls")
    expect(heading(page, re.compile("^Outside the walls"))).to_be_visible()
    unfold(page, "For other soils and fuel prices")
    expect(page.locator(".figures:visible", has_text="Soil conducts").locator("tbody tr")).to_have_count(9)
    # The least first cost, without any number of the office, is no foam at all.
    cards.nth(1).get_by_role("button", name="Take this foam").click()
    expect(shown(page, "Outside the walls")).to_have_value("no foam")
    expect(page.get_by_text("has its foam least first cost now")).to_be_visible()
    expect(cards.nth(1)).to_contain_text("in the project now")
    expect(page.locator(".title")).to_contain_text("not saved")
    cards.nth(0).get_by_role("button", name="Take this foam").click()
    expect(shown(page, "Outside the walls")).to_have_value("XPS V")
    type_into(page, "Degree days", "7000 °F·d")
    expect(page.get_by_text("size the foam again")).to_be_visible()
    type_into(page, "Degree days", "7858 °F·d")


def test_a_sizing_without_a_price_of_fuel(page: Page) -> None:
    unfold(page, "Fuel and money")
    type_into(page, "Price of a gallon, therm or kWh", "")
    page.get_by_role("button", name="Size the foam").click()
    said = page.locator(".long-work", has_text="Size the foam").locator(".wrong")
    expect(said).to_contain_text("price of propane", timeout=LONG)
    type_into(page, "Price of a gallon, therm or kWh", "2.90", "2.90 $")


def open_tables(page: Page, tables: dict[str, Any]) -> None:
    content = tomlkit.dumps(tables).encode()
    choose_files(page, "Open a project", [{"name": "job.toml", "mimeType": "text/plain", "buffer": content}])


def test_projects_that_lack_something(page: Page) -> None:
    result = page.locator(".result:visible")
    cold = lot()
    cold["parts"][0]["heated"] = False
    open_tables(page, cold)
    expect(result).to_contain_text("No part is heated")
    expect(page.locator(".result .foundation-chart:visible")).to_have_count(0)
    nowhere = lot()
    del nowhere["climate"]
    open_tables(page, nowhere)
    expect(result).to_contain_text("Temperatures and heat need a climate")
    expect(drawing(page, "A-B at")).to_have_count(1)
    expect(drawing(page, "14 ")).to_have_count(0)
    type_into(page, "Degree days", "7858 °F·d")
    expect(result).to_contain_text("from 25 °F to 33 °F the mean lies between")
    expect(house(page)).to_contain_text("all heated parts")
    open_tables(page, {"schema": 1})
    expect(result).to_contain_text("There is no plan to cut yet")
    odd = lot()
    odd["parts"][0]["foam"]["outside"]["board"] = "XPS 4"
    open_tables(page, odd)
    expect(said_at(page, "Outside the walls")).to_contain_text("not among the boards")
    expect(shown(page, "Outside the walls")).to_have_value("XPS 4")
    shown(page, "Outside the walls").select_option("XPS V")
    expect(drawing(page, "A-B at")).to_have_count(1)
    expect(page.locator(".wrong:visible")).to_have_count(0)


def test_text_from_a_user_stays_text(page: Page) -> None:
    tables = lot()
    tables["parts"][0]["name"] = SCRIPT
    tables["climate"]["source"] = SCRIPT
    open_tables(page, tables)
    expect(house(page)).to_contain_text(SCRIPT)
    expect(page.locator(".result:visible")).to_contain_text(f"as typed ({SCRIPT})")
    assert shown(page, "Part").inner_text() == SCRIPT
    assert page.locator("script", has_text="alert(1)").count() == 0
    open_tables(page, lot())
    expect(house(page)).not_to_contain_text("script")


def test_nothing_is_cut_off_on_a_phone(watched: WatchedPage, server: Server) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    page = turned_to_heat(watched, server)
    expect(house(page)).to_contain_text("all heated parts")
    for title in ("Second opinions", "The edge, stretch by stretch", "Breaks in the insulation line"):
        unfold(page, title)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    # Nothing but the drawings and their tables lies beyond the right edge, none of the labels is cut.
    beyond = page.evaluate(
        """() => [...document.querySelectorAll('button, input, select, label, td, h2')]
            .filter(e => e.offsetParent && !e.closest('.foundation-chart, details, .foam-pair label'))
            .filter(e => e.getBoundingClientRect().right > 391 || e.getBoundingClientRect().left < 0)
            .map(e => e.outerHTML.slice(0, 200))"""
    )
    assert beyond == []
    # Switches first, then the section, the picture, the table; the fields are a link away.
    order = [
        page.locator(".switches:visible").first,
        drawing(page, "A-B at"),
        drawing(page, "14 February"),
        house(page),
        shown(page, "Degree days"),
    ]
    tops = [box["y"] for box in (each.bounding_box() for each in order) if box is not None]
    assert tops == sorted(tops)
    assert len(tops) == len(order)
    page.get_by_role("link", name="Change foam and climate").click()
    expect(shown(page, "Outside the walls")).to_be_in_viewport()
