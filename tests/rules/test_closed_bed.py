"""Closed beds, by hand: lettuce stands from 8 May to 31 July, kale from 17 July to 30 September."""

from __future__ import annotations

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.keeping import Keeping, with_kept
from rotasolve.rules.closed_bed import ClosedBeds, ClosedClaim
from rotasolve.solver.program import build_program
from tests.helpers.agree import accepted, found_by, number_of
from tests.helpers.tiny import CATALOGUE, bed, day, planting, scenario
from tests.helpers.words import said

KEY = "closed-bed"
LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")


def garden_of(since: str, until: str | None = None, **more: object) -> Garden:
    closed = [{"bed": "bed", "since": since, "until": until}]
    return make_garden(scenario(("lettuce", "kale"), closed=closed, **more), CATALOGUE)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("since", "until", "free"),
    [
        ("2027-08-01", None, True),  # the day after the ground is given back
        ("2027-07-31", None, False),
        ("2027-01-01", "2027-05-07", True),  # the day before the sowing
        ("2027-01-01", "2027-05-08", False),
        ("2027-06-01", "2027-06-01", False),
    ],
)
def test_both_sides_of_a_closing(since: str, until: str | None, free: bool) -> None:
    garden = garden_of(since, until)
    assert accepted(garden, [number_of(garden, "lettuce", 2027)]) is free


def test_another_bed_is_open() -> None:
    garden = garden_of("2027-01-01", beds=[bed(), bed("other")])
    assert accepted(garden, [number_of(garden, "lettuce", 2027, bed="other")])
    assert not accepted(garden, [number_of(garden, "lettuce", 2027)])


def judged(garden: Garden, *plantings: Planting) -> list[str]:
    return found_by(garden, KEY, blank_plan(garden.scenario, plantings))


def test_what_stood_there_when_it_was_closed_may_be_kept() -> None:
    garden = garden_of("2027-06-01", "2027-12-31")
    kept = LETTUCE.model_copy(update={"kept": True})
    assert judged(garden, LETTUCE) == [
        "bed is closed from 1 June 2027 to 31 December 2027, but lettuce stands there from 8 May 2027 to 31 July 2027"
    ]
    assert judged(garden, kept) == []
    # The model takes a kept planting from before the closing, and no other.
    around = with_kept(garden, Keeping((kept,)))
    barred = {number for row in build_program(around).rows if row.claim == CLAIM for number, _ in row.terms}
    by_number = dict(enumerate(around.choices))
    assert all(by_number[number].sowing.kept is None for number in barred)
    late = planting("kale", (1,), "2027-07-17", "2027-09-30", "2027-09-05", kept=True)
    assert len(judged(garden, late)) == 1


CLAIM = ClosedClaim("bed", day("2027-06-01"), day("2027-12-31"))


def test_hinders_until_it_is_open_again_or_for_good() -> None:
    garden = garden_of("2027-06-01", "2027-12-31")
    (told,) = ClosedBeds().hinders(garden, blank_plan(garden.scenario, ()), LETTUCE)
    assert (told.strips, told.until) == ((1,), day("2027-12-31"))
    assert said(told) == "bed is closed from 1 June 2027 to 31 December 2027, when lettuce would stand there"
    garden = garden_of("2027-06-01")
    (told,) = ClosedBeds().hinders(garden, blank_plan(garden.scenario, ()), LETTUCE)
    assert told.until is None
    assert said(told) == "bed is closed from 1 June 2027 on, when lettuce would stand there"
