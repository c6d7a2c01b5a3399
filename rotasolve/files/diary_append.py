"""Enter a line into a diary: appended in one write and brought to the disk, never written over.

A crash, a kill or a full disk may cost the line that is being entered, never one that stands there already. A part of
a line that a crash left behind stays where it is: the next line begins on a line of its own, and the cut one is marked.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble
from rotasolve.files.diary import CUT_OFF

if TYPE_CHECKING:
    from pathlib import Path

HEADER = """\
# Diary of {title}. One happening a line; lines may be changed by hand.
# Day, what happened, how much, crop, bed, strips: note. Such as
#   2027-05-12 picked 1.2 kg tomato, gate bed: the first ones
"""
"""The first lines of a new diary; lines that begin with # are passed over."""
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def append_line(path: Path, line: str, title: str) -> None:
    """Enter one line, without its end, at the end of a diary; a new file begins with a few lines that explain it.

    Raises
    ------
    FileTrouble
        If the line could not be entered, or not be brought to the disk: it says which.
    """
    try:
        new = not path.exists()
        file = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
    except (OSError, ValueError) as error:
        raise _trouble(path, error, line) from None
    try:
        with _alone(file):
            _append(file, path, line, title)
        if new:
            _keep_name(path)
    except OSError as error:
        raise _trouble(path, error, line) from None
    finally:
        os.close(file)


def _append(file: int, path: Path, line: str, title: str) -> None:
    size = os.fstat(file).st_size
    if size == 0:
        before = HEADER.format(title=" ".join(title.split()))
    else:
        if _read(file, 0, 2) in _UTF16_MARKS:
            raise FileTrouble(f"{path}: the diary is not written in UTF-8; save it as UTF-8, then enter the line again")
        before = "" if _read(file, size - 1, 1) == b"\n" else f"{CUT_OFF}\n"
    content = f"{before}{line}\n".encode()
    written = 0
    try:
        # Nearly always one write; a disk that fills up may take a part of it.
        while written < len(content):
            written += os.write(file, content[written:])
        os.fsync(file)
    except OSError:
        # Our own part of a line is taken back; if that fails too, the next line marks it.
        with contextlib.suppress(OSError):
            if os.fstat(file).st_size == size + written:
                os.ftruncate(file, size)
        raise


def _read(file: int, place: int, count: int) -> bytes:
    """Return some bytes from a place on; what is written goes to the end of the file all the same."""
    os.lseek(file, place, os.SEEK_SET)
    return os.read(file, count)


@contextlib.contextmanager
def _alone(file: int) -> Iterator[None]:
    """Hold the file against other writers while a line is entered, where the system can do that."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    fcntl.flock(file, fcntl.LOCK_EX)
    try:
        yield
    finally:
        fcntl.flock(file, fcntl.LOCK_UN)


def _keep_name(path: Path) -> None:
    """Bring the name of a new file to the disk; Windows opens no folders, and keeps names by itself."""
    with contextlib.suppress(PermissionError):
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _trouble(path: Path, error: OSError | ValueError, line: str) -> FileTrouble:
    why = getattr(error, "strerror", None) or error
    return FileTrouble(f"{path}: the line was not entered: {why}. It was: {line}")
