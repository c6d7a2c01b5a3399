"""As pinned, by hand: what the grower fixed stands, in its bed, on its day, in its strips."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules.as_pinned import pin_claim
from tests.helpers.agree import accepted, found_by, number_of, posted
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario
from tests.helpers.words import said

KEY = "as-pinned"
PIN = {"bed": "bed", "crop": "lettuce", "start": "2027-05-08"}


def garden_of(*pins: Mapping[str, object], **more: object) -> Garden:
    return make_garden(scenario(pinned=pins, **more), CATALOGUE)  # type: ignore[arg-type]


def lettuce(strips: tuple[int, ...], begin: str = "2027-05-08", **more: object) -> Planting:
    return planting("lettuce", strips, begin, "2027-07-31", "2027-07-07", **more)  # type: ignore[arg-type]


def judged(pin: Mapping[str, object], *plantings: Planting) -> list[str]:
    garden = garden_of(pin, beds=[bed(strips=3), bed("other")])
    return found_by(garden, KEY, blank_plan(garden.scenario, plantings))


def test_a_pin_stands_in_its_bed_on_its_day() -> None:
    assert judged(PIN, lettuce((2,))) == []
    for other in (
        lettuce((2,), "2027-05-09"),
        lettuce((2,), bed="other"),
        planting("kale", (2,), "2027-05-08", "2027-09-30"),
    ):
        assert judged(PIN, other) == ["you fixed lettuce in bed from 8 May 2027, but it is not in the plan"]


def test_named_strips_are_all_taken() -> None:
    pin = {**PIN, "strips": (1, 2)}
    assert judged(pin, lettuce((1, 2))) == []
    assert judged(pin, lettuce((1,)), lettuce((2,))) == []
    assert judged(pin, lettuce((1,))) == [
        "you fixed lettuce in bed, strips 1,2 from 8 May 2027, but strips 2 are without it"
    ]


@pytest.mark.parametrize(("plants", "enough"), [(4, True), (5, False)])
def test_plants_are_counted(plants: int, enough: bool) -> None:
    # One strip holds 4 plants.
    found = judged({**PIN, "plants": plants}, lettuce((1,)))
    assert (found == []) is enough


def test_model_wants_the_pin() -> None:
    garden = garden_of(PIN)
    assert not accepted(garden, [])
    assert accepted(garden, [number_of(garden, "lettuce", 2027, strip=2)])


def test_model_wants_the_pinned_strips() -> None:
    garden = garden_of({**PIN, "strips": (1, 2)}, beds=[bed(strips=3)])
    numbers = {strip: number_of(garden, "lettuce", 2027, strip) for strip in (1, 2, 3)}
    assert accepted(garden, [numbers[1], numbers[2]])
    assert not accepted(garden, [numbers[1]])
    assert not accepted(garden, [numbers[2], numbers[3]])


@pytest.mark.parametrize(("plants", "strips", "enough"), [(8, (1, 2), True), (8, (1,), False), (9, (1, 2), False)])
def test_model_counts_the_plants(plants: int, strips: tuple[int, ...], enough: bool) -> None:
    garden = garden_of({**PIN, "plants": plants})
    assert accepted(garden, [number_of(garden, "lettuce", 2027, strip) for strip in strips]) is enough


def test_more_of_the_same_may_stand_beside_the_pinned_strips() -> None:
    # Strip 1 is fixed; that the same sowing takes strip 2 as well breaks nothing the grower fixed.
    garden = garden_of({**PIN, "strips": (1,)})
    assert accepted(garden, [number_of(garden, "lettuce", 2027, strip) for strip in (1, 2)])


def test_a_pin_written_twice_is_one_claim() -> None:
    assert len(posted(garden_of(PIN, PIN), KEY)) == 1


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({}, "you fixed lettuce in bed from 8 May 2027"),
        ({"strips": (3, 1)}, "you fixed lettuce in bed, strips 1,3 from 8 May 2027"),
        ({"plants": 12}, "you fixed lettuce in bed from 8 May 2027 with 12 plants"),
        ({"strips": (2,), "plants": 3}, "you fixed lettuce in bed, strips 2 from 8 May 2027 with 3 plants"),
    ],
)
def test_says_what_it_asks(more: Mapping[str, object], told: str) -> None:
    assert said(pin_claim(PinnedPlanting.model_validate({**PIN, **more}))) == told


def test_says_what_it_found() -> None:
    assert judged({**PIN, "plants": 5}, lettuce((1,))) == [
        "you fixed lettuce in bed from 8 May 2027 with 5 plants, but only 4 of 5 plants"
    ]
