"""What every rule file must be: named after its key, documented in four parts, listed once, said, and tested."""

from __future__ import annotations

from pathlib import Path

import pytest

import rotasolve.rules
import rotasolve.views.words.rules
from rotasolve.domain.claim import Claim, Facts
from rotasolve.relations.ground.garden import make_garden
from rotasolve.rule import Rule
from rotasolve.rules import RULES, rule_by_key
from rotasolve.solver.arrange import inside_board
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from tests.helpers.every import assert_manual_page, assert_tested, kinds_of_facts, stems_of, texts_put_together
from tests.helpers.tiny import CATALOGUE, scenario

STEMS = stems_of(rotasolve.rules)


@pytest.mark.parametrize("stem", STEMS)
def test_a_rule_file_is_listed_once_under_its_name(stem: str) -> None:
    module = f"rotasolve.rules.{stem}"
    ours = [rule for rule in RULES if type(rule).__module__ == module]
    assert [rule.key for rule in ours] == [stem.replace("_", "-")]


def test_every_listed_rule_has_a_file() -> None:
    assert sorted(rule.key for rule in RULES) == [stem.replace("_", "-") for stem in STEMS]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_a_rule_is_found_by_its_key(rule: Rule) -> None:
    assert rule_by_key(rule.key) is rule


def test_an_unknown_key_is_refused() -> None:
    with pytest.raises(KeyError, match="no-such-rule"):
        rule_by_key("no-such-rule")


@pytest.mark.parametrize("stem", STEMS)
def test_the_docstring_is_a_manual_page_of_four_parts(stem: str) -> None:
    assert_manual_page(f"rotasolve.rules.{stem}", ["What it asks", "Why", "Breaks it", "Loosen it"])


@pytest.mark.parametrize("stem", STEMS)
def test_a_rule_has_a_test_file(stem: str) -> None:
    assert_tested(Path(__file__).parent, stem)


@pytest.mark.parametrize("stem", STEMS)
def test_a_rule_has_one_kind_of_claim_that_bears_its_key(stem: str) -> None:
    (claim,) = [kind for kind in kinds_of_facts(f"rotasolve.rules.{stem}") if issubclass(kind, Claim)]
    assert claim.rule == stem.replace("_", "-")


@pytest.mark.parametrize("stem", STEMS)
def test_the_words_file_of_a_rule_says_all_its_facts(stem: str) -> None:
    words = f"rotasolve.views.words.rules.{stem}"
    assert {say.dispatch(kind).__module__ for kind in kinds_of_facts(f"rotasolve.rules.{stem}")} == {words}


def test_there_are_no_words_for_a_rule_that_is_not() -> None:
    assert stems_of(rotasolve.views.words.rules) == STEMS


def test_facts_without_words_are_refused() -> None:
    with pytest.raises(TypeError, match="no words are known for Facts"):
        say(Facts(), Look())


@pytest.mark.parametrize("stem", STEMS)
def test_a_rule_makes_no_sentences(stem: str) -> None:
    """No text with blanks is put together in a rule but the name of a variable: words belong into its words file."""
    assert texts_put_together(f"rotasolve.rules.{stem}") == []


def test_the_rules_that_hold_inside_a_bed_are_posted_when_it_is_laid_out(monkeypatch: pytest.MonkeyPatch) -> None:
    posted = []
    for rule in RULES:
        monkeypatch.setattr(type(rule), "post", lambda self, garden, board: posted.append(self.key))
    inside_board(make_garden(scenario(["kale"]), CATALOGUE))
    assert posted == [rule.key for rule in RULES if rule.holds_inside_a_bed]
    # Worked out by hand: crops and dates are fixed by then, so what is left is who stands on which strip.
    assert set(posted) == {
        "family-once",
        "free-ground",
        "green-manure-wait",
        "pole-side",
        "least-sun",
        "as-pinned",
        "repeatable",
    }
