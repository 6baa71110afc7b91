"""The choices page: which choice do we make?"""

from __future__ import annotations

import datetime
import html
import tomllib
from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from foundation.dashboard.fields import button, field, group
from foundation.dashboard.figures import Figure
from foundation.dashboard.guard import guarded
from foundation.dashboard.long_work import Cancelled, LongWork, Progress
from foundation.dashboard.money_tables import change_table, comparison_table
from foundation.dashboard.state import State
from foundation.drawings.money_charts import options_chart
from foundation.model.options import Comparison
from foundation.plan import PlanError
from foundation.project.options import option_document, option_projects
from foundation.studies.change_order import change_order
from foundation.studies.foam_sizing import size_foam
from foundation.studies.options import compare, from_sizing

QUESTION = "Which choice do we make, and what does a change take?"
NOW = "the project as it stands"


class ChoicesPage:
    """The choices page.

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
        self.found: Comparison | None = None
        self.earlier: dict[str, Any] | None = None
        self.names, self.table, self.change = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.chart = Figure(tell)
        self.work = LongWork("Compare the options", self._compare, self._compared, tell)
        self.size = LongWork("Make good, better, best of the foam", self._size, self._sized, tell)
        self.first = widgets.Dropdown(description="From")
        self.second = widgets.Dropdown(description="To")
        upload = widgets.FileUpload(description="An earlier revision", accept=".toml", multiple=False)
        upload.observe(guarded(self._uploaded, tell), "value")
        pick = widgets.HBox(
            [self.first, self.second, upload, button("What changes?", self._change, tell, main=True)]
        )
        pick.add_class("switches")
        self.result = widgets.VBox(
            [
                self.names,
                self.size.box,
                self.work.box,
                self.table,
                self.chart.box,
                widgets.HTML("<h2>Change order</h2>"),
                pick,
                self.change,
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
        self.path = widgets.Text(description="Field, by its path", continuous_update=False)
        self.value = widgets.Text(description="What stands there instead", continuous_update=False)
        self.name = widgets.Text(description="Option", continuous_update=False)
        box = widgets.VBox(
            [
                group(
                    "An option of your own",
                    lambda: [
                        self.name,
                        self.path,
                        self.value,
                        button("Put it into the option", self._put, self.tell),
                        button("Take the last option away", self._drop, self.tell),
                    ],
                ),
                group(
                    "How the client pays",
                    lambda: [
                        field(state, "Interest of the loan", "loan.rate", "%"),
                        field(state, "Years of the loan", "loan.years"),
                        field(state, "Discount rate", "finance.discount_rate", "%"),
                        field(state, "Years that count", "finance.years"),
                    ],
                ),
            ]
        )
        box.add_class("inputs")
        return box

    def _put(self) -> None:
        name, path = self.name.value.strip(), self.path.value.strip()
        if not name or not path:
            raise ValueError(
                "Name the option and the field: such as better, and parts[1].foam.outside.thickness."
            )
        options = self.state.document.unwrap().get("options", [])
        names = [option["name"] for option in options]
        number = names.index(name) + 1 if name in names else len(names) + 1
        changes = dict(options[number - 1]["changes"]) if name in names else {}
        changes[path] = self.value.value.strip()
        _, problems = option_projects(
            {**self.state.document.unwrap(), "options": [{"name": name, "changes": changes}]}
        )
        if problems:
            raise PlanError(problems)
        self.state.edit({f"options[{number}].name": name, f"options[{number}].changes": changes})

    def _drop(self) -> None:
        count = len(self.state.document.get("options", ()))
        if count:
            self.state.edit({f"options[{count}]": None})

    def draw(self) -> None:
        """Show what there is to choose from."""
        plan = self.state.plan
        if plan is None or self.state.page != self.title:
            return
        options = plan.project.options
        listed = "".join(
            f"<li><b>{html.escape(option.name)}</b> {html.escape(option.why)} "
            f"<small>{html.escape('; '.join(f'{p} = {v}' for p, v in option.changes.items()))}</small></li>"
            for option in options
        )
        self.names.value = (
            f"<p>Beside the project as it stands:</p><ul>{listed}</ul>"
            if options
            else "<p>No option yet: make three of the foam, or put your own together from fields that differ.</p>"
        )
        choices = [NOW, *(option.name for option in options)]
        if self.earlier is not None:
            choices.append("the earlier revision")
        for box, wanted in ((self.first, choices[0]), (self.second, choices[-1])):
            if box.options != tuple(choices):
                box.options = choices
                box.value = wanted
        if self.found is not None:
            self.table.add_class("stale")

    def _size(self, progress: Progress, cancelled: Cancelled) -> Any:
        plan = self.state.plan
        if plan is None:
            raise ValueError("There is no plan yet: type the eight entries of the first picture.")
        sizing = size_foam(plan, self.state.answer, None, progress, cancelled, self.state.weather)
        return from_sizing(plan.project, sizing)

    def _sized(self, made: Any) -> None:
        kept = [
            o
            for o in self.state.document.unwrap().get("options", [])
            if o["name"] not in {m.name for m in made}
        ]
        edits: dict[str, Any] = {"options": None}
        self.state.edit(edits)
        for number, option in enumerate([*made, *kept], 1):
            entry = option if isinstance(option, dict) else option.model_dump()
            self.state.edit(
                {
                    f"options[{number}].name": entry["name"],
                    f"options[{number}].why": entry.get("why", ""),
                    f"options[{number}].changes": dict(entry["changes"]),
                }
            )

    def _compare(self, progress: Progress, cancelled: Cancelled) -> Comparison:
        state = self.state
        return compare(
            state.document.unwrap(),
            state.survey,
            state.weather,
            state.answer,
            datetime.date.today(),
            progress=progress,
            cancelled=cancelled,
        )

    def _compared(self, found: Comparison) -> None:
        self.found = found
        self.table.remove_class("stale")
        self.table.value = comparison_table(found, self.state.system)
        self.chart.show(options_chart(found))

    def _uploaded(self, change: dict[str, Any]) -> None:
        for each in change["new"]:
            try:
                self.earlier = tomllib.loads(bytes(each["content"]).decode("utf-8-sig"))
            except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
                raise ValueError(f"{each['name']} is not readable as a project file: {error}.") from None
        self.draw()

    def _document(self, name: str) -> dict[str, Any]:
        tables = self.state.document.unwrap()
        if name == NOW:
            return tables
        if name == "the earlier revision" and self.earlier is not None:
            return self.earlier
        assert self.state.plan is not None
        option = next(each for each in self.state.plan.project.options if each.name == name)
        changed, problems = option_document(tables, option)
        if problems:
            raise PlanError(problems)
        return changed

    def _change(self) -> None:
        state = self.state
        order = change_order(
            self._document(self.first.value),
            self._document(self.second.value),
            state.survey,
            weather=state.weather,
            answer=state.answer,
            today=datetime.date.today(),
        )
        self.change.value = change_table(order, state.system)
