"""The drawings of a job: plan, profiles and sections, each at its place of one common sheet in real units."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from foundation.drawings.lot import lot_scene
from foundation.drawings.profile import profile_scene
from foundation.drawings.scene import Area, Label, Scene, Stroke
from foundation.drawings.section import section_scene
from foundation.drawings.to_svg import svg
from foundation.model.section import Situation
from foundation.plan import Plan
from foundation.plan.sections import PlacedSection, sections_along

TEXT = 13.0
"""Height of the type that drawings are labelled in. [px]"""
GAP = 2.0
"""Room between two drawings. [m]"""


@dataclass(frozen=True)
class SetDrawing:
    """One drawing of the set.

    Attributes
    ----------
    kind : str
        ``plan``, ``profile`` or ``section``.
    name : str
        Its name, which is a file's name too.
    scene : Scene
        The drawing, about its own origin.
    east, up : float
        Where that origin lies on the common sheet: the plan's so that places are those of the survey, the others'
        beside it. [m]
    """

    kind: str
    name: str
    scene: Scene
    east: float
    up: float


def drawing_set(plan: Plan, answer: str) -> tuple[SetDrawing, ...]:
    """Plan, a profile of each wall line, and a section of each kind that a wall line has.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.

    Returns
    -------
    tuple of SetDrawing
        Profiles stand in a row at the right of the plan, sections in a row over them. Levels in a row are all moved by
        the same whole number of feet or metres.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    stepping, system = plan.stepping(answer), plan.project.units
    lot = lot_scene(plan, stepping)
    ends = np.array([end for line in plan.lines for end in (line.wall.start_at, line.wall.end_at)])
    east, north = (float(value) for value in ends.min(axis=0))
    profiles = [
        (f"profile-{line.wall.name}", profile_scene(plan, stepping, [line.wall.name])) for line in plan.lines
    ]
    sections = [
        (_section_name(each), section_scene(each.section, system=system))
        for each in _chosen(sections_along(plan, answer))
    ]
    unit = 0.3048 if system == "us" else 1.0
    right = east + float(lot.window[1]) + GAP
    row = _row("profile", profiles, right, north + float(lot.window[2]), unit)
    top = max(each.scene.window[3] + each.up for each in row)
    return (
        SetDrawing("plan", "plan", lot, east, north),
        *row,
        *_row("section", sections, right, top + GAP, unit),
    )


def svg_set(plan: Plan, answer: str, revision: str, grey: bool = False) -> dict[str, str]:
    """Every drawing of the set as SVG.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    revision : str
        The revision hash, which stands under each drawing.
    grey : bool
        True to draw in greys of the same lightness.

    Returns
    -------
    dict of str to str
        Text by the file's name, such as ``profile-A-B.svg``.
    """
    words = f"{plan.project.name or 'Unnamed job'}, revision {plan.project.revision}, {revision}"
    return {
        f"{each.name}.svg": svg(_signed(each.scene, words), grey=grey) for each in drawing_set(plan, answer)
    }


def moved(scene: Scene, east: float, up: float, pixels_per_metre: float) -> Scene:
    """A drawing at another place, its type kept as high as it is in metres.

    Parameters
    ----------
    scene : Scene
        The drawing, in true shape.
    east, up : float
        How far it is moved. [m]
    pixels_per_metre : float
        Scale of the drawing that it becomes part of. [px/m]

    Returns
    -------
    Scene
        The drawing without what is only to be dragged on a screen.
    """
    by, size = np.array([east, up]), pixels_per_metre / scene.pixels_per_metre

    def label(each: Label) -> Label:
        leader = None if each.leader is None else (each.leader[0] + east, each.leader[1] + up)
        return replace(each, at=(each.at[0] + east, each.at[1] + up), leader=leader, size=each.size * size)

    left, right, low, high = scene.window
    return Scene(
        scene.title,
        scene.summary,
        (left + east, right + east, low + up, high + up),
        pixels_per_metre,
        strokes=tuple(Stroke(each.layer, each.points + by, each.name) for each in scene.strokes),
        areas=tuple(Area(each.layer, each.points + by, each.name) for each in scene.areas),
        labels=tuple(label(each) for each in scene.labels),
    )


def _row(
    kind: str, drawings: Sequence[tuple[str, Scene]], left: float, base: float, unit: float
) -> list[SetDrawing]:
    """Drawings side by side, all on one level that is a whole number of units away from the true one."""
    if not drawings:
        return []
    lowest = min(scene.window[2] for _, scene in drawings)
    up = math.ceil((base - lowest) / unit) * unit
    row = []
    for name, scene in drawings:
        row.append(SetDrawing(kind, name, scene, left - float(scene.window[0]), up))
        left += float(scene.window[1] - scene.window[0]) + GAP
    return row


def _chosen(sections: Sequence[PlacedSection]) -> list[PlacedSection]:
    """The longest stretch of each kind along each line."""
    longest: dict[tuple[str, Situation], PlacedSection] = {}
    for each in sections:
        key = (each.section.line, each.section.situation)
        if key not in longest or each.end - each.start > longest[key].end - longest[key].start:
            longest[key] = each
    return list(longest.values())


def _section_name(each: PlacedSection) -> str:
    words = re.sub(r"[^a-z]+", "-", each.section.situation.value)
    return f"section-{each.section.line}-{words}"


def _signed(scene: Scene, words: str) -> Scene:
    """A drawing with a line under it."""
    left, right, low, high = scene.window
    pixel = 1 / (scene.pixels_per_metre * scene.stretch)
    at = (float(left) + 6 / scene.pixels_per_metre, float(low) - TEXT * pixel)
    return replace(
        scene,
        summary=f"{scene.summary} {words}",
        window=(left, right, low - 2 * TEXT * pixel, high),
        labels=(*scene.labels, Label("note", words, at, "left", TEXT)),
    )
