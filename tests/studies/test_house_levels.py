"""Setting the house by one number, and what that does to every wall."""

from __future__ import annotations

import pytest

from foundation.project import Job
from foundation.studies.house_levels import EIGHT_INCHES, house_levels


def test_a_higher_house_shows_more_concrete(demo_job: Job) -> None:
    lower, same, higher = house_levels(demo_job.project, demo_job.survey)
    assert [level.raised_by for level in (lower, same, higher)] == pytest.approx(
        [-EIGHT_INCHES, 0.0, EIGHT_INCHES]
    )
    assert [wall.line for wall in same.walls] == [wall.line for wall in higher.walls]
    for below, above in zip(same.walls, higher.walls, strict=True):
        if below.line in ("H-C", "C-D", "D-A"):
            continue  # a higher sill may let full concrete drop to a framed wall there
        assert above.bare - below.bare == pytest.approx(EIGHT_INCHES, abs=0.01)
    door = {wall.line: wall.door_step for wall in same.walls}
    # The garage door's sill at 213.17 ft lies below the grade in front of it: the apron falls to it.
    assert door["E-F"] is not None
    assert door["E-F"] < 0
    assert door["A-B"] is None
    assert lower.money is not None
    assert higher.money is not None
    assert lower.digging > higher.digging


def test_what_does_not_fit_is_told(demo_job: Job) -> None:
    rules = demo_job.project.rules.model_copy(update={"tallest_wall": 13.05 * 0.3048})
    project = demo_job.project.model_copy(update={"rules": rules})
    same, higher = house_levels(project, demo_job.survey, (0.0, 2 * EIGHT_INCHES))
    assert same.problem == ""
    assert "the tallest wall" in higher.problem
    assert higher.money is None
