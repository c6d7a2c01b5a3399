"""What is bought, and the seedlings' room, by hand."""

from __future__ import annotations

import math

import pytest

from rotasolve.domain.plan import Planting
from rotasolve.domain.seasons import period_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.work.seedlings import pot_litres, seedling_room, trays_for
from rotasolve.relations.work.shopping import Purchase, purchases_of
from tests.helpers.tiny import SOURCE, bed, catalogue, crop, day, figure, planting, scenario, start

RAISING = {
    "first_pot": figure(4, "cm"),
    "pot_on_after": figure(3, "weeks"),
    "second_pot": figure(10, "cm"),
    "hardening": figure(1, "weeks"),
}
ADVICE = {"how": "against butterflies", "source": SOURCE}
TOMATO = crop(
    "tomato",
    "nightshades",
    starts=[start(2, 60, way="set out")],
    raising=RAISING,
    germination=figure(80, "%"),
    support={"what": "stake", "for_each": "plant", "source": SOURCE},
)
BEAN = crop("bean", "legumes", support={"what": "trellis", "for_each": "m of row", "source": SOURCE})
KALE = crop("kale", "cabbages", mesh=ADVICE, seeds_per_gram=figure(300, "seeds per g"))
GARLIC = crop("garlic", "onions", starts=[{**start(1, 60), "material": "clove"}])
RYE = crop("rye", "grasses", green_manure=True, seed_rate=figure(10, "g per m2"))
COVERS = [
    {"name": "open ground", "days_earlier": 0, "days_later": 0, "source": SOURCE},
    {"name": "fleece", "days_earlier": 7, "days_later": 7, "source": SOURCE},
]
CROPS = catalogue((TOMATO, BEAN, KALE, GARLIC, RYE), pathogens=[], neighbours=[], covers=COVERS)


def garden_of(**more: object) -> Garden:
    return make_garden(scenario(["tomato"], beds=[bed(), bed("veiled", cover="fleece")], **more), CROPS)  # type: ignore[arg-type]


def bought(*plantings: Planting, years: int = 2) -> dict[int, list[tuple[str, str, float, str]]]:
    garden = garden_of(years=years)
    found = purchases_of(garden, blank_plan(garden.scenario, plantings))
    return {year: [(p.ware, p.what, p.amount, p.unit) for p in wares] for year, wares in found.items()}


def tomato(strips: tuple[int, ...] = (1,), **more: object) -> Planting:
    days = ("2027-05-15", "2027-09-15", "2027-07-14")
    return planting("tomato", strips, *days, **{"way": "set out", "raise_from": "2027-04-01", **more})  # type: ignore[arg-type]


def test_raised_tomatoes_need_seed_pots_compost_and_stakes() -> None:
    # 4 plants: 5 pots, 5 / 0.8 = 6.25, so 7 seeds. A pot of width d holds pi x 0.9 d / 12 x (1 + 0.75 + 0.5625) d^2.
    litres = 5 * (pot_litres(4) + pot_litres(10))
    assert pot_litres(10) == pytest.approx(math.pi * 9 / 12 * 231.25 / 1000)
    assert bought(tomato()) == {
        2027: [
            ("seed", "tomato", 7, "seeds"),
            ("pot", "pots or cells", 5, "pieces"),
            ("pot", "pots or cells", 5, "pieces"),
            ("tray", "trays", 1, "pieces"),
            ("compost", "seed and potting compost", math.ceil(litres), "litres"),
            ("support", "stakes", 4, "pieces"),
        ]
    }


def test_bought_plants_are_listed_as_plants() -> None:
    assert bought(tomato(raise_from=None))[2027][0] == ("plant", "tomato", 4, "pieces")


def test_a_planting_belongs_to_the_year_it_is_first_sown_in() -> None:
    late = tomato(raise_from="2027-12-20", start="2028-02-15")
    found = bought(late)
    assert list(found) == [2027]
    assert ("seed", "tomato", 7, "seeds") in found[2027]


def test_cloves_by_count_and_green_manure_by_weight() -> None:
    garlic = planting("garlic", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
    rye = planting("rye", (1, 2), "2027-08-08", "2027-10-15")
    # Two strips of 0.6 x 1.2 m are 1.44 m2: 14.4 g.
    assert bought(garlic, rye)[2027] == [("seed", "rye", 14.4, "g"), ("clove", "garlic", 4, "pieces")]


def test_supports_are_the_most_in_use_on_one_day() -> None:
    first = tomato(raise_from=None)
    beside = tomato((2,), raise_from=None)
    after = planting("tomato", (1,), "2027-09-16", "2027-12-01", way="set out")
    assert ("support", "stakes", 8, "pieces") in bought(first, beside, after)[2027]
    bean = planting("bean", (1,), "2027-05-08", "2027-07-31")
    # 4 beans 30 cm apart: 1.2 m of row, rounded up to 2 m.
    assert ("support", "trellis", 2, "m") in bought(bean)[2027]


def test_fleece_covers_the_bed_and_mesh_the_strips_with_an_edge() -> None:
    kale = planting("kale", (1,), "2027-05-08", "2027-07-31")
    # (0.6 + 0.8) x (1.2 + 0.8) = 2.8 m2 of mesh; a bed of 1.2 x 1.2 m takes 2 x 2 = 4 m2 of fleece and no mesh.
    assert ("mesh", "insect mesh", 2.8, "m2") in bought(kale)[2027]
    veiled = bought(planting("kale", (1,), "2027-05-08", "2027-07-31", bed="veiled"))[2027]
    assert ("cover", "fleece", 4.0, "m2") in veiled
    assert not [ware for ware in veiled if ware[0] == "mesh"]


def test_grams_of_seed_where_the_count_of_a_gram_is_known() -> None:
    garden = garden_of()
    kale = planting("kale", (1,), "2027-05-08", "2027-07-31")
    # 4 x 1.2 = 4.8, so 5 seeds.
    assert purchases_of(garden, blank_plan(garden.scenario, (kale,)))[2027][0] == Purchase(
        "seed", "kale", 5, "seeds", 5 / 300
    )


def test_an_empty_plan_needs_nothing() -> None:
    garden = garden_of()
    assert purchases_of(garden, blank_plan(garden.scenario)) == {}
    assert seedling_room(garden, blank_plan(garden.scenario)) == ()


def test_room_on_the_sill_by_half_month() -> None:
    garden = garden_of()
    room = seedling_room(garden, blank_plan(garden.scenario, (tomato(),)), sill_depth_cm=20)
    # 5 cells of 4 cm from 1 April, 5 pots of 10 cm from 22 April to 14 May. Cells: 5 rows of 1 on 20 cm, so 4 cm;
    # pots: 2 rows, 3 along, so 30 cm.
    assert [(month.period, dict(month.pots)) for month in room] == [
        (period_of(day("2027-04-01")), {4: 5}),
        (period_of(day("2027-04-16")), {10: 5}),
        (period_of(day("2027-05-01")), {10: 5}),
    ]
    assert [(round(month.area_m2, 4), month.sill_cm, month.trays) for month in room] == [
        (0.008, 4, 1),
        (0.05, 30, 1),
        (0.05, 30, 1),
    ]


def test_trays_hold_one_width_each() -> None:
    # 38 x 24 cm hold 9 x 6 = 54 square cells of 4 cm, more staggered, and 3 x 2 = 6 pots of 10 cm or 7 staggered.
    assert trays_for({4.0: 54}) == 1
    assert trays_for({4.0: 54, 10.0: 6}) == 2
    assert trays_for({10.0: 9}) == 2
    assert trays_for({}) == 0
    assert trays_for({100.0: 2}) == 2
