"""Callbacks of widgets: an error in one shows nowhere unless it passes through here."""

from __future__ import annotations

import asyncio
import functools
import logging
import sys
from collections.abc import Callable
from logging.handlers import RotatingFileHandler
from typing import Any

from foundation import places


def guarded(callback: Callable[..., object], tell: Callable[[str], object]) -> Callable[..., None]:
    """Wrap a callback so that an error is logged and told in a sentence.

    Parameters
    ----------
    callback : callable
        What a widget calls.
    tell : callable
        Puts a sentence on the page; an empty one, after a call that went well, takes it away. Callbacks may
        share it: within one outermost call, a success never takes away what another callback has just told.

    Returns
    -------
    callable
        The callback; it never raises.
    """

    @functools.wraps(callback)
    def call(*arguments: Any) -> None:
        global _told
        outer, _told = _told, [] if _told is None else _told
        told = _told
        try:
            callback(*arguments)
        except Exception as error:
            log().exception("A callback failed")
            told.append(tell)
            tell(sentence(error))
        else:
            if tell not in told:
                tell("")
        finally:
            _told = outer

    return call


_told: list[Callable[[str], object]] | None = None  # who was told of a failure since the outermost call began


def sentence(error: Exception) -> str:
    """What to tell a user about an error: its own words where the planner itself refused a value.

    Parameters
    ----------
    error : Exception
        What was raised.

    Returns
    -------
    str
        One sentence, not yet escaped for HTML.
    """
    if isinstance(error, ValueError | KeyError) and _raised_by_the_planner(error) and error.args:
        return str(error.args[0])
    return (
        "Something went wrong inside the planner, so the page still shows the last good result; "
        f"what happened is written in {_log_place()}."
    )


def _raised_by_the_planner(error: Exception) -> bool:
    frames = error.__traceback__
    while frames is not None and frames.tb_next is not None:
        frames = frames.tb_next
    return frames is not None and frames.tb_frame.f_globals.get("__name__", "").startswith("foundation.")


def debounced(callback: Callable[..., object], delay: float) -> Callable[..., None]:
    """Wrap a callback so that of many quick calls only the last one runs.

    Parameters
    ----------
    callback : callable
        What to run; guarded, since it may run after its caller has returned.
    delay : float
        How long to wait for a later call. [s]

    Returns
    -------
    callable
        Takes the same arguments. Without a running loop (a script, a test) it runs the callback at once.
    """
    waiting: asyncio.TimerHandle | None = None

    @functools.wraps(callback)
    def call(*arguments: Any) -> None:
        nonlocal waiting
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            callback(*arguments)
            return
        if waiting is not None:
            waiting.cancel()
        waiting = loop.call_later(delay, callback, *arguments)

    return call


@functools.cache
def log() -> logging.Logger:
    """The planner's log: in the user's folder, and in the window the planner was started from.

    Returns
    -------
    logging.Logger
        The log; ready after the first call.
    """
    logger = logging.getLogger("foundation")
    logger.propagate = False
    # The kernel's sys.stderr leads to the page; its first one leads to that window.
    handlers: list[logging.Handler] = [logging.StreamHandler(sys.__stderr__)]
    try:
        file = places.user_folder() / "planner.log"
        handlers.append(RotatingFileHandler(file, maxBytes=1_000_000, backupCount=1, encoding="utf-8"))
    except OSError:
        pass  # the window remains, and _log_place says so
    for handler in handlers:
        handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
        logger.addHandler(handler)
    return logger


def _log_place() -> str:
    files = [handler.baseFilename for handler in log().handlers if isinstance(handler, RotatingFileHandler)]
    return files[0] if files else "the window it was started from"
