"""What was started before the first planned year: told as a pin, planned around, harvested, and left in its place."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from rotasolve.domain.plan import Plan
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.referee import judge
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.work.jobs import jobs_of
from rotasolve.relations.work.shopping import purchases_of
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.replanning import Keep, plan_on
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.tiny import CATALOGUE, bed, scenario

GARLIC = {"bed": "bed", "crop": "garlic", "start": "2026-10-15", "strips": [2, 3], "plants": 7}
BY_WORK = Limits(seconds=None, effort=1.0)


def planned(place: Scenario) -> Plan:
    found = plan_rotation(place, CATALOGUE, BY_WORK)
    assert isinstance(found, ProvenBest | Good), found
    return found.plan


def place_of(**more: Any) -> Scenario:
    wish = [{"crop": "garlic", "kg": 3.5}, {"crop": "lettuce", "kg": 2}, {"crop": "kale", "kg": 4}]
    return scenario((), [bed("bed", 3), bed("other", 2)], 2, wish, pinned=[{**GARLIC, **more}])


@pytest.mark.parametrize("exact_at_most", [9_000, 0])
def test_it_stands_as_told_and_its_harvest_counts(monkeypatch: pytest.MonkeyPatch, exact_at_most: int) -> None:
    monkeypatch.setattr("rotasolve.relations.ground.garden.EXACT_AT_MOST", exact_at_most)
    place = place_of()
    garden, plan = make_garden(place, CATALOGUE), planned(place)
    # A bed of counts stays one: only the strips of a pin that is still to come need strip by strip.
    assert garden.exact_beds == (frozenset({"bed", "other"}) if exact_at_most else frozenset())
    (stands,) = [planting for planting in plan.plantings if planting.start < date(2027, 1, 1)]
    assert (stands.crop, stands.strips, stands.plants, stands.rows, stands.kept) == ("garlic", (2, 3), 7, 2, True)
    # Lifted from 22 July 2027: 7 plants of 0.5 kg are the 3.5 kg wished.
    assert [t.got.typical_kg for t in plan.targets if (t.crop, t.year) == ("garlic", 2027)] == [3.5]
    beside = [p for p in plan.plantings if p.bed == "bed" and p.start < stands.clear and p != stands]
    assert all(set(p.strips) == {1} for p in beside)
    assert judge(garden, plan).breaches == ()


def test_it_stands_without_strips_too() -> None:
    plan = planned(place_of(strips=[], plants=None))
    assert [p.crop for p in plan.plantings if p.start < date(2027, 1, 1)] == ["garlic"]


def test_onions_rest_after_it() -> None:
    # Two complete years: none in its bed before 2030, so the garlic of the second year stands elsewhere.
    plan = planned(place_of())
    assert {p.bed for p in plan.plantings if p.crop == "garlic" and p.start > date(2027, 1, 1)} <= {"other"}


def test_a_late_start_in_the_past_is_a_fact_and_no_breach() -> None:
    late = place_of(start="2026-11-20", until="2027-08-31")
    assert next(p.start for p in planned(late).plantings if p.crop == "garlic") == date(2026, 11, 20)


def test_nothing_is_to_be_done_or_bought_for_it_any_more() -> None:
    garden, plan = make_garden(place_of(), CATALOGUE), planned(place_of())
    jobs = [job for job in jobs_of(garden, plan) if job.planting.start < date(2027, 1, 1)]
    assert jobs
    assert min(job.day for job in jobs) >= date(2027, 1, 1)
    assert {job.kind for job in jobs} >= {"first harvest", "clear"}
    assert min(purchases_of(garden, plan)) == 2027


@pytest.mark.parametrize("keep", [Keep(), Keep(everything=True), Keep(changed=False), Keep(as_of=date(2027, 5, 1))])
def test_planning_on_keeps_it_once(keep: Keep) -> None:
    place = place_of()
    plan = planned(place)
    again = plan_on(make_garden(place, CATALOGUE), plan, keep, BY_WORK)
    assert isinstance(again.result, ProvenBest | Good), again
    stands = [p for p in again.result.plan.plantings if p.start < date(2027, 1, 1)]
    assert [(p.crop, p.strips, p.plants) for p in stands] == [("garlic", (2, 3), 7)]


TEXT = """format: 1
title: Two beds
site: {latitude: 52, last_frost: {half: 1 May}, first_frost: {half: 10 October}}
first_year: 2027
beds: [{name: bed, length: 2 m, width: 1.2 m}]
pinned:
  - {bed: bed, crop: broad bean, start: 2026-11-05%s}
"""


def test_broad_beans_of_the_autumn_before_are_read() -> None:
    from rotasolve.files.crops import load_catalogue

    catalogue = load_catalogue()
    place = read_scenario_text(TEXT % "", "garden.yaml", catalogue)
    assert place.pinned[0].start < place.begins
    with pytest.raises(InputFault, match="is cleared on 20 December 2026, before the plan begins"):
        read_scenario_text(TEXT % ", until: 2026-12-20", "garden.yaml", catalogue)
