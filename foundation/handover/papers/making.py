"""Makes the papers: one PDF for each reader, and the set."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Literal

import typst

from foundation import files, places
from foundation.drawings.labels import REFERENCE
from foundation.handover.as_text import DISCLAIMER
from foundation.handover.papers.blocks import Sheet, worded
from foundation.handover.papers.content import Content
from foundation.handover.papers.holding import CONCERNS, all_cautions, held_back, read_stops, unread_on
from foundation.handover.papers.lettering import FONTS, breakable
from foundation.handover.papers.on_paper import PAPERS
from foundation.handover.papers.sheets_checks import decide_sheet, inspection_sheet
from foundation.handover.papers.sheets_client import client_sheet
from foundation.handover.papers.sheets_floor import floor_sheet
from foundation.handover.papers.sheets_foam import foam_sheet
from foundation.handover.papers.sheets_footings import footing_sheet, rod_sheet
from foundation.handover.papers.sheets_layout import layout_sheet
from foundation.handover.papers.sheets_log import caution_sheet, input_sheet
from foundation.handover.papers.sheets_official import official_sheet
from foundation.handover.papers.sheets_walls import wall_sheet
from foundation.model.heat import HouseHeat
from foundation.model.takeoff import TakeOff
from foundation.plan import Plan

TEMPLATE = Path(__file__).parent / "page.typ"
SHEETS = (
    "layout",
    "footings",
    "rods",
    "walls",
    "foam",
    "floors",
    "official",
    "client",
    "inspection",
    "cautions",
    "inputs",
    "decide",
)
"""All sheets, in the order of the set."""
READERS: Mapping[str, tuple[str, ...]] = {
    "excavator": ("layout", "footings", "rods", "cautions"),
    "form crew": ("layout", "rods", "footings", "walls", "inspection", "cautions"),
    "plumber": ("floors", "foam", "decide", "cautions"),
    "official": ("official", "footings", "walls", "foam", "cautions", "inputs"),
    "client": ("client",),
    "set": SHEETS,
}
"""For each reader the sheets that he gets, in his order."""
LONGEST_NAME = 60
"""More of a name than this does not go in the head of a page; the input log has it in full. [characters]"""


def make_papers(
    plan: Plan,
    answer: str,
    out_dir: str | Path,
    *,
    paper: Literal["letter", "tabloid"] = "letter",
    readers: Sequence[str] = tuple(READERS),
    heat: HouseHeat | None = None,
    floors: Any = None,
    takeoff: TakeOff | None = None,
    printed: str,
    revision: str,
) -> tuple[Path, ...]:
    """Make the papers of a job.

    A sheet that an unread STOP concerns shows that STOP in place of its content.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the answer that is built.
    out_dir : str or Path
        Folder that the files go to; it is made where it is missing.
    paper : {"letter", "tabloid"}
        Letter, or 11 × 17 in.
    readers : sequence of str
        Whose papers: keys of `READERS`.
    heat : HouseHeat or None
        What leaves through the ground, for the foam sheet and the client's page.
    floors : FloorsPlan or None
        Warm floors, for the plumber.
    takeoff : TakeOff or None
        What is ordered.
    printed : str
        Day of printing, as it is printed.
    revision : str
        Revision hash of inputs, tables and program, the same on all papers of a set.

    Returns
    -------
    tuple of Path
        The files, in the order of the readers; the same inputs make the same bytes.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    ValueError
        If a paper or a reader is not known.

    References
    ----------
    Typst sets the pages from data alone; the template never evaluates a text.
    """
    if paper not in PAPERS:
        raise ValueError(f'There is no paper "{paper}": take {" or ".join(PAPERS)}.')
    for reader in readers:
        if reader not in READERS:
            raise ValueError(f'There is no reader "{reader}": take {", ".join(READERS)}.')
    content = Content(plan, plan.stepping(answer), PAPERS[paper], heat, floors, takeoff)
    wanted = {key for reader in readers for key in READERS[reader]}
    sheets = _sheets(content, wanted)
    folder = Path(out_dir)
    folder.mkdir(parents=True, exist_ok=True)
    compiler = typst.Compiler(
        str(TEMPLATE), font_paths=[str(places.data("fonts", FONTS[0]).parent)], ignore_system_fonts=True
    )
    written = []
    for reader in readers:
        data = _document(content, [sheets[key] for key in READERS[reader]], reader, printed, revision)
        pdf = compiler.compile(format="pdf", sys_inputs={"data": json.dumps(data, ensure_ascii=False)})
        assert isinstance(pdf, bytes)  # one document is one file
        path = folder / f"{reader.replace(' ', '-')}-{paper}.pdf"
        files.write_atomically(path, pdf)
        written.append(path)
    return tuple(written)


def _sheets(content: Content, wanted: set[str]) -> dict[str, Sheet]:
    """The sheets by key, those held back without their content."""
    plan = content.plan
    cautions = all_cautions(plan, content.stepping.name, content.floors)
    unread = {key: unread_on(key, cautions, plan) for key in CONCERNS}
    held = {key for key, stops in unread.items() if stops}
    make = {
        "layout": lambda: layout_sheet(content, "footings" in held),
        "footings": lambda: footing_sheet(content),
        "rods": lambda: rod_sheet(content),
        "walls": lambda: wall_sheet(content),
        "foam": lambda: foam_sheet(content),
        "floors": lambda: floor_sheet(content),
        "official": lambda: official_sheet(content),
        "client": lambda: client_sheet(content),
        "inspection": lambda: inspection_sheet(content, held),
        "cautions": lambda: caution_sheet(content, cautions),
        "inputs": lambda: input_sheet(content),
        "decide": lambda: decide_sheet(content),
    }
    found = {}
    for key in SHEETS:
        if key not in wanted:
            continue
        sheet = make[key]()
        if key in held:
            sheet = held_back(sheet, unread[key], content.system)
        elif key != "client":
            read = read_stops(key, cautions, plan)
            blocks = (*sheet.blocks, *read) if key == "rods" else (*read, *sheet.blocks)
            sheet = Sheet(sheet.key, sheet.title, sheet.question, blocks)
        found[key] = sheet
    return found


def _document(
    content: Content, sheets: list[Sheet], reader: str, printed: str, revision: str
) -> dict[str, Any]:
    project, paper = content.plan.project, content.paper
    benchmark = content.book.benchmark
    us = content.system == "us"
    words = "feet, inches and sixteenths; decimal feet small" if us else "metres"
    if benchmark:
        words += f"; levels below benchmark {benchmark} and by rod"
    crew = f"Units: {words}. Dimensions {REFERENCE}. ▲ assumed, not typed. Answer: {content.stepping.name}."
    plain = f"Units: {'feet and inches' if us else 'metres'}. Dimensions {REFERENCE}."
    name = project.name or "Unnamed job"
    whose = "Set" if reader == "set" else f"For the {reader}"
    data = {
        "head": {
            "title": f"{name}: {whose}",
            "size": paper.type_size,
            "project": _short(name),
            "place": _short(project.place),
            "revision": project.revision,
            "hash": revision,
            "printed": printed,
            "disclaimer": DISCLAIMER,
        },
        "width": paper.width,
        "height": paper.height,
        "sheets": [
            {
                "title": sheet.title,
                "question": sheet.question,
                "reader": whose,
                "units": plain if sheet.key == "client" else crew,
                "blocks": list(sheet.blocks),
            }
            for sheet in sheets
        ],
    }
    return dict(worded(data, breakable))


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_NAME else text[: LONGEST_NAME - 1].rstrip() + "…"
