"""Reads back the tables that a page shows, as a browser would: well-formed, or the test fails."""

from __future__ import annotations

from xml.etree import ElementTree


def tree(text: str) -> ElementTree.Element:
    """The HTML of a page as a tree; it must be well-formed, whatever names a user gave."""
    return ElementTree.fromstring(f"<div>{text}</div>")


def cells(text: str) -> list[dict[str, str]]:
    """Every row of the tables in a text, cell by cell under the head that it names."""
    return [
        {cell.get("data-head", ""): " ".join("".join(cell.itertext()).split()) for cell in row.findall("td")}
        for row in tree(text).iter("tr")
        if row.find("td") is not None
    ]


def words(text: str) -> str:
    """All that a text says, without its tags."""
    return " ".join(" ".join(tree(text).itertext()).split())
