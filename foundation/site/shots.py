"""Survey shots out of text: a point file, or rows pasted from a spreadsheet."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foundation.model.ground import ShotKind, Shots
from foundation.model.problem import Problem
from foundation.site.checks import check_shots
from foundation.site.words import cut_short, unit_word

HEADER_WORDS = {
    "point": ("point", "pt", "p", "pnt", "point number", "point no", "no", "number", "id"),
    "northing": ("northing", "north", "n"),
    "easting": ("easting", "east", "e"),
    "elevation": ("elevation", "elev", "el", "z"),
    "code": ("code", "description", "desc", "d"),
    "line": ("line", "breakline"),
}
"""Header words of each column. X and Y are left out: surveys disagree on which of them is north."""

CODE_WORDS = {
    "EG": ShotKind.EXISTING,
    "FG": ShotKind.FINISHED,
    "TIE": ShotKind.BOTH,
    "BM": ShotKind.MARK,
    "ST": ShotKind.STREET,
}
"""First word of a code, and what the shot lies on."""

NUMBERS = ("northing", "easting", "elevation")
LARGEST_COORDINATE = 1e8
"""No survey grid reaches further; beyond it a triangulation loses the millimetres. [m]"""
LARGEST_ELEVATION = 1e4
"""No lot lies higher or deeper. [m]"""

_NO_SHOTS = Shots((), np.zeros(0), np.zeros(0), np.zeros(0), (), (), ())
_LINE_TOKEN = re.compile(r"(?:^|(?<=\s))line\s*=\s*(\S+)", re.IGNORECASE)
_STARTS_LIKE_NUMBER = re.compile(r"\s*[-+]?\.?\d")
_COMMA_NUMBER = re.compile(r"[-+]?\d+(,\d+)+(\.\d+)?")


@dataclass(frozen=True)
class _Columns:
    """Where each column stands, -1 for none, and whether a header said so."""

    place: dict[str, int]
    from_header: bool


def read_shots(text: str, metres_per_unit: float, name: str = "shots") -> tuple[Shots, tuple[Problem, ...]]:
    """Read survey shots from text.

    A header names the columns in any order; without one they stand as point, northing, easting, elevation,
    code. Tabs, semicolons or commas separate them. Lines that start with ``#`` and blank lines are skipped.
    The code's first word is EG (existing ground), FG (finished), TIE (both), BM (mark) or ST (street); the
    rest is the note. A breakline is named in a ``line`` column or by ``line=NAME`` anywhere in the code; its
    shots follow each other in the file's order.

    Parameters
    ----------
    text : str
        The file, or what was pasted.
    metres_per_unit : float
        Length of the unit in which it is written, > 0. [m]
    name : str
        What problems call the file.

    Returns
    -------
    shots : Shots
        Every row that could be read. [m]
    problems : tuple of Problem
        What is wrong, fatal ones first, at most about twenty.

    Raises
    ------
    ValueError
        If the unit is not a positive length.

    Examples
    --------
    >>> shots, problems = read_shots("P,N,E,Z,D\\n7,5258.00,2080.00,213.60,TIE fence", 0.3048)
    >>> shots.point, shots.kind[0].value, shots.note, problems
    (('7',), 'both', ('fence',), ())
    """
    if not (np.isfinite(metres_per_unit) and metres_per_unit > 0):
        raise ValueError(f"metres_per_unit is {metres_per_unit}; a unit of length is finite and above 0 m.")
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines = [
        (number, line)
        for number, line in enumerate(plain.split("\n"), 1)
        if line.strip(" \t;,") and not line.lstrip().startswith("#")
    ]
    if not lines:
        return _NO_SHOTS, (Problem(name, "", f"{name}: no shots; type or paste point, northing, …"),)
    separator = _separator(lines[0][1])
    if separator is None:
        sentence = (
            f"{name} line {lines[0][0]}: commas, semicolons or tabs must separate point, northing, easting, "
            "elevation and code; begin the line with # if it is a title."
        )
        return _NO_SHOTS, (Problem(f"{name} line {lines[0][0]}", lines[0][1], sentence),)
    rows = [_cells(line, separator) for _, line in lines]
    numbers = [number for number, _ in lines]
    columns, problems = _columns(rows[0], numbers[0], name)
    if columns is None:
        return _NO_SHOTS, cut_short(problems, name)
    if columns.from_header:
        rows, numbers = rows[1:], numbers[1:]
    if not rows:
        return _NO_SHOTS, (*problems, Problem(name, "", f"{name}: a header and no shots below it."))
    shots, row_problems = _read_rows(rows, numbers, columns, separator, metres_per_unit, name)
    problems += row_problems + check_shots(shots, metres_per_unit, name)
    return shots, cut_short(problems, name)


def _separator(line: str) -> str | None:
    """A row has four separators or, without a code, three; semicolons win over decimal commas."""
    return next((mark for mark in "\t;," if line.count(mark) >= 3), None)


def _cells(line: str, separator: str) -> list[str]:
    if '"' not in line:
        return line.split(separator)
    try:
        # One line at a time: a quote that never closes cannot swallow the lines after it.
        return next(csv.reader([line], delimiter=separator, skipinitialspace=True))
    except csv.Error:
        return [line]


def _columns(first: Sequence[str], number: int, name: str) -> tuple[_Columns | None, list[Problem]]:
    """Columns by the header, or the surveyor's order where the first row is a shot."""
    words = [" ".join(re.sub(r"[(\[].*", "", cell).replace("_", " ").lower().split()) for cell in first]
    named = any(word in known for word in words for known in HEADER_WORDS.values())
    if not named or any(_STARTS_LIKE_NUMBER.match(cell) for cell in first[1:4]):
        order = {column: index for index, column in enumerate(("point", *NUMBERS, "code"))}
        return _Columns(order | {"line": -1}, False), []
    place, problems = dict.fromkeys(HEADER_WORDS, -1), list[Problem]()
    where = f"{name} line {number}"
    for index, word in enumerate(words):
        column = next((column for column, known in HEADER_WORDS.items() if word in known), None)
        if column is None:
            if word:
                known_words = ", ".join(HEADER_WORDS)
                sentence = f'{where}: column "{first[index].strip()}" is not used; known are {known_words}.'
                problems.append(Problem(where, first[index], sentence, fatal=False))
        elif place[column] >= 0:
            problems.append(Problem(where, first[index], f"{where}: two columns for the {column}; keep one."))
        else:
            place[column] = index
    for column in ("point", *NUMBERS, "code"):
        if place[column] < 0:
            would_do = ", ".join(HEADER_WORDS[column])
            sentence = f"{where}: the header names no {column}; any of these would do: {would_do}."
            problems.append(Problem(where, "", sentence))
    return (None if any(problem.fatal for problem in problems) else _Columns(place, True)), problems


def _read_rows(
    rows: list[list[str]],
    numbers: list[int],
    columns: _Columns,
    separator: str,
    metres_per_unit: float,
    name: str,
) -> tuple[Shots, list[Problem]]:
    """Column by column, so that a hundred thousand rows read at once; what fails is looked at one by one."""
    place, problems = columns.place, list[Problem]()
    needed = max(place[column] for column in ("point", *NUMBERS)) + 1
    if any(len(row) < needed for row in rows):
        for row, number in zip(rows, numbers, strict=True):
            if len(row) < needed:
                where = f"{name} line {number}"
                sentence = f"{where}: {len(row)} columns; point, northing, easting and elevation are needed."
                problems.append(Problem(where, separator.join(row), sentence))
        kept = [index for index, row in enumerate(rows) if len(row) >= needed]
        rows, numbers = [rows[index] for index in kept], [numbers[index] for index in kept]
    at = place["point"]
    point = [row[at].strip() for row in rows]
    for index in [index for index, number in enumerate(point) if not number]:
        where = f"{name} line {numbers[index]}"
        point[index] = f"(line {numbers[index]})"
        problems.append(
            Problem(where, "", f"{where}: no point number; it is called {point[index]}.", fatal=False)
        )
    typed = {column: [row[place[column]] for row in rows] for column in NUMBERS}
    value = {column: _numbers(typed[column]) * metres_per_unit for column in NUMBERS}
    limit = {"northing": LARGEST_COORDINATE, "easting": LARGEST_COORDINATE, "elevation": LARGEST_ELEVATION}
    good = np.stack([np.abs(value[column]) <= limit[column] for column in NUMBERS], axis=1)
    for index, column in np.argwhere(~good):
        where = f"{name} line {numbers[index]}, point {point[index]}"
        cell = typed[NUMBERS[column]][index].strip()
        said = _number_sentence(NUMBERS[column], cell, unit_word(metres_per_unit))
        problems.append(Problem(where, cell, f"{where}: {said}"))
    code, line = _codes_and_lines(rows, columns, separator)
    parsed = {text: _parse_code(text) for text in set(code)}
    keep = np.flatnonzero(good.all(axis=1)).tolist()
    read = [(index, parsed[code[index]]) for index in keep]
    for index, (_, _, in_code, _) in read:
        if in_code and line[index] and in_code != line[index]:
            where = f"{name} line {numbers[index]}, point {point[index]}"
            sentence = f'{where}: the code says line={in_code}, the line column "{line[index]}"; keep one.'
            problems.append(Problem(where, code[index], sentence))
    shots = Shots(
        point=tuple([point[index] for index in keep]),
        north=value["northing"][keep],
        east=value["easting"][keep],
        elevation=value["elevation"][keep],
        kind=tuple([kind for _, (kind, _, _, _) in read]),
        note=tuple([note for _, (_, note, _, _) in read]),
        line=tuple([line[index] or in_code for index, (_, _, in_code, _) in read]),
    )
    return shots, problems + _unknown_codes([word for _, (_, _, _, word) in read], shots, name)


def _codes_and_lines(rows: list[list[str]], columns: _Columns, separator: str) -> tuple[list[str], list[str]]:
    code_at, line_at = columns.place["code"], columns.place["line"]
    if columns.from_header:
        code = [row[code_at].strip() if len(row) > code_at else "" for row in rows]
    else:
        # A note may hold the separator ("corner A, nail"); nothing else stands behind the code.
        code = [separator.join(row[code_at:]).strip() for row in rows]
    line = [row[line_at].strip() if 0 <= line_at < len(row) else "" for row in rows]
    return code, line


def _numbers(cells: list[str]) -> NDArray[np.float64]:
    """Numbers of a column, nan where a cell holds none."""
    try:
        if "_" not in "".join(cells):  # Python's own digit groups are no survey's
            return np.array(list(map(float, cells)), dtype=float)
    except ValueError:
        pass
    return np.array([_number(cell) for cell in cells], dtype=float)


def _number(cell: str) -> float:
    try:
        return float("nan" if "_" in cell else cell)
    except ValueError:
        return float("nan")


def _number_sentence(column: str, cell: str, unit: str) -> str:
    if not cell:
        return f"the {column} is empty; type it in {unit}."
    if _COMMA_NUMBER.fullmatch(cell):
        return (
            f'{column} "{cell}" has a comma; write the decimal mark as a point, and thousands without a mark.'
        )
    value = _number(cell)
    if np.isfinite(value):
        return f'{column} "{cell}" is larger than any place on earth; type it in {unit}.'
    return f'{column} "{cell}" is no number; type it in {unit}, such as 213.60.'


def _parse_code(text: str) -> tuple[ShotKind, str, str, str]:
    """Kind, note, breakline named in the code, and the code word if it is unknown."""
    token = _LINE_TOKEN.search(text)
    rest = f"{text[: token.start()]} {text[token.end() :]}" if token else text
    word, _, note = rest.strip().partition(" ")
    kind = CODE_WORDS.get(word.upper())
    line = token.group(1) if token else ""
    if kind is None:
        return ShotKind.OTHER, rest.strip(), line, word or "(none)"
    return kind, note.strip(), line, ""


def _unknown_codes(words: list[str], shots: Shots, name: str) -> list[Problem]:
    problems = []
    count = Counter(word for word in words if word)
    first_with = {
        word: point for word, point in zip(reversed(words), reversed(shots.point), strict=True) if word
    }
    for word, times in count.items():
        first = first_with[word]
        said = "without a code" if word == "(none)" else f'with code "{word}"'
        sentence = (
            f"{name}: {times} shots {said}, the first is point {first}: shown, not used as ground. "
            f"Codes that are used start with {', '.join(CODE_WORDS)}."
        )
        problems.append(Problem(f"{name} point {first}", word, sentence, fatal=False))
    if shots.kind and not any(
        kind in (ShotKind.EXISTING, ShotKind.FINISHED, ShotKind.BOTH) for kind in shots.kind
    ):
        sentence = f"{name}: no shot is ground; codes start with EG (existing), FG (finished) or TIE (both)."
        problems.append(Problem(name, "", sentence))
    return problems


def breaklines(shots: Shots, kinds: Sequence[ShotKind]) -> dict[str, list[int]]:
    """Breaklines of one surface.

    Parameters
    ----------
    shots : Shots
        All shots.
    kinds : sequence of ShotKind
        Kinds that lie on the surface.

    Returns
    -------
    dict of str to list of int
        Indices of each line's shots in the file's order; lines with fewer than two are left out.
    """
    lines: dict[str, list[int]] = {}
    if any(shots.line):
        for index, name in enumerate(shots.line):
            if name and shots.kind[index] in kinds:
                lines.setdefault(name, []).append(index)
    return {name: indices for name, indices in lines.items() if len(indices) > 1}
