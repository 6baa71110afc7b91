"""The demo lot's drawings."""

from __future__ import annotations

import pytest

from foundation.drawings.scene import Scene
from foundation.plan import Plan
from tests.drawings.every import drawings


@pytest.fixture(scope="session")
def demo_drawings(demo_plan: Plan) -> dict[str, Scene]:
    """Every drawing of the demo lot's least-cost answer."""
    return dict(drawings(demo_plan, demo_plan.steppings[0]))
