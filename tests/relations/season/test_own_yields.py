"""Yields of the garden's own: weights and factors by hand, and the same kilograms for model and referee."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.scenario import Weighed
from rotasolve.recount.harvests import harvest_of
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.season.own_yields import OWN_SOURCE, own_yields, with_own_yields
from rotasolve.relations.season.yields import expected_harvest
from tests.helpers.tiny import CATALOGUE, planting, scenario


def weighed(*seasons: tuple[float, float], crop: str = "kale") -> tuple[Weighed, ...]:
    return tuple(
        Weighed(crop=crop, year=2020 + number, kg=kg, published_kg=published)
        for number, (kg, published) in enumerate(seasons)
    )


@pytest.mark.parametrize(
    ("seasons", "share", "weight", "factor"),
    [
        # One season counts 1 / (1 + 2): 1 + (0.7 - 1) / 3 = 0.9.
        ([(7, 10)], 0.7, 1 / 3, 0.9),
        # Two count half: the mean of 0.7 and 0.9 is 0.8, half-way to 1 is 0.9.
        ([(7, 10), (18, 20)], 0.8, 1 / 2, 0.9),
        # A season without a harvest counts as one: the mean of 0, 1.5, 1.5 and 1 is 1, so nothing moves.
        ([(0, 10), (15, 10), (3, 2), (1, 1)], 1.0, 2 / 3, 1.0),
    ],
)
def test_how_far_seasons_count(seasons: list[tuple[float, float]], share: float, weight: float, factor: float) -> None:
    own = own_yields(weighed(*seasons))["kale"]
    assert own.seasons == len(seasons)
    assert (own.share, own.weight, own.factor) == pytest.approx((share, weight, factor))


def test_what_was_weighed_twice_in_a_year_is_one_season() -> None:
    one = Weighed(crop="kale", year=2026, kg=3, published_kg=4)
    own = own_yields([one, one.model_copy(update={"kg": 4.0, "published_kg": 6.0})])["kale"]
    # 3 + 4 kg of 4 + 6 kg.
    assert own.seasons == 1
    assert own.share == pytest.approx(0.7)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0.1, 100)), min_size=1, max_size=8))
def test_the_factor_lies_between_the_published_yield_and_what_was_weighed(seasons: list[tuple[float, float]]) -> None:
    own = own_yields(weighed(*seasons))["kale"]
    assert min(1, own.share) - 1e-9 <= own.factor <= max(1, own.share) + 1e-9
    more = own_yields(weighed(*seasons, *seasons))["kale"]
    assert abs(more.factor - more.share) <= abs(own.factor - own.share) + 1e-9


def test_the_garden_counts_its_own_yields_once_and_the_referee_the_same() -> None:
    told = scenario(["kale"], weighed=weighed((7, 10)))
    garden = make_garden(told, CATALOGUE)
    kale = garden.crops["kale"]
    # 4 plants of 0.5 kg are 2 kg; 0.9 of it is 1.8.
    assert expected_harvest(kale, 4).typical_kg == 1.8
    assert harvest_of(kale, planting("kale", (1,), "2027-07-17", "2027-09-30"), 100).typical_kg == 1.8
    assert kale.yield_per_plant is not None
    assert OWN_SOURCE in kale.yield_per_plant.source
    assert OWN_SOURCE in garden.catalogue.sources
    assert expected_harvest(garden.crops["lettuce"], 4).typical_kg == 2
    again = make_garden(told, garden.catalogue)
    assert again.crops["kale"] == kale
    assert with_own_yields(CATALOGUE, scenario(["kale"])) is CATALOGUE


def test_wishes_in_plants_are_counted_by_own_yields() -> None:
    told = scenario(targets=[{"crop": "kale", "plants": 10}], weighed=weighed((7, 10)))
    # 10 plants of 0.45 kg.
    assert make_garden(told, CATALOGUE).scenario.household.targets[0].kg == 4.5
