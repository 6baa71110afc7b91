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
    r"""Look of one layer.

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
        Pattern over the fill: ``/``, ``\``, ``x``, ``-`` or ``.``; "" for none.
    marker : str
        Shape at each node instead of a line between them: ``x``, ``circle``, ``triangle``, ``ring``, or ``none`` for
        what is only to be pointed at; "" for a line.
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


CIVIDIS = (
    "00224E 002A61 003171 1C396F 2D416D 3A486C 45506C 50576C 5B606E 656870 6E6F73 777777 "
    "817F78 8C8878 969077 A19975 ADA272 B9AB6D C4B468 D0BE62 DCC859 E8D24F F5DC41 FEE838"
)
"""Cold to warm: the map that people with and without colour-vision deficiency see alike, in 24 steps
(doi:10.1371/journal.pone.0199239 [memory]; numbers taken from matplotlib [derived])."""
LIGHTENED = 0.45
"""Share of white in the colours of temperatures, so that ink lines and texts are read on all of them. [-]"""


def _lightened(colour: str) -> str:
    parts = (int(colour[i : i + 2], 16) for i in (0, 2, 4))
    return "#" + "".join(f"{round(part + (255 - part) * LIGHTENED):02X}" for part in parts)


HEAT = {
    f"heat-{place:02d}": Layer("temperature", INK, 0.0, 0.0, fill=_lightened(colour))
    for place, colour in enumerate(CIVIDIS.split())
}
"""Temperatures from the coldest to the warmest of a picture."""
LOOPS = {
    f"loop-{zone}-{turn}": Layer(f"tube, zone {zone}", colour, 1.7, 0.35, dash=dash)
    for zone, colour in enumerate((ACCENT, "#A8480F", "#0F766E", "#5B3A8C"), 1)
    for turn, dash in enumerate(("solid", "longdash"), 1)
}
"""Tube: a colour for each zone, loops of a zone in turn solid and dashed."""
SERIES = ("series-1", "series-2", "series-3", "series-4")
"""Layers of a chart's series; the band of each is on the layer ``…-band``."""

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
    "soil": Layer("soil", "#7A6F5D", 1.0, 0.18, dash="longdash", fill="#F6F1E6", text=QUIET),
    "backfill": Layer("backfill and other soil", "#7A6F5D", 1.0, 0.18, fill="#EADFC6", hatch="\\", text=INK),
    "concrete": Layer("concrete", INK, 1.5, 0.35, fill="#C9C4BA", hatch="."),
    "stone": Layer("clean stone", "#5F5A51", 0.8, 0.18, fill="#E6E3DC", text=INK),
    "wood": Layer("wood", INK, 0.9, 0.18, fill="#E0C9A2"),
    "frame": Layer("framed wall with its insulation", QUIET, 0.9, 0.18, fill="#FFFDF6", text=INK),
    "foam": Layer("foam", INK, 0.9, 0.18, fill="#F0B357"),
    "insulation": Layer("line of insulation", "#6B3E00", 3.0, 0.7),
    "gap": Layer("gap in the line of insulation", "#B3240A", 4.2, 0.7, dash="dot"),
    "gap-end": Layer("end of a gap", "#B3240A", 1.6, 0.35, marker="circle"),
    "break": Layer("cut off here", INK, 0.8, 0.18),
    "level-line": Layer("line at a level", "#857D71", 0.7, 0.18, dash="dot", text=INK),
    "dimension": Layer("dimension", INK, 0.8, 0.18),
    **HEAT,
    **LOOPS,
    "floor": Layer("heated floor", INK, 1.6, 0.35, fill="#FFFFFF"),
    "unreached": Layer("floor that no tube reaches", "#B3240A", 1.0, 0.18, fill="#F6D7C6", hatch="/"),
    "free": Layer("kept free of tube", QUIET, 1.0, 0.18, fill="#E2DED5", hatch="x", text=INK),
    "saw-cut": Layer("saw cut", QUIET, 1.2, 0.18, dash="dot"),
    "joint": Layer("joint that tube may not cross", "#B3240A", 2.0, 0.35, dash="dashdot"),
    "sleeve": Layer("sleeved leader", "#B3240A", 1.6, 0.35, marker="circle"),
    "isotherm": Layer("isotherm", INK, 0.8, 0.18),
    "freezing": Layer("freezing point", INK, 3.0, 0.7),
    "block-edge": Layer("edge of concrete, foam, stone or ground", INK, 1.3, 0.35),
    "series-1": Layer("first series", ACCENT, 2.4, 0.5, fill="#7FB0C2"),
    "series-1-band": Layer("band of the first series", ACCENT, 0.9, 0.18, fill="#D6E6EB"),
    "series-2": Layer("second series", INK, 2.0, 0.35, dash="dash", fill="#FFFFFF", hatch="/"),
    "series-2-band": Layer("band of the second series", INK, 0.9, 0.18, dash="dash", fill="#E7E5E0"),
    "series-3": Layer("third series", "#A8480F", 2.0, 0.35, dash="dashdot", fill="#F5DCCB", hatch="."),
    "series-3-band": Layer("band of the third series", "#A8480F", 0.9, 0.18, dash="dashdot", fill="#F7E7DC"),
    "series-4": Layer("fourth series", "#0F766E", 2.0, 0.35, dash="dot", fill="#FFFFFF", hatch="x"),
    "series-4-band": Layer("band of the fourth series", "#0F766E", 0.9, 0.18, dash="dot", fill="#DDEEEA"),
    "axis": Layer("axis", INK, 1.2, 0.25, text=INK),
    "grid": Layer("line to read by", "#8C857A", 0.5, 0.13, dash="dot", text=QUIET),
    "whisker": Layer("from low to high", INK, 1.4, 0.35),
    "vertical": Layer("place on the axis", INK, 1.2, 0.25, dash="longdash"),
    "ring": Layer("chosen one", ACCENT, 2.6, 0.5, marker="ring"),
}
"""Every layer of every drawing."""
