"""Time and weigh pages: for benchmarks, never for tests."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import psutil
from playwright.sync_api import BrowserContext, Error, Page

from tests.browser.harness.watch import DRAWN


@dataclass(frozen=True)
class Load:
    """One load of a page.

    Parameters
    ----------
    seconds : float
        From asking for the address until the ready selector is seen. [s]
    http_bytes : int
        What came over HTTP, headers included; what the cache gave counts nothing. [-]
    socket_bytes : int
        What came over websockets, until ready. [-]
    requests : int
        Requests that reached the server. [-]
    """

    seconds: float
    http_bytes: int
    socket_bytes: int
    requests: int


def load(context: BrowserContext, address: str, ready: str) -> tuple[Page, Load]:
    """Load a page in a context, which also holds the cache, and leave it open."""
    page = context.new_page()
    counts = {"http": 0, "socket": 0, "requests": 0}
    session = context.new_cdp_session(page)

    def received(event: dict[str, Any]) -> None:
        counts["http"] += int(event["encodedDataLength"])
        counts["requests"] += event["encodedDataLength"] > 0

    def frame(event: dict[str, Any]) -> None:
        # Binary frames are reported in base64.
        length = len(event["response"]["payloadData"])
        counts["socket"] += length * 3 // 4 if event["response"]["opcode"] == 2 else length

    session.on("Network.loadingFinished", received)
    session.on("Network.webSocketFrameReceived", frame)
    session.send("Network.enable", {"maxTotalBufferSize": 100_000_000})
    start = time.perf_counter()
    page.goto(address, wait_until="commit")
    try:
        page.wait_for_selector(ready)
    except Error as error:
        raise RuntimeError(f"{address} never showed {ready}, but: {page.inner_text('body')[:400]}") from error
    seconds = time.perf_counter() - start
    return page, Load(seconds, counts["http"], counts["socket"], counts["requests"])


def wait_until_quiet(pid: int, calm: float = 0.5) -> None:
    """Wait until a process and its children do nothing: until preheated kernels are ready. [s]"""
    root = psutil.Process(pid)

    def used() -> float:
        family = [root, *root.children(recursive=True)]
        return sum(sum(each.cpu_times()[:2]) for each in family if each.is_running())

    last = -1.0
    while (now := used()) - last > 0.02 or last < 0:
        last = now
        time.sleep(calm)


def redraw(page: Page, change: Callable[[int], None], times: int = 30, charts: str = DRAWN) -> list[float]:
    """Seconds from each of several changes until every visible chart has been drawn once more. [s]

    `change` gets the number of the change and must alter every visible chart.
    """
    visible = f"[...document.querySelectorAll({charts!r})].filter((chart) => chart.clientWidth)"
    counts = f"{visible}.map((chart) => Number(chart.dataset.drawn))"
    seconds = []
    for number in range(times):
        before = page.evaluate(counts)
        start = time.perf_counter()
        change(number)
        page.wait_for_function(
            f"(before) => {{ const now = {counts}; return now.every((n, i) => n > before[i]); }}", arg=before
        )
        seconds.append(time.perf_counter() - start)
        page.wait_for_timeout(150)  # changes of a person, not of a machine gun: no queue is measured
    return seconds


def percentile(values: list[float], share: float) -> float:
    """The value that a share of the values does not exceed, share from 0 to 1. [-]"""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, round(share * (len(ordered) - 1)))]
