"""What the page knows: what is typed, the last good plan, and what is picked. No widgets here."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit
import traitlets

from foundation import files, places, units
from foundation.model.problem import Problem
from foundation.plan import Plan, PlanError, plan
from foundation.plan.own import OWN, moved_step
from foundation.project import FIRST_ENTRIES, Project, ProjectError, blank, check, read_document, set_value
from foundation.project.paths import location_of, value_at
from foundation.project.store import save, survey_text, weather_text


class State(traitlets.HasTraits):
    """One visitor's project.

    Attributes
    ----------
    plan : Plan or None
        The last good plan.
    problems : tuple of Problem
        What is wrong with what is typed now; the plan is then the last good one.
    page : str
        Title of the page that is turned to; the others draw when they are.
    answer : str
        The answer that is shown.
    walls : str
        The walls in the profile: a wall line's name, or a part's.
    stretch : float
        Vertical scale over horizontal. [-]
    lit : tuple
        Wall line and station that is lit up, empty for none.
    saved : bool
        Whether all that is typed is in the file.
    edits : int
        Counts every change of what is typed. [-]
    """

    plan = traitlets.Any(None, allow_none=True)
    problems = traitlets.Tuple()
    page = traitlets.Unicode("")
    answer = traitlets.Unicode("least cost")
    walls = traitlets.Unicode("")
    stretch = traitlets.Float(1.0)
    lit = traitlets.Tuple()
    saved = traitlets.Bool(True)
    edits = traitlets.Int(0)

    def __init__(self) -> None:
        super().__init__()
        self.document: tomlkit.TOMLDocument = blank()
        self.survey = ""
        self.weather = ""
        self.path: Path | None = None

    @property
    def system(self) -> str:
        """Units on the screen: ``us`` or ``metric``."""
        typed = self.document.get("units", "us")
        return typed if typed in ("us", "metric") else "us"

    @property
    def untouched(self) -> bool:
        """True until the first of the eight entries is typed into a new project."""
        return self.plan is None and not any(self.typed(paths[0]) for _, paths in FIRST_ENTRIES)

    def typed(self, path: str) -> str:
        """What is typed in a field.

        Parameters
        ----------
        path : str
            The field.

        Returns
        -------
        str
            Its text, "" where it is left out.
        """
        value = value_at(self.document, location_of(path))
        return "" if value is None else str(value)

    def project(self) -> Project:
        """The project of the last good plan, as typed: what is raised is still to be raised."""
        project, _ = check(self.document.unwrap())
        if project is not None and not self.problems:
            return project
        assert self.plan is not None  # asked only where a plan is shown
        return self.plan.project

    def edit(self, changes: Mapping[str, Any]) -> None:
        """Type into fields, then plan again.

        Parameters
        ----------
        changes : mapping of str to object
            For each field's path its text or choice; None takes the field out.
        """
        for path, value in changes.items():
            set_value(self.document, path, value)
        self.saved = False
        self.replan()

    def move_step(self, wall: str, station: float, to: float) -> None:
        """Move a step of the stepping that is shown; the result becomes the user's own stepping.

        Parameters
        ----------
        wall : str
            Name of the wall line.
        station : float
            Where the step stands. [m]
        to : float
            Where it is moved to. [m]
        """
        plan = self.plan
        if plan is None:
            return
        runs = moved_step(plan.stepping(self.answer), plan.line(wall), station, to)
        kept = []
        if self.answer == OWN:
            kept = [run for run in self.document.unwrap().get("own_runs", []) if run["line"] != wall]
        else:  # the answer that is shown becomes the user's own, wall by wall
            kept = [
                _own_run(run.line, run.start, run.end, run.bottom)
                for run in plan.stepping(self.answer).runs
                if run.line != wall and self.answer != plan.steppings[0].name
            ]
        self.document.pop("own_runs", None)
        entries = tomlkit.aot()
        for entry in [*kept, *(_own_run(wall, *run) for run in runs)]:
            table = tomlkit.table()
            table.update(entry)
            entries.append(table)
        with self.hold_trait_notifications():
            self.edit({"own_runs": entries})
            if not self.problems:
                self.answer = OWN

    def light(self, wall: str, station: float) -> None:
        """Light up a place on a wall line, and turn the profile to it.

        Parameters
        ----------
        wall : str
            Name of the wall line.
        station : float
            Its station. [m]
        """
        with self.hold_trait_notifications():
            self.walls = wall
            self.lit = (wall, station)

    def drop_own(self) -> None:
        """Go back to the answers: the user's own stepping is put away."""
        with self.hold_trait_notifications():
            self.answer = "least cost"
            self.edit({"own_runs": None})

    def take_survey(self, text: str, name: str = "shots.csv") -> None:
        """Use the text of a shot file, uploaded or pasted.

        Parameters
        ----------
        text : str
            The text; empty text takes the survey away.
        name : str
            Name of the file beside the project file.
        """
        self.survey = text
        self.edit({"ground.shots": Path(name).name if text.strip() else None})

    def replan(self) -> None:
        """Check and plan what is typed; what is wrong leaves the last good plan in place."""
        project, problems = check(self.document.unwrap())
        if project is not None:
            try:
                made: Plan = plan(project, self.survey)
            except PlanError as error:
                problems = error.problems
            else:
                problems = ()
                self.plan = made
        with self.hold_trait_notifications():
            self.problems = problems
            self.edits += 1

    def take_weather(self, text: str, name: str = "weather.csv") -> None:
        """Use the text of a weather file, uploaded.

        Parameters
        ----------
        text : str
            The text; empty text takes the weather away.
        name : str
            Name of the file beside the project file.
        """
        self.weather = text
        self.edit({"climate.weather": Path(name).name if text.strip() else None})

    def open_text(self, text: str, survey: str = "", path: Path | None = None, weather: str = "") -> None:
        """Open a project from the text of its file.

        Parameters
        ----------
        text : str
            Text of the project file.
        survey : str
            Text of the shot file it names.
        path : Path, optional
            Where the file is, if it is one of this machine's.
        weather : str
            Text of the weather file it names.

        Raises
        ------
        ProjectError
            If the text is not TOML; the project that was open stays.
        """
        name = path.name if path else "the project file"
        try:
            tomllib.loads(text)
            document = read_document(text)
        except (tomllib.TOMLDecodeError, ValueError) as error:
            raise ProjectError(name, [Problem("", "", f"not readable as TOML: {error}.")]) from None
        self.document, self.survey, self.weather, self.path = document, survey, weather, path
        self.plan = None
        self.saved = True
        self.replan()

    def open_file(self, path: Path) -> None:
        """Open a project file and the shot file beside it.

        Parameters
        ----------
        path : Path
            The project file.

        Raises
        ------
        ProjectError, OSError
            If it cannot be read.
        """
        text = files.read_text(path)
        project, _ = check(tomllib.loads(text)) if _is_toml(text) else (None, ())
        survey = weather = ""
        if project is not None:
            survey = survey_text(project, path.parent, path.name)
            weather = weather_text(project, path.parent, path.name)
        self.open_text(text, survey, path, weather)

    def open_demo(self) -> None:
        """Open the demo lot, as a project without a file of its own."""
        folder = places.data("demo")
        self.open_text(
            (folder / "fallow-fen.toml").read_text(encoding="utf-8"),
            (folder / "shots.csv").read_text(encoding="utf-8"),
        )

    def text(self) -> str:
        """The project file's text, comments kept."""
        return tomlkit.dumps(self.document)

    def save(self) -> str:
        """Save to the project's file.

        Returns
        -------
        str
            One sentence that says where.

        Raises
        ------
        ValueError
            If the project has no file on this machine.
        """
        if self.path is None:
            raise ValueError("This project has no file here yet: download it instead.")
        save(self.path, self.document)
        for place, text in (("ground.shots", self.survey), ("climate.weather", self.weather)):
            name = self.typed(place)
            if name and text and not (self.path.parent / name).exists():
                files.write_atomically(self.path.parent / name, text)
        self.saved = True
        return f"Saved {self.path.name}."


def _own_run(wall: str, start: float, end: float, bottom: float) -> dict[str, str]:
    """One run of the user's own stepping as the project file has it."""
    exact = [units.exact(value, "length") for value in (start, end, bottom)]
    return {"line": wall, "start": exact[0], "end": exact[1], "bottom": exact[2]}


def _is_toml(text: str) -> bool:
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False
    return True
