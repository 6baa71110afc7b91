"""What stands at the top of the repository, and what it promises."""

from __future__ import annotations

import json
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ALLOWED = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "environment.yml",
    "notebooks",
    "foundation",
    "data",
    "tests",
    "LICENSE",
    "CHANGELOG.md",
    "SECURITY.md",
    "docs",
}


def tracked() -> set[str]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.fail("The tests run in a git checkout, as the README says.")
    return {line.split("/")[0] for line in listed.stdout.splitlines()}


def test_top_level_holds_what_it_should() -> None:
    assert {name for name in tracked() if not name.startswith(".")} == ALLOWED


def test_environment_installs_the_package_with_its_test_extra() -> None:
    lines = (ROOT / "environment.yml").read_text(encoding="utf-8").splitlines()
    assert "      - -e .[test]" in lines
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"][
        "optional-dependencies"
    ]
    assert "test" in extras


def test_every_dependency_has_bounds_and_a_notice() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    notices = (ROOT / "docs" / "third-party-notices.md").read_text(encoding="utf-8")
    for requirement in project["dependencies"]:
        name = requirement.split(">=")[0]
        assert ">=" in requirement, requirement
        assert ",<" in requirement, requirement
        assert name in notices, name


def test_notebooks_are_thin_and_without_outputs() -> None:
    for path in sorted((ROOT / "notebooks").rglob("*.ipynb")):
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            source = "".join(cell["source"])
            assert "def " not in source, path
            assert cell.get("outputs", []) == [], path
