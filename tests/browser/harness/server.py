"""Start a page's server as its own process and stop it again."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import nbformat

ROOT = Path(__file__).parents[3]
ADDRESS = re.compile(r"http://127\.0\.0\.1:\d+/")


def write_notebook(folder: Path, *sources: str, title: str = "Foundation planner") -> Path:
    """A notebook of one cell each, for pages that exist only to be tested."""
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(source) for source in sources],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}, "title": title},
    )
    path = folder / "page.ipynb"
    nbformat.write(notebook, path)
    return path


class Server:
    """A server under test.

    Parameters
    ----------
    address : str
        Where its page is.
    process : subprocess.Popen
        The server itself.
    log : Path
        What it and its kernels have written.
    """

    def __init__(self, address: str, process: subprocess.Popen[bytes], log: Path) -> None:
        self.address = address
        self.process = process
        self.log = log


@contextmanager
def running(command: list[str], **environment: str) -> Iterator[Server]:
    """Run a command that prints its page's address; Ctrl-C ends it."""
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "log"
        with log.open("wb") as output:
            process = subprocess.Popen(
                command,
                stdout=subprocess.PIPE,
                stderr=output,
                env={
                    **os.environ,
                    "PYTHONPATH": os.pathsep.join((str(ROOT), os.environ.get("PYTHONPATH", ""))),
                    "FOUNDATION_HOME": folder,  # the tests' errors do not belong in the user's own log
                    **environment,
                },
            )
        try:
            yield Server(_address(process, log), process, log)
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(timeout=60)
            assert process.stdout is not None
            process.stdout.close()


def _address(process: subprocess.Popen[bytes], log: Path) -> str:
    assert process.stdout is not None
    for line in process.stdout:
        if found := ADDRESS.search(line.decode()):
            # Whatever else it prints is read too, lest it waits for a reader.
            threading.Thread(target=process.stdout.read, daemon=True).start()
            return found.group()
    raise RuntimeError(f"The server ended before it gave an address:\n{log.read_text()}")


def free_port() -> int:
    """A port that nobody listens on. [-]"""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def planner_command(
    notebook: Path | None = None, project: Path | None = None, preheat: int = 0, first: str = ""
) -> list[str]:
    """Command that serves the planner, or a test's own notebook, on a free port, after another statement."""
    paths = ", ".join(
        f"{name}=pathlib.Path({str(path)!r})"
        for name, path in (("project", project), ("notebook", notebook))
        if path
    )
    code = (
        f"import pathlib; from foundation import serve; {first}\n"
        f"serve.serve(port=0, open_browser=False, preheat={preheat}, {paths})"
    )
    return [sys.executable, "-c", code]
