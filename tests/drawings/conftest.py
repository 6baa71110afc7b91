"""Every kind of drawing."""

from __future__ import annotations

import pytest

from foundation.drawings.scene import Scene
from foundation.plan import Plan
from tests.drawings.every import drawings
from tests.drawings.heat_samples import heat_drawings


@pytest.fixture(scope="session")
def demo_drawings(demo_plan: Plan) -> dict[str, Scene]:
    """Every drawing of the demo lot's least-cost answer, and of invented heat and foam."""
    return dict(drawings(demo_plan, demo_plan.steppings[0])) | dict(heat_drawings())
