"""Kernels kept ready: started, with everything imported, before anybody asks for the page.

Voila tells such a kernel over a websocket when it is given to a page. Its own helper for that, `voila.utils`, takes
seconds to import, so the question is asked here.
"""

from __future__ import annotations

import asyncio
import importlib
import os
import threading
from collections.abc import Callable


def when_page_opens(callback: Callable[[], object]) -> None:
    """In a kernel kept ready, call back once a page asks for it; elsewhere never, since the page is then new.

    The page is built before anybody waits for it, and only what has changed since is read again.

    Parameters
    ----------
    callback : callable
        What to do, in less than half a second, for the browser then begins to make its widgets, and a change told
        in the middle of that is lost; guarded, since nobody sees an error in it.
    """

    async def then_call() -> None:
        await _page_asks()
        callback()

    if _kept_ready():
        _tasks.append(asyncio.get_running_loop().create_task(then_call()))


def import_ahead(*modules: str) -> None:
    """In a kernel kept ready, import what pages need that are first turned to later; elsewhere nothing happens.

    Parameters
    ----------
    *modules : str
        Names of modules; beside the kernel's loop, so that a page that is asked for meanwhile is not kept waiting.
    """
    if _kept_ready():
        threading.Thread(
            target=lambda: [importlib.import_module(name) for name in modules], daemon=True
        ).start()


_tasks: list[asyncio.Task[None]] = []  # a loop itself holds its tasks only weakly


def _kept_ready() -> bool:
    return os.environ.get("VOILA_PREHEAT") == "True"


async def _page_asks() -> None:
    from tornado.websocket import websocket_connect

    server = f"{os.environ['VOILA_APP_IP']}:{os.environ['VOILA_APP_PORT']}{os.environ['VOILA_SERVER_URL']}"
    connection = await websocket_connect(f"ws://{server}voila/query/{os.environ['VOILA_KERNEL_ID']}")
    await connection.read_message()
    connection.close()
