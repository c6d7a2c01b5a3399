"""What plots share, by hand: orders and weeks of tiny gardens, sums, and swaps worked out in comments."""

from __future__ import annotations

import random
from collections import Counter
from datetime import date
from typing import Any

import pytest

from rotasolve.domain.plan import Plan
from rotasolve.domain.sharing import Pair, ShareKind, ShareRow
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.work.jobs import JOB_KINDS
from rotasolve.relations.work.tools import TOOL_OF
from rotasolve.tasks.sharing import LEAST_SWAP_G, pairs_of, share_rows, sums_of, swaps_of
from tests.helpers.tiny import CATALOGUE, planting, scenario

JULY = date(2027, 7, 1), date(2027, 7, 15)
LATE_JULY = date(2027, 7, 16), date(2027, 7, 31)


def row(kind: ShareKind, garden: str, kg: float, crop: str = "kale", span: tuple[date, date] = JULY) -> ShareRow:
    return ShareRow(kind, garden, 2027, *span, "harvest", crop, kg, "kg")


def given(rows: list[ShareRow]) -> list[tuple[str, str, str, float]]:
    return [(swap.garden, swap.other, swap.what, swap.amount) for swap in swaps_of(rows)]


def rows_of(name: str, targets: list[dict[str, Any]], *plantings: Any) -> list[ShareRow]:
    wishes = scenario(["kale", "lettuce", "potato", "tomato"], years=1, targets=targets)
    garden = make_garden(wishes, CATALOGUE)
    plan: Plan = blank_plan(wishes, tuple(plantings))
    return list(share_rows(name, garden, plan))


def harvest(kg: float) -> dict[str, float]:
    return {"low_kg": kg, "typical_kg": kg, "high_kg": kg}


def test_the_most_goes_to_the_shortest_first() -> None:
    rows = [row("to spare", "a", 1.0), row("to spare", "b", 3.0), row("short", "c", 2.5), row("short", "d", 1.0)]
    # b's 3 kg: 2.5 to c, 0.5 to d; then a's: 0.5 to d.
    assert given(rows) == [("b", "c", "kale", 2.5), ("b", "d", "kale", 0.5), ("a", "d", "kale", 0.5)]


def test_only_within_a_half_month_and_a_crop() -> None:
    rows = [row("to spare", "a", 1.0), row("short", "b", 1.0, span=LATE_JULY), row("short", "c", 1.0, "lettuce")]
    assert given(rows) == []
    assert given([*rows, row("short", "d", 0.4)]) == [("a", "d", "kale", 0.4)]


def test_nobody_walks_for_a_leaf() -> None:
    least = LEAST_SWAP_G / 1000
    assert given([row("to spare", "a", 5.0), row("short", "b", least - 0.001)]) == []
    assert given([row("to spare", "a", least), row("short", "b", 5.0)]) == [("a", "b", "kale", least)]
    # 0.35 - 0.2 leaves 0.15 kg, which stays where it is.
    assert given([row("to spare", "a", 0.35), row("short", "b", 0.2), row("short", "c", 0.2)]) == [
        ("a", "b", "kale", 0.2)
    ]


def test_nobody_gives_or_gets_more_than_there_is() -> None:
    chance = random.Random(1)
    for _ in range(200):
        kinds: tuple[ShareKind, ...] = ("to spare", "short")
        rows = [
            row(chance.choice(kinds), f"g{n}", chance.randint(1, 3000) / 1000, chance.choice(["kale", "pea"]))
            for n in range(chance.randint(0, 12))
        ]
        left = {(one.garden, one.what): round(one.amount * 1000) for one in rows}
        for swap in swaps_of(rows):
            grams = round(swap.amount * 1000)
            assert grams >= LEAST_SWAP_G
            left[swap.garden, swap.what] -= grams
            left[swap.other, swap.what] -= grams
        assert all(grams >= 0 for grams in left.values())
        for crop in ("kale", "pea"):  # and no two are left that could still help each other
            sides = {one.kind for one in rows if one.what == crop and left[one.garden, crop] >= LEAST_SWAP_G}
            assert len(sides) < 2


def test_pairs_that_help_each_other_come_first() -> None:
    rows = [
        *(row("to spare", "a", 2.0), row("short", "b", 2.0)),
        *(row("to spare", "b", 0.5, "lettuce"), row("short", "a", 0.5, "lettuce")),
        *(row("to spare", "c", 9.0, "pea"), row("short", "d", 9.0, "pea")),
        *(row("to spare", "a", 0.3, "pea", LATE_JULY), row("short", "b", 0.3, "pea", LATE_JULY)),
    ]
    assert pairs_of(swaps_of(rows)) == [
        Pair("a", "b", (("kale", 2.0), ("pea", 0.3)), (("lettuce", 0.5),)),
        Pair("c", "d", (("pea", 9.0),), ()),
    ]


def test_sums_count_gardens_and_weigh_only_what_is_weighed() -> None:
    year = date(2027, 1, 1), date(2027, 12, 31)
    rows = [
        ShareRow("order", "a", 2027, *year, "seed", "kale", 30, "seeds", 0.1),
        ShareRow("order", "b", 2027, *year, "seed", "kale", 12, "seeds", 0.04),
        ShareRow("order", "a", 2027, *year, "seed", "lettuce", 12, "seeds", 0.04),
        ShareRow("order", "b", 2027, *year, "seed", "lettuce", 1, "seeds"),
        ShareRow("order", "b", 2027, *year, "tuber", "potato", 8, "pieces"),
    ]
    told = {one.what: (one.amount, one.gardens, one.grams) for one in sums_of(rows)}
    assert told == {"kale": (42, 2, pytest.approx(0.14)), "lettuce": (13, 2, None), "potato": (8, 1, None)}


def test_an_id_names_the_thing_and_not_its_amount() -> None:
    one = row("short", "a", 1.0)
    assert one.uid == one._replace(amount=2.0).uid
    others = [one._replace(garden="b"), one._replace(other="b"), one._replace(what="pea"), row("to spare", "a", 1.0)]
    assert len({one.uid, *(other.uid for other in others)}) == 5


def test_a_garden_of_two_crops_by_hand() -> None:
    kale = planting("kale", (1,), "2027-07-17", "2027-09-30", "2027-09-05", harvest=harvest(2))
    tomato = planting("tomato", (2,), "2027-05-15", "2027-09-15", "2027-07-14", way="set out", harvest=harvest(2))
    rows = rows_of("a", [{"crop": "kale", "kg": 5}, {"crop": "tomato", "kg": 1}], kale, tomato)
    by_kind = Counter(one.kind for one in rows)
    # 4 kale plants and a fifth more: 4.8, so 5 seeds. Tomatoes set out and nowhere raised are bought as plants.
    bought = {(one.ware, one.what): (one.amount, one.unit) for one in rows if one.kind == "order"}
    assert bought == {("seed", "kale"): (5, "seeds"), ("plant", "tomato"): (4, "pieces")}
    # 15 May 2027 is a Saturday: the trowel in the week from Monday 10 May; kale is sown on Saturday 17 July.
    tools = {(one.what, one.first.isoformat()): one.amount for one in rows if one.kind == "tool"}
    assert tools["trowel", "2027-05-10"] == 1
    assert tools["rake", "2027-07-12"] == 1
    # Heavy feeders get 5 litres a m2: a strip of 0.6 m by 1.2 m takes 3.6 litres, on 1 February at the soonest.
    compost = [(one.first.isoformat(), one.amount, one.unit) for one in rows if one.kind == "compost"]
    assert compost == [("2027-02-01", 3.6, "litres")]
    assert tools["wheelbarrow", "2027-02-01"] == 1
    # Of 5 kg of kale wished and 2 grown 3 are short. Tomatoes are wished by 200 g in each of five half months; of 2 kg
    # in the 64 days from 14 July 62 g come by 15 July, 138 g too little, so that 1,138 g are left of the rest.
    kg = {kind: sum(one.amount for one in rows if one.kind == kind) for kind in ("short", "to spare")}
    assert kg == {"short": pytest.approx(3.138), "to spare": pytest.approx(1.138)}
    assert {one.what for one in rows if one.kind == "to spare"} == {"tomato"}
    assert by_kind["kit"] == 0
    assert {one.garden for one in rows} == {"a"}


def test_two_gardens_swap_what_each_has_too_much_of() -> None:
    summer: dict[str, Any] = {"fresh_from": "September", "fresh_to": "September"}
    wishes = [{"crop": "kale", "kg": 2, **summer}, {"crop": "tomato", "kg": 2, **summer}]
    kale = planting("kale", (1,), "2027-07-17", "2027-09-30", "2027-09-05", harvest=harvest(4))
    tomato = planting("tomato", (1,), "2027-05-15", "2027-09-15", "2027-09-01", way="set out", harvest=harvest(4))
    rows = [*rows_of("a", wishes, kale), *rows_of("b", wishes, tomato)]
    pair = pairs_of(swaps_of(rows))[0]
    assert {pair.one, pair.other} == {"a", "b"}
    ways = {pair.one: dict(pair.gives_kg), pair.other: dict(pair.gets_kg)}
    assert set(ways["a"]) == {"kale"}
    assert set(ways["b"]) == {"tomato"}
    assert ways["b"]["tomato"] == pytest.approx(1.0)  # all of b's tomatoes come by 15 September, and a misses 1 kg then


def test_every_tool_is_for_a_job_there_is() -> None:
    assert set(TOOL_OF) < set(JOB_KINDS)
