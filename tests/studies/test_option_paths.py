"""Options as they are typed: paths, values and names, right and wrong."""

from __future__ import annotations

import pytest

from foundation.plan import PlanError
from foundation.project.schema_money import OptionInput
from foundation.studies.options import compare, option_projects
from tests.studies.option_lots import option, tables


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("", "1", "it is not the path of a field"),
        ("a..b", "1", "it is not the path of a field"),
        ("[[[", "1", "it is not the path of a field"),
        ("parts[1].wall_topp", "1 ft", "the nearest is wall_top"),
        ("parts[1].foam.bogus", "", "no field is called so"),
        ("__class__.x", "1", "no field is called so"),
        ("name.x", "1", "no field is called so"),
        ("parts[0].wall_top", "1 ft", "counted from 1"),
        ("parts.wall_top", "1 ft", "picked by their number"),
        ("parts[7].wall_top", "1 ft", "picked by their number"),
        ("parts[7].wall_top", "", "picked by their number"),
        ("corners[1].east", "1 ft", "picked by their number"),
        ("frost[1]", "1 ft", "it is not a list"),
        ("parts[1].foam", "none", "it is a whole table"),
        ("parts[1]", "none", "it is a whole table"),
        ("corners.A", "none", "it is a whole table"),
        ("forms.heights", "8 ft", "it is a list"),
        ("finance.years", "10", "no option changes how all choices are weighed"),
        ("pours", "", "no option changes a record of the work"),
        ("x" * 5000, "1", "no path is that long"),
    ],
)
def test_paths_that_lead_nowhere(path: str, text: str, words: str) -> None:
    found, problems = option_projects(tables(options=[{"name": "Odd", "changes": {path: text}}]))
    assert found == ()
    (problem,) = problems
    assert problem.place == f"options[1].changes.{path[:200]}"
    assert words in problem.sentence
    assert '"Odd"' in problem.sentence
    with pytest.raises(PlanError, match="Odd"):
        compare(tables(options=[{"name": "Odd", "changes": {path: text}}]))


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("frost.depth", "deep", 'frost.depth: "deep" is not'),
        ("frost.depth", "", "frost.depth is missing"),
        ("parts[1].wall_thickness", "9 ft", "it must be at most"),
        ("parts[1].use", "castle", 'is "castle": use'),
        ("parts[1].footing_width", "6 in", "narrower than the wall"),
    ],
)
def test_values_that_do_not_do(path: str, text: str, words: str) -> None:
    both = [{"name": "Sound", "changes": {}}, {"name": "Odd", "changes": {path: text}}]
    found, problems = option_projects(tables(options=both))
    assert found == ()
    (problem,) = problems
    assert problem.place == f"options[2].changes.{path}"
    assert problem.value == text
    assert words in problem.sentence


def test_names_are_their_own() -> None:
    _, problems = option_projects(tables(), [option("Warm"), option("warm"), option("As planned")])
    assert [problem.place for problem in problems] == ["options[2].name", "options[3].name"]


def test_what_is_taken_out_are_the_project_s_own_entries() -> None:
    doors = [
        {
            "name": f"door {number}",
            "line": "A-B",
            "start": f"{5 * number} ft",
            "width": "3 ft",
            "bottom": "98 ft",
            "height": "2 ft",
        }
        for number in (1, 2, 3, 4)
    ]
    changes = {"openings[1]": "", "openings[3]": "", "openings[2].width": "4 ft", "openings[4].width": "2 ft"}
    (found,), problems = option_projects(tables(openings=doors), [option("fewer", changes)])
    assert problems == ()
    assert [each.name for each in found.project.openings] == ["door 2", "door 4"]
    assert [each.width for each in found.project.openings] == pytest.approx([4 * 0.3048, 2 * 0.3048])
    # The changes come back as differences, the entries known by their names.
    assert [(each.path, each.before, each.after) for each in found.changes if "width" in each.path] == [
        ("openings[1].width", "3 ft", "4 ft"),
        ("openings[2].width", "3 ft", "2 ft"),
    ]
    assert sum(each.after == "" for each in found.changes) == 2


@pytest.mark.parametrize(
    "name",
    [
        "<script>alert(1)</script>",
        '=HYPERLINK("http://x","y")',
        "\"quotes\" and 'quotes'",
        "Тёплый пол",
        "😀 warm",
        "../../etc/passwd",
        "{braces} %s",
        "x" * 60,
    ],
)
def test_names_come_through_as_text(name: str) -> None:
    found, problems = option_projects(tables(), [OptionInput(name=name, why=name)])
    assert problems == ()
    assert (found[0].name, found[0].why) == (name, name)
    _, problems = option_projects(tables(), [OptionInput(name=name, changes={"frost.depth": name})])
    assert problems[0].place == "options[1].changes.frost.depth"
    assert problems[0].value == name


def test_a_name_of_200_characters_is_refused() -> None:
    _, problems = option_projects(tables(options=[{"name": "x" * 200}]))
    assert problems[0].place == "options[1].name"
    assert "60" in problems[0].sentence
