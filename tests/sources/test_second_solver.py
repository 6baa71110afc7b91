"""Sections against a general finite-element library, scikit-fem: flows within 0.5 %, and within the claimed error.

The second solver, `tests.heat.elements`, shares nothing with ours but the section.
"""

from __future__ import annotations

import numpy as np
import pytest

from foundation.heat.sections.respond import respond
from foundation.model.section import Section
from tests.heat.elements import by_elements
from tests.heat.sections import FOAM_INCHES, SECTIONS, STRESSED, basement, slab_edge, walkout


@pytest.mark.parametrize(
    "section",
    [
        basement(outside=2 * FOAM_INCHES, slope=True),
        slab_edge(edge=FOAM_INCHES, under=FOAM_INCHES),
        walkout(edge=FOAM_INCHES, under=FOAM_INCHES),
    ],
    ids=["basement", "slab edge", "walkout"],
)
def test_flows_by_elements(section: Section) -> None:
    """Floor, wall and frame by themselves, and all of them: steady, and the complex amplitude of the year."""
    other = by_elements(section)
    surface = respond(section).surface
    group = np.array(surface.group)
    for names in (("floor",), ("floor", "wall"), ("floor", "wall", "frame")):
        chosen = np.isin(group, names)
        mean, swing = other.sum(*names)
        assert surface.flow_steady[chosen].sum() == pytest.approx(mean.real, rel=0.005)
        assert abs(surface.flow_annual[chosen].sum() - swing) < 0.005 * abs(swing)


@pytest.mark.parametrize("name", [*SECTIONS, *STRESSED])
def test_claimed_error_holds(name: str) -> None:
    """On fine elements in 300 m of ground: on these sections within 0.03 % of elements finer still."""
    section = (SECTIONS | STRESSED)[name]()
    other = by_elements(section)
    for tolerance in (0.005, 0.02):
        response = respond(section, tolerance)
        assert response.error <= tolerance
        group = np.array(response.surface.group)
        for names in (("floor", "wall"), ("floor", "wall", "frame")):
            chosen = np.isin(group, names)
            mean, swing = other.sum(*names)
            assert abs(response.surface.flow_steady[chosen].sum() / mean - 1) < response.error
            assert abs(response.surface.flow_annual[chosen].sum() / swing - 1) < response.error
