"""How each kind of thing is drawn: one table for screen, paper and DXF, never by colour alone."""

from __future__ import annotations

from dataclasses import dataclass

PAPER = "#FBFAF6"
INK = "#1D2730"
RULE = "#D9D4C9"
ACCENT = "#0B5C7A"
QUIET = "#5F5A51"
SANS = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif"


@dataclass(frozen=True)
class Layer:
    """Look of one layer.

    Attributes
    ----------
    title : str
        What lies on it, in the trade's words.
    colour : str
        Of its lines and texts.
    width : float
        Of its lines on screen. [px]
    weight : float
        Of its lines on paper. [mm]
    dash : str
        Line pattern: ``solid``, ``dash``, ``longdash``, ``dot`` or ``dashdot``.
    fill : str
        Colour of its areas, "" for none.
    hatch : str
        Pattern over the fill, "" for none.
    marker : str
        Shape at each node instead of a line between them, "" for a line.
    """

    title: str
    colour: str = INK
    width: float = 1.2
    weight: float = 0.18
    dash: str = "solid"
    fill: str = ""
    hatch: str = ""
    marker: str = ""


LAYERS: dict[str, Layer] = {
    "earth": Layer("finished ground", "#7A6F5D", 0.0, 0.18, fill="#E9E1CF", hatch="/"),
    "contour": Layer("contours", "#A79F90", 1.0, 0.18),
    "contour-index": Layer("every fifth contour", "#8C857A", 1.8, 0.35),
    "existing-grade": Layer("existing grade", "#8C857A", 1.5, 0.35),
    "finished-grade": Layer("finished grade", INK, 2.5, 0.7),
    "frost-line": Layer("frost line", "#2C6FBB", 1.8, 0.35, dash="longdash"),
    "wall": Layer("concrete wall", INK, 1.4, 0.35, fill="#E9E6DF"),
    "footing": Layer("footing", INK, 2.0, 0.7, fill="#C9C4BA", hatch="."),
    "slab": Layer("slab", INK, 1.2, 0.35, dash="dash", fill="#E7E3DA"),
    "limit": Layer("highest allowed bottom of footing", ACCENT, 1.2, 0.18, dash="dot"),
    "short-cover": Layer("frost cover is short", "#C2410C", 1.5, 0.35, fill="#F6D7C6", hatch="/"),
    "step": Layer("step", INK, 1.2, 0.35),
    "corner": Layer("corner", INK, 1.0, 0.18, dash="dot"),
    "level": Layer("level", INK, 0.8, 0.18),
    "note": Layer("note", QUIET, 0.8, 0.18),
    "outline": Layer("outside of concrete", INK, 2.5, 0.7),
    "footing-edge": Layer("edge of footing", INK, 1.0, 0.18, dash="dash"),
    "shot-existing": Layer("shot on existing ground", "#8C857A", 1.0, 0.18, marker="x"),
    "shot-finished": Layer("shot on finished ground", INK, 1.0, 0.18, marker="circle"),
    "mark": Layer("survey mark", ACCENT, 1.5, 0.35, marker="triangle"),
    "pointer": Layer("footing, to point at", INK, 0.0, 0.0, marker="none"),
    "chosen": Layer("picked", ACCENT, 3.5, 0.7),
}
"""Every layer of every drawing."""
