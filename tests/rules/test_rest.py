"""Rest, by hand: complete years between two plantings of a family, on both sides of the gap."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.recount.families import stay_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.families import FamilyGraph
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.hosts import host_years
from rotasolve.rules.rest import Rest
from tests.helpers.agree import accepted, number_of
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, planting, scenario


def garden_of(allowed: Iterable[str], years: int = 3, **more: object) -> Garden:
    return make_garden(scenario(allowed, years=years, **more), CATALOGUE)  # type: ignore[arg-type]


def past(crop: str, year: int, **more: object) -> dict[str, object]:
    return {"bed": "bed", "crop": crop, "year": year, **more}


@pytest.mark.parametrize(("year", "rested"), [(2027, False), (2028, False), (2029, True)])
def test_two_complete_years_after_the_history(year: int, rested: bool) -> None:
    # Potato in 2026 and in year y: y - 2026 - 1 complete years, 2 are asked: 2029 is the first.
    garden = garden_of(["potato"], history=[past("potato", 2026)])
    assert accepted(garden, [number_of(garden, "potato", year)]) is rested


@pytest.mark.parametrize(("first", "second", "rested"), [(2027, 2028, False), (2027, 2029, False), (2027, 2030, True)])
def test_two_complete_years_inside_the_plan(first: int, second: int, rested: bool) -> None:
    # 2029 - 2027 - 1 = 1, 2030 - 2027 - 1 = 2.
    garden = garden_of(["potato"], years=4)
    assert accepted(garden, [number_of(garden, "potato", first), number_of(garden, "potato", second)]) is rested


def test_the_whole_family_rests_not_the_crop_alone() -> None:
    # Kale and lettuce are of other families; tomato is a nightshade like potato.
    for crop, rested in (("lettuce", True), ("kale", True), ("tomato", False)):
        garden = garden_of([crop], history=[past("potato", 2026)])
        number = next(n for n, choice in enumerate(garden.choices) if choice.sowing.crop == crop)
        assert garden.choices[number].sowing.crop_year == 2027
        assert accepted(garden, [number]) is rested


def test_one_crop_year_is_one_visit() -> None:
    # Two nightshades side by side in one year are one visit; the next may come in 2030.
    garden = garden_of(["potato", "tomato"], years=4)
    potato = number_of(garden, "potato", 2027, strip=2)
    tomatoes = [
        n for n, c in enumerate(garden.choices) if c.sowing.crop == "tomato" and [cell.strip for cell in c.cells] == [1]
    ]
    in_year = {garden.choices[n].sowing.crop_year: n for n in tomatoes}
    assert accepted(garden, [potato, in_year[2027]])
    assert not accepted(garden, [potato, in_year[2028]])
    assert accepted(garden, [potato, in_year[2027], number_of(garden, "potato", 2030)])


@pytest.mark.parametrize(("year", "rested"), [(2028, False), (2029, False), (2030, True)])
def test_a_winter_crop_is_a_host_of_the_year_it_is_lifted_in(year: int, rested: bool) -> None:
    # Garlic of October stands no day of that year's April to September: y - 2027 - 1 >= 2 first holds for y = 2030.
    garden = garden_of(["garlic"], years=5, history=[past("garlic", 2027, until="2027-07-31")])
    assert accepted(garden, [number_of(garden, "garlic", year)]) is rested


def test_winter_crops_inside_the_plan() -> None:
    # Lifted in 2028, then in y: y - 2028 - 1 >= 2 first holds for y = 2031, set in October 2030.
    garden = garden_of(["garlic"], years=6)
    first = number_of(garden, "garlic", 2028)
    for year, rested in ((2029, False), (2030, False), (2031, True)):
        assert accepted(garden, [first, number_of(garden, "garlic", year)]) is rested


def test_a_crop_picked_over_new_year_is_a_host_of_the_year_it_grew_in() -> None:
    # Leek of 2027 stands to 15 January 2028: 2030 - 2027 - 1 = 2 complete years; with 2029 only 1.
    garden = garden_of(["leek"], years=5)
    first = number_of(garden, "leek", 2027)
    for year, rested in ((2028, False), (2029, False), (2030, True)):
        assert accepted(garden, [first, number_of(garden, "leek", year)]) is rested
    # The same for garlic of October 2029, lifted in 2030.
    garden = garden_of(["leek", "garlic"], years=6)
    first = number_of(garden, "leek", 2027)
    for year, rested in ((2028, False), (2029, False), (2030, True)):
        assert accepted(garden, [first, number_of(garden, "garlic", year)]) is rested


def test_a_crop_that_grows_on_into_the_next_season_is_a_host_of_both() -> None:
    # Sprouts of June 2027 to May 2028: kale in 2031 - 2028 - 1 = 2 complete years after; in 2030 only 1.
    garden = garden_of(["kale", "sprouts"], years=6)
    sprouts = number_of(garden, "sprouts", 2028)
    for year, rested in ((2029, False), (2030, False), (2031, True)):
        assert accepted(garden, [sprouts, number_of(garden, "kale", year)]) is rested
    # Kale before sprouts that begin in 2030 (picked in 2031): 2030 - 2027 - 1 = 2; those of 2029 come too soon.
    kale = number_of(garden, "kale", 2027)
    for year, rested in ((2030, False), (2031, True)):
        assert accepted(garden, [kale, number_of(garden, "sprouts", year)]) is rested


def test_what_grows_beside_it_in_one_of_its_years_is_one_visit_with_a_longer_one() -> None:
    garden = garden_of(["kale", "sprouts"], years=6)
    sprouts = number_of(garden, "sprouts", 2028, strip=2)
    for year in (2027, 2028):
        assert accepted(garden, [sprouts, number_of(garden, "kale", year)])
    # 2027 to 2028 and 2028 to 2029 are two visits, with no year between; so are kale of 2027 and of 2028.
    assert not accepted(garden, [sprouts, number_of(garden, "sprouts", 2029)])
    assert not accepted(garden, [sprouts, *(number_of(garden, "kale", year) for year in (2027, 2028))])


@pytest.mark.parametrize(
    ("begin", "clear", "first", "years"),
    [
        # April has 30 days: cleared on its last, leeks have taken no more of the season than a host may.
        ("2027-06-15", "2028-04-30", "2027-12-25", (2027, 2027)),
        ("2027-06-15", "2028-05-01", "2027-12-25", (2027, 2028)),
        # Picked in the new year alone, leeks are hosts of the year in which they grew.
        ("2027-06-15", "2028-03-15", "2028-01-05", (2027, 2027)),
        # So has September: garlic set on its first day.
        ("2027-09-01", "2028-07-20", "2028-07-01", (2028, 2028)),
        ("2027-08-31", "2028-07-20", "2028-07-01", (2027, 2028)),
        # A salad of winter and radishes of 28 days take no season so long: the year of the first harvest counts.
        ("2027-10-10", "2028-03-10", "2028-02-20", (2028, 2028)),
        ("2027-05-01", "2027-05-28", "2027-05-21", (2027, 2027)),
        # Mustard of September, dug in in March: nothing is picked, the year of the start counts.
        ("2027-09-10", "2028-03-10", None, (2027, 2027)),
    ],
)
def test_host_years_are_counted_alike_twice(begin: str, clear: str, first: str | None, years: tuple[int, int]) -> None:
    stood = planting("leek", (1,), begin, clear, first)
    stay = stay_of(stood, south=False)
    assert (stay.first, stay.last) == years
    assert host_years(stood.start, stood.clear, (stood.first_harvest or stood.start).year, south=False) == years


def test_history_counts_the_seasons_it_grew_in() -> None:
    # Kale of 2026 standing until 28 February 2027 did not grow on: 2029 - 2026 - 1 = 2 years.
    for until in ("2026-12-31", "2027-02-28", "2027-04-30"):
        garden = garden_of(["kale"], years=4, history=[past("kale", 2026, until=until)])
        for year, rested in ((2028, False), (2029, True)):
            assert accepted(garden, [number_of(garden, "kale", year)]) is rested
    # To 15 May it takes 45 days of the season of 2027: 2029 - 2027 - 1 = 1 year, 2030 has 2.
    garden = garden_of(["kale"], years=4, history=[past("kale", 2026, until="2027-05-15")])
    for year, rested in ((2028, False), (2029, False), (2030, True)):
        assert accepted(garden, [number_of(garden, "kale", year)]) is rested


def test_a_crop_of_the_same_year_still_standing_is_the_same_visit() -> None:
    # Kale of crop year 2027 from before the plan, cleared in March, and more kale harvested in 2027: one visit.
    # On strip 2: that strip 1 bears no second kale in the season is a matter of family-once.
    garden = garden_of(["kale"], history=[past("kale", 2027, until="2027-03-31", strips=(1,))])
    assert accepted(garden, [number_of(garden, "kale", 2027, strip=2)])
    assert not accepted(garden, [number_of(garden, "kale", 2028, strip=2)])


def test_a_known_disease_asks_for_its_own_gap() -> None:
    # Club root: 4 complete years for its hosts, the cabbages: 2031 - 2026 - 1 = 4.
    sick = [bed(diseases=("club root",))]
    garden = garden_of(["kale"], years=5, beds=sick, history=[past("kale", 2026)])
    for year, rested in ((2029, False), (2030, False), (2031, True)):
        assert accepted(garden, [number_of(garden, "kale", year)]) is rested


def test_a_disease_without_end_closes_the_bed() -> None:
    garden = garden_of(["garlic", "lettuce"], beds=[bed(diseases=("white rot",)), bed("healthy")])
    assert not accepted(garden, [number_of(garden, "garlic", 2028)])
    assert accepted(garden, [number_of(garden, "garlic", 2028, bed="healthy")])
    assert accepted(garden, [number_of(garden, "lettuce", 2028)])


def test_clover_covers_are_no_legumes_to_rest() -> None:
    # Beans in 2027 and 2030, clover in every year between.
    garden = garden_of(["bean", "clover"], years=4)
    beans = [number_of(garden, "bean", year) for year in (2027, 2030)]
    clover = [number_of(garden, "clover", year) for year in (2027, 2028, 2029, 2030)]
    assert accepted(garden, [*beans, *clover])
    assert not accepted(garden, [beans[0], number_of(garden, "bean", 2029)])


def test_the_grower_may_ask_for_another_gap() -> None:
    # Gap 1: 2028 - 2026 - 1 = 1 is enough; gap 0: 2027 - 2026 - 1 = 0.
    for gap, first_year in ((0, 2027), (1, 2028), (3, 2030)):
        garden = garden_of(["potato"], years=4, history=[past("potato", 2026)], rules={"family_gap": gap})
        years = [year for year in range(2027, 2031) if accepted(garden, [number_of(garden, "potato", year)])]
        assert years == list(range(first_year, 2031))


def test_beds_remember_for_themselves() -> None:
    garden = garden_of(["potato"], beds=[bed(), bed("other")], history=[past("potato", 2026)])
    assert accepted(garden, [number_of(garden, "potato", 2027, bed="other")])
    assert not accepted(garden, [number_of(garden, "potato", 2027)])


def test_rotation_by_strip() -> None:
    # The history names strip 1; strip 2 is free to take potatoes in 2027, strip 1 only in 2029.
    history = [past("potato", 2026, strips=(1,))]
    by_bed = garden_of(["potato"], history=history)
    assert not accepted(by_bed, [number_of(by_bed, "potato", 2027, strip=2)])
    garden = garden_of(["potato"], history=history, rules={"rotation": "strip"})
    assert accepted(garden, [number_of(garden, "potato", 2027, strip=2)])
    assert not accepted(garden, [number_of(garden, "potato", 2028, strip=1)])
    assert accepted(garden, [number_of(garden, "potato", 2029, strip=1)])
    # Strip 2 in 2027 and strip 1 in 2029 is no return; strip 2 in both years is.
    first = number_of(garden, "potato", 2027, strip=2)
    assert accepted(garden, [first, number_of(garden, "potato", 2029, strip=1)])
    assert not accepted(garden, [first, number_of(garden, "potato", 2029, strip=2)])


def test_by_strip_a_history_without_strips_means_all() -> None:
    garden = garden_of(["potato"], history=[past("potato", 2026)], rules={"rotation": "strip"})
    assert not any(accepted(garden, [number_of(garden, "potato", 2028, strip)]) for strip in (1, 2))


def test_a_southern_summer_is_one_garden_year() -> None:
    # Potatoes from October 2027 to February 2028 belong to 2027/28, called 2027: the next are due in 2030/31.
    garden = garden_of(["potato"], years=4, latitude=-50)
    first = number_of(garden, "potato", 2027)
    assert (garden.choices[first].sowing.start.year, garden.choices[first].sowing.course.clear.year) == (2027, 2028)
    for year, rested in ((2028, False), (2029, False), (2030, True)):
        assert accepted(garden, [first, number_of(garden, "potato", year)]) is rested
    # Garlic set in April 2028 and lifted in January 2029 grows in the season of 2028/29 alone.
    garden = garden_of(["garlic"], years=6, latitude=-50, history=[past("garlic", 2026)])
    for year, rested in ((2028, False), (2029, True)):
        # 2028 - 2026 - 1 = 1, 2029 - 2026 - 1 = 2.
        assert accepted(garden, [number_of(garden, "garlic", year)]) is rested


def test_a_pin_harvested_after_the_plan_still_needs_rested_ground() -> None:
    # Garlic of 2026 and garlic set on 15 October 2027, harvested in 2028, after the only planned year:
    # 2028 - 2026 - 1 = 1 complete year.
    pin = {"bed": "bed", "crop": "garlic", "start": "2027-10-15"}
    garden = garden_of([], years=1, history=[past("garlic", 2026)], pinned=[pin])
    # On either strip, or on both.
    assert [choice.sowing.crop_year for choice in garden.choices] == [2028, 2028, 2028]
    assert not accepted(garden, [0])
    # The same between two plantings of the plan: harvested in 2028 and set again in October 2028.
    garden = garden_of(["garlic"], years=2, pinned=[{**pin, "start": "2028-10-15"}])
    assert not accepted(garden, [number_of(garden, "garlic", 2028), number_of(garden, "garlic", 2029)])


def test_a_winter_crop_visits_in_the_year_of_its_harvest() -> None:
    # Garlic of October 2027 is lifted in July 2028, leeks are picked from December 2028 on: one visit, no rest asked.
    garden = garden_of(["garlic", "leek"])
    garlic = planting("garlic", (1,), "2027-10-15", "2028-08-15", "2028-07-21")
    leek = planting("leek", (1,), "2028-08-16", "2029-01-15", "2028-12-25")
    plan = blank_plan(garden.scenario, (leek,))
    assert list(Rest().hinders(garden, plan, garlic)) == []
    assert list(Rest().breaches(garden, blank_plan(garden.scenario, (garlic, leek)))) == []


def test_a_breach_names_the_plantings_that_break_it() -> None:
    # Nothing planned stood in the ground in 2026: only what came after it is named.
    garden = garden_of(["potato"], history=[past("potato", 2026)])
    first = planting("potato", (1,), "2027-04-17", "2027-08-15", "2027-07-26")
    second = planting("potato", (2,), "2029-04-17", "2029-08-15", "2029-07-26")
    found = list(Rest().breaches(garden, blank_plan(garden.scenario, (first, second))))
    assert [breach.plantings for breach in found] == [(first,), (first, second)]


def test_a_breach_names_all_plantings_of_the_same_crop_and_years() -> None:
    garden = garden_of(["potato"])
    plantings = [
        planting("potato", (strip,), f"{year}-04-17", f"{year}-08-15", f"{year}-07-26")
        for year in (2027, 2028)
        for strip in (1, 2)
    ]
    (found,) = Rest().breaches(garden, blank_plan(garden.scenario, tuple(plantings)))
    assert set(found.plantings) == set(plantings)


MOULD = {"name": "mould", "hosts": ["family:cabbages"], "source": SOURCE}


def years_open(strip: int = 1, **more: object) -> list[int]:
    """Return the years from 2027 to 2031 in which kale may stand in a bed with mould, of which 2 years rid the soil."""
    shelf = catalogue(pathogens=[{**MOULD, "gap_low": 2, "gap_high": 4}])
    rules = more.pop("rules", {})
    here = bed(diseases=("mould",), history_since=more.pop("since", None))
    garden = make_garden(scenario(["kale"], [here], years=5, rules=rules, **more), shelf)  # type: ignore[arg-type]
    return [year for year in range(2027, 2032) if accepted(garden, [number_of(garden, "kale", year, strip)])]


def test_years_not_on_record_keep_hosts_of_a_known_disease_away() -> None:
    # Nothing is known of 2026: 2029 - 2026 - 1 = 2 complete years.
    assert years_open() == [2029, 2030, 2031]
    # Of 2026 lettuce is, of 2025 nothing: 2028 - 2025 - 1 = 2.
    lettuce = past("lettuce", 2026)
    assert years_open(history=[lettuce]) == [2028, 2029, 2030, 2031]
    assert years_open(history=[lettuce, past("lettuce", 2025)]) == [2027, 2028, 2029, 2030, 2031]
    # A crop that stood on tells of the year it stood on into.
    assert years_open(history=[past("lettuce", 2025, until="2026-01-31")]) == [2027, 2028, 2029, 2030, 2031]
    # The grower says that everything has been written down since a year.
    assert years_open(since=2026) == [2028, 2029, 2030, 2031]
    assert years_open(since=2025) == [2027, 2028, 2029, 2030, 2031]
    assert years_open(since=2025, history=[past("kale", 2025)]) == [2028, 2029, 2030, 2031]


def test_by_strip_each_strip_has_its_own_record() -> None:
    by_strip = {"rotation": "strip"}
    lettuce = [past("lettuce", year, strips=(1,)) for year in (2025, 2026)]
    assert years_open(strip=1, history=lettuce, rules=by_strip) == [2027, 2028, 2029, 2030, 2031]
    assert years_open(strip=2, history=lettuce, rules=by_strip) == [2029, 2030, 2031]


def test_the_higher_gap_counts_where_no_source_has_a_lower() -> None:
    # Beet cyst nematode: no interval is advised, eggs live up to 8 years (CORNELL-BCN, AHDB-BCN).
    shipped = load_catalogue()
    for disease, gap in {"beet cyst nematode": 8, "pea cyst nematode": 12, "common scab": 2, "clubroot": 6}.items():
        assert FamilyGraph(shipped).disease_group(disease).gap == gap
    shelf = catalogue(pathogens=[{**MOULD, "gap_high": 3}, MOULD])
    old = [past("kale", 2026)]
    garden = make_garden(scenario(["kale"], [bed(diseases=("mould",))], years=5, history=old), shelf)
    # 2030 - 2026 - 1 = 3 complete years.
    assert [y for y in range(2027, 2032) if accepted(garden, [number_of(garden, "kale", y)])] == [2030, 2031]


def test_every_shipped_disease_has_years_closes_the_bed_or_is_refused() -> None:
    shipped = load_catalogue()
    graph = FamilyGraph(shipped)
    groups = {pathogen.name: graph.disease_group(pathogen.name) for pathogen in shipped.pathogens}
    helpless = {name for name, group in groups.items() if not group.gap and not group.closes}
    assert helpless == {"late blight", "Fusarium yellows of cabbage", "root-knot nematodes"}
    assert {p.name for p in shipped.pathogens if not p.rotation_helps} == helpless - {"root-knot nematodes"}
