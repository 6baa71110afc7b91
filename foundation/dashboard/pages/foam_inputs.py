"""Inputs of the heat page: climate, ground, foam part by part, what the office asks for, fuel and money."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from foundation import units
from foundation.dashboard.fields import close, field, group
from foundation.dashboard.guard import guarded
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.foam.boards import board_types
from foundation.project.paths import location_of, value_at

NO_FOAM = "no foam"
USUAL = 2 * 0.0254
"""Thickness that a board is first given. [m]"""


class FoamField:
    """One layer of foam: the type of board, and one of its stock thicknesses.

    Parameters
    ----------
    state : State
        The page's state.
    label : str
        Where the foam lies.
    path : str
        Path of the layer in the project.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, label: str, path: str, tell: Callable[[str], object]) -> None:
        self.state, self.path = state, path
        self.quiet = False
        self.board = widgets.Dropdown(description=label, options=(NO_FOAM, *board_types()))
        self.thickness = widgets.Dropdown(description=f"{label}, thickness")
        self.box = widgets.VBox([self.board, self.thickness])
        self.board.observe(guarded(self._board_chosen, tell), "value")
        self.thickness.observe(guarded(self._thickness_chosen, tell), "value")
        self.quietly = guarded(lambda _change: self.refresh(), tell)
        state.observe(self.quietly, "edits")
        self.refresh()

    def _typed(self, key: str) -> Any:
        return value_at(self.state.document, location_of(f"{self.path}.{key}"))

    def _board_chosen(self, change: dict[str, Any]) -> None:
        if self.quiet:
            return
        if change["new"] == NO_FOAM:
            self.state.edit({self.path: None})
            return
        stock = board_types()[change["new"]].thicknesses
        typed = self._typed("thickness")
        edits: dict[str, Any] = {f"{self.path}.board": change["new"]}
        if typed is None:
            usual = min(stock, key=lambda thickness: abs(thickness - USUAL))
            edits[f"{self.path}.thickness"] = units.exact(usual, "length")
        self.state.edit(edits)

    def _thickness_chosen(self, change: dict[str, Any]) -> None:
        if not self.quiet and change["new"]:
            self.state.edit({f"{self.path}.thickness": change["new"]})

    def refresh(self) -> None:
        """Show what stands in the project."""
        if self.box.comm is None:  # its page was laid out anew
            self.state.unobserve(self.quietly, "edits")
            return
        self.quiet = True
        try:
            typed = self._typed("thickness")
            board = self._typed("board") or ("XPS IV" if typed else NO_FOAM)
            known = board in self.board.options
            self.board.value = board if known else NO_FOAM
            stock = board_types()[board].thicknesses if board in board_types() else ()
            system = self.state.system
            choices = [
                (
                    units.inches(each) if system == "us" else units.millimetres(each),
                    units.exact(each, "length"),
                )
                for each in stock
            ]
            value = None
            if typed is not None:
                try:
                    value = units.exact(units.read(str(typed), "length"), "length")
                except units.UnitsError:
                    value = str(typed)
                if value not in [text for _, text in choices]:  # typed in the file, no stock board
                    choices.append((str(typed), value))
            self.thickness.options = choices
            self.thickness.value = value
            self.thickness.layout.display = None if typed is not None else "none"
        finally:
            self.quiet = False


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
        self.part = widgets.Dropdown(description="Part")
        self.inside = widgets.VBox()
        self.part.observe(guarded(lambda _change: self._lay_out(), tell), "value")
        state.observe(guarded(lambda _change: self._name_parts(), tell), "edits")
        self.loads = Records(
            state,
            "Loads on slabs over foam",
            "slab_loads",
            "load",
            (
                ("what", "name", ""),
                ("part", "part", ""),
                ("weight", "force", "lb"),
                ("side of its foot", "side", "in"),
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
            {"board": "XPS IV", "price": "$1.00/bf"},
            tell,
        )
        self.box = widgets.VBox(self._groups())
        self.box.add_class("inputs")
        self._name_parts()

    def _name_parts(self) -> None:
        parts = self.state.document.get("parts", ())
        named = [(str(part.get("name", f"part {n}")), n) for n, part in enumerate(parts, 1)]
        if self.part.options != tuple(named):
            before = self.part.value
            self.part.options = named
            numbers = [number for _, number in named]
            self.part.value = before if before in numbers else numbers[0] if numbers else None

    def _lay_out(self) -> None:
        number = self.part.value
        old, self.inside.children = self.inside.children, self._part_fields(number) if number else ()
        for each in old:
            close(each)

    def _part_fields(self, number: int) -> list[widgets.Widget]:
        state, place = self.state, f"parts[{number}]"
        return [
            *(FoamField(state, label, f"{place}.{key}", self.tell).box for label, key in LAYERS),
            field(state, "Foam outside goes below grade", f"{place}.foam.outside_depth"),
            field(state, "Foam under the slab, band", f"{place}.foam.under_slab_band"),
        ]

    def _more_part_fields(self) -> list[widgets.Widget]:
        box = widgets.VBox()

        def lay_out(_change: Any = None) -> None:
            number = self.part.value
            if not number:
                return
            place = f"parts[{number}]"
            old, box.children = (
                box.children,
                [
                    FoamField(self.state, "Wing in the ground", f"{place}.foam.wing", self.tell).box,
                    field(self.state, "Wing, width", f"{place}.foam.wing.width"),
                    field(self.state, "Wing, depth of its top", f"{place}.foam.wing.depth"),
                    field(self.state, "Air inside in winter", f"{place}.temperature", "°F"),
                    field(self.state, "Humidity in winter", f"{place}.humidity", "%"),
                    field(self.state, "Slab is heated", f"{place}.floor_heated"),
                ],
            )
            for each in old:
                close(each)

        self.part.observe(guarded(lay_out, self.tell), "value")
        lay_out()
        return [box]

    def _weather_fields(self) -> list[widgets.Widget]:
        upload = widgets.FileUpload(description="Weather file", accept=".csv,.txt", multiple=False)

        def uploaded(change: dict[str, Any]) -> None:
            for each in change["new"]:
                try:
                    text = bytes(each["content"]).decode("utf-8-sig")
                except UnicodeDecodeError:
                    raise ValueError(f"{each['name']} is not plain text.") from None
                self.state.take_weather(text, str(each["name"]))

        upload.observe(guarded(uploaded, self.tell), "value")
        return [
            field(self.state, "Monthly means from January on, with commas", "climate.monthly"),
            upload,
            field(self.state, "Weather file beside the project", "climate.weather"),
            field(self.state, "Where the climate comes from", "climate.source"),
        ]

    def _groups(self) -> list[widgets.Widget]:
        state = self.state

        def fields(*names: tuple[str, ...]) -> Callable[[], list[widgets.Widget]]:
            return lambda: [field(state, *name) for name in names]

        return [
            group("Foam", lambda: [self.part, self.inside]),
            group("Wing, air and floor of that part", self._more_part_fields, folded=True),
            group(
                "Climate",
                fields(
                    ("Degree days", "climate.degree_days", "°F·d"),
                    ("Their base", "climate.base", "°F"),
                    ("Freezing index, same year", "climate.freezing_index", "°F·d"),
                    ("Half the yearly swing, without an index", "climate.swing", "°F"),
                    ("Outdoor design temperature", "climate.design_temperature", "°F"),
                    ("Who gave it", "climate.design_source"),
                    ("Design winter's freezing index", "climate.design_index", "°F·d"),
                ),
            ),
            group("Monthly means or weather file", self._weather_fields, folded=True),
            group(
                "Ground",
                fields(
                    ("Class of the ground", "soil.ground"),
                    ("Dry density", "soil.dry_density", "pcf"),
                    ("Water by weight", "soil.moisture", "%"),
                    ("Conductivity as measured", "soil.conductivity"),
                    ("Low, dry", "soil.conductivity_low"),
                    ("High, wet", "soil.conductivity_high"),
                    ("R of foam is taken by", "foam_basis"),
                ),
                folded=True,
            ),
            group(
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
                folded=True,
            ),
            group(
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
                folded=True,
            ),
            self.loads.box,
            group(
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
                folded=True,
            ),
            self.prices.box,
        ]
