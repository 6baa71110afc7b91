"""What is poured stays: concrete that a change would move, told apart by the pours that have come so far."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import shapely

from foundation import units
from foundation.model.options import MovedConcrete
from foundation.model.problem import Problem
from foundation.model.walls import WallLine
from foundation.plan.lines import outline, slab_top
from foundation.plan.result import Plan
from foundation.project.schema_money import Pour

MOVES = 0.0005
"""Concrete that lies within half a millimetre, a third of the smallest length anyone types, has not moved. [m]"""
KINDS = {"footing": ("footing", "pad"), "wall": ("wall",), "slab": ("slab",)}
"""What a pour holds by the word in its name; a pour that names a part alone holds all of it."""
WHOLE = "place"
"""What moved where the thing itself stands elsewhere or is gone."""


@dataclass(frozen=True)
class _Span:
    """A stretch of a line with its levels and sizes."""

    start: float
    end: float
    values: Mapping[str, float]


def moved_concrete(before: Plan, after: Plan, answer: str) -> tuple[MovedConcrete, ...]:
    """Concrete of a plan that stands elsewhere in another one, or no longer.

    Lines are compared where they lie in plan, whatever they are called; concrete that is added beside is no move.

    Parameters
    ----------
    before, after : Plan
        The plans.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of MovedConcrete
        Footings, walls, slabs and pads.

    Raises
    ------
    KeyError
        If one of them has no such answer; the known ones are listed.
    """
    return (
        *_along_lines(before, after, "footing", lambda plan: _footings(plan, answer)),
        *_along_lines(before, after, "wall", lambda plan: _walls(plan, answer)),
        *_openings(before, after, answer),
        *_slabs(before, after),
        *_pads(before, after),
    )


def locked_changes(before: Plan, after: Plan, answer: str = "least cost") -> tuple[Problem, ...]:
    """What a change would move although it is poured; with any of it the change cannot be made.

    Parameters
    ----------
    before : Plan
        The plan that was built from, with its pours.
    after : Plan
        The plan with the change.
    answer : str
        Name of the stepping that is built.

    Returns
    -------
    tuple of Problem
        Fatal ones for what is poured; one that is not for a pour whose name does not say what it holds.

    Raises
    ------
    KeyError
        If one of them has no such answer; the known ones are listed.
    """
    return tuple(_told(before, moved_concrete(before, after, answer), "poured"))


def ordered_changes(before: Plan, after: Plan, answer: str = "least cost") -> tuple[Problem, ...]:
    """What a change moves although it is ordered: whoever has the order is told.

    Parameters
    ----------
    before : Plan
        The plan that was ordered from, with its pours.
    after : Plan
        The plan with the change.
    answer : str
        Name of the stepping that is built.

    Returns
    -------
    tuple of Problem
        None of them fatal.

    Raises
    ------
    KeyError
        If one of them has no such answer; the known ones are listed.
    """
    return tuple(_told(before, moved_concrete(before, after, answer), "ordered"))


def _told(before: Plan, moved: Sequence[MovedConcrete], state: str) -> Iterator[Problem]:
    parts = [part.name for part in before.project.parts]
    for number, pour in enumerate(before.project.pours, 1):
        if pour.state != state:
            continue
        place = f"pours[{number}]"
        holds = held_by(pour.name, parts)
        if holds is None:
            yield Problem(
                f"{place}.name",
                pour.name,
                f'Pour "{pour.name}" is {state}, but its name does not say what it holds: call it footings, walls or '
                "slab, with a part's name where it is one part's alone.",
                fatal=False,
            )
            continue
        kinds, part = holds
        for words in _sentences(before, [m for m in moved if m.kind in kinds and part in ("", m.part)]):
            yield Problem(place, pour.name, _sentence(pour, words, state), fatal=state == "poured")


def held_by(pour: str, parts: Sequence[str]) -> tuple[tuple[str, ...], str] | None:
    """What a pour holds, by its name.

    Parameters
    ----------
    pour : str
        Its name: ``footings``, ``walls``, ``slab``, a part's own such as ``garage slab``, or a part.
    parts : sequence of str
        Names of the parts.

    Returns
    -------
    tuple or None
        Kinds of concrete, and the part whose it is alone or "" for all; None where the name says neither.

    Examples
    --------
    >>> held_by("Garage slab", ["house", "garage"])
    (('slab',), 'garage')
    >>> held_by("footings", ["house", "garage"])
    (('footing', 'pad'), '')
    """
    text = pour.casefold()
    part = max((name for name in parts if name.casefold() in text), key=len, default="")
    rest = text.replace(part.casefold(), " ", 1) if part else text
    kinds = [kind for word, found in KINDS.items() if re.search(rf"\b{word}s?\b", rest) for kind in found]
    if not kinds and not part:
        return None
    return tuple(kinds or ("footing", "wall", "slab")), part


def _sentence(pour: Pour, words: str, state: str) -> str:
    since = f" since {pour.date.isoformat()}" if pour.date is not None else ""
    if state == "poured":
        do = "Keep it as it stands, or set the pour back to planned if it is not poured yet."
    else:
        do = "It is a change order: tell whoever has the order."
    return f'Pour "{pour.name}" is {state}{since}: this change moves {words}. {do}'


def _sentences(plan: Plan, moved: Iterable[MovedConcrete]) -> Iterator[str]:
    """What moves, one clause for each thing and what of it moves: the stretch that moves most."""
    groups: dict[tuple[str, str, str], list[MovedConcrete]] = {}
    for each in moved:
        groups.setdefault((each.kind, each.name, each.what), []).append(each)

    def say(value: float) -> str:
        return units.length(value, plan.project.units)

    for (kind, name, what), some in groups.items():
        worst = max(some, key=lambda m: math.inf if math.isnan(m.after) else abs(m.after - m.before))
        where = "" if math.isnan(worst.start) else f" between {say(worst.start)} and {say(worst.end)}"
        more = f" and {len(some) - 1} more stretches" if len(some) > 1 else ""
        if what == WHOLE:
            yield f"{kind} {name}{where}{more}, which would stand elsewhere or not at all"
            continue
        told = math.isfinite(worst.before) and math.isfinite(worst.after)
        values = f" from {say(worst.before)} to {say(worst.after)}" if told else ""
        yield f"the {what} of {kind} {name}{values}{where}{more}"


def _footings(plan: Plan, answer: str) -> list[tuple[WallLine, _Span]]:
    found = []
    for run in plan.stepping(answer).runs:
        wall = plan.line(run.line).wall
        values = {
            "bottom": run.bottom,
            "top": run.top,
            "width": wall.footing_width,
            "projection": wall.projection,
        }
        found.append((wall, _Span(run.start, run.end, values)))
    return found


def _walls(plan: Plan, answer: str) -> list[tuple[WallLine, _Span]]:
    walls = plan.walls[plan.stepping(answer).name]
    ledges = {ledge.line: ledge for ledge in walls.ledges}
    found = []
    for piece in walls.pieces:
        values = {"bottom": piece.bottom, "top": piece.top, "thickness": piece.thickness}
        if piece.line in ledges:
            ledge = ledges[piece.line]
            values |= {"ledge": ledge.level, "thickness above the ledge": ledge.upper}
        found.append((plan.line(piece.line).wall, _Span(piece.start, piece.end, values)))
    return found


def _along_lines(
    before: Plan, after: Plan, kind: str, spans_of: Callable[[Plan], list[tuple[WallLine, _Span]]]
) -> Iterator[MovedConcrete]:
    old, new = spans_of(before), spans_of(after)
    for line in (footing.wall for footing in before.lines):
        there = [
            placed
            for wall, span in new
            if (placed := _on(line, wall, span.start, span.end, span)) is not None
        ]
        for wall, span in old:
            if wall.name == line.name:
                yield from _differences(kind, line, span, there)


def _on(line: WallLine, other: WallLine, start: float, end: float, span: _Span) -> _Span | None:
    """A stretch of another line in stations of this one; None where it does not lie on it, face to face."""
    along = [(b - a) / line.length for a, b in zip(line.start_at, line.end_at, strict=True)]
    ends = []
    for station in (start, end):
        share = station / other.length
        east, north = (
            a + share * (b - a) - origin
            for a, b, origin in zip(other.start_at, other.end_at, line.start_at, strict=True)
        )
        if abs(east * along[1] - north * along[0]) > MOVES:
            return None
        ends.append(east * along[0] + north * along[1])
    if (
        math.dist(line.outward, other.outward) > 1e-3
    ):  # the outer face is the line; turned round it is the other
        return None
    return _Span(min(ends), max(ends), span.values)


def _differences(kind: str, line: WallLine, span: _Span, there: Sequence[_Span]) -> Iterator[MovedConcrete]:
    """Where one stretch differs from what lies there now."""
    ends = sorted(
        {
            span.start,
            span.end,
            *(end for s in there for end in (s.start, s.end) if span.start < end < span.end),
        }
    )
    for start, end in zip(ends, ends[1:], strict=False):
        if end - start < MOVES:
            continue
        now = next((s for s in there if s.start - MOVES < (start + end) / 2 < s.end + MOVES), None)
        if now is None:
            yield MovedConcrete(kind, line.part, line.name, start, end, WHOLE, math.nan, math.nan)
            continue
        for what in dict.fromkeys((*span.values, *now.values)):
            was, is_now = span.values.get(what, math.nan), now.values.get(what, math.nan)
            if not abs(is_now - was) <= MOVES:
                yield MovedConcrete(kind, line.part, line.name, start, end, what, was, is_now)


def _openings(before: Plan, after: Plan, answer: str) -> Iterator[MovedConcrete]:
    """Openings that were cast and are elsewhere now, and those that would be cut."""
    old, new = _cast(before, answer), _cast(after, answer)
    for line in (footing.wall for footing in before.lines):
        was = [span for wall, span in old if wall.name == line.name]
        on = [_on(line, wall, span.start, span.end, span) for wall, span in new]
        now = [span for span in on if span is not None and span.end > 0 and span.start < line.length]
        for some, others in ((was, now), (now, was)):
            for span in some:
                if not any(_alike(span, other) for other in others):
                    yield MovedConcrete(
                        "wall", line.part, line.name, span.start, span.end, "opening", math.nan, math.nan
                    )


def _cast(plan: Plan, answer: str) -> list[tuple[WallLine, _Span]]:
    """Openings that concrete stands round; those in a framed wall above are no matter of a pour."""
    walls = plan.walls[answer]
    return [
        (plan.line(each.line).wall, _Span(each.start, each.end, {"bottom": each.bottom, "top": each.top}))
        for each in walls.openings
        if any(
            piece.line == each.line
            and piece.start < each.end - MOVES
            and piece.end > each.start + MOVES
            and piece.bottom < each.top - MOVES
            and piece.top > each.bottom + MOVES
            for piece in walls.pieces
        )
    ]


def _alike(one: _Span, other: _Span) -> bool:
    pairs = [(one.start, other.start), (one.end, other.end)]
    pairs += [(one.values[key], other.values[key]) for key in one.values]
    return all(abs(a - b) <= MOVES for a, b in pairs)


def _slabs(before: Plan, after: Plan) -> Iterator[MovedConcrete]:
    parts = {part.name: part for part in after.project.parts}
    for part in before.project.parts:
        shape = outline(before.project, part)
        if shape is None or part.slab_thickness <= 0:
            continue
        now = parts.get(part.name)
        there = outline(after.project, now) if now is not None else None
        if now is None or there is None or shapely.hausdorff_distance(shape, there) > MOVES:
            yield MovedConcrete("slab", part.name, part.name, math.nan, math.nan, WHOLE, math.nan, math.nan)
            continue
        pairs = {
            "top": (slab_top(before.project, part), slab_top(after.project, now)),
            "thickness": (part.slab_thickness, now.slab_thickness),
            "foam under it": tuple(
                each.foam.under_slab.thickness if each.foam.under_slab is not None else 0.0
                for each in (part, now)
            ),
        }
        for what, (was, is_now) in pairs.items():
            if abs(is_now - was) > MOVES:
                yield MovedConcrete("slab", part.name, part.name, math.nan, math.nan, what, was, is_now)


def _pads(before: Plan, after: Plan) -> Iterator[MovedConcrete]:
    there = {extra.name: extra for extra in after.extras}
    for extra in before.extras:
        now = there.get(extra.name)
        if now is None or math.dist((now.east, now.north), (extra.east, extra.north)) > MOVES:
            yield MovedConcrete("pad", "", extra.name, math.nan, math.nan, WHOLE, math.nan, math.nan)
            continue
        pairs = {
            "bottom": (extra.bottom.level, now.bottom.level),
            "length": (extra.length, now.length),
            "width": (extra.width, now.width),
            "thickness": (extra.thickness, now.thickness),
        }
        for what, (was, is_now) in pairs.items():
            if abs(is_now - was) > MOVES:
                yield MovedConcrete("pad", "", extra.name, math.nan, math.nan, what, was, is_now)
