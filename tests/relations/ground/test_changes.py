"""What changes between two plans: each planting is matched with the one it became."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.relations.ground.changes import changes_between
from tests.helpers.tiny import planting

LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
KALE = planting("kale", (1, 2), "2027-08-01", "2027-09-30", "2027-09-05")
BEAN = planting("bean", (2,), "2027-05-29", "2027-07-31", "2027-07-13")
ANY = st.lists(st.sampled_from([LETTUCE, KALE, BEAN, KALE.model_copy(update={"bed": "other"})]), max_size=6)


def test_alike_moved_gone_and_new() -> None:
    later = KALE.model_copy(update={"start": BEAN.clear})
    potato = planting("potato", (1,), "2027-04-17", "2027-05-01")
    changes = changes_between((LETTUCE, KALE, BEAN), (LETTUCE, later, potato), False)
    assert changes.unchanged == 1
    assert [(move.before, move.after) for move in changes.moves] == [(KALE, later), (BEAN, None)]
    assert changes.new == (potato,)


def test_the_nearest_in_place_and_time_belongs_together() -> None:
    here, there = KALE.model_copy(update={"strips": (2,)}), KALE.model_copy(update={"bed": "other"})
    changes = changes_between((KALE,), (there, here), False)
    assert [move.after for move in changes.moves] == [here]
    assert changes.new == (there,)


def test_what_failed_is_cleared_sooner_though_the_same_is_started_anew_in_its_place() -> None:
    kale = planting("kale", (1,), "2027-04-01", "2027-11-15", "2027-05-16")
    failed = planting("kale", (1,), "2027-04-01", "2027-04-01")
    # 45 days later and 46 days longer: 91 days away, where what failed is 228 days shorter.
    anew = planting("kale", (1,), "2027-05-16", "2027-12-31", "2027-06-30")
    changes = changes_between((kale,), (failed, anew), False)
    assert [move.after for move in changes.moves] == [failed]
    assert changes.new == (anew,)


def test_another_garden_year_is_another_planting() -> None:
    changes = changes_between((KALE,), (KALE.model_copy(update={"start": KALE.start.replace(year=2028)}),), False)
    assert changes.moves[0].after is None
    assert len(changes.new) == 1


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(ANY, ANY)
def test_every_planting_is_told_once(before: list[object], after: list[object]) -> None:
    changes = changes_between(before, after, False)  # type: ignore[arg-type]
    assert changes.unchanged + len(changes.moves) == len(before)
    became = [move for move in changes.moves if move.after is not None]
    assert changes.unchanged + len(became) + len(changes.new) == len(after)
    assert all(move.before != move.after for move in changes.moves)
