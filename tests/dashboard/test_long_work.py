"""Work beside the page: results and refusals arrive on the kernel's loop, and the page's own guard is left alone."""

from __future__ import annotations

import asyncio
import logging
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from foundation import units
from foundation.dashboard.guard import guarded
from foundation.dashboard.long_work import Cancelled, Follower, LongWork, Progress


@pytest.fixture(autouse=True)
def own_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Errors of the tests do not belong in the user's log."""
    monkeypatch.setenv("FOUNDATION_HOME", str(tmp_path))
    monkeypatch.setattr("foundation.dashboard.guard.log", lambda: logging.getLogger("tests.long_work"))
    monkeypatch.setattr(logging.getLogger("tests.long_work"), "propagate", False)
    monkeypatch.setattr(logging.getLogger("tests.long_work"), "handlers", [logging.NullHandler()])


async def until(happened: Callable[[], bool]) -> None:
    async with asyncio.timeout(20):
        while not happened():
            await asyncio.sleep(0)


def test_result_and_progress_arrive_on_the_loop() -> None:
    arrived: list[tuple[str, threading.Thread]] = []
    told: list[str] = []

    def work(progress: Progress, _cancelled: Cancelled) -> str:
        progress(0.5, "half <of> it")
        return threading.current_thread().name

    def done(result: str) -> None:
        arrived.append((result, threading.current_thread()))

    async def page() -> None:
        job = LongWork("Size", work, done, told.append)
        job.run()
        assert job.start.disabled
        assert job.stop.layout.display is None
        await until(lambda: bool(arrived))
        assert job.words.value.startswith("<span role='status'>Done in")
        assert not job.start.disabled
        assert job.stop.layout.display == "none"

    asyncio.run(page())
    [(worker, shown_in)] = arrived
    assert shown_in is threading.main_thread()
    assert worker != threading.main_thread().name
    assert told == []


def test_progress_is_escaped() -> None:
    go = threading.Event()

    def work(progress: Progress, _cancelled: Cancelled) -> None:
        progress(0.25, "<b>wall</b>")
        go.wait(20)

    async def page() -> None:
        job = LongWork("Size", work, lambda _result: None, print)
        job.run()
        await until(lambda: "wall" in job.words.value)
        assert "&lt;b&gt;wall" in job.words.value
        assert job.bar.value == 0.25
        go.set()
        await until(lambda: not job.running)

    asyncio.run(page())


def test_a_refusal_is_said_beside_the_button() -> None:
    told: list[str] = []

    def work(_progress: Progress, _cancelled: Cancelled) -> None:
        units.read("<i>48</i>", "length")

    async def page() -> None:
        job = LongWork("Size", work, lambda _result: pytest.fail("no result"), told.append)
        job.run()
        await until(lambda: not job.running)
        assert 'role="alert"' in job.words.value
        assert "&lt;i&gt;48&lt;/i&gt;" in job.words.value
        assert "12.54 ft" in job.words.value  # what would do
        assert not job.start.disabled
        job.work = lambda _progress, _cancelled: None
        job.done = lambda _result: None
        job.run()  # the next try takes it away
        await until(lambda: not job.running)
        assert "alert" not in job.words.value

    asyncio.run(page())
    assert told == []


def test_a_failure_in_showing_is_said_too() -> None:
    async def page() -> None:
        job = LongWork("Size", lambda _progress, _cancelled: 0, lambda result: 1 / result, print)
        job.run()
        await until(lambda: "Something went wrong" in job.words.value)
        assert not job.start.disabled

    asyncio.run(page())


def test_stopping() -> None:
    runs: list[int] = []

    def work(_progress: Progress, cancelled: Cancelled) -> None:
        runs.append(1)
        while not cancelled():
            pass
        raise RuntimeError("stopped between two solves")

    async def page() -> None:
        job = LongWork("Size", work, lambda _result: pytest.fail("no result"), print)
        job.run()
        job.run()  # it runs already
        job.cancel()
        assert "Stopping" in job.words.value
        assert job.stop.disabled
        await until(lambda: not job.running)
        assert "Stopped." in job.words.value
        job.cancel()  # nothing runs
        assert "Stopped." in job.words.value

    asyncio.run(page())
    assert len(runs) == 1


def test_the_pages_own_callbacks_work_meanwhile() -> None:
    """A failure of the page is told, and the next success takes it away, while work runs in its thread."""
    go = threading.Event()
    told: list[str] = []

    async def page() -> None:
        job = LongWork("Size", lambda _progress, _cancelled: go.wait(20), lambda _result: None, told.append)
        job.run()
        guarded(lambda: 1 / 0, told.append)()
        guarded(lambda: None, told.append)()
        assert [bool(words) for words in told] == [True, False]
        go.set()
        await until(lambda: not job.running)

    asyncio.run(page())


def test_follower_shows_only_what_was_asked_last() -> None:
    go = threading.Event()
    worked: list[int] = []
    shown: list[int] = []

    def work(number: int) -> int:
        worked.append(number)
        go.wait(20)
        return number

    async def page() -> None:
        follower = Follower(work, shown.append, print)
        for number in (1, 2, 3):
            follower.ask(number)
        go.set()
        await until(lambda: bool(shown))

    asyncio.run(page())
    assert worked == [1, 3]
    assert shown == [3]


def test_follower_asks_again_after_a_failure() -> None:
    told: list[str] = []
    shown: list[float] = []

    async def page() -> None:
        follower = Follower(lambda text: units.read(text, "length"), shown.append, told.append)
        follower.ask("48")
        await until(lambda: bool(told))
        assert "48 ft or 48 in" in told[0]
        follower.ask("1 m")
        await until(lambda: bool(shown))

    asyncio.run(page())
    assert shown == [1.0]
    assert told[1:] == [""]


def test_follower_works_at_once_without_a_loop() -> None:
    shown: list[int] = []
    Follower(lambda number: number + 1, shown.append, print).ask(1)
    assert shown == [2]
