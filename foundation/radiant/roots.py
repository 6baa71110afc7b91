"""Where a loop's closed walk is opened, so that its two ends become leaders."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LinearRing, LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foundation.radiant.edges import Edges, Entry, first_met

Array = NDArray[np.float64]

BESIDE_CORNER = 2.0
"""Leaders go this much farther rather than leave the edge right beside a corner. [m]"""
AS_BEFORE = 0.1
"""Leaders change their way round only where that saves this share of the way all round. [-]"""
ENOUGH = 12
"""Roots that are looked at of a walk, from the nearest place on. [-]"""


@dataclass(frozen=True, eq=False)
class _Opening:
    """A place of a walk: the walk ends there, begins again, and which of both ends runs straight out."""

    segment: int
    leave: Array
    enter: Array
    outward: Array
    straight: tuple[bool, bool]


@dataclass(frozen=True, eq=False)
class Root:
    """Where a loop's closed walk is opened, and how its leaders reach it.

    Attributes
    ----------
    opening : _Opening
        The place of the walk.
    ahead : tuple of float
        From the entry along the edge, of the walk's end and of its beginning. [m]
    forward : bool or None
        Whether the leaders run anticlockwise; None where they go straight to the entry.
    cost : float
        About their length. [m]
    """

    opening: _Opening
    ahead: tuple[float, float]
    forward: bool | None
    cost: float

    @property
    def leave(self) -> Array:
        """Where the opened walk ends. [m]"""
        return self.opening.leave

    @property
    def enter(self) -> Array:
        """Where the opened walk begins. [m]"""
        return self.opening.enter

    @property
    def outward(self) -> Array:
        """Way from there to the edge. [-]"""
        return self.opening.outward


def opened(walk: Array, root: Root) -> Array:
    """A closed walk opened at its root.

    Parameters
    ----------
    walk : ndarray, shape (n, 2)
        Its corners. [m]
    root : Root
        Where.

    Returns
    -------
    ndarray, shape (k, 2)
        From where it begins to where it ends. [m]
    """
    turned = np.roll(walk, -(root.opening.segment + 1), axis=0)
    path = np.vstack([root.enter, turned, root.leave])
    # the ends may be corners of the walk themselves
    return path[np.r_[True, np.hypot(*np.diff(path, axis=0).T) > 1e-9]]


@dataclass(frozen=True, eq=False)
class Surroundings:
    """What leaders of one laying have round them.

    Attributes
    ----------
    walks : list of ndarray
        Closed walks of all loops. [m]
    edges : Edges
        The free floor's.
    gate : Entry
        Where the leaders come in.
    clear : tuple of float
        Along the edge to each side of the entry, kept free for the outlets. [m]
    radius : float
        Bend radius. [m]
    pitch : float
        Between rows. [m]
    """

    walks: list[Array]
    edges: Edges
    gate: Entry
    clear: tuple[float, float]
    radius: float
    pitch: float

    @cached_property
    def _tracks(self) -> BaseGeometry:
        tracks = shapely.MultiLineString([LinearRing(path) for path in self.walks])
        shapely.prepare(tracks)
        return tracks

    @cached_property
    def _reach(self) -> float:
        return float(np.ptp(np.array(self.edges.outer.coords), axis=0).sum())

    @cached_property
    def _here(self) -> float:
        return self.edges.position(self.gate.at)

    def roots(self, walk: Array) -> list[Root]:
        """Where a walk can be opened toward the edge.

        Parameters
        ----------
        walk : ndarray, shape (n, 2)
            Its corners, anticlockwise. [m]

        Returns
        -------
        list of Root
            Sound places, the cheapest first; dear ones are left out.
        """
        around, found = self.edges.outer.length, list[Root]()
        openings = _openings(walk, self.gate, self.edges.step, self.radius, self.pitch)
        spots = shapely.points([opening.leave for opening in openings])
        ahead = (shapely.line_locate_point(self.edges.outer, spots) - self._here) % around
        for index in np.argsort(np.minimum(ahead, around - ahead)):
            found += self._at(openings[index])
            if len(found) >= ENOUGH:
                break
        return sorted(found, key=lambda root: root.cost)

    def _at(self, opening: _Opening) -> list[Root]:
        """Roots at one place: straight to the entry, and either way round."""
        edges, gate, outward = self.edges, self.gate, opening.outward
        ends = (opening.leave, opening.enter)
        first, second = (first_met(point, outward, edges.outer, self._reach) for point in ends)
        if first is None or second is None:
            return []
        far = max(float(np.hypot(*(hit - point))) for hit, point in zip((first, second), ends, strict=True))
        start = 0.3 * self.pitch
        if far > start and self._tracks.intersects(_lane(*ends, outward, start, far, self.pitch)):
            return []
        if LineString([opening.leave, first]).intersects(edges.holes):
            return []
        found = self._straight_on(opening, first, second, far)
        around = edges.outer.length
        ahead = [(edges.position(hit) - self._here) % around for hit in (first, second)]
        # a leader that has come in turns along the edge, and turns off it again
        aside = self.radius if gate.manifold is None else 2 * self.radius
        for forward in (True, False):
            run = ahead if forward else [around - value for value in ahead]
            # the end that lies toward the entry has to run straight out: there is no room for a turn back
            straight = opening.straight[0 if forward else 1]
            # amid the floor, the leaders of the nearest loop come in outermost
            width = 2 * edges.step if gate.manifold is None else self.clear[0 if forward else 1]
            if straight and min(run) > width + aside and max(run) < around - sum(self.clear):
                cost = (
                    sum(run) / 2
                    + far
                    + BESIDE_CORNER * self._beside_corner(opening, first, ahead[0], forward)
                )
                found.append(Root(opening, (run[0], run[1]), forward, cost))
        return found

    def _straight_on(self, opening: _Opening, first: Array, second: Array, far: float) -> list[Root]:
        """A root right before the entry."""
        gate = self.gate
        offsets = [float((point - gate.at) @ gate.along) for point in (opening.leave, opening.enter)]
        near = all(
            abs(float((hit - gate.at) @ gate.along)) < sum(self.clear) + 2 * self.pitch
            and abs(float((hit - gate.at) @ gate.inward)) < 4 * self.pitch
            for hit in (first, second)
        )
        square = float(opening.outward @ gate.inward) < -1 + 1e-9 and gate.manifold is None
        if square and near and abs(sum(offsets)) <= 2 * self.pitch:
            return [Root(opening, (offsets[0], offsets[1]), None, far)]
        return []

    def _beside_corner(self, opening: _Opening, met: Array, ahead: float, forward: bool) -> int:
        """Whether a leader would leave the edge right behind a corner, or past the end of a shrunk edge."""
        edges, outward = self.edges, opening.outward
        back = 2 * self.radius + self.pitch
        before = edges.outer.interpolate(
            (self._here + ahead - (back if forward else -back)) % edges.outer.length
        )
        along = np.array([-outward[1], outward[0]])
        turns_back = abs(float((np.array(before.coords[0]) - met) @ along)) < 0.7 * back
        ray = outward * self._reach
        deepest = edges.deepest(2 * len(self.walks) - 1)
        past = not all(
            LineString([point - ray, point + ray]).intersects(deepest)
            for point in (opening.leave, opening.enter)
        )
        return turns_back + past


def _openings(walk: Array, gate: Entry, step: float, radius: float, pitch: float) -> list[_Opening]:
    """Places of a walk that a pair of leaders can leave from: the tip of a row, beside a corner, amid a straight."""
    ways = np.roll(walk, -1, axis=0) - walk
    lengths = np.hypot(*ways.T)
    ways = ways / lengths[:, None]
    turned = np.roll(ways, 1, axis=0)
    left_turn = turned[:, 0] * ways[:, 1] - turned[:, 1] * ways[:, 0] > 0
    openings = []
    for index, (length, way) in enumerate(zip(lengths, ways, strict=True)):
        outward = np.array([way[1], -way[0]])
        begins, ends = bool(left_turn[index]), bool(left_turn[(index + 1) % len(walk)])
        places: list[tuple[float, float]] = []
        if length <= 1.01 * pitch:
            if begins and ends:
                places.append((0.0, length))
        else:
            bend = 2 * radius
            if begins and length - step >= bend:
                places.append((0.0, step))
            if ends and length - step >= bend:
                places.append((length - step, length))
            if length >= 2 * bend + step:
                wish = float((gate.at - walk[index]) @ way)
                middle = float(np.clip(wish, bend + step / 2, length - bend - step / 2))
                places.append((middle - step / 2, middle + step / 2))
        for leave, enter in places:
            straight = leave == 0.0, enter == length
            openings.append(
                _Opening(index, walk[index] + way * leave, walk[index] + way * enter, outward, straight)
            )
    return openings


def _lane(leave: Array, enter: Array, outward: Array, start: float, far: float, pitch: float) -> Polygon:
    """What a pair of leaders sweeps on its way to the edge."""
    across = (enter - leave) / np.hypot(*(enter - leave)) * 0.4 * pitch
    return Polygon(
        [
            leave - across + outward * start,
            enter + across + outward * start,
            enter + across + outward * far,
            leave - across + outward * far,
        ]
    )


def choose(
    offers: list[list[Root]], around: Surroundings, before: dict[int, bool | None]
) -> list[Root | None]:
    """Choose a root for each loop, so that leaders of either way round do not meet.

    Parameters
    ----------
    offers : list of list of Root
        Of each loop.
    around : Surroundings
        What they have round them.
    before : dict
        Ways round that loops had in the round before; they keep them where that costs little. [-]

    Returns
    -------
    list of Root or None
        Of each loop; None where none is left. At most one goes straight to the entry.
    """
    length, margin = around.edges.outer.length, 2 * around.edges.step + around.pitch / 2
    straight = [
        (
            root.cost - min(other.cost for other in own if other.forward is not None or other is root),
            index,
            root,
        )
        for index, own in enumerate(offers)
        for root in own
        if root.forward is None
    ]
    fixed = min(straight, key=lambda one: (one[0], one[2].cost), default=None)
    cuts = {max(root.ahead) for own in offers for root in own if root.forward}
    cuts |= {length - max(root.ahead) for own in offers for root in own if root.forward is False}
    best: tuple[float, list[Root | None]] | None = None
    for cut in sorted(cuts | {length / 2}):
        for beside in (-1e-6, 1e-6):
            chosen = _either_way(offers, cut + beside, length, margin, around, fixed)
            cost = sum(length if root is None else root.cost for root in chosen)
            cost += (
                AS_BEFORE
                * length
                * sum(
                    root is not None
                    and None not in (root.forward, before.get(index))
                    and root.forward != before[index]
                    for index, root in enumerate(chosen)
                )
            )
            if best is None or cost < best[0] - 1e-9:
                best = cost, chosen
    return best[1] if best else []


def _either_way(
    offers: list[list[Root]],
    cut: float,
    length: float,
    margin: float,
    around: Surroundings,
    fixed: tuple[float, int, Root] | None,
) -> list[Root | None]:
    """The cheapest roots whose leaders stay on their side of a cut, each far enough beyond the outlets before it."""
    chosen: list[Root | None] = [None] * len(offers)
    if fixed is not None:
        chosen[fixed[1]] = fixed[2]
    left = [index for index in range(len(offers)) if chosen[index] is None]
    taken = {True: 0, False: 0}
    first = around.pitch / 2 if fixed is not None else 0.0
    aside = around.radius if around.gate.manifold is None else 2 * around.radius
    while left:
        found: tuple[float, int, Root] | None = None
        for index in left:
            for root in offers[index]:
                if root.forward is None:
                    continue
                limit = cut if root.forward else length - cut
                least = first + (2 * taken[root.forward] + 2) * around.edges.step + aside
                if max(root.ahead) < limit - margin / 2 and min(root.ahead) > least:
                    if found is None or root.cost < found[0]:
                        found = root.cost, index, root
                    break
        if found is None:
            break
        _, index, root = found
        chosen[index] = root
        left.remove(index)
        taken[bool(root.forward)] += 1
    return chosen
