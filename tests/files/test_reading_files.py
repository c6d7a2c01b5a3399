from __future__ import annotations

import os
from pathlib import Path

import pytest

from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.files import decode, read_text, write_text


def test_utf8_and_marked_utf16_are_read(tmp_path: Path) -> None:
    for coding in ("utf-8", "utf-8-sig", "utf-16"):
        file = tmp_path / coding
        file.write_bytes("a: Möhre\r\n".encode(coding))
        assert read_text(file) == "a: Möhre\r\n"


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_other_coding_names_the_first_bad_letter(mark: bytes) -> None:
    with pytest.raises(InputFault) as refusal:
        decode(mark + "a: é\n".encode() + "b: Möhre\nc: ü\n".encode("cp1252"), "g.yaml")
    (fault,) = refusal.value.faults
    assert str(fault) == "g.yaml:2:5: a letter here is not written in UTF-8 - save the file as UTF-8"
    assert fault.source_line == "b: M\ufffdhre"


def test_half_a_utf16_file_is_refused() -> None:
    for content, place in ((b"\xff\xfea", "1:1"), ("a: 1\nb: ".encode("utf-16") + b"x", "2:4")):
        with pytest.raises(InputFault, match=f"g.yaml:{place}: the file is not complete UTF-16"):
            decode(content, "g.yaml")


def test_large_file_is_refused_before_it_is_read_whole(tmp_path: Path) -> None:
    file = tmp_path / "g.yaml"
    file.write_bytes(b"x" * 2_000_001)
    with pytest.raises(InputFault, match="1:1: the file is larger than 2 MB"):
        read_text(file)


@pytest.mark.parametrize(
    ("name", "words"), [("none.yaml", "there is no such file"), ("", "this is a folder"), ("\0", "cannot be read")]
)
def test_unreadable_file_is_trouble(tmp_path: Path, name: str, words: str) -> None:
    with pytest.raises(FileTrouble, match=words):
        read_text(tmp_path / name)


def test_writing_leaves_a_file_alone_unless_told(tmp_path: Path) -> None:
    file = tmp_path / "g.yaml"
    write_text("a\n", file, overwrite=False)
    with pytest.raises(FileTrouble, match="is there already and was left as it is"):
        write_text("b\n", file, overwrite=False)
    assert file.read_bytes() == b"a\n"
    write_text("b\n", file, overwrite=True)
    assert file.read_bytes() == b"b\n"
    assert os.listdir(tmp_path) == ["g.yaml"]


def test_failed_writing_leaves_the_old_file_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "g.yaml"
    file.write_text("old")

    def fail(source: object, target: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(FileTrouble, match="cannot be written: No space left"):
        write_text("new", file, overwrite=True)
    assert file.read_text() == "old"
    assert os.listdir(tmp_path) == ["g.yaml"]


def test_writing_into_no_folder_or_onto_a_folder_is_trouble(tmp_path: Path) -> None:
    with pytest.raises(FileTrouble, match="cannot be written"):
        write_text("a", tmp_path / "none" / "g.yaml", overwrite=True)
    with pytest.raises(FileTrouble, match="this is a folder"):
        write_text("a", tmp_path, overwrite=True)
