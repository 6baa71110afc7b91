"""Concrete, wood, stone, foam and framed walls."""

from __future__ import annotations

from math import inf

from foundation.materials.checks import in_range
from foundation.model.foam import BoardType
from foundation.model.section import Material

CONCRETE = Material("concrete", 1.73, 2.0e6, 1.73)
"""Normal weight, 12 Btu·in/(h·ft²·°F) as is usual for slabs; measured ones run from 1.3 to 2.6 [practice]."""
WOOD = Material("wood", 0.12, 0.72e6, 0.12)
"""Softwood of 450 kg/m³, ISO 10456 [memory]."""
STONE = Material("stone", 0.7, 1.4e6, 0.7)
"""Clean stone, drained; dry it conducts less, and wet more [practice]."""

FOAM_HEAT = 45e3  # 30 kg/m³ of polystyrene, 1500 J/(kg·K) [practice] [J/(m³·K)]
FRAME_HEAT = 0.15e6  # studs over a fifth of the wall, batts between [practice] [J/(m³·K)]


def foam_material(board: BoardType, resistivity: float) -> Material:
    """A board as it conducts where it lies.

    Parameters
    ----------
    board : BoardType
        The board.
    resistivity : float
        The one of its resistivities that counts there, > 0. [m·K/W]

    Returns
    -------
    Material
        Foam, which holds no water that freezes.

    Raises
    ------
    ValueError
        If the resistivity is not a number above 0, as that of a board that is not for the ground.
    """
    if not 0 < resistivity < inf:
        raise ValueError(
            f"the resistivity of {board.name} is {resistivity:g} m·K/W; it has to be more than 0, "
            "and a board that is not for the ground has none there"
        )
    return Material(board.name, 1 / resistivity, FOAM_HEAT, 1 / resistivity)


def framed_wall(resistance: float, thickness: float) -> Material:
    """A framed wall with its batts, as if it were of one material.

    Parameters
    ----------
    resistance : float
        Of the wall from face to face, > 0. [m²·K/W]
    thickness : float
        Of the wall, > 0. [m]

    Returns
    -------
    Material
        The wall.

    Raises
    ------
    ValueError
        If an input is not above 0.
    """
    in_range(resistance, "the resistance of the framed wall", "m²·K/W")
    in_range(thickness, "the thickness of the framed wall", "m")
    conductivity = thickness / resistance
    return Material("framed wall", conductivity, FRAME_HEAT, conductivity)
