r"""Loads on a slab that lies on foam: a plate on an elastic foundation.

The foam is a bed of springs of modulus :math:`K = E_\mathrm{foam}/t`, the ground under it rigid, which presses the
foam harder than ground that gives. The slab has no bars and no cracks, and its own weight is left out (4 in of concrete
press 0.33 psi). Whether the slab itself bears the load is not asked here.

References
----------
.. [1] Westergaard, H. M. (1926), Stresses in concrete pavements computed by theoretical analysis [memory].
.. [2] Ioannides, Thompson and Barenberg (1985), Westergaard solutions reconsidered [memory].
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, sqrt
from typing import Literal

from foundation.foam.boards import INCH, PSI, moduli, refused_in_ground
from foundation.model.foam import Bearing, BoardType

POUND = 4.4482216152605  # [N]
POISSON = 0.15
"""Poisson's ratio of concrete. [-]"""
CONCRETE_STRENGTH = 2500 * PSI
"""Least strength of a slab indoors, IRC Table R402.2 [memory]; weaker concrete presses the foam harder. [Pa]"""
STANDING, MOVING = 1 / 3, 1 / 5
"""Shares of the strength that foam may take under loads that stand, and that move [read]. [-]"""


@dataclass(frozen=True)
class PointLoad:
    """A load on a square foot.

    Attributes
    ----------
    name : str
        What it is.
    force : float
        Its weight. [N]
    side : float
        Side of its foot. [m]
    moves : bool
        Whether it rolls or walks.
    at : str
        ``middle``, ``edge`` or ``corner`` of the slab.
    """

    name: str
    force: float
    side: float
    moves: bool
    at: Literal["middle", "edge", "corner"] = "middle"


BARROW = PointLoad("a loaded barrow's wheel", 400 * POUND, 2 * INCH, True, "edge")
"""400 lb on 2 × 2 in [practice]."""
CAR = PointLoad("a car's wheel or jack", 2000 * POUND, sqrt(20) * INCH, True, "edge")
"""2,000 lb on 20 in², IRC Table R301.5 for passenger cars [memory]; at the slab's edge, where it is driven in."""
LIFT = PointLoad("a post of a car lift", 6000 * POUND, 12 * INCH, False, "middle")
"""6,000 lb on 12 × 12 in [practice]; a lift's maker and an engineer say more."""
USUAL_LOADS = (BARROW, CAR, LIFT)
"""What is assumed where nobody has told."""


def plate_stiffness(thickness: float, strength: float = CONCRETE_STRENGTH) -> float:
    r"""Bending stiffness of a concrete slab.

    :math:`D = E h^3 / (12 (1 - \mu^2))`, :math:`E = 57000 \sqrt{f'_c}` in psi (ACI 318).

    Parameters
    ----------
    thickness : float
        Of the slab, > 0. [m]
    strength : float
        Of the concrete, :math:`f'_c`, > 0. [Pa]

    Returns
    -------
    float
        Stiffness. [N·m]

    Raises
    ------
    ValueError
        If an input is not above 0.
    """
    _positive(thickness, "the thickness of the slab", "m")
    _positive(strength, "the strength of the concrete", "Pa")
    modulus = 57000 * sqrt(strength / PSI) * PSI
    return modulus * thickness**3 / (12 * (1 - POISSON**2))


def foundation_modulus(modulus: float, thickness: float) -> float:
    """Pressure of the foam per depth that it is pressed in.

    Parameters
    ----------
    modulus : float
        Elastic modulus of the foam, > 0. [Pa]
    thickness : float
        Of the foam, > 0. [m]

    Returns
    -------
    float
        Modulus. [Pa/m]

    Raises
    ------
    ValueError
        If an input is not above 0.
    """
    _positive(modulus, "the modulus of the foam", "Pa")
    _positive(thickness, "the thickness of the foam", "m")
    return modulus / thickness


def foam_pressure(load: PointLoad, stiffness: float, foundation: float) -> float:
    r"""Pressure on the foam under a load.

    In terms of :math:`l = (D/K)^{1/4}`: middle :math:`P/(8 l^2)`; edge :math:`0.431 P/l^2` [1]_, both as if the foot
    were a point, which is never too little; corner :math:`(1.212 - 0.73 c/l + 0.145 (c/l)^2) P/l^2` with the side
    c of the foot, fitted here to finite elements within 1 % for c ≤ 0.8 l [derived]. There [1]_ is 10 % lower or more,
    and [2]_ has 1.205 - 0.69 c/l. Nowhere more than the load over its own foot, as without a slab.

    Parameters
    ----------
    load : PointLoad
        The load.
    stiffness : float
        D of the slab, > 0. [N·m]
    foundation : float
        K of the foam, > 0. [Pa/m]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    ValueError
        If a number is out of its range.
    """
    _positive(load.force, f"the weight of {load.name}", "N")
    _positive(load.side, f"the side of the foot of {load.name}", "m")
    _positive(stiffness, "the stiffness of the slab", "N·m")
    _positive(foundation, "the modulus of the foundation", "Pa/m")
    length = (stiffness / foundation) ** 0.25
    share = load.side / length
    factor = {"middle": 1 / 8, "edge": 0.431, "corner": 1.212 - 0.73 * share + 0.145 * share**2}[load.at]
    return min(factor * load.force / length**2, load.force / load.side**2)


def bearing_of(
    board: BoardType,
    thickness: float,
    slab_thickness: float,
    load: PointLoad,
    strength: float = CONCRETE_STRENGTH,
) -> Bearing:
    """Whether a board under a slab carries a load.

    Parameters
    ----------
    board : BoardType
        The board; its stiffness is the table's.
    thickness : float
        Of the foam, > 0. [m]
    slab_thickness : float
        Of the slab, > 0. [m]
    load : PointLoad
        The load.
    strength : float
        Of the concrete, > 0. [Pa]

    Returns
    -------
    Bearing
        Pressure, and what the foam may take.

    Raises
    ------
    ValueError
        If a number is out of its range.
    """
    foundation = foundation_modulus(moduli()[board.name], thickness)
    pressure = foam_pressure(load, plate_stiffness(slab_thickness, strength), foundation)
    allowed = board.strength * (MOVING if load.moves else STANDING)
    return Bearing(board.name, load.name, pressure, allowed, pressure <= allowed)


def weakest_that_carries(
    boards: Iterable[BoardType],
    thickness: float,
    slab_thickness: float,
    loads: Iterable[PointLoad] = USUAL_LOADS,
    strength: float = CONCRETE_STRENGTH,
) -> BoardType | None:
    """The weakest board that carries every load, among those that may lie in the ground.

    Parameters
    ----------
    boards : iterable of BoardType
        Boards to choose from.
    thickness : float
        Of the foam, > 0. [m]
    slab_thickness : float
        Of the slab, > 0. [m]
    loads : iterable of PointLoad
        What has to be carried.
    strength : float
        Of the concrete, > 0. [Pa]

    Returns
    -------
    BoardType or None
        The board; of two equally strong ones the earlier. None where none of them does.

    Raises
    ------
    ValueError
        If a number is out of its range.
    """
    loads = tuple(loads)
    for board in sorted(boards, key=lambda each: each.strength):
        if not refused_in_ground(board) and all(
            bearing_of(board, thickness, slab_thickness, load, strength).carries for load in loads
        ):
            return board
    return None


def _positive(value: float, what: str, unit: str) -> None:
    if not 0 < value < inf:
        raise ValueError(f"{what} is {value:g} {unit}; it has to be more than 0")
