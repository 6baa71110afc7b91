"""One piece of floor filled with loops: cells shared out, walked round, opened toward the edge, and led to the entry.

What leaders take from the floor is known only when they lie, so it is done a few times over, and the best is kept.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import ceil

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy import ndimage
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from foundation.model.loops import LayingRules, Pattern
from foundation.radiant.bends import Bent, bend, bulb_length, bulge, drawn_back
from foundation.radiant.clearance import NEAREST_LEADERS, NEAREST_ROWS, too_near
from foundation.radiant.counterflow import counterflow
from foundation.radiant.dividing import STARTS, divide, judge
from foundation.radiant.edges import LEADER_SPACING, Edges, Entry, NoRoomError, entry
from foundation.radiant.lattice import Lattice, lattice, row_pitch
from foundation.radiant.leaders import Passing, lanes
from foundation.radiant.roots import Surroundings, choose, opened
from foundation.radiant.serpentine import Links, serpentine
from foundation.radiant.walk import stretch, walk

Array = NDArray[np.float64]

ROUNDS = 8
"""How often the leaders' room is taken from the floor and the loops are laid again. [-]"""
TRIES = 5
"""How many numbers of loops are tried, from the least on. [-]"""
ROWS_ALIKE = 4.0
"""Layings whose rows differ by less are alike, and the one with fewer tight bends is taken. [m]"""
UNUSED = 0.04
"""Share of the cells that may stay bare, in corners too small to turn in. [-]"""
PHASES = 8
"""Heights at which rows may start, over two pitches. [-]"""
BESIDE_WALL = 0.15
"""A manifold that far from where tube ends still stands at the wall. [m]"""
SHARED_OUT = 0.1
"""Shares that are off by no more than this together need no other way of sharing out. [-]"""
RUN = 2.0
"""Leaders of this length cost as much as one more run of rows, with its bends. [m]"""
SETTLED = 3
"""Rounds after which rows stay at their heights. [-]"""
UNEVEN = (0.4, 1.8)
"""Least and most that a loop's rows may be of the mean, as leaders differ. [-]"""
AS_GOOD = 0.98
"""Rows start at the coldest wall unless another start fills more than this allows. [-]"""


@dataclass(frozen=True, eq=False)
class Piece:
    """Floor that tube can fill without a joint in the way; the coldest wall below it.

    Attributes
    ----------
    free : Polygon
        Where tube may lie.
    outline : Polygon
        Up to the walls and joints.
    rules : LayingRules
        What tube keeps to.
    pattern : Pattern
        How it fills the floor.
    cold : float
        Northing of the line that the first row keeps to. [m]
    door : shapely geometry or None
        Part of the outline that leaders come through; None for wherever the manifold is near.
    """

    free: Polygon
    outline: Polygon
    rules: LayingRules
    pattern: Pattern
    cold: float
    door: BaseGeometry | None = None


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
        Cells that counter-flow could not wind into.
    unfound : int
        Loops that found no way to the entry and are left out.
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
    pitch = _pitch(piece)[0]
    grid = _grid(piece, piece.free, pitch)
    least = max(1, ceil(2 * 2 * pitch * grid.free.sum() / piece.rules.longest - 1e-9))
    best: tuple[tuple[float, ...], Filled] | None = None
    if through and not _can_pass(piece, manifold, through):
        return Filled([], [], [], [], None, pitch)
    count = least
    state = _State(count, clear=(count * LEADER_SPACING, count * LEADER_SPACING))
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


def _gate(piece: Piece, edges: Edges, manifold: Array, clear: tuple[float, float]) -> Entry:
    rules = piece.rules
    near = 2 * max(rules.from_edge, rules.from_barrier) + BESIDE_WALL
    return entry(edges, piece.outline, manifold, near, clear, rules.bend_radius, piece.door)


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


def _pitch(piece: Piece) -> tuple[float, float]:
    """Pitch of the rows, so that an even number of them fills the floor's height, and where the first one lies."""
    rules = piece.rules
    _, low, _, high = piece.free.bounds
    beside, pitch, start = 0.0, rules.spacing, 0.0
    while True:
        extent = max(high - low - 2 * beside, 0.0)
        pitch, start = row_pitch(extent, rules.spacing, rules.from_edge, tightest(rules.bend_radius))
        if bulge(rules.bend_radius, pitch) <= beside + 1e-9:
            return pitch, low + beside + start
        beside = bulge(rules.bend_radius, pitch)


def tightest(bend_radius: float) -> float:
    """Least pitch at which rows can turn back one beside the other, every other tip drawn back.

    Parameters
    ----------
    bend_radius : float
        To the centre line. [m]

    Returns
    -------
    float
        Between rows. [m]
    """
    return (bend_radius + NEAREST_LEADERS) / 1.5


def _grid(piece: Piece, floor: BaseGeometry, pitch: float) -> Lattice:
    """Cells, with the first row at the coldest wall unless another start fills clearly more."""
    left, low, _, _ = floor.bounds
    beside = bulge(piece.rules.bend_radius, pitch)
    first = _pitch(piece)[1]
    wishes = [first]
    if piece.cold >= low - 1e-6:
        wishes.append(low + (piece.cold + beside - low) % (2 * pitch))
    if floor.area < 0.999 * shapely.box(*floor.bounds).area:
        wishes += [low + 2 * pitch * step / PHASES for step in range(PHASES)]
    tried = [lattice(floor, pitch, left + beside, wish, beside) for wish in wishes]
    most = max(int(grid.free.sum()) for grid in tried)
    return next(grid for grid in tried if grid.free.sum() >= AS_GOOD * most)


def _shortest(rules: LayingRules, pitch: float) -> int:
    """Fewest cells of a row that both of its ends can turn in."""
    return 1 + ceil(bulb_length(rules.bend_radius, min(pitch, 2 * rules.bend_radius)) / pitch - 1e-9)


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
            gate = _gate(piece, edges, manifold, state.clear)
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
        if lengths in seen or filled.unfound:
            # what comes back or leaves a loop out is begun anew in another way
            state.variant += 1
        elif not bad and filled.uneven <= rules.equal_within and filled.unused <= UNUSED:
            # once sound, lay again without what leaders took in earlier rounds only
            if polished:
                break
            polished = True
            state.taken = state.latest
        seen.add(lengths)
    if not found and last is not None and (rest := _without_conflicts(last, rules)) is not None:
        found.append(rest)
    return found


def _round(
    piece: Piece, gate: Entry, edges: Edges, through: list[Passing], pitch: float, state: _State, turn: int
) -> tuple[Filled, set[int]] | None:
    rules = piece.rules
    floor = piece.free.difference(_taken(state.taken, pitch))
    if floor.is_empty:
        return None
    if state.low is None or turn < SETTLED:
        state.low = _grid(piece, floor, pitch).low
    beside_rows = bulge(rules.bend_radius, pitch)
    grid = lattice(floor, pitch, floor.bounds[0] + beside_rows, state.low, beside_rows)
    shortest = _shortest(rules, pitch)
    parts, beside = _trees(piece, grid, gate, edges, state, shortest)
    if not parts:
        return None
    most = 2 * pitch if piece.pattern is Pattern.SERPENTINE else pitch / 2
    moves = stretch([links for links, _ in parts], grid, floor, most, beside_rows)
    walks = [walk(links, grid, move) for (links, _), move in zip(parts, moves, strict=True)]
    around = Surroundings(walks, edges, gate, state.clear, rules.bend_radius, pitch)
    offers = [around.roots(path) for path in walks]
    for index, (_, begin) in enumerate(parts):
        if begin is not None:
            at = np.array(grid.corner(*begin, 0)) + pitch / 2
            near = [offer for offer in offers[index] if np.abs(offer.leave - at).max() < 2.5 * pitch]
            offers[index] = near or offers[index]
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
    open_floor = piece.free.difference(_taken(led.taken, pitch))
    could = max(1, int(lattice(open_floor, pitch, grid.left, grid.low, beside_rows).free.sum()))
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


def _taken(leaders: BaseGeometry, pitch: float) -> BaseGeometry:
    """Floor that leaders take from the rows."""
    return leaders.simplify(1e-4).buffer(max(LEADER_SPACING, 0.6 * pitch), cap_style="flat", join_style="mitre")


def rows_apart(rules: LayingRules, pitch: float) -> float:
    """What rows keep between their axes.

    Parameters
    ----------
    rules : LayingRules
        What tube keeps to.
    pitch : float
        Between rows. [m]

    Returns
    -------
    float
        A share of the spacing; less where bulbs face each other. [m]
    """
    facing = 2 * pitch - 2 * rules.bend_radius
    return min(NEAREST_ROWS * rules.spacing, max(0.95 * facing, NEAREST_LEADERS))


def _cold_last(path: Array) -> bool:
    """Whether the second half of an opened walk lies nearer to the coldest wall than the first."""
    lengths = np.hypot(*np.diff(path, axis=0).T)
    middles = (path[1:, 1] + path[:-1, 1]) / 2
    half = np.cumsum(lengths) <= lengths.sum() / 2
    if not half.any() or half.all():
        return False
    means = [float(np.average(middles[which], weights=lengths[which])) for which in (half, ~half)]
    return means[1] < means[0] - 1e-9


def _trees(
    piece: Piece, grid: Lattice, gate: Entry, edges: Edges, state: _State, shortest: int
) -> tuple[list[tuple[Links, tuple[int, int] | None]], int]:
    """Joined cells of each loop, and where a loop of counter-flow begins; cells beside its winding."""
    blocks, number = ndimage.label(grid.free)
    sizes = np.bincount(blocks.ravel(), minlength=number + 1)[1:]
    order = [label for label in np.argsort(-sizes) if sizes[label] >= 2 * shortest][: state.count]
    if not order:
        return [], 0
    shares = dict.fromkeys(order, 1)
    for _ in range(state.count - len(order)):
        widest = max(order, key=lambda label: sizes[label] / shares[label])
        shares[widest] += 1
    if len(state.wanted) != state.count:
        state.wanted = [1.0] * state.count
    parts: list[tuple[Links, tuple[int, int] | None]] = []
    away = _away(grid, gate, edges)
    used = beside = 0
    for label in sorted(order, key=lambda label: int(np.nonzero(blocks == label + 1)[0].min())):
        cells = blocks == label + 1
        wanted = state.wanted[used : used + shares[label]]
        used += shares[label]
        left = _nearer_left(cells, grid, gate, edges)
        whole = piece.pattern is Pattern.COUNTERFLOW
        owners = _shared_out(cells, wanted, shortest, left, away, whole, state.variant)
        for index in range(len(wanted)):
            own = owners == index
            if not own.any():
                continue
            if whole:
                begin, links, more = _wound(own, grid, gate, edges, shortest)
                beside += more
                parts.append((links, begin))
            else:
                own_left = _nearer_left(own, grid, gate, edges)
                parts.append((serpentine(own, own_left, shortest), None))
    return [part for part in parts if part[0]], beside


def _round_the_edge(grid: Lattice, cells: list[tuple[int, int]], gate: Entry, edges: Edges) -> Array:
    """From the entry along the edge to where cells are nearest to it, the shorter way. [m]"""
    spots = shapely.points([np.array(grid.corner(row, column, 0)) + grid.pitch / 2 for row, column in cells])
    ahead = (shapely.line_locate_point(edges.outer, spots) - edges.position(gate.at)) % edges.outer.length
    return np.minimum(ahead, edges.outer.length - ahead)


def _shared_out(
    cells: NDArray[np.bool_],
    wanted: list[float],
    shortest: int,
    left: bool,
    away: Array,
    whole: bool,
    variant: int,
) -> NDArray[np.int64]:
    """Cells shared out in the first way in which each loop has its share and reaches the edge, or the best one."""
    ways = [(starts, side) for side in (left, not left) for starts in (STARTS, 1)]
    best: tuple[tuple[int, float, float], NDArray[np.int64]] | None = None
    for starts, side in ways[variant % 4 :] + ways[: variant % 4]:
        owners = divide(cells, wanted, shortest, side, away, whole=whole, starts=starts)
        rank = judge(owners, wanted, away)
        if best is None or rank < best[0]:
            best = rank, owners
        if rank[0] == 0 and rank[1] <= SHARED_OUT:
            break
    assert best is not None
    return best[1]


def _away(grid: Lattice, gate: Entry, edges: Edges) -> Array:
    """Of each cell, its two leaders in runs that cost as much; infinite where others lie all round it."""
    free = grid.free
    rows, columns = np.nonzero(free)
    places = list(zip(rows.tolist(), columns.tolist(), strict=True))
    outer = np.zeros(len(places), dtype=bool)
    for index, (row, column) in enumerate(places):
        outer[index] = not (
            free[row, :column].any()
            and free[row, column + 1 :].any()
            and free[:row, column].any()
            and free[row + 1 :, column].any()
        )
    away = np.full(free.shape, np.inf)
    away[rows, columns] = np.where(outer, 2 * _round_the_edge(grid, places, gate, edges) / RUN, np.inf)
    return away


def _nearer_left(cells: NDArray[np.bool_], grid: Lattice, gate: Entry, edges: Edges) -> bool:
    """Whether the left ends of some rows are nearer to the entry than their right ends."""
    rows = np.flatnonzero(cells.any(axis=1))
    last = cells.shape[1] - 1
    ends = [(int(row), int(cells[row].argmax())) for row in rows]
    ends += [(int(row), last - int(cells[row, ::-1].argmax())) for row in rows]
    away = _round_the_edge(grid, ends, gate, edges)
    return bool(away[: len(rows)].min() <= away[len(rows) :].min())


def _wound(
    cells: NDArray[np.bool_], grid: Lattice, gate: Entry, edges: Edges, shortest: int
) -> tuple[tuple[int, int], Links, int]:
    """Counter-flow from the end of a first or last row that leaves least beside the winding, and nearest of these."""
    rows = np.flatnonzero(cells.any(axis=1))
    ends = {
        (int(row), int(np.flatnonzero(cells[row])[side])) for row in (rows[0], rows[-1]) for side in (0, -1)
    }
    tried = [(cell, *counterflow(cells, cell, shortest)) for cell in sorted(ends)]
    return min(tried, key=lambda one: (one[2], float(_round_the_edge(grid, [one[0]], gate, edges)[0])))


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
