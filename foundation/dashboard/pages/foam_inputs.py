"""Inputs of the heat page: climate, ground, foam part by part, what the office asks for, fuel and money."""

from __future__ import annotations

import html
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.fields import close, field, group
from foundation.dashboard.guard import guarded
from foundation.dashboard.pages.foam_field import USUAL_BOARD, FoamField
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.model.problem import Problem

LAYERS = (
    ("Outside the walls", "foam.outside"),
    ("Inside the walls", "foam.inside"),
    ("At the slab's edge", "foam.slab_edge"),
    ("Under the slab", "foam.under_slab"),
)


class FoamInputs:
    """The column of fields beside the heat pictures.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state, self.tell = state, tell
        self.system = state.system
        self.turned: dict[str, bool] = {}
        self.notes: dict[str, widgets.HTML] = {}
        self.said: dict[str, str] = {}
        self.part = widgets.Dropdown(description="Part")
        self.chosen = widgets.VBox([self.part])
        self.chosen.add_class("field")
        self.inside, self.more = widgets.VBox(), widgets.VBox()
        self.part.observe(guarded(lambda _change: self._lay_out_part(), tell), "value")
        state.observe(guarded(lambda _change: self._edited(), tell), "edits")
        self.loads = Records(
            state,
            "Loads on slabs over foam",
            "slab_loads",
            "load",
            (
                ("what", "name", ""),
                ("part", "part", ""),
                ("weight", "force", ""),
                ("side of its foot", "side", ""),
                ("rolls or walks", "moves", ""),
                ("where on the slab", "at", ""),
            ),
            {"name": "post", "part": "house", "force": "4000 lb"},
            tell,
        )
        self.prices = Records(
            state,
            "Prices of boards",
            "foam_prices.boards",
            "price",
            (
                ("board", "board", ""),
                ("price", "price", "$/bf"),
                ("quoted", "quoted", ""),
                ("by", "source", ""),
            ),
            {"board": USUAL_BOARD, "price": "$1.00/bf"},
            tell,
        )
        self.box = widgets.VBox(self._groups())
        self.box.add_class("inputs")
        self._name_parts()

    def say(self, problems: Iterable[Problem]) -> None:
        """Put what is wrong or odd about the climate under the fields that it is about.

        Parameters
        ----------
        problems : iterable of Problem
            All that there is to say; what was said before is taken away.
        """
        self.said = {}
        for problem in problems:
            kind = 'class="wrong" role="alert"' if problem.fatal else 'class="notice"'
            words = f"<p {kind}>{html.escape(problem.sentence)}</p>"
            self.said[problem.place] = self.said.get(problem.place, "") + words
        for place, note in self.notes.items():
            note.value = self.said.get(place, "")

    def _edited(self) -> None:
        self._name_parts()
        if self.state.weather and not self.state.typed("climate.weather"):
            self.state.take_weather("")  # its name was cleared, so the file is to go
        if self.system != self.state.system:  # a bare number gets the unit of the units that are shown
            self.system = self.state.system
            old, self.box.children = self.box.children, self._groups()
            for each in old:
                if each not in (self.loads.box, self.prices.box):
                    _close_all_but((self.chosen, self.inside, self.more), each)

    def _name_parts(self) -> None:
        parts = self.state.document.get("parts", ())
        named = [(str(part.get("name", f"part {n}")), n) for n, part in enumerate(parts, 1)]
        if self.part.options != tuple(named):
            before = self.part.value
            self.part.options = named
            numbers = [number for _, number in named]
            self.part.value = before if before in numbers else numbers[0] if numbers else None

    def _lay_out_part(self) -> None:
        """Fields of the part that is chosen."""
        number = self.part.value
        old = (*self.inside.children, *self.more.children)
        self.inside.children = self._part_fields(f"parts[{number}]") if number else ()
        self.more.children = (
            self._more_part_fields(f"parts[{number}]") if number and self.more.children else ()
        )
        for each in old:
            close(each)

    def _part_fields(self, place: str) -> list[widgets.Widget]:
        return [
            *(FoamField(self.state, label, f"{place}.{key}", self.tell).box for label, key in LAYERS),
            field(self.state, "Foam outside goes below grade", f"{place}.foam.outside_depth"),
            field(self.state, "Foam under the slab, band", f"{place}.foam.under_slab_band"),
        ]

    def _more_part_fields(self, place: str) -> list[widgets.Widget]:
        return [
            FoamField(self.state, "Wing in the ground", f"{place}.foam.wing", self.tell).box,
            field(self.state, "Wing, width", f"{place}.foam.wing.width"),
            field(self.state, "Wing, depth of its top", f"{place}.foam.wing.depth"),
            field(self.state, "Air inside in winter", f"{place}.temperature", self._unit("°F", "°C")),
            field(self.state, "Humidity in winter", f"{place}.humidity", "%"),
            field(self.state, "Slab is heated", f"{place}.floor_heated"),
        ]

    def _more_part(self) -> list[widgets.Widget]:
        if self.part.value and not self.more.children:
            self.more.children = self._more_part_fields(f"parts[{self.part.value}]")
        return [self.more]

    def _unit(self, us: str, metric: str) -> str:
        return us if self.state.system == "us" else metric

    def _climate(self, label: str, key: str, unit: str = "") -> widgets.Widget:
        """A field of the climate, with room for what only the year as a whole tells about it."""
        note = self.notes[f"climate.{key}"] = widgets.HTML(self.said.get(f"climate.{key}", ""))
        note.add_class("field-message")
        box = widgets.VBox([field(self.state, label, f"climate.{key}", unit), note])
        box.add_class("climate-field")
        return box

    def _climate_fields(self) -> list[widgets.Widget]:
        days, degrees = self._unit("°F·d", "K·d"), self._unit("°F", "°C")
        return [
            self._climate("Degree days", "degree_days", days),
            self._climate("Their base", "base", degrees),
            self._climate("Freezing index, same years", "freezing_index", days),
            self._climate("Half the yearly swing, without an index", "swing", self._unit("°F", "K")),
            self._climate("Outdoor design temperature", "design_temperature", degrees),
            self._climate("Who gave it", "design_source"),
            self._climate("Design winter's freezing index", "design_index", days),
        ]

    def _weather_fields(self) -> list[widgets.Widget]:
        upload = widgets.FileUpload(description="Weather file", accept=".csv,.txt", multiple=False)
        message = widgets.HTML()
        message.add_class("field-message")

        def say(words: str) -> None:
            message.value = f'<p class="wrong" role="alert">{html.escape(words)}</p>' if words else ""

        def uploaded(change: dict[str, Any]) -> None:
            for each in change["new"]:
                try:
                    text = bytes(each["content"]).decode("utf-8-sig")
                except UnicodeDecodeError:
                    raise ValueError(f"{each['name']} is not plain text.") from None
                self.state.take_weather(text, str(each["name"]))

        upload.observe(guarded(uploaded, say), "value")
        return [
            self._climate("Monthly means from January on, with commas", "monthly"),
            widgets.VBox([upload, message]),
            self._climate("Weather file beside the project", "weather"),
            self._climate("Where the climate comes from", "source"),
        ]

    def _groups(self) -> list[widgets.Widget]:
        state = self.state

        def fields(*names: tuple[str, ...]) -> Callable[[], list[widgets.Widget]]:
            return lambda: [field(state, *name) for name in names]

        def folded(title: str, make: Callable[[], Sequence[widgets.Widget]]) -> widgets.Widget:
            return group(title, make, folded=True, turned=self.turned)

        return [
            group("Foam", lambda: [self.chosen, self.inside], turned=self.turned),
            folded("Wing, air and floor of that part", self._more_part),
            group("Climate", self._climate_fields, turned=self.turned),
            folded("Monthly means or weather file", self._weather_fields),
            folded(
                "Ground",
                fields(
                    ("Class of the ground", "soil.ground"),
                    ("Dry density", "soil.dry_density", self._unit("pcf", "kg/m³")),
                    ("Water by weight", "soil.moisture", "%"),
                    ("Conductivity as measured", "soil.conductivity"),
                    ("Low, dry", "soil.conductivity_low"),
                    ("High, wet", "soil.conductivity_high"),
                    ("R of foam is taken by", "foam_basis"),
                ),
            ),
            folded(
                "What the office asks for",
                fields(
                    ("R at the slab's edge", "required.edge"),
                    ("How far it reaches", "required.edge_depth"),
                    ("R of basement walls", "required.wall"),
                    ("R under a heated slab", "required.heated_slab"),
                    ("Who said so", "required.source"),
                    ("When", "required.date"),
                    ("Shallow footings accepted", "frost.shallow_accepted"),
                ),
            ),
            folded(
                "Framed wall on the concrete",
                lambda: [
                    FoamField(state, "Foam on the sheathing", "frame.outside_foam", self.tell).box,
                    field(state, "It laps below the sill by", "frame.outside_foam_laps"),
                    field(state, "Thickness of the studs", "frame.thickness"),
                    field(state, "R with its batts", "frame.resistance"),
                    field(state, "Treated strip closes the foam", "frame.closing_strip"),
                    field(state, "Seal under the sill", "frame.sill_seal"),
                    field(state, "Flashing to the concrete", "frame.flashing"),
                ],
            ),
            self.loads.box,
            folded(
                "Fuel and money",
                fields(
                    ("Fuel", "fuel.kind"),
                    ("Price of a gallon, therm or kWh", "fuel.price", "$"),
                    ("Efficiency", "fuel.efficiency"),
                    ("Its price rises a year", "fuel.escalation", "%"),
                    ("That may be off by", "fuel.escalation_band", "%"),
                    ("Discount rate", "finance.discount_rate", "%"),
                    ("Years", "finance.years"),
                ),
            ),
            self.prices.box,
        ]


def _close_all_but(kept: Sequence[widgets.Widget], widget: widgets.Widget) -> None:
    """Close a widget and all inside it, except what is still shown elsewhere."""
    if widget in kept:
        return
    for child in getattr(widget, "children", ()):
        _close_all_but(kept, child)
    widget.close()
