"""Where shipped data and the user's own folder are found."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from foundation import places


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "top" / "foundation"
    folder.mkdir(parents=True)
    monkeypatch.setattr(places, "PACKAGE", folder)
    return folder


def put(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("x")
    return path


def test_this_installation_is_complete() -> None:
    assert places.data("demo", "shots.csv").is_file()
    assert places.notebooks("planner.ipynb").is_file()


def test_a_checkout_is_found(package: Path) -> None:
    file = put(package.parent / "data" / "demo" / "a.csv")
    assert places.data("demo", "a.csv") == file
    assert places.data() == file.parent.parent


def test_a_wheel_comes_first(package: Path) -> None:
    put(package.parent / "data" / "a.csv")
    file = put(package / "_share" / "data" / "a.csv")
    assert places.data("a.csv") == file


def test_stale_copies_elsewhere_on_the_path_are_left_alone(
    package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An editable install copies force-included folders to site-packages, where they grow old."""
    put(tmp_path / "site-packages" / "foundation" / "_share" / "notebooks" / "a.ipynb")
    monkeypatch.syspath_prepend(tmp_path / "site-packages")
    file = put(package.parent / "notebooks" / "a.ipynb")
    assert places.notebooks("a.ipynb") == file


def test_what_is_missing_is_named(package: Path) -> None:
    with pytest.raises(FileNotFoundError) as caught:
        places.data("demo", "none.csv")
    assert str(caught.value) == (
        f'"data/demo/none.csv" is neither in {package / "_share"} nor in {package.parent}: '
        "install the package again."
    )


@pytest.mark.parametrize("parts", [("..", "secret"), ("/etc/hostname",), ("demo", "..", "..", "secret")])
def test_nothing_outside_is_handed_out(package: Path, parts: tuple[str, ...]) -> None:
    put(package.parent / "secret")
    with pytest.raises(ValueError, match="leads out of the folder data"):
        places.data(*parts)


def test_the_users_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOUNDATION_HOME", str(tmp_path / "own" / "place"))
    assert places.user_folder() == tmp_path / "own" / "place"
    assert places.user_folder().is_dir()
    monkeypatch.delenv("FOUNDATION_HOME")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "local"))
    for platform, expected in {
        "linux": tmp_path / "state",
        "darwin": tmp_path / "home" / "Library" / "Application Support",
        "win32": tmp_path / "local",
    }.items():
        monkeypatch.setattr(sys, "platform", platform)
        assert places.user_folder() == expected / "frost-depth-foundation"
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("XDG_STATE_HOME", "relative")
    assert places.user_folder() == tmp_path / "home" / ".local" / "state" / "frost-depth-foundation"


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOUNDATION_HOME", str(put(tmp_path / "file") / "below"))
    with pytest.raises(OSError, match="set FOUNDATION_HOME to a folder that can be written"):
        places.user_folder()
