"""What the operating system refuses, in words: the one place for files, folders, disks, pipes and terminals."""

from __future__ import annotations

import errno
import os
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_LONG = "use a shorter name"
_MAY_NOT = "ask for the right to do so, or choose another place"
_ROOM = "make room, or choose another place"
_MENDING = {
    errno.ENAMETOOLONG: _LONG,
    errno.EACCES: _MAY_NOT,
    errno.EPERM: _MAY_NOT,
    errno.EROFS: "nothing can be written there; choose another place",
    errno.ENOSPC: _ROOM,
    errno.EDQUOT: _ROOM,
    errno.EFBIG: _ROOM,
    errno.ELOOP: "a link leads in a circle; name the file itself",
    errno.ENOENT: "check the name",
    errno.ENOTDIR: "a part of the path is a file, not a folder",
    errno.EMFILE: "close other programs",
    errno.ENOMEM: "close other programs",
}


def say_refused(error: OSError | ValueError) -> str:
    """Say what the system refused, and how to mend it where that is known: ``No space left on device; make room``."""
    number = getattr(error, "errno", None)
    what = os.strerror(number) if number else str(error)
    return "; ".join(part for part in (what, _MENDING.get(number or 0, "")) if part)


@contextmanager
def refused(name: str | Path, doing: str) -> Iterator[None]:
    """Turn whatever the system refuses meanwhile into a FileTrouble: ``NAME: DOING: what; how to mend it``."""
    try:
        yield
    except IsADirectoryError:
        raise FileTrouble(f"{name}: this is a folder, not a file") from None
    except (OSError, ValueError) as error:
        raise FileTrouble(f"{name}: {doing}: {say_refused(error)}") from None
