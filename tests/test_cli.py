"""The command line: what it prints, its exit codes, and no traceback whatever is typed."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from foundation import __version__
from foundation.cli import main


@pytest.fixture
def demo_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["demo", str(tmp_path / "lot")]) == 0
    capsys.readouterr()
    return tmp_path / "lot" / "fallow-fen.toml"


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out == f"foundation {__version__}\n"


def test_demo_writes_a_project_once(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 'depth = "54 in"' in demo_file.read_text(encoding="utf-8")
    assert sorted(path.name for path in demo_file.parent.iterdir()) == ["fallow-fen.toml", "shots.csv"]
    assert main(["demo", str(demo_file.parent)]) == 2
    assert "overwritten" in capsys.readouterr().err


def test_plan_prints_the_schedule(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(demo_file)]) == 0
    out = capsys.readouterr().out
    assert "204'-8\" (204.67 ft)" in out
    assert "floor build-up" in out
    assert "not engineering advice" in out


def test_plan_json(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(demo_file), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["rules"]["rise"]["unit"] == "m"


def test_unknown_answer_lists_the_known(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(demo_file), "--answer", "cheapest"]) == 2
    assert "least cost, fewest steps, no fillers" in capsys.readouterr().err


def test_check_fails_while_a_stop_is_unread(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = demo_file.read_text(encoding="utf-8").replace('source = "town office, clerk"\n', "", 1)
    demo_file.write_text(text, encoding="utf-8")
    assert main(["check", str(demo_file)]) == 1
    out = capsys.readouterr().out
    assert "STOP" in out
    assert "who gave it" in out
    initials = '\n[[initials]]\ncaution = "frost-depth-unsourced frost depth"\nnumber = ""\n'
    initials += 'who = "JB"\ndate = 2026-03-04\n'
    demo_file.write_text(text + initials, encoding="utf-8")
    main(["check", str(demo_file)])
    out = capsys.readouterr().out
    assert "Read by JB, 2026-03-04." in out


@pytest.mark.parametrize(
    "text",
    ["", "schema = 1", "not toml at all", "schema = 99", "\ufeffschema = 1", "a" * 20000],
)
def test_broken_files_end_in_sentences(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str) -> None:
    path = tmp_path / "broken.toml"
    path.write_text(text, encoding="utf-8")
    for command in ("plan", "check"):
        assert main([command, str(path)]) == 2
        told = capsys.readouterr().err
        assert told.startswith("broken.toml: ")
        assert "Traceback" not in told


def test_missing_file_and_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(tmp_path / "none.toml")]) == 2
    assert "none.toml" in capsys.readouterr().err
    assert main(["plan", str(tmp_path)]) == 2
    assert main(["dashboard", str(tmp_path / "none.toml")]) == 2


def test_infeasible_input_names_both_rules(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = demo_file.read_text(encoding="utf-8").replace(
        'set = "trade-24"', 'set = "trade-24"\ntallest_wall = "12 ft"'
    )
    demo_file.write_text(text, encoding="utf-8")
    assert main(["plan", str(demo_file)]) == 2
    told = capsys.readouterr().err
    assert "frost asks for" in told
    assert "the tallest wall for" in told
    assert "What would free it: a wall of 13'-0\"" in told


def test_module_runs_as_a_program() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "foundation.cli", "doctor"], capture_output=True, text=True, check=False
    )
    assert done.stdout.startswith(f"foundation {__version__} on Python")
    assert "Traceback" not in done.stderr
