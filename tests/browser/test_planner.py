"""The planner in a real browser: what a builder does on its pages, good and bad values, wide and narrow."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from foundation import places
from tests.browser.harness.server import Server, planner_command, running
from tests.browser.harness.watch import WatchedPage

FOOTINGS = "How deep, and where does it step?"
LOT = "Where is the ground, and how high do we set the house?"


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("lot")
    for source in places.data("demo").iterdir():
        (folder / source.name).write_bytes(source.read_bytes())
    return folder / "fallow-fen.toml"


@pytest.fixture(scope="module")
def server(project: Path) -> Iterator[Server]:
    with running(planner_command(project=project, preheat=1)) as started:
        yield started


@pytest.fixture(scope="module")
def empty_server() -> Iterator[Server]:
    with running(planner_command(preheat=1)) as started:
        yield started


@pytest.fixture(scope="module")
def loaded(browser: Browser, server: Server) -> Iterator[WatchedPage]:
    """One page for the tests that put back what they change: a load takes seconds."""
    with WatchedPage(browser.new_context(viewport={"width": 1280, "height": 900})) as watched:
        watched.open(server.address)
        yield watched


@pytest.fixture
def page(loaded: WatchedPage) -> Iterator[Page]:
    loaded.page.get_by_role("button", name="Footings", exact=True).click()
    yield loaded.page
    assert loaded.complaints == []


def shown(page: Page, label: str) -> Locator:
    """The field of that name on the page that is turned to."""
    return page.get_by_label(label, exact=True).and_(page.locator(":visible"))


def choose_files(page: Page, button: str, files: Any) -> None:
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name=button).click()
    chooser.value.set_files(files)


def type_into(page: Page, label: str, text: str) -> None:
    box = shown(page, label)
    box.fill(text)
    box.press("Enter")


def unfold(page: Page, title: str) -> None:
    """Turn a group over. A click while the page is laid out anew is lost; a person then clicks again."""
    heads = {
        mark: page.get_by_role("button", name=re.compile(f"^{mark} {re.escape(title)}")).and_(
            page.locator(":visible")
        )
        for mark in "▸▾"
    }
    expect(heads["▸"].or_(heads["▾"]).first).to_be_visible()
    before, after = ("▸", "▾") if heads["▸"].count() else ("▾", "▸")
    for _ in range(6):
        if heads[before].count():
            heads[before].click()
        try:
            expect(heads[after]).to_be_visible(timeout=5000)
            return
        except AssertionError:
            continue
    raise AssertionError(f"{title} does not turn")


def schedule(page: Page) -> str:
    return page.locator("table.schedule").text_content() or ""


def test_demo_opens_on_its_footings(page: Page) -> None:
    expect(page.get_by_role("heading", level=1, name=FOOTINGS)).to_be_visible()
    expect(page.locator(".card")).to_have_count(3)
    expect(page.locator(".card.chosen h3")).to_contain_text("Least cost")
    assert "204'-8\"" in schedule(page)
    assert "13'-6\"" in schedule(page)
    expect(page.get_by_text("Local code and licensed practice decide")).to_be_visible()


@pytest.mark.parametrize("width", [1280, 390])
def test_nothing_is_cut_off(watched: WatchedPage, server: Server, width: int) -> None:
    watched.page.set_viewport_size({"width": width, "height": 844})
    page = watched.open(server.address)
    for tab in ("Footings", "Lot"):
        page.get_by_role("button", name=tab, exact=True).click()
        expect(page.get_by_role("heading", level=1, name=LOT if tab == "Lot" else FOOTINGS)).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        # Every visible text of a control or a table cell fits its box.
        cut = page.evaluate(
            """() => [...document.querySelectorAll('button, td, th, h1, h2, label')]
                .filter(e => e.offsetParent && e.scrollWidth > e.clientWidth + 1)
                .filter(e => getComputedStyle(e).overflow !== 'visible')
                .map(e => e.innerText)"""
        )
        assert cut == []


def test_a_changed_frost_depth_redraws(page: Page) -> None:
    before = schedule(page)
    drawn = page.locator(".foundation-chart:visible").first.get_attribute("data-drawn")
    type_into(page, "Frost depth", "42 in")
    expect(page.locator("table.schedule")).not_to_have_text(before)
    expect(page.locator(".foundation-chart:visible").first).not_to_have_attribute("data-drawn", drawn or "")
    expect(page.locator(".title")).to_contain_text("not saved")
    type_into(page, "Frost depth", "54 in")
    expect(page.locator("table.schedule")).to_contain_text("200'-8\"")


BAD = [
    ("Frost depth", "48", "48 ft or 48 in"),
    ("Frost depth", "10.8", "10'-8\""),
    ("Frost depth", "nan ft", "nan ft"),
    ("Frost depth", "9**9**9 in", "9**9"),
    ("Frost depth", "60 ft", "at most"),
    ("When", "last week", "year-month-day"),
]


@pytest.mark.parametrize(("label", "text", "told"), BAD)
def test_a_bad_value_keeps_the_last_plan(page: Page, label: str, text: str, told: str) -> None:
    before = schedule(page)
    type_into(page, label, text)
    message = page.locator(".field", has=shown(page, label)).locator(".wrong")
    expect(message).to_contain_text(told)
    assert schedule(page) == before
    expect(page.locator(".result.stale:visible")).to_have_count(1)
    assert shown(page, label).input_value() == text  # nothing typed is lost
    type_into(page, label, "54 in" if label == "Frost depth" else "2026-03-03")
    expect(page.locator(".result.stale")).to_have_count(0)
    expect(message).to_have_count(0)


def test_each_kind_of_field(page: Page) -> None:
    title = page.locator(".caption:visible h2")
    # A choice.
    before = schedule(page)
    page.get_by_label("Measured to").select_option("top of footing")
    expect(page.locator("table.schedule")).not_to_have_text(before)
    page.get_by_label("Measured to").select_option("bottom of footing")
    expect(page.locator("table.schedule")).to_have_text(before)
    # Yes or no.
    page.get_by_label("New fill counts").check()
    expect(page.locator("table.schedule")).not_to_have_text(before)
    page.get_by_label("New fill counts").uncheck()
    expect(page.locator("table.schedule")).to_have_text(before)
    # A list, money, a number.
    unfold(page, "Forms and digging")
    type_into(page, "Form panel heights", "2 ft, 4 ft, ten")
    expect(page.get_by_text("ten").and_(page.locator(".wrong")).first).to_be_visible()
    type_into(page, "Form panel heights", "2 ft, 4 ft, 8 ft")
    expect(page.locator(".field .wrong")).to_have_count(0)
    type_into(page, "Dig slope, rise over run", "2/3")
    expect(page.locator("table.schedule")).not_to_have_text(before)
    expect(page.locator(".field .wrong")).to_have_count(0)
    type_into(page, "Dig slope, rise over run", "1")
    type_into(page, "Form panel heights", "2 ft, 4 ft, 8 ft, 9 ft")
    expect(page.locator("table.schedule")).to_have_text(before)
    unfold(page, "Prices")
    cards = page.locator(".cards").text_content() or ""
    type_into(page, "Concrete", "$250/yd³")
    expect(page.locator(".cards")).not_to_have_text(cards)
    type_into(page, "Concrete", "dear")
    expect(page.locator(".field .wrong").first).to_contain_text("dear")
    type_into(page, "Concrete", "$190/yd³")
    expect(page.locator(".field .wrong")).to_have_count(0)
    expect(title).to_be_visible()


def test_answers_walls_and_scale(page: Page) -> None:
    page.get_by_role("button", name="Show fewest steps").click()
    expect(page.locator(".card.chosen", has_text="Fewest steps")).to_have_count(1)
    expect(page.locator(".card.chosen")).to_have_count(1)
    page.get_by_label("Walls shown").select_option("Wall D-A, house")
    expect(page.locator(".caption:visible h2")).to_contain_text("D to A")
    chart = page.locator(".drawing:visible .foundation-chart")
    height = chart.evaluate("e => e.offsetHeight")
    page.get_by_label("Vertical scale").select_option("4 × height")
    taller = "([chart, height]) => chart.offsetHeight > 1.5 * height"
    page.wait_for_function(taller, arg=[chart.element_handle(), height])
    assert (chart.get_attribute("aria-label") or "").startswith("Profile, D to A")
    page.get_by_label("Vertical scale").select_option("true shape")
    page.get_by_role("button", name="Show least cost").click()
    expect(page.locator(".card.chosen", has_text="Least cost")).to_have_count(1)


def test_metric(page: Page) -> None:
    page.get_by_label("Units").select_option("metric")
    expect(page.locator("table.schedule")).to_contain_text("62.382 m")
    expect(page.locator(".cards")).to_contain_text("m³")
    assert "'-" not in schedule(page)
    page.get_by_label("Units").select_option("us")
    expect(page.locator("table.schedule")).to_contain_text("204'-8\"")


def test_hover_says_it_in_full(page: Page) -> None:
    page.get_by_label("Walls shown").select_option("Wall D-A, house")
    expect(page.locator(".caption:visible h2")).to_contain_text("D to A")
    # Plotly's hover layer answers to the drag layer; the footing lies low in the drawing.
    chart = page.locator(".drawing:visible .foundation-chart")
    chart.scroll_into_view_if_needed()
    box = chart.bounding_box()
    assert box is not None
    for share in (0.55, 0.6, 0.65, 0.7):
        page.mouse.move(box["x"] + 0.4 * box["width"], box["y"] + share * box["height"])
        page.mouse.move(box["x"] + 0.4 * box["width"] + 2, box["y"] + share * box["height"])
        if page.locator(".hoverlayer text").count():
            break
    hover = page.locator(".hoverlayer text").first
    for word in ("from D", "finished grade", "frost cover", "bottom of footing", "below BM1"):
        expect(hover).to_contain_text(word)


def test_save_and_download_keep_comments(page: Page, project: Path) -> None:
    type_into(page, "Who said so", 'clerk <b>"O\'Neil"</b> Ж 🙂')
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator(".title")).to_contain_text("Saved fallow-fen.toml")
    saved = project.read_text(encoding="utf-8")
    assert "# Demo lot: place and every number invented." in saved
    assert "O'Neil" in saved
    link = page.get_by_role("link", name="Download").get_attribute("href") or ""
    assert base64.b64decode(link.split(",", 1)[1]).decode() == saved
    type_into(page, "Who said so", "town office, clerk")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator(".title")).to_contain_text("Saved")


def test_text_from_a_user_stays_text(page: Page) -> None:
    page.get_by_role("button", name="Lot", exact=True).click()
    unfold(page, "Job")
    type_into(page, "Name", "<img src=x onerror=alert(1)>")
    expect(page.locator(".title")).to_contain_text("<img src=x onerror=alert(1)>")
    assert page.locator(".title img").count() == 0
    type_into(page, "Name", "Fallow Fen, lot 6")


def test_newcomer_by_keyboard_alone(watched: WatchedPage, empty_server: Server) -> None:
    page = watched.open(empty_server.address, ready="h1:visible")
    expect(page.get_by_text("Type the eight entries")).to_be_visible()
    entries = ["44 ft", "30 ft", "213.8", "213.8", "205.4", "205.4", "206'-0 1/2\"", "54 in"]
    # From the top of the page to the first entry by Tab, then each entry and Tab.
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.closest('.field')?.innerText ?? ''").startswith(
            "Length, A to B"
        ):
            break
    for text in entries:
        page.keyboard.type(text)
        page.keyboard.press("Tab")
    expect(page.locator(".caption:visible h2")).to_contain_text("Grade falls 8'-4")
    page.locator(".foundation-chart[data-drawn]").first.wait_for()
    for _ in range(80):
        page.keyboard.press("Shift+Tab")
        if page.evaluate("document.activeElement.innerText") == "Footings":
            break
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1, name=FOOTINGS)).to_be_visible()
    expect(page.locator("table.schedule")).to_contain_text("frost")
    # What was not typed is marked as assumed, and what no one may assume is asked for.
    expect(page.locator(".page:visible")).to_contain_text("▲")
    expect(page.locator(".cautions")).to_contain_text("write down who gave it and when")


def test_shots_are_pasted_and_refused(watched: WatchedPage, empty_server: Server) -> None:
    page = watched.open(empty_server.address, ready="h1:visible")
    for label, text in (
        ("Length, A to B", "40 ft"),
        ("Width, A to D", "30 ft"),
        ("Top of slab", "98 ft"),
        ("Frost depth", "48 in"),
    ):
        type_into(page, label, text)
    unfold(page, "Survey")
    page.get_by_label("Or paste shots").fill("1\t-30\t-30\t95\tTIE\n2\t-30\t70\tninety\tTIE\n")
    page.get_by_role("button", name="Use these shots").click()
    expect(page.locator(".trouble")).to_contain_text("shot_unit")
    expect(page.get_by_text("2 lines of shots")).to_be_visible()
    shown(page, "Numbers in the file are").select_option("ft")
    expect(page.locator(".trouble")).to_contain_text("ninety")
    assert "ninety" in page.get_by_label("Or paste shots").input_value()  # there to be put right
    good = "1\t-30\t-30\t95\tTIE\n2\t-30\t70\t95\tTIE\n3\t60\t-30\t101\tTIE\n4\t60\t70\t101\tTIE\n"
    page.get_by_label("Or paste shots").fill(good)
    page.get_by_role("button", name="Use these shots").click()
    expect(page.locator(".caption:visible h2")).to_contain_text("Grade falls 2'-0\"")


def test_demo_and_opening_a_file(watched: WatchedPage, empty_server: Server, project: Path) -> None:
    page = watched.open(empty_server.address, ready="h1:visible")
    page.get_by_role("button", name="Open the demo lot").click()
    expect(page.get_by_role("heading", level=1, name=FOOTINGS)).to_be_visible()
    expect(page.locator(".title")).to_contain_text("Fallow Fen, lot 6")
    broken = {"name": "broken.toml", "mimeType": "application/toml", "buffer": b"schema = "}
    choose_files(page, "Open a project", broken)
    expect(page.locator(".trouble")).to_contain_text("not readable as TOML")
    expect(page.locator(".title")).to_contain_text("Fallow Fen, lot 6")
    choose_files(page, "Open a project", [project, project.with_name("shots.csv")])
    expect(page.locator(".trouble .wrong")).to_have_count(0)
    assert re.search(r"saved", page.locator(".title").inner_text())


def test_a_caution_lights_its_place_and_takes_initials(page: Page) -> None:
    stop = page.locator(".caution-slot", has_text="garage").first
    expect(stop).to_contain_text("STOP")
    stop.get_by_role("button", name="Show where").click()
    expect(page.locator(".caption:visible h2")).to_contain_text("B to E")
    shown(page, "Show where, of the others").select_option(index=1)
    expect(page.locator(".caption:visible h2")).to_contain_text("H to C")
    page.get_by_role("button", name="I have read it").click()
    expect(page.locator(".trouble")).to_contain_text("Type your initials")
    shown(page, "STOP to initial").select_option(index=0)
    type_into(page, "Initials or name", "JB")
    page.get_by_role("button", name="I have read it").click()
    expect(page.locator(".caution-slot", has_text="garage").first).to_contain_text("Read by JB")
    # What an engineer decides takes an engineer's name only.
    unread = shown(page, "STOP to initial").locator("option")
    expect(unread).to_have_count(5)
    [tall] = [text for text in unread.all_text_contents() if "H-C" in text]
    shown(page, "STOP to initial").select_option(tall)
    page.get_by_role("button", name="I have read it").click()
    expect(page.locator(".trouble")).to_contain_text("engineer")


def test_own_stepping_by_dragging_and_back(page: Page) -> None:
    page.get_by_label("Walls shown").select_option("Wall D-A, house")
    expect(page.locator(".caption:visible h2")).to_contain_text("D to A")
    page.locator(".under:visible").scroll_into_view_if_needed()
    shapes = page.locator(".drawing:visible .shapelayer path")
    boxes = [shapes.nth(number).bounding_box() for number in range(shapes.count())]
    handles = [box for box in boxes if box and 6 < box["width"] < 20 and box["height"] > 10]
    assert len(handles) == 2  # one on each step
    box = handles[-1]
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 20, y, steps=4)
    page.mouse.up()
    expect(page.locator(".card.chosen", has_text="Your own")).to_have_count(1)
    expect(page.locator(".card.chosen")).to_contain_text("more")
    page.get_by_role("button", name="Back to the best").click()
    expect(page.locator(".card.chosen", has_text="Least cost")).to_have_count(1)


def test_views_and_files(page: Page) -> None:
    page.get_by_label("Walls shown").select_option("Wall C-D, house")
    page.get_by_label("Drawing").select_option("seen from outside")
    expect(page.locator(".caption:visible h2")).to_contain_text("C-D")
    page.get_by_role("button", name="Save this drawing").and_(page.locator(":visible")).click()
    for kind in ("SVG", "DXF"):
        link = page.get_by_role("link", name=kind, exact=True).get_attribute("href") or ""
        assert len(base64.b64decode(link.split(",", 1)[1])) > 1000
    page.get_by_label("Drawing").select_option("profile")
    page.get_by_label("Compare with").select_option("fewest steps")
    page.get_by_label("Compare with").select_option("nothing")
    page.get_by_role("button", name="Lot", exact=True).click()
    page.get_by_label("Seen").select_option("at an angle")
    expect(page.locator(".drawing:visible .foundation-chart")).to_have_attribute(
        "aria-label", re.compile("in space")
    )
    expect(page.get_by_role("heading", name="Set the house higher or lower")).to_be_visible()
    type_into(page, "Set the whole house higher by (− for lower)", "8 in")
    expect(page.locator(".result:visible")).to_contain_text("+1'-4\"")
    type_into(page, "Set the whole house higher by (− for lower)", "")
