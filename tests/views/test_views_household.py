"""Screens of the household: supply, comparison and exchange, in golden files and in every width."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.comparison import (
    Change,
    Comparison,
    CropFigures,
    Difference,
    GoalPoints,
    PlanFigures,
    Side,
    WorkLoad,
)
from rotasolve.domain.exchange import Exchange, ExchangePoint
from rotasolve.domain.moves import Changes, CropKg, Move
from rotasolve.domain.plan import Harvest, Plan, TargetOutcome
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.seasons import PERIODS_PER_YEAR
from rotasolve.domain.supply import CropSupply, HalfMonthSupply, Spell, SpringSupply
from rotasolve.views.pages.comparison import comparison_page, letter
from rotasolve.views.pages.exchange import exchange_page
from rotasolve.views.pages.supply import supply_page
from rotasolve.views.pages.target_table import target_table
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import TIED, say_counted, say_yield

Golden = Callable[[str, str], None]
LOOKS = [Look(50), Look(80), Look(120), Look(80, plain=True)]
OCTOBER = 2027 * PERIODS_PER_YEAR + 18


def name_of(look: Look) -> str:
    return f"{look.width}{'_ascii' if look.plain else ''}"


def fits(text: str, look: Look) -> None:
    assert all(columns_of(line) <= look.width for line in text.splitlines())
    assert not look.plain or text.isascii()


@pytest.fixture
def supplies() -> tuple[CropSupply, ...]:
    halves = (
        HalfMonthSupply(period=OCTOBER - 1, harvested_g=900, kept_g=600, surplus_g=300, in_store_g=600),
        HalfMonthSupply(
            period=OCTOBER, wanted_g=1000, harvested_g=800, eaten_fresh_g=800, eaten_kept_g=200, in_store_g=400
        ),
        HalfMonthSupply(period=OCTOBER + 1, wanted_g=1000, eaten_kept_g=300, spoilt_g=100),
    )
    spells = (
        Spell(kind="gap", first_period=OCTOBER + 1, last_period=OCTOBER + 1, grams=700),
        Spell(kind="glut", first_period=OCTOBER - 1, last_period=OCTOBER - 1, grams=300),
        Spell(kind="in store", first_period=OCTOBER - 1, last_period=OCTOBER, grams=600),
    )
    kale = CropSupply(
        crop="kale",
        keeps="cool",
        keeps_weeks=2,
        half_months=halves,
        spells=spells,
        counted_in="meals",
        kg_per_unit=0.1,
    )
    garlic = CropSupply(crop="garlic", keeps="not", keeps_weeks=0, half_months=(), spells=())
    return kale, garlic


MARCH = 2027 * PERIODS_PER_YEAR + 4
SPRINGS = (
    SpringSupply(
        year=2027,
        hungry=True,
        first_period=MARCH - 2,
        last_period=MARCH + 4,
        picked_g=(),
        stored_g=(),
        little_g=420,
        begins_plan=True,
    ),
    SpringSupply(
        year=2028,
        hungry=False,
        first_period=MARCH + 24,
        last_period=MARCH + 29,
        picked_g=(("leek", 3200), ("kale", 640)),
        stored_g=(("garlic", 430),),
        little_g=420,
        begins_plan=False,
    ),
)


@pytest.mark.parametrize("look", LOOKS, ids=name_of)
def test_supply_page(
    golden: Golden, scenario: Scenario, catalogue: Catalogue, supplies: tuple[CropSupply, ...], look: Look
) -> None:
    text = supply_page(scenario, catalogue, supplies, SPRINGS, "typical", look)
    fits(text, look)
    golden(f"supply_{name_of(look)}", text)


@pytest.fixture
def comparison(plan: Plan) -> Comparison:
    kale = CropFigures(
        crop="kale",
        wanted_kg=8,
        got=Harvest(low_kg=4.2, typical_kg=10.5, high_kg=18.9),
        short_kg=4,
        fresh_half_months=3,
        fresh_half_months_wanted=8,
        counted_in="meals",
        kg_per_unit=0.1,
    )
    garlic = CropFigures(crop="garlic", got=Harvest(low_kg=4, typical_kg=10, high_kg=18))
    work = (WorkLoad(period=OCTOBER, sowings=2, settings_out=1), WorkLoad(period=OCTOBER + 1, settings_out=1))
    one = PlanFigures(crops=(kale, garlic), ground_m2=7.68, bed_months=9.5, work=work)
    other = PlanFigures(crops=(kale,), ground_m2=3.84, bed_months=4, work=work[:1])
    sides = (
        Side(name="yard.yaml", title="Ottilie's [red]yard[/red]", plan=plan, figures=one),
        Side(name="more.yaml", title="With more", plan=plan, figures=other, planned_here=True),
    )
    differences = (Difference(year=2027, bed="long bed", crop="garlic", plants=(20, 0)),)
    gone = Changes(moves=(Move(before=plan.plantings[0], after=None),), new=(plan.plantings[1],), unchanged=3)
    harvest = (CropKg(crop="kale", kg=1.2), CropKg(crop="garlic", kg=-10))
    points = (GoalPoints(goal="few-plantings", more=-30), GoalPoints(goal="household-yield", more=150))
    change = Change(side=1, changes=gone, harvest=harvest, points=points)
    return Comparison(sides=sides, differences=differences, changes=(change,))


def test_only_what_can_be_compared_is_named(catalogue: Catalogue, comparison: Comparison) -> None:
    def text_of(told: Comparison) -> str:
        return " ".join(comparison_page(told, catalogue, False, Look(400)).split())

    whole = text_of(comparison)
    assert "points lost" in whole
    assert "gap" in whole
    first, second = comparison.sides
    assert first.plan.standing is not None
    repaired = first.plan.model_copy(update={"standing": first.plan.standing.model_copy(update={"keeps": 3})})
    mended = comparison.model_copy(update={"sides": (first, second.model_copy(update={"plan": repaired}))})
    assert "No gap is said of B: planned around what was kept" in text_of(mended)
    assert text_of(mended).count("1.2 %") == whole.count("1.2 %") - 1
    (change,) = comparison.changes
    others = {"same_wishes": False, "changes": (change.model_copy(update={"points": None}),)}
    apart = text_of(comparison.model_copy(update=others))
    assert "Points are left out" in apart
    assert "points lost" not in apart
    assert "It loses" not in apart


@pytest.mark.parametrize("look", LOOKS, ids=name_of)
def test_comparison_page(golden: Golden, catalogue: Catalogue, comparison: Comparison, look: Look) -> None:
    text = comparison_page(comparison, catalogue, False, look)
    fits(text, look)
    golden(f"comparison_{name_of(look)}", text)


@pytest.mark.parametrize("look", LOOKS, ids=name_of)
@pytest.mark.parametrize("crop", [None, "kale"])
def test_exchange_page(golden: Golden, plan: Plan, crop: str | None, look: Look) -> None:
    point = ExchangePoint(
        amount=2, outcome="good, not proven", lost=1204, at_least_lost=1100, lost_if_empty=9600, gap=0.0122, plan=plan
    )
    best = point.model_copy(update={"amount": 1.0, "outcome": "proven best", "lost": 400, "at_least_lost": 400})
    none = ExchangePoint(amount=40, outcome="impossible")
    points = (best, point, none)
    exchange = Exchange(scenario_title=plan.scenario_title, crop=crop, points=points, limit="80 s", seed=1, seconds=79)
    text = exchange_page(exchange, look)
    fits(text, look)
    golden(f"exchange_{crop or 'people'}_{name_of(look)}", text)


def test_a_harvest_is_said_in_both_units(plan: Plan, scenario: Scenario) -> None:
    assert say_counted(4.2, "meals", 0.07).replace(TIED, " ") == "4.2 kg (60 meals)"
    assert say_counted(4.2, "litres of jars", 1.2).replace(TIED, " ") == "4.2 kg (3.5 litres of jars)"
    assert say_counted(4.2, "kg", 1).replace(TIED, " ") == "4.2 kg"
    outcome = TargetOutcome(
        crop="kale",
        year=2027,
        wanted_kg=4,
        got=Harvest(low_kg=2, typical_kg=5, high_kg=8),
        keep_kg=1,
        counted_in="meals",
        kg_per_unit=0.1,
        met_at="low yield",
    )
    lines = "\n".join(target_table(scenario, plan.model_copy(update={"targets": (outcome,)}), 2027, Look(120)))
    for part in ("4 kg (40 meals)", "1 kg", "5 kg (50 meals)", "2 to 8 kg", "50 % in a poor year"):
        assert part in lines


def test_a_yield_is_said_with_its_range() -> None:
    harvest = Harvest(low_kg=7, typical_kg=12, high_kg=20)
    assert say_yield(harvest).replace(TIED, " ") == "12 kg (7 to 20)"
    assert say_yield(Harvest(low_kg=3, typical_kg=3, high_kg=3)).replace(TIED, " ") == "3 kg"


def test_sides_have_letters() -> None:
    assert [letter(number) for number in (0, 25, 26, 53)] == ["A", "Z", "A2", "B3"]
