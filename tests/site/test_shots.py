"""Reading shots: what people type, paste and get wrong."""

from __future__ import annotations

import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foundation.model.ground import ShotKind
from foundation.site.shots import breaklines, read_shots
from foundation.site.words import MOST_PROBLEMS
from tests.site.lot import FOOT, demo_text

ROWS = [
    ("101", "5258.00", "2080.00", "213.60", "TIE"),
    ("109", "5226.00", "2106.00", "213.25", "EG gravel edge"),
    ("115", "5220.00", "2100.00", "213.83", "FG corner A"),
    ("BM1", "5248.00", "2092.00", "216.20", "BM spike in oak"),
    ("140", "5262.00", "2156.00", "213.30", "ST street edge"),
]
KINDS = (ShotKind.BOTH, ShotKind.EXISTING, ShotKind.FINISHED, ShotKind.MARK, ShotKind.STREET)
HEADER = ("point", "northing", "easting", "elevation", "code")


def text_of(rows: list[tuple[str, ...]], separator: str = ",") -> str:
    return "\n".join(separator.join(row) for row in rows)


@pytest.mark.parametrize(
    "text",
    [
        text_of(ROWS),
        text_of(ROWS, ";"),
        text_of(ROWS, "\t"),
        text_of([HEADER, *ROWS]),
        text_of([("Pt", "N", "E", "Elev", "Desc"), *ROWS], "\t"),
        text_of([("PT", " North ", "EAST", "Z (ft)", "d"), *ROWS]),
        text_of([("d", "z", "p", "e", "n"), *[(r[4], r[3], r[0], r[2], r[1]) for r in ROWS]]),
        "\ufeff# lot 6\r\n\r\n" + text_of(ROWS).replace("\n", "\r\n\r\n # between\r\n") + "\r\n,,,,\r\n",
        text_of([tuple(f" {cell}  " for cell in row) for row in ROWS]),
        text_of([tuple(f'"{cell}"' for cell in row) for row in ROWS]),
        text_of([HEADER, *ROWS]).replace("\n", "\r"),
    ],
    ids=[
        "commas",
        "semicolons",
        "pasted",
        "header",
        "short",
        "odd words",
        "any order",
        "noise",
        "spaces",
        "quoted",
        "cr",
    ],
)
def test_same_shots_however_written(text: str) -> None:
    shots, problems = read_shots(text, FOOT)
    assert not problems
    assert shots.point == ("101", "109", "115", "BM1", "140")
    assert shots.kind == KINDS
    assert shots.note == ("", "gravel edge", "corner A", "spike in oak", "street edge")
    assert shots.line == ("",) * 5
    np.testing.assert_allclose(shots.north / FOOT, [5258, 5226, 5220, 5248, 5262], rtol=1e-12)
    np.testing.assert_allclose(shots.east / FOOT, [2080, 2106, 2100, 2092, 2156], rtol=1e-12)
    np.testing.assert_allclose(shots.elevation / FOOT, [213.6, 213.25, 213.83, 216.2, 213.3], rtol=1e-12)


def test_against_numpys_reader() -> None:
    """numpy's own text reader finds the same numbers in the demo file."""
    shots, problems = read_shots(demo_text(), FOOT)
    numbers = np.loadtxt(io.StringIO(demo_text()), delimiter=",", skiprows=1, usecols=(1, 2, 3))
    assert not problems
    np.testing.assert_array_equal(np.column_stack([shots.north, shots.east, shots.elevation]), numbers * FOOT)


def test_metres_stay_metres() -> None:
    shots, _ = read_shots(text_of(ROWS), 1.0)
    assert shots.elevation[0] == 213.60


def test_notes_may_hold_the_separator_and_quotes() -> None:
    text = (
        '1,10,20,5,EG corner A, nail\n2,10,30,5,"EG pipe, 6"""\n3,10,40,5,EG 6" pipe\n4,10,50,5,"EG left open'
    )
    shots, problems = read_shots(text, 1.0)
    assert not problems
    assert shots.note == ("corner A, nail", 'pipe, 6"', '6" pipe', "left open")


def test_codes_in_any_case() -> None:
    shots, problems = read_shots("1,10,20,5,eg\n2,10,30,5,Fg walk\n3,20,30,5,tie", 1.0)
    assert not problems
    assert shots.kind == (ShotKind.EXISTING, ShotKind.FINISHED, ShotKind.BOTH)


def test_breaklines_by_column_and_by_token() -> None:
    text = (
        "p,n,e,z,d,line\n1,0,0,5,EG,swale\n2,0,9,5,EG line=crest top,\n3,9,9,5,TIE,swale\n4,5,5,5,line=crest FG,\n"
        "5,9,0,5,EG LINE = crest,\n6,4,4,6,ST,swale"
    )
    shots, problems = read_shots(text, 1.0)
    assert not problems
    assert shots.line == ("swale", "crest", "swale", "crest", "crest", "swale")
    assert shots.note == ("", "top", "", "", "", "")
    existing = (ShotKind.EXISTING, ShotKind.BOTH)
    assert breaklines(shots, existing) == {"swale": [0, 2], "crest": [1, 4]}
    assert breaklines(shots, (ShotKind.FINISHED, ShotKind.BOTH)) == {}


@pytest.mark.parametrize(
    ("row", "place", "value", "says"),
    [
        ("7,52x8,2080,213.6,EG", "shots line 2, point 7", "52x8", "no number"),
        ("7,5258,,213.6,EG", "shots line 2, point 7", "", "easting is empty"),
        ("7,5258,2080,nan,EG", "shots line 2, point 7", "nan", "no number"),
        ("7,5258,2080,inf,EG", "shots line 2, point 7", "inf", "no number"),
        ("7,5258,2080,1e999,EG", "shots line 2, point 7", "1e999", "no number"),
        ("7,5_258,2080,213.6,EG", "shots line 2, point 7", "5_258", "no number"),
        ("7,5258,2080,1e9,EG", "shots line 2, point 7", "1e9", "larger than any place"),
        ("7,5258,2080,213'-6\",EG", "shots line 2, point 7", "213'-6\"", "no number"),
        ("7,5258", "shots line 2", "7,5258", "2 columns"),
    ],
)
def test_bad_cells_name_line_and_point(row: str, place: str, value: str, says: str) -> None:
    shots, problems = read_shots("1,0,0,5,EG\n" + row + "\n2,9,0,5,EG", 1.0)
    (problem,) = problems
    assert (problem.place, problem.value, problem.fatal) == (place, value, True)
    assert says in problem.sentence
    assert problem.place in problem.sentence
    assert shots.point == ("1", "2")


@pytest.mark.parametrize(
    "row", ["7;5258,00;2080,00;213,60;EG", "7\t5,258.00\t2080\t213.60\tEG", '7;"5,258.00";20;213;EG']
)
def test_commas_in_numbers_are_refused(row: str) -> None:
    _, problems = read_shots(row, FOOT)
    commas = [problem for problem in problems if "has a comma" in problem.sentence]
    assert commas
    assert all(problem.fatal and problem.place == "shots line 1, point 7" for problem in commas)


def test_several_problems_come_together() -> None:
    _, problems = read_shots("1,a,b,c,EG\n2,0,0,d,EG\n3,0,0,5,EG", 1.0)
    assert [problem.value for problem in problems] == ["a", "b", "c", "d"]


def test_long_lists_are_cut_and_counted() -> None:
    text = "0,0,0,5,EG\n" + "\n".join(f"{k},{k},x,5,EG" for k in range(1, 60))
    shots, problems = read_shots(text, 1.0)
    assert len(shots.point) == 1
    assert len(problems) == MOST_PROBLEMS + 1
    assert problems[-1].sentence == f"And {59 - MOST_PROBLEMS} more like these."
    assert problems[-1].fatal


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no shots"),
        ("# only words\n\n", "no shots"),
        ("point,northing,easting,elevation,code", "no shots below it"),
        ("Lot six", "must separate"),
        ("1 5258.00 2080.00 213.60 EG", "must separate"),
        ("point,north,east,code,line\n1,2,3,EG,", "names no elevation"),
        ("point,north,east,z,elev,code\n1,2,3,4,4,EG", "two columns for the elevation"),
        ("point,x,y,z,code\n1,2,3,4,EG", "names no northing"),
        ("1,2,3,4,XX\n2,3,3,4,YY", "no shot is ground"),
        ("1,2,3,4\n2,3,3,4", "no shot is ground"),
        ("p,n,e,z,d,line\n1,2,3,4,EG line=a,b\n2,3,3,4,EG,", "keep one"),
    ],
)
def test_unreadable_files_say_what_would_do(text: str, says: str) -> None:
    _, problems = read_shots(text, FOOT)
    assert any(problem.fatal and says in problem.sentence for problem in problems), problems


def test_unknown_codes_once_per_word() -> None:
    text = "1,0,0,5,EG\n2,1,0,5,TREE oak\n3,2,0,5,TREE ash\n4,3,0,5,FENCE\n5,4,0,5,"
    shots, problems = read_shots(text, 1.0)
    assert [(problem.value, problem.fatal) for problem in problems] == [
        ("TREE", False),
        ("FENCE", False),
        ("(none)", False),
    ]
    assert "2 shots" in problems[0].sentence
    assert "point 2" in problems[0].sentence
    assert shots.kind.count(ShotKind.OTHER) == 4
    assert shots.note[1] == "TREE oak"


def test_columns_nobody_knows_and_points_without_number() -> None:
    shots, problems = read_shots("point,n,e,z,code,lin\n,0,0,5,EG,x\n2,9,0,5,EG,x", 1.0)
    assert {problem.fatal for problem in problems} == {False}
    assert "lin" in problems[0].sentence
    assert shots.point == ("(line 2)", "2")


@pytest.mark.parametrize("unit", [0.0, -1.0, float("nan"), float("inf")])
def test_unit_must_be_a_length(unit: float) -> None:
    with pytest.raises(ValueError, match="unit of length"):
        read_shots("1,2,3,4,EG", unit)


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=300))
def test_any_text_gets_an_answer(text: str) -> None:
    shots, problems = read_shots(text, FOOT)
    assert len(shots.point) == len(shots.north) == len(shots.kind)
    assert shots.point or problems


@given(
    st.lists(
        st.lists(st.sampled_from(["1", "2.5", "x", "", '"', "EG", "-3", "1e400", "line=a"]), max_size=7),
        max_size=9,
    )
)
def test_any_table_gets_an_answer(rows: list[list[str]]) -> None:
    shots, problems = read_shots("\n".join(",".join(row) for row in rows), FOOT)
    assert np.isfinite(np.r_[shots.north, shots.east, shots.elevation]).all()
    assert shots.point or problems
    assert all(problem.sentence for problem in problems)
