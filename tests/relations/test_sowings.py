"""Sowings: what the windows allow, what is offered of it, and in which garden year it counts."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.crop import Crop
from rotasolve.domain.scenario import PinnedPlanting, Scenario
from rotasolve.domain.seasons import first_day, garden_year
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.sowings import STARTS_OFFERED, Sowing, offered, picking_parts, pinned_sowing, sowings_of
from tests.helpers.tiny import CATALOGUE, CLOVER, GARLIC, LETTUCE, POTATO, TOMATO, crop, scenario, start

OPEN = CATALOGUE.cover("open ground")
BEET = crop("beet", "goosefoots", starts=[start(-2, 60, 16)])


def fresh(sowing: Sowing, months: frozenset[int]) -> set[int]:
    return {period for period in sowing.picked if first_day(period).month in months}


def test_one_sowing_in_each_half_month_of_the_window() -> None:
    # 17 April to 21 August: the 17th, then the 1st and 16th of each month to 16 August: 1 + 8 = 9.
    found = sowings_of(BEET, OPEN, scenario(["beet"]))
    assert [f"{sowing.start:%m-%d}" for sowing in found] == [
        *("04-17", "05-01", "05-16", "06-01", "06-16", "07-01", "07-16", "08-01", "08-16"),
    ]


def test_a_winter_crop_counts_in_the_year_of_its_harvest() -> None:
    (garlic,) = sowings_of(GARLIC, OPEN, scenario(years=2))
    assert (garlic.start, garlic.crop_year, garlic.begins, garlic.ends) == (date(2027, 10, 15), 2028, 2027, 2028)


def test_a_green_manure_counts_in_the_year_of_its_start() -> None:
    (clover,) = sowings_of(CLOVER, OPEN, scenario())
    assert (clover.crop_year, len(clover.picked)) == (2027, 0)


@pytest.mark.parametrize("latitude", [50, -50])
def test_every_sowing_lies_in_the_plan(latitude: float) -> None:
    wish = scenario(years=2, latitude=latitude)
    for record in CATALOGUE.crops:
        for sowing in sowings_of(record, OPEN, wish):
            assert sowing.crop_year in wish.planned_years
            assert sowing.begins == garden_year(sowing.start, wish.site.south)
            assert sowing.ends == garden_year(sowing.course.clear, wish.site.south)
            assert sowing.periods[0] <= min([*sowing.picked, sowing.periods[-1]])
            assert sowing.periods[-1] >= max([*sowing.picked, sowing.periods[0]])


@pytest.mark.parametrize(
    ("record", "parts"),
    [
        (LETTUCE, (100,)),  # two weeks of picking
        (TOMATO, (100, 50)),  # eight weeks: half of it may do
        (POTATO.model_copy(update={"harvest_weeks": TOMATO.harvest_weeks}), (100, 25)),  # two of eight weeks
        (POTATO, (100,)),
        (CLOVER.model_copy(update={"harvest_weeks": TOMATO.harvest_weeks}), (100,)),
    ],
)
def test_parts_of_the_picking_season(record: Crop, parts: tuple[int, ...]) -> None:
    assert picking_parts(record) == parts


def shipped_sowings(months: frozenset[int]) -> list[tuple[str, list[Sowing], list[Sowing]]]:
    catalogue = load_catalogue()
    wish = scenario(years=2)
    found = []
    for record in catalogue.crops:
        every = sowings_of(record, catalogue.cover("open ground"), wish)
        found.append((record.name, every, offered(every, months)))
    return found


@pytest.mark.parametrize("months", [frozenset(), frozenset({7, 8, 9}), frozenset({12, 1})])
def test_what_is_offered_is_a_choice_of_what_is_open(months: frozenset[int]) -> None:
    dropped = 0
    for name, every, kept in shipped_sowings(months):
        assert set(kept) <= set(every)
        assert len(kept) == len(set(kept))
        assert bool(kept) == bool(every), name
        dropped += len(every) - len(kept)
    assert dropped > 0


def test_with_fresh_months_what_is_dropped_is_beaten_or_never_fresh() -> None:
    months = frozenset({7, 8, 9})
    rich_crops = 0
    for name, every, kept in shipped_sowings(months):
        if not any(fresh(sowing, months) for sowing in every):
            continue
        rich_crops += 1
        for lost in set(every) - set(kept):
            beaten = any(
                other.crop_year == lost.crop_year
                and set(other.periods) <= set(lost.periods)
                and other.course.share_percent >= lost.course.share_percent
                and fresh(other, months) >= fresh(lost, months)
                for other in kept
            )
            assert beaten or not fresh(lost, months), f"{name}: {lost.name}"
        covered = set().union(*(fresh(sowing, months) for sowing in kept))
        assert covered == set().union(*(fresh(sowing, months) for sowing in every))
    assert rich_crops > 5


def test_without_fresh_months_the_starts_are_spread() -> None:
    every = sowings_of(BEET, OPEN, scenario(["beet"]))
    kept = offered(every, frozenset())
    assert len(kept) == STARTS_OFFERED < len(every)
    assert (kept[0], kept[-1]) == (every[0], every[-1])


def pinned(record: Crop, day: str, wish: Scenario | None = None) -> Sowing:
    pin = PinnedPlanting.model_validate({"bed": "bed", "crop": record.name, "start": day})
    return pinned_sowing(pin, record, OPEN, wish or scenario())


def test_a_pin_takes_the_way_whose_window_is_nearest() -> None:
    both = crop("beet", "goosefoots", starts=[start(-4, 60, 0), start(4, 40, 8, way="set out")])
    # Sown 3 April to 1 May, set out 29 May to 26 June: 14 May lies 13 days after the one, 15 before the other.
    assert pinned(both, "2027-05-14").way == "sown in place"
    assert pinned(both, "2027-05-16").way == "set out"
    assert pinned(both, "2027-06-10").course.first_harvest == date(2027, 7, 20)


def test_a_pinned_sowing_is_offered_beside_the_others() -> None:
    pin = {"bed": "bed", "crop": "lettuce", "start": "2027-06-20"}
    garden = make_garden(scenario(pinned=[pin]), CATALOGUE)
    starts = {(choice.sowing.start, choice.sowing.pinned) for choice in garden.choices}
    assert starts == {(date(2027, 5, 8), False), (date(2027, 6, 20), True)}
