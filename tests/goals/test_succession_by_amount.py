"""Something to pick by amount, by hand: what each half month brings of what is wished in it.

Lettuce is picked on the 14 days from 7 to 20 July, 2 kg from each strip: 9 days lie in the first half of July, 5 in the
second. 0.7 kg a week are 1.5 kg in the 15 days of the one and 1.6 kg in the 16 of the other.
"""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from rotasolve.domain.household import Target
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.goals.succession_cover import FreshHalfMonths, SuccessionCover
from rotasolve.referee import recount
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.household.outcomes import target_outcomes
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.agree import lost_both_ways, number_of, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, scenario, start
from tests.helpers.words import said

GOAL = SuccessionCover()
WISH = {"crop": "lettuce", "kg_a_week": 0.7, "fresh_from": "July", "fresh_to": "July"}


def garden_of(strips: int = 3, household: dict[str, object] | None = None, **more: object) -> Garden:
    wish = scenario(targets=[WISH | more], beds=[bed(strips=strips)], household=household)
    return make_garden(wish, CATALOGUE)


def lettuce(garden: Garden, strips: int) -> list[int]:
    """Return blocks of one strip or two that take so many strips."""
    twos = [number_of(garden, "lettuce", 2027, size=2)] if strips > 1 else []
    return [*twos, number_of(garden, "lettuce", 2027, strips, size=1)] if strips % 2 else twos


@pytest.mark.parametrize(
    ("strips", "lost"),
    [
        (0, 10 + 10),
        # 2 x 9/14 = 1.286 of 1.5 kg: 143 thousandths are missing, 2 tenths; 0.714 of 1.6 kg: 554, 6 tenths.
        (1, 2 + 6),
        # 2.571 of 1.5 kg is under twice the wish; 1.429 of 1.6 kg: 107, 2 tenths.
        (2, 2),
        # 3.857 of 1.5 kg: 571 beyond twice the wish, 6 tenths of glut, which no weight multiplies.
        (3, 0),
    ],
)
@pytest.mark.parametrize("weight", [1, 3])
def test_points_by_hand(strips: int, lost: int, weight: int) -> None:
    garden = garden_of(weight=weight)
    assert lost_both_ways(garden, GOAL, lettuce(garden, strips)) == lost * weight + (6 if strips == 3 else 0)


def test_a_welcome_surplus_is_no_glut() -> None:
    garden = garden_of(household={"surplus": "welcome"})
    assert lost_both_ways(garden, GOAL, lettuce(garden, 3)) == 0


def test_a_half_month_in_which_nothing_can_be_picked_is_lost_always() -> None:
    # Nothing is ever picked in August.
    garden = garden_of(fresh_to="August", weight=1)
    assert lost_both_ways(garden, GOAL, []) == 40
    # The wish is that of a week: July asks for as much as before.
    assert lost_both_ways(garden, GOAL, lettuce(garden, 1)) == 2 + 6 + 20


def test_the_years_target_follows_from_the_week() -> None:
    # 31 days of July at 0.1 kg.
    (target,) = garden_of().scenario.household.targets
    assert target.kg == pytest.approx(3.1)
    (outcome,) = target_outcomes(garden_of(), ())
    assert (outcome.wanted_kg, outcome.fresh_half_months_wanted) == (3.1, 2)


def test_an_outcome_counts_half_months_with_nine_tenths_of_the_wish() -> None:
    garden = garden_of()
    for strips, hit in ((1, 0), (2, 1), (3, 2)):
        plan = plan_of(garden, taken_of(garden, lettuce(garden, strips)))
        assert recount(garden, plan).targets[0].fresh_half_months == hit


def test_successions_follow_from_it() -> None:
    # Salad, ripe 30 days after its sowing and picked for a week: no half month of June and July is served by the sowing
    # of another but where a week lies in both, so for four half months three sowings are needed at least.
    salad = crop("salad", "daisies", weeks=1, starts=[start(0, 30, 9)])
    wish = {"crop": "salad", "kg_a_week": 0.9, "fresh_from": "June", "fresh_to": "July", "weight": 5}
    rules = {"family_once": False, "few_plantings": "little"}
    result = plan_rotation(
        scenario(targets=[wish], beds=[bed(strips=4)], rules=rules),
        catalogue([salad], neighbours=[], successions=[]),
        Limits(effort=3),
    )
    assert isinstance(result, Good | ProvenBest)
    assert len({planting.start for planting in result.plan.plantings}) >= 3
    (score,) = [goal for goal in result.plan.goals if goal.goal == GOAL.key]
    assert isinstance(score.reached, FreshHalfMonths)
    assert score.reached.wished_by_amount == 4
    assert score.reached.enough_half_months >= 3


def test_says_in_how_many_half_months_the_amount_is_there() -> None:
    garden = garden_of()
    plan = plan_of(garden, taken_of(garden, lettuce(garden, 3)))
    assert said(GOAL.score(garden, plan)) == ("the amount wished a week in 1 of 1 months, over twice as much in 0.5")


@pytest.mark.parametrize(
    ("wish", "why"),
    [
        ({"kg_a_week": 1}, "kg_a_week is eaten fresh"),
        ({"kg_a_week": 1, "fresh_from": "May", "fresh_to": "June", "keep": 0.5}, "kg_a_week is eaten fresh"),
        ({"kg_a_week": 1, "kg": 3, "fresh_from": "May", "fresh_to": "June"}, "says its amount twice"),
    ],
)
def test_what_a_wish_by_the_week_needs(wish: dict[str, object], why: str) -> None:
    with pytest.raises(ValidationError, match=why):
        Target.model_validate({"crop": "lettuce", **wish})
