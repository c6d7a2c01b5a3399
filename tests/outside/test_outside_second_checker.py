"""The referee against an outsider: both name the same broken rules in shipped, edited and random plans."""

from __future__ import annotations

import ast
import gzip
import random
from collections import Counter
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Planting
from rotasolve.domain.scenario import RawManure
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import read_plan_text
from rotasolve.files.scenarios import read_scenario
from rotasolve.referee import blank_plan, breaches_of
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.agree import plan_of, taken_of
from tests.helpers.strategies import gardens_with_plans
from tests.outside.second_checker import JUDGED, SecondChecker

ROOT = Path(__file__).parents[2]
SHIPPED = ("cold-frame", "two-at-table", "southern-garden", "family-garden", "allotment")
EDITS = {"cold-frame": 60, "two-at-table": 60, "southern-garden": 40, "family-garden": 12, "allotment": 2}
"""Edited plans of each, half of them beside raw manure; large gardens take long to judge."""
DAYS = ("raise_from", "start", "first_harvest", "last_harvest", "clear")


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def plantings_of(name: str) -> tuple[Planting, ...]:
    """Return the plantings of a plan made for a shipped scenario by an earlier version, which break rules of today."""
    file = ROOT / "tests" / "data" / "plans" / f"{name}.json"
    if name == "allotment":
        text = gzip.decompress((ROOT / "tests" / "data" / "allotment.plan.json.gz").read_bytes()).decode()
    else:
        text = file.read_text(encoding="utf-8")
    return read_plan_text(text, str(file)).plan.plantings


def both(garden: Garden, plantings: Sequence[Planting]) -> tuple[set[str], set[str]]:
    """Return the rules that the referee and the outsider find broken, of those that both judge in this garden."""
    judged = set(JUDGED)
    if garden.scenario.seen or any(bed.diseases for bed in garden.scenario.beds):
        judged -= {"rest", "family-once"}
    if any(past.until is not None for past in garden.scenario.history):
        # The page does not say of which years a crop that stands over from before the plan is a host.
        judged -= {"host-years"}
    if garden.scenario.rules.height_order == "by shadow":
        judged -= {"pole-side"}
    plan = blank_plan(garden.scenario, tuple(plantings))
    referee = {breach.claim.rule for breach in breaches_of(garden, plan)}
    return referee & judged, SecondChecker(garden.scenario, garden.catalogue, plantings).broken() & judged


def edited(garden: Garden, plantings: Sequence[Planting], chance: random.Random) -> list[Planting]:
    """Return the plantings with one of them moved, cut, crowded, given to another crop, taken out or set once more."""
    found = list(plantings)
    number = chance.randrange(len(found))
    one, other = found[number], chance.choice(found)
    days = timedelta(days=chance.choice([-400, -30, -7, 7, 14, 30, 400]))
    what = chance.randrange(6)
    if what == 0:
        change: dict[str, Any] = {"strips": other.strips, "bed": other.bed}
    elif what == 1:
        change = {"plants": one.plants * chance.choice([2, 3]), "strips": one.strips[:1]}
    elif what == 2:
        change = {"crop": chance.choice(sorted(garden.crops))}
    elif what == 3:
        change = {"clear": max(one.start, one.clear + days)}
    else:
        change = {field: getattr(one, field) and getattr(one, field) + days for field in DAYS}
    found[number] = one.model_copy(update=change)
    if what == 4:
        del found[number]
    elif what == 5:
        found.append(one)
    return found


def test_the_outsider_takes_nothing_that_it_checks() -> None:
    text = (Path(__file__).parent / "second_checker.py").read_text(encoding="utf-8")
    modules = {node.module or "" for node in ast.walk(ast.parse(text)) if isinstance(node, ast.ImportFrom)}
    ours = {module for module in modules if module.startswith("rotasolve")}
    assert ours
    assert all(module.startswith("rotasolve.domain.") for module in ours)


@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_plans_and_what_an_edit_makes_of_them(name: str, catalogue: Catalogue) -> None:
    scenario = read_scenario(ROOT / "scenarios" / f"{name}.yaml", catalogue)
    plantings, chance = plantings_of(name), random.Random(name)
    eaten = next(one for one in plantings if one.first_harvest is not None)
    manure = RawManure(bed=eaten.bed, spread=eaten.start - timedelta(days=20))
    seen: Counter[str] = Counter()
    for place in (scenario, scenario.model_copy(update={"manure": (manure,)})):
        garden = make_garden(place, catalogue)
        for made in (plantings, *(edited(garden, plantings, chance) for _ in range(EDITS[name]))):
            referee, outsider = both(garden, made)
            assert outsider == referee, [one for one in made if one not in plantings]
            seen.update(referee)
    assert {"free-ground", "spacing-capacity"} <= seen.keys()
    assert "manure-interval" in seen or name == "allotment"  # of which few edits are tried


def test_random_plans_of_random_gardens() -> None:
    seen: Counter[str] = Counter()

    @settings(max_examples=300, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
    @given(gardens_with_plans(8))
    def check(drawn: tuple[Garden, frozenset[int]]) -> None:
        garden, chosen = drawn
        plantings = plan_of(garden, taken_of(garden, chosen)).plantings
        referee, outsider = both(garden, plantings)
        assert outsider == referee
        seen.update(referee)

    check()
    often = {"free-ground", "must-have", "as-pinned", "family-once", "rest", "pole-side", "host-years"}
    assert all(seen[rule] >= 5 for rule in often), seen
