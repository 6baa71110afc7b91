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
    text : str
        Colour of its texts, "" for that of its lines: a text needs more contrast than a line.
    """

    title: str
    colour: str = INK
    width: float = 1.2
    weight: float = 0.18
    dash: str = "solid"
    fill: str = ""
    hatch: str = ""
    marker: str = ""
    text: str = ""

    @property
    def ink(self) -> str:
        """Colour of its texts."""
        return self.text or self.colour


LAYERS: dict[str, Layer] = {
    "ground": Layer("ground", "#857D71", 1.0, 0.18, dash="dashdot", fill="#EFE7D5", text=QUIET),
    "earth": Layer("finished ground", "#7A6F5D", 0.0, 0.18, fill="#F1EBDD", hatch="/"),
    "contour": Layer("contours", "#8C8476", 1.0, 0.18, text=QUIET),
    "contour-index": Layer("every fifth contour", "#857D71", 1.8, 0.35, text=QUIET),
    "existing-grade": Layer("existing grade", "#8C857A", 1.5, 0.35, text=QUIET),
    "finished-grade": Layer("finished grade", INK, 2.5, 0.7),
    "frost-line": Layer("frost line", "#2C6FBB", 1.8, 0.35, dash="longdash"),
    "wall": Layer("concrete wall", INK, 1.4, 0.35, fill="#F1EFE9"),
    "wall-shade": Layer("concrete wall, away from the light", INK, 1.4, 0.35, fill="#E2DED5"),
    "buried": Layer("concrete wall under grade", INK, 1.4, 0.35, fill="#DDD0B4"),
    "bare": Layer("bare concrete", "#8C857A", 1.2, 0.35, fill="#E6E2DA", hatch=".", text=INK),
    "footing": Layer("footing", INK, 1.7, 0.35, fill="#C9C4BA", hatch="."),
    "edge": Layer("edge of a face", INK, 1.0, 0.25),
    "edge-inside": Layer("edge of a face, inside", "#565148", 0.8, 0.18),
    "slab": Layer("slab", INK, 1.2, 0.35, dash="dash", fill="#F7F5EF"),
    "ledge": Layer("ledge", INK, 1.6, 0.35, dash="dashdot"),
    "panel": Layer("joints of form panels", "#857D71", 0.7, 0.18, text=QUIET),
    "opening": Layer("opening", QUIET, 1.6, 0.35, fill="#FFFFFF"),
    "framed": Layer("framed wall", QUIET, 1.2, 0.18, dash="dash", fill="#FFFFFF"),
    "limit": Layer("highest allowed bottom of footing", ACCENT, 1.2, 0.18, dash="dot"),
    "compare": Layer("footing of the other answer", ACCENT, 1.4, 0.35, dash="dash"),
    "short-cover": Layer("frost cover is short", "#C2410C", 1.5, 0.35, fill="#F6D7C6", hatch="/"),
    "step": Layer("step", INK, 1.2, 0.35),
    "corner": Layer("corner", INK, 1.0, 0.18, dash="dot"),
    "level": Layer("level", INK, 0.8, 0.18),
    "note": Layer("note", QUIET, 0.8, 0.18),
    "leader": Layer("leader of a text", QUIET, 0.7, 0.18),
    "outline": Layer("outside of concrete", INK, 2.5, 0.7),
    "footing-edge": Layer("edge of footing", INK, 1.0, 0.18, dash="dash"),
    "hidden": Layer("footing behind or below something", "#8C857A", 1.0, 0.18, dash="dash", text=QUIET),
    "shot-existing": Layer("shot on existing ground", "#8C857A", 1.0, 0.18, marker="x", text=QUIET),
    "shot-finished": Layer("shot on finished ground", INK, 1.0, 0.18, marker="circle"),
    "mark": Layer("survey mark", ACCENT, 1.5, 0.35, marker="triangle"),
    "pointer": Layer("footing, to point at", INK, 0.0, 0.0, marker="none"),
    "chosen": Layer("picked", ACCENT, 3.5, 0.7),
}
"""Every layer of every drawing."""
