"""Every assignment of tiny gardens, one by one: model = referee, and both solvers find the best of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations

import pytest

from rotasolve.board import Board
from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.referee import judge, score
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.rules import rule_by_key
from rotasolve.solver.program import build_program, freeze
from tests.helpers.agree import broken, highs_least_cost, least_cost, model_accepts, plan_of, taken_of
from tests.helpers.tiny import CATALOGUE, LETTUCE, SOURCE, bed, catalogue, crop, figure, scenario

MOST_ASSIGNMENTS = 1500
WIDE = crop("beet", "goosefoots", 35, spacing_between_rows=figure(120, "cm"))


def past(crop: str, year: int, **more: object) -> dict[str, object]:
    return {"bed": "bed", "crop": crop, "year": year, **more}


def want(crop: str, kg: float = 4, **more: object) -> dict[str, object]:
    return {"crop": crop, "kg": kg, **more}


FACING = [bed("equator", 1, east=0, north=0), bed("pole", 1, east=0, north=100)]

GARDENS: dict[str, tuple[Scenario, Catalogue]] = {
    "rest after history": (
        scenario(
            years=2,
            targets=[want("potato"), want("kale")],
            history=[past("kale", 2026), past("potato", 2025)],
            rules={"family_gap": 1},
        ),
        CATALOGUE,
    ),
    "rest within the plan": (
        scenario(years=4, beds=[bed(strips=1)], targets=[want("potato"), want("kale")], rules={"family_gap_wished": 3}),
        CATALOGUE,
    ),
    "heights and shared ground": (
        scenario(["lettuce", "kale"], [bed(strips=4)], targets=[want("potato", 6), want("lettuce", 2, weight=1)]),
        CATALOGUE,
    ),
    "pins and wishes": (
        scenario(
            ["kale", "bean"],
            [bed(strips=3)],
            pinned=[{"bed": "bed", "crop": "lettuce", "start": "2027-05-08", "plants": 4}],
            must=[{"crop": "kale", "plants": 4}],
        ),
        CATALOGUE,
    ),
    "rotation by strip": (
        scenario(
            years=3,
            targets=[want("potato"), want("bean")],
            history=[past("potato", 2026, strips=(1,)), past("bean", 2025)],
            rules={"rotation": "strip", "family_gap": 1},
        ),
        CATALOGUE,
    ),
    "shade between beds": (
        scenario(["kale"], FACING, targets=[want("tomato", weight=1), want("lettuce", 2)]),
        CATALOGUE,
    ),
    "southern winters": (
        scenario(["lettuce"], years=3, targets=[want("garlic")], latitude=-50, rules={"family_gap": 0}),
        CATALOGUE,
    ),
    "northern winters": (
        scenario(years=5, beds=[bed(strips=2)], targets=[want("garlic")], rules={"family_gap": 1}),
        CATALOGUE,
    ),
    "winters on both sides of a harvest": (
        scenario(years=3, beds=[bed(strips=2)], targets=[want("garlic"), want("leek")], rules={"family_gap": 0}),
        CATALOGUE,
    ),
    "winters with a year between": (
        scenario(years=4, beds=[bed(strips=1)], targets=[want("garlic"), want("leek")], rules={"family_gap": 1}),
        CATALOGUE,
    ),
    "known disease": (
        scenario(
            years=2,
            beds=[bed(diseases=("club root", "white rot"), history_since=2023)],
            targets=[want("kale"), want("garlic")],
            history=[past("kale", 2023)],
        ),
        CATALOGUE,
    ),
    "a disease and years not on record": (
        scenario(
            years=4,
            beds=[bed(strips=1, diseases=("mould",)), bed("known", 1, diseases=("mould",), history_since=2025)],
            targets=[want("lettuce")],
            history=[past("kale", 2026)],
        ),
        catalogue(pathogens=[{"name": "mould", "hosts": ["lettuce"], "gap_high": 2, "source": SOURCE}]),
    ),
    "over winter and into spring": (
        scenario(years=3, beds=[bed(strips=2)], targets=[want("sprouts"), want("kale")], rules={"family_gap": 0}),
        CATALOGUE,
    ),
    "rest after two years": (
        scenario(
            years=5,
            beds=[bed(strips=1)],
            targets=[want("sprouts"), want("kale")],
            rules={"family_gap": 1, "family_gap_wished": 2},
        ),
        CATALOGUE,
    ),
    "a family once in a season": (
        scenario(
            beds=[bed(strips=3)],
            targets=[want("radish"), want("rocket"), want("kale")],
            history=[past("sprouts", 2026, until="2027-05-15", strips=(1,))],
            rules={"family_gap": 0},
        ),
        CATALOGUE,
    ),
    "quick crops again in a season": (
        scenario(
            beds=[bed(strips=3)],
            targets=[want("radish"), want("rocket"), want("kale")],
            history=[past("radish", 2027, until="2027-04-30", strips=(1,))],
            rules={"family_once": "except quick crops"},
        ),
        CATALOGUE,
    ),
    "two years in four": (
        scenario(
            years=4,
            beds=[bed(strips=1)],
            targets=[want("sprouts"), want("kale")],
            history=[past("kale", 2025)],
            rules={"family_gap": 0, "host_years": [{"hosts": "family:cabbages", "most": 2, "of_years": 4}]},
        ),
        CATALOGUE,
    ),
    "parts": (
        scenario(["potato"], [bed(width=240.0, parts=2)], targets=[want("lettuce", 4)]),
        CATALOGUE,
    ),
    "rows over two strips": (
        scenario(["lettuce"], [bed(strips=4)], targets=[want("beet", 4)]),
        catalogue([WIDE, LETTUCE]),
    ),
    "what follows what": (
        # Beans, then kale, before potatoes, which feed heavily: twice running, and beside rocket.
        scenario(
            ["rocket"],
            [bed(strips=2)],
            years=2,
            targets=[want("kale"), want("potato", 2)],
            history=[past("bean", 2026)],
            rules={"family_gap": 0, "order_of_demand": "much"},
        ),
        CATALOGUE,
    ),
    "in turn, strip by strip": (
        scenario(
            ["clover"],
            [bed(strips=1)],
            years=3,
            targets=[want("lettuce"), want("leek"), want("potato")],
            history=[past("kale", 2026)],
            rules={"family_gap": 1, "rotation": "strip"},
        ),
        CATALOGUE,
    ),
    "so much a week": (
        scenario(
            beds=[bed(strips=3)],
            targets=[
                {"crop": "lettuce", "kg_a_week": 0.7, "fresh_from": "July", "fresh_to": "August", "weight": 3},
                {"crop": "kale", "kg_a_week": 0.3, "fresh_from": "September", "fresh_to": "September"},
            ],
        ),
        CATALOGUE,
    ),
    "in sight of one another, by shadow": (
        scenario(
            ["lettuce"],
            [bed("equator", 2, east=0, north=0), bed("pole", 2, east=0, north=125)],
            targets=[want("potato", 2), want("lettuce", 2)],
            rules={"height_order": "by shadow"},
        ),
        CATALOGUE,
    ),
    "held from before": (
        scenario(
            targets=[want("lettuce"), want("kale"), want("potato")],
            history=[past("garlic", 2026, until="2027-05-20", strips=(1,))],
        ),
        CATALOGUE,
    ),
}


def share_ground(garden: Garden) -> dict[int, set[int]]:
    """Return for each choice the others that cannot stand beside it on its ground, as model and referee both say.

    Free ground only counts what is taken: with such a pair in it an assignment is refused whatever else is chosen.
    """
    board = Board(garden)
    rule_by_key("free-ground").post(garden, board)
    ground = freeze(board)
    found: dict[int, set[int]] = {number: set() for number in range(len(garden.choices))}
    for one, other in combinations(found, 2):
        refused = any(claim.rule == "free-ground" for claim in broken(garden, taken_of(garden, [one, other])))
        assert model_accepts(garden, taken_of(garden, [one, other]), ground) != refused
        if refused:
            found[one].add(other)
            found[other].add(one)
    return found


def assignments(beside: dict[int, set[int]]) -> Iterator[frozenset[int]]:
    """Yield every set of choices of which no two share ground."""
    ahead: list[tuple[int, frozenset[int]]] = [(0, frozenset())]
    while ahead:
        number, chosen = ahead.pop()
        if number == len(beside):
            yield chosen
            continue
        ahead.append((number + 1, chosen))
        if not beside[number] & chosen:
            ahead.append((number + 1, chosen | {number}))


ONLY_GROUND = ("rows over two strips", "winters on both sides of a harvest")


@pytest.mark.parametrize("name", GARDENS)
def test_every_assignment(name: str) -> None:
    garden = make_garden(*GARDENS[name], exact=True)
    assert len(garden.choices) >= 4
    rules, whole = build_program(garden, goals=False), build_program(garden)
    every = list(assignments(share_ground(garden)))
    assert len(every) <= MOST_ASSIGNMENTS
    verdicts: Counter[bool] = Counter()
    costs = []
    for chosen in every:
        taken = taken_of(garden, chosen)
        plan = plan_of(garden, taken)
        fine = not judge(garden, plan).breaches
        assert model_accepts(garden, taken, rules) == fine, plan.plantings
        verdicts[fine] += 1
        if fine:
            costs.append(sum(goal.lost for goal in score(garden, plan)))
    assert verdicts[True] > 0
    # Sharing ground is refused by itself; where no other rule bites, all the rest is fine.
    assert verdicts[False] > 0 or name in ONLY_GROUND
    assert min(costs) < max(costs), "every plan is as good as any other: the garden tests nothing"
    assert least_cost(whole) == min(costs)
    assert highs_least_cost(whole) == min(costs)
