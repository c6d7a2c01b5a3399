"""The scenarios that come with rotasolve: they read without faults, and what they promise to show is there."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.site import Site
from rotasolve.domain.strips import strips_in_bed
from rotasolve.files.scenarios import warnings_of
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.season.frosts import frosts_of
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.program import build_program
from rotasolve.tasks.rotation import plan_rotation

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario

    Planned = Callable[[str], ProvenBest | Good]
    Read = Callable[[str], Scenario]

# A part of every warning a shipped scenario may give, in order.
WARNINGS = {
    "allotment": [
        r"'tunnel' is 2 m wide",
        r"'kettle' is closed to hosts of clubroot up to and with 2030: .* 2021, 2022, 2023, 2024",
    ],
    "cold-frame": [r"No history given: the first year is free"],
    "family-garden": [],
    "fruit-and-roots": [r"No history given for 'fruit bed'"],
    "southern-garden": [r"No history given for 'lemon bed'"],
    "two-at-table": [r"No history given: the first year is free"],
}
# All names in titles and places, looked over by hand: invented people and places, and common words.
INVENTED = {
    "allotment": {"Plot", "Quarry", "Lane"},
    "cold-frame": {"Marit", "Nordvik"},
    "family-garden": {"The", "Brandow", "Lower", "Ashmead"},
    "fruit-and-roots": {"The", "Marlow", "Hatch", "Lane"},
    "southern-garden": {"Tui", "Creek"},
    "two-at-table": {"Two", "Hollin", "Row"},
}
COLD_FRAME_LOSES = 1492
"""Points the best plan of the cold frame loses; to be changed only with the scenario, the crops or the goals."""


def test_these_scenarios_are_shipped(folder: Traversable) -> None:
    assert {entry.name for entry in folder.iterdir()} == {f"{name}.yaml" for name in WARNINGS}


@pytest.mark.parametrize("name", WARNINGS)
def test_a_scenario_reads_with_the_expected_warnings_only(read: Read, catalogue: Catalogue, name: str) -> None:
    given = warnings_of(read(name), catalogue)
    assert len(given) == len(WARNINGS[name])
    assert all(re.search(part, warning) for part, warning in zip(WARNINGS[name], given, strict=True))


@pytest.mark.parametrize("name", WARNINGS)
def test_a_scenario_begins_with_what_it_is_and_shows(folder: Traversable, name: str) -> None:
    first, second, *_ = (folder / f"{name}.yaml").read_text(encoding="utf-8").splitlines()
    assert re.fullmatch(r"# [A-Z].{20,}[.]", first)
    assert re.fullmatch(r"# Shows: [a-z].{20,}[.]", second)


@pytest.mark.parametrize("name", WARNINGS)
def test_names_of_people_and_places_are_invented(read: Read, name: str) -> None:
    scenario = read(name)
    words = " ".join([scenario.title, scenario.site.name, *(bed.name for bed in scenario.beds)])
    assert set(re.findall(r"\b[A-Z][a-z]+", words)) == INVENTED[name]


@pytest.mark.parametrize("name", WARNINGS)
def test_the_climate_fits_the_frost_dates(read: Read, name: str) -> None:
    site = read(name).site
    worked_out = frosts_of(Site(latitude=site.latitude, climate=site.climate))
    for given, found in zip(frosts_of(site), worked_out, strict=True):
        assert abs((date(2027, *given.half) - date(2027, *found.half)).days) <= 4


def _together(one: Planting, other: Planting) -> bool:
    return one.bed == other.bed and one.start <= other.clear and other.start <= one.clear


def _of(plan: Plan, *crops: str) -> list[Planting]:
    return [planting for planting in plan.plantings if planting.crop in crops]


def test_the_best_plan_of_the_cold_frame_is_found_and_proven(planned: Planned) -> None:
    found = planned("cold-frame")
    assert isinstance(found, ProvenBest)
    standing = found.plan.standing
    assert standing is not None
    assert (standing.lost, standing.at_least_lost, standing.gap) == (COLD_FRAME_LOSES, COLD_FRAME_LOSES, 0)


def test_what_uses_the_frame_is_gone_before_the_peppers_need_it(planned: Planned, catalogue: Catalogue) -> None:
    # Common practice: salads and radishes are gone before tender plants are set out. Since these go under the frame in
    # mid May and no more in June, nothing sown in this cool place is ripe before them.
    plan = planned("cold-frame").plan
    peppers = _of(plan, "sweet pepper")
    assert sum(pepper.plants for pepper in peppers) >= 3
    before = [
        quick.crop
        for pepper in peppers
        for quick in plan.plantings
        if quick.clear < pepper.start and set(quick.strips) & set(pepper.strips)
    ]
    pepper_height = catalogue.crop("sweet pepper").height.usual
    assert all(catalogue.crop(crop).height.usual < pepper_height / 2 for crop in before)
    # A place is free on the day a pepper goes out: nothing else holds its strips from then on.
    for pepper in peppers:
        others = [p for p in plan.plantings if p is not pepper and _together(p, pepper)]
        assert not [p.crop for p in others if set(p.strips) & set(pepper.strips)]


def test_peppers_stand_on_the_pole_side_of_lettuce_and_kale(planned: Planned) -> None:
    # Common practice: tall plants at the back, which is the north side here.
    plan = planned("cold-frame").plan
    pairs = [
        (pepper, low)
        for pepper in _of(plan, "sweet pepper")
        for low in _of(plan, "leaf lettuce", "kale")
        if _together(pepper, low)
    ]
    assert "leaf lettuce" in {low.crop for _, low in pairs}
    assert all(max(pepper.strips) < min(low.strips) for pepper, low in pairs)


@pytest.mark.parametrize("name", ["cold-frame", "family-garden", "southern-garden"])
def test_a_plan_read_back_holds_every_rule_and_loses_what_it_said(
    planned: Planned, read: Read, catalogue: Catalogue, name: str
) -> None:
    plan = planned(name).plan
    assert plan.standing is not None
    assert plan.plantings
    assert plan.standing.at_least_lost <= plan.standing.lost < plan.standing.lost_if_empty
    anew = recount(make_garden(read(name), catalogue), Plan.model_validate_json(plan.model_dump_json()))
    assert anew.verdict.breaches == ()
    assert sum(goal.lost for goal in anew.goals) == plan.standing.lost
    assert anew.targets == plan.targets


@pytest.mark.parametrize("name", ["cold-frame", "family-garden", "southern-garden"])
def test_what_the_household_must_have_and_has_fixed_is_there(planned: Planned, read: Read, name: str) -> None:
    plan, scenario = planned(name).plan, read(name)
    for pin in scenario.pinned:
        assert [p for p in _of(plan, pin.crop) if (p.bed, p.start) == (pin.bed, pin.start)]
    for must in scenario.household.must_have:
        assert sum(planting.plants for planting in _of(plan, must.crop)) >= must.plants


def test_something_is_fixed_in_the_family_garden_and_asked_for_in_the_cold_frame(read: Read) -> None:
    assert read("family-garden").pinned
    assert read("cold-frame").household.must_have


def test_the_allotment_is_counted_by_bed_and_offers_every_wish_in_every_year(read: Read, catalogue: Catalogue) -> None:
    scenario = read("allotment")
    garden = make_garden(scenario, catalogue)
    assert (len(scenario.beds), scenario.years, len(scenario.household.targets)) == (18, 4, 35)
    # 17 beds of 8 strips (4.8 m) and a tunnel of 10 (6 m), each counted whole.
    assert not garden.exact_beds
    assert sorted(garden.cells.values()) == [8] * 17 + [10]
    offered = {(choice.sowing.crop, choice.sowing.crop_year) for choice in garden.choices}
    wished = {(target.crop, year) for target in scenario.household.targets for year in scenario.planned_years}
    assert wished <= offered


def test_the_program_of_the_allotment_is_whole(read: Read, catalogue: Catalogue) -> None:
    garden = make_garden(read("allotment"), catalogue)
    program = build_program(garden)
    # Choices come first, then marks and goals; small enough for both solvers.
    assert len(garden.choices) < len(program.upper) < 43_000
    assert program.upper[: len(garden.choices)] == (1,) * len(garden.choices)
    assert 1_000 < len(program.rows) < 40_000
    ours = {"free-ground", "rest", "family-once", "bed-shadows", "green-manure-wait"}
    assert {row.claim.rule for row in program.rows if row.claim} == ours
    assert max(number for row in program.rows for number, _ in row.terms) < len(program.upper)
    assert 0 < program.constant < program.cost_if_empty


def test_the_allotments_tunnel_carries_warm_crops_in_summer(read: Read, catalogue: Catalogue) -> None:
    # Half of it and of one open bed, for a year, with nothing on record: nobody says that tomatoes go under cover.
    whole, warm = read("allotment"), {"tomato": 4, "sweet pepper": 1, "cucumber": 3, "melon": 1}
    beds = tuple(bed.model_copy(update={"length": 300.0}) for bed in whole.beds if bed.name in {"stile", "tunnel"})
    targets = tuple(
        target.model_copy(update={"kg": kg, "fresh_from": None, "fresh_to": None})
        for target in whole.household.targets
        if (kg := {**warm, "potato": 5, "carrot": 4}.get(target.crop))
    )
    household = whole.household.model_copy(update={"targets": targets})
    small = whole.model_copy(update={"years": 1, "beds": beds, "household": household, "history": ()})
    found = plan_rotation(small, catalogue, Limits(effort=6.0))
    assert isinstance(found, ProvenBest | Good)
    in_july = date(small.first_year, 7, 16)
    (tunnel,) = [bed for bed in beds if bed.cover == "tunnel"]
    warm_strips = {
        strip
        for planting in found.plan.plantings
        if planting.bed == tunnel.name and planting.crop in warm and planting.start <= in_july <= planting.clear
        for strip in planting.strips
    }
    assert 2 * len(warm_strips) >= strips_in_bed(tunnel)
