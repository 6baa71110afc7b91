"""Where is the ground, and how high do we set the house?"""

from __future__ import annotations

import functools
import html
from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.drawing import Drawing
from foundation.dashboard.facts import (
    corner_table,
    fall_table,
    house_level_table,
    level_table,
    surroundings_table,
)
from foundation.dashboard.fields import button, close, field, group
from foundation.dashboard.guard import debounced, guarded
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.drawings.axonometric import axonometric_scene
from foundation.drawings.lot import lot_scene
from foundation.project import FIRST_ENTRIES
from foundation.studies.house_levels import house_levels

TITLE = "Lot"
SURROUNDINGS = {
    "Street and drive": (
        ("Street at the drive", "street_level"),
        ("Drive 10 ft from the door", "drive_level"),
        ("A drain before the garage door", "drain_at_door"),
    ),
    "Outlets and water": (
        ("Sewer invert at the house", "sewer_outlet"),
        ("Footing drain, invert at its low corner", "drain_invert"),
        ("Footing drain, level at daylight", "drain_outlet"),
        ("Footing drain, length to daylight", "drain_length"),
        ("Highest ground water seen", "water_level"),
    ),
    "Paving, loads, sills": (
        ("Walls with paving against them", "paved"),
        ("Walls with paving kept free of snow", "melted"),
        ("Walls with wheels or a building close by", "surcharge"),
        ("Sills are treated wood", "sill_treated"),
    ),
}
"""Fields of what lies around the house, by group."""
SURVEYED = {"street_level", "drive_level", "sewer_outlet", "drain_invert", "drain_outlet", "water_level"}
"""Fields that take a surveyor's bare number."""
VIEWS = ("from above", "at an angle")
MOST_HEIGHT = 640.0
"""Most height of a drawing, to stay on a screen with its title. [px]"""
STUDY_AFTER = 0.5
"""How long the page is left alone before the study runs. [s]"""
MOST_SHOWN = 200_000
"""Characters of a survey beyond which it is not shown as text."""
QUESTION = "Where is the ground, and how high do we set the house?"


class LotPage:
    """The lot page.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    """

    def __init__(self, state: State, tell: Callable[[str], object]) -> None:
        self.state, self.tell = state, tell
        self.heading = widgets.HTML(f"<h1>{QUESTION}</h1>")
        self.drawing = Drawing(self.draw, tell, "lot")
        self.view = widgets.Dropdown(description="Seen", options=VIEWS)
        self.view.observe(guarded(lambda _change: self.draw(), tell), "value")
        switches = widgets.HBox([self.view])
        switches.add_class("switches")
        self.tables = widgets.HTML()
        self.house = widgets.HTML()
        self.study = debounced(guarded(self._study, tell), STUDY_AFTER)
        self.notices = widgets.HTML()
        self.result = widgets.VBox([switches, self.drawing.box, self.notices, self.house, self.tables])
        self.result.add_class("result")
        self.inputs = widgets.VBox()
        self.inputs.add_class("inputs")
        columns = widgets.Box([self.inputs, self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([self.heading, columns])
        self.box.add_class("page")
        self.shape: object = None
        self.turned: dict[str, bool] = {}
        self._make_records()
        state.observe(guarded(lambda _change: self.draw(), tell), ["plan", "page", "answer"])
        state.observe(guarded(lambda _change: self.refresh(), tell), "edits")
        self.refresh()

    def _make_records(self) -> None:
        state, tell = self.state, self.tell
        self.marks = Records(
            state,
            "Marks, the benchmark first",
            "levels.marks",
            "mark",
            (("name", "name", ""), ("elevation", "elevation", "ft"), ("what it is", "note", "")),
            {"name": "BM", "elevation": "100.00 ft"},
            tell,
        )
        self.turns = Records(
            state,
            "Turning points",
            "levels.turns",
            "turning point",
            (("foresight", "foresight", "ft"), ("backsight", "backsight", "ft")),
            {"foresight": "10.00 ft", "backsight": "3.00 ft"},
            tell,
        )
        self.grades = Records(
            state,
            "Grades typed along a wall",
            "ground.walls",
            "wall",
            (
                ("corners", "line", ""),
                ("which grade", "surface", ""),
                ("stations", "stations", ""),
                ("grades", "grades", ""),
            ),
            {"line": "A-B", "surface": "both", "stations": ["0 ft", "44 ft"], "grades": ["100 ft", "100 ft"]},
            tell,
        )
        self.trenches = Records(
            state,
            "Trenches near footings",
            "surroundings.trenches",
            "trench",
            (
                ("name", "name", ""),
                ("one end, east", "start_east", "ft"),
                ("one end, north", "start_north", "ft"),
                ("other end, east", "end_east", "ft"),
                ("other end, north", "end_north", "ft"),
                ("bottom", "bottom", "ft"),
            ),
            {
                "name": "pipe",
                "start_east": "0 ft",
                "start_north": "0 ft",
                "end_east": "10 ft",
                "end_north": "0 ft",
                "bottom": "100 ft",
            },
            tell,
        )
        self.extras = Records(
            state,
            "Pads, stoops, porch footings",
            "extras",
            "footing",
            (
                ("name", "name", ""),
                ("kind", "kind", ""),
                ("middle, east", "east", "ft"),
                ("middle, north", "north", "ft"),
                ("length, east–west", "length", ""),
                ("width, north–south", "width", ""),
                ("thickness", "thickness", ""),
                ("stands in part", "inside", ""),
                ("who sized it", "sized_by", ""),
            ),
            {
                "name": "pad",
                "east": "0 ft",
                "north": "0 ft",
                "length": "3 ft",
                "width": "3 ft",
                "thickness": "12 in",
            },
            tell,
        )

    def refresh(self) -> None:
        """Lay the fields out anew where parts or corners have come or gone."""
        document = self.state.document
        shape = (
            tuple(document.get("corners", {})),
            len(document.get("parts", ())),
            bool(self.state.survey),
        )
        if shape != self.shape:
            self.shape = shape
            kept = {
                record.box for record in (self.marks, self.turns, self.grades, self.trenches, self.extras)
            }
            old, self.inputs.children = self.inputs.children, self._groups()
            for each in set(old) - kept:
                close(each)
        if self.state.problems:
            self.result.add_class("stale")
        else:
            self.result.remove_class("stale")

    def _groups(self) -> list[widgets.Widget]:
        document, state = self.state.document, self.state
        rectangle = list(document.get("corners", {})) == ["A", "B", "C", "D"] and not state.survey
        groups = (
            [group("First picture: eight entries", self._first_fields, turned=self.turned)]
            if rectangle
            else []
        )
        groups += [
            group("Set the house", self._house_fields, folded=rectangle, turned=self.turned),
            group("Job", self._job_fields, folded=True, turned=self.turned),
            group(
                "Survey",
                self._survey_fields,
                folded=not (state.survey and state.problems),
                turned=self.turned,
            ),
            self.marks.box,
            group("Instrument today", self._instrument_fields, folded=True, turned=self.turned),
            self.turns.box,
        ]
        for number, part in enumerate(document.get("parts", ()), 1):
            name = str(part.get("name", number))
            groups += [
                group(
                    f"Part {number}: {name}",
                    functools.partial(self._part_fields, number),
                    folded=True,
                    turned=self.turned,
                ),
                group(
                    f"Sizes of part {number}",
                    functools.partial(self._size_fields, number),
                    folded=True,
                    turned=self.turned,
                ),
            ]
        groups += [
            group("Corners, outside face of concrete", self._corner_fields, folded=True, turned=self.turned),
            self.grades.box,
            *(
                group(
                    title,
                    functools.partial(self._surroundings_fields, names),
                    folded=True,
                    turned=self.turned,
                )
                for title, names in SURROUNDINGS.items()
            ),
            self.trenches.box,
            self.extras.box,
            button("Add a part", self._add_part, self.tell),
        ]
        return groups

    def _first_fields(self) -> list[widgets.Widget]:
        return [
            field(self.state, label, paths, "ft" if label.startswith("Grade") else "")
            for label, paths in FIRST_ENTRIES
        ]

    def _house_fields(self) -> list[widgets.Widget]:
        return [field(self.state, "Set the whole house higher by (− for lower)", "raise_by")]

    def _surroundings_fields(self, names: Sequence[tuple[str, str]]) -> list[widgets.Widget]:
        return [
            field(self.state, label, f"surroundings.{key}", "ft" if key in SURVEYED else "")
            for label, key in names
        ]

    def _job_fields(self) -> list[widgets.Widget]:
        names = (("Name", "name"), ("Place", "place"), ("Revision", "revision"))
        return [field(self.state, label, path) for label, path in names]

    def _survey_fields(self) -> list[widgets.Widget]:
        state, tell = self.state, self.tell
        upload = widgets.FileUpload(description="Open a shot file", accept=".csv,.txt", multiple=False)
        upload.observe(guarded(self._uploaded, tell), "value")
        paste = widgets.Textarea(
            description="Or paste shots",
            placeholder="point, northing, easting, elevation, code\nEG existing, FG finished, TIE both, BM mark",
            rows=5,
            value=state.survey if len(state.survey) < MOST_SHOWN else "",
        )
        lines = state.survey.count("\n")
        fields = [
            field(state, "Numbers in the file are", "ground.shot_unit"),
            upload,
            paste,
            button("Use these shots", lambda: self._paste(paste.value), tell),
            widgets.HTML(f'<p class="quiet">{f"{lines} lines of shots." if lines else "No shots yet."}</p>'),
        ]
        if state.survey:
            fields.append(button("Put the shots away", lambda: state.take_survey(""), tell))
        return fields

    def _paste(self, text: str) -> None:
        if not text.strip():
            raise ValueError("There is nothing to use yet: paste the rows of a spreadsheet or a shot file.")
        self.state.take_survey(text)

    def _uploaded(self, change: dict[str, Any]) -> None:
        if not change["new"]:
            return
        upload = change["new"][0]
        content = bytes(upload["content"])
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise ValueError(
                f"{upload['name']} is not plain text: save it as CSV, then open it again."
            ) from None
        self.state.take_survey(text, str(upload["name"]))

    def _instrument_fields(self) -> list[widgets.Widget]:
        state = self.state
        return [
            field(state, "Backsight on the benchmark", "levels.backsight", "ft"),
            field(state, "Foresight on the second mark", "levels.check_foresight", "ft"),
            field(state, "Closure allowed", "levels.allowed_closure"),
            field(state, "Longest rod", "levels.longest_rod"),
        ]

    def _part_fields(self, number: int) -> list[widgets.Widget]:
        names = (
            ("Name", "name"),
            ("Use", "use"),
            ("Corners in order", "corners"),
            ("A closed ring", "ring"),
            ("Heated in winter", "heated"),
            ("Top of wall", "wall_top"),
            ("Top of slab", "slab_top"),
        )
        return [field(self.state, label, f"parts[{number}].{key}") for label, key in names]

    def _size_fields(self, number: int) -> list[widgets.Widget]:
        names = (
            ("Wall height, unstepped", "wall_height"),
            ("Wall thickness", "wall_thickness"),
            ("Footing width", "footing_width"),
            ("Footing thickness", "footing_thickness"),
            ("Slab thickness", "slab_thickness"),
            ("Foam over the footing", "foam_over_footing"),
            ("Stone over the footing", "stone_over_footing"),
            ("Who sized wall and footing", "sized_by"),
        )
        return [field(self.state, label, f"parts[{number}].{key}") for label, key in names]

    def _corner_fields(self) -> list[widgets.Widget]:
        state = self.state
        fields: list[widgets.Widget] = []
        for name in state.document.get("corners", {}):
            fields += [
                field(state, f"{name}, east", f"corners.{name}.east", "ft"),
                field(state, f"{name}, north", f"corners.{name}.north", "ft"),
            ]
            if not state.survey:
                fields += [
                    field(state, f"{name}, existing grade", f"ground.corner_grades.{name}.existing", "ft"),
                    field(state, f"{name}, finished grade", f"ground.corner_grades.{name}.finished", "ft"),
                ]
        add = widgets.Text(description="New corner's name", continuous_update=False)
        return [
            *fields,
            add,
            button("Add this corner", lambda: self._add_corner(add.value.strip()), self.tell),
        ]

    def _add_corner(self, name: str) -> None:
        known = self.state.document.get("corners", {})
        if not name or not name.isalnum() or len(name) > 6:
            raise ValueError(f'"{name}" cannot name a corner: use up to six letters and digits, such as E.')
        if name in known:
            raise ValueError(f"Corner {name} is there already.")
        self.state.edit({f"corners.{name}.east": "0 ft", f"corners.{name}.north": "0 ft"})

    def _add_part(self) -> None:
        number = len(self.state.document.get("parts", ())) + 1
        place = f"parts[{number}]"
        self.state.edit(
            {
                f"{place}.name": "garage",
                f"{place}.use": "garage",
                f"{place}.ring": False,
                f"{place}.corners": ["A", "B"],
            }
        )

    def _study(self) -> None:
        """Set the house higher and lower: three plans, made after what was asked for is on the page."""
        if self.state.plan is not None and self.state.page == TITLE:
            system = self.state.plan.project.units
            self.house.value = house_level_table(
                house_levels(self.state.project(), self.state.survey), system
            )

    def draw(self) -> None:
        """Show the plan."""
        plan = self.state.plan
        if plan is None or self.state.page != TITLE:
            return  # a hidden page draws when it is turned to
        draw = axonometric_scene if self.view.value == VIEWS[1] else lot_scene
        scene = draw(
            plan,
            plan.stepping(self.state.answer),
            self.drawing.width,
            MOST_HEIGHT,
            lit=self.state.lit or None,
        )
        self.drawing.show(scene, self.view.value)
        levels = f"<h2>Marks and instrument</h2>{level_table(plan)}"
        grades = f"<h2>Grade at the corners</h2>{corner_table(plan)}"
        self.tables.value = f"{fall_table(plan)}{surroundings_table(plan)}{grades}{levels}"
        self.study()
        self.notices.value = "".join(
            f'<p class="notice">{html.escape(notice.sentence)}</p>' for notice in plan.notices[:8]
        )
