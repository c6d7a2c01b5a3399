"""Files to text and back: decoding with a named place for a bad byte, and writing without half-written files."""

from __future__ import annotations

import errno
import os
import shutil
import stat
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.document import BEGINNING, TextPlace, fault_at
from rotasolve.files.refusals import refused
from rotasolve.files.yaml_text import LARGEST_FILE

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

_PART_LETTERS = 40
"""Of a name close to what the system allows no more fit into the name of the part that is written first."""
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def read_text(path: Path | Traversable, name: str = "", largest: int = LARGEST_FILE) -> str:
    """Return the text of a file, UTF-8 with or without a byte order mark, or UTF-16 with one.

    Parameters
    ----------
    path
        The file.
    name
        Its name for messages. Default: the path.
    largest
        Bytes; a larger file is refused.

    Raises
    ------
    FileTrouble
        If the file is missing or cannot be opened.
    InputFault
        If it is too large, or not text in UTF-8.
    """
    name = name or str(path)
    return decode(read_bytes(path, name, largest), name)


def read_bytes(path: Path | Traversable, name: str, largest: int) -> bytes:
    """Return what a file holds; parameters, and errors but those of ``decode``, as in ``read_text``."""
    with refused(name, "cannot be read"):
        try:
            with path.open("rb") as file:
                content = file.read(largest + 1)
        except FileNotFoundError:
            raise FileTrouble(f"{name}: there is no such file") from None
    if len(content) > largest:
        what = f"the file is larger than {largest // 1_000_000} MB"
        raise InputFault([fault_at(name, (), BEGINNING, what, "is it the right file?")])
    return content


def decode(content: bytes, name: str) -> str:
    """Return the bytes of a file as text.

    Raises
    ------
    InputFault
        If they are neither UTF-8 nor UTF-16 with a byte order mark; the fault is at the first bad byte.
    """
    coding = "utf-16" if content.startswith(_UTF16_MARKS) else "utf-8-sig"
    try:
        return content.decode(coding)
    except UnicodeDecodeError as error:
        # The decoder of UTF-8 counts from behind a byte order mark, and the mark of UTF-16 is no letter.
        bare = content.removeprefix(b"\xef\xbb\xbf") if coding == "utf-8-sig" else content
        before = bare[: error.start].decode(coding, "replace").split("\n")
        lines = tuple(bare.decode(coding, "replace").split("\n"))
        what = "a letter here is not written in UTF-8"
        if coding == "utf-16":
            what = "the file is not complete UTF-16 text"
        place = TextPlace(len(before), len(before[-1]) + 1)
        raise InputFault([fault_at(name, lines, place, what, "save the file as UTF-8")]) from None


def write_text(text: str, path: Path, *, overwrite: bool) -> None:
    """Write a text file as UTF-8, whole or not at all.

    Parameters
    ----------
    text
        The content; line ends are written as they are.
    path
        The file. A link is followed, so that the link stays.
    overwrite
        Whether a file that is there already may be replaced.

    Raises
    ------
    FileTrouble
        If the file is there and ``overwrite`` is False, or it cannot be written.
    """
    write_bytes(text.encode("utf-8", "strict"), path, overwrite=overwrite)


def write_bytes(content: bytes, path: Path, *, overwrite: bool) -> None:
    """Write a file whole or not at all; ``overwrite`` and errors as in ``write_text``."""
    with refused(path, "cannot be written"):
        there = refuse_unwritable(path)
        if there and not overwrite:
            raise FileTrouble(f"{path}: the file is there already and was left as it is")
        target = Path(os.path.realpath(path))
        if there and not target.is_file():
            # A device or a pipe takes what it is given and stays what it is.
            target.write_bytes(content)
            return
        # Beside the target, because a file can be put in place in one step only within the same file system.
        part = target.with_name(f".{target.name[:_PART_LETTERS]}.{os.getpid()}.part")
        try:
            part.write_bytes(content)
            if there:
                shutil.copymode(target, part)
            os.replace(part, target)
        finally:
            part.unlink(missing_ok=True)


def refuse_unwritable(path: Path) -> bool:
    """Return whether something is there already, after a check that a file can be written there; nothing is changed.

    Raises
    ------
    FileTrouble
        If it is a folder, a link that leads in a circle, or in no folder, or writing there is not allowed.
    """
    with refused(path, "cannot be written"):
        try:
            found = path.stat()
        except FileNotFoundError:
            found = None
        if found is not None and stat.S_ISDIR(found.st_mode):
            raise FileTrouble(f"{path}: this is a folder, not a file")
        target = Path(os.path.realpath(path))
        if not target.parent.is_dir():
            raise FileTrouble(f"{path}: cannot be written, for there is no folder {path.parent}")
        # A file of ours is put in place of the old one, so it is the folder that must let us write.
        asked = target if found is not None and not stat.S_ISREG(found.st_mode) else target.parent
        if not os.access(asked, os.W_OK, effective_ids=os.access in os.supports_effective_ids):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    return found is not None
