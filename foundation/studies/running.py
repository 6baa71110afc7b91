"""Runs many small jobs through any executor, with progress, and stops when asked to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from threading import Event
from typing import Any

Progress = Callable[[float, str], None]
"""Called with the share done and a sentence."""
Cancelled = Callable[[], bool] | Event
"""An event, or a function that says whether to stop."""

CHUNK = 12
"""Jobs handed to a worker at once: enough to outweigh the passing, few enough to stop soon."""


class StudyCancelled(Exception):  # noqa: N818 — nothing went wrong: somebody asked for it
    """The study was stopped on request."""


class Runner:
    """Runs jobs, tells how far they are, and stops between them.

    Results depend on the jobs alone: whatever runs them, they come back in the order of the jobs.

    Parameters
    ----------
    executor : concurrent.futures.Executor, optional
        What runs the jobs; this thread when left out.
    progress : function, optional
        Called with the share done and a sentence.
    cancelled : function or threading.Event, optional
        Says whether to stop.
    """

    def __init__(
        self,
        executor: Executor | None = None,
        progress: Progress | None = None,
        cancelled: Cancelled | None = None,
    ) -> None:
        self._executor = executor
        self._progress = progress
        self._share = 0.0
        self._cancelled = cancelled.is_set if isinstance(cancelled, Event) else cancelled

    def tell(self, share: float, sentence: str) -> None:
        """Tell how far the study is; stop here if that was asked for.

        Parameters
        ----------
        share : float
            Share of the whole that is done, 0 to 1. [-]
        sentence : str
            What is done next.

        Raises
        ------
        StudyCancelled
            If the study is to stop.
        """
        if self._cancelled is not None and self._cancelled():
            raise StudyCancelled("The study was stopped.")
        self._share = max(self._share, share)
        if self._progress is not None:
            self._progress(self._share, sentence)

    def run(
        self, job: Callable[[Any], Any], over: Sequence[Any], share: tuple[float, float], sentence: str
    ) -> list[Any]:
        """Run one job over many inputs.

        Parameters
        ----------
        job : function
            Of one input; it and the inputs have to be picklable for an executor of processes.
        over : sequence
            The inputs.
        share : tuple of float
            Share of the whole study at the first input and after the last. [-]
        sentence : str
            What is being done.

        Returns
        -------
        list
            Results, in the order of the inputs.

        Raises
        ------
        StudyCancelled
            If the study is to stop; jobs that have not begun are dropped.
        """
        chunks = [over[at : at + CHUNK] for at in range(0, len(over), CHUNK)]
        found: list[list[Any]] = [[] for _ in chunks]
        done = 0
        for at, results in self._in_any_order(job, chunks, share[0], sentence):
            found[at] = results
            done += len(results)
            self.tell(share[0] + (share[1] - share[0]) * done / len(over), sentence)
        return [result for results in found for result in results]

    def _in_any_order(
        self, job: Callable[[Any], Any], chunks: Sequence[Sequence[Any]], share: float, sentence: str
    ) -> Iterator[tuple[int, list[Any]]]:
        if self._executor is None:
            for at, chunk in enumerate(chunks):
                yield at, _each(job, chunk)
            return
        waiting: dict[Future[list[Any]], int] = {
            self._executor.submit(_each, job, chunk): at for at, chunk in enumerate(chunks)
        }
        try:
            while waiting:
                done, _ = wait(waiting, timeout=0.2, return_when=FIRST_COMPLETED)
                if not done:
                    self.tell(share, sentence)
                for future in done:
                    yield waiting.pop(future), future.result()
        finally:
            for future in waiting:
                future.cancel()


def _each(job: Callable[[Any], Any], chunk: Sequence[Any]) -> list[Any]:
    return [job(one) for one in chunk]
