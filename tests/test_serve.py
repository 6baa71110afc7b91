"""What the launcher refuses before it starts anything; a server that runs is in tests/browser."""

from __future__ import annotations

import importlib.util
import socket
from pathlib import Path

import pytest

from foundation.serve import ServeError, serve


def test_taken_port_is_named() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(
            ServeError, match=rf"Port {port} on 127\.0\.0\.1 cannot be used .* choose another port\."
        ):
            serve(port=port, open_browser=False)


@pytest.mark.parametrize("port", [-1, 70_000])
def test_port_out_of_range_is_named(port: int) -> None:
    with pytest.raises(ServeError, match=rf"Port {port} .* from 0 to 65535"):
        serve(port=port, open_browser=False)


def test_missing_project_is_named(tmp_path: Path) -> None:
    with pytest.raises(ServeError, match=r"There is no project file .*fen\.toml"):
        serve(tmp_path / "fen.toml", open_browser=False)


def test_missing_part_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    found = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name, *rest: None if name == "ipykernel" else found(name, *rest)
    )
    with pytest.raises(ServeError, match=r"The page needs ipykernel, which .* does not have"):
        serve(open_browser=False)
