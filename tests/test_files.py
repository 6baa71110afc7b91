"""Saving whole or not at all, by faults put in at every point, and reading text."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from foundation import files
from foundation.files import FileError, read_text, write_atomically

OLD = "old\n" * 200_000
NEW = "new\n" * 300_000


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "project.toml"
    path.write_text(OLD)
    return path


def test_text_and_bytes_are_saved_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / "Größe 12'.toml"
    write_atomically(path, "a = '½'\r\n")
    assert path.read_bytes() == b"a = '\xc2\xbd'\r\n"
    write_atomically(str(path), b"\x00\xff")
    assert path.read_bytes() == b"\x00\xff"
    assert list(tmp_path.iterdir()) == [path]


def test_permissions_and_links_stay(tmp_path: Path, plan: Path) -> None:
    plan.chmod(0o640)
    link = tmp_path / "link.toml"
    link.symlink_to(plan)
    write_atomically(link, NEW)
    assert link.is_symlink()
    assert plan.read_text() == NEW
    assert plan.stat().st_mode & 0o777 == 0o640


def test_a_new_file_gets_the_usual_permissions(tmp_path: Path) -> None:
    (tmp_path / "usual").write_text("")
    write_atomically(tmp_path / "fresh", "")
    assert (tmp_path / "fresh").stat().st_mode == (tmp_path / "usual").stat().st_mode


class HalfWritten:
    """A file on a disk that fills up half way through a write."""

    def __init__(self, path: Path, mode: str) -> None:
        self.file = open(path, mode)  # noqa: SIM115, the caller closes it

    def __enter__(self) -> HalfWritten:
        return self

    def __exit__(self, *_: object) -> None:
        self.file.close()

    def write(self, content: bytes) -> None:
        self.file.write(content[: len(content) // 2])
        self.file.flush()
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize("fault", ["write", "fsync", "copymode", "replace"])
def test_a_fault_leaves_the_old_file_and_nothing_else(
    plan: Path, monkeypatch: pytest.MonkeyPatch, fault: str
) -> None:
    def fail(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        if fault == "write":
            patch.setattr(files, "open", HalfWritten, raising=False)
        else:
            patch.setattr(files.shutil if fault == "copymode" else files.os, fault, fail)
        with pytest.raises(FileError) as caught:
            write_atomically(plan, NEW)
    assert str(caught.value) == (
        f'"{plan}" could not be saved: No space left on device. What was there before is unchanged.'
    )
    assert plan.read_text() == OLD
    assert list(plan.parent.iterdir()) == [plan]


def test_an_interruption_is_not_swallowed(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(files.os, "replace", interrupt)
        with pytest.raises(KeyboardInterrupt):
            write_atomically(plan, NEW)
    assert plan.read_text() == OLD
    assert list(plan.parent.iterdir()) == [plan]


KILLED = """
import os, signal, sys
from foundation.files import write_atomically
path, at = sys.argv[1], int(sys.argv[2])
events = 0
def count(frame, event, argument):
    global events
    events += 1
    if events == at:
        os.kill(os.getpid(), signal.SIGKILL)
sys.setprofile(count)
write_atomically(path, "new\\n" * 300_000)
sys.setprofile(None)
print(events)
"""


def save_and_kill(path: Path, at: int) -> subprocess.CompletedProcess[str]:
    """Save in a process of its own, which dies at its nth call or return, 0 for never."""
    return subprocess.run(
        [sys.executable, "-c", KILLED, str(path), str(at)], capture_output=True, text=True, check=False
    )


def test_a_killed_process_leaves_the_old_file_or_the_new(plan: Path) -> None:
    """Twenty deaths spread over all calls of a save; the loss of power is beyond a test."""
    whole = save_and_kill(plan, 0)
    assert plan.read_text() == NEW
    events = int(whole.stdout)
    found = []
    for death in range(20):
        plan.write_text(OLD)
        killed = save_and_kill(plan, 1 + death * (events - 2) // 19)
        assert killed.returncode == -signal.SIGKILL
        found.append(plan.read_text())
    assert set(found) == {OLD, NEW}
    assert found == sorted(found, reverse=True)


def test_what_cannot_be_saved_is_said(tmp_path: Path, plan: Path) -> None:
    with pytest.raises(FileError, match="could not be saved: No such file or directory"):
        write_atomically(tmp_path / "none" / "a.toml", "x")
    with pytest.raises(FileError, match="could not be saved: Is a directory"):
        write_atomically(tmp_path, "x")
    with pytest.raises(FileError, match="half a character at place 1"):
        write_atomically(plan, "a\ud800")
    assert plan.read_text() == OLD
    assert list(tmp_path.iterdir()) == [plan]


@pytest.mark.parametrize(
    ("content", "text"),
    [
        (b"", ""),
        (b"a\nb", "a\nb"),
        (b"\xef\xbb\xbf12\xe2\x80\xb2", "12′"),
        (b"a\r\nb\rc\n", "a\nb\nc\n"),
        ("½\r\n".encode("utf-16"), "½\n"),
        (b"\xfe\xff" + "½".encode("utf-16-be"), "½"),
    ],
)
def test_text_is_read(tmp_path: Path, content: bytes, text: str) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(content)
    assert read_text(path) == text
    assert read_text(str(path)) == text


def test_what_cannot_be_read_is_said(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"

    def sentence() -> str:
        with pytest.raises(FileError) as caught:
            read_text(path)
        return str(caught.value)

    assert sentence() == f'There is no file "{path}": check its name and folder.'
    path.write_bytes(b"ok\nna\xefve\n")
    assert sentence() == (
        f'"{path}" is not UTF-8 text: line 2 holds the byte 0xef. Save it again with the encoding UTF-8.'
    )
    path.write_bytes(b"\xff\xfea")
    assert sentence().startswith(f'"{path}" is not UTF-16 text: line 1')
    path.write_bytes(b"x" * (files.LARGEST + 1))
    assert sentence() == f'"{path}" is larger than 10 MB: split it or name another file.'
    path.write_bytes(b"x" * files.LARGEST)
    assert len(read_text(path)) == files.LARGEST
    path.unlink()
    path.mkdir()
    assert sentence() == f'"{path}" is a folder: name a file in it.'
    path.rmdir()
    os.mkfifo(path)
    assert sentence() == f'"{path}" is not an ordinary file: name one that is.'
