"""The house set higher or lower as a whole: one number that moves every level of the building."""

from __future__ import annotations

from foundation.project import Project


def raised(project: Project) -> Project:
    """The project with its building levels moved by what it is raised.

    Parameters
    ----------
    project : Project
        The inputs as typed.

    Returns
    -------
    Project
        The same with every level of the building moved and nothing left to raise; grades, marks, outlets and the
        user's own runs of footing stay where they were typed.
    """
    by = project.raise_by
    if not by:
        return project

    def moved(level: float | None) -> float | None:
        return None if level is None else level + by

    parts = []
    for part in project.parts:
        walls = [
            wall.model_copy(
                update={
                    "low_top": moved(wall.low_top),
                    "ledge": wall.ledge and wall.ledge.model_copy(update={"level": wall.ledge.level + by}),
                }
            )
            for wall in part.walls
        ]
        parts.append(
            part.model_copy(
                update={"wall_top": moved(part.wall_top), "slab_top": moved(part.slab_top), "walls": walls}
            )
        )
    openings = [opening.model_copy(update={"bottom": opening.bottom + by}) for opening in project.openings]
    return project.model_copy(update={"parts": parts, "openings": openings, "raise_by": 0.0})
