"""What people type as quantities, and the sentences for what they cannot mean.

Factors against scipy.constants, a library of its own, and against NIST SP 811 (2008), appendix B.8 [memory].
"""

from __future__ import annotations

import math
import random
import re
import subprocess
import sys
import unicodedata

import pytest
from scipy import constants

from foundation.units import Kind, UnitsError, read, read_decimal
from foundation.units.kinds import MEASURES
from foundation.units.reading import LONGEST

FOOT = 0.3048  # exactly: yard and pound agreement of 1959, NIST SP 811 B.6 [memory]
INCH = 0.0254

FEET_OF = {
    "12'-6 1/2\"": 12 + 6.5 / 12,
    "12' 6.5": 12 + 6.5 / 12,
    "12'6": 12.5,
    "12'-6-1/2\"": 12 + 6.5 / 12,
    "12'.5\"": 12 + 0.5 / 12,
    "12'-1/2\"": 12 + 0.5 / 12,
    "5 ft 6 in": 5.5,
    "5 ft 6": 5.5,
    "5ft6in": 5.5,
    "5 ft. 6 in.": 5.5,
    "5 feet, 6 inches": 5.5,
    "5' - 6\"": 5.5,
    "5’ 6”": 5.5,
    "5′6″": 5.5,
    "5' 6''": 5.5,
    '48"': 4.0,
    "5' 11.75\"": 5 + 11.75 / 12,
    "48''": 4.0,
    "48 in": 4.0,
    "92.50 ft": 92.5,
    "92.50 FT": 92.5,
    "1,234.5 ft": 1234.5,
    "1,234,567 ft": 1234567.0,
    "4 yd": 12.0,
    ".5 ft": 0.5,
    "5. ft": 5.0,
    '6-1/2"': 6.5 / 12,
    '6½"': 6.5 / 12,
    '6 ½"': 6.5 / 12,
    '6-⅝"': 6.625 / 12,
    '1/16"': 0.0625 / 12,
    "1⁄16 in": 0.0625 / 12,
    "5-1/2 ft": 5.5,
    "0'-8\"": 8 / 12,
    "-2'-6\"": -2.5,
    "−2′-6½″": -(2 + 6.5 / 12),
    "–3 in": -0.25,
    "- 2 ft": -2.0,
    "+2 ft": 2.0,
    "  7\u00a0ft\t": 7.0,
    "0": 0.0,
    "-0.0": 0.0,
}


@pytest.mark.parametrize("text", FEET_OF)
def test_feet_and_inches(text: str) -> None:
    assert read(text, "length") == pytest.approx(FEET_OF[text] * FOOT, rel=1e-15, abs=0)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1.2 m", 1.2),
        ("1200 mm", 1.2),
        ("120 cm", 1.2),
        ("600mm", 0.6),
        ("-0.3 metres", -0.3),
        ("1/4 m", 0.25),
    ],
)
def test_metric_lengths(text: str, expected: float) -> None:
    assert read(text, Kind.LENGTH) == expected


def test_every_vulgar_fraction_of_unicode() -> None:
    marks = [
        chr(code) for code in range(0x110000) if unicodedata.decomposition(chr(code))[:10] == "<fraction>"
    ]
    marks.remove("⅟")  # has no denominator
    assert len(marks) >= 19
    for mark in marks:
        assert read(f"3{mark} in", "length") == pytest.approx(
            (3 + unicodedata.numeric(mark)) * INCH, rel=1e-7
        )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("10.8", '"10.8" could be 10.8 ft (10\'-9 5/8") or 10\'-8": write 10.8 ft or 10\'-8".'),
        ("-10.8", '"-10.8" could be -10.8 ft (-10\'-9 5/8") or -10\'-8": write -10.8 ft or -10\'-8".'),
        ("10.10", '"10.10" could be 10.10 ft (10\'-1 3/16") or 10\'-10": write 10.10 ft or 10\'-10".'),
        ("48", '"48" could be 48 ft or 48 in: write 48 ft or 48 in, or the metric unit.'),
        ("10.75", '"10.75" could be 10.75 ft or 10.75 in: write 10.75 ft or 10.75 in, or the metric unit.'),
        (
            "5' 14\"",
            '"5\' 14"" has 14 inches beside feet, and there inches stay below 12: '
            "write 6'-2\" if the sum is meant.",
        ),
        ("1,5 ft", '"1,5 ft" has a comma inside a number: write a point for decimals, as in 1.5.'),
        ("1/0 in", '"1/0 in" divides by zero: write a fraction such as 1/2.'),
        (
            "",
            "Nothing is written here: write a length such as 12'-6 1/2\", 12.54 ft, 48 in, 1.2 m or 600 mm.",
        ),
        (
            "nan ft",
            '"nan ft" is not a length that can be read: '
            "write a length such as 12'-6 1/2\", 12.54 ft, 48 in, 1.2 m or 600 mm.",
        ),
    ],
)
def test_sentences_for_lengths(text: str, sentence: str) -> None:
    with pytest.raises(UnitsError) as caught:
        read(text, "length")
    assert str(caught.value) == sentence


NO_LENGTHS = """nan|inf ft|-inf m|1e9999 in|1e3 ft|9**9**9 in|0x10 ft|1_000 ft|5²ft|٣ ft|--2 ft|5'-|12'6'|12"6
5 m 6 in|5' 12"|5.5' 6"|5 1/2' 6"|5 ft.5 in|1 234 ft|12,34 ft|1234,567 ft|0,123 ft|12' 6,5|6 3/2 in|1/2/3 in
6.5 1/2"|⅟2 in|.|..5 ft|1.2.3 m|60 psi|5 ft 6 in 3|ft|'|-|5 ft -6 in x|12' --6"|(5 ft)|5 ft + 6 in
5;6 ft|２ ft"""


@pytest.mark.parametrize("text", NO_LENGTHS.replace("\n", "|").split("|"))
def test_what_is_no_length(text: str) -> None:
    with pytest.raises(UnitsError, match=r"^.*\.$"):
        read(text, "length")


PSF = constants.pound * constants.g / constants.foot**2
BTU_HOUR = constants.Btu_IT / constants.hour
FAHRENHEIT = constants.degree_Fahrenheit


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        *(
            (text, "resistance", 10 * FAHRENHEIT * FOOT**2 / BTU_HOUR)
            for text in ("R-10", "R10", "R 10", "r–10")
        ),
        ("10 h·ft²·°F/Btu", "resistance", 10 * FAHRENHEIT * FOOT**2 / BTU_HOUR),
        ("10 ft2 hr F / BTU", "resistance", 10 * FAHRENHEIT * FOOT**2 / BTU_HOUR),
        *((text, "resistance", 1.76) for text in ("1.76 m2K/W", "1.76 m²·K/W", "1.76 m²K per W", "RSI-1.76")),
        ("2000 psf", "pressure", 2000 * PSF),
        ("2,000 lb/ft²", "pressure", 2000 * PSF),
        ("2 ksf", "pressure", 2000 * PSF),
        ("60 psi", "pressure", 60 * constants.psi),
        ("3 ksi", "pressure", 3000 * constants.psi),
        ("96 kPa", "pressure", 96e3),
        ("3 MPa", "pressure", 3e6),
        ("68 °F", "temperature", constants.convert_temperature(68, "F", "C")),
        ("68 F", "temperature", 20.0),
        ("68 deg F", "temperature", 20.0),
        ("20 ℃", "temperature", 20.0),
        ("-40 ºF", "temperature", -40.0),
        ("293.15 K", "temperature", 20.0),
        ("18 °F", "temperature_difference", 18 * FAHRENHEIT),
        ("10 C", "temperature_difference", 10.0),
        ("1.4 W/(m·K)", "conductivity", 1.4),
        ("1.4 W/mK", "conductivity", 1.4),
        ("2 Btu/h·ft·°F", "conductivity", 2 * BTU_HOUR / FOOT / FAHRENHEIT),
        ("2 Btu-in/(hr·ft²·°F)", "conductivity", 2 * BTU_HOUR * INCH / FOOT**2 / FAHRENHEIT),
        *((text, "money", 1234.5) for text in ("$1,234.50", "1234.50", "$ 1234.5", "1,234.50 $")),
        *((text, "money", -50.0) for text in ("-$50", "$-50", "−50")),
        *(
            (text, "money_per_volume", 190 / 0.9144**3)
            for text in ("$190/yd³", "$190 per yd3", "190 $/cu yd")
        ),
        ("$250/m3", "money_per_volume", 250.0),
        ("$7.00/ft²", "money_per_area", 7 / FOOT**2),
        ("$7 per sq ft", "money_per_area", 7 / FOOT**2),
        ("$3.50/ft", "money_per_length", 3.5 / FOOT),
        # A board foot is a square foot an inch thick.
        *(
            (text, "money_per_volume", 0.9 / (FOOT**2 * INCH))
            for text in ("$0.90/bf", "$0.90 per board foot")
        ),
        *((text, "degree_days", 8410 * FAHRENHEIT) for text in ("8410 °F·d", "8,410 °F-days", "8410 Fd")),
        ("4670 K·d", "degree_days", 4670.0),
        *((text, "density", 110 * constants.pound / FOOT**3) for text in ("110 pcf", "110 lb/ft³")),
        ("1760 kg/m³", "density", 1760.0),
        ("13,200 Btu/h", "power", 13200 * BTU_HOUR),
        ("3.87 kW", "power", 3870.0),
        ("22 Btu/h·ft²", "heat_flux", 22 * BTU_HOUR / FOOT**2),
        ("69.4 W/m²", "heat_flux", 69.4),
        ("0.30 Btu/h·ft²·°F", "transmittance", 0.3 * BTU_HOUR / FOOT**2 / FAHRENHEIT),
        ("1.7 W/(m²·K)", "transmittance", 1.7),
        ("2000 lb", "force", 2000 * constants.pound * constants.g),
        ("900 kg", "force", 900 * constants.g),
        ("8.9 kN", "force", 8900.0),
        ("0.75", "number", 0.75),
        ("3/4", "number", 0.75),
        ("-1 1/2", "number", -1.5),
        ("5 %", "percent", 0.05),
        ("5percent", "percent", 0.05),
        ("600 sq ft", "area", 600 * FOOT**2),
        ("2 1/4 yd³", "volume", 2.25 * 27 * FOOT**3),
        ("1.7 m³", "volume", 1.7),
    ],
)
def test_other_kinds(text: str, kind: str, expected: float) -> None:
    assert read(text, kind) == pytest.approx(expected, rel=1e-14, abs=1e-13)


@pytest.mark.parametrize(
    ("text", "kind", "printed", "half"),
    [
        ("R-1", "resistance", 0.1761102, 0.5e-7),
        ("1 Btu/h·ft·°F", "conductivity", 1.730735, 0.5e-6),
        ("1 Btu·in/h·ft²·°F", "conductivity", 0.1442279, 0.5e-7),
        ("1 psi", "pressure", 6894.757, 0.5e-3),
        ("1 psf", "pressure", 47.88026, 0.5e-5),
        ("1 ft²", "area", 0.09290304, 1e-15),
        ("1 yd³", "volume", 0.7645549, 0.5e-7),
    ],
)
def test_printed_factors(text: str, kind: str, printed: float, half: float) -> None:
    """NIST SP 811 (2008), appendix B.8, to half the last printed digit [memory]."""
    assert read(text, kind) == pytest.approx(printed, rel=0, abs=half)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("10", "resistance"),
        ("R--10", "resistance"),
        ("R-10 m2K/W", "resistance"),
        ("-1.76 m2K/W", "resistance"),
        ("60", "pressure"),
        ("3 mPa", "pressure"),
        ("-60 psi", "pressure"),
        ("68", "temperature"),
        ("68 m", "temperature"),
        ("€190", "money"),
        ("$190/yd3", "money"),
        ("$", "money"),
        ("$190", "money_per_volume"),
        ("$190/ft", "money_per_volume"),
        ("/m3", "money_per_volume"),
        ("-$5/ft", "money_per_length"),
        ("5", "percent"),
        ("5 ft", "number"),
        ("5 *", "number"),
        ("1e3", "number"),
        ("12 ft", "area"),
    ],
)
def test_what_is_no_such_quantity(text: str, kind: str) -> None:
    with pytest.raises(UnitsError) as caught:
        read(text, kind)
    assert f'"{text}"' in str(caught.value)
    assert " such as " in str(caught.value)


def test_survey_columns() -> None:
    assert read_decimal("216.20", "ft") == pytest.approx(216.20 * FOOT, rel=1e-15)
    assert read_decimal(" −1.5 ", "m") == -1.5
    for text in ("216.20 ft", "1/2", "12'", "1e3", "216,5", "", "nan"):
        with pytest.raises(UnitsError):
            read_decimal(text, "ft")
    with pytest.raises(ValueError, match='"yd" is no unit of a survey'):
        read_decimal("1", "yd")


NUMBERS = "0 1 5 12 48 999 10.8 .5 6. 1,234 0,5 1/2 3/4 1/0 ½ ⅝ ⅟ 1/16"
UNITS = "' \" ′ ″ ’ '' ft in m mm cm yd R R- psf psi kPa °F F C K $ $/ /yd³ /ft² per % m2K/W W/mK"
ODD = "- − – + . , / * ( ) ^ ** _ e E e9999 nan inf lambda __import__ \x00 \ud800"
PIECES = [*NUMBERS.split(), *UNITS.split(), *ODD.split(), " ", "  ", "\n", "\u00a0"]
PLAIN = [(text, Kind.LENGTH) for text in FEET_OF] + [
    (sample, kind) for kind, measure in MEASURES.items() for sample in re.split(", | or ", measure.samples)
]


def fuzzed(count: int) -> list[tuple[str, Kind]]:
    """Mix pieces of the grammar with any characters, or damage plain quantities; always the same list."""
    chance = random.Random(48)

    def piece() -> str:
        return chance.choice(PIECES) if chance.random() < 0.93 else chr(chance.randrange(0x110000))

    def one() -> tuple[str, Kind]:
        if chance.random() < 0.5:
            pieces = range(chance.randint(0, chance.choice((4, 8, 40))))
            return "".join(piece() for _ in pieces), chance.choice(list(Kind))
        text, kind = chance.choice(PLAIN)
        for _ in range(chance.randint(0, 3)):
            at = chance.randint(0, len(text))
            text = text[:at] + chance.choice(("", piece())) + text[at + chance.randint(0, 1) :]
        return text, kind

    return [one() for _ in range(count)]


def test_twenty_thousand_strings_each_end_in_a_number_or_a_sentence() -> None:
    taken = refused = 0
    for text, kind in fuzzed(20_000):
        try:
            value = read(text, kind)
        except UnitsError as error:
            sentence = str(error)
            assert sentence.endswith(".")
            assert sentence.isprintable()
            assert len(sentence) < 200 + LONGEST
            refused += 1
        else:
            assert type(value) is float
            assert math.isfinite(value)
            taken += 1
    # Both ways out are walked often enough for the loop above to mean something.
    assert taken > 4_000
    assert refused > 10_000


def calls_of(text: str, kind: str) -> int:
    """Count every call, of Python and of C, that reading a text makes: a measure of work without a clock."""
    calls = 0

    def count(_frame: object, event: str, _argument: object) -> None:
        nonlocal calls
        calls += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        read(text, kind)
    except UnitsError:
        pass
    finally:
        sys.setprofile(None)
    return calls


def test_work_grows_no_faster_than_the_text() -> None:
    """Hostile texts: repeated pieces that would send a backtracking reader round in circles."""
    for kind in Kind:
        read("1", "money")
        for piece in ("1", "1,", "1/", "1 ", "-", "1'-", "1.", "½", "(", "a", "per ", "''", " - 1/"):
            full = piece * (LONGEST // len(piece))
            half = piece * (LONGEST // len(piece) // 2)
            assert calls_of(full, kind) <= 2 * calls_of(half, kind) + 100
            assert calls_of(full * 10_000, kind) < 150


def test_import_is_cheap() -> None:
    """The package of factors stays out until something is converted."""
    code = "import foundation.units, sys; sys.exit('pint' in sys.modules or 'numpy' in sys.modules)"
    subprocess.run([sys.executable, "-c", code], check=True)
