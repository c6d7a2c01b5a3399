"""Every writing command, ended at every write it makes: the old file or the new one is there, never a part of one.

A shim counts the calls that change files (open for writing, write, rename, remove, copy of the mode) and at the one
asked for ends the process as ``kill -9`` would: nothing is tidied up, no buffer is written out.
"""

from __future__ import annotations

import os
import shutil
import sys
import warnings
from pathlib import Path
from typing import Any, Self

import pytest

from tests.helpers.in_process import call

OLD = "old and whole\n"
G, P = "garden.yaml", "plan.json"
ANSWERS = (
    *("--latitude", "52", "--last-frost", "5 May", "--first-frost", "15 October", "--first-year", "2027", "--yes"),
    *("--title", "T", "--bed", "b,4 m,1 m", "--crop", "kale,1"),
)
WRITERS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "begin": (("begin", "a", *ANSWERS), ("a",)),
    "change": (("change", G, "wish leek 1 kg", "-o", "a"), ("a",)),
    "plan": (("plan", G, "--from", P, "--keep", "all", "--effort", "0.1", "-q", "-o", "a"), ("a",)),
    "plots": (("plots", G, "-o", ".", "--effort", "0.1", "-q"), ("garden.plan.json",)),
    "share": (("share", G, "--plans", ".", "--csv", "a"), ("a",)),
    "report": (("report", G, P, "-o", "a"), ("a",)),
    "calendar": (("calendar", G, P, "--ics", "new.ics", "--csv", "a"), ("new.ics", "a")),
    "draw": (("draw", G, P, "-o", "."), ("site-2027.svg", "harvest-2027.svg")),
    "scenarios": (("scenarios", "cold-frame", "--copy", "a"), ("a",)),
    "sun": (("sun", G, "--month", "June", "--svg", "a", "--html", "b"), ("a", "b")),
    "where": (("where", G, "kale", "--plants", "1", "--plan", P, "--move", "--today", "2027-01-01", "-o", "a"), ("a",)),
}
"""A call of each command that writes, and the files it may leave."""
KILLED = 137
MOST_ENDS = 8
"""Beyond these (``draw`` writes many files, all in the same way) the first, middle and last writes stand for all."""


class Shim:
    """Counts the steps in which files of a folder change, and ends the process before one of them."""

    def __init__(self, folder: Path, end: int) -> None:
        self.folder, self.end, self.count = str(folder.resolve()), end, 0
        self.open = Path.open

    def hear(self, event: str, what: tuple[Any, ...]) -> None:
        """Hear an audit event: Python raises it before each call to the system. A file opened to be read is no step."""
        writes = event == "open" and isinstance(what[1], str) and set(what[1]) & set("wax+")
        if (writes or event in ("os.rename", "os.remove", "os.chmod", "os.mkdir")) and self._ours(what[0]):
            self.step()

    def step(self) -> None:
        """Count a step, and end before the one asked for."""
        self.count += 1
        if self.count == self.end:
            os._exit(KILLED)

    def _ours(self, path: object) -> bool:
        return isinstance(path, str | os.PathLike) and os.path.realpath(path).startswith(self.folder)

    def slowly(self, path: Path, mode: str = "r", *more: Any, **named: Any) -> Any:
        """Open a file so that it can also be cut off in its middle."""
        file = self.open(path, mode, *more, **named)
        return _TwoHalves(file, self) if "w" in mode and self._ours(path) else file


class _TwoHalves:
    def __init__(self, file: Any, shim: Shim) -> None:
        self.file, self.shim = file, shim

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *left: object) -> None:
        self.file.close()

    def write(self, content: Any) -> int:
        half = len(content) // 2
        self.file.write(content[:half])
        self.file.flush()
        self.shim.step()
        self.file.write(content[half:])
        return len(content)


def run(folder: Path, end: int, words: tuple[str, ...]) -> tuple[int, int]:
    """Run a command in a folder and a process of its own; return its exit status and the steps it took."""
    ours, theirs = os.pipe()
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore", DeprecationWarning
        )  # of threads beside a fork: none of them holds a lock we use
        child = os.fork()
    if not child:
        status = 99
        try:
            os.chdir(folder)
            shim = Shim(folder, end)
            setattr(Path, "open", lambda path, *more, **named: shim.slowly(path, *more, **named))  # noqa: B010
            sys.addaudithook(shim.hear)
            status = call(*words).status
            os.write(theirs, str(shim.count).encode())
        finally:
            os._exit(status)
    os.close(theirs)
    with os.fdopen(ours) as told:
        steps = told.read()
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), int(steps or 0)


@pytest.mark.skipif(sys.platform == "win32", reason="processes are ended the POSIX way")
@pytest.mark.parametrize("name", WRITERS)
def test_old_file_or_new_one_never_between(name: str, kept: Path, tmp_path: Path) -> None:
    words, files = WRITERS[name]

    def fresh(number: int) -> Path:
        folder = tmp_path / str(number)
        shutil.copytree(kept, folder)
        for file in files:
            if not file.startswith("new"):
                (folder / file).write_text(OLD, encoding="utf-8")
        return folder

    whole = fresh(0)
    status, count = run(whole, -1, (*words, "--force"))
    assert status == 0
    assert count >= 3
    new = {file: (whole / file).read_bytes() for file in files}
    assert OLD.encode() not in new.values()
    ends = list(range(1, count + 1))
    if count > MOST_ENDS:
        ends = [*ends[:4], *ends[count // 2 : count // 2 + 2], *ends[-2:]]
    for end in ends:
        folder = fresh(end)
        assert run(folder, end, (*words, "--force"))[0] == KILLED
        for file in files:
            there = (folder / file).read_bytes() if (folder / file).exists() else b""
            assert there in (new[file], b"" if file.startswith("new") else OLD.encode()), (end, file)
