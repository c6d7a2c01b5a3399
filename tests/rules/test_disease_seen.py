"""A disease seen while a plan is under way, by hand: club root asks for 4 complete years, white rot closes the bed.

Kale stands from 17 July to 30 September, garlic from 15 October to 15 August; nothing is on record before 2027.
"""

from __future__ import annotations

from rotasolve.domain.plan import Planting
from rotasolve.recount.families import restings
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.keeping import Keeping, with_kept
from rotasolve.rules.rest import Rest
from tests.helpers.agree import accepted, found_by, number_of
from tests.helpers.tiny import CATALOGUE, bed, day, planting, scenario
from tests.helpers.words import said

KALE = planting("kale", (1,), "2027-07-17", "2027-09-30", "2027-09-05", kept=True)
GARLIC = planting("garlic", (1,), "2027-10-15", "2028-08-15", "2028-07-21", kept=True)


def garden_of(disease: str, seen: str, *kept: Planting, years: int = 7, **more: object) -> Garden:
    told = [{"bed": "bed", "disease": disease, "since": seen}]
    allowed = ("kale", "garlic", "sprouts")
    garden = make_garden(scenario(allowed, years=years, seen=told, **more), CATALOGUE)  # type: ignore[arg-type]
    return with_kept(garden, Keeping(kept, day(seen))) if kept else garden


def kept_numbers(garden: Garden) -> list[int]:
    return [number for number, choice in enumerate(garden.choices) if choice.sowing.kept is not None]


def test_hosts_that_stood_there_stand_on_and_others_wait_from_that_year() -> None:
    garden = garden_of("club root", "2027-08-01", KALE)
    kept = kept_numbers(garden)
    assert accepted(garden, kept)
    # 2027 + 4 complete years: 2032 is the first.
    assert not accepted(garden, [*kept, number_of(garden, "kale", 2028)])
    assert not accepted(garden, [*kept, number_of(garden, "kale", 2031)])
    assert accepted(garden, [*kept, number_of(garden, "kale", 2032)])


def test_without_a_host_the_year_in_which_it_was_seen_counts() -> None:
    garden = garden_of("club root", "2027-08-01")
    assert not accepted(garden, [number_of(garden, "kale", 2031)])
    assert accepted(garden, [number_of(garden, "kale", 2032)])


def test_what_was_started_after_the_day_is_not_spared() -> None:
    # Seen on the eve of the planting: kept or not, 2026 is not on record.
    assert not accepted(*_with_kept("2027-07-16"))
    assert accepted(*_with_kept("2027-07-17"))


def _with_kept(seen: str) -> tuple[Garden, list[int]]:
    told = [{"bed": "bed", "disease": "club root", "since": seen}]
    garden = with_kept(make_garden(scenario(["kale"], seen=told), CATALOGUE), Keeping((KALE,)))
    return garden, kept_numbers(garden)


def test_two_hosts_of_two_years_that_stood_there_bar_all_others_only() -> None:
    # Sprouts of June 2027 are hosts of 2027 and 2028, kale of 2028 beside them.
    sprouts = planting("sprouts", (2,), "2027-06-26", "2028-05-15", "2028-04-11", kept=True)
    kale = planting("kale", (1,), "2029-07-17", "2029-09-30", "2029-09-05", kept=True)
    garden = garden_of("club root", "2029-08-01", sprouts, kale, years=8, rules={"family_gap": 0})
    kept = kept_numbers(garden)
    assert accepted(garden, kept)
    assert not accepted(garden, [*kept, number_of(garden, "kale", 2033)])
    assert accepted(garden, [*kept, number_of(garden, "kale", 2034)])


def test_a_bed_that_is_closed_for_good_keeps_what_stood_there() -> None:
    garden = garden_of("white rot", "2028-03-01", GARLIC)
    kept = kept_numbers(garden)
    assert accepted(garden, kept)
    assert not accepted(garden, [*kept, number_of(garden, "garlic", 2030)])
    bare = garden_of("white rot", "2028-03-01")
    assert not accepted(bare, [number_of(bare, "garlic", 2030)])


def test_says_the_year_in_which_it_was_seen() -> None:
    garden = garden_of("club root", "2027-08-01", years=4)
    kale = planting("kale", (1,), "2030-07-17", "2030-09-30", "2030-09-05")
    found = list(Rest().hinders(garden, blank_plan(garden.scenario, ()), kale))
    # 2026 is not on record either: 2030 is 3 complete years after it, 2 after 2027.
    assert [said(one) for one in found] == [
        "what stood here in 2026 is not on record; hosts of club root may return in 2031",
        "club root was seen here in 2027; hosts of club root may return in 2032",
    ]
    assert found_by(garden, "rest", blank_plan(garden.scenario, (kale,)))[1] == (
        "hosts of club root stay out of bed for 4 complete years, because the disease is known there, but the disease "
        "was seen in 2027, kale in 2030: 2 complete years between, 4 needed"
    )


def test_of_two_sightings_the_first_counts_and_what_is_known_from_the_start_is_known() -> None:
    told = [{"bed": "bed", "disease": "club root", "since": f"{year}-08-01"} for year in (2028, 2027)]
    (group,) = [one for one in make_garden(scenario(["kale"], seen=told), CATALOGUE).rest_groups("bed") if one.disease]
    assert group.seen == day("2027-08-01")
    (other,) = [one for one in restings(CATALOGUE, scenario(seen=told), bed()) if one.disease]
    assert other.seen == group.seen
    known = make_garden(scenario(["kale"], beds=[bed(diseases=("club root",))], seen=told), CATALOGUE)
    assert [one.seen for one in known.rest_groups("bed") if one.disease] == [None]
