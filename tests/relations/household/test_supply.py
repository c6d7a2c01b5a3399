"""Supply over the year: by hand, and conservation to the gram for random harvests and whole gardens."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.household import Target
from rotasolve.domain.plan import Harvest
from rotasolve.domain.seasons import first_day, period_of
from rotasolve.domain.supply import HalfMonthSupply
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.household.supply import (
    balance,
    harvest_by_half_month,
    in_parts,
    keeping,
    spells_of,
    supply_of,
    wanted_by_half_month,
)
from tests.helpers.agree import plan_of, taken_of
from tests.helpers.strategies import gardens_with_plans
from tests.helpers.tiny import CATALOGUE, catalogue, crop, figure, planting, scenario

JULY = period_of(date(2027, 7, 1))
GRAMS = st.dictionaries(st.integers(0, 30), st.integers(0, 5000), max_size=20)


def conserved(half_months: tuple[HalfMonthSupply, ...]) -> None:
    """Every gram harvested is eaten fresh, kept or surplus; every gram kept is eaten, spoilt or in store."""
    for half in half_months:
        assert half.harvested_g == half.eaten_fresh_g + half.kept_g + half.surplus_g
        assert half.short_g == half.wanted_g - half.eaten_fresh_g - half.eaten_kept_g >= 0
        assert min(half.model_dump().values()) >= 0
    in_store = 0
    for half in half_months:
        in_store += half.kept_g - half.eaten_kept_g - half.spoilt_g
        assert half.in_store_g == in_store
    kept = sum(half.kept_g for half in half_months)
    assert kept == sum(half.eaten_kept_g + half.spoilt_g for half in half_months) + (
        half_months[-1].in_store_g if half_months else 0
    )


@given(harvest=GRAMS, wanted=GRAMS, keeps=st.integers(0, 12))
def test_harvested_is_eaten_kept_or_surplus(harvest: dict[int, int], wanted: dict[int, int], keeps: int) -> None:
    half_months = balance(harvest, wanted, keeps, 0, 30)
    conserved(half_months)
    assert sum(half.harvested_g for half in half_months) == sum(harvest.values())
    assert sum(half.wanted_g for half in half_months) == sum(wanted.values())


@given(drawn=gardens_with_plans(), level=st.sampled_from(["low", "typical", "high"]))
def test_a_plan_supplies_what_it_harvests(drawn: tuple[Garden, frozenset[int]], level: str) -> None:
    garden, chosen = drawn
    plan = plan_of(garden, taken_of(garden, chosen))
    supplies = supply_of(garden, plan.plantings, level)  # type: ignore[arg-type]
    for supply in supplies:
        conserved(supply.half_months)
    harvested = sum(supply.total("harvested_g") for supply in supplies)
    assert harvested == sum(round(getattr(p.harvest, f"{level}_kg") * 1000) for p in plan.plantings if p.first_harvest)
    eaten = sum(supply.total("eaten_fresh_g") + supply.total("eaten_kept_g") for supply in supplies)
    gone = sum(supply.total("surplus_g") + supply.total("spoilt_g") + supply.left_g for supply in supplies)
    assert harvested == eaten + gone


@given(drawn=gardens_with_plans())
def test_wishes_add_up_to_the_targets(drawn: tuple[Garden, frozenset[int]]) -> None:
    garden, chosen = drawn
    plan = plan_of(garden, taken_of(garden, chosen))
    targets = {target.crop: target for target in garden.scenario.household.targets}
    for supply in supply_of(garden, plan.plantings):
        target = targets.get(supply.crop)
        yearly = 0 if target is None else round(target.kg * 1000)
        assert supply.total("wanted_g") == yearly * garden.scenario.years


@given(grams=st.integers(0, 10_000), weights=st.dictionaries(st.integers(0, 50), st.integers(1, 31), min_size=1))
def test_parts_add_up(grams: int, weights: dict[int, int]) -> None:
    parts = in_parts(grams, weights)
    assert sum(parts.values()) == grams
    total = sum(weights.values())
    assert all(abs(parts[key] - grams * weight / total) < 1 for key, weight in weights.items())


def test_a_harvest_is_spread_over_its_days() -> None:
    # 10 to 20 July: 6 days in the first half, 5 in the second; 6/11 and 5/11 of 2200 g are 1200 and 1000.
    one = planting("lettuce", (1,), "2027-05-01", "2027-07-31", "2027-07-10")
    harvest = Harvest(low_kg=1.1, typical_kg=2.2, high_kg=3.3)
    one = one.model_copy(update={"last_harvest": date(2027, 7, 20), "harvest": harvest})
    assert harvest_by_half_month(one, "typical") == {JULY: 1200, JULY + 1: 1000}
    assert harvest_by_half_month(one, "low") == {JULY: 600, JULY + 1: 500}
    assert harvest_by_half_month(one.model_copy(update={"first_harvest": None}), "typical") == {}


def test_eat_keep_spoil_by_hand() -> None:
    # 1000 g harvested, 300 wished then and in each of three later half months; it keeps for two.
    # Eaten 300; wished in the next two 600, kept 600; 100 surplus. Eaten 300 and 300; the third goes short 300.
    halves = balance({0: 1000}, {0: 300, 1: 300, 2: 300, 3: 300}, 2, 0, 3)
    assert [(h.eaten_fresh_g, h.kept_g, h.surplus_g, h.eaten_kept_g, h.spoilt_g, h.short_g) for h in halves] == [
        (300, 600, 100, 0, 0, 0),
        (0, 0, 0, 300, 0, 0),
        (0, 0, 0, 300, 0, 0),
        (0, 0, 0, 0, 0, 300),
    ]
    # A fresh harvest in between is eaten first, so what was kept spoils.
    halves = balance({0: 1000, 1: 300, 2: 300}, {0: 300, 1: 300, 2: 300, 3: 300}, 2, 0, 3)
    assert [half.spoilt_g for half in halves] == [0, 0, 0, 600]


def test_gaps_gluts_and_stores_are_named() -> None:
    halves = balance({0: 1000, 2: 200}, {0: 300, 1: 300, 2: 300, 3: 300}, 1, 0, 3)
    # 0: eaten 300, kept 300, surplus 400, more than the 300 wished. 1: eaten 300. 2: 200 of 300. 3: nothing.
    found = [(s.kind, s.first_period, s.last_period, s.grams, s.runs_out) for s in spells_of(halves, 100)]
    assert found == [("gap", 3, 3, 300, True), ("glut", 0, 0, 400, True), ("in store", 0, 0, 300, True)]
    assert [s.kind for s in spells_of(halves, 350)] == ["glut"]


def _garden(**target: object) -> tuple[Garden, Target]:
    garden = make_garden(scenario(targets=[{"crop": "lettuce", "kg": 2.4, **target}]), CATALOGUE)
    return garden, garden.scenario.household.targets[0]


def test_the_fresh_part_is_wished_in_fresh_months_and_the_kept_one_in_the_others() -> None:
    # 2400 g, a quarter kept: 1800 g in 4 half months of July and August, 600 g in the other 20.
    garden, target = _garden(fresh_from="July", fresh_to="August", keep=0.25)
    wanted = wanted_by_half_month(garden, target)
    by_month = {period: grams for period, grams in wanted.items() if first_day(period).month in (7, 8)}
    assert list(by_month.values()) == [450] * 4
    assert sum(wanted.values()) == 2400
    assert {grams for period, grams in wanted.items() if period not in by_month} == {30}


def test_without_fresh_months_it_is_wished_while_it_is_there() -> None:
    garden, target = _garden()
    # A harvest in the first half of July that keeps for two half months more: 2400 g in three parts.
    wanted = {period: grams for period, grams in wanted_by_half_month(garden, target, [JULY], 2).items() if grams}
    assert wanted == {JULY: 800, JULY + 1: 800, JULY + 2: 800}


def test_what_is_kept_is_wished_as_long_as_it_keeps() -> None:
    # Half of 2400 g is kept: the other half is wished in the half month of the harvest, the kept one in the next two.
    garden, target = _garden(keep=0.5)
    wanted = {period: grams for period, grams in wanted_by_half_month(garden, target, [JULY], 2).items() if grams}
    assert wanted == {JULY: 1200, JULY + 1: 600, JULY + 2: 600}


def test_jars_are_eaten_after_their_harvest() -> None:
    pea = crop(
        "pea",
        "legumes",
        kg_per_litre_of_jars=figure(1, "kg per litre"),
        jar_weeks=figure(52, "weeks"),
    )
    garden = make_garden(scenario(targets=[{"crop": "pea", "litres_of_jars": 2}]), catalogue([pea]))
    one = planting("pea", (1,), "2027-05-01", "2027-07-31", "2027-07-01")
    one = one.model_copy(update={"harvest": Harvest(low_kg=1, typical_kg=2, high_kg=3)})
    (supply,) = supply_of(garden, (one,))
    # Picked in both halves of July; what the first half brings is not yet wished and kept, and all of it is eaten.
    assert supply.total("eaten_kept_g") == supply.total("kept_g") > 0
    assert (supply.total("surplus_g"), supply.total("short_g"), supply.left_g) == (0, 0, 0)


def test_how_a_crop_keeps() -> None:
    pea = crop(
        "pea",
        "legumes",
        storage_weeks=figure(3, "weeks"),
        kg_per_litre_of_jars=figure(1, "kg per litre"),
        jar_weeks=figure(52, "weeks"),
    )
    assert keeping(pea, None) == ("cool", 3)
    assert keeping(pea, Target(crop="pea", litres_of_jars=4)) == ("in jars", 52)
    assert keeping(crop("bean", "legumes"), None) == ("not", 0)
    garden = make_garden(scenario(targets=[{"crop": "pea", "litres_of_jars": 4}]), catalogue([pea]))
    assert supply_of(garden, ())[0].keeps == "in jars"


@pytest.mark.parametrize("latitude", [50, -50])
def test_an_empty_plan_supplies_nothing(latitude: float) -> None:
    garden = make_garden(scenario(targets=[{"crop": "lettuce", "kg": 2}], years=2, latitude=latitude), CATALOGUE)
    (supply,) = supply_of(garden, ())
    assert (supply.total("harvested_g"), supply.total("short_g")) == (0, 4000)
    (gap,) = supply.spells
    assert (gap.kind, gap.first_period, gap.last_period) == ("gap", garden.first_period, garden.last_period)
