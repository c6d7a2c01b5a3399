"""Must have, by hand: plants counted in the garden year of their first harvest, on both sides of the number."""

from __future__ import annotations

import pytest

from rotasolve.domain.household import MustHave
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules.must_have import must_claim
from tests.helpers.agree import accepted, found_by, number_of, posted
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, crop, planting, scenario
from tests.helpers.words import said

KEY = "must-have"


def garden_of(*must: dict[str, object], **more: object) -> Garden:
    return make_garden(scenario(must=must, **more), CATALOGUE)  # type: ignore[arg-type]


@pytest.mark.parametrize(("plants", "strips", "enough"), [(4, 1, True), (5, 1, False), (8, 2, True), (9, 2, False)])
def test_a_strip_brings_four_plants(plants: int, strips: int, enough: bool) -> None:
    garden = garden_of({"crop": "lettuce", "plants": plants})
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, strips + 1)]
    assert accepted(garden, chosen) is enough


def test_every_year_is_meant_if_none_is_named() -> None:
    garden = garden_of({"crop": "lettuce", "plants": 4}, years=2, rules={"family_gap": 0})
    first, second = (number_of(garden, "lettuce", year) for year in (2027, 2028))
    assert accepted(garden, [first, second])
    assert not accepted(garden, [first])
    assert not accepted(garden, [second])


def test_only_the_named_year_is_meant() -> None:
    garden = garden_of({"crop": "lettuce", "plants": 4, "year": 2028}, years=2)
    assert accepted(garden, [number_of(garden, "lettuce", 2028)])
    assert not accepted(garden, [number_of(garden, "lettuce", 2027)])


def test_only_the_named_bed_is_meant() -> None:
    garden = garden_of({"crop": "lettuce", "plants": 4, "bed": "other"}, beds=[bed(), bed("other")])
    assert accepted(garden, [number_of(garden, "lettuce", 2027, bed="other")])
    assert not accepted(garden, [number_of(garden, "lettuce", 2027)])


def test_beds_are_added_up_if_none_is_named() -> None:
    # 8 = 4 in one bed + 4 in the other.
    garden = garden_of({"crop": "lettuce", "plants": 8}, beds=[bed(), bed("other")])
    one, other = number_of(garden, "lettuce", 2027), number_of(garden, "lettuce", 2027, bed="other")
    assert accepted(garden, [one, other])
    assert not accepted(garden, [other])


def test_the_year_of_the_harvest_counts() -> None:
    # Garlic set in October 2027 is harvested in 2028: nothing can be had in 2027.
    garden = garden_of({"crop": "garlic", "plants": 4, "year": 2028}, years=2)
    assert accepted(garden, [number_of(garden, "garlic", 2028)])
    garden = garden_of({"crop": "garlic", "plants": 4, "year": 2027}, years=2)
    assert not accepted(garden, [number_of(garden, "garlic", 2028)])


def test_a_green_manure_counts_in_the_year_of_its_start() -> None:
    garden = garden_of({"crop": "clover", "plants": 4}, latitude=-50)
    assert accepted(garden, [number_of(garden, "clover", 2027)])


@pytest.mark.parametrize(
    ("must", "south", "told"),
    [
        ({"crop": "kale", "plants": 6}, False, "you want at least 6 plants of kale in 2027"),
        ({"crop": "kale", "plants": 6, "bed": "frame"}, False, "you want at least 6 plants of kale in frame in 2027"),
        ({"crop": "kale", "plants": 6}, True, "you want at least 6 plants of kale in 2027/28"),
    ],
)
def test_says_what_it_asks(must: dict[str, object], south: bool, told: str) -> None:
    assert said(must_claim(MustHave.model_validate(must), 2027, south)) == told


def test_says_what_it_found() -> None:
    garden = garden_of({"crop": "lettuce", "plants": 5})
    lettuce = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (lettuce,))) == [
        "you want at least 5 plants of lettuce in 2027, but only 4 of 5 plants"
    ]


def test_a_wish_written_twice_is_one_claim() -> None:
    wish = {"crop": "lettuce", "plants": 4}
    garden = garden_of(wish, wish)
    assert len(posted(garden, KEY)) == 1
    assert len(found_by(garden, KEY, blank_plan(garden.scenario))) == 1


@pytest.mark.parametrize(("kg", "strips", "enough"), [(2, 1, True), (2.1, 1, False), (4, 2, True), (4.001, 2, False)])
def test_a_strip_brings_two_kilograms(kg: float, strips: int, enough: bool) -> None:
    # Four plants of 0.5 kg.
    garden = garden_of({"crop": "lettuce", "kg": kg})
    chosen = [number_of(garden, "lettuce", 2027, strip) for strip in range(1, strips + 1)]
    assert accepted(garden, chosen) is enough


def test_kilograms_of_a_season_cut_short_count_in_part() -> None:
    # Tomatoes cleared half-way bring 1 of 2 kg.
    garden = garden_of({"crop": "tomato", "kg": 1.5})
    by_share = {
        c.sowing.course.share_percent: n
        for n, c in enumerate(garden.choices)
        if [cell.strip for cell in c.cells] == [1]
    }
    assert {share: accepted(garden, [n]) for share, n in by_share.items()} == {50: False, 100: True}


def test_kilograms_are_those_of_a_poor_year_if_so_wished() -> None:
    yields = {"low": 0.3, "typical": 0.5, "high": 0.9, "unit": "kg per plant", "source": SOURCE}
    book = catalogue([crop("lettuce", "daisies", yield_per_plant=yields)])
    for at, enough in (("typical yield", True), ("low yield", False)):
        wishes = {"meet_targets_at": at}
        garden = make_garden(scenario(must=[{"crop": "lettuce", "kg": 2}], household=wishes), book)
        assert accepted(garden, [number_of(garden, "lettuce", 2027)]) is enough


def test_kilograms_are_said_as_such() -> None:
    garden = garden_of({"crop": "lettuce", "kg": 3})
    assert found_by(garden, KEY, blank_plan(garden.scenario)) == [
        "you want at least 3 kg of lettuce in 2027, but only 0 of 3 kg"
    ]


def test_dead_plants_do_not_count_and_a_green_manure_does() -> None:
    # Lettuce of 8 May is ripe on 7 July: cleared the day before, nothing is had of it; from that day on it counts.
    garden = garden_of({"crop": "lettuce", "plants": 4})
    failed = planting("lettuce", (1,), "2027-05-08", "2027-07-06")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (failed,))) == [
        "you want at least 4 plants of lettuce in 2027, but only 0 of 4 plants"
    ]
    picked = planting("lettuce", (1,), "2027-05-08", "2027-07-07", "2027-07-07")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (picked,))) == []
    sown = garden_of({"crop": "clover", "plants": 4})
    clover = planting("clover", (1,), "2027-08-21", "2027-10-15")
    assert found_by(sown, KEY, blank_plan(sown.scenario, (clover,))) == []


@pytest.mark.parametrize(("until", "counts"), [("2027-07-06", False), ("2027-07-20", True)])
def test_a_pin_that_is_cleared_before_it_is_ripe_does_not_count(until: str, counts: bool) -> None:
    pin = {"bed": "bed", "crop": "lettuce", "start": "2027-05-08", "strips": (1,), "until": until}
    garden = garden_of({"crop": "lettuce", "plants": 4}, pinned=[pin])
    (pinned,) = [n for n, c in enumerate(garden.choices) if c.sowing.pinned and [x.strip for x in c.cells] == [1]]
    assert accepted(garden, [pinned]) is counts
