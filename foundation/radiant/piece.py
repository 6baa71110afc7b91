"""One piece of floor filled with loops: cells shared out, walked round, opened toward the edge, and led to the entry.

What leaders take from the floor is known only when they lie, so it is done a few times over, and the best is kept.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import ceil

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from foundation.model.loops import LayingRules, Pattern
from foundation.radiant.bends import Bent, bend, bulge, drawn_back
from foundation.radiant.clearance import NEAREST_LEADERS, too_near
from foundation.radiant.edges import LEADER_SPACING, Edges, Entry, NoRoomError, entry
from foundation.radiant.leaders import Passing, lanes
from foundation.radiant.roots import Root, Surroundings, choose, opened
from foundation.radiant.rows import Piece, first_row, grid_of, pitch_of, rows_apart, shortest_run, taken_by
from foundation.radiant.rows import tightest as tightest
from foundation.radiant.sharing import trees
from foundation.radiant.walk import stretch, walk

Array = NDArray[np.float64]

ROUNDS = 8
"""How often the leaders' room is taken from the floor and the loops are laid again. [-]"""
BESIDE_WALL = 0.15
"""A manifold that far from where tube ends still stands at the wall. [m]"""
TRIES = 5
"""How many numbers of loops are tried, from the least on. [-]"""
ROWS_ALIKE = 4.0
"""Layings whose rows differ by less are alike, and the one with fewer tight bends is taken. [m]"""
UNUSED = 0.04
"""Share of the cells that may stay bare, in corners too small to turn in. [-]"""
OFF_THE_TIP = 10.0
"""Leaders of a winding loop go this much farther to its tip, and again to be near it. [m]"""
SETTLED = 3
"""Rounds after which rows stay at their heights. [-]"""
UNEVEN = (0.4, 1.8)
"""Least and most that a loop's rows may be of the mean, as leaders differ. [-]"""


@dataclass(frozen=True, eq=False)
class Filled:
    """Loops of a piece.

    Attributes
    ----------
    corners : list of ndarray
        Of each loop, from the entry and back, coldest row first. [m]
    loops : list of Bent
        The same with bends.
    leaders : list of tuple of float
        Of each, the length of its first and its last leader. [m]
    passing : list of list of ndarray
        Of each set of leaders that only pass: their corners, from the entry to where they leave. [m]
    gate : Entry or None
        Where they come in; None where nothing is laid.
    pitch : float
        Between rows. [m]
    beside : int
        Cells that counter-flow could not wind into. [-]
    unfound : int
        Loops that found no way to the entry and are left out. [-]
    unused : float
        Share of the cells that no loop walks round. [-]
    """

    corners: list[Array]
    loops: list[Bent]
    leaders: list[tuple[float, float]]
    passing: list[list[Array]]
    gate: Entry | None
    pitch: float
    beside: int = 0
    unfound: int = 0
    unused: float = 0.0

    @property
    def rows(self) -> float:
        """Tube without leaders. [m]"""
        return sum(loop.length - sum(ends) for loop, ends in zip(self.loops, self.leaders, strict=True))

    @property
    def uneven(self) -> float:
        """How far the loops differ, over their mean. [-]"""
        lengths = [loop.length for loop in self.loops]
        return (max(lengths) - min(lengths)) / float(np.mean(lengths)) if lengths else 0.0


@dataclass
class _State:
    """What one round leaves to the next."""

    count: int
    taken: BaseGeometry = field(default_factory=shapely.GeometryCollection)
    latest: BaseGeometry = field(default_factory=shapely.GeometryCollection)
    clear: tuple[float, float] = (0.0, 0.0)
    wanted: list[float] = field(default_factory=list)
    variant: int = 0
    ways: dict[int, bool | None] = field(default_factory=dict)
    low: float | None = None
    aside: bool = True


def fill(piece: Piece, manifold: Array, through: list[Passing]) -> Filled:
    """Fill a piece with as few loops as will do.

    Parameters
    ----------
    piece : Piece
        The floor.
    manifold : ndarray, shape (2,)
        Where its leaders come from. [m]
    through : list of Passing
        Leaders of floor beyond, that only pass.

    Returns
    -------
    Filled
        Its loops; none where there is no room for any.
    """
    pitch = pitch_of(piece)[0]
    grid = grid_of(piece, piece.free, pitch, first_row(piece, piece.free, pitch))
    least = max(1, ceil(2 * 2 * pitch * grid.free.sum() / piece.rules.longest - 1e-9))
    best: tuple[tuple[float, ...], Filled] | None = None
    if through and not _can_pass(piece, manifold, through):
        return Filled([], [], [], [], None, pitch)
    count = least
    state = _State(count, clear=((count - 0.5) * LEADER_SPACING,) * 2, aside=count > 1)
    for _ in range(TRIES):
        for filled in _rounds(piece, manifold, through, pitch, state):
            rank = _rank(filled, piece.rules)
            if best is None or rank < best[0]:
                best = rank, filled
        if best is not None and best[0][:3] == (0, 0, 0):
            break
        tube = sum(loop.length for loop in best[1].loops) if best is not None else 0.0
        count = max(count + 1, ceil(tube / piece.rules.longest))
        # a few loops more lie much as these did
        places = np.linspace(0, 1, max(1, len(state.wanted)))
        wanted = np.interp(np.linspace(0, 1, count), places, state.wanted or [1.0])
        state = _State(count, state.latest, state.latest, state.clear, [float(value) for value in wanted])
    return best[1] if best else Filled([], [], [], [], None, pitch)


def _gate(
    piece: Piece, edges: Edges, manifold: Array, clear: tuple[float, float], aside: bool = True
) -> Entry:
    """Where leaders come in, with room for a bend beside them if any turns aside."""
    rules = piece.rules
    near = 2 * max(rules.from_edge, rules.from_barrier) + BESIDE_WALL
    return entry(edges, piece.outline, manifold, near, clear, rules.bend_radius * aside, piece.door)


def _can_pass(piece: Piece, manifold: Array, through: list[Passing]) -> bool:
    """Whether leaders that only pass keep clear of each other, if nothing else is laid."""
    edges, rules = Edges(piece.free), piece.rules
    width = sum(len(leading.exits) for leading in through) * LEADER_SPACING
    try:
        gate = _gate(piece, edges, manifold, (width, width))
        lines = [line for leaders in lanes([], edges, gate, through).passing for line in leaders]
    except NoRoomError:
        return False
    bent = [bend(line, rules.bend_radius) for line in lines]
    return not too_near([line.path for line in bent], [(line.length, 0.0) for line in bent], NEAREST_LEADERS)


def _rank(filled: Filled, rules: LayingRules) -> tuple[float, ...]:
    """Less is better: none too long, nothing left out, equal enough, much floor filled, few tight bends."""
    longest = max((loop.length for loop in filled.loops), default=0.0)
    return (
        float(max(0.0, longest - rules.longest)),
        filled.unfound,
        max(0.0, filled.unused - UNUSED),
        float(max(0.0, filled.uneven - rules.equal_within)),
        -round(filled.rows / ROWS_ALIKE),
        sum(loop.tight for loop in filled.loops),
        -filled.rows,
    )


def _rounds(
    piece: Piece, manifold: Array, through: list[Passing], pitch: float, state: _State
) -> list[Filled]:
    """What the rounds with one number of loops give, sound layings only; a last resort leaves loops out."""
    rules = piece.rules
    edges = Edges(piece.free)
    found: list[Filled] = []
    last: Filled | None = None
    seen: set[tuple[float, ...]] = set()
    polished = False
    for turn in range(ROUNDS):
        try:
            gate = _gate(piece, edges, manifold, state.clear, state.aside)
            laid = _round(piece, gate, edges, through, pitch, state, turn)
        except NoRoomError:
            break
        if laid is None:
            break
        filled, bad = laid
        lengths = tuple(round(loop.length, 1) for loop in filled.loops)
        if bad == {-1}:
            break
        if bad:
            last = filled
        else:
            found.append(filled)
        sound = not (bad or filled.unfound)
        if sound and filled.uneven <= rules.equal_within and filled.unused <= UNUSED:
            # once sound, lay again without what leaders took in earlier rounds only
            if polished:
                break
            polished = True
            state.taken = state.latest
        elif lengths in seen or filled.unfound:
            # what comes back or leaves a loop out is begun anew in another way
            state.variant += 1
        seen.add(lengths)
    if not found and last is not None and (rest := _without_conflicts(last, rules)) is not None:
        found.append(rest)
    return found


def _round(
    piece: Piece, gate: Entry, edges: Edges, through: list[Passing], pitch: float, state: _State, turn: int
) -> tuple[Filled, set[int]] | None:
    rules = piece.rules
    floor = piece.free.difference(taken_by(state.taken, pitch))
    if floor.is_empty:
        return None
    if state.low is None or turn < SETTLED:
        state.low = first_row(piece, floor, pitch)
    grid = grid_of(piece, floor, pitch, state.low)
    shortest = shortest_run(rules, pitch)
    if len(state.wanted) != state.count:
        state.wanted = [1.0] * state.count
    winding = piece.pattern is Pattern.COUNTERFLOW
    parts, beside = trees(grid, gate, edges, state.wanted, shortest, winding, state.variant)
    if not parts:
        return None
    most = pitch if winding else 2 * pitch
    moves = stretch([links for links, _ in parts], grid, floor, most, bulge(rules.bend_radius, pitch))
    walks = [walk(links, grid, move) for (links, _), move in zip(parts, moves, strict=True)]
    around = Surroundings(walks, edges, gate, state.clear, rules.bend_radius, pitch)
    offers = [around.roots(path) for path in walks]
    for index, (_, begin) in enumerate(parts):
        if begin is not None:
            at = np.array(grid.corner(*begin, 0)) + pitch / 2
            offers[index] = _from_the_tip(offers[index], at, pitch)
    chosen = choose(offers, around, state.ways)
    state.ways = {index: root.forward for index, root in enumerate(chosen) if root is not None}
    kept = [index for index, root in enumerate(chosen) if root is not None]
    led = lanes([root for root in chosen if root is not None], edges, gate, through)
    laid, loops, leaders = [], [], []
    for place, index in enumerate(kept):
        root = chosen[index]
        assert root is not None
        inner = opened(walks[index], root)
        inner = drawn_back(inner, pitch, grid.low, rules.bend_radius)
        corners = np.vstack([led.supply[place], inner[1:-1], led.back[place]])
        if _cold_last(inner):
            corners = corners[::-1]
        laid.append(corners)
        loops.append(bend(corners, rules.bend_radius))
        ends = [bend(line, rules.bend_radius).length for line in (led.supply[place], led.back[place])]
        leaders.append((ends[1], ends[0]) if _cold_last(inner) else (ends[0], ends[1]))
    # what could be walked if only these leaders took room
    open_floor = piece.free.difference(taken_by(led.taken, pitch))
    could = max(1, int(grid_of(piece, open_floor, pitch, grid.low).free.sum()))
    walked = sum(len({cell for pair in parts[index][0] for cell in pair}) for index in kept)
    filled = Filled(
        laid,
        loops,
        leaders,
        led.passing,
        gate,
        pitch,
        beside=beside,
        unfound=len(chosen) - len(kept),
        unused=1 - walked / could,
    )
    bad = _near(filled, list(range(len(loops))), rules)
    _learn(state, filled, kept, led.taken, led.clear, turn)
    return filled, bad


def _from_the_tip(offers: list[Root], at: Array, pitch: float) -> list[Root]:
    """Roots of a winding loop: dearer where supply and return would not begin side by side at its tip."""
    priced = []
    for offer in offers:
        near = np.abs(offer.leave - at).max() < 2.5 * pitch
        extra = 0.0 if near and all(offer.opening.straight) else OFF_THE_TIP * (2 - near)
        priced.append(replace(offer, cost=offer.cost + extra))
    return sorted(priced, key=lambda offer: offer.cost)


def _cold_last(path: Array) -> bool:
    """Whether the second half of an opened walk lies nearer to the coldest wall than the first."""
    lengths = np.hypot(*np.diff(path, axis=0).T)
    middles = (path[1:, 1] + path[:-1, 1]) / 2
    half = np.cumsum(lengths) <= lengths.sum() / 2
    if not half.any() or half.all():
        return False
    means = [float(np.average(middles[which], weights=lengths[which])) for which in (half, ~half)]
    return means[1] < means[0] - 1e-9


def _learn(
    state: _State,
    filled: Filled,
    kept: list[int],
    taken: BaseGeometry,
    clear: tuple[float, float],
    turn: int,
) -> None:
    """Leaders' room and the loops' shares for the next round."""
    state.latest = taken
    state.taken = taken if turn < ROUNDS - 3 else shapely.union(state.taken, taken)
    state.clear = clear
    state.aside = any(way is not None for way in state.ways.values())
    if len(kept) == state.count == len(state.wanted) and state.count > 1:
        lengths = np.array([loop.length for loop in filled.loops])
        inside = lengths - np.array([sum(pair) for pair in filled.leaders])
        more = np.clip((inside + lengths.mean() - lengths) / inside, 0.7, 1.4)
        wanted = np.array(state.wanted) * more
        state.wanted = [float(value) for value in np.clip(wanted / wanted.mean(), *UNEVEN)]


def _near(filled: Filled, which: list[int], rules: LayingRules) -> set[int]:
    """Which of some loops come too near to each other, or to leaders that pass."""
    passing = [bend(line, rules.bend_radius) for lines in filled.passing for line in lines]
    paths = [filled.loops[index].path for index in which] + [line.path for line in passing]
    leaders = [filled.leaders[index] for index in which] + [(line.length, 0.0) for line in passing]
    return {
        which[place] if place < len(which) else -1
        for place in too_near(paths, leaders, rows_apart(rules, filled.pitch))
    }


def _without_conflicts(filled: Filled, rules: LayingRules) -> Filled | None:
    """The same without loops that come too near to others, so that what is left is sound."""
    keep = list(range(len(filled.loops)))
    while bad := _near(filled, keep, rules):
        if not keep or max(bad) < 0:
            return None
        keep.remove(max(bad))
    return replace(
        filled,
        corners=[filled.corners[index] for index in keep],
        loops=[filled.loops[index] for index in keep],
        leaders=[filled.leaders[index] for index in keep],
        unfound=filled.unfound + len(filled.loops) - len(keep),
    )
