"""A project file's tables become a project, or sentences that name the field, the value and what would do."""

from __future__ import annotations

from typing import Any

import pytest

from foundation.project import assumptions, blank, check, set_value
from foundation.project.blank import FIRST_ENTRIES
from foundation.project.check import migrated
from foundation.project.paths import location_of, path_text

FOOT = 0.3048


def sentences(tables: dict[str, Any]) -> dict[str, str]:
    project, problems = check(tables)
    assert project is None
    return {problem.place: problem.sentence for problem in problems}


def test_demo_is_sound(demo_tables: dict[str, Any]) -> None:
    project, problems = check(demo_tables)
    assert problems == ()
    assert project is not None
    assert project.frost.depth == pytest.approx(4.5 * FOOT, abs=1e-12)
    assert project.parts[0].slab_top == pytest.approx((206 + 0.5 / 12) * FOOT, abs=1e-12)


def test_all_errors_come_together(demo_tables: dict[str, Any]) -> None:
    demo_tables["frost"]["depth"] = "54"
    demo_tables["frost"]["measured_to"] = "btm"
    demo_tables["parts"][1]["wall_thickness"] = "80 in"
    demo_tables["parts"][0]["heigt"] = "9 ft"
    del demo_tables["corners"]["A"]["east"]
    told = sentences(demo_tables)
    assert "54 ft or 54 in" in told["frost.depth"]
    assert "'bottom of footing' or 'top of footing'" in told["frost.measured_to"]
    assert "80 in" in told["parts[2].wall_thickness"]
    assert "at most" in told["parts[2].wall_thickness"]
    assert told["parts[1].heigt"].endswith("the nearest is wall_height.")
    assert told["corners.A.east"].startswith("corners.A.east is missing")


@pytest.mark.parametrize("value", [54, 54.0, True, ["54 in"], {"in": 54}, "nan ft", "", "9**9 in"])
def test_a_length_is_text_with_a_unit(demo_tables: dict[str, Any], value: Any) -> None:
    demo_tables["frost"]["depth"] = value
    told = sentences(demo_tables)
    assert list(told) == ["frost.depth"]
    assert len(told["frost.depth"]) > 20


def test_parts_must_name_known_corners(demo_tables: dict[str, Any]) -> None:
    demo_tables["parts"][0]["corners"][0] = "Q"
    assert "corner Q" in next(iter(sentences(demo_tables).values()))


def test_corner_names_stay_plain(demo_tables: dict[str, Any]) -> None:
    demo_tables["corners"]["A-B<script>"] = demo_tables["corners"]["A"]
    assert "letters and digits" in next(iter(sentences(demo_tables).values()))


@pytest.mark.parametrize("name", ["../secret.csv", "/etc/passwd", "a\\b.csv", ".hidden", "c:x"])
def test_shot_file_lies_beside_the_project(demo_tables: dict[str, Any], name: str) -> None:
    demo_tables["ground"]["shots"] = name
    assert "beside the project file" in sentences(demo_tables)["ground.shots"]


def test_footing_not_narrower_than_its_wall(demo_tables: dict[str, Any]) -> None:
    demo_tables["parts"][0]["footing_width"] = "11 in"
    assert "narrower than the wall" in sentences(demo_tables)["parts[1]"]


def test_newer_file_is_refused(demo_tables: dict[str, Any]) -> None:
    demo_tables["schema"] = 2
    assert "newer program" in sentences(demo_tables)["schema"]


def test_older_file_is_migrated_step_by_step() -> None:
    steps = {1: lambda t: {"b": t["a"]}, 2: lambda t: {"c": t["b"]}}
    assert migrated({"schema": 1, "a": 7}, steps, current=3) == {"schema": 3, "c": 7}
    with pytest.raises(ValueError, match="no program ever wrote that"):
        migrated({"schema": 0}, steps, current=3)
    with pytest.raises(ValueError, match="whole number"):
        migrated({"schema": "one"}, steps, current=3)


def test_what_is_left_out_is_assumed_and_told(demo_tables: dict[str, Any]) -> None:
    typed = check(demo_tables)[0]
    assert typed is not None
    assert "parts[1].wall_thickness" not in {each.place for each in assumptions(typed)}
    del demo_tables["parts"][0]["wall_thickness"]
    del demo_tables["rules"]
    project = check(demo_tables)[0]
    assert project is not None
    told = {each.place: each for each in assumptions(project)}
    assert told["parts[1].wall_thickness"].value == pytest.approx(10 * 0.0254, abs=1e-12)
    assert "unsized" in told["parts[1].wall_thickness"].why
    assert {"rules.set", "rules.station_grid"} <= set(told)
    # Never assumed: frost depth, footprint, a level, grades.
    assert not any(place.startswith(("frost.depth", "corners", "ground")) for place in told)


def test_eight_entries_make_a_project() -> None:
    document = blank()
    assert len(FIRST_ENTRIES) == 8
    lacking = {problem.place for problem in check(document.unwrap())[1]}
    entries = dict(zip([label for label, _ in FIRST_ENTRIES], ENTRIES, strict=True))
    for label, paths in FIRST_ENTRIES:
        for path in paths:
            set_value(document, path, entries[label])
    project, problems = check(document.unwrap())
    assert problems == ()
    assert project is not None
    assert {path for _, paths in FIRST_ENTRIES[:2] for path in paths} <= lacking
    assert "frost.depth" in lacking


ENTRIES = ["44 ft", "30 ft", "213.8 ft", "213.8 ft", "205.4 ft", "205.4 ft", "206'-0 1/2\"", "54 in"]


@pytest.mark.parametrize("path", ["schema", "frost.depth", "parts[1].wall_top", "levels.marks[2].name"])
def test_paths_read_back(path: str) -> None:
    assert path_text(location_of(path)) == path
