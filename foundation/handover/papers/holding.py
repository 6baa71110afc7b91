"""Which sheets an unread STOP holds back, and what such a sheet shows instead."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from foundation.handover.as_text import caution_text, initialled, place_text
from foundation.handover.papers.blocks import Block, Sheet, paragraph
from foundation.model.caution import Caution, Severity
from foundation.plan import Plan

CONCERNS = {
    "layout": ("layout",),
    "footings": ("footings",),
    "rods": ("layout", "footings"),
    "walls": ("walls",),
    "foam": ("foam",),
    "floors": ("floors",),
    "official": ("official",),
    "client": ("client",),
    "inspection": ("stages",),
}
"""For each sheet the names by which the register holds it back; the others are never held back."""


def all_cautions(plan: Plan, answer: str, floors: Any = None) -> tuple[Caution, ...]:
    """Cautions of an answer and of its warm floors, worst first.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the answer.
    floors : object or None
        The warm floors.

    Returns
    -------
    tuple of Caution
        STOP before WARN before NOTE, then by the register's number; each once.
    """
    found = [*plan.cautions[answer], *getattr(floors, "cautions", ())]
    once = {(each.trap.key, each.where, each.sentence): each for each in found}.values()
    return tuple(sorted(once, key=lambda each: (-each.trap.severity, each.trap.number)))


def stops_on(key: str, cautions: Iterable[Caution]) -> list[Caution]:
    """The STOPs that concern a sheet.

    Parameters
    ----------
    key : str
        The sheet.
    cautions : iterable of Caution
        All cautions.

    Returns
    -------
    list of Caution
        Read or not.
    """
    concerns = set(CONCERNS.get(key, ()))
    return [
        each for each in cautions if each.trap.severity is Severity.STOP and concerns & set(each.trap.sheets)
    ]


def unread_on(key: str, cautions: Iterable[Caution], plan: Plan) -> list[Caution]:
    """The STOPs that hold a sheet back.

    Parameters
    ----------
    key : str
        The sheet.
    cautions : iterable of Caution
        All cautions.
    plan : Plan
        The plan, whose project keeps the record of initials.

    Returns
    -------
    list of Caution
        Those that nobody has initialled.
    """
    return [each for each in stops_on(key, cautions) if initialled(each, plan.project) is None]


def stop_name(caution: Caution) -> str:
    """What a STOP is called.

    Parameters
    ----------
    caution : Caution
        The STOP.

    Returns
    -------
    str
        Its name in words.
    """
    return caution.trap.key.replace("-", " ")


def held_back(sheet: Sheet, stops: list[Caution], system: str) -> Sheet:
    """A sheet that names what holds it back, in place of its content.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    stops : list of Caution
        What holds it back.
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    Sheet
        Without any of its numbers.
    """
    words = "one STOP has" if len(stops) == 1 else f"{len(stops)} STOPs have"
    notice = {
        "kind": "held",
        "text": f"The {sheet.title.lower()} sheet is not printed until {words} been read and initialled. "
        "The numbers stand on the cautions sheet.",
        "stops": [
            {
                "name": stop_name(each),
                "place": place_text(each, system),
                "rule": each.trap.rule,
                "decides": each.trap.decides,
            }
            for each in stops
        ],
    }
    return Sheet(sheet.key, sheet.title, sheet.question, (notice,))


def read_stops(key: str, cautions: Iterable[Caution], plan: Plan) -> list[Block]:
    """The STOPs of a sheet that someone has read: they stay printed.

    Parameters
    ----------
    key : str
        The sheet.
    cautions : iterable of Caution
        All cautions.
    plan : Plan
        The plan.

    Returns
    -------
    list of dict
        A paragraph for each.
    """
    found = []
    for each in stops_on(key, cautions):
        read = initialled(each, plan.project)
        if read is not None:
            system = plan.project.units
            found.append(
                paragraph(
                    f"■ STOP {stop_name(each)}, {place_text(each, system)}: {caution_text(each, system)} "
                    f"Read by {read.who} ({read.role}), {read.date.isoformat()}."
                )
            )
    return found
