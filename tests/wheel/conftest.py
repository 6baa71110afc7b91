"""The browser tests' pages, for the wheel's dashboard."""

from tests.browser.conftest import browser, watched  # noqa: F401
