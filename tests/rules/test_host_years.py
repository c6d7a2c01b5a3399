"""Host years, by hand: so many years in so many at most, windows and history on both sides of the boundary."""

from __future__ import annotations

import pytest

from rotasolve.domain.scenario import Rules
from rotasolve.files.crops import load_catalogue
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules.host_years import HostYearsClaim, SoManyHostYears, TooOften
from rotasolve.views.words.look import Look
from rotasolve.views.words.rules import say
from tests.helpers.agree import accepted, found_by, number_of, plan_of, posted, taken_of
from tests.helpers.tiny import CATALOGUE, planting, scenario
from tests.helpers.words import said

KEY = "host-years"
NIGHTSHADES = {"hosts": "family:nightshades", "most": 2, "of_years": 4}


def garden_of(
    years: int = 5, asked: object = (NIGHTSHADES,), crops: tuple[str, ...] = ("potato",), **more: object
) -> Garden:
    rules = {"family_gap": 0, "host_years": asked, **more.pop("rules", {})}  # type: ignore[dict-item]
    return make_garden(scenario(crops, years=years, rules=rules, **more), CATALOGUE)  # type: ignore[arg-type]


def potatoes(garden: Garden, *years: int, strip: int = 1) -> list[int]:
    return [number_of(garden, "potato", year, strip) for year in years]


def past(year: int, crop: str = "potato", **more: object) -> dict[str, object]:
    return {"bed": "bed", "crop": crop, "year": year, **more}


def test_two_years_in_any_four() -> None:
    # 2027, 2028 and 2030 lie in the four years 2027 to 2030; 2031 is the first that leaves 2027 behind.
    garden = garden_of()
    assert accepted(garden, potatoes(garden, 2027, 2028))
    assert not accepted(garden, potatoes(garden, 2027, 2028, 2030))
    assert accepted(garden, potatoes(garden, 2027, 2028, 2031))
    assert not accepted(garden, potatoes(garden, 2027, 2029, 2030))


@pytest.mark.parametrize(("year", "allowed"), [(2027, False), (2028, True)])
def test_history_counts(year: int, allowed: bool) -> None:
    # 2024 and 2026: a third year in 2024 to 2027, but not in 2025 to 2028.
    garden = garden_of(history=[past(2024), past(2026, "tomato")])
    assert accepted(garden, potatoes(garden, year)) is allowed


def test_history_alone_is_not_blamed_but_leaves_no_room() -> None:
    garden = garden_of(history=[past(2024), past(2025), past(2026)])
    assert accepted(garden, [])
    assert not accepted(garden, potatoes(garden, 2027))
    # 2025 to 2028 hold two years already; 2026 to 2029 hold one.
    assert not accepted(garden, potatoes(garden, 2028))
    assert accepted(garden, potatoes(garden, 2029))


def test_a_year_counts_once_whatever_grows_in_it() -> None:
    garden = garden_of()
    assert accepted(garden, [*potatoes(garden, 2027, 2028), *potatoes(garden, 2027, strip=2)])


def test_a_crop_that_grows_on_counts_in_both_years() -> None:
    asked = [{"hosts": "family:cabbages", "most": 2, "of_years": 4}]
    garden = garden_of(asked=asked, crops=("kale", "sprouts"))
    sprouts = number_of(garden, "sprouts", 2028)
    for year, allowed in ((2029, False), (2030, False), (2031, True)):
        assert accepted(garden, [sprouts, number_of(garden, "kale", year)]) is allowed


def test_one_crop_alone_may_be_named() -> None:
    garden = garden_of(asked=[{"hosts": "potato", "most": 1, "of_years": 5}], crops=("potato", "tomato"))
    tomato = next(n for n, c in enumerate(garden.choices) if (c.sowing.crop, c.sowing.crop_year) == ("tomato", 2028))
    assert accepted(garden, [*potatoes(garden, 2027), tomato])
    assert not accepted(garden, potatoes(garden, 2027, 2031))


def test_by_strip_each_strip_counts_for_itself() -> None:
    garden = garden_of(rules={"rotation": "strip"})
    first = potatoes(garden, 2027, 2028)
    assert accepted(garden, [*first, *potatoes(garden, 2029, strip=2)])
    assert not accepted(garden, [*first, *potatoes(garden, 2029)])


def test_off_unless_asked_and_as_published_from_the_crop_files() -> None:
    assert posted(garden_of(asked=()), KEY) == set()
    assert Rules().host_years == ()
    published = {
        one.hosts: (one.most, one.of_years, one.source) for f in load_catalogue().families for one in f.host_years
    }
    # PGRO: no more than one year in five; NDSU-OAKES: one in three or four; UCIPM-BR: every second year at most.
    assert published == {
        "family:Fabaceae": (1, 5, ("PGRO",)),
        "potato": (1, 3, ("NDSU-OAKES",)),
        "family:Brassicaceae": (1, 2, ("UCIPM-BR",)),
    }
    garden = make_garden(scenario(["pea"], years=5, rules={"host_years": "as published"}), load_catalogue())
    assert posted(garden, KEY) == {HostYearsClaim("Fabaceae", "bed", 0, 1, 5)}


def test_the_whole_sentence() -> None:
    assert say(TooOften((2027, 2028), True), Look()) == "it would be in 2027/28, 2028/29"
    assert said(HostYearsClaim("pea", "bed", 2, 1, 5)) == "pea in bed, strip 2 in 1 of any 5 years at most"
    garden = garden_of(history=[past(2025)])
    plan = plan_of(garden, taken_of(garden, potatoes(garden, 2027, 2028)))
    assert found_by(garden, KEY, plan) == [
        "nightshades in bed in 2 of any 4 years at most, but it would be in 2025, 2027, 2028"
    ]


def test_bars_the_bed_until_a_year_falls_out_and_names_what_could_move() -> None:
    garden = garden_of()
    first = planting("potato", (1,), "2027-04-17", "2027-08-15", "2027-07-26")
    second = planting("potato", (1,), "2028-04-17", "2028-08-15", "2028-07-26")
    third = planting("potato", (2,), "2029-04-17", "2029-08-15", "2029-07-26")
    found = list(SoManyHostYears().hinders(garden, blank_plan(garden.scenario, (first, second)), third))
    assert [(one.strips, str(one.until), one.other) for one in found] == [
        ((2,), "2030-12-31", first),
        ((2,), "2030-12-31", second),
    ]
    (breach,) = SoManyHostYears().breaches(garden, blank_plan(garden.scenario, (first, second, third)))
    assert breach.plantings == (first, second, third)


def test_a_rule_that_asks_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="most must be less than of_years"):
        Rules.model_validate({"host_years": [{"hosts": "pea", "most": 5, "of_years": 5}]})
