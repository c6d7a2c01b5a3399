"""Diary files: lines are only ever added, and neither a crash, a kill nor a full disk loses what was said already."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.diary import Happening
from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.diary import CUT_OFF, diary_beside, read_diary, read_diary_text
from rotasolve.files.diary_append import append_line
from rotasolve.files.diary_text import write_line
from tests.helpers.diaries import GARDEN, NAMED, TINY, happenings
from tests.helpers.tiny import CATALOGUE

LINES = ["2027-05-12 picked 1.2 kg tomato, gate bed: the first ones", "2027-05-13 frost", "2027-05-14 sown kale, left"]
ROOT = Path(__file__).parents[2]


class Killed(BaseException):
    """Stands for the end of a process: nothing of it is caught on the way."""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "garden.diary.txt"
    for line in LINES[:2]:
        append_line(path, line, "Ida's garden")
    return path


def told(path: Path) -> list[str]:
    return [write_line(one) for one in read_diary(path, TINY, CATALOGUE).diary.happenings]


@given(st.lists(happenings(), max_size=8))
def test_lines_are_read_back_by_day(said: list[Happening]) -> None:
    lines = [write_line(one) for one in said]
    marked = [line.endswith(CUT_OFF) for line in lines]
    file = read_diary_text([*lines, ""], "d.txt", GARDEN, NAMED)
    assert len(file.faults) == sum(marked)
    if not any(marked):
        assert list(file.diary.happenings) == sorted(said, key=lambda one: one.day)
        assert sorted(one.line for one in file.diary.happenings) == list(range(1, len(said) + 1))


def test_a_new_diary_explains_itself_and_a_line_is_added_behind_what_is_there(file: Path) -> None:
    before = file.read_bytes()
    assert before.decode().splitlines()[0].startswith("# Diary of Ida's garden. One happening a line")
    append_line(file, LINES[2], "Ida's garden")
    assert file.read_bytes() == before + LINES[2].encode() + b"\n"
    assert told(file) == LINES
    assert diary_beside(Path("a/garden.yaml")) == Path("a/garden.diary.txt")


@pytest.mark.parametrize("kept", range(len(LINES[2]) + 1))
def test_a_process_killed_at_any_letter_loses_no_line(file: Path, monkeypatch: pytest.MonkeyPatch, kept: int) -> None:
    real = os.write

    def cut(number: int, content: bytes) -> int:
        real(number, content[:kept])
        raise Killed

    before = file.read_bytes()
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", cut)
        with pytest.raises(Killed):
            append_line(file, LINES[2], "Ida's garden")
    assert file.read_bytes() == before + LINES[2].encode()[:kept]
    assert told(file)[:2] == LINES[:2]
    # What a kill left behind is told, stays where it is, and keeps nothing that is said later from being read.
    assert len(read_diary(file, TINY, CATALOGUE).faults) == (kept > 0)
    append_line(file, "2027-06-01 frost", "Ida's garden")
    lines = file.read_text("utf-8").splitlines()
    assert lines[-2:] == [LINES[2][:kept] + CUT_OFF if kept else LINES[1], "2027-06-01 frost"]
    assert told(file)[:2] == LINES[:2]
    assert told(file)[-1] == "2027-06-01 frost"
    assert len(read_diary(file, TINY, CATALOGUE).faults) == (kept > 0)


def test_a_whole_line_without_its_end_is_read_and_said_to_be_doubtful(file: Path) -> None:
    with file.open("a") as writer:
        writer.write(LINES[2])
    assert told(file) == LINES
    fault = read_diary(file, TINY, CATALOGUE).faults[0]
    assert (fault.line, fault.column, fault.what) == (6, 27, "the line was read, but may have been cut off")


@pytest.fixture
def room(file: Path) -> Iterator[None]:
    """Let files grow no longer than the diary and ten letters: a write takes a part and the next one fails."""
    resource = pytest.importorskip("resource", reason="Windows limits no files")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    before = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (file.stat().st_size + 10, hard))
    yield
    resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    signal.signal(signal.SIGXFSZ, before)


@pytest.mark.usefixtures("room")
def test_a_full_disk_is_said_and_leaves_the_diary_as_it_was(file: Path) -> None:
    before = file.read_bytes()
    with pytest.raises(FileTrouble, match=r"the line was not entered: File too large\. It was: 2027-05-14 sown kale"):
        append_line(file, LINES[2], "Ida's garden")
    assert file.read_bytes() == before


@pytest.mark.parametrize("step", ["fsync", "write"])
def test_trouble_at_each_step_is_said(file: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    def fail(*_: object) -> int:
        raise OSError(28, "No space left on device")

    before = file.read_bytes()
    monkeypatch.setattr(os, step, fail)
    with pytest.raises(FileTrouble, match="not entered: No space left on device"):
        append_line(file, LINES[2], "Ida's garden")
    assert file.read_bytes() == before


def test_file_and_folder_are_brought_to_the_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    synced: list[int] = []
    monkeypatch.setattr(os, "fsync", lambda number: synced.append(os.fstat(number).st_ino))
    path = tmp_path / "new.diary.txt"
    append_line(path, LINES[0], "x")
    assert synced == [path.stat().st_ino, tmp_path.stat().st_ino]
    append_line(path, LINES[1], "x")
    assert synced[2:] == [path.stat().st_ino]


_WRITER = """
import sys
from pathlib import Path
from rotasolve.files.diary_append import append_line
for number in range(10_000):
    append_line(Path(sys.argv[1]), f"2027-05-12 picked {number}.5 kg tomato, gate bed: {sys.argv[2]}", "x")
    print(number, flush=True)
"""


def test_two_writers_that_are_killed_lose_nothing_that_they_said(tmp_path: Path) -> None:
    path = tmp_path / "d.diary.txt"
    writers = [
        subprocess.Popen([sys.executable, "-c", _WRITER, path, name], cwd=ROOT, stdout=subprocess.PIPE, text=True)
        for name in ("Ada", "Bert")
    ]
    # However slow the machine: both have entered a line before they are killed in the middle of others.
    while not path.exists() or not all(name in path.read_text("utf-8") for name in ("Ada", "Bert")):
        assert all(writer.poll() is None for writer in writers)
        time.sleep(0.01)
    time.sleep(random.random() / 5)
    for writer in writers:
        writer.kill()
    said = {name: writer.communicate()[0].split() for name, writer in zip(("Ada", "Bert"), writers, strict=True)}
    file = read_diary(path, TINY, CATALOGUE)
    assert file.faults == ()
    entered = {(one.note, f"{(one.kg or 0) - 0.5:g}") for one in file.diary.happenings}
    assert entered >= {(name, number) for name, numbers in said.items() for number in numbers}
    assert len(entered) == len(file.diary.happenings)


def test_odd_files_are_read_as_far_as_they_can_be(file: Path) -> None:
    file.write_bytes(b"\xef\xbb\xbf2027-05-12 frost\r\n\r\n2027-05-13 noted: caf\xe9\r\n2027-05-14 frost\r\n")
    read = read_diary(file, TINY, CATALOGUE)
    assert told(file) == ["2027-05-12 frost", "2027-05-13 noted: caf\ufffd", "2027-05-14 frost"]
    assert [str(fault).split(":", 1)[1] for fault in read.faults] == [
        "3:22: the line was read, but a letter here is not written in UTF-8 - write it anew, and save the file as UTF-8"
    ]
    file.write_bytes("2027-05-12 frost\n".encode("utf-16"))
    assert told(file) == ["2027-05-12 frost"]
    with pytest.raises(FileTrouble, match="save it as UTF-8"):
        append_line(file, LINES[0], "x")
    file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputFault, match="UTF-16"):
        read_diary(file, TINY, CATALOGUE)
    with pytest.raises(FileTrouble, match="not entered: Is a directory"):
        append_line(file.parent, LINES[0], "x")


@pytest.mark.bench
def test_five_thousand_lines_are_read_in_under_a_third_of_a_second(tmp_path: Path) -> None:
    path = tmp_path / "long.diary.txt"
    path.write_text("".join(f"{LINES[number % 3]}\n" for number in range(5_000)), encoding="utf-8")
    seconds = []
    for _ in range(5):
        begin = time.perf_counter()
        assert len(read_diary(path, TINY, CATALOGUE).diary.happenings) == 5_000
        seconds.append(time.perf_counter() - begin)
    assert min(seconds) < 0.3
