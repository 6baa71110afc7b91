"""The sourced tables: every one that ships loads, and a malformed one is named with what is wrong."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from foundation import places
from foundation.tables import MARKS, TableError, load, parse
from foundation.units import read

NAME = "body_title_2020_table"
GOOD = """\
# title: Handbook of Examples
# edition: 2nd ed. 2020
# table: Table 3
# mark: read
# source: a public copy: page 12
# transcribed: 2026-01-31
name,depth
-,ft
"sand, coarse",3.5
clay,
"""


def test_a_table_as_printed() -> None:
    table = parse(NAME, GOOD)
    assert table.names == ("name", "depth")
    assert dict(table.units) == {"name": "-", "depth": "ft"}
    assert [dict(row) for row in table.rows] == [
        {"name": "sand, coarse", "depth": "3.5"},
        {"name": "clay", "depth": ""},
    ]
    assert table.cite == "Handbook of Examples, 2nd ed. 2020, Table 3: a public copy: page 12 [read]"
    with pytest.raises(FrozenInstanceError):
        table.mark = "memory"  # type: ignore[misc]
    with pytest.raises(TypeError):
        table.rows[0]["depth"] = "4"  # type: ignore[index]


@pytest.mark.parametrize(
    ("name", "old", "new", "what"),
    [
        ("body_title_2020", "", "", "is not named <body>_<title>_<edition>_<table>"),
        ("body__2020_table", "", "", "is not named"),
        (NAME, "# source: a public copy: page 12\n", "", "does not say its source"),
        (NAME, "# source: a public copy: page 12\n", "# source:\n", 'has the line "# source:"'),
        (NAME, "# edition", "# printing", 'has the line "# printing: 2nd ed. 2020"'),
        (NAME, "# edition", "# title", 'has the line "# title: 2nd ed. 2020"'),
        (
            NAME,
            "mark: read",
            "mark: sure",
            'has the mark "sure", where one of read, memory, derived, practice',
        ),
        (NAME, "name,depth\n-,ft\n", "name,mark\n-,-\n", 'has the mark ""'),
        (NAME, "name,depth", "name,name", "two of one name"),
        (NAME, "name,depth", "name,", "a column without a name"),
        (NAME, "-,ft", "-", "has 1 cells in its row of units, where its 2 names ask for as many"),
        (NAME, "-,ft", "-,", "has a column without a unit"),
        (NAME, "3.5", "3,5", "has 3 cells in row 1"),
        (NAME, '"sand, coarse"', '"sand, coarse', "is not well-formed CSV"),
        (NAME, '"sand, coarse",3.5\nclay,\n', "", "at least one row of values"),
    ],
)
def test_what_is_malformed_is_said(name: str, old: str, new: str, what: str) -> None:
    assert old in GOOD
    with pytest.raises(TableError) as caught:
        parse(name, GOOD.replace(old, new, 1))
    assert str(caught.value).startswith(f"The table {name} ")
    assert what in str(caught.value)


def test_every_shipped_table_loads() -> None:
    names = [path.stem for path in places.data().glob("*.csv")]
    assert names
    for name in names:
        assert load(name).mark in MARKS


def test_an_unknown_table_lists_the_known() -> None:
    with pytest.raises(KeyError, match="practice_step-rules_2026_rule-sets"):
        load("practice_nothing_2026_none")


def test_rule_sets_say_what_their_sources_say() -> None:
    """IRC 2024 R403.1.5, Ontario 9.15.3.9 and CMHC [read]; 24 in, 3/4 and 8 in courses [practice]."""
    table = load("practice_step-rules_2026_rule-sets")
    rules = {row["name"]: row for row in table.rows}
    limits = ("max_rise", "min_run", "rise_over_run", "module", "leg_thickness")
    assert not any(rules["code-text"][limit] for limit in limits)
    canada = rules["canada-600"]
    assert [read(canada[limit], "length") for limit in ("max_rise", "min_run", "leg_thickness")] == [
        0.6,
        0.6,
        0.15,
    ]
    trade = rules["trade-24"]
    # 600 mm is 23.6 in, so of 8 in courses it takes two and the trade's 24 in takes three.
    course = read(trade["module"], "length")
    assert int(read(canada["max_rise"], "length") / course) == 2
    assert read(trade["max_rise"], "length") / course == pytest.approx(3, rel=1e-12)
    assert read(trade["min_run"], "length") == pytest.approx(0.6096, rel=1e-12)
    assert read(trade["rise_over_run"], "number") == 0.75
    assert {row["ratio_binds"] for row in table.rows} == {"lower"}
    assert [row["mark"] for row in table.rows] == ["read", "read", "practice"]
