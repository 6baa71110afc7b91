"""Levels as built against a wall that is reckoned by hand.

Grade 100.00 ft all along, frost 48 in, so that the bottom of footing lies at 96.00 ft and its top, 10 in higher, at
96.83 ft [derived]. Tolerances are ACI 117-90, 3.3 [read]: top of footing within 1/2 in under masonry, 1/2 in up and
2 in down otherwise.
"""

from __future__ import annotations

from typing import Any

import pytest

from foundation.handover.as_text import amount_text
from foundation.model.as_built import SOUND, AsBuiltRow, Verdict
from foundation.plan import Plan
from foundation.plan.as_built import as_built_of, tolerance
from foundation.plan.as_built_cover import built_cover
from foundation.plan.as_built_text import read_as_built
from tests.conftest import planned
from tests.plan.walls import wall_tables

FOOT = 0.3048
INCH = FOOT / 12


def tables(measured: list[dict[str, str]], **more: Any) -> dict[str, Any]:
    part = {
        "wall_top": "105'-10\"",
        "slab_top": "100 ft",
        "wall_height": "9 ft",
        "footing_thickness": "10 in",
    }
    made = wall_tables("40 ft", ["0 ft", "40 ft"], ["100 ft", "100 ft"], "48 in", part)
    made["frost"] |= more.pop("frost", {})
    return made | {"as_built": measured} | more


def built(what: str, level: str, station: str = "10 ft", **more: str) -> dict[str, str]:
    return {"what": what, "line": "A-B", "station": station, "level": level, **more}


def rows(plan: Plan, text: str = "", **more: Any) -> tuple[AsBuiltRow, ...]:
    found = as_built_of(plan, plan.steppings[0].name, text, **more)
    assert not [problem.sentence for problem in found.problems]
    return found.rows


def one(entry: dict[str, str], **more: Any) -> AsBuiltRow:
    (row,) = rows(planned(tables([entry], **more)))
    return row


def said(row: AsBuiltRow) -> str:
    return row.sentence.format_map({name: amount_text(each, "us") for name, each in row.amounts.items()})


def test_the_wall_is_as_reckoned() -> None:
    plan = planned(tables([]))
    (run,) = plan.steppings[0].runs
    assert run.bottom == pytest.approx(96 * FOOT)
    assert run.binds == "frost"


@pytest.mark.parametrize(
    ("level", "verdict"),
    [
        ("96'-10\"", Verdict.WITHIN),
        ("96'-10 1/2\"", Verdict.WITHIN),
        ("96'-10 9/16\"", Verdict.OUT),
        ("96'-8\"", Verdict.WITHIN),
        ("96'-7 15/16\"", Verdict.OUT),
    ],
)
def test_top_of_footing(level: str, verdict: Verdict) -> None:
    row = one(built("top of footing", level))
    assert row.verdict is verdict
    assert row.target == pytest.approx((96 + 10 / 12) * FOOT)
    assert row.difference == pytest.approx(row.actual - row.target)
    assert "ACI 117-90" in row.source


def test_masonry_asks_for_more() -> None:
    plan = planned(tables([built("top of footing", "96'-9\"")]))
    assert rows(plan)[0].verdict is Verdict.WITHIN
    assert rows(plan, under_masonry=True)[0].verdict is Verdict.OUT
    masonry = tolerance("top of footing", under_masonry=True)
    assert masonry is not None
    assert (masonry.low / INCH, masonry.high / INCH) == pytest.approx((-0.5, 0.5))


def test_a_lower_bottom_is_no_harm() -> None:
    row = one(built("bottom of footing", "95.50 ft"))
    assert row.verdict is Verdict.DEEPER
    assert said(row).startswith('Lower by 6": no harm to frost cover')


def test_a_bottom_below_what_may_be_dug_is_out() -> None:
    row = one(built("bottom of footing", "95.50 ft"), digging={"deepest": "95.75 ft"})
    assert row.verdict is Verdict.OUT
    assert said(row) == 'Lower by 6", 3" below what the deepest dig allows.'


def test_a_higher_bottom_is_short_of_frost_cover() -> None:
    row = one(built("bottom of footing", "96.25 ft"))
    assert row.verdict is Verdict.SHORT
    assert said(row) == 'Higher by 3": frost cover is 45" where 48" is asked for.'


def test_a_rod_reads_no_finer_than_a_sixteenth() -> None:
    assert one(built("bottom of footing", "96'-0 1/16\"")).verdict is Verdict.WITHIN
    assert one(built("bottom of footing", "96'-0 1/8\"")).verdict is Verdict.SHORT


def test_a_higher_bottom_holds_where_only_the_lattice_kept_it_down() -> None:
    """Grade 100.50 ft: frost allows 96.50 ft, 8 in courses give 96.00 ft: 3 in higher still has 51 in."""
    made = tables([built("bottom of footing", "96.25 ft")])
    made["ground"]["walls"][0]["grades"] = ["100.5 ft", "100.5 ft"]
    (row,) = rows(planned(made))
    assert row.verdict is Verdict.HOLDS
    assert said(row) == 'Higher by 3": frost cover is 51", 48" is asked for.'


def test_a_higher_bottom_against_another_limit() -> None:
    """Slab top 97.50 ft, 4 in: the floor allows 97.50 - 0.33 - 0.83 = 96.33 ft; grade 102 ft leaves frost behind."""
    made = tables([built("bottom of footing", "96.50 ft")])
    made["parts"][0]["slab_top"] = "97.50 ft"
    made["ground"]["walls"][0]["grades"] = ["102 ft", "102 ft"]
    (row,) = rows(planned(made))
    assert row.verdict is Verdict.OUT
    assert said(row) == 'Higher by 6", 2" above what floor build-up allows.'


def test_grade_as_built_takes_cover_away() -> None:
    """Half a foot too low at 20 ft and on the plan at 10 and 30 ft: 42 in of cover there, 48 in at the ends."""
    shots = [
        built("finished grade", level, station)
        for level, station in (("100 ft", "10 ft"), ("99.5 ft", "20 ft"), ("100 ft", "30 ft"))
    ]
    plan = planned(tables(shots))
    found = as_built_of(plan, plan.steppings[0].name)
    assert [row.verdict for row in found.rows] == [Verdict.WITHIN, Verdict.SHORT, Verdict.WITHIN]
    (cover,) = found.covers
    assert cover.short
    assert cover.grade_measured
    assert not cover.footing_measured
    assert (cover.station, cover.cover, cover.planned) == pytest.approx(
        (20 * FOOT, 42 * INCH, 48 * INCH), abs=1e-3
    )
    assert (cover.start, cover.end) == pytest.approx((10 * FOOT, 30 * FOOT), abs=INCH)


def test_between_two_shots_grade_goes_straight() -> None:
    """6 in too low at 20 ft, none at 10 ft: 3 in at 15 ft; beyond the shots the plan stands."""
    plan = planned(tables([]))
    name, line = plan.steppings[0].name, plan.lines[0]
    shots = [(10 * FOOT, 100 * FOOT), (20 * FOOT, 99.5 * FOOT)]
    cover = built_cover(plan.project, line, plan.steppings[0].runs, plan.covers[name]["A-B"], [], shots)
    at = [round(feet * FOOT / INCH) for feet in (5, 10, 15, 20, 25)]
    assert (cover.built[at] / INCH).tolist() == pytest.approx([48, 48, 45, 42, 48])


def test_a_deeper_footing_makes_up_for_low_grade() -> None:
    measured = [built("bottom of footing", "95.25 ft", "2 ft"), built("finished grade", "99.5 ft", "20 ft")]
    plan = planned(tables(measured))
    found = as_built_of(plan, plan.steppings[0].name)
    assert [row.verdict for row in found.rows] == [Verdict.DEEPER, Verdict.HOLDS]
    (cover,) = found.covers
    assert cover.cover == pytest.approx((48 + 9 - 6) * INCH)
    assert not cover.short


@pytest.mark.parametrize(("counts", "verdict"), [(False, Verdict.SHORT), (True, Verdict.HOLDS)])
def test_fill_counts_only_where_the_office_says_so(counts: bool, verdict: Verdict) -> None:
    measured = [built("finished grade", "100.5 ft", station) for station in ("0 ft", "40 ft")]
    measured.append(built("bottom of footing", "96.25 ft"))
    plan = planned(tables(measured, frost={"fill_counts": counts}))
    found = as_built_of(plan, plan.steppings[0].name)
    (cover,) = found.covers
    assert cover.cover == pytest.approx((51 if counts else 45) * INCH)
    assert {row.verdict for row in found.rows} == {verdict}


def test_frost_measured_to_the_top() -> None:
    """Frost allows a top at 96.00 ft; the lattice of 8 in courses has tops at 95.50, 96.17 ft."""
    low = {"frost": {"measured_to": "top of footing"}}
    plan = planned(tables([], **low))
    top = plan.steppings[0].runs[0].top
    assert top == pytest.approx(95.5 * FOOT)
    row = one(built("top of footing", "96.01 ft"), **low)
    assert row.verdict is Verdict.SHORT
    row = one(built("top of footing", "95.99 ft"), **low)
    assert row.verdict is Verdict.OUT


def test_wall_and_slab() -> None:
    plan = planned(
        tables(
            [
                built("top of wall", "105'-10 1/2\""),
                built("top of wall", "105'-9 1/4\""),
                {"what": "slab", "part": "wall", "level": "100 ft"},
                {"what": "slab", "part": "wall", "level": "100'-1\""},
            ]
        )
    )
    assert [row.verdict for row in rows(plan)] == [
        Verdict.WITHIN,
        Verdict.OUT,
        Verdict.WITHIN,
        Verdict.OUT,
    ]


def test_a_rod_from_todays_set_up() -> None:
    """Benchmark 101.00 ft + backsight 5.20 ft = 106.20 ft; less the rod 9.37 ft = 96.83 ft [derived]."""
    levels = {"marks": [{"name": "BM", "elevation": "101 ft"}], "backsight": "5.20 ft"}
    entry = {"what": "top of footing", "line": "A-B", "station": "10 ft", "rod": "9.37 ft"}
    row = one(entry, levels=levels)
    assert row.actual == pytest.approx(96.83 * FOOT)
    assert row.verdict is Verdict.WITHIN
    plan = planned(tables([entry]))
    (problem,) = as_built_of(plan, plan.steppings[0].name).problems
    assert problem.sentence == (
        "as_built[1]: rod 9.37 ft says no level without levels.backsight: write that, or the level itself."
    )


def test_a_wall_named_from_its_other_end(demo_plan: Plan) -> None:
    """D-A steps at 6'-9" and 13'-6" from D; the corner A end is 30 ft away, so 25 ft from A is 5 ft from D."""
    answer = demo_plan.steppings[0].name
    text = "what,line,station,level\nbottom of footing,{},{} ft,{} m"
    found = [
        as_built_of(demo_plan, answer, text.format(line, station, 61.1632)).rows[0]
        for line, station in (("D-A", 5), ("A-D", 25))
    ]
    assert [(row.line, round(row.station, 6)) for row in found] == [("D-A", 5 * FOOT)] * 2
    assert {row.verdict for row in found} == {Verdict.WITHIN}


def test_beside_a_step_the_nearer_level_counts(demo_plan: Plan) -> None:
    """Step at 6'-9" on D-A: 61.1632 m below it, 61.7728 m above."""
    answer = demo_plan.steppings[0].name
    text = "what,line,station,level\nbottom of footing,D-A,6'-9\",{} m"
    targets = [as_built_of(demo_plan, answer, text.format(level)).rows[0].target for level in (61.17, 61.77)]
    assert targets == pytest.approx([61.1632, 61.7728])


def test_the_plans_own_levels_are_sound(demo_plan: Plan) -> None:
    """A job that is built as planned prints without noise, whatever the answer."""
    for stepping in demo_plan.steppings:
        lines = ["what;line;part;station [m];level [m]"]
        for run in stepping.runs:
            middle = (run.start + run.end) / 2
            lines += [f"bottom of footing;{run.line};;{middle:.3f};{run.bottom:.4f}"]
            lines += [f"top of footing;{run.line};;{middle:.3f};{run.top:.4f}"]
        for piece in demo_plan.walls[stepping.name].pieces:
            lines += [f"top of wall;{piece.line};;{(piece.start + piece.end) / 2:.3f};{piece.top:.4f}"]
        lines += ["slab;;house;;62.8015"]
        found = as_built_of(demo_plan, stepping.name, "\n".join(lines))
        assert not found.problems
        assert len(found.rows) == len(lines) - 1
        assert {row.verdict for row in found.rows} <= {*SOUND}
        assert not [cover for cover in found.covers if cover.short]


HEADER = "what,line,station,level,rod,date,who\n"


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("footing,A-B,5 ft,96 ft,,,", 'what is "footing": write one of bottom of footing, top of footing'),
        ("top of footing,A-B,5 ft,96.83,,,", 'level "96.83" has no unit: write 96.83 ft or 96.83 m'),
        ("top of footing,A-B,5 ft,nan ft,,,", '"nan ft"'),
        ("top of footing,A-B,5 ft,96 ft,,5/2/2026,", 'date "5/2/2026" is not a date: write year-month-day'),
        ("top of footing,A-B,-5 ft,96 ft,,,", 'station "-5 ft"'),
        ("top of footing,A-B,5 ft,96 ft,,," + "w" * 81, "who"),
        ("top of footing,A-B,50 ft,96 ft,,,", "station 50.00 ft is not on wall A-B, which is 40.00 ft long."),
        ("top of footing,A-C,5 ft,96 ft,,,", 'there is no wall "A-C": one of A-B would do.'),
        ("top of footing,,5 ft,96 ft,,,", "top of footing needs its wall line: one of A-B."),
        ("top of footing,A-B,,96 ft,,,", "wall A-B needs the station where it was measured."),
    ],
)
def test_a_bad_row_is_one_sentence(row: str, sentence: str) -> None:
    plan = planned(tables([]))
    good = "top of footing,A-B,6 ft,96.83 ft,,2026-05-02,J. Doe"
    found = as_built_of(plan, plan.steppings[0].name, f"{HEADER}{row}\n{good}")
    (problem,) = found.problems
    assert problem.sentence.startswith("levels as built line 2: ")
    assert sentence in problem.sentence
    assert "\n" not in problem.sentence
    assert [(each.place, each.who) for each in found.rows] == [("levels as built line 3", "J. Doe")]


@pytest.mark.parametrize(
    ("header", "sentence"),
    [
        ("line,station,level", "the header names no column what"),
        ("what,line,station", "the header names no column level and none rod"),
        ("what,line,line,level", "two columns for the line; keep one."),
    ],
)
def test_a_bad_header_is_one_sentence(header: str, sentence: str) -> None:
    entries, (problem,) = read_as_built(f"{header}\ntop of footing,A-B,5 ft,96 ft")
    assert not entries
    assert sentence in problem.sentence


def test_a_form_that_is_not_filled_in_says_nothing() -> None:
    entries, problems = read_as_built(f"# as built\n{HEADER}top of footing,A-B,5 ft,,,,\n\n")
    assert (entries, problems) == ((), ())
    assert read_as_built("") == ((), ())


def test_an_unknown_column_is_told() -> None:
    entries, (problem,) = read_as_built("what,line,station,level,mood\ntop of footing,A-B,5 ft,96 ft,fine")
    assert len(entries) == 1
    assert not problem.fatal
    assert 'column "mood" is not used' in problem.sentence


def test_a_project_entry_without_any_level() -> None:
    plan = planned(tables([{"what": "slab", "part": "wall"}]))
    (problem,) = as_built_of(plan, plan.steppings[0].name).problems
    assert problem.sentence == "as_built[1]: slab has no level and no rod: write one of them."
