"""The kinds of quantity, the spellings of their units, and the factors, which pint computes once each."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from itertools import permutations
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry


class Kind(StrEnum):
    """A kind of quantity, and what it is inside the program."""

    LENGTH = "length"
    """Length or level. [m]"""
    AREA = "area"
    """Area. [m²]"""
    VOLUME = "volume"
    """Volume. [m³]"""
    RESISTANCE = "resistance"
    """Thermal resistance. [m²·K/W]"""
    CONDUCTIVITY = "conductivity"
    """Thermal conductivity. [W/(m·K)]"""
    PRESSURE = "pressure"
    """Pressure or strength. [Pa]"""
    TEMPERATURE = "temperature"
    """Temperature. [°C]"""
    TEMPERATURE_DIFFERENCE = "temperature_difference"
    """Difference of temperatures. [K]"""
    MONEY = "money"
    """Money. [$]"""
    MONEY_PER_LENGTH = "money_per_length"
    """Price of a length. [$/m]"""
    MONEY_PER_AREA = "money_per_area"
    """Price of an area. [$/m²]"""
    MONEY_PER_VOLUME = "money_per_volume"
    """Price of a volume. [$/m³]"""
    DEGREE_DAYS = "degree_days"
    """Degree days, or a freezing index. [K·d]"""
    DENSITY = "density"
    """Mass of a volume. [kg/m³]"""
    FORCE = "force"
    """Force, or the weight of a load. [N]"""
    POWER = "power"
    """Heat or power. [W]"""
    HEAT_FLUX = "heat_flux"
    """Heat through an area. [W/m²]"""
    TRANSMITTANCE = "transmittance"
    """Heat through an area for each degree, U. [W/(m²·K)]"""
    NUMBER = "number"
    """A plain number. [-]"""
    PERCENT = "percent"
    """A share: 5 % is 0.05. [-]"""


@dataclass(frozen=True)
class Measure:
    """How one kind is read and written.

    Attributes
    ----------
    name : str
        What a sentence calls it, with its article.
    si : str
        The unit inside the program, for pint.
    units : mapping of str to str
        Every spelling that is read, without marks and in lower case, and the unit it means, for pint.
    samples : str
        What would do, for the end of a sentence.
    us, metric : tuple of str, str and int
        How it is written in either system: the unit's label, its spelling in `units`, and the places kept.
    signed : bool
        Whether it may be below zero.
    """

    name: str
    si: str
    units: Mapping[str, str]
    samples: str
    us: tuple[str, str, int]
    metric: tuple[str, str, int]
    signed: bool = False


def _orders(before: str, factors: tuple[str, ...], after: str, unit: str) -> dict[str, str]:
    """Spell a compound unit with its factors in any order, the hour as h or hr."""
    return {
        before + "".join(order).replace("h", hour) + after: unit
        for order in permutations(factors)
        for hour in ("h", "hr")
    }


_FOOT = dict.fromkeys(("'", "ft", "foot", "feet", "lf"), "foot")
_INCH = dict.fromkeys(('"', "in", "inch", "inches"), "inch")
_YARD = dict.fromkeys(("yd", "yds", "yard", "yards"), "yard")
_METRE = dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "meter")
_LENGTHS = {
    **_FOOT,
    **_INCH,
    **_YARD,
    **_METRE,
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "centimeter"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "millimeter"),
}
_AREAS = {
    **dict.fromkeys(("ft2", "sf", "sqft", "squarefoot", "squarefeet"), "foot**2"),
    **dict.fromkeys(("in2", "sqin", "squareinch", "squareinches"), "inch**2"),
    **dict.fromkeys(("yd2", "sqyd", "squareyard", "squareyards"), "yard**2"),
    **dict.fromkeys(("m2", "sqm", "squaremetre", "squaremetres", "squaremeter", "squaremeters"), "meter**2"),
}
_VOLUMES = {
    **dict.fromkeys(("yd3", "cy", "cuyd", "cubicyard", "cubicyards"), "yard**3"),
    **dict.fromkeys(("ft3", "cf", "cuft", "cubicfoot", "cubicfeet"), "foot**3"),
    **dict.fromkeys(("m3", "cum", "cubicmetre", "cubicmetres", "cubicmeter", "cubicmeters"), "meter**3"),
}
_BOARD_FEET = dict.fromkeys(("bf", "bdft", "boardfoot", "boardfeet"), "foot**2*inch")
_FAHRENHEIT = ("f", "degf", "degreef", "degreesf", "fahrenheit", "degreesfahrenheit")
_CELSIUS = ("c", "degc", "degreec", "degreesc", "celsius", "degreescelsius")
_KELVIN = ("k", "kelvin")


def _per(units: Mapping[str, str]) -> dict[str, str]:
    return {"/" + spelling: f"({unit})**-1" for spelling, unit in units.items()}


MEASURES: Mapping[Kind, Measure] = {
    Kind.LENGTH: Measure(
        "a length",
        "meter",
        _LENGTHS,
        "12'-6 1/2\", 12.54 ft, 48 in, 1.2 m or 600 mm",
        ("ft", "ft", 2),
        ("m", "m", 3),
        signed=True,
    ),
    Kind.AREA: Measure(
        "an area", "meter**2", _AREAS, "600 ft² or 55.7 m²", ("ft²", "ft2", 1), ("m²", "m2", 2)
    ),
    Kind.VOLUME: Measure(
        "a volume", "meter**3", _VOLUMES, "2.25 yd³, 60 ft³ or 1.7 m³", ("yd³", "yd3", 2), ("m³", "m3", 2)
    ),
    Kind.RESISTANCE: Measure(
        "a thermal resistance",
        "meter**2*kelvin/watt",
        {
            **dict.fromkeys(("m2k/w", "km2/w", "m2c/w"), "meter**2*kelvin/watt"),
            **_orders("", ("h", "ft2", "f"), "/btu", "hour*foot**2*delta_degF/Btu_it"),
        },
        "R-10 or 1.76 m²·K/W",
        ("R-", "hft2f/btu", 1),
        ("m²·K/W", "m2k/w", 2),
    ),
    Kind.CONDUCTIVITY: Measure(
        "a thermal conductivity",
        "watt/(meter*kelvin)",
        {
            **dict.fromkeys(("w/mk", "w/m/k", "w/mc"), "watt/(meter*kelvin)"),
            **_orders("btu/", ("h", "ft", "f"), "", "Btu_it/(hour*foot*delta_degF)"),
            **_orders("btuin/", ("h", "ft2", "f"), "", "Btu_it*inch/(hour*foot**2*delta_degF)"),
        },
        "1.4 W/(m·K), 0.81 Btu/h·ft·°F or 9.7 Btu·in/h·ft²·°F",
        ("Btu/h·ft·°F", "btu/hftf", 4),
        ("W/(m·K)", "w/mk", 4),
    ),
    Kind.PRESSURE: Measure(
        "a pressure",
        "pascal",
        {
            **dict.fromkeys(("psf", "lb/ft2", "lbf/ft2", "lb/sqft", "lbs/ft2", "lbs/sqft"), "lbf/foot**2"),
            **dict.fromkeys(("psi", "lb/in2", "lbf/in2", "lb/sqin"), "lbf/inch**2"),
            "ksf": "kip/foot**2",
            "ksi": "kip/inch**2",
            "pa": "pascal",
            "kpa": "kilopascal",
            # Only with its capital: millipascals read as megapascals would be wrong a billion times.
            "MPa": "megapascal",
        },
        "2000 psf, 60 psi or 96 kPa",
        ("psf", "psf", 0),
        ("kPa", "kpa", 1),
    ),
    Kind.TEMPERATURE: Measure(
        "a temperature",
        "degC",
        {
            **dict.fromkeys(_FAHRENHEIT, "degF"),
            **dict.fromkeys(_CELSIUS, "degC"),
            **dict.fromkeys(_KELVIN, "kelvin"),
        },
        "68 °F or 20 °C",
        ("°F", "f", 1),
        ("°C", "c", 1),
        signed=True,
    ),
    Kind.TEMPERATURE_DIFFERENCE: Measure(
        "a difference of temperatures",
        "kelvin",
        {
            **dict.fromkeys(_FAHRENHEIT, "delta_degF"),
            **dict.fromkeys((*_CELSIUS, *_KELVIN), "kelvin"),
        },
        "18 °F, 10 °C or 10 K",
        ("°F", "f", 1),
        ("K", "k", 1),
        signed=True,
    ),
    Kind.MONEY: Measure(
        "a sum of money", "", {"": ""}, "$190 or $1,234.50", ("", "", 0), ("", "", 0), signed=True
    ),
    Kind.MONEY_PER_LENGTH: Measure(
        "a price per length",
        "meter**-1",
        _per({**_FOOT, **_YARD, **_METRE}),
        "$3.50/ft or $11.50/m",
        ("/ft", "/ft", 2),
        ("/m", "/m", 2),
    ),
    Kind.MONEY_PER_AREA: Measure(
        "a price per area",
        "meter**-2",
        _per(_AREAS),
        "$7.00/ft² or $75.00/m²",
        ("/ft²", "/ft2", 2),
        ("/m²", "/m2", 2),
    ),
    Kind.MONEY_PER_VOLUME: Measure(
        "a price per volume",
        "meter**-3",
        _per({**_VOLUMES, **_BOARD_FEET}),
        "$190/yd³, $0.90/bf (board foot) or $250/m³",
        ("/yd³", "/yd3", 2),
        ("/m³", "/m3", 2),
    ),
    Kind.DEGREE_DAYS: Measure(
        "degree days",
        "kelvin*day",
        {
            **dict.fromkeys(("fd", "fday", "fdays", "degfd", "degfday", "degfdays"), "delta_degF*day"),
            **dict.fromkeys(("kd", "kday", "kdays", "cd", "cday", "cdays", "degcdays"), "kelvin*day"),
        },
        "8410 °F·d or 4670 K·d",
        ("°F·d", "fd", 0),
        ("K·d", "kd", 0),
    ),
    Kind.DENSITY: Measure(
        "a density",
        "kilogram/meter**3",
        {
            **dict.fromkeys(("pcf", "lb/ft3", "lbs/ft3", "lb/cuft"), "pound/foot**3"),
            "kg/m3": "kilogram/meter**3",
        },
        "110 pcf or 1760 kg/m³",
        ("pcf", "pcf", 0),
        ("kg/m³", "kg/m3", 0),
    ),
    Kind.FORCE: Measure(
        "a load",
        "newton",
        {
            **dict.fromkeys(("lb", "lbs", "lbf", "pound", "pounds"), "lbf"),
            **dict.fromkeys(("kip", "kips"), "kip"),
            "n": "newton",
            "kn": "kilonewton",
            "kg": "kilogram*standard_gravity",
        },
        "2000 lb or 8.9 kN",
        ("lb", "lb", 0),
        ("kN", "kn", 2),
    ),
    Kind.POWER: Measure(
        "a heat load",
        "watt",
        {
            **dict.fromkeys(("btu/h", "btu/hr", "btuh"), "Btu_it/hour"),
            "w": "watt",
            "kw": "kilowatt",
        },
        "13,200 Btu/h or 3.87 kW",
        ("Btu/h", "btu/h", 0),
        ("W", "w", 0),
    ),
    Kind.HEAT_FLUX: Measure(
        "a heat flux",
        "watt/meter**2",
        {
            **_orders("btu/", ("h", "ft2"), "", "Btu_it/(hour*foot**2)"),
            "w/m2": "watt/meter**2",
        },
        "22 Btu/h·ft² or 69 W/m²",
        ("Btu/h·ft²", "btu/hft2", 1),
        ("W/m²", "w/m2", 1),
    ),
    Kind.TRANSMITTANCE: Measure(
        "a U-factor",
        "watt/(meter**2*kelvin)",
        {
            **_orders("btu/", ("h", "ft2", "f"), "", "Btu_it/(hour*foot**2*delta_degF)"),
            **dict.fromkeys(("w/m2k", "w/m2/k"), "watt/(meter**2*kelvin)"),
        },
        "0.30 Btu/h·ft²·°F or 1.7 W/(m²·K)",
        ("Btu/h·ft²·°F", "btu/hft2f", 3),
        ("W/(m²·K)", "w/m2k", 2),
    ),
    Kind.NUMBER: Measure(
        "a plain number", "", {"": ""}, "0.75 or 3/4", ("", "", 4), ("", "", 4), signed=True
    ),
    Kind.PERCENT: Measure(
        "a percentage",
        "",
        dict.fromkeys(("%", "percent"), "percent"),
        "5 %",
        ("%", "%", 2),
        ("%", "%", 2),
        signed=True,
    ),
}


def unit_of(measure: Measure, spelling: str) -> str | None:
    """Look up the unit that a user spelled.

    Parameters
    ----------
    measure : Measure
        The kind that it must be a unit of.
    spelling : str
        What was typed, with its marks and capitals.

    Returns
    -------
    str or None
        Its name for pint, None where it is no unit of this kind.
    """
    text = re.sub(r"\bper\b", "/", unicodedata.normalize("NFKC", spelling))
    text = "".join(mark for mark in text if mark not in " ·⋅∙*^().°-")
    if spelling and not text:
        return None
    return measure.units.get(text, measure.units.get(text.lower()))


@cache
def _registry() -> UnitRegistry:
    # Imported here because pint with its registry takes 0.3 s (two cores, measured), which a page pays only
    # once it converts something. Fractions, because in floats pint's foot misses 0.3048 m by the last bit.
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Fraction)


@cache
def scale(unit: str, si: str) -> tuple[Fraction, Fraction]:
    """Factor and zero of a unit, so that ``si value = (value - zero) × factor``, exactly.

    Parameters
    ----------
    unit, si : str
        Two units for pint, from `MEASURES`, never from a user.

    Returns
    -------
    factor : Fraction
        Size of the unit. [si/unit]
    zero : Fraction
        Where the SI unit's zero lies on the unit's scale; 0 for all but temperatures. [unit]
    """
    quantity = _registry().Quantity
    zero = Fraction(0)
    if si == "degC":
        zero = Fraction(quantity(zero, si).to(unit).magnitude)
        unit, si = unit if unit == "kelvin" else f"delta_{unit}", "kelvin"
    return Fraction(quantity(Fraction(1), unit).to(si).magnitude), zero
