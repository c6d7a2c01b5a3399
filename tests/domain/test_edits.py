"""Digests of a plan: an edit by hand is noticed, and nothing else is."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.edits import Edits, digest_of, edits_of, sealed
from rotasolve.domain.plan import Plan
from rotasolve.files.plans import plan_text, read_plan_text
from rotasolve.referee import blank_plan
from tests.helpers.tiny import planting, scenario

LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
KALE = planting("kale", (1,), "2027-08-01", "2027-09-30", "2027-09-05")
BEAN = planting("bean", (2,), "2027-05-29", "2027-07-31", "2027-07-13")


def plan(*plantings: object) -> Plan:
    return blank_plan(scenario(["lettuce"])).model_copy(update={"plantings": plantings})


def edited(before: Plan, *plantings: object) -> Edits | None:
    return edits_of(sealed(before).model_copy(update={"plantings": plantings}))


def test_without_digests_nothing_is_known() -> None:
    assert edits_of(plan(LETTUCE)) is None


@settings(max_examples=30, deadline=None, derandomize=True, database=None)
@given(st.lists(st.sampled_from([LETTUCE, KALE, BEAN]), unique=True), st.randoms(use_true_random=False))
def test_a_plan_as_it_was_written_is_never_called_edited(plantings: list[object], random: object) -> None:
    written = sealed(plan(*plantings))
    assert edits_of(read_plan_text(plan_text(written), "p.json").plan) == Edits((), 0, False)
    # The order of the lines says nothing.
    random.shuffle(plantings)  # type: ignore[attr-defined]
    assert edited(written, *plantings) == Edits((), 0, False)


def test_changed_added_and_taken_out_are_told_apart_by_number() -> None:
    before = plan(LETTUCE, KALE)
    moved = KALE.model_copy(update={"bed": "other"})
    assert edited(before, LETTUCE, moved) == Edits((1,), 1, True)
    assert edited(before, BEAN, LETTUCE, KALE) == Edits((0,), 0, True)
    assert edited(before, KALE) == Edits((), 1, True)
    # The same line twice: one of them is new.
    assert edited(before, LETTUCE, LETTUCE, KALE) == Edits((1,), 0, True)


def test_what_is_kept_and_the_years_touch_the_plan_but_no_planting() -> None:
    before = plan(LETTUCE, KALE)
    assert edited(before, LETTUCE, KALE.model_copy(update={"kept": True})) == Edits((), 0, True)
    assert edits_of(sealed(before).model_copy(update={"years": 2})) == Edits((), 0, True)
    assert digest_of(KALE) == digest_of(KALE.model_copy(update={"kept": True}))


def test_every_value_of_a_planting_counts() -> None:
    for field, value in (
        ("strips", (2,)),
        ("plants", 3),
        ("rows", 2),
        ("clear", KALE.clear),
        ("raise_from", LETTUCE.start),
        ("first_harvest", None),
        ("harvest", KALE.harvest.model_copy(update={"high_kg": 1.0})),
    ):
        assert edited(plan(LETTUCE), LETTUCE.model_copy(update={field: value})) == Edits((0,), 1, True), field
