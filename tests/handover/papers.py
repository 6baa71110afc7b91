"""For the tests of the papers: initials under every STOP, papers read back, and what their pages draw."""

from __future__ import annotations

import dataclasses
import datetime
import functools
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from foundation.handover.as_text import tripping_number
from foundation.handover.papers import make_papers
from foundation.model.caution import Severity
from foundation.plan import Plan
from foundation.project.schema import Initials

HASH = "3f9c2a71d0"
DAY = "2026-11-25"
MILLIMETRES = 25.4 / 72
"""A point. [mm]"""


def signed(plan: Plan, answer: str) -> Plan:
    """The plan with every STOP of an answer initialled by an invented engineer."""
    initials = [
        Initials(
            caution=f"{each.trap.key} {each.where}",
            number=tripping_number(each),
            who="I. N. Vented",
            date=datetime.date(2026, 11, 20),
            role="engineer",
        )
        for each in plan.cautions[answer]
        if each.trap.severity is Severity.STOP
    ]
    return dataclasses.replace(plan, project=plan.project.model_copy(update={"initials": initials}))


def papers(plan: Plan, folder: Path, *readers: str, **more: Any) -> dict[str, PdfReader]:
    """Papers of the first answer, by reader."""
    wanted = more.pop("answer", plan.steppings[0].name)
    paths = make_papers(plan, wanted, folder, readers=readers, printed=DAY, revision=HASH, **more)
    return {reader: PdfReader(path) for reader, path in zip(readers, paths, strict=True)}


@functools.lru_cache(maxsize=8)
def texts(reader: PdfReader) -> tuple[str, ...]:
    """Text of each page, without the places where a long word may break; read once, for it takes a while."""
    return tuple(page.extract_text().replace("\u200b", "") for page in reader.pages)


def sheet_texts(reader: PdfReader) -> dict[str, str]:
    """Text of each sheet, by its title: the first line of its pages."""
    found: dict[str, str] = {}
    for text in texts(reader):
        title = text.split("\n")[0]
        found[title] = found.get(title, "") + text + "\n"
    return found


@dataclasses.dataclass(frozen=True)
class Segment:
    """A straight stroke or an edge of an area on paper, in millimetres; its line's width, 0 for an area."""

    start: tuple[float, float]
    end: tuple[float, float]
    width: float

    @property
    def length(self) -> float:
        return math.dist(self.start, self.end)

    @property
    def level(self) -> bool:
        return abs(self.start[1] - self.end[1]) < 0.02

    @property
    def upright(self) -> bool:
        return abs(self.start[0] - self.end[0]) < 0.02


def segments(reader: PdfReader, page: PageObject) -> Iterator[Segment]:
    """Straight pieces that a page's own content stream draws (ISO 32000-1, 8.4.4 and 8.5 [memory])."""
    content = page.get_contents()
    assert content is not None
    matrix, stack = np.eye(3), []
    width = 1.0
    here: list[tuple[tuple[float, float], tuple[float, float]]] = []
    at = first = (0.0, 0.0)

    def place(x: float, y: float) -> tuple[float, float]:
        spot = np.array([x, y, 1.0]) @ matrix * MILLIMETRES
        return float(spot[0]), float(spot[1])

    for operands, operator in ContentStream(content, reader).operations:
        name = operator.decode()
        numbers = [float(each) for each in operands] if name in ("cm", "m", "l", "c", "re", "w") else []
        if name == "q":
            stack.append((matrix, width))
        elif name == "Q":
            matrix, width = stack.pop()
        elif name == "cm":
            a, b, c, d, e, f = numbers
            matrix = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ matrix
        elif name == "w":
            width = numbers[0]
        elif name == "m":
            at = first = place(*numbers)
        elif name == "l":
            here.append((at, at := place(*numbers)))
        elif name == "c":
            at = place(*numbers[4:])
        elif name == "re":
            x, y, w, h = numbers
            corners = [place(x, y), place(x + w, y), place(x + w, y + h), place(x, y + h)]
            here += list(zip(corners, corners[1:] + corners[:1], strict=True))
        elif name == "h":
            here.append((at, first))
        if name in ("S", "s", "B", "b", "f", "F", "f*", "B*", "n"):
            drawn = name in ("S", "s", "B", "b", "B*")
            scale = math.sqrt(abs(np.linalg.det(matrix[:2, :2]))) * MILLIMETRES
            if name != "n":
                yield from (Segment(start, end, width * scale if drawn else 0.0) for start, end in here)
            here = []
