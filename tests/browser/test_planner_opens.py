"""The planner's own notebook, served as it is packed."""

from __future__ import annotations

from collections.abc import Iterator

import psutil
import pytest
from playwright.sync_api import expect

from tests.browser.harness.server import Server, planner_command, running
from tests.browser.harness.watch import WatchedPage


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with running(planner_command(preheat=1)) as started:
        yield started


@pytest.mark.parametrize("width", [1280, 390])
def test_planner_opens_and_fits(watched: WatchedPage, server: Server, width: int) -> None:
    watched.page.set_viewport_size({"width": width, "height": 844})
    page = watched.open(server.address, ready="h1")
    assert page.title() == "Foundation planner"
    expect(page.get_by_role("heading", level=1).first).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_kernel_of_a_page_that_was_left_ends(watched: WatchedPage) -> None:
    soon = "serve.CULL_EVERY = serve.CULL_AFTER = 1"
    with running(planner_command(first=soon)) as impatient:
        page = watched.open(impatient.address, ready="h1")
        family = psutil.Process(impatient.process.pid).children(recursive=True)
        [kernel] = [child for child in family if "ipykernel_launcher" in child.cmdline()]
        page.goto("about:blank")
        kernel.wait(timeout=60)
        assert impatient.log.read_text() == ""


def test_server_ends_quietly(server: Server) -> None:
    # Uses up the module's server: it stays the last test of the module.
    server.process.send_signal(2)
    assert server.process.wait(timeout=60) == 0
    assert "Traceback" not in server.log.read_text()
