"""The wheel in an empty environment, used from another folder: commands, and the dashboard in a real browser.

It installs from the package registry, so it is run by name (`pytest tests/wheel`) and not with the rest.
"""

from __future__ import annotations

import os
import subprocess
import sys
import venv
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from foundation import __version__
from tests.browser.harness.server import Server, running
from tests.browser.harness.watch import WatchedPage

ROOT = Path(__file__).parents[2]
CONSTRAINTS = ROOT / ".ci" / "constraints.txt"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("dist")
    subprocess.run([sys.executable, "-m", "build", "--wheel", "--outdir", str(folder), str(ROOT)], check=True)
    [built] = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Python of an environment that holds the wheel and what it asks for, nothing else."""
    folder = tmp_path_factory.mktemp("empty")
    venv.create(folder, with_pip=True)
    inside = folder / ("Scripts" if os.name == "nt" else "bin") / "python"
    subprocess.run([inside, "-m", "pip", "install", "-q", "-c", str(CONSTRAINTS), str(wheel)], check=True)
    return inside


def test_wheel_holds_what_it_needs(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for needed in (
        "foundation/py.typed",
        "foundation/_share/data/demo/fallow-fen.toml",
        "foundation/_share/data/demo/shots.csv",
        "foundation/_share/notebooks/planner.ipynb",
        "foundation/_share/notebooks/client.ipynb",
        "foundation/handover/papers/page.typ",
        "foundation/dashboard/template/pages.css",
        "foundation/dashboard/chart.js",
    ):
        assert needed in names
    assert any(name.endswith("licenses/LICENSE") for name in names)
    assert not any(name.startswith("tests/") for name in names)


def test_commands_from_another_folder(python: Path, tmp_path: Path) -> None:
    command = python.with_name("foundation")

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run([command, *words], cwd=tmp_path, capture_output=True, text=True, check=False)

    assert run("--version").stdout == f"foundation {__version__}\n"
    assert run("demo", "lot").returncode == 0
    planned = run("plan", "lot/fallow-fen.toml")
    assert planned.returncode == 0, planned.stderr
    assert "204'-8\" (204.67 ft)" in planned.stdout
    assert run("doctor").stdout.count("missing") == 0


@pytest.fixture(scope="module")
def server(python: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = tmp_path_factory.mktemp("elsewhere")
    subprocess.run([python.with_name("foundation"), "demo", "lot"], cwd=folder, check=True)
    start = (
        f"import os; os.chdir({str(folder)!r}); from pathlib import Path; from foundation.serve import serve; "
        "serve(Path('lot/fallow-fen.toml'), port=0, open_browser=False)"
    )
    with running([str(python), "-c", start], PYTHONPATH="") as started:
        yield started


def test_dashboard_opens(watched: WatchedPage, server: Server) -> None:
    page = watched.open(server.address)
    expect(page.get_by_role("heading", level=1, name="How deep, and where does it step?")).to_be_visible()
    page.wait_for_selector(".foundation-chart[data-drawn]")
