"""Planning on from an earlier plan: what is kept stands as it was, by hand or not, or it is said why it cannot."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.edits import digest_of, edits_of, sealed
from rotasolve.domain.plan import Plan, Planting
from rotasolve.domain.result import Good, Impossible, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan, judge
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.by_hand import take_up
from rotasolve.tasks.replanning import Keep, Replanned, kept_plantings, plan_on
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.by_hand import WIDE, gardens_by_hand, modest
from tests.helpers.strategies import scenarios
from tests.helpers.tiny import CATALOGUE, bed, day, planting, scenario
from tests.helpers.words import said

ALL = Keep(everything=True)
LETTUCE = ("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")


def plan_of(again: Replanned) -> Plan:
    assert isinstance(again.result, ProvenBest | Good), again
    return again.result.plan


def on(place: Scenario, earlier: Plan, keep: Keep, effort: float = 0.5) -> Replanned:
    return plan_on(make_garden(place, CATALOGUE), earlier, keep, Limits(seconds=None, effort=effort))


def alike(plantings: tuple[Planting, ...]) -> Counter[str]:
    return Counter(digest_of(p) for p in plantings)


@pytest.fixture
def place() -> Scenario:
    targets = [{"crop": "kale", "kg": 4}, {"crop": "lettuce", "kg": 2}]
    return scenario(["kale", "lettuce", "bean"], [bed("bed", 3), bed("other", 2)], 2, targets)


@pytest.fixture
def earlier(place: Scenario) -> Plan:
    found = plan_rotation(place, CATALOGUE, Limits(seconds=None, effort=1))
    assert isinstance(found, ProvenBest | Good)
    return found.plan


@pytest.mark.parametrize("exact_at_most", [9_000, 0])
def test_what_is_kept_stands_as_it_was_or_the_referee_says_why_not(
    monkeypatch: pytest.MonkeyPatch, exact_at_most: int
) -> None:
    """Also in beds modelled by counts: 0 exact choices at most."""
    monkeypatch.setattr("rotasolve.relations.ground.garden.EXACT_AT_MOST", exact_at_most)
    verdicts: Counter[bool] = Counter()

    @modest(60)
    @given(gardens_by_hand())
    def check(both: tuple[Scenario, tuple[Planting, ...]]) -> None:
        place, by_hand = both
        broken = judge(make_garden(place, WIDE), blank_plan(place, by_hand)).breaches
        again = plan_on(make_garden(place, WIDE), blank_plan(place, by_hand), ALL, Limits(seconds=None, effort=0.3))
        verdicts[bool(broken)] += 1
        if broken:
            assert isinstance(again.result, Impossible)
            assert [(b.claim, b.found) for b in again.against] == [(b.claim, b.found) for b in broken]
            return
        plan = plan_of(again)
        assert not plan.verdict.breaches
        assert not alike(by_hand) - alike(tuple(p for p in plan.plantings if p.kept))
        assert sum(p.kept for p in plan.plantings) == len(by_hand)

    check()
    assert verdicts[True] > 5
    assert verdicts[False] > 5


def test_a_plan_kept_whole_where_nothing_else_is_wanted_comes_back_as_it_was(place: Scenario, earlier: Plan) -> None:
    bare = place.model_copy(update={"also_allowed": (), "household": type(place.household)()})
    again = on(bare, earlier, ALL)
    assert alike(plan_of(again).plantings) == alike(earlier.plantings)
    assert again.changes is not None
    assert (again.changes.moves, again.changes.new, again.changes.unchanged) == ((), (), len(earlier.plantings))


def test_only_what_was_changed_by_hand_is_kept_at_first(place: Scenario, earlier: Plan) -> None:
    first = earlier.plantings[0]
    fewer = first.model_copy(update={"plants": first.plants - 1})
    edited, notes = take_up(
        make_garden(place, CATALOGUE), earlier.model_copy(update={"plantings": (fewer, *earlier.plantings[1:])})
    )
    # Its kilograms did not follow any more.
    assert [(note.number, note.fields) for note in notes] == [(0, ("harvest",))]
    plan = plan_of(on(place, edited, Keep()))
    kept = [p for p in plan.plantings if p.kept]
    assert [digest_of(p) for p in kept] == [digest_of(edited.plantings[0])]
    assert kept[0].harvest.typical_kg == pytest.approx(first.harvest.typical_kg * fewer.plants / first.plants)
    assert plan.standing is not None
    assert (plan.standing.keeps, plan.standing.nothing_new_by) == (1, None)
    # Kept once, kept again, though the file is now as it was written.
    assert edits_of(plan) is not None
    assert kept_plantings(make_garden(place, CATALOGUE), plan, Keep()) == tuple(kept)


def test_nothing_kept_only_starts_from_the_plan(place: Scenario, earlier: Plan) -> None:
    plan = plan_of(on(place, earlier, Keep(changed=False), 1))
    assert not any(p.kept for p in plan.plantings)
    assert sum(g.lost for g in plan.goals) <= sum(g.lost for g in earlier.goals)


def test_beds_and_crops_are_kept_by_name(place: Scenario, earlier: Plan) -> None:
    kept = kept_plantings(make_garden(place, CATALOGUE), earlier, Keep(changed=False, beds=frozenset({"other"})))
    assert {p.bed for p in kept} == {"other"}
    kept = kept_plantings(make_garden(place, CATALOGUE), earlier, Keep(changed=False, crops=frozenset({"kale"})))
    assert {p.crop for p in kept} == {"kale"}


def test_what_is_in_the_ground_stays_and_nothing_new_is_started_in_the_past(place: Scenario, earlier: Plan) -> None:
    # 17 July 2027 is kale's day: it stands; nothing else of that day or before is new.
    today = date(2027, 7, 17)
    begun = [p for p in earlier.plantings if p.start <= today]
    assert begun
    plan = plan_of(on(place, earlier, Keep(as_of=today)))
    assert alike(tuple(p for p in plan.plantings if p.start <= today)) == alike(tuple(begun))
    assert plan.standing is not None
    assert (plan.standing.keeps, plan.standing.nothing_new_by) == (len(begun), today)


def test_seedlings_under_way_may_still_be_set_out() -> None:
    # Tomato is set out on 15 May; with 6 weeks indoors it is sown on 3 April.
    raised = WIDE.crops[3].model_copy(
        update={
            "starts": tuple(
                s.model_copy(
                    update={"weeks_indoors": type(s.earliest)(value=6, unit="weeks", source=("common-practice",))}
                )
                for s in WIDE.crops[3].starts
            )
        }
    )
    own = WIDE.model_copy(update={"crops": tuple(raised if c.name == "tomato" else c for c in WIDE.crops)})
    place = scenario(["tomato"], targets=[{"crop": "tomato", "kg": 4}])
    found = plan_rotation(place, own, Limits(seconds=None, effort=1))
    assert isinstance(found, ProvenBest)
    (tomato,) = found.plan.plantings
    assert tomato.raise_from == tomato.start - timedelta(weeks=6)
    between = Keep(as_of=tomato.start - timedelta(days=3))
    plan = plan_of(plan_on(make_garden(place, own), found.plan, between, Limits(seconds=None, effort=0.5)))
    assert [(p.crop, p.start) for p in plan.plantings] == [("tomato", tomato.start)]
    # Without them no tomato could be sown any more.
    none = found.plan.model_copy(update={"plantings": ()})
    assert not plan_of(plan_on(make_garden(place, own), none, between, Limits(seconds=None, effort=0.5))).plantings


def test_a_crop_that_failed_gives_its_ground_back_and_yields_nothing() -> None:
    place = scenario(["kale", "lettuce"], [bed("bed", 3)], targets=[{"crop": "kale", "kg": 6}])
    plan = sealed(blank_plan(place, (planting("lettuce", (1, 2, 3), "2027-05-08", "2027-07-31", "2027-07-07"),)))
    failed = day("2027-06-08")
    kept = kept_plantings(make_garden(place, CATALOGUE), plan, Keep(as_of=failed, failed=frozenset({0})))
    assert [(p.clear, p.first_harvest, p.harvest.typical_kg) for p in kept] == [(failed, None, 0)]
    found = plan_of(on(place, plan, Keep(as_of=failed, failed=frozenset({0}))))
    # Until 31 July the lettuce would have been in the way of kale, which is sown on 17 July.
    assert [(p.crop, p.strips) for p in found.plantings if p.start > failed] == [("kale", (1, 2, 3))]
    # Up to 30 days in the season, from 8 May to 6 June, it is no host yet: nothing of it is kept.
    for last, there in (("2027-06-06", 0), ("2027-06-07", 1)):
        young = Keep(as_of=day(last), failed=frozenset({0}))
        assert len(kept_plantings(make_garden(place, CATALOGUE), plan, young)) == there
    with pytest.raises(GardenFault, match="2 August 2027 is not a day on which it stands"):
        kept_plantings(make_garden(place, CATALOGUE), plan, Keep(as_of=day("2027-08-02"), failed=frozenset({0})))


def test_a_day_inside_the_window_that_is_not_on_offer_is_kept() -> None:
    place = scenario(["kale"], targets=[{"crop": "kale", "kg": 2}])
    garden = make_garden(place, WIDE)
    offered = {s.start for s in garden.sowings_by_bed["bed"]}
    chosen = day("2027-08-05")
    assert chosen not in offered
    by_hand = followed(garden, planting("kale", (1,), "2027-08-05", "2027-08-05"), frozenset({"clear"}))
    plan = plan_of(
        plan_on(make_garden(place, WIDE), blank_plan(place, (by_hand,)), ALL, Limits(seconds=None, effort=0.5))
    )
    assert by_hand.model_copy(update={"kept": True}) in plan.plantings


def test_a_day_outside_the_window_is_refused_with_the_days_that_would_do(place: Scenario) -> None:
    late = planting("lettuce", (1,), "2027-06-30", "2027-09-15", "2027-08-30")
    again = on(place, blank_plan(place, (late,)), ALL)
    assert isinstance(again.result, Impossible)
    (breach,) = again.against
    assert said(breach).endswith("sown in place on 30 June 2027, open from 8 May 2027 to 8 May 2027")
    assert [p.crop for p in breach.plantings] == ["lettuce"]
    clash = " ".join(said(claim) for claim in again.result.clash)
    days = "from 30 June 2027 to 15 September 2027 with 4 plants"
    assert f"you keep lettuce sown in place in bed, strip 1, {days}" in clash


def test_two_kept_plantings_may_share_a_half_month_if_their_days_do_not_meet() -> None:
    place = scenario(["lettuce", "bean", "kale"], [bed("bed", 2)])
    garden = make_garden(place, WIDE)
    first = followed(garden, planting("lettuce", (1, 2), "2027-05-08", "2027-06-03"))
    second = followed(garden, planting("bean", (1,), "2027-06-07", "2027-06-07"), frozenset({"clear"}))
    assert not judge(garden, blank_plan(place, (first, second))).breaches
    plan = plan_of(
        plan_on(make_garden(place, WIDE), blank_plan(place, (first, second)), ALL, Limits(seconds=None, effort=0.5))
    )
    assert not alike((first, second)) - alike(plan.plantings)
    # Strip 2 is free in the rest of that half month, but nothing new may start while the lettuce still stands.
    assert all(p.kept or p.start > first.clear for p in plan.plantings)


def test_unknown_edits_are_not_guessed(place: Scenario, earlier: Plan) -> None:
    old = earlier.model_copy(update={"written": None})
    with pytest.raises(GardenFault, match="--keep all, --keep nothing"):
        kept_plantings(make_garden(place, CATALOGUE), old, Keep())
    assert len(kept_plantings(make_garden(place, CATALOGUE), old, ALL)) == len(earlier.plantings)


@pytest.mark.parametrize("exact_at_most", [9_000, 0])
def test_any_part_of_our_own_plan_can_be_kept(monkeypatch: pytest.MonkeyPatch, exact_at_most: int) -> None:
    """Gardens with pins, demands and history: what a plan of ours holds never clashes with them."""
    monkeypatch.setattr("rotasolve.relations.ground.garden.EXACT_AT_MOST", exact_at_most)

    @modest(25)
    @given(scenarios(), st.integers(0, 3), st.dates(date(2027, 3, 1), date(2028, 12, 31)))
    def check(place: Scenario, which: int, today: date) -> None:
        limits = Limits(seconds=None, effort=0.3)
        found = plan_rotation(place, CATALOGUE, limits)
        if not isinstance(found, ProvenBest | Good):
            return
        keep = [ALL, Keep(as_of=today), Keep(changed=False, beds=frozenset({"bed"})), Keep()][which]
        kept = kept_plantings(make_garden(place, CATALOGUE), found.plan, keep)
        again = plan_on(make_garden(place, CATALOGUE), found.plan, keep, limits)
        if keep.as_of is not None and isinstance(again.result, Impossible):
            return  # a demand may need what could only have been started in the past
        plan = plan_of(again)
        assert not alike(kept) - alike(tuple(p for p in plan.plantings if p.kept))
        assert keep.as_of is None or all(p.kept or p.start > today for p in plan.plantings if not pinned(place, p))

    check()


def pinned(place: Scenario, standing: Planting) -> bool:
    return any((p.bed, p.crop, p.start) == (standing.bed, standing.crop, standing.start) for p in place.pinned)
