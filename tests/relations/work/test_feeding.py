"""Compost and lime, by hand: for which plantings, on which day, and until when raw manure would do."""

from __future__ import annotations

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.work.feeding import Feeding, feedings_of
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.views.words.job_words import job_notes
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import plain
from tests.helpers.tiny import bed, catalogue, crop, planting, scenario

CABBAGE = crop("cabbage", "Brassicaceae", feeder="heavy")
POTATO = crop("potato", "nightshades", feeder="heavy")
PEA = crop("pea", "legumes", feeder="fixes nitrogen")
ONION = crop("onion", "onions", feeder="light")
CRESS = crop("cress", "herbs", clear_of_soil={"how": "hangs clear", "source": "common-practice"})
SHELF = catalogue(
    (CABBAGE, POTATO, PEA, ONION, CRESS),
    pathogens=[{"name": "clubroot", "hosts": ["cabbage"], "gap_low": 1, "source": "common-practice"}],
    neighbours=[],
    successions=[],
)


def garden_of(**more: object) -> Garden:
    names = [record.name for record in SHELF.crops]
    return make_garden(scenario(names, years=3, **more), SHELF)  # type: ignore[arg-type]


def fed(garden: Garden, *plantings: Planting) -> list[Feeding]:
    return list(feedings_of(garden, blank_plan(garden.scenario, plantings)))


def told(garden: Garden, *plantings: Planting) -> list[tuple[str, str, str]]:
    return [(f.kind, f.planting.crop, f"{f.day}") for f in fed(garden, *plantings)]


def potato(year: int = 2028, strip: int = 1) -> Planting:
    return planting("potato", (strip,), f"{year}-04-17", f"{year}-08-15", f"{year}-07-26")


def cabbage(year: int = 2028, strip: int = 1) -> Planting:
    return planting("cabbage", (strip,), f"{year}-05-17", f"{year}-10-31", f"{year}-08-26")


def test_heavy_feeders_alone_are_fed_in_the_autumn_before() -> None:
    onion = planting("onion", (2,), "2028-04-01", "2028-08-31", "2028-08-01")
    assert told(garden_of(), potato(), onion) == [("spread compost", "potato", "2027-11-01")]
    # The plan begins in January 2027, when the autumn before it is over.
    assert told(garden_of(), potato(2027)) == [("spread compost", "potato", "2027-02-01")]


def test_the_southern_autumn_is_in_may() -> None:
    south = planting("potato", (1,), "2028-10-17", "2029-02-15", "2029-01-26")
    assert told(garden_of(latitude=-50), south) == [("spread compost", "potato", "2028-05-01")]


def test_where_something_still_stands_it_waits_until_that_is_cleared() -> None:
    onion = planting("onion", (1,), "2027-09-01", "2028-03-20", "2028-03-01")
    assert told(garden_of(), potato(), onion) == [("spread compost", "potato", "2028-03-20")]
    elsewhere = onion.model_copy(update={"strips": (2,)})
    assert told(garden_of(), potato(), elsewhere) == [("spread compost", "potato", "2027-11-01")]
    held = {"bed": "bed", "crop": "onion", "year": 2026, "until": "2027-02-20"}
    assert told(garden_of(history=[held]), potato(2027)) == [("spread compost", "potato", "2027-02-20")]


@pytest.mark.parametrize(("year", "needed"), [(2027, False), (2026, True)])
def test_after_legumes_none_is_needed(year: int, needed: bool) -> None:
    if year == 2026:
        garden, plantings = garden_of(history=[{"bed": "bed", "crop": "pea", "year": year}]), [potato()]
    else:
        garden, plantings = garden_of(), [planting("pea", (2,), "2027-04-01", "2027-07-31", "2027-07-01"), potato()]
    assert bool(told(garden, *plantings)) is needed


def test_cabbages_are_limed_and_get_compost_four_weeks_later() -> None:
    # 1 November + 28 days.
    assert told(garden_of(), cabbage()) == [
        ("lime", "cabbage", "2027-11-01"),
        ("spread compost", "cabbage", "2027-11-29"),
    ]
    # Set out on ground cleared in July: too late for lime.
    onion = planting("onion", (1,), "2028-01-10", "2028-05-01", "2028-04-01")
    assert told(garden_of(), cabbage(), onion) == [("spread compost", "cabbage", "2028-05-01")]


@pytest.mark.parametrize(("year", "limed"), [(2027, True), (2028, False), (2029, False)])
def test_no_lime_where_potatoes_follow(year: int, limed: bool) -> None:
    kinds = [kind for kind, crop, _ in told(garden_of(), cabbage(), potato(year, 2)) if crop == "cabbage"]
    assert ("lime" in kinds) is limed
    # Known clubroot asks for it all the same.
    garden = garden_of(beds=[bed(diseases=("clubroot",), history_since=2020)])
    assert ("lime", "cabbage", "2027-11-01") in told(garden, cabbage(), potato(year, 2))


def test_raw_manure_keeps_its_interval_to_every_harvest_of_the_bed() -> None:
    # 7 CFR 205.203(c)(1): 120 days before what touches the soil, 90 before what does not. Potatoes from 26 July 2028,
    # less 120 days: 28 March. Cress from 1 June, less 90: 3 March. Onions picked before the day of spreading are over.
    cress = planting("cress", (2,), "2028-04-01", "2028-06-30", "2028-06-01")
    over = planting("onion", (2,), "2027-04-01", "2027-10-15", "2027-08-01")
    (alone,) = fed(garden_of(), potato(), over)
    assert (f"{alone.raw_until}", alone.picked) == ("2028-03-28", potato())
    (beside,) = fed(garden_of(), potato(), cress)
    assert (f"{beside.raw_until}", beside.picked) == ("2028-03-03", cress)
    longer = garden_of(rules={"manure_days_touching": 180})
    assert f"{fed(longer, potato())[0].raw_until}" == "2028-01-28"


def test_the_jobs_say_how_much_and_what_to_mind() -> None:
    garden = garden_of()
    jobs = jobs_of(garden, blank_plan(garden.scenario, (cabbage(),)))
    lime, compost = jobs[:2]
    assert (lime.kind, compost.kind) == ("lime", "spread compost")
    # A strip of 60 x 120 cm = 0.72 m2 at 5 litres; 26 August less 120 days is 28 April.
    assert [plain(note) for note in job_notes(compost, garden, Look())] == [
        "4 litres",
        "well rotted manure does too",
        "raw manure by 28 April 2028 only",
    ]
    assert "only as much as a test of the soil asks for" in job_notes(lime, garden, Look())[0]
    early = planting("cress", (2,), "2027-11-02", "2028-02-28", "2028-01-10")
    jobs = jobs_of(garden, blank_plan(garden.scenario, (potato(), early)))
    (spread,) = [job for job in jobs if job.kind == "spread compost"]
    assert plain(job_notes(spread, garden, Look())[-1]) == "no raw manure, for cress here"
