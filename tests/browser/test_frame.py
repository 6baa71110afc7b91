"""The frame every page stands in: server, template, chart and guard, on a page made for it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.harness.server import Server, planner_command, running, write_notebook
from tests.browser.harness.watch import DRAWN, WatchedPage


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = tmp_path_factory.mktemp("frame")
    notebook = write_notebook(folder, "from tests.browser.harness.frame import show_frame", "show_frame()")
    # A kernel of another environment that is found first must not be taken.
    kernel = folder / "kernels" / "python3" / "kernel.json"
    kernel.parent.mkdir(parents=True)
    kernel.write_text('{"argv": ["false"], "display_name": "Elsewhere", "language": "python"}')
    with running(planner_command(notebook), JUPYTER_PATH=str(folder)) as started:
        yield started


@pytest.fixture(scope="module")
def open_page(browser: Browser, server: Server) -> Iterator[WatchedPage]:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    with WatchedPage(context) as watched:
        watched.open(server.address)
        yield watched
    context.close()


@pytest.fixture
def page(open_page: WatchedPage) -> Iterator[Page]:
    """The module's page; whatever a test does on it, it must not complain."""
    yield open_page.page
    assert open_page.complaints == []


def chart(page: Page) -> Locator:
    return page.locator(".foundation-chart").first


def move_slider(page: Page, key: str) -> None:
    """One step of the frost depth, and the chart redrawn for it."""
    drawn = int(chart(page).get_attribute("data-drawn") or 0)
    page.locator(".noUi-handle").press(key)
    expect(chart(page)).to_have_attribute("data-drawn", str(drawn + 1))


def test_page_has_its_title_and_a_drawn_chart(page: Page) -> None:
    assert page.title() == "Foundation planner"
    expect(chart(page).locator(".scatterlayer .trace")).to_have_count(2)


def test_page_asks_for_the_runtime_once_and_from_here(page: Page, open_page: WatchedPage) -> None:
    assert len([url for url in open_page.requests if "plotly" in url]) == 1


def test_chart_is_described_in_words(page: Page) -> None:
    expect(chart(page)).to_have_attribute("role", "img")
    expect(chart(page)).to_have_attribute("aria-label", re.compile(r"Frost line \d\.\d m down"))


def test_chart_offers_nothing_that_leaves_this_machine(page: Page) -> None:
    names = [button.get_attribute("data-title") for button in chart(page).locator(".modebar-btn").all()]
    assert names == ["Download plot as a PNG", "Zoom", "Pan", "Zoom in", "Zoom out", "Reset axes"]


def test_slider_redraws_the_same_chart(page: Page) -> None:
    page.evaluate("document.querySelector('.foundation-chart .main-svg').dataset.mark = 'same'")
    before = chart(page).locator(".gtitle").text_content()
    move_slider(page, "ArrowRight")
    expect(chart(page).locator(".gtitle")).not_to_have_text(before or "")
    expect(chart(page).locator(".main-svg").first).to_have_attribute("data-mark", "same")


def test_zoom_stays_when_the_chart_is_redrawn(page: Page) -> None:
    shown = "document.querySelector('.js-plotly-plot')._fullLayout.xaxis.range"
    whole = page.evaluate(shown)
    box = chart(page).locator(".nsewdrag").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] * 0.5, box["y"] + 20)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.9, box["y"] + 60, steps=5)
    page.mouse.up()
    page.wait_for_function(f"(whole) => {shown}[0] > whole[0] + 3", arg=whole)
    zoomed = page.evaluate(shown)
    move_slider(page, "ArrowRight")
    assert page.evaluate(shown) == zoomed
    chart(page).locator("[data-title='Reset axes']").click()
    page.wait_for_function(f"(whole) => {shown}[0] === whole[0]", arg=whole)


def test_two_clicks_on_one_point_both_arrive(page: Page) -> None:
    for number in (1, 2):
        box = chart(page).locator(".scatterlayer .points path").nth(1).bounding_box()
        assert box is not None
        # A click counts for the point whose label is shown, which takes the chart a moment, as it takes a person.
        page.mouse.move(5, 5)
        expect(chart(page).locator(".hovertext")).to_have_count(0)
        page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        expect(chart(page).locator(".hovertext")).to_be_visible()
        page.mouse.down()
        page.mouse.up()
        expect(page.locator(".heard")).to_have_text(f"{number} Finished grade shot 1")


def drag_right(page: Page, shape: int) -> None:
    """Drag a shape by half its width."""
    box = chart(page).locator(f".shapelayer path[data-index='{shape}']").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"], box["y"] + box["height"] / 2, steps=5)
    page.mouse.up()


def test_dragged_shape_is_told_and_returns_to_where_the_kernel_has_it(page: Page) -> None:
    drawn = int(chart(page).get_attribute("data-drawn") or 0)
    drag_right(page, 1)
    # Half of its 3 m to the right of 3 m, less what a mouse needs to count as moving.
    expect(page.locator(".moved")).to_have_text(re.compile(r"step 4\.[45]\d"))
    expect(chart(page)).to_have_attribute("data-drawn", str(drawn + 1))
    assert page.evaluate("document.querySelector('.js-plotly-plot')._fullLayout.shapes[1].x0") == 3


def test_shape_that_is_not_editable_stays(page: Page) -> None:
    told = page.locator(".moved").text_content()
    drag_right(page, 0)
    # It zooms instead: a drag along one axis zooms that axis.
    page.wait_for_function("document.querySelector('.js-plotly-plot')._fullLayout.xaxis.range[0] > 7")
    chart(page).locator("[data-title='Reset axes']").click()
    assert page.evaluate("document.querySelector('.js-plotly-plot')._fullLayout.shapes[0].x0") == 7
    expect(page.locator(".moved")).to_have_text(told or "")


def test_failing_callback_is_told_and_logged_and_forgotten(page: Page, server: Server) -> None:
    trouble = page.locator(".trouble")
    page.get_by_role("button", name="Fail").click()
    expect(trouble).to_contain_text("Something went wrong inside the planner")
    expect(trouble).not_to_contain_text("Traceback")
    assert "the inside of the planner broke" in server.log.read_text()
    assert "the inside of the planner broke" in (server.log.parent / "planner.log").read_text()
    move_slider(page, "ArrowLeft")
    expect(trouble).to_be_empty()


def test_refused_value_is_told_in_the_planners_own_words(page: Page) -> None:
    page.get_by_role("button", name="Refuse").click()
    expect(page.locator(".trouble")).to_contain_text(
        '"../<b>pyproject.toml</b>" leads out of the folder data'
    )


def test_hidden_chart_is_drawn_when_it_is_shown(page: Page) -> None:
    charts = page.locator(".foundation-chart")
    expect(page.locator(DRAWN)).to_have_count(1)
    page.get_by_role("button", name="Reveal").click()
    expect(page.locator(DRAWN)).to_have_count(2)
    expect(charts.nth(1).locator(".gtitle")).to_have_text(re.compile(r"Hidden \d\.\d"))


def test_chart_without_a_figure_shows_nothing(page: Page) -> None:
    empty = page.locator(".foundation-chart").nth(2)
    expect(empty).to_be_attached()
    expect(empty.locator("svg")).to_have_count(0)


def test_narrow_page_fits_its_screen(page: Page) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    everything = "[...document.querySelectorAll('#rendered_cells *:not(svg *)')]"
    widest = f"Math.max(...{everything}.map((element) => element.getBoundingClientRect().right))"
    page.wait_for_function("document.querySelector('.foundation-chart .main-svg').clientWidth < 390")
    assert page.evaluate(widest) <= 390
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.set_viewport_size({"width": 1280, "height": 900})


def test_page_without_the_runtimes_address_gets_it_from_the_kernel(browser: Browser, server: Server) -> None:
    context = browser.new_context()
    with WatchedPage(context) as watched:
        watched.page.route("**/plotly.min.js*", lambda route: route.abort())
        watched.open(server.address)
        expect(chart(watched.page).locator(".scatterlayer .trace")).to_have_count(2)
        assert [complaint for complaint in watched.complaints if "ERR_FAILED" not in complaint] == []
        assert len(watched.complaints) == 1
    context.close()


def test_page_that_tells_no_address_gets_the_runtime_from_the_kernel(
    browser: Browser, server: Server
) -> None:
    # As in a notebook that is open in an editor: its page has no template of ours.
    context = browser.new_context()
    with WatchedPage(context) as watched:
        forget = "document.addEventListener('DOMContentLoaded', () => delete document.body.dataset.baseUrl)"
        watched.page.add_init_script(forget)
        watched.open(server.address)
        assert watched.page.evaluate("document.body.dataset.baseUrl") is None
        assert (
            watched.page.evaluate("[...document.scripts].filter((s) => s.src.startsWith('blob:')).length")
            == 1
        )
        assert watched.complaints == []
    context.close()


def test_runtime_is_kept_by_the_browser_for_years(browser: Browser, server: Server) -> None:
    context = browser.new_context()
    answer = context.request.get(f"{server.address}voila/plotly/plotly.min.js?v=1")
    assert answer.headers["cache-control"] == "max-age=315360000, immutable"
    assert answer.body().lstrip().startswith(b"/**\n* plotly.js")
    context.close()


@pytest.mark.parametrize(
    "path",
    [
        "voila/plotly/datasets/iris.csv.gz",
        "voila/plotly/..%2f__init__.py",
        "voila/files/page.ipynb",
        "voila/files/..%2fpage.ipynb",
        "page.ipynb",
    ],
)
def test_nothing_else_is_served(browser: Browser, server: Server, path: str) -> None:
    context = browser.new_context()
    assert context.request.get(server.address + path).status in (403, 404)
    context.close()


def test_another_name_for_this_machine_is_refused(browser: Browser, server: Server) -> None:
    context = browser.new_context()
    assert context.request.get(server.address, headers={"Host": "elsewhere.example"}).status == 403
    context.close()


def test_page_built_beforehand_learns_when_it_is_opened(watched: WatchedPage, tmp_path: Path) -> None:
    notebook = write_notebook(
        tmp_path, "from tests.browser.harness.frame import show_waiting", "show_waiting()"
    )
    with running(planner_command(notebook, preheat=1)) as ready:
        watched.open(ready.address, ready=".word")  # may come before a kernel is ready, and gets a new one
        page = watched.open(ready.address, ready=".word")
        expect(page.locator(".word")).to_have_text("opened")


def test_notebook_that_fails_shows_a_sentence(watched: WatchedPage, tmp_path: Path) -> None:
    notebook = write_notebook(tmp_path, "raise RuntimeError('inside words')")
    with running(planner_command(notebook)) as failing:
        page = watched.open(failing.address, ready=".planner-failed")
        expect(page.locator(".planner-failed")).to_contain_text("The planner could not open.")
        assert "inside words" not in page.content()
        assert "inside words" in failing.log.read_text()
