"""The demo lot shows the cautions that its list names.

The lot and its list are invented, made by hand beside the shots. Too little fall is told once for each wall, so the
list's "west wall, inside corner, front" are five walls here: D-A, H-C at the inside corner, and A-B, B-E, E-F in front.
"""

from __future__ import annotations

import pytest

from foundation.model.caution import Caution
from foundation.plan import Plan
from tests.cautions.cases import FOOT, INCH, cautions, number

LISTED = [
    (13, "footing-beside-dig", "garage"),
    (17, "stands-a-winter", "footings"),
    (18, "backfill-before-support", "wall A-B"),
    (19, "wall-over-10-ft", "wall H-C"),
    (19, "wall-under-garage-fill", "wall B-H"),
    (4, "grade-does-not-fall-away", "wall A-B"),
    (4, "grade-does-not-fall-away", "wall H-C"),
    (4, "grade-does-not-fall-away", "wall D-A"),
    (4, "grade-does-not-fall-away", "wall B-E"),
    (4, "grade-does-not-fall-away", "wall E-F"),
    (5, "framing-near-paving", "garage door"),
    (7, "fill-not-counted", "wall A-B"),
    (22, "slab-on-deep-fill", "garage"),
    (45, "rod-too-long", "footing of wall H-C"),
]
# Levels and grades of the lot's own table and shots.
NUMBERS = {
    "footing-beside-dig": (204 + 8 / 12) * FOOT,  # the basement's bottom at B
    "backfill-before-support": (213.83 - 205.50) * FOOT,  # finished grade at A over the top of footing
    "wall-over-10-ft": 13 * FOOT,
    "wall-under-garage-fill": (214 - 4 / 12 - 205.50) * FOOT,  # underside of the garage's slab
    "framing-near-paving": (214.00 - 213.90) * FOOT,  # garage slab over shot 131
    "fill-not-counted": 1.45 * FOOT,  # corner A
    "slab-on-deep-fill": (214 - 4 / 12 - 210.01) * FOOT,  # corner H
    "rod-too-long": (220.82 - 200.667) * FOOT,
}


@pytest.fixture(scope="module")
def found(demo_plan: Plan) -> tuple[Caution, ...]:
    return cautions(demo_plan)


def test_the_list_and_no_others(found: tuple[Caution, ...]) -> None:
    assert [(c.trap.number, c.trap.key, c.where) for c in found] == LISTED


def test_numbers_that_trip(found: tuple[Caution, ...]) -> None:
    numbers = {c.trap.key: number(c) for c in found if c.trap.key in NUMBERS}
    # The table's last digit is 0.01 ft; the ground's lowest corner beside H lies 0.03 ft lower than H itself.
    assert numbers.pop("slab-on-deep-fill") == pytest.approx(NUMBERS["slab-on-deep-fill"], abs=0.04 * FOOT)
    for key, value in numbers.items():
        assert value == pytest.approx(NUMBERS[key], abs=0.006 * FOOT), key


def test_too_little_fall_by_the_shots(found: tuple[Caution, ...]) -> None:
    """D–A at shot 127: 209.45 ten feet out; between shots 123 and 124 the wall's grade there is 209.675."""
    fall = {c.line: (number(c) / INCH, c.station / FOOT) for c in found if c.trap.number == 4}
    assert fall["D-A"] == (pytest.approx((209.675 - 209.45) * 12, abs=0.05), pytest.approx(15))
    # At B the ground beside the garage rises from 213.83 to 213.85 at E; both are shots.
    assert fall["A-B"] == (pytest.approx(0.02 * 12, abs=0.01), pytest.approx(44))
    # The garage's front falls to the drive; at F it is least.
    assert fall["E-F"][1] == pytest.approx(24)


def test_sound_in_every_answer(demo_plan: Plan) -> None:
    """What the list says must not trip."""
    for answer in demo_plan.steppings:
        numbers = {c.trap.number for c in cautions(demo_plan, answer=answer.name)}
        assert not numbers & {1, 2, 3, 6, 8, 9, 10, 11, 12, 14, 16, 20, 21, 23, 24, 37, 39, 41, 42, 43, 44}


def test_of_its_foam(demo_plan: Plan) -> None:
    """25 and 27 trip until the garage door has foam; the foam of the rest is sound but for its changes of side."""
    for answer in demo_plan.steppings:
        foamed = [c for c in demo_plan.cautions[answer.name] if c.trap.number in {15, *range(25, 32)}]
        assert {c.trap.number for c in foamed} == {25, 26, 27}
        assert [c.line for c in foamed if c.trap.number != 26] == ["E-F", "E-F"]
