"""The planner's page, opened from the notebook."""

from __future__ import annotations

import ipywidgets as widgets

from foundation.dashboard.preheat import wait_for_page


def open_planner() -> widgets.Widget:
    """Make the planner's page.

    Returns
    -------
    ipywidgets.Widget
        What the notebook shows.
    """
    wait_for_page()
    from foundation.dashboard.planner import Planner
    from foundation.dashboard.state import State

    return Planner(State()).box
