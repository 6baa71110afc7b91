"""Frost-protected shallow footings: who may have one, how the foam lies, and which wings protect enough.

ASCE 32 and the model code's table after it size such footings by the freezing index alone [memory]; here each is
followed through the design winter, and the local office decides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from foundation.model.section import Block, BlockKind, Material, Section
from foundation.model.winter import ProtectingFoam

INCH = 0.0254
DEPTH = 16 * INCH
"""Least depth of a footing's bottom below the grade that counts, for foam to protect it: the deepest of the 12, 14 and
16 in that ASCE 32 and IRC table R403.3(1) ask for with the index [memory]. [m]"""
WING_DEPTH = 12 * INCH
"""Ground over a wing; the model code asks for 10 in or paving [read]. [m]"""
WIDTHS = tuple(inches * INCH for inches in (12.0, 16.0, 24.0, 36.0, 48.0))
"""Widths of wing that sheets of 48 in are cut into [practice]. [m]"""
THICKEST = 4 * INCH
"""Most foam that is tried on the wall and in the wing: a wing of 4 in under 12 in of ground ends level with the
footing [practice]. [m]"""
USUAL = 2 * INCH
"""Foam on the wall that is tried first where none is planned [practice]. [m]"""
MARGIN = 0.2
"""Least over freezing under the footing; a coarse grid is up to so much too warm there [derived]. [K]"""
SEASONAL = ("open",)
"""Ways of standing a winter that no shallow footing stands."""
OUTSIDE, WING = "foam outside", "wing"
OVER_TOE, AT_EDGE = "foam over the footing's toe", "foam at the footing's edge"
PROTECTING = (OUTSIDE, OVER_TOE, AT_EDGE, WING)
"""Names of the foam that protects a footing, in a section."""
UPRIGHT = (OUTSIDE, AT_EDGE)
"""Those that stand."""
FACES = ("wall", "wall above the ledge", "slab over the wall")
"""Names of the concrete that the foam outside covers."""


def refusal(part: str, is_heated: bool, beyond: str, stands_winter: str, accepted: str) -> str:
    """Why a wall line may have no frost-protected shallow footing.

    Parameters
    ----------
    part : str
        Name of the part whose wall it is.
    is_heated : bool
        Whether that is heated every winter.
    beyond : str
        Name of the part on the other side, "" outdoors.
    stands_winter : str
        How the foundation stands a winter: ``unknown``, ``no``, ``heated``, ``protected`` or ``open``.
    accepted : str
        Whether the office accepts such footings: ``unknown``, ``yes``, ``no``.

    Returns
    -------
    str
        A sentence, "" where nothing speaks against it.

    Examples
    --------
    >>> refusal("porch", False, "", "no", "yes")
    'Nobody heats porch: a shallow footing lives on the heat of the house, and there is none for unheated parts.'
    """
    if accepted == "no":
        return "The office does not accept frost-protected shallow footings: the footing goes down to the frost depth."
    if not is_heated:
        return (
            f"Nobody heats {part}: a shallow footing lives on the heat of the house, and there is none for "
            "unheated parts."
        )
    if beyond:
        return f"Beyond this wall lies {beyond}, not the open ground: there is no wing to lay."
    if stands_winter in SEASONAL:
        return (
            "The foundation stands a winter open: a shallow footing lives on the heat of the house, and there is none "
            "for parts that stand a winter without it."
        )
    return ""


def least_wings(
    widths: Sequence[float], thicknesses: Sequence[float], holds: Callable[[float, float], bool]
) -> list[tuple[float, float]]:
    """Wings that hold while none narrower of the same or a lesser thickness does.

    What holds is taken to hold wider and thicker as well, so that one walk along the border is enough: as many trials
    as there are widths and thicknesses together, at most.

    Parameters
    ----------
    widths, thicknesses : sequence of float
        What may be laid, rising. [m]
    holds : callable
        Whether a width [m] with a thickness [m] protects the footing.

    Returns
    -------
    list of tuple of float
        Width and thickness of each, thin and wide ones first; empty where none holds. [m]

    Examples
    --------
    >>> least_wings([1.0, 2.0, 3.0], [1.0, 2.0, 4.0], lambda width, thickness: width * thickness >= 4)
    [(2.0, 2.0), (1.0, 4.0)]
    """
    found = []
    left = list(widths)
    for thickness in thicknesses:
        narrowest = None
        while left and holds(left[-1], thickness):
            narrowest = left.pop()
        if narrowest is not None:
            found.append((narrowest, thickness))
    return found


def protected(
    section: Section, foam: ProtectingFoam, upright: Material, over: Material, wing: Material
) -> Section:
    """A section whose footing is wrapped in foam: the wall's face, over the toe, down the edge, and outward.

    Parameters
    ----------
    section : Section
        The section, its footing as shallow as it is to be; what foam it has outside gives way.
    foam : ProtectingFoam
        The foam.
    upright, over, wing : Material
        What it is made of where it stands, over the toe, and in the wing; the last counts where there is a wing.

    Returns
    -------
    Section
        With that foam.

    Raises
    ------
    ValueError
        If the section has no footing.
    """
    feet = [b for b in section.blocks if b.kind is BlockKind.CONCRETE and b.name == "footing"]
    if not feet:
        raise ValueError(f"The section at {section.line} has no footing to protect.")
    foot, thick = feet[0], foam.thickness
    top = max([b.top for b in section.blocks if b.name in FACES and abs(b.right) < 1e-6], default=foot.top)
    edge = foot.right + thick
    blocks = [
        _foam(OUTSIDE, upright, (0.0, thick), (foot.top, top)),
        _foam(OVER_TOE, over, (0.0, edge), (foot.top, foot.top + thick)),
        _foam(AT_EDGE, upright, (foot.right, edge), (foot.bottom, foot.top + thick)),
    ]
    if foam.wing:
        end = edge + foam.wing_width
        lie = min(step.level for step in section.grade if step.start < end) - foam.wing_depth
        blocks.append(_foam(WING, wing, (edge, end), (lie - foam.wing_thickness, lie)))
    # First of all, so that the concrete of an apron or a slab that runs out lies over them.
    rest = [b for b in section.blocks if b.name not in PROTECTING or b.kind is not BlockKind.FOAM]
    return replace(section, blocks=(*(b for b in blocks if b.top > b.bottom and b.right > b.left), *rest))


def _foam(name: str, material: Material, sides: tuple[float, float], levels: tuple[float, float]) -> Block:
    return Block(name, BlockKind.FOAM, material, *(round(each, 5) for each in (*sides, *levels)))


def spans(nodes: Sequence[float], chosen: Sequence[bool]) -> tuple[tuple[float, float], ...]:
    """Stretches of neighbouring cells that are chosen.

    Parameters
    ----------
    nodes : sequence of float, length n + 1
        Ends of the cells, rising. [m]
    chosen : sequence of bool, length n
        Which cells are.

    Returns
    -------
    tuple of tuple of float
        Start and end of each. [m]

    Examples
    --------
    >>> spans([0.0, 1.0, 2.0, 4.0], [True, False, True])
    ((0.0, 1.0), (2.0, 4.0))
    """
    found: list[tuple[float, float]] = []
    last = -math.inf
    for start, end, is_chosen in zip(nodes[:-1], nodes[1:], chosen, strict=True):
        if is_chosen:
            found = [*found[:-1], (found[-1][0], end)] if start == last else [*found, (start, end)]
            last = end
    return tuple(found)
