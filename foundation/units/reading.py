"""Reads what people type as quantities: one pass from left to right over at most 60 characters."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from foundation.units.kinds import MEASURES, Kind, Measure, scale, unit_of
from foundation.units.writing import feet_inches

LONGEST = 60
_DIGITS = "0123456789"
_PLAIN = str.maketrans(
    dict.fromkeys("‐‑‒–—―−﹣－", "-")
    | dict.fromkeys("′‘’ʹʼ´`＇", "'")
    | dict.fromkeys("″“”ʺ〃＂", '"')
    | dict.fromkeys("⁄∕／", "/")
    | {"º": "°", "˚": "°"}
)


class UnitsError(ValueError):
    """What was typed is no such quantity; the message is one or two plain sentences saying what would do."""


@dataclass(frozen=True)
class _Number:
    value: Fraction
    whole: str
    decimals: str = ""


class _Scanner:
    """Walks over a text from left to right; each method takes what it can and stays put where it cannot."""

    def __init__(self, text: str) -> None:
        text = text.strip()
        shown = "".join(mark if mark.isprintable() else "�" for mark in text[: LONGEST + 1])
        self.shown = f'"{shown}"'
        if len(text) > LONGEST:
            self.shown = f'"{shown[:20]}…"'
            raise self.error(f"is longer than {LONGEST} characters: write one quantity")
        self.text = " ".join(text.translate(_PLAIN).split()).replace("''", '"')
        self.at = 0

    def error(self, what: str) -> UnitsError:
        return UnitsError(f"{self.shown} {what}.")

    def refusal(self, measure: Measure) -> UnitsError:
        wanted = f"write {measure.name} such as {measure.samples}"
        if not self.text:
            return UnitsError(f"Nothing is written here: {wanted}.")
        return self.error(f"is not {measure.name} that can be read: {wanted}")

    @property
    def rest(self) -> str:
        return self.text[self.at :]

    def take(self, marks: str) -> str:
        """Take the next mark, and the space after it, if it is one of these."""
        mark = self.text[self.at : self.at + 1]
        if not mark or mark not in marks:
            return ""
        self.at += 1
        self.space()
        return mark

    def space(self) -> None:
        if self.rest.startswith(" "):
            self.at += 1

    def sign(self) -> int:
        return -1 if self.take("+-") == "-" else 1

    def digits(self) -> str:
        start = self.at
        while self.at < len(self.text) and self.text[self.at] in _DIGITS:
            self.at += 1
        return self.text[start : self.at]

    def whole(self) -> str:
        """Take digits with commas between the thousands, and return them without."""
        groups = [self.digits()]
        while groups[0] and self.rest.startswith(",") and self.rest[1:2] in (*_DIGITS,):
            self.at += 1
            groups.append(self.digits())
        if len(groups) > 1 and (
            len(groups[0]) > 3 or groups[0].startswith("0") or any(len(group) != 3 for group in groups[1:])
        ):
            raise self.error("has a comma inside a number: write a point for decimals, as in 1.5")
        return "".join(groups)

    def fraction(self) -> Fraction | None:
        """Take a fraction alone: 1/2 or ½."""
        start = self.at
        parts = unicodedata.decomposition(self.text[start]).split() if self.rest else []
        if parts[:1] == ["<fraction>"]:
            over, _, under = "".join(chr(int(code, 16)) for code in parts[1:]).partition("⁄")
            self.at += 1
        else:
            over, slash, under = self.digits(), self.take("/"), self.digits()
            if not slash:
                over = ""
        if not over or not under:
            self.at = start
            return None
        if not int(under):
            raise self.error("divides by zero: write a fraction such as 1/2")
        return Fraction(int(over), int(under))

    def number(self, fractions: bool = True) -> _Number | None:
        """Take a number without a sign: 12, 12.5, .5, 1/2, 6 1/2, 6-1/2 or 6½."""
        start = self.at
        alone = self.fraction() if fractions else None
        if alone is not None:
            return _Number(alone, "")
        whole = self.whole()
        if self.rest.startswith("."):
            self.at += 1
            decimals = self.digits()
            if not whole + decimals:
                self.at = start
                return None
            return _Number(Fraction(f"{whole or 0}.{decimals or 0}"), whole, decimals)
        if not whole:
            return None
        after = self.at
        self.space()
        self.take("-")
        part = self.fraction() if fractions else None
        if part is None or part >= 1:
            self.at = after
            return _Number(Fraction(whole), whole)
        return _Number(int(whole) + part, "")

    def length_unit(self) -> str | None:
        """Take a unit of length, and the space after it."""
        self.space()
        mark = self.take("'\"")
        if mark:
            return unit_of(MEASURES[Kind.LENGTH], mark)
        start = self.at
        while self.at < len(self.text) and self.text[self.at].isalpha():
            self.at += 1
        unit = unit_of(MEASURES[Kind.LENGTH], self.text[start : self.at])
        if self.rest.startswith(".") and self.rest[1:2] in (*_DIGITS,):
            return None  # the point of "5 ft.5" may end the word or begin a decimal
        if unit:
            self.take(".")
            self.space()
        return unit


def _metres(value: Fraction, unit: str) -> float:
    return float(value * scale(unit, "meter")[0])


def _bare_length(scan: _Scanner, sign: int, number: _Number) -> float:
    """Say what a length without a unit could be; only zero is the same in every unit."""
    if not number.value:
        return 0.0
    text = scan.text
    minus = "-" if sign < 0 else ""
    # Tenths of a foot read as inches are the classic slip between surveyor and form crew.
    if number.whole and number.decimals in {str(inch) for inch in range(1, 12)}:
        in_feet = feet_inches(_metres(sign * number.value, "foot"))
        in_inches = f"{minus}{number.whole}'-{number.decimals}\""
        raise scan.error(f"could be {text} ft ({in_feet}) or {in_inches}: write {text} ft or {in_inches}")
    raise scan.error(f"could be {text} ft or {text} in: write {text} ft or {text} in, or the metric unit")


def _length(scan: _Scanner) -> float:
    measure = MEASURES[Kind.LENGTH]
    refusal = scan.refusal(measure)
    sign = scan.sign()
    first = scan.number()
    if first is None:
        raise refusal
    scan.space()
    if not scan.rest:
        return _bare_length(scan, sign, first)
    unit = scan.length_unit()
    if unit is None:
        raise refusal
    if not scan.rest:
        return _metres(sign * first.value, unit)
    scan.take("-,")
    second = scan.number()
    if unit != "foot" or second is None or scan.length_unit() not in (None, "inch") or scan.rest:
        raise refusal
    if first.value.denominator != 1:
        raise scan.error("has a part of a foot and inches too: write decimal feet, or whole feet with inches")
    value = _metres(sign * (first.value + second.value / 12), "foot")
    if second.value >= 12:
        raise scan.error(
            f"has {float(second.value):g} inches beside feet, and there inches stay below 12: "
            f"write {feet_inches(value)} if the sum is meant"
        )
    return value


def _resistance_prefix(scan: _Scanner) -> str:
    """Take the R or RSI before a thermal resistance with its dash, and return the unit that it stands for."""
    for prefix, spelling in (("rsi", "m2k/w"), ("r", "hft2f/btu")):
        if scan.rest.lower().startswith(prefix):
            scan.at += len(prefix)
            scan.space()
            scan.take("-")
            return spelling
    return ""


def _amount(scan: _Scanner, kind: Kind) -> float:
    """Read a number with one unit after it, or the mark that its kind has before it."""
    measure = MEASURES[kind]
    refusal = scan.refusal(measure)
    money = kind.startswith("money")
    spelling = _resistance_prefix(scan) if kind is Kind.RESISTANCE else ""
    sign = scan.sign() if not spelling else 1
    dollar = money and scan.take("$")
    if dollar and sign > 0:
        sign = scan.sign()
    number = scan.number()
    if number is None:
        raise refusal
    scan.space()
    if money and not dollar:
        scan.take("$")
    if spelling and scan.rest:
        raise refusal
    written = spelling or scan.rest
    unit = unit_of(measure, written)
    if unit is None:
        if not written:
            raise scan.error(f"has no unit: write {measure.name} such as {measure.samples}")
        raise refusal
    if sign < 0 and not measure.signed:
        raise scan.error(f"is below zero, and {measure.name} is not: write one such as {measure.samples}")
    factor, zero = scale(unit, measure.si)
    return float((sign * number.value - zero) * factor)


def read(text: str, kind: str) -> float:
    """Read a quantity as typed.

    Parameters
    ----------
    text : str
        What was typed, at most 60 characters.
    kind : str
        What it must be, a `Kind` or the text of one.

    Returns
    -------
    float
        The quantity, always finite. [SI unit of the kind]

    Raises
    ------
    UnitsError
        If it is no such quantity, or could be two; the message says what would do.

    Notes
    -----
    A length without a unit is refused, because tenths of a foot and inches cannot be told apart; 0 alone is
    taken. A foot is the international foot, 0.3048 m exactly (yard and pound agreement of 1959; NIST SP 811).

    Examples
    --------
    >>> read("12'-6 1/2\\"", "length")
    3.8227
    >>> read("R-10", "resistance")
    1.7611018368230584
    """
    kind = Kind(kind)
    scan = _Scanner(text)
    return _length(scan) if kind is Kind.LENGTH else _amount(scan, kind)


def read_decimal(text: str, unit: str) -> float:
    """Read a plain decimal from a column whose unit is stated once, such as a survey's.

    Parameters
    ----------
    text : str
        What stands in the column.
    unit : {"ft", "m"}
        The column's unit. A foot is the international foot, 0.3048 m exactly; the US survey foot,
        1200/3937 m, is 2 parts in a million longer, which is 0.4 mm in 200 m, and is not told apart.

    Returns
    -------
    float
        The value. [m]

    Raises
    ------
    UnitsError
        If it is no plain decimal number.
    ValueError
        If the unit is not one of the two.

    Examples
    --------
    >>> read_decimal("216.20", "ft")
    65.89776
    """
    if unit not in ("ft", "m"):
        raise ValueError(f'"{unit}" is no unit of a survey: "ft" and "m" are known.')
    scan = _Scanner(text)
    sign = scan.sign()
    number = scan.number(fractions=False)
    scan.space()
    if number is None or scan.rest:
        name = "feet" if unit == "ft" else "metres"
        raise scan.error(f"is not a plain decimal number: write {name} as in 216.20, without a unit")
    return _metres(sign * number.value, "foot" if unit == "ft" else "meter")
