"""One browser a module, and pages that fail a test when something goes wrong on them or leaves here."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.harness import browser as browsers
from tests.browser.harness.watch import WatchedPage

# Machines that run these tests are shared: a page that is only slow must not fail.
expect.set_options(timeout=20_000)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    try:
        with browsers.browser() as started:
            yield started
    except browsers.NoBrowserError as error:
        pytest.fail(str(error), pytrace=False)


@pytest.fixture
def watched(browser: Browser) -> Iterator[WatchedPage]:
    """A page of its own for one test."""
    context = browser.new_context()
    with WatchedPage(context) as page:
        yield page
        assert page.complaints == []
    context.close()
