"""Warm floors, order, choices and hand-over in a real browser: what a builder does there, good and bad values."""

from __future__ import annotations

import io
import re
import zipfile
from base64 import b64decode
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from foundation import places
from tests.browser.harness.server import Server, planner_command, running
from tests.browser.harness.watch import WatchedPage

LONG = 120_000
"""Work that takes seconds here may take a minute beside others. [ms]"""


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = tmp_path_factory.mktemp("lot")
    for source in places.data("demo").iterdir():
        (folder / source.name).write_bytes(source.read_bytes())
    project = folder / "fallow-fen.toml"
    text = project.read_text(encoding="utf-8").replace('name = "Fallow Fen, lot 6"', 'name = "<b>lot</b> 6"')
    project.write_text(text, encoding="utf-8")
    with running(planner_command(project=project, preheat=1)) as started:
        yield started


@pytest.fixture(scope="module")
def loaded(browser: Browser, server: Server) -> Iterator[WatchedPage]:
    with WatchedPage(browser.new_context(viewport={"width": 1280, "height": 900})) as watched:
        watched.open(server.address)
        yield watched


@pytest.fixture
def page(loaded: WatchedPage) -> Iterator[Page]:
    yield loaded.page
    assert loaded.complaints == []


def turn(page: Page, title: str) -> Locator:
    """Turn to a page and give what it shows."""
    page.get_by_role("button", name=title, exact=True).click()
    return page.locator(".page:visible .result")


def type_into(page: Page, label: str, text: str) -> None:
    box = page.get_by_label(label, exact=True).and_(page.locator(":visible"))
    box.fill(text)
    box.press("Enter")


def unfold(page: Page, title: str) -> None:
    page.get_by_role("button", name=re.compile(f"^▸ {title}")).and_(page.locator(":visible")).click()


def test_floors_are_worked_out(page: Page) -> None:
    result = turn(page, "Warm floors")
    expect(result.get_by_role("heading", name=re.compile(r"^\d+ loops, [\d,]+ ft of tube$"))).to_be_visible(
        timeout=LONG
    )
    expect(result.locator("td", has_text="walkout strip").first).to_be_visible()
    expect(result.get_by_role("heading", name="Every floor carries its load")).to_be_visible()
    expect(result.locator("caption", has_text="propylene glycol 40 % by volume")).to_be_visible()


def test_a_load_that_no_floor_carries(page: Page) -> None:
    result = turn(page, "Warm floors")
    unfold(page, "Zones")
    type_into(page, "zone 3: load", "90")
    expect(result.get_by_role("heading", name="garage cannot carry the load")).to_be_visible(timeout=LONG)
    expect(result.locator("b", has_text="falls short").first).to_be_visible()
    type_into(page, "zone 3: load", "a lot")
    expect(page.locator(".wrong:visible").first).to_contain_text("a lot")
    type_into(page, "zone 3: load", "22 Btu/h·ft²")
    expect(result.get_by_role("heading", name="Every floor carries its load")).to_be_visible(timeout=LONG)


def test_the_count_and_its_formulas(page: Page) -> None:
    result = turn(page, "Order")
    expect(result.get_by_text("All of it:")).to_be_visible(timeout=LONG)
    expect(result.locator("td", has_text="slab of garage").first).to_be_visible()
    line = result.locator("details", has_text="concrete of walls").first
    line.locator("summary").click()
    expect(line.locator("li").first).to_contain_text("A-B")
    before = result.locator(".total").inner_text()
    type_into(page, "Concrete", "$250/yd³")
    expect(result.locator(".total")).not_to_have_text(before, timeout=LONG)
    type_into(page, "Concrete", "$190/yd³")
    expect(result.locator(".total")).to_have_text(before, timeout=LONG)


def test_an_option_and_its_change_order(page: Page) -> None:
    result = turn(page, "Choices")
    expect(result.get_by_text("No option yet")).to_be_visible()
    type_into(page, "Option", "thicker")
    type_into(page, "Field, by its path", "parts[1].wall_thickness")
    type_into(page, "What stands there instead", "a foot or so")
    page.get_by_role("button", name="Put it into the option").click()
    expect(page.locator(".trouble")).to_contain_text("a foot or so")
    type_into(page, "What stands there instead", "12 in")
    page.get_by_role("button", name="Put it into the option").click()
    expect(result.locator("li", has_text="thicker")).to_be_visible()
    page.get_by_role("button", name="What changes?").click()
    expect(result.locator("td", has_text="concrete").first).to_be_visible(timeout=LONG)
    expect(result.get_by_text(re.compile(r"The change costs \$[\d,]+"))).to_be_visible()
    page.get_by_role("button", name="Take the last option away").click()
    expect(result.get_by_text("No option yet")).to_be_visible()


def test_papers_are_handed_over(page: Page) -> None:
    result = turn(page, "Hand over")
    expect(result.get_by_text("Held back until somebody has read why:")).to_be_visible()
    page.get_by_role("button", name="Make the papers").click()
    link = result.get_by_role("link", name="All files")
    expect(link).to_be_visible(timeout=LONG)
    packed = zipfile.ZipFile(io.BytesIO(b64decode(str(link.get_attribute("href")).split(",", 1)[1])))
    names = set(packed.namelist())
    assert {"workbook.xlsx", "points.csv", "drawings.dxf", "set-letter.pdf", "schedule.csv"} <= names
    whole = pypdf.PdfReader(io.BytesIO(packed.read("set-letter.pdf")))
    text = whole.pages[0].extract_text()
    assert "<b>lot</b> 6" in text
    revision = re.search(r"[0-9a-f]{10}", result.inner_text())
    assert revision is not None
    assert all(revision.group() in sheet.extract_text() for sheet in whole.pages)


@pytest.mark.parametrize("title", ["Warm floors", "Order", "Choices", "Hand over"])
def test_a_phone_shows_the_pages_without_sliding(
    browser: Browser, server: Server, title: str, tmp_path: Path
) -> None:
    with WatchedPage(browser.new_context(viewport={"width": 390, "height": 844})) as watched:
        page = watched.open(server.address)
        result = turn(page, title)
        expect(result).to_be_visible()
        if title in ("Warm floors", "Order"):
            expect(result.locator("table").first).to_be_visible(timeout=LONG)
        wide = page.evaluate("document.querySelector('.jp-OutputArea-output').scrollWidth")
        assert wide <= 390
        assert watched.complaints == []
