"""Buttons that only the browser can act on: full screen and print."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import anywidget
import traitlets

USUAL = 1248
"""Width of the screen's contents on a screen of 1280 px, until the page tells. [px]"""


class ClientTools(anywidget.AnyWidget):
    """The row over the client's screen.

    Parameters
    ----------
    seen : callable
        Called when the page shows the row: all its widgets are there then, so that no change is lost. Guarded, since
        an error in it would show nowhere.
    """

    _esm = Path(__file__).with_suffix(".js")
    width = traitlets.Int(USUAL).tag(sync=True)
    """Width that the page gives the row. [px]"""

    def __init__(self, seen: Callable[[], object]) -> None:
        super().__init__()
        self.seen = seen
        self.on_msg(self._receive)

    def _receive(self, _widget: object, message: dict[str, Any], _buffers: object) -> None:
        if message.get("kind") == "shown":
            self.seen()
