"""Names that would be code elsewhere come out of the papers as text, or as one visible mark."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
from matplotlib.ft2font import FT2Font

from foundation import places
from foundation.handover.papers.lettering import (
    FONTS,
    LONGEST_WORD,
    breakable,
    characters_of,
    printable,
)
from foundation.handover.papers.making import TEMPLATE
from tests.conftest import planned
from tests.handover.papers import papers, sheet_texts, signed, texts

MINIMAL: dict[str, Any] = {
    "schema": 1,
    "frost": {"depth": "48 in", "source": "town office", "date": "2026-03-03"},
    "ground": {
        "corner_grades": {
            name: {"existing": level}
            for name, level in zip("ABCD", ("100 ft", "100 ft", "97 ft", "97 ft"), strict=True)
        }
    },
    "corners": {
        "A": {"east": "0 ft", "north": "24 ft"},
        "B": {"east": "32 ft", "north": "24 ft"},
        "C": {"east": "32 ft", "north": "0 ft"},
        "D": {"east": "0 ft", "north": "0 ft"},
    },
    "parts": [{"name": "house", "corners": ["A", "B", "C", "D"], "wall_top": "101 ft"}],
}

HOSTILE = (
    "<script>alert(1)</script>",
    '=HYPERLINK("http://example.invalid","x")',
    "\"quoted\" and 'single'",
    '#read("/etc/passwd") $x^2$ *bold* _it_ [c] @ref',
    "Дом у реки",
    "\\u{1F600} %% {braces} `raw`",
)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_comes_out_as_text(name: str, tmp_path: Path) -> None:
    tables = copy.deepcopy(MINIMAL)
    tables |= {"name": name, "place": name}
    tables["parts"][0]["name"] = name
    tables["levels"] = {"marks": [{"name": "BM", "elevation": "105 ft", "note": name}]}
    tables["extras"] = [
        {
            "name": name,
            "east": "16 ft",
            "north": "12 ft",
            "length": "3 ft",
            "width": "3 ft",
            "thickness": "12 in",
        }
    ]
    tables["openings"] = [
        {
            "name": name,
            "kind": "window",
            "line": "A-B",
            "start": "4 ft",
            "width": "3 ft",
            "bottom": "99 ft",
            "height": "2 ft",
        }
    ]
    plan = planned(tables)
    plan = signed(plan, plan.steppings[0].name)
    reader = papers(plan, tmp_path, "set")["set"]
    bare = "".join(name.split())
    for page in reader.pages:
        assert "/Annots" not in page
    assert all(bare in "".join(text.split()) for text in texts(reader))
    sheets = {title: "".join(text.split()) for title, text in sheet_texts(reader).items()}
    # In tables and in drawings: title and place on every page, mark, pad and opening on theirs.
    pages = sum(text.startswith("Layout\n") for text in texts(reader))
    assert sheets["Layout"].count(bare) > 2 * pages
    assert sheets["Walls and forms"].count(bare) > 2
    assert "root:" not in "".join(sheets.values())


def test_a_picture_becomes_one_mark(tmp_path: Path) -> None:
    family = "\U0001f468\u200d\U0001f469\u200d\U0001f467\ufe0f"
    tables = copy.deepcopy(MINIMAL) | {"name": f"Lot {family} nine", "place": "漢字 lane"}
    tables["extras"] = [
        {
            "name": f"pad {family}",
            "east": "16 ft",
            "north": "12 ft",
            "length": "3 ft",
            "width": "3 ft",
            "thickness": "12 in",
        }
    ]
    plan = planned(tables)
    reader = papers(signed(plan, plan.steppings[0].name), tmp_path, "excavator")["excavator"]
    text = texts(reader)[0]
    assert "Lot \ufffd nine" in text
    assert "\ufffd lane" in text
    assert text.count("pad \ufffd") >= 1
    assert family not in text


def test_two_hundred_characters_stay_on_the_paper(tmp_path: Path) -> None:
    name = "W" * 200
    tables = copy.deepcopy(MINIMAL) | {"name": name, "place": "very " * 39 + "far"}
    tables["frost"]["source"] = "q" * 200
    plan = planned(tables)
    plan = signed(plan, plan.steppings[0].name)
    reader = papers(plan, tmp_path, "official")["official"]
    joined = "".join("".join(text.split()) for text in texts(reader))
    assert name in joined
    assert "q" * 200 in joined
    for page in reader.pages:
        xs: list[float] = []

        def seen(
            text: str, cm: list[float], tm: list[float], font: Any, size: float, xs: list[float] = xs
        ) -> None:
            if text.strip():
                xs.append(tm[4] * cm[0] + cm[4])

        page.extract_text(visitor_text=seen)
        assert xs
        assert min(xs) > 0
        assert max(xs) < float(page.mediabox.width)


def test_a_job_of_eight_entries_makes_all_papers(tmp_path: Path) -> None:
    plan = planned(copy.deepcopy(MINIMAL))
    found = papers(signed(plan, plan.steppings[0].name), tmp_path, "set", "client")
    text = " ".join(sheet_texts(found["set"])["Rods and steps"].split())
    assert "No benchmark" in text
    assert "Unnamed job" in text
    assert "size to confirm" in " ".join(sheet_texts(found["set"])["Footings"].split())
    assert "is not known until the finished ground is given" in " ".join(texts(found["client"])[0].split())


def test_a_metric_job_speaks_metres(tmp_path: Path) -> None:
    tables = copy.deepcopy(MINIMAL) | {"units": "metric"}
    plan = planned(tables)
    reader = papers(signed(plan, plan.steppings[0].name), tmp_path, "form crew")["form crew"]
    text = "".join(texts(reader))
    assert "Units: metres" in text
    assert "Scale 1:" in text
    assert "'-" not in text


def test_the_type_is_read_as_another_library_reads_it() -> None:
    # The shapes that FreeType finds in the same files, [derived] by its own reading of the character map.
    for name in FONTS:
        path = places.data("fonts", name)
        assert characters_of(path.read_bytes()) == set(FT2Font(str(path)).get_charmap())
    for character in "▲■◧□☐°²³×−–—…′″Жяñ\ufffd":
        assert printable(character) == character


def test_turned_and_joined_text_is_laid_plain() -> None:
    assert printable("a\u202eb\u200dc\td\n\ne\x00") == "abc d e\ufffd"
    assert printable("\U0001f9f1\U0001f3d7 x") == "\ufffd x"
    long = "x" * 200
    assert breakable(long).replace("\u200b", "") == long
    assert max(map(len, breakable(long).split("\u200b"))) == LONGEST_WORD
    assert breakable("204'-8\" to 206'-8\"") == "204'-8\" to 206'-8\""


def test_the_template_reads_nothing_and_runs_nothing() -> None:
    text = TEMPLATE.read_text(encoding="utf-8")
    for word in ("import", "include", "read(", "eval(", "plugin", "@preview", "http"):
        assert word not in text.replace("never read as", ""), word
