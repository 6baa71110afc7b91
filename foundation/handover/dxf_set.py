"""The whole job as one DXF file: plan at the survey's coordinates, profiles and sections beside it, in real units."""

from __future__ import annotations

import io
import statistics
from typing import TYPE_CHECKING, Literal

from foundation.drawings.scene import Label, Scene
from foundation.drawings.to_dxf import FOOT, dxf
from foundation.handover.drawing_set import TEXT, SetDrawing, drawing_set, moved
from foundation.plan import Plan

if TYPE_CHECKING:
    from ezdxf.document import Drawing

KINDS = ("plan", "profile", "section")
TITLE = 1.6
"""Height of titles over that of other texts. [-]"""


def dxf_set(plan: Plan, answer: str, revision: str, unit: Literal["m", "ft"] | None = None) -> bytes:
    """The drawings of a job as the bytes of one DXF file of release 2018.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : str
        Name of the stepping.
    revision : str
        The revision hash.
    unit : {"m", "ft"}, optional
        Unit of the coordinates; that of the shots when left out, and without shots that of the sheets.

    Returns
    -------
    bytes
        The file, in UTF-8; layers are those of `foundation.drawings.layers`, by thing.

    Raises
    ------
    KeyError
        If no answer has that name; the known ones are listed.
    """
    from ezdxf.xref import ConflictPolicy, load_modelspace

    project = plan.project
    unit = unit or project.ground.shot_unit or ("ft" if project.units == "us" else "m")
    drawings = drawing_set(plan, answer)
    groups = [
        _group([each for each in drawings if each.kind == kind], plan, revision, unit)
        for kind in KINDS
        if any(each.kind == kind for each in drawings)
    ]
    # Dashes, hatches and marks are sized by the drawing they stand in: each group is made by itself and brought in.
    whole = _read(dxf(groups[0], unit))
    for group in groups[1:]:
        other = _read(dxf(group, unit))
        size = groups[0].pixels_per_metre / group.pixels_per_metre
        for entity in other.modelspace().query("LWPOLYLINE LINE"):
            entity.dxf.ltscale = size
        load_modelspace(other, whole, conflict_policy=ConflictPolicy.KEEP)
    whole.header.custom_vars.append("revision", revision)
    stream = io.StringIO()
    whole.write(stream)
    return stream.getvalue().encode("utf-8")


def _group(drawings: list[SetDrawing], plan: Plan, revision: str, unit: str) -> Scene:
    """Drawings of one kind as one, each with its title."""
    scale = statistics.median(each.scene.pixels_per_metre for each in drawings)
    scenes = [moved(each.scene, each.east, each.up, scale) for each in drawings]
    titles: list[Label] = []
    for each, scene in zip(drawings, scenes, strict=True):
        line = 1.4 * TEXT * scale / each.scene.pixels_per_metre
        for place, text in enumerate(reversed(_titles(each, plan, revision, unit))):
            at = (float(scene.window[0]), float(scene.window[3]) + (place + 1) * line / scale)
            titles.append(Label("note", text, at, "left", line / 1.4, None, True))
    windows = list(zip(*(scene.window for scene in scenes), strict=True))
    return Scene(
        drawings[0].kind,
        "",
        (min(windows[0]), max(windows[1]), min(windows[2]), max(windows[3])),
        scale,
        strokes=tuple(stroke for scene in scenes for stroke in scene.strokes),
        areas=tuple(area for scene in scenes for area in scene.areas),
        labels=tuple(label for scene in scenes for label in scene.labels) + tuple(titles),
    )


def _titles(each: SetDrawing, plan: Plan, revision: str, unit: str) -> list[str]:
    """What is written over a drawing."""
    if each.kind == "plan":
        project = plan.project
        return [
            project.name or "Unnamed job",
            f"revision {project.revision}, {revision}; coordinates are the survey's, in {unit}",
            each.scene.title,
        ]
    off = each.up / (FOOT if unit == "ft" else 1.0)
    return [each.scene.title, f"true shape, in {unit}; level = y − {off:,.3f} {unit}"]


def _read(content: bytes) -> Drawing:
    import ezdxf

    return ezdxf.read(io.StringIO(content.decode("utf-8")))
