"""What the papers' type can show: characters it lacks become one visible mark, words too long for a line may break."""

from __future__ import annotations

import re
import struct
import unicodedata
from functools import lru_cache

from foundation import places

FONTS = ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf")
"""Plain and bold type, under the licence that lies beside them."""
FAMILY = "DejaVu Sans"
MISSING = "\ufffd"
"""Stands for what the type cannot show."""
LONGEST_WORD = 24
"""A word longer than this may break anywhere. [characters]"""
JOINERS = {"\u200d", "\ufe0e", "\ufe0f", "\u20e3"}
"""Characters that only bind a picture together."""
NARROW = rf"[^\s\u200b]{{{LONGEST_WORD}}}(?=[^\s\u200b])"


@lru_cache(maxsize=1)
def shown_characters() -> frozenset[int]:
    """Code points that both the plain and the bold type have.

    Returns
    -------
    frozenset of int
        Code points.
    """
    first, second = (characters_of(places.data("fonts", name).read_bytes()) for name in FONTS)
    return frozenset(first & second)


def characters_of(font: bytes) -> set[int]:
    """Code points that a TrueType font has a shape for, from its format 12 character map.

    Parameters
    ----------
    font : bytes
        The font file.

    Returns
    -------
    set of int
        Code points.

    Raises
    ------
    ValueError
        If it has no such map.
    """
    (count,) = struct.unpack_from(">H", font, 4)
    tables = (struct.unpack_from(">4sLLL", font, 12 + 16 * n) for n in range(count))
    start = next(offset for tag, _, offset, _ in tables if tag == b"cmap")
    (count,) = struct.unpack_from(">H", font, start + 2)
    for n in range(count):
        (offset,) = struct.unpack_from(">L", font, start + 4 + 8 * n + 4)
        form, *_, groups = struct.unpack_from(">HHLLL", font, start + offset)
        if form == 12:
            found: set[int] = set()
            for group in range(groups):
                first, last, glyph = struct.unpack_from(">LLL", font, start + offset + 16 + 12 * group)
                found |= {point for point in range(first, last + 1) if glyph + point - first}
            return found
    raise ValueError("the font has no character map of format 12: take one that covers all of Unicode.")


def printable(text: str) -> str:
    """Text as the papers show it.

    Parameters
    ----------
    text : str
        Any text, a user's among them.

    Returns
    -------
    str
        On one line, without control characters; each run of characters that the type lacks is one mark.

    Examples
    --------
    >>> printable("lot\\n6 \\U0001f3d7\\ufe0f!")
    'lot 6 \ufffd!'
    """
    known, kept = shown_characters(), []
    for character in " ".join(unicodedata.normalize("NFC", text).split()):
        if character in JOINERS or (ord(character) > 127 and unicodedata.category(character) in ("Cc", "Cf")):
            # What joins or turns text is of no use by itself; turned text could hide what a line says.
            continue
        if ord(character) in known and unicodedata.category(character) != "Co":
            kept.append(character)
        elif not kept or kept[-1] != MISSING:
            kept.append(MISSING)
    return "".join(kept)


def breakable(text: str) -> str:
    """Printable text whose overlong words may break, so that none runs off the paper.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        The text, with invisible places to break in words longer than a line of a narrow column.
    """
    return re.sub(NARROW, lambda found: found.group() + "\u200b", printable(text))
