"""Lines of a diary: what they tell, the faults of those that tell nothing, and that what is written is read back."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given

from rotasolve.domain.diary import KINDS, Happening
from rotasolve.errors import InputFault
from rotasolve.files.diary_lines import LineFault, read_line
from rotasolve.files.diary_names import DiaryNames
from rotasolve.files.diary_said import read_said
from rotasolve.files.diary_text import write_line
from tests.helpers.diaries import NAMES, TINY, happenings, read_lines
from tests.helpers.tiny import CATALOGUE, bed, scenario

PLAIN = DiaryNames(TINY, CATALOGUE)
DAY = date(2027, 5, 12)


@given(happenings())
def test_what_is_written_is_read_back(told: Happening) -> None:
    line = write_line(told)
    assert "\n" not in line
    assert read_line(line, 0, NAMES) == told
    assert write_line(read_line(line, 0, NAMES)) == line


@pytest.mark.parametrize(
    ("said", "line"),
    [
        ("picked 1.2 kg tomato gate bed", "2027-05-12 picked 1.2 kg tomato, gate bed"),
        ("picked 1,5kg Tomato from the gate bed", "2027-05-12 picked 1.5 kg tomato, gate bed"),
        # The pound is 0.45359237 kg, the ounce a sixteenth of it (1959 agreement): 28.35 g.
        ("harvested 2 lb tomato", "2027-05-12 picked 0.9072 kg tomato"),
        ("picked 1 oz lettuce", "2027-05-12 picked 0.0283 kg lettuce"),
        ("picked 300 g lettuce, left, strip 2: small", "2027-05-12 picked 0.3 kg lettuce, left, strip 2: small"),
        ("picked 3 kale left", "2027-05-12 picked 3 kale, left"),
        ("yesterday sown bean in left, strips 1 and 2", "2027-05-11 sown bean, left, strips 1-2"),
        ("12 April failed 12 plants of leek, gate bed: slugs", "2027-04-12 failed 12 leek, gate bed: slugs"),
        # 13 May 2027 has not come yet: the last such day is meant.
        ("13 May set out tomato, gate bed", "2026-05-13 set out tomato, gate bed"),
        ("2026-09-01 cleared potato gate bed strips 1-2, 4", "2026-09-01 cleared potato, gate bed, strips 1-2, 4"),
        ("on 3 March 2027, manured left", "2027-03-03 manured left"),
        ("seen club root on kale, left", "2027-05-12 disease seen club root on kale, left"),
        ("disease seen club root left", "2027-05-12 disease seen club root, left"),
        ("pest seen small slugs gate bed", "2027-05-12 pest seen small slugs, gate bed"),
        ("closed left until 2030: white rot", "2027-05-12 bed closed left, until 2030-12-31: white rot"),
        ("frost -2", "2027-05-12 frost -2 C"),
        # 28 F is (28 - 32) / 1.8 = -2.2 C.
        ("frost 28 F in left", "2027-05-12 frost -2.2 C, left"),
        ("noted the robins are back", "2027-05-12 noted: the robins are back"),
        ("noted lettuce, left: bolts", "2027-05-12 noted lettuce, left: bolts"),
        ("noted at 10:30: rain", "2027-05-12 noted: at 10:30: rain"),
    ],
)
def test_what_growers_say(said: str, line: str) -> None:
    told = read_said(said, DAY, PLAIN)
    assert write_line(told) == line
    assert read_line(line, 0, PLAIN) == told


def test_the_only_bed_need_not_be_named() -> None:
    names = DiaryNames(scenario(beds=(bed("frame"),)), CATALOGUE)
    assert read_said("sown kale", DAY, names).bed == "frame"
    # A weight without a bed may come from anywhere.
    assert read_said("picked 1 kg kale", DAY, names).bed is None


def test_a_day_told_beside_the_words_counts() -> None:
    assert read_said("sown kale left", DAY, PLAIN, date(2027, 4, 1)).day == date(2027, 4, 1)


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("picked 1 kg kale, left", "1: a line must begin with a day - write it as 2027-05-12"),
        ("  2027-13-12 frost", "3: '2027-13-12' is not a date - write it as 2027-05-12"),
        ("2027-05-12 piked 1 kg kale", "12: 'piked' is nothing that a diary tells - did you mean 'picked'?"),
        ("2027-05-12 picked 1 kg cale, left", "24: the crop 'cale' is not known - did you mean 'kale'?"),
        ("2027-05-12 sown kale lefft", "22: there is no bed 'lefft' - did you mean 'left'?"),
        ("2027-05-12 sown kale", "21: the line does not say in which bed - the beds are: gate bed, left"),
        ("2027-05-12 sown", "16: the line does not say which crop - write its name"),
        ("2027-05-12 pest seen", "21: the line does not say which pest - write its name"),
        ("2027-05-12 sown kale, left, strips 2-3", "36: 'left' has the strips 1 to 2, not 2-3 - strip 1 lies on the"),
        ("2027-05-12 sown kale, left, strip", "29: 'strip' is not followed by a number - write it as strips 1-3, 5"),
        ("2027-05-12 picked kale, strip 1", "25: strips are told without their bed - write the bed before them"),
        ("2027-05-12 sown 3 kg kale, left", "17: 'sown' is told in plants - not as '3 kg'; take it out, or put it"),
        ("2027-05-12 manured 3 kg left", "20: 'manured' is told without an amount - not as '3 kg'; take it out, or"),
        ("2027-05-12 picked 1,200 g kale", "19: 1,200 could be thousands or a part of one - write it without the"),
        ("2027-05-12 picked 1.5 kale", "19: 1.5 is no number of plants - write kg or g behind a weight"),
        ("2027-05-12 frost -80 C", "18: -80 degrees C cannot be - from -60 to 60 degrees C are read here"),
        ("2027-05-12 disease seen clubrot, left", "25: 'clubrot' is not a disease for which rest is published here"),
        ("2027-05-12 bed closed left until soon", "28: 'soon' is not a date - write a day as 2027-05-12, or a year"),
        ("2027-05-12 cleared kale left soon", "30: 'soon' is not understood here - take it out, or put a colon"),
        ('2027-05-12 sown kale, "left', "23: a quotation mark is not closed - write the name as"),
    ],
)
def test_faults_with_their_column(line: str, fault: str) -> None:
    with pytest.raises(LineFault) as found:
        read_line(line, 0, PLAIN)
    assert f"{found.value.column}: {found.value.what} - {found.value.mend}".startswith(fault)
    # The same line among others: file, line and column, and the others are read.
    file = read_lines("2027-05-01 frost", line, "2027-06-01 frost")
    assert str(file.faults[0]).startswith(f"d.txt:2:{fault}")
    assert [one.day.month for one in file.diary.happenings] == [5, 6]


def test_what_was_said_is_shown_with_its_fault() -> None:
    with pytest.raises(InputFault) as refusal:
        read_said("sown  cale left", DAY, PLAIN)
    assert str(refusal.value) == "what was said:1:6: the crop 'cale' is not known - did you mean 'kale'?"


def test_every_kind_is_known_by_its_words() -> None:
    words = [word for kind, telling in KINDS.items() for word in (kind, *telling.also)]
    assert len(words) == len(set(words))
    for kind, telling in KINDS.items():
        for word in (kind, *telling.also):
            trouble = "club root" if telling.trouble else ""
            crop = "kale" if telling.crop == "needed" else ""
            assert read_line(f"2027-05-12 {word.upper()} {trouble} {crop}, left", 0, PLAIN).kind == kind
