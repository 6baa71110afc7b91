"""Find a browser on this machine and start it without its own errands."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Error, Playwright, sync_playwright

COMMANDS = ("chromium", "chromium-browser", "google-chrome")
CHANNELS = ("chromium", "chrome", "msedge")
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    # An outside name fails at once, with or without a network.
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)
NONE_FOUND = (
    "No browser was found: name one in FOUNDATION_BROWSER, or install chromium or google-chrome, "
    "or run 'playwright install chromium'."
)


class NoBrowserError(RuntimeError):
    """There is no browser to test with."""


def start(playwright: Playwright) -> Browser:
    """The first browser found, headless: that of FOUNDATION_BROWSER, the system's, Playwright's own."""
    named = os.environ.get("FOUNDATION_BROWSER")
    found = [named] if named else [path for path in map(shutil.which, COMMANDS) if path]
    if found:
        return playwright.chromium.launch(executable_path=found[0], args=FLAGS)
    for channel in CHANNELS:
        try:
            return playwright.chromium.launch(channel=channel, args=FLAGS)
        except Error:
            continue
    raise NoBrowserError(NONE_FOUND)


@contextmanager
def browser() -> Iterator[Browser]:
    """A started browser, closed at the end."""
    with sync_playwright() as playwright:
        started = start(playwright)
        yield started
        started.close()
