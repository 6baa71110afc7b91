"""Long work on a page: what a button starts and stops, what still stands of it, and what follows the inputs."""

from __future__ import annotations

import asyncio
import functools
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


def _this_loop() -> asyncio.AbstractEventLoop | None:
    """The kernel's loop, on which alone widgets are touched; None in a script or a test without one."""
    try:
        return asyncio.get_running_loop()
    except RuntimeError:
        return None


def _on(loop: asyncio.AbstractEventLoop | None, callback: Callable[[], object]) -> None:
    """Call back on a loop from another thread, at once where there is none."""
    if loop is None:
        callback()
    else:
        loop.call_soon_threadsafe(callback)


def _raised(error: Exception) -> None:
    raise error


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
        Shows the result; called where the page's callbacks are.
    tell : callable
        Puts a sentence on the page; what the work itself refuses is said beside its button.
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
        self.running = self.refused = False
        self.start = button(label, self.run, tell, main=True)
        self.stop = button("Stop", self.cancel, tell)
        self.bar = widgets.FloatProgress(min=0.0, max=1.0)
        self.words = widgets.HTML()
        self.box = widgets.HBox([self.start, self.stop, self.bar, self.words])
        self.box.add_class("long-work")
        self._rest("")

    def _rest(self, words: str) -> None:
        self.running = False
        self.start.disabled = False
        self.stop.layout.display = self.bar.layout.display = "none"
        self.say(words)

    def say(self, words: str) -> None:
        """Put a sentence beside the button.

        Parameters
        ----------
        words : str
            Plain text, "" for nothing.
        """
        self.refused = False
        self.words.value = f"<span role='status'>{html.escape(words)}</span>" if words else ""

    def run(self) -> None:
        """Start the work, unless it is running."""
        if self.running:
            return
        self.running = True
        self.stopped.clear()
        self.start.disabled = True
        self.stop.disabled = False
        self.bar.value = 0.0
        self.stop.layout.display = self.bar.layout.display = None
        self.say("Starting.")
        self.thread = threading.Thread(target=self._run, args=(_this_loop(),), daemon=True)
        self.thread.start()

    def cancel(self) -> None:
        """Stop the work, if it is running, at the next place where it can stop."""
        if self.running:
            self.stopped.set()
            self.stop.disabled = True
            self.say("Stopping.")

    def _run(self, loop: asyncio.AbstractEventLoop | None) -> None:
        """The thread: nothing here touches a widget."""
        last = 0.0

        def progress(share: float, words: str) -> None:
            nonlocal last
            if time.monotonic() - last > TELL_EVERY and not self.stopped.is_set():
                last = time.monotonic()
                _on(loop, functools.partial(self._progress, share, words))

        started = time.monotonic()
        try:
            result = self.work(progress, self.stopped.is_set)
        except Exception as error:
            ended = functools.partial(self._failed, error)
        else:
            ended = functools.partial(self._finished, result, time.monotonic() - started)
        _on(loop, ended)

    def _progress(self, share: float, words: str) -> None:
        if self.running and not self.stopped.is_set():
            self.bar.value = share
            self.say(words)

    def _finished(self, result: Any, seconds: float) -> None:
        if self.stopped.is_set():
            self._rest("Stopped.")
            return
        self._rest(f"Done in {seconds:.0f} s.")
        guarded(self.done, self._refused)(result)

    def _failed(self, error: Exception) -> None:
        self._rest("Stopped." if self.stopped.is_set() else "")
        if not self.stopped.is_set():
            guarded(_raised, self._refused)(error)

    def _refused(self, words: str) -> None:
        """Say beside the button why there is no result."""
        if words:
            self.refused = True
            self.words.value = f'<p class="wrong" role="alert">{html.escape(words)}</p>'


class Standing:
    """What a long work has shown, greyed while it does not stand for the inputs.

    Parameters
    ----------
    work : LongWork
        The work.
    box : Widget
        What shows its result; hidden until there is one.
    again : str
        What to say beside the button once the inputs have changed.
    """

    def __init__(self, work: LongWork, box: widgets.Box, again: str) -> None:
        self.work, self.box, self.again = work, box, again
        self.inputs: tuple[object, ...] | None = None
        self.seen: tuple[object, ...] = ()
        self.fits = True
        box.layout.display = "none"

    def made_for(self, inputs: tuple[object, ...]) -> None:
        """Show the box, whose result was made for some inputs.

        Parameters
        ----------
        inputs : tuple
            What the result hangs on.
        """
        self.inputs, self.fits = inputs, True
        self.box.layout.display = None

    def compare(self, inputs: tuple[object, ...]) -> None:
        """Grey the box where its result was made for other inputs than there are.

        Parameters
        ----------
        inputs : tuple
            What a result would hang on now.
        """
        if self.work.refused and inputs != self.seen:
            self.work.say("")  # what was refused may be mended
        self.seen = inputs
        if self.inputs is None:
            return
        fits = self.inputs == inputs
        if fits:
            self.box.remove_class("stale")
        else:
            self.box.add_class("stale")
        if not self.work.running and fits != self.fits:
            self.work.say("" if fits else self.again)
        self.fits = fits

    def forget(self) -> None:
        """Hide the box and stop its work: another project is being opened."""
        self.inputs, self.fits = None, True
        self.box.layout.display = "none"
        self.work.cancel()
        if not self.work.running:
            self.work.say("")


class Follower:
    """Work that follows the inputs beside the page: of what is asked while it runs, only the last is done after it.

    Parameters
    ----------
    work : callable
        Takes what is asked; returns a result. It runs in a thread of its own and touches no widget.
    done : callable
        Shows the result of what was asked last.
    tell : callable
        Puts a sentence on the page where the work or its showing fails.
    """

    def __init__(
        self, work: Callable[..., Any], done: Callable[[Any], object], tell: Callable[[str], object]
    ) -> None:
        self.work, self.tell = work, tell
        self.done, self.failed = guarded(done, tell), guarded(_raised, tell)
        self.asked: tuple[Any, ...] = ()
        self.busy = False

    def ask(self, *arguments: Any) -> None:
        """Ask for a result; the one asked for before is not wanted any more.

        Parameters
        ----------
        *arguments : object
            What the work takes. Without a running loop (a script, a test) the work is done at once.
        """
        self.asked = arguments
        loop = _this_loop()
        if loop is None:
            self._work(None, arguments)
        elif not self.busy:
            self._start(loop)

    def _start(self, loop: asyncio.AbstractEventLoop) -> None:
        self.busy = True
        threading.Thread(target=self._work, args=(loop, self.asked), daemon=True).start()

    def _work(self, loop: asyncio.AbstractEventLoop | None, asked: tuple[Any, ...]) -> None:
        try:
            show = functools.partial(self.done, self.work(*asked))
        except Exception as error:
            show = functools.partial(self.failed, error)
        _on(loop, functools.partial(self._ended, loop, asked, show))

    def _ended(
        self, loop: asyncio.AbstractEventLoop | None, asked: tuple[Any, ...], show: Callable[[], object]
    ) -> None:
        self.busy = False
        if asked is self.asked:
            show()
        elif loop is not None:
            self._start(loop)
