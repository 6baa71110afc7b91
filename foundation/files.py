"""Saves files whole or not at all, and reads text with a sentence for whatever can be wrong with it."""

from __future__ import annotations

import codecs
import os
import secrets
import shutil
from contextlib import suppress
from pathlib import Path

LARGEST = 10_000_000
"""Most bytes that `read_text` takes. [-]"""


class FileError(OSError):
    """A file that cannot be read or saved; the message is one or two plain sentences saying what would do."""


def _settle_folder(folder: Path) -> None:
    """Ask the disk to keep the folder's new entry, where the platform can be asked."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def write_atomically(path: str | os.PathLike[str], content: str | bytes) -> None:
    """Save a file so that a crash at any moment leaves either the old content or the new, never a part.

    The content goes to a new file beside the old one, to the disk, and then takes the old one's place and
    permissions. A link is followed.

    Parameters
    ----------
    path : str or path-like
        The file; its folder must exist.
    content : str or bytes
        What it shall hold; text is saved as UTF-8 with its line ends as they are.

    Raises
    ------
    FileError
        If it cannot be saved; the old content is then still there.
    """
    try:
        saved = content.encode("utf-8") if isinstance(content, str) else content
    except UnicodeEncodeError as error:
        raise FileError(
            f'"{path}" could not be saved: its text has half a character at place {error.start}. '
            "What was there before is unchanged."
        ) from error
    target = Path(os.path.realpath(path))
    # A name of its own for every save: two savers at once must not write into one file.
    fresh = target.with_name(f".{target.name[:100]}.{secrets.token_hex(4)}.tmp")
    try:
        try:
            with open(fresh, "xb") as file:
                file.write(saved)
                file.flush()
                os.fsync(file.fileno())
            if target.exists():
                shutil.copymode(target, fresh)
            os.replace(fresh, target)
        except BaseException:
            with suppress(OSError):
                fresh.unlink()
            raise
    except OSError as error:
        raise FileError(
            f'"{path}" could not be saved: {error.strerror or error}. What was there before is unchanged.'
        ) from error
    _settle_folder(target.parent)


def read_text(path: str | os.PathLike[str]) -> str:
    """Read a text file of at most 10 MB.

    Parameters
    ----------
    path : str or path-like
        The file, in UTF-8, or in UTF-16 with its byte-order mark.

    Returns
    -------
    str
        The text without a byte-order mark, each line ended by a line feed.

    Raises
    ------
    FileError
        If it is missing, a folder, too large, or no such text.
    """
    place = Path(path)
    if place.is_dir():
        raise FileError(f'"{path}" is a folder: name a file in it.')
    if place.exists() and not place.is_file():
        raise FileError(f'"{path}" is not an ordinary file: name one that is.')
    try:
        with open(place, "rb") as file:
            content = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise FileError(f'There is no file "{path}": check its name and folder.') from None
    except (OSError, ValueError) as error:
        raise FileError(f'"{path}" cannot be read: {getattr(error, "strerror", None) or error}.') from error
    if len(content) > LARGEST:
        raise FileError(f'"{path}" is larger than {LARGEST // 1_000_000} MB: split it or name another file.')
    wide = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    try:
        text = content.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError as error:
        name, line = "UTF-16" if wide else "UTF-8", content[: error.start].count(b"\n") + 1
        raise FileError(
            f'"{path}" is not {name} text: line {line} holds the byte {content[error.start]:#04x}. '
            "Save it again with the encoding UTF-8."
        ) from error
    return text.replace("\r\n", "\n").replace("\r", "\n")
