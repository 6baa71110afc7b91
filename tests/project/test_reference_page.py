"""The reference pages are what the code says now."""

from __future__ import annotations

from pathlib import Path

from foundation.handover.as_json import key_reference
from foundation.project.reference import reference_page

DOCS = Path(__file__).parents[2] / "docs"


def test_project_file_page_is_up_to_date() -> None:
    assert (DOCS / "project-file.md").read_text(encoding="utf-8") == reference_page()


def test_json_page_is_up_to_date() -> None:
    assert (DOCS / "plan-json.md").read_text(encoding="utf-8") == key_reference()
