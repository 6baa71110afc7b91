"""A browser page that remembers what went wrong on it and what it asked for elsewhere."""

from __future__ import annotations

from types import TracebackType
from typing import Self

from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request

DRAWN = ".foundation-chart[data-drawn]"


class WatchedPage:
    """A page with a list of complaints: its errors and every request that leaves this machine.

    Parameters
    ----------
    context : BrowserContext
        Where the page is opened.
    """

    def __init__(self, context: BrowserContext) -> None:
        self.page: Page = context.new_page()
        self.complaints: list[str] = []
        self.requests: list[str] = []
        self.page.on("pageerror", lambda error: self.complaints.append(f"error: {error}"))
        self.page.on("console", self._console)
        self.page.on("request", self._request)

    def _console(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.complaints.append(f"console: {message.text}")

    def _request(self, request: Request) -> None:
        self.requests.append(request.url)
        if not request.url.startswith(
            ("http://127.0.0.1:", "ws://127.0.0.1:", "data:", "blob:http://127.0.0.1:")
        ):
            self.complaints.append(f"outside: {request.url}")

    def open(self, address: str, ready: str = DRAWN) -> Page:
        """Load an address and wait until something on it is seen."""
        self.page.goto(address, wait_until="commit")
        self.page.wait_for_selector(ready)
        return self.page

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.page.close()
