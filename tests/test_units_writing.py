"""What is written on screens and papers, and that it reads back.

Survey arithmetic: backsight and foresight examples of a turning point, worked by hand [derived].
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foundation.units import (
    Kind,
    both,
    cubic_yards,
    decimal_feet,
    exact,
    feet_inches,
    inches,
    length,
    metres,
    millimetres,
    money,
    read,
    round_down,
    write,
)
from foundation.units.kinds import MEASURES

FOOT = 0.3048
SIXTEENTH = 0.0254 / 16


@pytest.mark.parametrize(
    ("feet", "written"),
    [
        # Height of instrument 97.69 ft; rods to targets rounded to the hundredth first, and last the same rod
        # to the first target rounded once, as it should be [derived].
        (97.69 - 91.33, "6'-4 5/16\""),
        (97.69 - 89.33, "8'-4 5/16\""),
        (97.69 - 88.00, "9'-8 1/4\""),
        (97.69 - (92.50 - 4 / 12 - 10 / 12), "6'-4 1/4\""),
        # Tenths are not inches [derived].
        (0.8, "0'-9 5/8\""),
        (11.999 / 12, "1'-0\""),
        (12 + 11.97 / 12, "13'-0\""),
        (-0.25, "-0'-3\""),
        (-0.001, "0'-0\""),
        (-2.5, "-2'-6\""),
        (0.5 / 12, "0'-1/2\"".replace("-", "-0 ")),
    ],
)
def test_feet_inches(feet: float, written: str) -> None:
    assert feet_inches(feet * FOOT) == written


def test_a_hundredth_of_a_foot_is_about_an_eighth_of_an_inch() -> None:
    assert feet_inches(0.01 * FOOT, denominator=8) == "0'-0 1/8\""


def test_other_forms() -> None:
    assert both(3.8227) == "12'-6 1/2\" (12.54 ft)"
    assert inches(2 * FOOT) == '24"'
    assert inches(-0.8 * FOOT) == '-9 5/8"'
    assert decimal_feet(-0.001) == "0.00 ft"
    assert decimal_feet(10, places=4) == "32.8084 ft"
    assert metres(3.8227) == "3.823 m"
    assert metres(-0.0001) == "0.000 m"
    assert millimetres(0.5996) == "600 mm"
    assert length(3.8227, "us") == "12'-6 1/2\""
    assert length(3.8227, "metric") == "3.823 m"
    assert cubic_yards(60.19 * FOOT**3) == "2.23 yd³"
    assert money(1234.6) == "$1,235"
    assert money(1234.6, 10) == "$1,230"
    assert money(-1234.5) == "-$1,235"
    assert money(-0.4) == "$0"


@pytest.mark.parametrize(
    ("value", "kind", "us", "metric"),
    [
        (1.7611018368, "resistance", "R-10", "1.76 m²·K/W"),
        (95760.518, "pressure", "2,000 psf", "95.8 kPa"),
        (20.0, "temperature", "68 °F", "20 °C"),
        (-40.0, "temperature", "-40 °F", "-40 °C"),
        (10.0, "temperature_difference", "18 °F", "10 K"),
        (1.4, "conductivity", "0.8089 Btu/h·ft·°F", "1.4 W/(m·K)"),
        (1234.6, "money", "$1,235", "$1,235"),
        (248.5106, "money_per_volume", "$190.00/yd³", "$248.51/m³"),
        (75.34737, "money_per_area", "$7.00/ft²", "$75.35/m²"),
        (4672.2222, "degree_days", "8,410 °F·d", "4,672 K·d"),
        (1762.031, "density", "110 pcf", "1,762 kg/m³"),
        (3868.5438, "power", "13,200 Btu/h", "3,869 W"),
        (69.40098, "heat_flux", "22 Btu/h·ft²", "69.4 W/m²"),
        (1.70348, "transmittance", "0.3 Btu/h·ft²·°F", "1.7 W/(m²·K)"),
        (8896.4432, "force", "2,000 lb", "8.9 kN"),
        (0.75, "number", "0.75", "0.75"),
        (0.05, "percent", "5 %", "5 %"),
        (100.0, "area", "1,076.4 ft²", "100 m²"),
        (1.7202484, "volume", "2.25 yd³", "1.72 m³"),
    ],
)
def test_write(value: float, kind: str, us: str, metric: str) -> None:
    assert write(value, kind) == us
    assert write(value, kind, "metric") == metric


def test_what_cannot_be_written() -> None:
    for bad in (math.nan, math.inf, -math.inf):
        for form in (feet_inches, inches, decimal_feet, metres, millimetres, cubic_yards, money):
            with pytest.raises(ValueError, match="finite"):
                form(bad)
        with pytest.raises(ValueError, match="finite"):
            write(bad, "pressure")
        with pytest.raises(ValueError, match="finite"):
            round_down(bad, 0.1)
    with pytest.raises(ValueError, match='"imperial" is no system'):
        write(1.0, "length", "imperial")
    with pytest.raises(ValueError, match="0 parts"):
        feet_inches(1.0, denominator=0)
    with pytest.raises(ValueError, match="step above 0 m"):
        round_down(1.0, 0.0)


unhurried = settings(deadline=None)  # the first conversion imports pint
lengths = st.floats(-1e5, 1e5)
EDGE = 1e-9  # what floats of this size may add to half a printed digit


@unhurried
@given(lengths, st.sampled_from([1, 2, 4, 8, 16, 32]))
def test_feet_and_inches_read_back(value: float, denominator: int) -> None:
    half = 0.0254 / denominator / 2
    for form in (feet_inches, inches):
        assert abs(read(form(value, denominator), "length") - value) <= half + EDGE


@unhurried
@given(lengths)
def test_decimal_forms_read_back(value: float) -> None:
    assert abs(read(decimal_feet(value), "length") - value) <= 0.005 * FOOT + EDGE
    assert abs(read(metres(value), "length") - value) <= 0.0005 + EDGE
    assert abs(read(millimetres(value), "length") - value) <= 0.0005 + EDGE
    assert abs(read(cubic_yards(abs(value)), "volume") - abs(value)) <= 0.005 * 0.9144**3 + EDGE
    assert abs(read(money(value), "money") - value) <= 0.5
    assert abs(read(money(value, 10), "money") - value) <= 5


@unhurried
@given(lengths)
def test_a_sign_changes_nothing_else(value: float) -> None:
    for form in (feet_inches, inches, decimal_feet, metres, millimetres, money):
        positive, negative = form(abs(value)), form(-abs(value))
        assert negative in (positive, f"-{positive}")
        assert (negative == positive) == (not any(mark in "123456789" for mark in positive))


@unhurried
@given(lengths, lengths)
def test_more_is_never_written_as_less(one: float, other: float) -> None:
    less, more = sorted((one, other))
    for form in (feet_inches, inches, decimal_feet, metres, millimetres):
        assert read(form(less), "length") <= read(form(more), "length")


@unhurried
@given(st.integers(-(10**7), 10**7))
def test_whole_sixteenths_stay_themselves(count: int) -> None:
    value = count * SIXTEENTH
    text = exact(value, "length")
    assert text == feet_inches(value)
    assert read(text, "length") == pytest.approx(value, rel=1e-15, abs=0)


def resolution(kind: Kind, system: str) -> float:
    """Half the last printed digit in the SI unit, by reading one whole unit less nothing."""
    if kind is Kind.LENGTH:
        return SIXTEENTH / 2 if system == "us" else 0.0005
    label, spelling, places = getattr(MEASURES[kind], system)
    if label == "R-":
        one, none = read("R-1", kind), 0.0
    else:
        one, none = (read(f"{count} {spelling}", kind) for count in (1, 0))
    return (one - none) * 0.5 * 10.0**-places


@unhurried
@given(st.sampled_from(list(Kind)), st.sampled_from(["us", "metric"]), st.floats(-1e9, 1e9))
def test_every_kind_reads_back(kind: Kind, system: str, value: float) -> None:
    if not MEASURES[kind].signed:
        value = abs(value)
    rounding = 1e-13 * (abs(value) + 1000)
    assert abs(read(write(value, kind, system), kind) - value) <= resolution(kind, system) + rounding
    assert read(exact(value, kind, system), kind) == pytest.approx(value, rel=1e-12, abs=1e-12)


@unhurried
@given(st.sampled_from(list(Kind)), st.sampled_from(["us", "metric"]), st.floats(1e-6, 1e12))
def test_exact_keeps_small_and_large(kind: Kind, system: str, value: float) -> None:
    assert read(exact(value, kind, system), kind) == pytest.approx(value, rel=1e-12, abs=1e-12)


@unhurried
@given(st.floats(-1e4, 1e4), st.floats(1e-3, 10))
def test_levels_round_only_deeper(level: float, step: float) -> None:
    rounded = round_down(level, step)
    slack = 1e-8 * step + 1e-11
    assert level - step - slack < rounded <= level + slack
    assert abs(rounded / step - round(rounded / step)) < 1e-6
    assert round_down(rounded, step) == rounded
