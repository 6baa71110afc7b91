"""Shared by all tests: the demo lot, and one profile for property tests."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import settings

from foundation import places
from foundation.plan import Plan, plan
from foundation.project import Job, check, load

# The first conversion of a unit imports its library, which no single example should be blamed for.
settings.register_profile("planner", deadline=None)
settings.load_profile("planner")


@pytest.fixture(scope="session")
def demo_job() -> Job:
    return load(places.data("demo", "fallow-fen.toml"))


@pytest.fixture(scope="session")
def demo_plan(demo_job: Job) -> Plan:
    return plan(demo_job.project, demo_job.survey)


@pytest.fixture
def demo_tables() -> dict[str, Any]:
    """The demo project's tables, to change."""
    return tomllib.loads(places.data("demo", "fallow-fen.toml").read_text(encoding="utf-8"))


def planned(tables: dict[str, Any], survey: str = "") -> Plan:
    """Plan tables that must be sound."""
    project, problems = check(tables)
    assert project is not None, problems
    return plan(project, survey)
