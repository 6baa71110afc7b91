"""The small slab as a client sees it: one price and the fuel are confirmed."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import tomlkit

from tests.studies.option_lots import tables

DAY = "2026-11-02"
JARGON = (Path(__file__).parent / "jargon.txt").read_text(encoding="utf-8").splitlines()


def client_tables(quoted: bool = True) -> dict[str, Any]:
    """The slab's tables, its prices quoted or not."""
    made = tables(prices={"concrete": "$190/yd³"})
    made["name"] = "Fen <b>Lot</b> 9"
    if quoted:
        made["prices"]["quoted"] = made["fuel"]["quoted"] = DAY
        made["foam_prices"]["boards"][0]["quoted"] = DAY
    return made


def client_text(quoted: bool = True) -> str:
    """The same as the text of a project file."""
    return tomlkit.dumps(client_tables(quoted))


def jargon_in(text: str) -> list[str]:
    """Words of the list that a text holds, alone or before an s."""
    words = [line for line in JARGON if line and not line.startswith("#")]
    kept = {"STOP", "WARN", "NOTE"}  # marks of the working pages; "Stop" on a button is everybody's word
    return [
        word
        for word in words
        if re.search(rf"(?<![\w-]){re.escape(word)}s?(?![\w-])", text, 0 if word in kept else re.IGNORECASE)
    ]
