"""Numbers, dates, counts and names in words."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.plan import Harvest
from rotasolve.views.words.layout import Column, columns_of, cut, table, wrap
from rotasolve.views.words.look import Look
from rotasolve.views.words.standing import say_progress
from rotasolve.views.words.wording import (
    TIED,
    clean,
    say_count,
    say_date,
    say_kg,
    say_kg_range,
    say_length,
    say_number,
    say_runs,
    say_share,
    sentence,
)


@pytest.mark.parametrize(("number", "said"), [(0, "0 plants"), (1, "1 plant"), (2, "2 plants"), (1204, "1,204 plants")])
def test_counts(number: int, said: str) -> None:
    assert say_count(number, "plant") == said


@pytest.mark.parametrize(("value", "said"), [(0.0, "0"), (3.0, "3"), (10.0, "10"), (2.54, "2.5"), (1200.0, "1,200")])
def test_numbers(value: float, said: str) -> None:
    assert say_number(value) == said


@pytest.mark.parametrize(("kg", "said"), [(0.0, "0 kg"), (0.254, "0.25 kg"), (3.44, "3.4 kg"), (25.4, "25 kg")])
def test_kilograms(kg: float, said: str) -> None:
    assert say_kg(kg).replace(TIED, " ") == said


def test_range_of_equal_ends_is_said_once() -> None:
    assert say_kg_range(Harvest(low_kg=2, typical_kg=2, high_kg=2)).replace(TIED, " ") == "2 kg"


@pytest.mark.parametrize(
    ("share", "said"), [(0.0, "0 %"), (0.0001, "less than 0.1 %"), (0.0312, "3.1 %"), (1.0, "100 %")]
)
def test_shares(share: float, said: str) -> None:
    assert say_share(share).replace(TIED, " ") == said


@pytest.mark.parametrize(
    ("cm", "metric", "inches"),
    [(30, "30 cm", "11.8 in"), (120, "1.2 m", "3 ft 11.2 in"), (121.92, "1.22 m", "4 ft"), (2.54, "2.5 cm", "1 in")],
)
def test_lengths(cm: float, metric: str, inches: str) -> None:
    assert say_length(cm, Look()).replace(TIED, " ") == metric
    assert say_length(cm, Look(inches=True)).replace(TIED, " ") == inches


def test_dates_name_another_year() -> None:
    assert say_date(date(2027, 5, 12), 2027, south=False) == f"12{TIED}May"
    assert say_date(date(2028, 5, 12), 2027, south=False) == f"12{TIED}May 2028"
    # May 2028 still belongs to the southern garden year 2027/28.
    assert say_date(date(2028, 5, 12), 2027, south=True) == f"12{TIED}May"


def test_runs() -> None:
    assert say_runs((5, 1, 2, 3), Look(plain=True)) == "1-3, 5"


@pytest.mark.parametrize("text", ["a\x1b[31mb", "a\x07b", "a\u202eb", "a\ud800b", "a\u200bb"])
def test_control_signs_are_harmless(text: str) -> None:
    assert not any(sign in clean(text) for sign in "\x1b\x07\u202e\ud800\u200b")


def test_sentences() -> None:
    assert sentence("keep it dry") == "Keep it dry."
    assert sentence("Keep it dry!") == "Keep it dry!"
    assert sentence("") == ""


def test_long_words_are_broken_and_wide_letters_counted() -> None:
    assert wrap("abcdefgh ij", 5) == ["abcde", "fgh", "ij"]
    assert columns_of("白菜") == 4
    assert cut("白菜", 3) == "白"


def test_narrow_tables_become_blocks_and_empty_columns_vanish() -> None:
    columns = (Column("Crop"), Column("Sow indoors"), Column("Plants", number=True))
    assert table(columns, [("kale", "", "3")], Look(40)) == ["kale", "  plants: 3"]
    assert table(columns, [("kale", "", "3")], Look(80, plain=True))[0] == "Crop  Plants"
    assert table(columns, [], Look()) == []


def test_table_cells_are_no_markup() -> None:
    assert "[bold]x[/bold]" in table((Column("Bed"),), [("[bold]x[/bold]",)], Look())[-1]


@pytest.mark.parametrize("width", [200, 79, 50, 20, 5])
def test_progress_fits_its_line(width: int) -> None:
    assert len(say_progress(11, 12040, 1100, 96000, 0.012, 5.4, width)) <= width
    assert len(say_progress(0, None, 1100, 96000, 1.0, 5.4, width)) <= width


def test_progress_in_full() -> None:
    assert say_progress(11, 1204, 1100, 9600, 0.0122, 5.2) == (
        # 104 of 1,204 points are 8.6 %.
        "plan 11: loses 1,204 of 9,600 points, 1,100 of them in any plan (8.6 % of the loss may be avoidable), 5 s"
    )
