"""The hand-over page: is every sheet safe to give out?"""

from __future__ import annotations

import base64
import datetime
import html
import io
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.caution_panel import CautionPanel
from foundation.dashboard.fields import field, group
from foundation.dashboard.guard import guarded
from foundation.dashboard.long_work import Cancelled, LongWork, Progress
from foundation.dashboard.money_tables import as_built_table
from foundation.dashboard.records import Records
from foundation.dashboard.state import State
from foundation.handover.as_text import initialled
from foundation.handover.bundle import HandedOver, hand_over
from foundation.model.caution import Severity
from foundation.plan import Plan
from foundation.plan.as_built import as_built_of

QUESTION = "Is every sheet safe to give out?"


class HandOverPage:
    """The hand-over page.

    Parameters
    ----------
    state : State
        The page's state.
    tell : callable
        Puts a sentence on the page.
    title : str
        The page's title; it draws while that page is turned to.
    """

    def __init__(self, state: State, tell: Callable[[str], object], title: str) -> None:
        self.state, self.tell, self.title = state, tell, title
        self.csv = ""
        self.held, self.links, self.built = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.paper = widgets.Dropdown(
            description="Paper", options=(("letter", "letter"), ("11 × 17", "tabloid"))
        )
        switches = widgets.HBox([self.paper])
        switches.add_class("switches")
        self.work = LongWork("Make the papers", self._make, self._made, tell)
        self.cautions = CautionPanel(state, tell)
        upload = widgets.FileUpload(description="Levels as built (.csv)", accept=".csv", multiple=False)
        upload.observe(guarded(self._uploaded, tell), "value")
        self.result = widgets.VBox(
            [
                self.held,
                switches,
                self.work.box,
                self.links,
                self.cautions.box,
                widgets.HTML("<h2>Levels as built</h2>"),
                upload,
                self.built,
            ]
        )
        self.result.add_class("result")
        columns = widgets.Box([self._inputs(), self.result])
        columns.add_class("columns")
        self.box = widgets.VBox([widgets.HTML(f"<h1>{QUESTION}</h1>"), columns])
        self.box.add_class("page")
        state.observe(guarded(lambda _change: self.draw(), tell), ["plan", "page", "answer"])

    def _inputs(self) -> widgets.Widget:
        state = self.state
        as_built = Records(
            state,
            "Levels as built",
            "as_built",
            "level",
            (
                ("what", "what", ""),
                ("wall, by its corners", "line", ""),
                ("station", "station", "ft"),
                ("part, for a slab", "part", ""),
                ("level", "level", "ft"),
                ("or rod", "rod", "ft"),
                ("when", "date", ""),
                ("who", "who", ""),
            ),
            {"what": "top of footing", "line": "A-B", "station": "0 ft"},
            self.tell,
        )
        issued = Records(
            state,
            "Sheets that were given out",
            "issued",
            "sheet",
            (("which", "sheet", ""), ("revision", "revision", "")),
            {"sheet": "footings", "revision": "A"},
            self.tell,
        )
        box = widgets.VBox(
            [
                group(
                    "Title block",
                    lambda: [
                        field(state, "Name of the job", "name"),
                        field(state, "Place", "place"),
                        field(state, "Revision", "revision"),
                        field(state, "Units on papers", "units"),
                    ],
                ),
                as_built.box,
                issued.box,
            ]
        )
        box.add_class("inputs")
        return box

    def draw(self) -> None:
        """Show which sheets are held back, and levels as built."""
        plan = self.state.plan
        if plan is None or self.state.page != self.title:
            return
        held = held_sheets(plan, self.state.answer)
        rows = "".join(
            f"<li>■ <b>{html.escape(sheet)}</b>: {html.escape('; '.join(reasons))}</li>"
            for sheet, reasons in held.items()
        )
        self.held.value = (
            f"<p>Held back until somebody has read why:</p><ul>{rows}</ul>"
            if held
            else "<p>No sheet is held back.</p>"
        )
        self.cautions.draw()
        self.built.value = as_built_table(as_built_of(plan, self.state.answer, self.csv), self.state.system)
        if self.links.value:
            self.links.add_class("stale")

    def _uploaded(self, change: dict[str, Any]) -> None:
        for each in change["new"]:
            try:
                self.csv = bytes(each["content"]).decode("utf-8-sig")
            except UnicodeDecodeError:
                raise ValueError(f"{each['name']} is not plain text.") from None
        self.draw()

    def _make(self, progress: Progress, _cancelled: Cancelled) -> tuple[HandedOver, bytes, bytes]:
        state, plan = self.state, self.state.plan
        if plan is None:
            raise ValueError("There is no plan yet: type the eight entries of the first picture.")
        with tempfile.TemporaryDirectory() as folder:
            made = hand_over(
                plan,
                state.answer,
                Path(folder),
                typed=state.project(),
                survey=state.survey,
                weather=state.weather,
                paper=self.paper.value,
                today=datetime.date.today(),
                progress=progress,
            )
            packed = io.BytesIO()
            with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
                for path in made.files:
                    archive.write(path, path.name)
            whole = next(path for path in made.files if path.suffix == ".pdf" and "set" in path.stem)
            return made, packed.getvalue(), whole.read_bytes()

    def _made(self, result: tuple[HandedOver, bytes, bytes]) -> None:
        made, packed, whole = result
        links = [
            ("All files", "handover.zip", "application/zip", packed),
            ("The set as PDF", "set.pdf", "application/pdf", whole),
        ]
        self.links.remove_class("stale")
        self.links.value = (
            "<p>"
            + " ".join(
                f'<a class="download" download="{name}" href="data:{mime};base64,{base64.b64encode(content).decode()}">'
                f"{text}</a>"
                for text, name, mime, content in links
            )
            + f" <small>revision {html.escape(self.state.typed('revision') or 'A')}, {html.escape(made.revision)}; "
            f"{len(made.files)} files</small></p>"
            + "".join(f'<p class="notice">{html.escape(note)}</p>' for note in made.notes)
        )


def held_sheets(plan: Plan, answer: str) -> dict[str, list[str]]:
    """Sheets that unread STOPs hold back.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    dict of str to list of str
        For each sheet where the STOPs are.
    """
    held: dict[str, list[str]] = {}
    for caution in plan.cautions[answer]:
        if caution.trap.severity is Severity.STOP and initialled(caution, plan.project) is None:
            for sheet in caution.trap.sheets:
                held.setdefault(sheet, []).append(caution.where)
    return held
