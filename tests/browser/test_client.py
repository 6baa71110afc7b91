"""The client's screen in a real browser: large type, three cards, a slider that answers, one page on paper."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator

import pypdf
import pytest
from playwright.sync_api import Browser, Page, expect

from foundation import places
from tests.browser.harness.server import Server, planner_command, running
from tests.browser.harness.watch import WatchedPage
from tests.dashboard.client_lot import client_text, jargon_in

SOLVED = 240_000
"""Long enough for the slowest machine to work everything out. [ms]"""
READ = """() => [...document.querySelectorAll('.client *')]
    .filter(e => e.checkVisibility({visibilityProperty: true}) && e.getClientRects().length)
    .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())
        || ['INPUT', 'SELECT', 'BUTTON'].includes(e.tagName))"""
"""Every element of the screen that shows text of its own."""
TYPE = f"""() => ({READ})().map(e => {{
    const shown = parseFloat(getComputedStyle(e).fontSize);
    const drawing = e.ownerSVGElement?.getScreenCTM().a ?? 1;
    return [e.textContent.trim().slice(0, 30), shown * drawing];
}})"""


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    project = tmp_path_factory.mktemp("client") / "slab.toml"
    project.write_text(client_text(), encoding="utf-8")
    command = planner_command(notebook=places.notebooks("client.ipynb"), project=project, preheat=1)
    with running(command, OPENBLAS_NUM_THREADS="1") as started:
        yield started


@pytest.fixture(scope="module")
def loaded(browser: Browser, server: Server) -> Iterator[WatchedPage]:
    """One page for all tests: what it shows takes long to work out."""
    with WatchedPage(browser.new_context(viewport={"width": 1280, "height": 900})) as watched:
        watched.open(server.address, ready=".client h1")
        # It says what it is doing, and keeps the places of what will come.
        expect(watched.page.locator(".client-card")).to_have_count(3)
        expect(watched.page.locator(".client-work [role=status]")).to_contain_text(
            re.compile("Start|foam|Work")
        )
        watched.page.wait_for_selector(".client-work.resting", state="attached", timeout=SOLVED)
        expect(watched.page.get_by_label("Foam", exact=True).locator("option")).to_have_count(2)
        yield watched


@pytest.fixture
def page(loaded: WatchedPage) -> Iterator[Page]:
    loaded.page.set_viewport_size({"width": 1280, "height": 900})
    yield loaded.page
    assert loaded.complaints == []


@pytest.mark.parametrize("width", [1280, 390])
def test_type_is_large_and_nothing_is_cut_off(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    shown = "w => Math.abs(document.querySelector('.client-heat svg').getBoundingClientRect().width - w) < 40"
    page.wait_for_function(shown, arg=width - 56)
    # The picture is drawn anew for another width.
    page.wait_for_function(f"() => Math.min(...({TYPE})().map(pair => pair[1])) > 27.99")
    found = page.evaluate(TYPE)
    assert len(found) > 40
    assert [pair for pair in found if pair[1] < 27.99] == []
    numbers = page.locator(".client .number")
    assert numbers.count() == 11  # floor, month and first cost on three cards, two at the slider
    sizes = numbers.evaluate_all("all => all.map(e => getComputedStyle(e).fontSize)")
    assert set(sizes) == {"72px"}
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    out = page.evaluate(
        f"w => ({READ})().filter(e => !e.ownerSVGElement).filter(e => {{"
        "  const range = document.createRange(); range.selectNodeContents(e);"
        "  return range.getBoundingClientRect().right > w || e.getBoundingClientRect().right > w;"
        "}).map(e => e.textContent)",
        width,
    )
    assert out == []


def test_three_cards_in_everyday_words(page: Page) -> None:
    names = page.locator(".client-card h2").all_inner_texts()
    assert names == ["Good", "Better", "Best"]
    expect(page.locator(".client-card").first).to_contain_text("a month")
    texts = page.evaluate(f"() => ({READ})().map(e => e.textContent)")
    assert jargon_in(" ".join(texts)) == []
    assert page.locator(".client-walls svg").count() == 4
    assert page.locator(".client b", has_text="Lot").locator("xpath=self::b[text()='Lot']").count() == 0


def test_slider_and_field_change_the_numbers(page: Page) -> None:
    numbers, field = page.locator(".client-numbers"), page.get_by_label("Thickness, in")
    before = numbers.inner_text()
    handle = page.locator(".client-row .noUi-handle")
    handle.focus()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    expect(numbers).not_to_have_text(before, use_inner_text=True)
    expect(field).to_have_value("0")
    cold = numbers.inner_text()
    field.fill("5.4")
    field.press("Enter")
    expect(numbers).not_to_have_text(cold, use_inner_text=True)
    expect(field).to_have_value("6")
    page.get_by_label("Foam", exact=True).select_option("outside the walls")
    expect(page.locator(".client-slider")).to_contain_text("Outside the walls the plan has")
    page.get_by_label("Foam", exact=True).select_option("under the floor")
    expect(page.locator(".client-slider")).to_contain_text("Under the floor the plan has")


@pytest.mark.parametrize("across", [True, False])
def test_prints_as_one_page(page: Page, across: bool) -> None:
    made = page.pdf(format="Letter", landscape=across, prefer_css_page_size=False)
    read = pypdf.PdfReader(io.BytesIO(made))
    assert len(read.pages) == 1
    text = re.sub(r"\s+", " ", read.pages[0].extract_text())
    for words in ("Good", "Better", "Best", "bare concrete", "Local code and licensed practice decide"):
        assert words in text
    assert "Full screen" not in text


def test_full_screen(page: Page) -> None:
    page.get_by_role("button", name="Full screen", exact=True).click()
    page.wait_for_function("() => document.fullscreenElement !== null")
    page.get_by_role("button", name="Leave full screen").click()
    page.wait_for_function("() => document.fullscreenElement === null")
    expect(page.get_by_role("button", name="Full screen", exact=True)).to_be_visible()
