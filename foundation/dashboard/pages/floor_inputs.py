"""Inputs of the warm-floor page: zones, tube and water, what the tube goes round, joints, manifolds."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as widgets

from foundation.dashboard.fields import field, group
from foundation.dashboard.records import Records
from foundation.dashboard.state import State

BOX = (
    ("one corner, east", "box.start_east", "ft"),
    ("one corner, north", "box.start_north", "ft"),
    ("opposite corner, east", "box.end_east", "ft"),
    ("opposite corner, north", "box.end_north", "ft"),
)


class FloorInputs:
    """The column of fields beside the floors' drawing.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state = state
        parts = state.document.unwrap().get("parts", [])
        part = str(parts[0].get("name", "house")) if parts else "house"
        zones = Records(
            state,
            "Zones",
            "zones",
            "zone",
            (
                ("name", "name", ""),
                ("part", "part", ""),
                ("use", "use", ""),
                *BOX,
                ("load", "load", "Btu/h·ft²"),
                ("load in all, in its place", "total_load", "Btu/h"),
                ("air over it", "air", "°F"),
                ("finish", "finish", ""),
                ("R of the finish", "finish_resistance", ""),
                ("tube spacing", "spacing", "in"),
                ("hottest floor wished for", "comfort", "°F"),
            ),
            {"name": "zone", "part": part},
            tell,
        )
        obstacles = Records(
            state,
            "Posts, drains, free strips",
            "obstacles",
            "obstacle",
            (("name", "name", ""), ("part", "part", ""), ("kind", "kind", ""), *BOX),
            {
                "name": "post",
                "part": part,
                "box.start_east": "0 ft",
                "box.start_north": "0 ft",
                "box.end_east": "1 ft",
                "box.end_north": "1 ft",
            },
            tell,
        )
        ends = {f"{end}.{way}": "0 ft" for end in ("start", "end") for way in ("east", "north")}
        joints = Records(
            state,
            "Joints in slabs",
            "joints",
            "joint",
            (
                ("name", "name", ""),
                ("part", "part", ""),
                ("kind", "kind", ""),
                ("one end, east", "start.east", "ft"),
                ("one end, north", "start.north", "ft"),
                ("other end, east", "end.east", "ft"),
                ("other end, north", "end.north", "ft"),
                ("depth of a saw cut", "depth", "in"),
            ),
            {"name": "saw cut", "part": part, **ends},
            tell,
        )
        manifolds = Records(
            state,
            "Manifolds",
            "manifolds",
            "manifold",
            (
                ("name", "name", ""),
                ("part", "part", ""),
                ("east", "at.east", "ft"),
                ("north", "at.north", "ft"),
            ),
            {"name": "manifold", "part": part, "at.east": "0 ft", "at.north": "0 ft"},
            tell,
        )

        def fields(*names: tuple[str, ...]) -> Callable[[], list[widgets.Widget]]:
            return lambda: [field(state, *name) for name in names]

        self.box = widgets.VBox(
            [
                zones.box,
                group(
                    "Tube",
                    fields(
                        ("Size of PEX tube", "floors.tube"),
                        ("How it is held", "floors.held"),
                        ("Axis under the top of slab", "floors.axis_depth", "in"),
                        ("Knob spacing of the panel", "floors.knob_spacing", "in"),
                        ("Base of the panel", "floors.panel_base", "in"),
                        ("Longest loop", "floors.longest_loop", "ft"),
                        ("Loops may differ by", "floors.equal_within", "%"),
                    ),
                ),
                group(
                    "Water",
                    fields(
                        ("What runs in it", "floors.fluid"),
                        ("Glycol by volume", "floors.glycol", "%"),
                        ("Water comes back cooler by", "floors.drop", "°F"),
                        ("Coils are", "floors.coil", "ft"),
                        ("Off walls by", "floors.from_wall", "in"),
                        ("Off joints by", "floors.from_joint", "in"),
                    ),
                    folded=True,
                ),
                manifolds.box,
                obstacles.box,
                joints.box,
                group(
                    "Before the pour",
                    fields(
                        ("Vapor retarder lies", "floors.retarder"),
                        ("Tube is tested with", "floors.pressure_test"),
                        ("Maker and office allow air", "floors.air_test_allowed"),
                        ("It may freeze while filled", "floors.freezing_weather"),
                        ("Tube has an oxygen barrier", "floors.oxygen_barrier"),
                    ),
                    folded=True,
                ),
            ]
        )
        self.box.add_class("inputs")
