"""The diary that a command is given, or that lies beside its scenario."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.cli.terminal import talk

if TYPE_CHECKING:
    from rotasolve.cli.case import Case
    from rotasolve.files.diary import DiaryFile


def diary_if_any(case: Case, word: str, given: Path | None) -> DiaryFile | None:
    """Return the diary given, or the one beside a scenario if there is one; what cannot be read of it is told.

    Raises
    ------
    RotasolveError
        If the diary given cannot be read at all.
    """
    from rotasolve.files.diary import diary_beside, read_diary

    file = given or (diary_beside(Path(word)) if Path(word).exists() else None)
    if file is None or (given is None and not file.exists()):
        return None
    read = read_diary(file, case.scenario, case.catalogue)
    say_troubles([read])
    return read


def say_troubles(diaries: Sequence[DiaryFile]) -> bool:
    """Say on stderr which lines of diaries cannot be read, or are doubtful; return whether there are any."""
    from rotasolve.files.faults import say_faults

    faults = [fault for diary in diaries for fault in diary.faults]
    if faults:
        talk(say_faults(faults, "all other lines were read."))
    return bool(faults)
