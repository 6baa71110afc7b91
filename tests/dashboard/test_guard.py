"""No callback fails in silence."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Iterator
from pathlib import Path

import pytest

from foundation import places
from foundation.dashboard.guard import debounced, guarded, log, sentence


@pytest.fixture(autouse=True)
def own_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A log of the test's own, as a kernel makes it when it starts."""
    monkeypatch.setenv("FOUNDATION_HOME", str(tmp_path))
    logger = logging.getLogger("foundation")
    kept = logger.handlers[:]
    logger.handlers.clear()
    log.cache_clear()
    yield tmp_path / "planner.log"
    for handler in logger.handlers:
        handler.close()
    logger.handlers[:] = kept
    log.cache_clear()


def test_success_takes_the_last_sentence_away() -> None:
    told: list[str] = []
    guarded(lambda value: value, told.append)(1)
    assert told == [""]


def test_failure_inside_a_call_outlives_the_successes_around_it() -> None:
    shared: list[str] = []
    fails = guarded(lambda: 1 / 0, shared.append)
    works = guarded(lambda: None, shared.append)

    def both() -> None:
        fails()
        works()

    guarded(both, shared.append)()
    assert len(shared) == 1
    assert shared[0].startswith("Something went wrong")
    works()
    assert shared[1:] == [""]


def test_failure_is_told_and_logged_with_its_traceback(own_log: Path) -> None:
    told: list[str] = []

    def callback(_change: object) -> None:
        raise ZeroDivisionError("the inside")

    guarded(callback, told.append)(None)
    assert told == [
        "Something went wrong inside the planner, so the page still shows the last good result; "
        f"what happened is written in {own_log}."
    ]
    written = own_log.read_text()
    assert "ZeroDivisionError: the inside" in written
    assert "in callback" in written


def test_refusal_of_the_planner_is_told_in_its_own_words() -> None:
    told: list[str] = []
    guarded(lambda: places.data("..", "x"), told.append)()
    assert told == ['"../x" leads out of the folder data: name something inside it.']


def test_refusal_of_a_library_is_not_shown() -> None:
    with pytest.raises(ValueError, match="twelve feet") as caught:
        int("twelve feet")
    assert "twelve feet" not in sentence(caught.value)


def test_log_that_cannot_be_written_is_not_promised(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("FOUNDATION_HOME", str(tmp_path / "file"))
    assert sentence(RuntimeError()).endswith("what happened is written in the window it was started from.")


def test_debounced_runs_at_once_without_a_loop() -> None:
    calls: list[int] = []
    debounced(calls.append, 10.0)(1)
    assert calls == [1]


def test_debounced_runs_only_the_last_of_quick_calls() -> None:
    calls: list[int] = []
    call = debounced(calls.append, 0.0)

    async def three_quick_ones() -> None:
        for number in (1, 2, 3):
            call(number)
        assert calls == []
        while not calls:
            await asyncio.sleep(0)

    asyncio.run(three_quick_ones())
    assert calls == [3]
