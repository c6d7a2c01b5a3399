"""Published rotation plans judged by the rest rule: accepted and refused as their families tell, and in which words.

Sources stand with each plan in tests/data/rotations.json. The published plans are laid out over two whole cycles, with
the dates of a garden, and given to the referee: once with the winter crops cleared by New Year, once with them standing
on. A scenario holds ten years at most, so the first years of the longer cycles stand in its history.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Harvest, Plan, Planting
from rotasolve.domain.result import Good, Impossible, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.goals.order_of_demand import DemandMet, OrderOfDemand
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.words import said

DATA: dict[str, Any] = json.loads((Path(__file__).parents[1] / "data" / "rotations.json").read_text(encoding="utf-8"))
PUBLISHED: list[dict[str, Any]] = DATA["rotations"]
BY_ID = {plan["id"]: plan for plan in PUBLISHED}
BEGIN = 2021
MOST_YEARS = 10
NONE_BUT_HARVEST = Harvest(low_kg=0, typical_kg=0, high_kg=0)

Cell = tuple[int, int, str]
"""Bed from 1, year from 0, crop."""


def _cells(courses: list[list[str]], variant: dict[str, Any] | None = None) -> list[Cell]:
    """Lay the courses out over two cycles, with the changed bed years of a variant."""
    count, change = len(courses), variant or {}
    instead = {(bed, year - 1): course - 1 for bed, year, course in change.get("instead_in_bed_and_year", [])}
    cells = [
        (bed, year, crop)
        for bed in range(1, count + 1)
        for year in range(2 * count)
        for crop in courses[instead.get((bed, year), (bed - 1 + year) % count)]
    ]
    return cells + [(bed, year - 1, crop) for bed, year, crop in change.get("besides_in_bed_and_year", [])]


def _day(text: str | None, year: int) -> date | None:
    """Return the day of ``MM-DD``, with ``-1`` or ``+1`` before it of the year before or after."""
    if text is None:
        return None
    beside, _, day = text.rpartition(" ")
    return date.fromisoformat(f"{year + int(beside or 0)}-{day}")


def _planting(cell: Cell, strip: int, after_new_year: bool) -> Planting:
    bed, year, crop = cell
    begin, first, *clears = (_day(text, BEGIN + year) for text in DATA["dates"][crop])
    clear = clears[-1 if after_new_year else 0]
    return Planting.model_validate(
        {
            "bed": f"bed {bed}",
            "strips": (strip,),
            "crop": crop,
            "way": "sown in place",
            "start": begin,
            "first_harvest": first,
            "last_harvest": first and clear,
            "clear": clear,
            "rows": 1,
            "plants": 1,
            "harvest": NONE_BUT_HARVEST,
        }
    )


def _garden(beds: int, years: int, length: str = "4 m", **more: object) -> Scenario:
    return Scenario.model_validate(
        {
            "title": "A published rotation",
            "site": {"latitude": 52, "last_frost": {"half": "5 May"}, "first_frost": {"half": "15 October"}},
            "first_year": BEGIN,
            "years": years,
            "beds": [{"name": f"bed {n}", "length": length, "width": "1.2 m"} for n in range(1, beds + 1)],
            **more,
        }
    )


def _laid_out(
    catalogue: Catalogue, cells: list[Cell], gap: int | None = None, after_new_year: bool = True
) -> tuple[Garden, Plan]:
    """Return the garden and the plan; each crop of a bed and year stands on a strip of its own."""
    span = max(year for _, year, _ in cells) + 1
    past = max(0, span - MOST_YEARS)
    history = [
        {"bed": planting.bed, "crop": planting.crop, "year": BEGIN + cell[1], "until": planting.clear}
        for cell in cells
        if cell[1] < past
        for planting in [_planting(cell, 1, after_new_year)]
    ]
    planted = [cell for cell in cells if cell[1] >= past]
    scenario = _garden(
        max(bed for bed, _, _ in cells),
        span - past,
        first_year=BEGIN + past,
        history=history,
        rules={"family_gap": gap, "family_gap_wished": gap},
    )
    beside: Counter[tuple[int, int]] = Counter()
    plantings = []
    for cell in planted:
        beside[cell[:2]] += 1
        plantings.append(_planting(cell, beside[cell[:2]], after_new_year))
    return make_garden(scenario, catalogue), blank_plan(scenario, tuple(plantings))


def _refused(
    catalogue: Catalogue, cells: list[Cell], gap: int | None, after_new_year: bool = True
) -> dict[str, list[str]]:
    """Return what the referee says of rest, by family."""
    found: dict[str, list[str]] = {}
    for breach in judge(*_laid_out(catalogue, cells, gap, after_new_year)).breaches:
        if breach.claim.rule == "rest":
            found.setdefault(breach.claim.about[0], []).append(said(breach))
    return found


def _covers_count(catalogue: Catalogue) -> Catalogue:
    crops = tuple(crop.model_copy(update={"counts_for_rest": True}) for crop in catalogue.crops)
    return catalogue.model_copy(update={"crops": crops})


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    whole = load_catalogue()
    rye, clover = whole.crop("winter rye"), whole.crop("crimson clover")
    # Cereals for their grain are hosts, as rye for the ground's sake is not.
    grain = {"also": (), "counts_for_rest": True}
    fields = [rye.model_copy(update={"name": name, **grain}) for name in ("spring barley", "winter wheat")]
    fields.append(clover.model_copy(update={"name": "lucerne", "also": ()}))
    return whole.model_copy(update={"crops": (*whole.crops, *fields)})


# The verdicts of the collected facts: at the family gap given, in complete years without a member.
@pytest.mark.parametrize(
    ("plan", "gap"),
    [("RHS3", 2), ("MAFF3", 2), ("LC3", 2), ("LC4", 3), ("HIL4", 3), ("LC5", 4), ("PLBOR5", 4), ("MKT5", 4)],
)
@pytest.mark.parametrize("after_new_year", [False, True], ids=["cleared by New Year", "standing on"])
def test_sound_plans_are_accepted_at_their_gap_and_refused_above_it(
    catalogue: Catalogue, plan: str, gap: int, after_new_year: bool
) -> None:
    cells = _cells(BY_ID[plan]["courses"])
    assert _refused(catalogue, cells, gap, after_new_year) == {}
    assert _refused(catalogue, cells, gap + 1, after_new_year) != {}


@pytest.mark.parametrize(
    ("plan", "family", "first", "then", "rest"),
    [
        ("LFRN4", "Solanaceae", "tomato", "potato", 0),
        ("LFRN4", "Amaranthaceae", "beetroot", "chard", 1),
        ("NUT4", "Brassicaceae", "cabbage", "turnip", 0),
        ("NUT4", "Brassicaceae", "cabbage", "swede", 0),
        ("FAO4", "Amaranthaceae", "beetroot", "spinach", 0),
        ("NC4", "Amaranthaceae", "beetroot", "spinach", 1),
        ("AU4", "Solanaceae", "potato", "tomato", 1),
        ("SIX6", "Solanaceae", "potato", "tomato", 1),
        ("DE3", "Solanaceae", "tomato", "sweet pepper", 0),
        ("DE3", "Amaryllidaceae", "leek", "onion", 0),
        ("DE3", "Brassicaceae", "radish", "cabbage", 0),
        ("DE3", "Apiaceae", "celery", "carrot", 0),
    ],
)
def test_published_plans_that_bring_a_family_back_too_soon_are_refused_in_words(
    catalogue: Catalogue, plan: str, family: str, first: str, then: str, rest: int
) -> None:
    said = _refused(catalogue, _cells(BY_ID[plan]["courses"]), 2).get(family, [])
    wording = re.compile(
        rf"{family} rest for 2 complete years between plantings in bed \d, but "
        rf"{first} in (\d+), {then} in (\d+): {rest} complete years? between, 2 needed"
    )
    matches = [match for sentence in said if (match := wording.fullmatch(sentence))]
    assert matches, said
    assert {int(match[2]) - int(match[1]) - 1 for match in matches} == {rest}


@pytest.mark.parametrize("gap", range(1, 6))
@pytest.mark.parametrize("plan", PUBLISHED, ids=lambda plan: plan["id"])
def test_every_family_is_refused_from_the_gap_that_its_plan_does_not_keep(
    catalogue: Catalogue, plan: dict[str, Any], gap: int
) -> None:
    expected = {family for family, years in plan["complete_years_without"].items() if years < gap}
    for after_new_year in (False, True):
        found = _refused(_covers_count(catalogue), _cells(plan["courses"]), gap, after_new_year)
        assert set(found) == expected


def test_leeks_left_to_grow_on_in_may_do_break_a_three_year_rotation(
    catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    # 31 days of April and May: hosts of the next year too, with 1 complete year to the leeks two years after it.
    monkeypatch.setitem(DATA["dates"], "leek", ["06-15", "10-15", "12-31", "+1 05-01"])
    assert set(_refused(catalogue, _cells(BY_ID["RHS3"]["courses"]), 2)) == {"Amaryllidaceae"}
    assert _refused(catalogue, _cells(BY_ID["RHS3"]["courses"]), 2, after_new_year=False) == {}


@pytest.mark.parametrize("gap", [1, 2])
def test_a_plan_whose_direction_is_not_known_is_refused_both_ways(catalogue: Catalogue, gap: int) -> None:
    # FAO4: the arrows of the picture were not readable.
    courses = BY_ID["FAO4"]["courses"]
    assert set(_refused(catalogue, _cells(courses), gap)) == {"Amaranthaceae"}
    assert set(_refused(catalogue, _cells(courses[::-1]), gap)) == {"Amaranthaceae"}


def test_a_clover_ley_before_beans_is_accepted_only_because_covers_are_exempt(catalogue: Catalogue) -> None:
    cells = _cells(BY_ID["MKT5"]["courses"])
    assert _refused(catalogue, cells, 4) == {}
    assert set(_refused(_covers_count(catalogue), cells, 1)) == {"Fabaceae"}


def test_a_field_rotation_keeps_six_years_between_potatoes_if_cereals_and_leys_are_exempt(catalogue: Catalogue) -> None:
    crops = tuple(c.model_copy(update={"counts_for_rest": c.family != "Poaceae"}) for c in catalogue.crops)
    fields = catalogue.model_copy(
        update={"crops": tuple(c.model_copy(update={"counts_for_rest": False}) if c.green_manure else c for c in crops)}
    )
    cells = _cells(BY_ID["POZ7"]["courses"])
    assert _refused(fields, cells, 6) == {}
    assert set(_refused(fields, cells, 7)) == {"Solanaceae", "Brassicaceae"}


@pytest.mark.parametrize(("legume_gap", "refused"), [(1, set()), (2, {"Fabaceae"}), (4, {"Fabaceae"})])
def test_eight_courses_keep_three_years_between_nightshades_but_one_between_legumes(
    catalogue: Catalogue, legume_gap: int, refused: set[str]
) -> None:
    # PGRO asks for four years between legumes where foot rot is known.
    families = tuple(
        family.model_copy(update={"gap_hard": legume_gap if family.name == "Fabaceae" else 3})
        for family in catalogue.families
    )
    own_gaps = catalogue.model_copy(update={"families": families})
    assert set(_refused(own_gaps, _cells(BY_ID["COL8"]["courses"]), None)) == refused


@pytest.mark.parametrize(
    ("plan", "variant"),
    [(plan, variant) for plan in PUBLISHED for variant in plan["variants"]],
    ids=lambda value: value["id"] if "id" in value else value["what"],
)
def test_changed_plans_are_judged_by_what_the_change_does(
    catalogue: Catalogue, plan: dict[str, Any], variant: dict[str, Any]
) -> None:
    found = _refused(catalogue, _cells(variant["courses"], variant), variant["gap"])
    assert sorted(found) == variant["breaks"]
    as_published = set(_refused(catalogue, _cells(plan["courses"]), variant["gap"]))
    assert as_published != set(variant["breaks"])


RHS3_YEARS = 4
RHS3_GROUPS = ("potato", "pea", "cabbage")


def _three_sections(gap: int) -> Scenario:
    """Return RHS3 as a wish: three beds, and one crop of each group every year."""
    return _garden(
        3,
        RHS3_YEARS,
        "1.2 m",
        household={"must_have": [{"crop": crop, "plants": 4} for crop in RHS3_GROUPS]},
        rules={"family_gap": gap, "family_gap_wished": gap},
    )


def test_the_solver_finds_the_three_year_rotation_of_itself(catalogue: Catalogue) -> None:
    # RHS-3 (Royal Horticultural Society advice, 2020 copy): each group returns to its section every third year.
    result = plan_rotation(_three_sections(2), catalogue, Limits(effort=2))
    assert isinstance(result, ProvenBest | Good)
    assert result.plan.verdict.breaches == ()
    for crop in RHS3_GROUPS:
        harvested = [p for p in result.plan.plantings if p.crop == crop and p.first_harvest]
        beds = [
            {p.bed for p in harvested if p.first_harvest and p.first_harvest.year == BEGIN + n}
            for n in range(RHS3_YEARS)
        ]
        assert [len(here) for here in beds] == [1] * RHS3_YEARS
        assert beds[0] | beds[1] | beds[2] == {"bed 1", "bed 2", "bed 3"}
        assert beds[3] == beds[0]


def test_three_sections_cannot_keep_three_years_between(catalogue: Catalogue) -> None:
    # Common practice and arithmetic: a gap of three years needs four beds if the crop is grown every year.
    result = plan_rotation(_three_sections(3), catalogue, Limits(effort=2))
    assert isinstance(result, Impossible)
    assert {claim.rule for claim in result.clash} == {"rest", "must-have"}


# The orders of demand, as their sources describe them: potatoes, legumes, cabbages, roots (HILLS-1978), and the same
# from the roots on (LONGCROFT); cabbages, sweet corn and potatoes one after the other (COLEMAN-8); potatoes and roots
# on one plot, and leeks, heavy feeders in our files, among the legumes after them (MAFF-1945); manured heavy feeders,
# roots, legumes, potatoes and then heavy feeders again (NUTR-4).
@pytest.mark.parametrize(
    ("plan", "again", "roots_on_fed", "after_legumes"),
    [
        ("HIL4", False, False, True),
        ("LC4", False, False, True),
        ("COL8", True, False, True),
        ("MAFF3", True, True, True),
        ("NUT4", True, False, True),
    ],
)
def test_published_orders_of_demand_are_read_as_their_sources_tell(
    catalogue: Catalogue, plan: str, again: bool, roots_on_fed: bool, after_legumes: bool
) -> None:
    score = OrderOfDemand().score(*_laid_out(catalogue, _cells(BY_ID[plan]["courses"])))
    found = score.reached
    assert isinstance(found, DemandMet)
    assert found.heavy > 0
    assert (found.heavy_again > 0) is again
    assert (found.roots_on_fed > 0) is roots_on_fed
    assert (found.heavy_unprepared < found.heavy) is after_legumes
