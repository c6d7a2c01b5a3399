"""The two halves of each rule and goal, ``post`` and ``breaches``, ``cost`` and ``score``, go their own ways.

What both reach, through imports, helpers of helpers and methods, is listed here, with the reason why it may be shared.
"""

from __future__ import annotations

import pytest

from tests.helpers.golden import FOLDER
from tests.helpers.reach import functions, reached

CALENDAR = "the calendar, tested against the standard library's"
SETTING = "a setting of the scenario"
RECORD = "a record's own reading of its fields: an input, not a judgement"
SAME_NAME = "not meant: a field of a record that is read here has the same name"
FACTS = "held to facts worked out by hand: "
OUTSIDE = "held to figures computed apart from this project: "

SHARED = {
    "domain.catalogue.Catalogue.cover": SAME_NAME,
    "domain.catalogue.Catalogue.crop": SAME_NAME,
    "domain.figure.Figure.least": RECORD,
    "domain.figure.Figure.most": RECORD,
    "domain.figure.Figure.usual": RECORD,
    "domain.household.FreshMonths.fresh_months": RECORD,
    "domain.obstacle.Obstacle.breadth_cm": SAME_NAME,
    "domain.obstacle.Obstacle.depth_cm": SAME_NAME,
    "domain.bed.Bed.breadth_cm": SAME_NAME,
    "domain.bed.Bed.depth_cm": SAME_NAME,
    "domain.scenario.Scenario.planned_years": RECORD,
    "domain.site.Site.south": RECORD,
    "domain.seasons.first_day": CALENDAR,
    "domain.seasons.garden_year": CALENDAR,
    "domain.seasons.last_day": CALENDAR,
    "domain.seasons.period_of": CALENDAR,
    "domain.seasons.year_start": CALENDAR,
    "recount.ground.Cut.strips": SAME_NAME,
    "relations.ground.blocks.Block.strips": SAME_NAME,
    "relations.ground.garden.Choice.name": SAME_NAME,
    "relations.ground.sowings.Sowing.name": SAME_NAME,
    "relations.season.daily_curves.Curve.days": SAME_NAME,
    "relations.sun.place_sun.SunBeside.least": SAME_NAME,
    "relations.ground.garden.Garden.beds": "the scenario's beds by name",
    "relations.ground.garden.Garden.crops": "the catalogue's crops by name",
    "relations.ground.garden.Garden.wanted": "the crops that a scenario names",
    "relations.ground.garden.Garden.windows_near": FACTS + "windows",
    "relations.ground.growing_season.growing_periods": FACTS + "frost_dates",
    "relations.ground.lie_of_beds.reach_factor": FACTS + "noon_shadows",
    "relations.ground.grown.tallest_standing": FACTS + "standing_heights",
    "relations.sun.bed_sun.strip_minutes": FACTS + "sun_minutes",
    "relations.sun.bed_sun.bed_minutes": FACTS + "sun_minutes",
    "relations.sun.bed_sun.may_want": OUTSIDE + "tests/relations/sun/test_pair_losses.py",
    "relations.sun.pair_losses.PairLoss.minutes_at": OUTSIDE + "tests/relations/sun/test_pair_losses.py",
    "relations.sun.pair_losses.PairLoss.thousandths_at": OUTSIDE + "tests/relations/sun/test_pair_losses.py",
    "relations.sun.pair_losses.pair_loss": OUTSIDE + "tests/relations/sun/test_pair_losses.py",
    "domain.strips.strip_depth_cm": FACTS + "bed_cuts",
    "relations.ground.lie_of_beds.height_class": FACTS + "height_classes",
    "relations.ground.noon_reach.noon_reach_cm": FACTS + "noon_shadows",
    "relations.ground.noon_reach.reaches_middle": "what by shadow means: tests/rules/test_pole_side_by_shadow.py",
    "relations.ground.height_order.goes_by_shadow": SETTING,
    "relations.ground.height_order.height_order_is_on": SETTING,
    "relations.sun.sun_need.least_sun_is_on": SETTING,
    "relations.sun.sun_need.neighbours_count": SETTING,
    "relations.sun.sun_need.half_months_of": CALENDAR,
    "relations.sun.bed_sun.judged": "the months of high sun; least-sun's referee names them itself",
    "relations.sun.bed_sun.known_beds": RECORD,
    "rules.sun_past_neighbours._stands": CALENDAR,
    "goals.little_shade._goal_is_on": SETTING,
    "rules.host_years._asked": SETTING,
}
"""What both halves may reach, without ``rotasolve.``: names of claims besides. Nothing beneath these is looked into."""

BEFORE_POSTING = {"relations.season.courses.percent_of": FACTS + "shares"}
"""What the referee asks too, and the model has asked when its garden was made, so that following calls cannot tell.

The share of a full crop stands on purpose on one way of counting: light, warmth and degree days worked out twice would
be two models of growth. It is held to facts worked out by hand, and growth itself to published trials.
"""

STOP = frozenset(f"rotasolve.{name}" for name in SHARED)
HALVES = {"rules": ("post", "breaches"), "goals": ("cost", "score")}
CLASSES = sorted(
    {
        name.rpartition(".")[0]
        for name in functions()
        for package, halves in HALVES.items()
        if name.startswith(f"rotasolve.{package}.") and name.rpartition(".")[2] == halves[0]
    }
)


def _shared_by(halves_of: str) -> set[str]:
    one, other = HALVES[halves_of.split(".")[1]]
    both = reached(f"{halves_of}.{one}", STOP) & reached(f"{halves_of}.{other}", STOP)
    return {name.removeprefix("rotasolve.") for name in both if not name.endswith("_claim")}


@pytest.mark.parametrize("halves_of", CLASSES)
def test_two_halves_share_nothing_but_what_is_listed(halves_of: str) -> None:
    assert _shared_by(halves_of) - SHARED.keys() == set()


def test_what_is_listed_is_shared_and_its_facts_are_there() -> None:
    assert set().union(*map(_shared_by, CLASSES)) == SHARED.keys()
    reasons = (*SHARED.values(), *BEFORE_POSTING.values())
    told = {reason.removeprefix(FACTS) for reason in reasons if reason.startswith(FACTS)}
    assert told <= {file.stem for file in FOLDER.glob("*.yaml")}


def test_the_referee_asks_what_the_choices_were_made_with() -> None:
    for name in BEFORE_POSTING:
        for judge in ("rules.must_have.MustHaveCrops.breaches", "goals.household_yield.HouseholdYield.score"):
            assert f"rotasolve.{name}" in reached(f"rotasolve.{judge}")


def test_calls_are_followed_through_imports_helpers_and_methods() -> None:
    # rest's post asks the garden for its groups, which asks the graph; must-have's asks what a block yields.
    assert "rotasolve.relations.ground.families.FamilyGraph.family_groups" in reached("rotasolve.rules.rest.Rest.post")
    assert "rotasolve.relations.season.yields.expected_harvest" in reached(
        "rotasolve.rules.must_have.MustHaveCrops.post"
    )
    assert "rotasolve.recount.ground.cut_of" in reached("rotasolve.rules.spacing_capacity.SpacingCapacity.breaches")
