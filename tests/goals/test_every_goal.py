"""What every goal file must be: named after its key, documented in three parts, listed once, said, and tested."""

from __future__ import annotations

from pathlib import Path

import pytest

import rotasolve.goals
import rotasolve.views.words.goals
from rotasolve.goals import GOALS
from rotasolve.views.words.saying import say
from tests.helpers.every import assert_manual_page, assert_tested, kinds_of_facts, stems_of, texts_put_together

STEMS = stems_of(rotasolve.goals)


@pytest.mark.parametrize("stem", STEMS)
def test_a_goal_file_is_listed_once_under_its_name(stem: str) -> None:
    ours = [goal for goal in GOALS if type(goal).__module__ == f"rotasolve.goals.{stem}"]
    assert [goal.key for goal in ours] == [stem.replace("_", "-")]


def test_every_listed_goal_has_a_file() -> None:
    assert sorted(goal.key for goal in GOALS) == [stem.replace("_", "-") for stem in STEMS]


@pytest.mark.parametrize("stem", STEMS)
def test_the_docstring_is_a_manual_page_of_three_parts(stem: str) -> None:
    assert_manual_page(f"rotasolve.goals.{stem}", ["What it asks", "Why", "Loosen it"])


@pytest.mark.parametrize("stem", STEMS)
def test_a_goal_has_a_test_file(stem: str) -> None:
    assert_tested(Path(__file__).parent, stem)


@pytest.mark.parametrize("stem", STEMS)
def test_the_words_file_of_a_goal_says_all_its_facts(stem: str) -> None:
    kinds = kinds_of_facts(f"rotasolve.goals.{stem}")
    (goal,) = [goal for goal in GOALS if type(goal).__module__ == f"rotasolve.goals.{stem}"]
    assert goal.reached in kinds
    assert {say.dispatch(kind).__module__ for kind in kinds} == {f"rotasolve.views.words.goals.{stem}"}


def test_there_are_no_words_for_a_goal_that_is_not() -> None:
    assert stems_of(rotasolve.views.words.goals) == STEMS


@pytest.mark.parametrize("stem", STEMS)
def test_a_goal_makes_no_sentences(stem: str) -> None:
    """No text with blanks is put together in a goal but the name of a variable: words belong into its words file."""
    assert texts_put_together(f"rotasolve.goals.{stem}") == []
