"""Two people's diaries merge by day: nothing is lost, and nothing that stands in both is doubled."""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.diary import Happening
from rotasolve.errors import FileTrouble
from rotasolve.files.diary import CUT_OFF, DiaryFile, read_diary, read_diary_text
from rotasolve.files.diary_merge import merged
from rotasolve.files.diary_text import write_line
from tests.helpers.diaries import GARDEN, NAMED, TINY, read_lines
from tests.helpers.tiny import CATALOGUE

FEW = ["2027-05-12 frost", "2027-05-12 picked 1 kg kale", "2027-05-13 noted: rain", "2026-01-01 manured left"]
ODD = ["# a remark", "2027-05-12 nonsense", "2027-05-14  frost", "on holiday"]
diaries = st.lists(st.sampled_from(FEW + ODD), max_size=6)


def lines_of(text: str) -> Counter[str]:
    return Counter(" ".join(line.split()) for line in text.splitlines())


def again(text: str) -> DiaryFile:
    return read_lines(*text.splitlines())


@given(diaries, diaries)
def test_as_often_as_the_diary_that_tells_it_more_often(mine: list[str], others: list[str]) -> None:
    found = merged(read_lines(*mine), read_lines(*others))
    one, other = (Counter(" ".join(line.split()) for line in lines) for lines in (mine, others))
    assert lines_of(found.text) == one | other  # of counters: the larger count of each
    told = again(found.text).diary.happenings
    days = [line[:10] for line in found.text.splitlines() if line[:2] == "20" and "nonsense" not in line]
    assert days == sorted(days)
    assert len(told) == found.only_first + found.only_second + len(found.in_both)


@given(diaries, diaries, diaries)
def test_the_order_of_merging_changes_no_line(one: list[str], two: list[str], three: list[str]) -> None:
    a, b, c = read_lines(*one), read_lines(*two), read_lines(*three)
    assert lines_of(merged(a, b).text) == lines_of(merged(b, a).text)
    left, right = merged(again(merged(a, b).text), c), merged(a, again(merged(b, c).text))
    assert lines_of(left.text) == lines_of(right.text)
    assert merged(again(left.text), again(left.text)).text == left.text


def test_words_for_the_same_are_the_same() -> None:
    found = merged(
        read_lines("2027-05-12 picked 500 g kale left"), read_lines("12 May 2027 harvested 0.5kg kale, left")
    )
    assert found.text == "2027-05-12 picked 500 g kale left\n"
    assert [write_line(one) for one in found.in_both] == ["2027-05-12 picked 0.5 kg kale, left"]


def test_a_line_without_its_end_is_marked_and_letters_are_not_lost(tmp_path: Path) -> None:
    torn = read_diary_text(["2027-05-12 frost", "2027-05-13 picked 1 kg ka"], "t.txt", TINY, CATALOGUE)
    found = merged(torn, read_lines("2027-05-12 noted: rain"))
    assert found.text == f"2027-05-12 frost\n2027-05-13 picked 1 kg ka{CUT_OFF}\n2027-05-12 noted: rain\n"
    odd = tmp_path / "odd.txt"
    odd.write_bytes(b"2027-05-12 noted: caf\xe9\n")
    with pytest.raises(FileTrouble, match=r"odd\.txt: not all letters are written in UTF-8"):
        merged(torn, read_diary(odd, TINY, CATALOGUE))


def test_names_that_are_hard_to_write_down_merge() -> None:
    told = [Happening(date(2027, 5, 12), "picked", "red kale", bed.name, kg=1.0) for bed in GARDEN.beds]
    lines = [write_line(one) for one in told]
    one = read_diary_text([*lines[:9], ""], "a", GARDEN, NAMED)
    other = read_diary_text([*lines[5:], ""], "b", GARDEN, NAMED)
    found = merged(one, other)
    assert sorted(found.text.split("\n")[:-1]) == sorted(lines)
    assert (found.only_first, found.only_second, len(found.in_both)) == (5, len(lines) - 9, 4)
