"""A diary file to what happened: lines that cannot be read are told, all at once, and keep no other line from it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from rotasolve.domain.diary import Diary, Happening
from rotasolve.domain.fault import Fault
from rotasolve.errors import InputFault
from rotasolve.files.diary_lines import LineFault, read_line
from rotasolve.files.diary_names import DiaryNames
from rotasolve.files.document import TextPlace, fault_at
from rotasolve.files.files import decode, read_bytes

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario

CUT_OFF = " # cut off?"
"""What is appended to a line whose end was missing when the next one was entered: a crash may have cut it off."""
_LARGEST = 20_000_000
NO_LETTER = "\ufffd"
"""What stands for a letter that is not written in UTF-8."""
_SUFFIX = ".diary.txt"


class Line(NamedTuple):
    """A line of a diary file and what it tells; None if it is empty, a comment, or unreadable.

    ``text`` is the line as it stands there without its end; one that has no end bears the mark of a cut line.
    """

    text: str
    told: Happening | None


@dataclass(frozen=True)
class DiaryFile:
    """A diary as it was read: every line of the file, and what is wrong with some of them, in file order."""

    name: str
    lines: tuple[Line, ...]
    faults: tuple[Fault, ...]

    @cached_property
    def diary(self) -> Diary:
        """What happened, by day."""
        told = (line.told for line in self.lines)
        return Diary(tuple(sorted((one for one in told if one is not None), key=lambda one: one.day)))


def diary_beside(scenario: Path) -> Path:
    """Return where the diary of a scenario file lies: ``garden.diary.txt`` beside ``garden.yaml``."""
    return scenario.with_name(scenario.stem + _SUFFIX)


def read_diary(path: Path, scenario: Scenario, catalogue: Catalogue) -> DiaryFile:
    """Return the diary of a file, with the spelling of scenario and catalogue.

    A line that cannot be read, or that may have been cut off by a crash, is a fault of the diary; all others are read.

    Raises
    ------
    FileTrouble
        If the file is missing or cannot be opened.
    InputFault
        If it is too large to be a diary, or not complete UTF-16 text.
    """
    return read_diary_text(
        _text_lines(read_bytes(path, str(path), _LARGEST), str(path)), str(path), scenario, catalogue
    )


def read_diary_if_there(path: Path, scenario: Scenario, catalogue: Catalogue) -> DiaryFile:
    """Return the diary of a file, an empty one if there is no such file; errors as of ``read_diary``."""
    return read_diary(path, scenario, catalogue) if path.exists() else DiaryFile(str(path), (), ())


def read_diary_text(texts: list[str], name: str, scenario: Scenario, catalogue: Catalogue) -> DiaryFile:
    """Return the diary that the lines of a file hold; the last one is what follows the last line's end."""
    names, faults, lines = DiaryNames(scenario, catalogue), list[Fault](), list[Line]()
    shown = tuple(texts)
    for number, text in enumerate(texts, start=1):
        words = text.removesuffix(CUT_OFF)
        cut = words != text or (number == len(texts) and words.strip() != "")
        told, trouble = None, None
        if words.strip() and not words.lstrip().startswith("#"):
            told, trouble = _read(words, number, names, cut)
        if trouble is not None:
            faults.append(fault_at(name, shown, TextPlace(number, trouble.column), trouble.what, trouble.mend))
        if text or number < len(texts):
            lines.append(Line(words + CUT_OFF if cut else text, told))
    return DiaryFile(name, tuple(lines), tuple(faults))


def _read(words: str, number: int, names: DiaryNames, cut: bool) -> tuple[Happening | None, LineFault | None]:
    """Return what a line tells, and what is wrong with it; a doubtful line has both."""
    try:
        told = read_line(words, number, names)
    except LineFault as fault:
        what = f"{fault.what}; the line may have been cut off" if cut else fault.what
        return None, LineFault(fault.column, what, fault.mend)
    if cut:
        mend = f"see that it is whole, take away a mark '{CUT_OFF.strip()}' and end it with a line break"
        return told, LineFault(len(words) + 1, "the line was read, but may have been cut off", mend)
    if NO_LETTER in words:
        what = "the line was read, but a letter here is not written in UTF-8"
        return told, LineFault(words.index(NO_LETTER) + 1, what, "write it anew, and save the file as UTF-8")
    return told, None


def _text_lines(content: bytes, name: str) -> list[str]:
    """Return the lines of a file without their ends; letters that are not UTF-8 become signs that nothing reads."""
    try:
        text = decode(content, name)
    except InputFault:
        if content.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise
        text = content.decode("utf-8-sig", "replace")
    return [line.removesuffix("\r") for line in text.split("\n")]
