"""Drawings at a true scale: which scale fits the paper, and a scene as a block of a sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from foundation.drawings.layers import SANS
from foundation.drawings.scene import Scene
from foundation.drawings.to_svg import svg
from foundation.handover.papers.blocks import Block
from foundation.handover.papers.lettering import FAMILY, printable

Make = Callable[[float], Scene]

US_SCALES = {
    12: '1" = 1\'-0"',
    16: '3/4" = 1\'-0"',
    24: '1/2" = 1\'-0"',
    32: '3/8" = 1\'-0"',
    48: '1/4" = 1\'-0"',
    64: '3/16" = 1\'-0"',
    96: '1/8" = 1\'-0"',
    120: "1\" = 10'",
    128: '3/32" = 1\'-0"',
    192: '1/16" = 1\'-0"',
    240: "1\" = 20'",
    360: "1\" = 30'",
    480: "1\" = 40'",
    600: "1\" = 50'",
    1200: "1\" = 100'",
    2400: "1\" = 200'",
    6000: "1\" = 500'",
}
"""Scales that the trade's rulers have, largest drawing first."""
METRIC_SCALES = {n: f"1:{n}" for n in (10, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1000, 2000, 5000)}
"""Scales of ISO 5455 and the usual ones between them [memory]."""
SMALLEST_TYPE = 1.95
"""Height of the smallest type on a drawing. [mm]"""
TYPE = 13.0
"""Height of the type that scenes are drawn with. [px]"""
STEPS = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)
LONGEST_BAR = 44.0
"""Longest scale bar. [mm]"""


@dataclass(frozen=True)
class Paper:
    """A size of paper, lying.

    Attributes
    ----------
    name : str
        ``letter`` or ``tabloid``.
    width, height : float
        Of the sheet. [mm]
    type_size : float
        Of plain words. [pt]
    pixel : float
        Of a drawing's pixel. [mm]
    """

    name: str
    width: float
    height: float
    type_size: float
    pixel: float

    @property
    def room(self) -> tuple[float, float]:
        """Width and height between the margins, with a drawing's title and scale taken off. [mm]"""
        return self.width - 24.0, self.height - 58.0


PAPERS = {
    "letter": Paper("letter", 279.4, 215.9, 8.5, 0.2),
    "tabloid": Paper("tabloid", 431.8, 279.4, 10.0, 0.225),
}
"""Letter, and 11 × 17 in."""


@dataclass(frozen=True)
class Drawn:
    """A scene at a scale.

    Attributes
    ----------
    scene : Scene
        The scene.
    scale : int
        Length over its length on paper. [-]
    """

    scene: Scene
    scale: int

    @property
    def pixel(self) -> float:
        """Of a pixel on paper. [mm]"""
        return 1000 / (self.scale * self.scene.pixels_per_metre)

    @property
    def width(self) -> float:
        """On paper. [mm]"""
        return self.scene.width * self.pixel

    @property
    def height(self) -> float:
        """On paper. [mm]"""
        return self.scene.height * self.pixel

    def fits(self, room: tuple[float, float]) -> bool:
        """Whether it goes into a room.

        Parameters
        ----------
        room : tuple of float
            Width and height. [mm]

        Returns
        -------
        bool
            True where it does.
        """
        return self.width <= room[0] + 1e-6 and self.height <= room[1] + 1e-6


def scales_of(system: str) -> dict[int, str]:
    """Scales with their names, largest drawing first.

    Parameters
    ----------
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    dict of int to str
        Length over length on paper. [-]
    """
    return US_SCALES if system == "us" else METRIC_SCALES


def drawn(make: Make, room: tuple[float, float], pixel: float, system: str, largest: int = 0) -> Drawn:
    """A scene at the largest true scale that fits.

    Parameters
    ----------
    make : callable
        Draws the scene for a number of pixels a metre.
    room : tuple of float
        Width and height that it has. [mm]
    pixel : float
        Wanted size of a pixel, which sets the size of the type. [mm]
    system : str
        ``us`` or ``metric``.
    largest : int
        Largest scale that is tried, 0 for any. [-]

    Returns
    -------
    Drawn
        The scene, its type never smaller than can be read where a scale allows that.
    """
    found: Drawn | None = None
    for scale in scales_of(system):
        if scale < largest:
            continue
        found = Drawn(make(1000 / (scale * pixel)), scale)
        if found.fits(room) and found.pixel * TYPE >= SMALLEST_TYPE:
            return found
    assert found is not None
    return found


def at_one_scale(makes: Iterable[Make], room: tuple[float, float], pixel: float, system: str) -> list[Drawn]:
    """Scenes at the largest scale at which every one fits; one whose type would be too small is drawn larger.

    Parameters
    ----------
    makes : iterable of callable
        Each draws a scene for a number of pixels a metre.
    room : tuple of float
        Width and height that each has. [mm]
    pixel : float
        Wanted size of a pixel. [mm]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    list of Drawn
        In the same order.
    """
    makes, own, shared = list(makes), [], 0
    for make in makes:
        own.append(drawn(make, room, pixel, system, shared))
        shared = max(shared, own[-1].scale)
    found = []
    for make, each in zip(makes, own, strict=True):
        again = each if each.scale == shared else Drawn(make(1000 / (shared * pixel)), shared)
        found.append(again if again.pixel * TYPE >= SMALLEST_TYPE else drawn(make, room, pixel, system))
    return found


def drawing(each: Drawn, system: str, note: str = "", north: bool = False) -> Block:
    """A drawing with its title, scale and scale bar.

    Parameters
    ----------
    each : Drawn
        The scene at its scale.
    system : str
        ``us`` or ``metric``.
    note : str
        What stands beside the scale.
    north : bool
        Whether north is up on it, and is shown.

    Returns
    -------
    dict
        The block.
    """
    unit, word = (304.8, "ft") if system == "us" else (1000.0, "m")
    count = 4
    step = max((s for s in STEPS if count * s * unit / each.scale <= LONGEST_BAR), default=STEPS[0])
    return {
        "kind": "drawing",
        "title": each.scene.title,
        "alt": each.scene.summary,
        "svg": paper_svg(each),
        "width": each.width,
        "height": each.height,
        "scale": scales_of(system)[each.scale],
        "bar": {"step": step * unit / each.scale, "count": count, "label": f"{count * step:g} {word}"},
        "north": north,
        "note": note,
    }


def paper_svg(each: Drawn) -> str:
    """A scene at its scale as SVG in the papers' own type.

    Parameters
    ----------
    each : Drawn
        The scene at its scale.

    Returns
    -------
    str
        The file; characters that the type lacks are one visible mark, as everywhere on the papers.
    """
    labels = tuple(replace(label, text=printable(label.text)) for label in each.scene.labels)
    text = svg(replace(each.scene, labels=labels), paper_scale=each.scale)
    return text.replace(_family(SANS), _family(FAMILY), 1)


def _family(names: str) -> str:
    return f'font-family="{names}"'
