"""People, plants, meals and jars as kilograms, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.household import Household, Target
from rotasolve.domain.plan import Harvest
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.wanted import counted_kg, shown_in, wanted_of_household, with_targets
from tests.helpers.tiny import catalogue, crop, figure, scenario

PEA = crop(
    "pea",
    "legumes",
    fresh_per_person=figure(3, "kg per person"),
    stored_per_person=figure(9, "kg per person"),
    kg_per_meal=figure(0.2, "kg per meal"),
    kg_per_litre_of_jars=figure(2, "kg per litre"),
    jar_weeks=figure(52, "weeks"),
)
GARLIC = crop("garlic", "onions", stored_per_person=figure(0.5, "kg per person"))
PLAIN = crop("plain", "daisies")
CROPS = {one.name: one for one in (PEA, GARLIC, PLAIN)}


def wanted(**household: Any) -> tuple[Target, ...]:
    return wanted_of_household(Household.model_validate({"people": 4, **household}), CROPS)


def one(**eats: Any) -> tuple[float, float]:
    """Return (kg, share kept) of the one target that follows from what is eaten."""
    (target,) = wanted(eats=[{"crop": "pea", **eats}])
    return target.kg, target.kept_share


@pytest.mark.parametrize(
    ("eats", "kg", "kept"),
    [
        # 4 people x 3 kg fresh.
        ({}, 12, 0),
        ({"how_much": "much"}, 18, 0),
        ({"how_much": "little"}, 6, 0),
        ({"how_much": 2}, 24, 0),
        # 3 fresh and 9 kept each: 48 kg, 9/12 of it kept.
        ({"keep": "published"}, 48, 0.75),
        # 40 % kept beside 3 kg fresh are 2 of 5 kg each.
        ({"keep": 0.4}, 20, 0.4),
        # All is kept: the published amount for keeping.
        ({"keep": 1}, 36, 1),
        ({"kg_per_person": 5}, 20, 0),
        ({"kg_per_person": 5, "keep": 0.3}, 20, 0.3),
        ({"kg_per_person": 5, "keep": "published"}, 20, 0.75),
        ({"kg_per_person": 5, "keep": 0.3, "how_much": 0.5}, 10, 0.3),
    ],
)
def test_people_become_kilograms(eats: dict[str, Any], kg: float, kept: float) -> None:
    assert one(**eats) == pytest.approx((kg, kept))


def test_a_crop_with_an_amount_for_keeping_alone_is_kept() -> None:
    (target,) = wanted(eats=[{"crop": "garlic"}])
    assert (target.kg, target.kept_share) == (2, 1)


def test_fresh_months_and_weight_go_along() -> None:
    (target,) = wanted(eats=[{"crop": "pea", "fresh_from": "June", "fresh_to": "July", "weight": 5}])
    assert (target.fresh_months, target.weight) == ((6, 7), 5)


def test_an_explicit_target_wins() -> None:
    found = wanted(eats=[{"crop": "pea"}, {"crop": "garlic"}], targets=[{"crop": "pea", "kg": 1}])
    assert [(target.crop, target.kg) for target in found] == [("pea", 1), ("garlic", 2)]


def test_what_no_figure_counts_is_left_out() -> None:
    assert (
        wanted(eats=[{"crop": "plain"}], targets=[{"crop": "plain", "meals": 4}, {"crop": "unknown", "meals": 4}]) == ()
    )


@pytest.mark.parametrize(
    ("amount", "kg", "unit"),
    [
        ({"plants": 7}, 3.5, "plants"),  # 0.5 kg a plant
        ({"meals": 40}, 8, "meals"),
        ({"litres_of_jars": 6}, 12, "litres of jars"),
    ],
)
def test_plants_meals_and_jars_become_kilograms(amount: dict[str, Any], kg: float, unit: str) -> None:
    (target,) = wanted(targets=[{"crop": "pea", **amount}])
    assert target.kg == pytest.approx(kg)
    shown, each = shown_in(target, Household(people=4), PEA)
    assert shown == unit
    assert target.kg / each == pytest.approx(target.amount)


def test_kilograms_are_shown_in_what_the_household_counts_in() -> None:
    (target,) = wanted(targets=[{"crop": "pea", "kg": 4}])
    assert shown_in(target, Household(count_in="meals"), PEA) == ("meals", 0.2)
    assert shown_in(target, Household(), PEA) == ("kg", 1.0)
    assert shown_in(target, Household(count_in="meals"), PLAIN) == ("kg", 1.0)


def test_a_poor_years_kilograms_count_if_so_wished() -> None:
    harvest = Harvest(low_kg=1, typical_kg=2, high_kg=3)
    assert counted_kg(harvest, Household()) == 2
    assert counted_kg(harvest, Household(meet_targets_at="low yield")) == 1


def test_a_scenario_in_kilograms_is_left_as_it_is() -> None:
    plain = scenario(targets=[{"crop": "lettuce", "kg": 3}])
    assert with_targets(plain, catalogue()) is plain


def test_a_garden_plans_what_is_eaten() -> None:
    book = catalogue(CROPS.values())
    garden = make_garden(scenario(household={"people": 2, "eats": [{"crop": "pea"}]}), book)
    assert {choice.sowing.crop for choice in garden.choices} == {"pea"}
    assert [target.kg for target in garden.scenario.household.targets] == [6]
