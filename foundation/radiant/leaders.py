"""Leaders: side by side along the edge of the free floor, those of the farther loops nearest to the wall."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring, unary_union

from foundation.radiant.edges import Edges, Entry, first_met
from foundation.radiant.roots import Root

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Passing:
    """Leaders of floor beyond a piece, that only pass through it.

    Attributes
    ----------
    exits : ndarray, shape (n, 2)
        Where they leave the piece, at its outline. [m]
    inward : ndarray, shape (2,)
        From there into the piece. [-]
    """

    exits: Array
    inward: Array


@dataclass(frozen=True, eq=False)
class Lanes:
    """Leaders of all loops.

    Attributes
    ----------
    supply, back : list of ndarray, each of shape (n, 2)
        Of each loop, from the manifold to where its walk begins, and from where it ends to the manifold. [m]
    passing : list of list of ndarray
        Of each passing set, of each of its leaders: from the manifold to where it leaves the piece. [m]
    taken : shapely geometry
        Their centre lines, without the pieces that run up to the loops.
    clear : tuple of float
        Half of the outlets' width to each side of the entry. [m]
    """

    supply: list[Array]
    back: list[Array]
    passing: list[list[Array]]
    taken: BaseGeometry
    clear: tuple[float, float]


def lanes(chosen: list[Root], edges: Edges, gate: Entry, through: list[Passing]) -> Lanes:
    """Lay leaders for the loops' roots.

    Parameters
    ----------
    chosen : list of Root
        Of each loop; at most one straight to the entry.
    edges : Edges
        The free floor's.
    gate : Entry
        Where they come in.
    through : list of Passing
        Leaders that only pass.

    Returns
    -------
    Lanes
        Side by side, those of the farther loops nearer to the wall.
    """
    step = edges.step
    middle, half = 0.0, 0.0
    ends: dict[int, tuple[Array, Array]] = {}
    taken: list[BaseGeometry] = []
    for index, root in enumerate(chosen):
        if root.forward is None:
            middle = sum(root.ahead) / 2
            half = abs(root.ahead[1] - root.ahead[0]) / 2
            leave, enter = (
                np.array([gate.outlet(offset), point])
                for offset, point in zip(root.ahead, (root.leave, root.enter), strict=True)
            )
            ends[index] = (enter, leave[::-1])
    passing: list[list[Array]] = [[np.empty((0, 2))] * len(leading.exits) for leading in through]
    clear = []
    for forward in (True, False):
        group = sorted(
            (index for index, root in enumerate(chosen) if root.forward is forward),
            key=lambda index: -max(chosen[index].ahead),
        )
        leaving = _leaving(through, edges, gate, forward)
        count = len(leaving) + 2 * len(group)
        start = half + step if half else step / 2
        sign = 1 if forward else -1
        clear.append(start + (count - 0.5) * step + sign * middle if count else half + sign * middle)
        targets = [(through[which].exits[leader], through[which].inward) for which, leader in leaving]
        for index in group:
            # of a pair, the one that ends farther lies nearer to the wall
            root = chosen[index]
            pair = [(root.leave, root.outward), (root.enter, root.outward)]
            targets += pair if root.ahead[0] > root.ahead[1] else pair[::-1]
        laid = []
        for depth, (point, outward) in enumerate(targets):
            nth = count - 1 - depth if gate.manifold is None else depth
            offset = middle + sign * (start + nth * step)
            laid.append(_one_lane(edges, gate, depth, offset, forward, point, outward))
        # where a leader runs up to its row, the row itself keeps others off
        taken += [
            LineString(line if nth < len(leaving) or stays else line[:-1])
            for nth, (line, stays) in enumerate(laid)
        ]
        if gate.manifold is not None:
            ahead = gate.inward * 2 * step
            taken += [LineString([line[0], line[0] + ahead]) for line, _ in laid]
        for (which, leader), (line, _) in zip(leaving, laid, strict=False):
            passing[which][leader] = line
        for index, (one, _), (two, _) in zip(
            group, laid[len(leaving) :: 2], laid[len(leaving) + 1 :: 2], strict=True
        ):
            first_is_end = chosen[index].ahead[0] > chosen[index].ahead[1]
            leave, enter = (one, two) if first_is_end else (two, one)
            ends[index] = (enter, leave[::-1])
    order = range(len(chosen))
    return Lanes(
        [ends[index][0] for index in order],
        [ends[index][1] for index in order],
        passing,
        unary_union(taken),
        (clear[0], clear[1]),
    )


def _leaving(through: list[Passing], edges: Edges, gate: Entry, forward: bool) -> list[tuple[int, int]]:
    """Passing leaders that go one way round, nearest exit first: which set, and which leader of it."""
    here, around = edges.position(gate.at), edges.outer.length
    found = []
    for which, passing in enumerate(through):
        ahead = [(edges.position(point) - here) % around for point in passing.exits]
        if (float(np.median(ahead)) <= around / 2) is forward:
            found += [
                (ahead[leader] if forward else around - ahead[leader], which, leader)
                for leader in range(len(ahead))
            ]
    return [(which, leader) for _, which, leader in sorted(found)]


def _one_lane(
    edges: Edges, gate: Entry, depth: int, offset: float, forward: bool, point: Array, outward: Array
) -> tuple[Array, bool]:
    """A leader from its outlet along the shrunk edge and up to a point; whether it stays on the edge to its end."""
    ring = edges.ring(depth)
    reach = float(np.ptp(np.array(edges.outer.coords), axis=0).sum()) + gate.beyond + 1
    outlet = gate.outlet(offset)
    way = gate.inward if gate.manifold is None else -gate.inward
    joins = first_met(outlet, way, ring, reach)
    leaves = first_met(point, outward, ring, reach)
    if leaves is None:
        # in a first round the rows still lie where the leaders will
        leaves = first_met(point, -outward, ring, reach)
    # where a way misses the shrunk edge, beside corners, the leader goes to what is nearest
    joins, leaves = (
        np.array(ring.interpolate(ring.project(Point(near))).coords[0]) if met is None else met
        for met, near in ((joins, outlet), (leaves, point))
    )
    begin, end = ring.project(Point(joins)), ring.project(Point(leaves))
    if not forward:
        begin, end = end, begin
    if begin <= end:
        along = np.array(substring(ring, begin, end).coords)
    else:
        along = np.vstack(
            [
                np.array(substring(ring, begin, ring.length).coords),
                np.array(substring(ring, 0, end).coords)[1:],
            ]
        )
    if not forward:
        along = along[::-1]
    if float((leaves - point) @ outward) < 0:
        # the row ends beyond its leader: it is cut off there
        return np.vstack([outlet, along]), True
    return np.vstack([outlet, along, point]), False
