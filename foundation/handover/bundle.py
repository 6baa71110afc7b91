"""Everything that is handed over, made in one go into one folder."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from foundation import files
from foundation.handover.drawing_set import svg_set
from foundation.handover.dxf_set import dxf_set
from foundation.handover.papers.making import READERS, make_papers
from foundation.handover.points import points_csv
from foundation.handover.revision import revision_hash
from foundation.handover.tables_csv import tables
from foundation.handover.workbook import workbook
from foundation.model.floors import FloorsPlan
from foundation.plan import Plan, PlanError
from foundation.plan.as_built import as_built_of
from foundation.plan.floors import floors_of
from foundation.plan.heat import heat_of
from foundation.plan.takeoff import take_off
from foundation.project import Project


@dataclass(frozen=True)
class HandedOver:
    """What was made.

    Attributes
    ----------
    folder : Path
        Where it lies.
    files : tuple of Path
        Every file, papers first.
    revision : str
        The hash that all of them carry.
    notes : tuple of str
        What could not be made and why, in sentences.
    """

    folder: Path
    files: tuple[Path, ...]
    revision: str
    notes: tuple[str, ...]


def hand_over(
    plan: Plan,
    answer: str,
    folder: Path,
    *,
    typed: Project,
    survey: str = "",
    weather: str = "",
    paper: Literal["letter", "tabloid"] = "letter",
    today: datetime.date,
    progress: Callable[[float, str], object] = lambda _share, _words: None,
) -> HandedOver:
    """Make papers, workbook, tables, stake-out points and drawings of a job.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping that is built.
    folder : Path
        Where everything is written; made where it is not there.
    typed : Project
        The inputs as typed.
    survey, weather : str
        Texts of the shot and weather files, "" for none.
    paper : str
        ``letter`` or ``tabloid``.
    today : date
        Day of printing; it is on the papers and in no hash.
    progress : callable
        Called with the share done and a sentence.

    Returns
    -------
    HandedOver
        What was made.

    Raises
    ------
    OSError
        If the folder cannot be written.
    KeyError
        If no answer has that name; the known ones are listed.
    """
    folder.mkdir(parents=True, exist_ok=True)
    notes: list[str] = []
    revision = revision_hash(typed, survey, weather)
    progress(0.05, "Ground heat")
    heat = None
    try:
        heat = heat_of(plan, answer, weather)
    except PlanError as error:
        notes += [problem.sentence for problem in error.problems]
    progress(0.3, "Warm floors")
    floors: FloorsPlan | None = None
    if plan.project.zones:
        try:
            floors = floors_of(plan, answer, weather)
        except PlanError as error:
            notes += [problem.sentence for problem in error.problems]
    progress(0.5, "Count")
    count = take_off(plan, answer, floors, today)
    built = as_built_of(plan, answer)
    made: list[Path] = []
    progress(0.6, "Papers")
    made += make_papers(
        plan,
        answer,
        folder,
        paper=paper,
        readers=tuple(READERS),
        heat=heat,
        floors=floors,
        takeoff=count,
        printed=today.isoformat(),
        revision=revision,
    )
    progress(0.85, "Workbook, tables and drawings")

    def keep(name: str, content: bytes | str) -> None:
        files.write_atomically(folder / name, content)
        made.append(folder / name)

    keep("workbook.xlsx", workbook(plan, answer, count, revision, floors, built, typed))
    for name, text in tables(plan, answer, revision, count, floors, built, typed).items():
        keep(name, text)
    keep("points.csv", points_csv(plan, answer, revision))
    keep("drawings.dxf", dxf_set(plan, answer, revision))
    for name, text in svg_set(plan, answer, revision).items():
        keep(name, text)
    progress(1.0, "Done")
    return HandedOver(folder, tuple(made), revision, tuple(notes))
