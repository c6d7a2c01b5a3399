"""Wishes: one amount each, in one unit; what came later is not written while it holds its default."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from rotasolve.domain.household import Eats, Household, MustHave, Target


def target(**more: Any) -> Target:
    return Target.model_validate({"crop": "kale", **more})


@pytest.mark.parametrize(
    ("fields", "unit", "amount", "kept"),
    [
        ({"kg": 3}, "kg", 3, 0),
        ({"kg": 3, "keep": 0.4}, "kg", 3, 0.4),
        ({"plants": 12}, "plants", 12, 0),
        ({"meals": 40}, "meals", 40, 0),
        ({"litres_of_jars": 5}, "litres of jars", 5, 1),
        ({"litres_of_jars": 5, "keep": 0.5}, "litres of jars", 5, 0.5),
    ],
)
def test_a_target_is_counted_in_one_unit(fields: dict[str, Any], unit: str, amount: float, kept: float) -> None:
    found = target(**fields)
    assert (found.counted_in, found.amount, found.kept_share) == (unit, amount, kept)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "says no amount; give kg, plants, meals, litres_of_jars or kg_a_week"),
        ({"kg": 3, "meals": 4}, "says its amount twice, as kg and meals; keep one of them"),
        ({"kg": 0}, "greater than 0"),
        ({"kg": 1, "keep": 1.1}, "less than or equal to 1"),
        ({"meals": 4, "fresh_from": "May"}, "give both fresh_from and fresh_to, or neither"),
    ],
)
def test_a_target_with_no_or_two_amounts_is_refused(fields: dict[str, Any], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        target(**fields)


def test_a_must_have_counts_plants_or_kilograms() -> None:
    assert MustHave(crop="kale", kg=2).plants == 0
    for both in ({}, {"plants": 2, "kg": 2}):
        with pytest.raises(ValidationError, match="give either plants or kg"):
            MustHave.model_validate({"crop": "kale", **both})


def test_who_eats_counts_by_the_head() -> None:
    with pytest.raises(ValidationError, match="add people"):
        Household.model_validate({"eats": [{"crop": "kale"}]})


def test_liking_is_a_word_or_a_factor() -> None:
    assert [Eats(crop="kale", how_much=word).factor for word in ("little", "usual", "much", 2.5)] == [0.5, 1, 1.5, 2.5]


def test_old_wishes_are_written_as_before() -> None:
    # The scenario's hash, and so every old plan's tie to it, hangs on this.
    household = Household.model_validate(
        {"people": 2, "targets": [{"crop": "kale", "kg": 3}], "must_have": [{"crop": "kale", "plants": 2}]}
    )
    assert household.model_dump(mode="json") == {
        "people": 2,
        "targets": [{"crop": "kale", "kg": 3.0, "fresh_from": None, "fresh_to": None, "weight": 2}],
        "must_have": [{"crop": "kale", "plants": 2, "year": None, "bed": None}],
    }


def test_new_wishes_are_read_as_they_are_written() -> None:
    household = Household.model_validate(
        {
            "people": 2,
            "targets": [{"crop": "kale", "meals": 30, "keep": 0.2}],
            "must_have": [{"crop": "kale", "kg": 2}],
            "eats": [{"crop": "pea", "how_much": 0.7, "keep": "published"}],
            "count_in": "meals",
            "meet_targets_at": "low yield",
            "surplus": "welcome",
        }
    )
    assert Household.model_validate(household.model_dump(mode="json")) == household
