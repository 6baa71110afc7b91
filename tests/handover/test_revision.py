"""The revision hash changes with every input, table and version, and with nothing else."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from foundation import places
from foundation.handover import revision
from foundation.handover.revision import revision_hash
from foundation.project import Job, Project, check


def project(tables: dict[str, Any]) -> Project:
    found, problems = check(tables)
    assert found is not None, problems
    return found


def turned(thing: Any) -> Any:
    """The same tables with every key in the opposite order."""
    if isinstance(thing, dict):
        return {key: turned(thing[key]) for key in reversed(thing)}
    return [turned(entry) for entry in thing] if isinstance(thing, list) else thing


def test_ten_hexadecimal_digits(demo_job: Job) -> None:
    found = revision_hash(demo_job.project, demo_job.survey)
    assert len(found) == 10
    assert set(found) <= set("0123456789abcdef")


def test_same_for_the_same_inputs(demo_job: Job, demo_tables: dict[str, Any]) -> None:
    first = revision_hash(demo_job.project, demo_job.survey)
    assert revision_hash(project(turned(demo_tables)), demo_job.survey) == first
    windows = "\ufeff" + demo_job.survey.replace("\n", "\r\n")
    assert revision_hash(demo_job.project, windows) == first
    demo_tables["frost"]["depth"] = "4.5 ft"
    assert revision_hash(project(demo_tables), demo_job.survey) == first


def test_same_in_another_process(demo_job: Job) -> None:
    """Not of the process's own seed for hashing, its time zone or its language."""
    told = (
        "from foundation import places; from foundation.project import load;"
        "from foundation.handover.revision import revision_hash;"
        "job = load(places.data('demo', 'fallow-fen.toml')); print(revision_hash(job.project, job.survey))"
    )
    environment = os.environ | {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    found = subprocess.run(
        [sys.executable, "-c", told], env=environment, capture_output=True, text=True, check=True
    )
    assert found.stdout.strip() == revision_hash(demo_job.project, demo_job.survey)


CHANGES = {
    "a level": ("parts", 0, "wall_top", "214.51 ft"),
    "a name": ("name", "Fallow Fen, lot 7"),
    "a price": ("prices", "step", "$116"),
    "units": ("units", "metric"),
    "who said so": ("frost", "source", "town office"),
    "a pour": ("pours", [{"name": "footings", "state": "poured"}]),
    "initials": (
        "initials",
        [{"caution": "a b", "number": "1", "who": "X", "date": "2026-05-05"}],
    ),
    "a level as built": ("as_built", [{"what": "slab", "part": "house", "level": "206 ft"}]),
    "an assumption typed": ("digging", "working_room", "2.01 ft"),
}


@pytest.mark.parametrize("name", CHANGES)
def test_any_input_changes_it(name: str, demo_job: Job, demo_tables: dict[str, Any]) -> None:
    *path, value = CHANGES[name]
    here: Any = demo_tables
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = value
    assert revision_hash(project(demo_tables), demo_job.survey) != revision_hash(
        demo_job.project, demo_job.survey
    )


def test_survey_and_weather_change_it(demo_job: Job) -> None:
    inputs, survey = demo_job.project, demo_job.survey
    found = [
        revision_hash(inputs, survey),
        revision_hash(inputs, survey + "\n900,1,2,3,EG"),
        revision_hash(inputs, ""),
        revision_hash(inputs, survey, "2026-01-01,3"),
        revision_hash(inputs, "", survey),
    ]
    assert len(set(found)) == len(found)


def test_tables_and_version_change_it(demo_job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = revision_hash(demo_job.project, demo_job.survey)
    copied = tmp_path / "data"
    shutil.copytree(places.data(), copied)
    monkeypatch.setattr(places, "data", lambda *parts: copied.joinpath(*parts))
    assert revision_hash(demo_job.project, demo_job.survey) == first
    table = next(copied.glob("*.csv"))
    text = table.read_text(encoding="utf-8")
    table.write_text(text.replace("transcribed: 20", "transcribed: 21"), encoding="utf-8")
    assert revision_hash(demo_job.project, demo_job.survey) != first
    table.write_text(text, encoding="utf-8")
    monkeypatch.setattr(revision, "__version__", "99.0")
    assert revision_hash(demo_job.project, demo_job.survey) != first
