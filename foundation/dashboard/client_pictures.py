"""The client's pictures: how cold it gets round the coldest floor, and the concrete that will show on each wall."""

from __future__ import annotations

import html
import math
import re
from dataclasses import replace

import numpy as np

from foundation import units
from foundation.drawings.heat_picture import NARROW, heat_scene, window_of
from foundation.drawings.labels import SIZE
from foundation.drawings.outside import SQUARE_FOOT, outside_scene
from foundation.drawings.scene import Label, Scene
from foundation.drawings.to_svg import svg
from foundation.handover.papers.sheets_client import side_of
from foundation.model.heat import ClimateUsed
from foundation.model.walls import Stepping
from foundation.plan import Plan
from foundation.plan.heat import SectionView

BODY = 28.0
"""Least height of type on the client's screen. [px]"""
SMALLEST = 110.0
"""No picture is drawn narrower than this. [px]"""
DAY = 365 / 12
"""The month that is shown, the middle of February, as the working page shows first: days after the coldest. [d]"""
SEEN = ("bare", "earth", "opening", "framed", "wall", "finished-grade", "existing-grade")
"""Layers of a wall from outside that a client looks at."""
UNDER_EDGE = 0.25
"""How far under the upper edge of the picture the air is named. [m]"""
ROUND = 0.4
"""Room round a wall. [m]"""


def heat_picture(view: SectionView, width: float, system: str) -> str:
    """Temperatures as planned and without foam, in type that is read from the sofa.

    Parameters
    ----------
    view : SectionView
        The place.
    width : float
        Width that the page gives it. [px]
    system : str
        ``us`` or ``metric``.

    Returns
    -------
    str
        HTML.
    """
    outside = view.outside
    if outside is None:
        return ""
    mean, swing = (outside.mean, outside.amplitude) if isinstance(outside, ClimateUsed) else (outside, 0.0)
    # Texts are placed in a small drawing, which is then shown larger: side by side where that leaves large type.
    across = max(width * SIZE / BODY, SMALLEST)
    if across > NARROW * 0.85:
        across = max(across, NARROW)
    scene = heat_scene(view.foamed, view.inside, mean, swing, DAY, across, view.bare, system)
    frost = "32\N{NO-BREAK SPACE}°F" if system == "us" else "0\N{NO-BREAK SPACE}°C"
    words = (
        "Temperatures in the ground and the house in the middle of February, as planned and without foam. "
        f"It freezes where it is colder than {frost}."
    )
    labels = (*scene.labels, *_airs(view))
    # The colours tell the temperatures; thin lines would only crowd in the foam.
    strokes = tuple(replace(stroke, name="") for stroke in scene.strokes if stroke.layer != "isotherm")
    scene = replace(scene, title="Temperatures in February", summary=words, labels=labels, strokes=strokes)
    scene = _readable(scene, width)
    return (
        f'<h2>A cold February: as planned, and without foam</h2><div class="heat-drawing">{svg(scene)}</div>'
        f"<p>A cut through the coldest spot. Dark is cold, yellow is warm. On the thick line it is {frost}: "
        "beyond it, it freezes.</p>"
    )


def _airs(view: SectionView) -> tuple[Label, ...]:
    """What is in and what is out, on the first picture."""
    left, right, _, top = window_of(view.foamed)
    faces = ((left + view.section.inner_face) / 2, "indoors"), (right / 2, "outdoors")
    return tuple(Label("note", name, (x, top - UNDER_EDGE), "middle", SIZE) for x, name in faces)


def _readable(scene: Scene, width: float) -> Scene:
    """The scene with its type enlarged to what it takes to be read when it is shown so wide."""
    size = BODY * scene.width / width
    labels = tuple(replace(label, size=max(label.size, size)) for label in scene.labels)
    return replace(scene, labels=labels)


def outside_views(plan: Plan, stepping: Stepping) -> str:
    """Every wall that faces outdoors, on one scale, with how much bare concrete will show.

    Parameters
    ----------
    plan : Plan
        The plan.
    stepping : Stepping
        The answer that is built.

    Returns
    -------
    str
        HTML.
    """
    walls = [line.wall for line in plan.lines if not line.wall.beyond]
    scenes = [(wall, outside_scene(plan, stepping, wall.name)) for wall in walls]
    longest = max(wall.length for wall in walls)
    pictures = "".join(
        f"<figure>{svg(_plain(scene, wall.length, longest))}<figcaption><b>{side_of(wall).capitalize()} side of "
        f"the {html.escape(wall.part)}</b>, corner {html.escape(wall.start)} to {html.escape(wall.end)}: "
        f"{html.escape(_words(scene, wall.name))}</figcaption></figure>"
        for wall, scene in scenes
    )
    shown = [each.area for each in plan.walls[stepping.name].bare]
    total = f"{_area(sum(shown), plan.project.units)} of bare" if shown else "Bare"
    given = any(math.isfinite(grade.finished) for grade in plan.corner_grades.values())
    doubt = (
        "" if given else "<p>▲ The ground is taken as it lies today: how it will lie is not entered yet.</p>"
    )
    return f"<h2>{total} concrete will show</h2>{doubt}<div class='walls-drawing'>{pictures}</div>"


def _area(square_metres: float, system: str) -> str:
    """An area as the drawing of a wall tells it."""
    whole = f"{square_metres / SQUARE_FOOT:,.0f} ft²"
    return whole if system == "us" else units.write(square_metres, "area", "metric")


def _words(scene: Scene, name: str) -> str:
    """What the working page says of a wall, without its name and the trade's words."""
    words = scene.title.removeprefix(f"Wall {name} from outside: ").replace("no grade", "no ground")
    return re.sub(r"(\d) (\d+/\d+)", "\\1\N{NO-BREAK SPACE}\\2", words)


def _plain(scene: Scene, length: float, longest: float) -> Scene:
    """A wall without levels and texts, in a window as wide as the longest wall's."""
    # Nor names: a browser shows them to who points there.
    areas = tuple(replace(area, name="") for area in scene.areas if area.layer in SEEN)
    strokes = tuple(replace(stroke, name="") for stroke in scene.strokes if stroke.layer in SEEN)
    points = np.vstack([*(area.points for area in areas), *(stroke.points for stroke in strokes)])
    low, high = np.nanmin(points[:, 1]), np.nanmax(points[:, 1])
    spare = (longest - length) / 2 + ROUND
    return replace(
        scene,
        title="A wall from outside",
        summary="The ground, the bare concrete over it, and the openings.",
        window=(-spare, length + spare, float(low) - ROUND / 2, float(high) + ROUND),
        areas=areas,
        strokes=strokes,
        labels=(),
        handles=(),
    )
