"""Kernels kept ready: started, with everything imported, before anybody asks for the page."""

from __future__ import annotations

import asyncio
import os
import threading
from collections.abc import Callable


def wait_for_page() -> None:
    """In a kernel kept ready, wait until a page asks for it; elsewhere return at once.

    Call it after the imports and before the project is read: the file may change while the kernel waits.
    `when_page_opens` is quicker, where the page can be brought up to date afterwards.
    """
    if os.environ.get("VOILA_PREHEAT") == "True":
        from voila.utils import wait_for_request

        wait_for_request()


def when_page_opens(callback: Callable[[], object]) -> None:
    """In a kernel kept ready, call back on the kernel's own thread once a page asks for it; elsewhere never.

    The page is then built before anybody waits for it, and only what has changed since is read again.

    Parameters
    ----------
    callback : callable
        What to do, in less than half a second; guarded, since nobody sees an error in it.
    """
    if os.environ.get("VOILA_PREHEAT") != "True":
        return
    # Imported now, since it takes a second: a change told while the browser is making its widgets would be lost,
    # and the browser begins that about a second after it has asked.
    from voila.utils import wait_for_request

    loop = asyncio.get_running_loop()

    def wait() -> None:
        wait_for_request()
        loop.call_soon_threadsafe(callback)

    threading.Thread(target=wait, daemon=True).start()
