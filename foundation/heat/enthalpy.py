"""The balance of heat in cells that freeze at 0 °C, step by step in time.

The enthalpy of each cell is what is solved for, 0 for frozen at 0 °C: it changes by the latent heat while the cell
stays at 0 °C. Conductivity steps there too. On the way between two centres whose temperatures have opposite signs the
heat passes a place at 0 °C, and what it flows through is frozen on one side of that place and thawed on the other.

Steps are backward Euler, each solved by Newton's method. Its equations are linear from one change of state to the next,
that it ends on the exact balance: heat is kept to the last digits, and no cell leaves the temperatures around it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from foundation.heat.conduction import faces_of, neighbours
from foundation.heat.freezing_body import FreezingBody
from foundation.heat.linear import factorised
from foundation.heat.patches import Film, Flux, Patch

TOLERANCE = 1e-10  # of what a step leaves unbalanced, over what it moves [-]
ROUNDING = 1e-13  # of the same, over the terms that cancel in it [-]
ITERATIONS = 60  # of Newton's method before a step is halved; it takes two or three
SHORTEST = 0.1  # share of the way that is still tried where the whole of it comes no nearer [-]
EDGE = 1e-9  # of the latent heat, from 0 °C to just below [-]
HALVINGS = 12

Course = Callable[[float], float | NDArray[np.float64]]


@dataclass(frozen=True, eq=False)
class Step:
    """A step in time.

    Attributes
    ----------
    enthalpy : ndarray, shape (n,)
        Of each cell after it. [J/m³]
    heat : ndarray, shape (k,)
        Heat that came in through each patch. [J/m]
    moved : float
        Half of what went through all faces and in and out of all cells, its sign left off. [J/m]
    """

    enthalpy: NDArray[np.float64]
    heat: NDArray[np.float64]
    moved: float


class Equations:
    """The balance of each cell with material; inside, cells stand in the order of elimination.

    Parameters
    ----------
    body : FreezingBody
        What conducts, stores and freezes.
    patches : sequence of Patch
        What lies against it.
    course : mapping of str to callable
        For a patch by its name, what its surrounding is at a time.

    Raises
    ------
    ValueError
        If there is no patch, one does not fit, or `course` names one that is not there.
    """

    def __init__(self, body: FreezingBody, patches: Sequence[Patch], course: Mapping[str, Course]) -> None:
        grid = self.grid = body.grid

        def flat(values: Any) -> NDArray[np.float64]:
            return np.broadcast_to(np.asarray(values, dtype=float), grid.shape).ravel()

        by_state = np.stack([flat(body.conductivity), flat(body.frozen_conductivity)])  # thawed, frozen
        faces = faces_of(grid, by_state[0].reshape(grid.shape), patches)
        self.names = tuple(faces)
        if not faces:
            raise ValueError("There is no patch; give the body at least one.")
        for name in course:
            if name not in faces:
                raise ValueError(f"course names {name}; the patches are {', '.join(faces)}.")

        solid = np.flatnonzero(by_state[0] > 0)
        place = np.full(by_state.shape[1], -1)
        place[solid] = np.arange(len(solid))
        index = np.arange(len(place)).reshape(grid.shape)
        pairs, shapes = [], []
        for axis in (0, 1):
            pair = np.stack([index[part].ravel() for part in neighbours(2, axis)])
            pair = pair[:, np.all(place[pair] >= 0, axis=0)]
            pairs.append(pair)
            shapes.append(2 * grid.volume.ravel()[pair] / flat(grid.width(axis))[pair] ** 2)
        pair, shape = np.concatenate(pairs, axis=1), np.concatenate(shapes, axis=1)
        pattern, slots = _pattern(len(solid), *place[pair])
        pattern.data = np.where(slots < len(solid), 8.0, -1.0)  # anything that can be factorised
        self.cells = solid[np.argsort(factorised(pattern, "MMD_AT_PLUS_A").perm_c)]
        place[self.cells] = np.arange(len(solid))
        self.first, self.second = place[pair]
        self.half_first, self.half_second = shape[0] * by_state[:, pair[0]], shape[1] * by_state[:, pair[1]]
        self.volume = grid.volume.ravel()[self.cells]
        self.capacity = np.stack([flat(body.heat_capacity), flat(body.frozen_heat_capacity)])[:, self.cells]
        self.latent = flat(body.latent_heat)[self.cells]

        self.behind = [one.cell for one in faces.values()]
        cell = np.concatenate(self.behind)
        self.patch = np.repeat(np.arange(len(faces)), [len(one) for one in self.behind])
        self.area = np.concatenate([one.area for one in faces.values()])
        self.face = place[cell]
        self.half_face = self.area / np.concatenate([one.half for one in faces.values()])
        self.half_face = self.half_face * by_state[:, cell] / by_state[0, cell]
        around = [patch.surrounding for patch in patches]
        film = np.array([1 / one.coefficient if isinstance(one, Film) else 0.0 for one in around])
        self.film = film[self.patch] / self.area
        self.held = np.array([not isinstance(one, Flux) for one in around])[self.patch]
        self.course = [course.get(patch.name, _still(patch.surrounding)) for patch in patches]

        self.pattern, self.slots = _pattern(len(solid), self.first, self.second)
        self.factors: Any = None
        self.factors_of: tuple[float, bytes] | None = None

    def enthalpy_of(self, temperature: float | NDArray[np.float64]) -> NDArray[np.float64]:
        """Enthalpy at given temperatures, thawed at 0 °C.

        Parameters
        ----------
        temperature : float or ndarray, broadcast over the grid
            Temperature of each cell. [°C]

        Returns
        -------
        ndarray, shape (n,)
            Enthalpy of each cell with material. [J/m³]

        Raises
        ------
        ValueError
            If the temperatures do not fit the grid, or one in the material is not finite.
        """
        self.grid.check_shape(temperature, "start")
        given = np.broadcast_to(np.asarray(temperature, dtype=float), self.grid.shape).ravel()[self.cells]
        if not np.all(np.isfinite(given)):
            raise ValueError("The start has a temperature that is not finite; give numbers.")
        thawed, frozen = self.capacity
        return np.where(given < 0, frozen * given, thawed * given + self.latent)

    def temperature(self, enthalpy: NDArray[np.float64]) -> NDArray[np.float64]:
        """Temperatures that go with an enthalpy.

        Parameters
        ----------
        enthalpy : ndarray, shape (n,)
            Of each cell with material. [J/m³]

        Returns
        -------
        ndarray, shape (n,)
            Of each cell with material. [°C]
        """
        thawed, frozen = self.capacity
        return np.minimum(enthalpy, 0) / frozen + np.maximum(enthalpy - self.latent, 0) / thawed

    def frozen(self, enthalpy: NDArray[np.float64]) -> NDArray[np.float64]:
        """Frozen shares that go with an enthalpy.

        Parameters
        ----------
        enthalpy : ndarray, shape (n,)
            Of each cell with material. [J/m³]

        Returns
        -------
        ndarray, shape (n,)
            Of each cell with material; where nothing freezes, 1 below 0 °C. [-]
        """
        wet = self.latent > 0
        share = np.clip(1 - enthalpy / np.where(wet, self.latent, 1.0), 0, 1)
        return np.where(wet, share, enthalpy < 0)

    def shaped(self, values: NDArray[np.float64], nothing: float) -> NDArray[np.float64]:
        """Lay values of cells over the grid.

        Parameters
        ----------
        values : ndarray, shape (n,)
            For each cell with material. [unit of its place]
        nothing : float
            Where there is no material. [unit of its place]

        Returns
        -------
        ndarray, shape of the grid
            The values. [unit of its place]
        """
        whole = np.full(self.grid.shape, nothing)
        whole.ravel()[self.cells] = values
        return whole

    def advance(
        self, enthalpy: NDArray[np.float64], until: float, length: float, halvings: int = HALVINGS
    ) -> list[Step]:
        """Go one step in time, or its halves if it finds no balance.

        Parameters
        ----------
        enthalpy : ndarray, shape (n,)
            Of each cell before it. [J/m³]
        until : float
            When it ends. [s]
        length : float
            How long it takes. [s]
        halvings : int
            How often it may still be halved. [-]

        Returns
        -------
        list of Step
            The step, or the steps it was parted into.

        Raises
        ------
        ValueError
            If a surrounding is not finite or does not fit.
        ArithmeticError
            If no halving helps.
        """
        found = self._balanced(enthalpy, self._around(until), length)
        if found:
            return [found]
        if halvings == 0:
            raise ArithmeticError(f"The ground finds no balance at {until:g} s; take shorter steps.")
        early = self.advance(enthalpy, until - length / 2, length / 2, halvings - 1)
        return early + self.advance(early[-1].enthalpy, until, length / 2, halvings - 1)

    def _around(self, time: float) -> NDArray[np.float64]:
        """What lies against each face at a time: a temperature or a flux."""
        found = []
        for name, course, cells in zip(self.names, self.course, self.behind, strict=True):
            value = np.asarray(course(time), dtype=float)
            self.grid.check_shape(value, f"course of {name}")
            found.append(np.broadcast_to(value, self.grid.shape).ravel()[cells])
            if not np.all(np.isfinite(found[-1])):
                raise ValueError(f"Patch {name} has a value at {time:g} s that is not finite; give numbers.")
        return np.concatenate(found)

    def _balanced(
        self, before: NDArray[np.float64], around: NDArray[np.float64], length: float
    ) -> Step | None:
        rate = self.volume / length
        enthalpy = origin = way = before
        least, share = np.inf, 1.0
        for _ in range(ITERATIONS):
            flows = self._flows(self.temperature(enthalpy), around)
            into = (
                np.bincount(self.face, flows.face, len(rate))
                + np.bincount(self.second, flows.link, len(rate))
                - np.bincount(self.first, flows.link, len(rate))
            )
            stored = rate * (enthalpy - before)
            left = stored - into
            size = float(np.abs(left).sum())
            moved = float(np.abs(flows.face).sum() + np.abs(stored).sum())
            terms = flows.terms + float(np.sum(rate * np.abs(enthalpy)))
            if size <= TOLERANCE * moved + ROUNDING * terms:
                come = np.bincount(self.patch, length * flows.face, len(self.names))
                return Step(enthalpy, come.astype(np.float64), length * moved / 2)
            if size >= least and share > SHORTEST:
                share /= 2
            else:
                origin, least, share = enthalpy, size, 1.0
                way = self._factors(enthalpy, flows, length).solve(left)
            enthalpy = origin - share * way
            # Out of the change of state no farther than its end: there a cell still has 0 °C, whatever it takes in.
            end = np.clip(enthalpy, -EDGE * self.latent, self.latent)
            enthalpy = np.where((origin >= 0) & (origin < self.latent), end, enthalpy)
        return None

    def _flows(self, temperature: NDArray[np.float64], around: NDArray[np.float64]) -> _Flows:
        cold = temperature < 0
        first, second, face = cold[self.first], cold[self.second], cold[self.face]
        own_first, own_second = _of_state(self.half_first, first), _of_state(self.half_second, second)
        own_face = _of_state(self.half_face, face)
        drive_first, drive_second = own_first * temperature[self.first], own_second * temperature[self.second]
        # Halves in series, both in the state of the place where they meet.
        frozen = drive_first + drive_second < 0
        a, b = _of_state(self.half_first, frozen), _of_state(self.half_second, frozen)
        share_first, share_second = b / (a + b), a / (a + b)
        drive_face = own_face * temperature[self.face]
        surface = around + self.film * drive_face < 0
        half = _of_state(self.half_face, surface)
        share_face = self.held / (1 + self.film * half)
        return _Flows(
            link=share_first * drive_first - share_second * drive_second,
            by_first=share_first * own_first,
            by_second=share_second * own_second,
            face=np.where(self.held, share_face * (half * around - drive_face), self.area * around),
            by_face=share_face * own_face,
            terms=float(
                np.sum(np.abs(drive_first)) + np.sum(np.abs(drive_second)) + np.sum(np.abs(drive_face))
            ),
            state=np.concatenate([frozen, surface]).tobytes(),
        )

    def _factors(self, enthalpy: NDArray[np.float64], flows: _Flows, length: float) -> Any:
        """Factors of the change of the balance with enthalpy, kept as long as nothing changes its state."""
        below, above = enthalpy < 0, enthalpy >= self.latent
        state = flows.state + below.tobytes() + above.tobytes()
        if self.factors_of != (length, state):
            thawed, frozen = self.capacity
            warming = np.where(below, 1 / frozen, np.where(above, 1 / thawed, 0.0))
            from_first, from_second = (
                flows.by_first * warming[self.first],
                flows.by_second * warming[self.second],
            )
            count = len(warming)
            diagonal = (
                self.volume / length
                + np.bincount(self.first, from_first, count)
                + np.bincount(self.second, from_second, count)
                + np.bincount(self.face, flows.by_face * warming[self.face], count)
            )
            self.pattern.data = np.concatenate([diagonal, -from_first, -from_second])[self.slots]
            self.factors, self.factors_of = factorised(self.pattern), (length, state)
        return self.factors


@dataclass(frozen=True, eq=False)
class _Flows:
    """Flows along links and through faces, how they change with temperatures, and what is frozen on their ways."""

    link: NDArray[np.float64]
    by_first: NDArray[np.float64]
    by_second: NDArray[np.float64]
    face: NDArray[np.float64]
    by_face: NDArray[np.float64]
    terms: float
    state: bytes


def _of_state(by_state: NDArray[np.float64], frozen: NDArray[np.bool_]) -> NDArray[np.float64]:
    return np.where(frozen, by_state[1], by_state[0])


def _still(surrounding: Any) -> Course:
    value = surrounding.flux if isinstance(surrounding, Flux) else surrounding.temperature
    return lambda time: value


def _pattern(count: int, first: NDArray[np.intp], second: NDArray[np.intp]) -> tuple[Any, NDArray[np.intp]]:
    """A matrix of links, by columns, and where its values come from: diagonal, second by first, first by second."""
    here = np.arange(count)
    rows, columns = np.concatenate([here, second, first]), np.concatenate([here, first, second])
    numbered = sparse.csc_array((np.arange(len(rows)) + 1.0, (rows, columns)), shape=(count, count))
    return numbered, numbered.data.astype(np.intp) - 1
