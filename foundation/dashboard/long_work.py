"""Long work on a page: a button that starts it, how far it is, a button that stops it."""

from __future__ import annotations

import html
import threading
import time
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.fields import button
from foundation.dashboard.guard import guarded

Progress = Callable[[float, str], None]
Cancelled = Callable[[], bool]
TELL_EVERY = 0.3
"""Progress is told to the page no more often than this. [s]"""


class LongWork:
    """Work that runs beside the page, one at a time.

    Parameters
    ----------
    label : str
        What the button says.
    work : callable
        Takes a progress callback (share done, sentence) and a function that tells whether to stop; returns a result.
        It runs in a thread of its own and touches no widget.
    done : callable
        Shows the result.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(
        self,
        label: str,
        work: Callable[[Progress, Cancelled], Any],
        done: Callable[[Any], object],
        tell: Callable[[str], object],
    ) -> None:
        self.work, self.done, self.tell = work, done, tell
        self.stopped = threading.Event()
        self.thread: threading.Thread | None = None
        self.start = button(label, self.run, tell, main=True)
        self.stop = button("Stop", self.stopped.set, tell)
        self.bar = widgets.FloatProgress(min=0.0, max=1.0)
        self.words = widgets.HTML()
        self.box = widgets.HBox([self.start, self.stop, self.bar, self.words])
        self.box.add_class("long-work")
        self._rest("")

    def _rest(self, words: str) -> None:
        self.start.disabled = False
        self.stop.layout.display = self.bar.layout.display = "none"
        self.words.value = f"<span role='status'>{html.escape(words)}</span>" if words else ""

    def run(self) -> None:
        """Start the work, unless it is running."""
        if self.thread is not None and self.thread.is_alive():
            return
        self.stopped.clear()
        self.start.disabled = True
        self.bar.value = 0.0
        self.stop.layout.display = self.bar.layout.display = None
        self.thread = threading.Thread(target=guarded(self._run, self._failed), daemon=True)
        self.thread.start()

    def cancel(self) -> None:
        """Stop the work, if it is running: what it was started for has changed."""
        self.stopped.set()

    def _failed(self, words: str) -> None:
        if words:
            self._rest("")
            self.tell(words)

    def _run(self) -> None:
        last = 0.0

        def progress(share: float, words: str) -> None:
            nonlocal last
            if time.monotonic() - last > TELL_EVERY:
                last = time.monotonic()
                self.bar.value = share
                self.words.value = f"<span role='status'>{html.escape(words)}</span>"

        started = time.monotonic()
        try:
            result = self.work(progress, self.stopped.is_set)
        except Exception:
            if self.stopped.is_set():
                self._rest("Stopped.")
                return
            raise
        if self.stopped.is_set():
            self._rest("Stopped.")
            return
        self.done(result)
        self._rest(f"Done in {time.monotonic() - started:.0f} s.")
