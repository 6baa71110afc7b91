"""Inputs of the footings page: frost, step rules, walls, openings, stage, prices."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.fields import field, group
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.plan.rules import OWN as OWN_RULES
from foundation.plan.rules import rule_sets


class FootingInputs:
    """The column of fields beside the footings' drawing.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        self.no_steps = Records(
            state,
            "Stretches without a step",
            "rules.no_steps",
            "stretch",
            (
                ("wall, by its corners", "line", ""),
                ("from", "start", ""),
                ("to", "end", ""),
                ("why", "why", ""),
            ),
            {"line": "A-B", "start": "0 ft", "end": "4 ft"},
            tell,
        )
        self.own_runs = Records(
            state,
            "Your own stepping",
            "own_runs",
            "run",
            (
                ("wall, by its corners", "line", ""),
                ("from", "start", ""),
                ("to", "end", ""),
                ("bottom", "bottom", "ft"),
            ),
            {"line": "A-B", "start": "0 ft", "end": "4 ft", "bottom": "100 ft"},
            tell,
        )
        self.wall_sizes = Records(
            state,
            "Walls of the house that differ",
            "parts[1].walls",
            "wall",
            (
                ("by its corners", "line", ""),
                ("thickness", "thickness", ""),
                ("low top of concrete", "low_top", "ft"),
                ("carries a wall of", "carries", ""),
                ("ledge, level", "ledge.level", "ft"),
                ("ledge, wall above", "ledge.upper", ""),
                ("ledge, foam", "ledge.foam", ""),
                ("ledge, bearing", "ledge.bearing", ""),
            ),
            {"line": "A-B", "thickness": "10 in"},
            tell,
        )
        self.openings = Records(
            state,
            "Openings, pockets, sleeves",
            "openings",
            "opening",
            (
                ("name", "name", ""),
                ("kind", "kind", ""),
                ("wall, by its corners", "line", ""),
                ("near side", "start", ""),
                ("width", "width", ""),
                ("lower edge, level", "bottom", "ft"),
                ("height", "height", ""),
            ),
            {
                "name": "door",
                "line": "A-B",
                "start": "4 ft",
                "width": "3 ft",
                "bottom": "100 ft",
                "height": "6'-8\"",
            },
            tell,
        )
        self.box = widgets.VBox(self._groups())
        self.box.add_class("inputs")

    def _groups(self) -> list[widgets.Widget]:
        state = self.state
        return [
            group(
                "Frost",
                lambda: [
                    field(state, "Frost depth", "frost.depth"),
                    field(state, "Who said so", "frost.source"),
                    field(state, "When", "frost.date"),
                    field(state, "Measured to", "frost.measured_to"),
                    field(state, "New fill counts", "frost.fill_counts"),
                    field(state, "Into undisturbed ground", "frost.into_undisturbed"),
                    field(state, "Bearing ground at level", "frost.bearing_level"),
                ],
            ),
            group(
                "Step rules",
                lambda: [
                    field(state, "Rule set", "rules.set", choices=(*rule_sets(), OWN_RULES)),
                    field(state, "Most rise of a step", "rules.rise"),
                    field(state, "Least run", "rules.run"),
                    field(state, "Most rise over run", "rules.rise_over_run"),
                    field(state, "Module of rises", "rules.module"),
                    field(state, "Stations every", "rules.station_grid"),
                    field(state, "Least distance from a corner", "rules.corner_clearance"),
                ],
                folded=True,
            ),
            self.no_steps.box,
            self.own_runs.box,
            self.wall_sizes.box,
            self.openings.box,
            group(
                "Stage and safety",
                lambda: [
                    field(state, "Stands a winter", "stage.stands_winter"),
                    field(state, "Wall tops held before backfill", "stage.deck_before_backfill"),
                    field(state, "Wall feet held before backfill", "stage.slab_before_backfill"),
                    field(state, "People in the dig protected by", "stage.dig_protection"),
                    field(state, "Coldest air at a pour", "stage.air_at_pour"),
                    field(state, "Ground or backfill is frozen", "stage.frozen_ground"),
                    field(state, "Heaters in the closed basement", "stage.temporary_heaters"),
                ],
                folded=True,
            ),
            group(
                "Forms and digging",
                lambda: [
                    field(state, "Form panel heights", "forms.heights"),
                    field(state, "Form panel widths", "forms.widths"),
                    field(state, "Tallest wall", "rules.tallest_wall"),
                    field(state, "Nothing is dug below", "digging.deepest"),
                    field(state, "Soil class of the dig", "digging.soil_class"),
                    field(state, "Dig slope, rise over run", "digging.slope"),
                    field(state, "Working room", "digging.working_room"),
                    field(state, "Dig may wander", "digging.over_dig"),
                ],
                folded=True,
            ),
            group(
                "Prices",
                lambda: [
                    field(state, "Concrete", "prices.concrete"),
                    field(state, "Forms, per contact area", "prices.forms"),
                    field(state, "Digging", "prices.digging"),
                    field(state, "Each step", "prices.step"),
                    field(state, "Day of the quote", "prices.quoted"),
                    field(state, "Who quoted", "prices.source"),
                ],
                folded=True,
            ),
        ]
