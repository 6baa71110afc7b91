"""The papers read back: levels, rods and steps equal the plan's, drawings are true to scale, STOPs hold sheets back."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from foundation import units
from foundation.drawings.to_svg import HALO
from foundation.handover.papers import READERS, make_papers
from foundation.handover.papers.holding import CONCERNS
from foundation.handover.papers.making import SHEETS
from foundation.handover.papers.on_paper import PAPERS
from foundation.model.caution import Severity
from foundation.plan import Plan
from tests.handover.papers import DAY, HASH, Segment, papers, segments, sheet_texts, signed, texts

ANSWER = "least cost"


@pytest.fixture(scope="module")
def read_plan(demo_plan: Plan) -> Plan:
    return signed(demo_plan, ANSWER)


@pytest.fixture(scope="module")
def whole(read_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    return papers(read_plan, tmp_path_factory.mktemp("set"), "set")["set"]


@pytest.fixture(scope="module")
def sheets(whole: PdfReader) -> dict[str, str]:
    return sheet_texts(whole)


@pytest.fixture(scope="module")
def held(demo_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    return sheet_texts(papers(demo_plan, tmp_path_factory.mktemp("held"), "set")["set"])


def test_every_page_says_whose_it_is(whole: PdfReader) -> None:
    count = len(whole.pages)
    for number, text in enumerate(texts(whole), 1):
        assert f"page {number} of {count}" in text
        assert "Fallow Fen, lot 6" in text
        assert "Revision A" in text
        assert text.count(HASH) == 2
        assert f"printed {DAY}" in text
        assert "Units: feet" in text
        assert "to outside of concrete" in text
        assert "not engineering advice" in text


def test_levels_rods_and_steps_are_those_of_the_plan(read_plan: Plan, sheets: dict[str, str]) -> None:
    for title in ("Footings", "Rods and steps", "Inspection", "Layout"):
        text = sheets[title]
        for row in read_plan.schedules[ANSWER]:
            assert units.feet_inches(row.bottom.level) in text
            assert row.bottom.rod is not None
            assert units.feet_inches(row.bottom.rod) in text
            assert units.feet_inches(row.end) in text
    for row in read_plan.schedules[ANSWER]:
        assert units.feet_inches(row.bottom.below_benchmark) in sheets["Rods and steps"]
        if math.isfinite(row.least_cover):
            assert units.inches(row.least_cover) in sheets["For the local office"]
    rods = " ".join(sheets["Rods and steps"].split())
    for step in read_plan.stepping(ANSWER).steps:
        start = step.line.split("-")[0]
        assert f"{units.feet_inches(step.station)} from {start}" in rods
    # The schedule, row by row and in order, as the crew reads it from left to right.
    rows = re.findall(r"^([A-H]-[A-H]) (\S+\"?) (\S+\"?) (\d+'-[\d /]+\")", rods_lines(sheets), re.MULTILINE)
    assert [(name, bottom) for name, _, _, bottom in rows] == [
        (row.line, units.feet_inches(row.bottom.level)) for row in read_plan.schedules[ANSWER]
    ]


def rods_lines(sheets: dict[str, str]) -> str:
    """The rod sheet with the cells of each row on one line."""
    text = " ".join(sheets["Rods and steps"].split())
    return re.sub(r" ([A-H]-[A-H]) ", r"\n\1 ", text.split(" Steps Step ")[0])


def test_layout_sheet_has_what_corners_are_checked_by(read_plan: Plan, sheets: dict[str, str]) -> None:
    text = sheets["Layout"]
    for diagonal in read_plan.diagonals:
        assert units.feet_inches(diagonal.length) in text
    for stake in read_plan.stakes:
        assert stake.name in text
    for number in range(1, len(read_plan.stakes) + 1):
        assert f"S{number}" in text
    assert "BM1, spike in oak" in text


def test_wall_sheet_has_heights_panels_and_openings(read_plan: Plan, sheets: dict[str, str]) -> None:
    text = sheets["Walls and forms"]
    for piece in read_plan.walls[ANSWER].pieces:
        assert units.feet_inches(piece.top - piece.bottom) in text
        assert " + ".join(units.feet_inches(panel) for panel in piece.panels) in text
    for opening in read_plan.walls[ANSWER].openings:
        assert opening.name in text
    for bare in read_plan.walls[ANSWER].bare:
        assert f"Wall {bare.line} from outside" in text


def test_official_reads_a_rule_beside_each_number(read_plan: Plan, sheets: dict[str, str]) -> None:
    text = sheets["For the local office"]
    for source in ("R403.1.4.1", "R404.1.1", "N1102", "R401.3", "1926.651", "trade-24"):
        assert source in text
    for step in read_plan.stepping(ANSWER).steps:
        assert f"{step.line} at {units.feet_inches(step.station)}" in text
    assert "town office, clerk, 2026-03-03" in " ".join(text.split())


def test_assumed_values_are_marked_with_their_reason(read_plan: Plan, sheets: dict[str, str]) -> None:
    text = " ".join(sheets["Input log"].split())
    assert text.count("▲ assumed:") == len(read_plan.assumptions)
    for each in read_plan.assumptions:
        assert " ".join(f"▲ assumed: {each.why}".split()) in text
    # What was typed comes with who said so.
    assert "depth 4'-6\" town office, clerk, 2026-03-03" in text


def test_every_caution_stands_on_its_sheet_with_its_initials(read_plan: Plan, sheets: dict[str, str]) -> None:
    text = " ".join(sheets["Cautions"].split())
    cautions = read_plan.cautions[ANSWER]
    assert len(re.findall("[■◧□] (?:STOP|WARN|NOTE)", text)) == len(cautions)
    stops = [each for each in cautions if each.trap.severity is Severity.STOP]
    assert text.count("I. N. Vented, 2026-11-20") == len(stops)


def test_initialled_stops_stay_printed_on_the_sheets_they_concern(sheets: dict[str, str]) -> None:
    assert "STOP stands a winter" in sheets["Footings"]
    assert "Read by I. N. Vented (engineer), 2026-11-20" in " ".join(sheets["Footings"].split())
    assert "STOP wall over 10 ft" in sheets["Walls and forms"]


def test_unread_stops_hold_back_only_their_sheets(demo_plan: Plan, held: dict[str, str]) -> None:
    stopped = {
        name
        for each in demo_plan.cautions[ANSWER]
        if each.trap.severity is Severity.STOP
        for name in each.trap.sheets
    }
    titles = {
        "layout": "Layout",
        "footings": "Footings",
        "rods": "Rods and steps",
        "walls": "Walls and forms",
        "foam": "Foam and sections",
        "floors": "Warm floors",
        "official": "For the local office",
        "client": "Your foundation",
        "inspection": "Inspection",
    }
    assert set(titles) == set(CONCERNS)
    assert set(CONCERNS["footings"]) <= stopped
    assert "layout" not in stopped
    for key, title in titles.items():
        assert ("HELD BACK" in held[title]) == bool(set(CONCERNS[key]) & stopped), title
    for free in ("Cautions", "Input log", "Decide by, order by"):
        assert "HELD BACK" not in held[free]


def test_a_sheet_that_is_held_back_names_its_stop_and_carries_no_level(
    demo_plan: Plan, held: dict[str, str]
) -> None:
    levels = {units.feet_inches(row.bottom.level) for row in demo_plan.schedules[ANSWER]}
    levels |= {units.feet_inches(row.top.level) for row in demo_plan.schedules[ANSWER]}
    levels |= {units.feet_inches(piece.top) for piece in demo_plan.walls[ANSWER].pieces}
    decimals = {units.decimal_feet(row.bottom.level) for row in demo_plan.schedules[ANSWER]}
    some = 0
    for text in held.values():
        if "HELD BACK" in text:
            some += 1
            assert not [level for level in levels | decimals if level in text]
            assert "■ STOP" in text
            assert "Decides:" in text
    assert some >= 4
    assert "STOP footing beside dig" in held["Footings"]
    # The layout sheet is free, but the footings' levels are not on it.
    assert not [level for level in decimals if level in held["Layout"]]
    assert "Dig levels are held back" in held["Layout"]


# Length over length on paper of what the rulers of the trade call these scales: 12 inches a foot.
SCALES = {
    '1/8" = 1\'-0"': 96,
    '1/4" = 1\'-0"': 48,
    '3/32" = 1\'-0"': 128,
    '3/8" = 1\'-0"': 32,
    "1\" = 10'": 120,
}


def page_with(reader: PdfReader, *words: str) -> tuple[int, str]:
    for number, text in enumerate(texts(reader)):
        if all(word in text for word in words):
            return number, text
    raise AssertionError(f"no page has {words}")


def scale_on(text: str) -> int:
    found = {scale for name, scale in SCALES.items() if f"Scale {name}" in text}
    assert len(found) == 1, text
    return found.pop()


def drawn_long(pieces: list[Segment], length: float, level: bool) -> list[Segment]:
    """Strokes of a length within half a millimetre, level or upright."""
    return [
        each
        for each in pieces
        if each.width > 0 and (each.level if level else each.upright) and abs(each.length - length) < 0.5
    ]


@pytest.mark.parametrize("paper", ["letter", "tabloid"])
def test_walls_measure_true_on_paper(read_plan: Plan, tmp_path: Path, paper: str) -> None:
    reader = papers(read_plan, tmp_path, "form crew", paper=paper)["form crew"]
    box = reader.pages[0].mediabox
    size = {"letter": (11 * 72, 8.5 * 72), "tabloid": (17 * 72, 11 * 72)}[paper]
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.1)
    number, text = page_with(reader, "C to D:", "Scale")
    scale = scale_on(text)
    assert scale == {"letter": 96, "tabloid": 48}[paper]
    pieces = list(segments(reader, reader.pages[number]))
    # C-D is typed as 44 ft long; its wall stands from 201.50 to 214.50 ft.
    assert drawn_long(pieces, 44 * 304.8 / scale, level=True)
    assert drawn_long(pieces, 13 * 304.8 / scale, level=False)
    # A drawing a hundredth larger or smaller would not pass.
    assert not drawn_long(pieces, 44 * 304.8 / scale * 1.01, level=True)
    # The layout: 44 ft and 30 ft sides, and the house's diagonal.
    number, text = page_with(reader, "Layout: 8 corners")
    scale = scale_on(text)
    pieces = list(segments(reader, reader.pages[number]))
    assert drawn_long(pieces, 44 * 304.8 / scale, level=True)
    assert drawn_long(pieces, 30 * 304.8 / scale, level=False)
    diagonal = 304.8 * (44**2 + 30**2) ** 0.5 / scale
    assert [each for each in pieces if abs(each.length - diagonal) < 0.05]
    assert "N" in text.split()


def test_scale_bars_and_line_weights_are_true(read_plan: Plan, whole: PdfReader) -> None:
    number, text = page_with(whole, "A to B:", "Scale")
    assert scale_on(text) == 96
    assert "8 ft" in text
    pieces = list(segments(whole, whole.pages[number]))
    # Four fields of two feet.
    assert len(drawn_long(pieces, 2 * 304.8 / 96, level=True)) >= 8
    # Besides the lines there is the paper that texts keep free round them.
    halo = round(HALO * PAPERS["letter"].pixel, 2)
    weights = {round(each.width, 2) for each in pieces if each.width > 0} - {halo}
    assert weights <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7}
    assert {0.18, 0.35, 0.7} <= weights


def test_same_inputs_make_the_same_bytes(read_plan: Plan, tmp_path: Path) -> None:
    first, second = (
        make_papers(read_plan, ANSWER, tmp_path / name, readers=("excavator",), printed=DAY, revision=HASH)[
            0
        ].read_bytes()
        for name in ("one", "two")
    )
    assert first == second


def test_each_reader_gets_his_sheets_in_type_that_travels(read_plan: Plan, tmp_path: Path) -> None:
    found = papers(read_plan, tmp_path, "client", "plumber", "excavator")
    assert {path.name for path in tmp_path.iterdir()} == {
        "client-letter.pdf",
        "plumber-letter.pdf",
        "excavator-letter.pdf",
    }
    assert len(found["client"].pages) == 1
    assert "No warm floor is planned" in sheet_texts(found["plumber"])["Warm floors"]
    for reader in found.values():
        for page in reader.pages:
            for font in page["/Resources"].get("/Font", {}).values():
                font = font.get_object()
                assert "DejaVuSansCondensed" in font["/BaseFont"]
                assert "/FontFile2" in font["/DescendantFonts"][0]["/FontDescriptor"]
    assert set(READERS["set"]) == set(SHEETS)


def test_the_client_reads_no_word_of_the_trade(read_plan: Plan, tmp_path: Path) -> None:
    text = texts(papers(read_plan, tmp_path, "client")["client"])[0]
    for word in (
        "R-",
        "XPS",
        "EPS",
        "frost",
        "footing",
        "grade",
        "rod",
        "benchmark",
        "F-factor",
        "slab",
        "W/",
        "▲",
    ):
        assert word not in text, word
    area = sum(bare.area for bare in read_plan.walls[ANSWER].bare) / 0.3048**2
    assert f"{area:,.0f} ft²" in text
    assert "south side of the house" in text
    assert "$" not in text


def test_what_is_not_known_is_said(read_plan: Plan, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match='no paper "A4": take letter or tabloid'):
        make_papers(read_plan, ANSWER, tmp_path, paper="A4", printed=DAY, revision=HASH)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match='no reader "mason": take excavator'):
        make_papers(read_plan, ANSWER, tmp_path, readers=("mason",), printed=DAY, revision=HASH)
    with pytest.raises(KeyError, match="there are: least cost"):
        make_papers(read_plan, "cheapest", tmp_path, printed=DAY, revision=HASH)
