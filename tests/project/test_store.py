"""Project files are read with all their problems, edited with their comments, and saved whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from foundation import places
from foundation.project import ProjectError, load, read_document, save, set_value


@pytest.fixture
def project_file(tmp_path: Path) -> Path:
    for source in places.data("demo").iterdir():
        (tmp_path / source.name).write_bytes(source.read_bytes())
    return tmp_path / "fallow-fen.toml"


def test_load_reads_the_shots_beside_it(project_file: Path) -> None:
    job = load(project_file)
    assert job.project.name == "Fallow Fen, lot 6"
    assert job.survey.startswith("point,northing")


def test_missing_shot_file_is_named(project_file: Path) -> None:
    (project_file.parent / "shots.csv").unlink()
    with pytest.raises(ProjectError, match=r"fallow-fen\.toml: ground\.shots: .*shots\.csv"):
        load(project_file)


def test_the_weather_file_lies_beside_it(project_file: Path) -> None:
    document = read_document(project_file.read_text(encoding="utf-8"))
    assert load(project_file).weather == ""
    set_value(document, "climate.weather", "lot.csv")
    save(project_file, document)
    with pytest.raises(ProjectError, match=r"fallow-fen\.toml: climate\.weather: .*lot\.csv"):
        load(project_file)
    (project_file.parent / "lot.csv").write_text("date,mean [°F]\n", encoding="utf-8")
    assert load(project_file).weather == "date,mean [°F]\n"


@pytest.mark.parametrize(
    "text", ["", "schema = ", "schema = 1\nschema = 1", "\x00", "[frost]\ndepth = '54 in'"]
)
def test_broken_files_end_in_sentences(project_file: Path, text: str) -> None:
    project_file.write_text(text)
    with pytest.raises(ProjectError) as raised:
        load(project_file)
    assert str(raised.value).startswith("fallow-fen.toml: ")
    assert raised.value.problems


def test_comments_and_order_stay(project_file: Path) -> None:
    document = read_document(project_file.read_text(encoding="utf-8"))
    set_value(document, "frost.depth", "48 in")
    set_value(document, "revision", "B")
    set_value(document, "parts[1].sized_by", "engineer of record")
    set_value(document, "parts[2].heated", None)
    save(project_file, document)
    text = project_file.read_text(encoding="utf-8")
    assert "# Demo lot: place and every number invented." in text
    assert "# rise over run beside the basement, as dug" in text
    assert text.index("[frost]") < text.index("[corners]")
    project = load(project_file).project
    assert project.revision == "B"
    assert project.frost.depth == pytest.approx(4 * 0.3048, abs=1e-12)
    assert project.parts[0].sized_by == "engineer of record"
    assert project.parts[1].heated is None


def test_set_value_makes_lists_and_refuses_gaps(project_file: Path) -> None:
    document = read_document(project_file.read_text(encoding="utf-8"))
    set_value(document, "levels.marks[3].name", "BM3")
    set_value(document, "extras[1].name", "stoop")
    assert document.unwrap()["levels"]["marks"][2] == {"name": "BM3"}
    assert document.unwrap()["extras"] == [{"name": "stoop"}]
    with pytest.raises(KeyError, match="no entry 9"):
        set_value(document, "levels.marks[9].name", "BM9")
