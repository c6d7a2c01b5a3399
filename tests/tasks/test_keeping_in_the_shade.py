"""Plantings kept in gardens where shade counts: what the solver allows beside them, the referee allows too."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.edits import digest_of
from rotasolve.domain.plan import Planting
from rotasolve.domain.result import Good, Impossible, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.ground.keeping import Keeping, with_kept
from rotasolve.solver.cpsat import Limits
from rotasolve.solver.program import build_program
from rotasolve.tasks.replanning import Keep, plan_on
from tests.helpers.agree import broken, model_accepts, taken_of
from tests.helpers.by_hand import modest, plantings
from tests.helpers.tiny import bed, catalogue, crop, figure, planting, scenario, start

HOURS = {"herb": (40, 2), "root": (70, 4), "fruit": (40, 10), "reed": (400, 0.5)}
SHELF = catalogue(
    [
        crop(
            name,
            f"{name} family",
            height,
            starts=[start(1, 30, 14)],
            sun_hours_least=figure(hours, "hours per day"),
        )
        for name, (height, hours) in HOURS.items()
    ]
)
"""Four crops to be started in any of 13 weeks, so that one can follow another in a half month."""
PLACES = ([(0, 0), (130, 0)], [(0, 0), (0, 190)], [(0, 0), (-125, 0), (125, 0)])


def garden_of(places: list[tuple[int, int]], strips: int, order: object, least_sun: object) -> Scenario:
    beds = [bed(f"bed {n}", strips, east=east, north=north) for n, (east, north) in enumerate(places)]
    rules = {"height_order": order, "least_sun": least_sun, "family_gap": 0}
    return scenario(list(HOURS), beds, targets=[{"crop": "reed", "kg": 9}, {"crop": "root", "kg": 9}], rules=rules)


@st.composite
def shady_gardens(draw: st.DrawFn) -> tuple[Scenario, tuple[Planting, ...]]:
    """Draw a garden in which beds shade one another, and one to six plantings by hand."""
    place = garden_of(
        draw(st.sampled_from(PLACES)),
        draw(st.integers(1, 3)),
        draw(st.sampled_from([True, "by shadow", False])),
        draw(st.sampled_from([True, "with neighbours", "with neighbours"])),
    )
    found = draw(st.lists(plantings(make_garden(place, SHELF)), min_size=1, max_size=6))
    return place, tuple(dict.fromkeys(found))


@pytest.mark.parametrize("exact_at_most", [9_000, 0])
def test_what_is_kept_stands_or_the_referee_says_why_not(monkeypatch: pytest.MonkeyPatch, exact_at_most: int) -> None:
    """``plan_on`` raises where the referee finds what the search did not count."""
    monkeypatch.setattr("rotasolve.relations.ground.garden.EXACT_AT_MOST", exact_at_most)
    verdicts: Counter[bool] = Counter()

    @modest(60)
    @given(shady_gardens())
    def check(both: tuple[Scenario, tuple[Planting, ...]]) -> None:
        place, by_hand = both
        broken = judge(make_garden(place, SHELF), blank_plan(place, by_hand)).breaches
        again = plan_on(make_garden(place, SHELF), blank_plan(place, by_hand), Keep(everything=True), Limits(None, 0.3))
        verdicts[bool(broken)] += 1
        if broken:
            assert isinstance(again.result, Impossible)
            return
        assert isinstance(again.result, ProvenBest | Good)
        kept = Counter(digest_of(p) for p in again.result.plan.plantings if p.kept)
        assert kept == Counter(digest_of(p) for p in by_hand)

    check()
    assert verdicts[True] > 5
    assert verdicts[False] > 5


@st.composite
def back_to_back(draw: st.DrawFn) -> Garden:
    """Draw a garden that keeps two plantings on a bed, one cleared in the half month in which the other starts."""
    order, least_sun = draw(st.sampled_from([(False, "with neighbours"), ("by shadow", False), (True, False)]))
    place = garden_of(draw(st.sampled_from(PLACES)), 2, order, least_sun)
    garden = make_garden(place, SHELF)
    crops = st.sampled_from(sorted(HOURS))
    offered = sorted({choice.sowing.start for choice in garden.choices})
    change = draw(st.sampled_from(offered[1:])) + timedelta(days=2)
    ground = {"bed": draw(st.sampled_from(sorted(garden.beds)))}
    strips = draw(st.sampled_from([(1,), (2,), (1, 2)]))
    one = planting(draw(crops), strips, "2027-05-08", change.isoformat(), **ground)
    begin = (change + timedelta(days=2)).isoformat()
    other = planting(draw(crops), draw(st.sampled_from([strips, (1, 2)])), begin, begin, **ground)
    kept = (followed(garden, one), followed(garden, other, frozenset({"clear"})))
    return with_kept(make_garden(place, SHELF, exact=True), Keeping(kept))


def test_what_the_solver_allows_beside_a_kept_crop_that_gives_back_early_the_referee_allows() -> None:
    refused: Counter[bool] = Counter()

    @modest(120)
    @given(back_to_back())
    def check(garden: Garden) -> None:
        kept = [n for n, choice in enumerate(garden.choices) if choice.sowing.kept is not None]
        program = build_program(garden, goals=False)
        if broken(garden, taken_of(garden, kept)):
            return
        for number in set(range(len(garden.choices))) - set(kept):
            taken = taken_of(garden, [*kept, number])
            against = broken(garden, taken)
            assert not (model_accepts(garden, taken, program) and against), (garden.choices[number], against)
            refused[bool(against)] += 1

    check()
    assert min(refused[True], refused[False]) > 50


def test_a_shadow_that_grows_just_when_a_kept_crop_leaves_is_not_overlooked() -> None:
    # Root is 70 cm high, three quarters of it until half way to its first picking. Started on 16 June its noon shadow
    # is 53 x tan(50 - 23.3) = 26 cm in June and 70 x tan(50 - 21.5) = 38 cm in the first half of July: only then it
    # passes the middle of the next strip, 30 cm away, on which herb stands until 3 July.
    place = garden_of([(0, 0), (130, 0)], 2, "by shadow", False)
    garden = make_garden(place, SHELF)
    herb = followed(garden, planting("herb", (1,), "2027-05-08", "2027-07-03", bed="bed 0"))
    root = followed(garden, planting("root", (1,), "2027-07-05", "2027-07-05", bed="bed 0"), frozenset({"clear"}))
    shady = followed(garden, planting("root", (2,), "2027-06-16", "2027-06-16", bed="bed 0"), frozenset({"clear"}))
    assert len(judge(garden, blank_plan(place, (herb, root, shady))).breaches) == 1
    beside = with_kept(make_garden(place, SHELF, exact=True), Keeping((herb, root)))
    june = [sowing for sowing in beside.sowings_by_bed["bed 0"] if sowing.start == shady.start]
    assert {sowing.crop for sowing in june} == {"herb", "fruit"}
