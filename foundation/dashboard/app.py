"""The planner's page, opened from the notebook."""

from __future__ import annotations

import ipywidgets as widgets

from foundation.dashboard.guard import guarded
from foundation.dashboard.planner import Planner
from foundation.dashboard.preheat import import_ahead, when_page_opens
from foundation.dashboard.state import State


def open_planner() -> widgets.Widget:
    """Make the planner's page.

    In a kernel that is kept ready the page is built before anybody asks for it; when it is opened the project is read
    again if its file has changed since.

    Returns
    -------
    ipywidgets.Widget
        What the notebook shows.
    """
    planner = Planner(State())
    when_page_opens(guarded(planner.catch_up, planner.tell))
    import_ahead("foundation.dashboard.pages.heat")  # its solvers take long, and few turn to it at once
    return planner.box
