"""Which years of a plan are still to be planted: what stands into a year does not make it a planted one."""

from __future__ import annotations

from typing import Any

import pytest

from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.bed_years import bed_years, empty_bed_years
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.improver import Improver
from rotasolve.solver.parts import LaidOut
from rotasolve.tasks.replanning import Keep, plan_on
from tests.helpers.tiny import CATALOGUE, bed, day, planting, scenario

CROPS = ("lettuce", "leek", "garlic", "potato")
BEDS = [bed("bed", 3), bed("other", 3)]


def garden_of(years: int = 2) -> Garden:
    return make_garden(scenario(CROPS, BEDS, years), CATALOGUE, exact=False)


def values_with(garden: Garden, *taken: tuple[str, str, int]) -> list[int]:
    """Return values in which one choice of each crop, bed and garden year of its start is taken."""
    values = [0] * len(garden.choices)
    for place in taken:
        found = (n for n, c in enumerate(garden.choices) if (c.sowing.crop, c.bed, c.sowing.begins) == place)
        values[next(found)] = 1
    return values


def test_every_choice_is_in_one_bed_and_year_and_they_come_in_order() -> None:
    garden = garden_of()
    parts = bed_years(garden)
    assert sorted(number for part in parts for number in part) == list(range(len(garden.choices)))
    places = [{(garden.choices[n].sowing.crop_year, garden.choices[n].bed) for n in part} for part in parts]
    assert places == [{(2027, "bed")}, {(2027, "other")}, {(2028, "bed")}, {(2028, "other")}]


def test_what_only_stands_into_a_year_leaves_it_to_be_planted() -> None:
    garden = garden_of()
    values = values_with(garden, ("lettuce", "bed", 2027), ("garlic", "other", 2027))
    parts, years = empty_bed_years(garden, values)
    assert years == (2028,)
    assert [garden.choices[min(part)].bed for part in parts] == ["bed", "other"]


def test_a_year_in_which_half_of_the_beds_are_planted_is_left_to_the_search() -> None:
    garden = garden_of()
    assert empty_bed_years(garden, values_with(garden, ("lettuce", "bed", 2027), ("lettuce", "bed", 2028))) == ([], ())


def test_a_year_that_has_rolled_on_is_planted_beside_what_stands() -> None:
    targets = [{"crop": name, "kg": 3} for name in CROPS]
    start, clear = "2027-10-15", "2028-08-15"
    stands = PinnedPlanting(
        bed="bed", crop="garlic", start=day(start), way="sown in place", until=day(clear), strips=(2,), plants=4
    )
    place = scenario(CROPS, BEDS, 2, first_year=2028, targets=targets, pinned=[stands])
    garden = make_garden(place, CATALOGUE, exact=False)
    before = [
        planting(name, (1,), first, last, ready, bed=where)
        for where in ("bed", "other")
        for name, first, last, ready in (
            ("lettuce", "2028-05-08", "2028-07-31", "2028-07-07"),
            ("leek", "2028-07-17", "2029-01-15", "2028-12-25"),
        )
    ]
    before.append(planting("garlic", (3,), "2028-10-15", "2029-08-15", "2029-07-21", bed="other"))
    again = plan_on(
        garden,
        blank_plan(place, tuple(followed(garden, one) for one in before)),
        Keep(changed=False),
        Limits(seconds=None, effort=3),
    )
    assert isinstance(again.result, ProvenBest | Good)
    begun = [p for p in again.result.plan.plantings if p.start.year == 2029]
    assert {p.bed for p in begun} == {"bed", "other"}
    assert len({p.crop for p in begun}) >= 3


def test_a_bed_that_is_planted_already_is_laid_out_as_it_was_counted_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    beds = [bed(name, 3) for name in ("bed", "other", "third")]
    place = scenario(CROPS, beds, 2, targets=[{"crop": name, "kg": 6} for name in CROPS])
    garden = make_garden(place, CATALOGUE, exact=False)

    def count_bed(improver: Improver, counted: LaidOut, *more: Any, **_: object) -> LaidOut:
        """Count anew the one bed that has something in 2028 already."""
        part = next(p for p in bed_years(garden, (2028,)) if garden.choices[min(p)].bed == "bed")
        return improver._count(counted, part, 1.0, more[-1])[0]

    monkeypatch.setattr(Improver, "_count_on", count_bed)
    monkeypatch.setattr(Improver, "_improve", lambda improver, stop: None)
    before = [planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07", bed=where) for where in garden.beds]
    before.append(planting("potato", (1,), "2028-04-17", "2028-08-15", "2028-07-26"))
    earlier = blank_plan(place, tuple(followed(garden, one) for one in before))
    again = plan_on(garden, earlier, Keep(changed=False), Limits(seconds=None, effort=3))
    assert isinstance(again.result, ProvenBest | Good)
    found = [p.strips for p in again.result.plan.plantings if p.bed == "bed" and p.start.year == 2028]
    assert sum(map(len, found)) > 1
