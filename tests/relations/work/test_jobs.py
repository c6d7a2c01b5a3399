"""The jobs of a planting by hand, and what holds of the jobs of every plan."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rotasolve.domain.crop import Crop
from rotasolve.domain.plan import Plan, Planting
from rotasolve.files.crops import load_catalogue
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import Garden, make_garden
from rotasolve.relations.work.jobs import Job, chosen, jobs_of
from rotasolve.relations.work.seeds import need_of
from rotasolve.views.exports.calendar_files import uid_of
from tests.helpers.agree import plan_of, taken_of
from tests.helpers.strategies import gardens_with_plans
from tests.helpers.tiny import SOURCE, bed, catalogue, crop, day, figure, planting, scenario, start

RAISING = {
    "first_pot": figure(4, "cm"),
    "pot_on_after": figure(3, "weeks"),
    "second_pot": figure(9, "cm"),
    "hardening": figure(1.5, "weeks"),
}
PEPPER = crop(
    "pepper",
    "nightshades",
    starts=[{**start(2, 60, way="set out"), "weeks_indoors": figure(8, "weeks")}],
    raising=RAISING,
    germination=figure(50, "%"),
)
CARROT = crop(
    "carrot",
    "umbels",
    thin_after=figure(4, "weeks"),
    germination=figure(55, "%"),
    seeds_per_place=figure(3, "seeds per plant"),
    seeds_per_gram=figure(825, "seeds per g"),
)
POTATO = crop(
    "potato", "nightshades", earth_up_after=figure(4, "weeks"), starts=[{**start(0, 90), "material": "tuber"}]
)
RYE = crop(
    "rye",
    "grasses",
    green_manure=True,
    wait_after=figure(2, "weeks"),
    seed_rate=figure(16, "g per m2"),
)
COVERS = [
    {"name": "open ground", "days_earlier": 0, "days_later": 0, "source": SOURCE},
    {"name": "fleece", "days_earlier": 7, "days_later": 7, "source": SOURCE},
    {"name": "cold frame", "days_earlier": 14, "days_later": 14, "source": SOURCE, "caution": "open it"},
]
CROPS = catalogue((PEPPER, CARROT, POTATO, RYE), pathogens=[], neighbours=[], covers=COVERS)


def garden_of(**more: object) -> Garden:
    return make_garden(scenario(["pepper", "carrot", "potato", "rye"], **more), CROPS)  # type: ignore[arg-type]


def told(garden: Garden, *plantings: Planting) -> list[tuple[str, str]]:
    return [(job.day.isoformat(), job.kind) for job in jobs_of(garden, blank_plan(garden.scenario, plantings))]


def pepper(**more: object) -> Planting:
    days = ("2027-05-15", "2027-09-15", "2027-07-14")
    return planting("pepper", (1,), *days, **{"way": "set out", "raise_from": "2027-03-20", **more})  # type: ignore[arg-type]


def test_a_raised_plant_from_sowing_to_clearing() -> None:
    # Potted on 3 weeks after 20 March; hardened off round(1.5 x 7) = 10 days before 15 May.
    assert told(garden_of(), pepper()) == [
        ("2027-03-20", "sow indoors"),
        ("2027-04-10", "pot on"),
        ("2027-05-05", "harden off"),
        ("2027-05-15", "set out"),
        ("2027-07-14", "first harvest"),
        ("2027-09-15", "last harvest"),
        ("2027-09-15", "clear"),
    ]


def test_bought_plants_have_no_jobs_indoors() -> None:
    assert told(garden_of(), pepper(raise_from=None))[0] == ("2027-05-15", "set out")


def test_a_plant_raised_in_a_hurry_is_not_potted_on() -> None:
    # Sown 20 April: potting on would fall on 11 May, after hardening off begins on 5 May.
    kinds = [kind for _, kind in told(garden_of(), pepper(raise_from="2027-04-20"))]
    assert kinds[:3] == ["sow indoors", "harden off", "set out"]


def test_carrots_are_thinned_potatoes_planted_and_earthed_up() -> None:
    carrot = planting("carrot", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
    potato = planting("potato", (2,), "2027-05-01", "2027-08-31", "2027-08-01")
    assert told(garden_of(), carrot, potato)[:4] == [
        ("2027-05-01", "plant"),
        ("2027-05-08", "sow"),
        ("2027-05-29", "earth up"),  # 4 weeks
        ("2027-06-05", "thin"),  # 4 weeks
    ]


def test_a_green_manure_is_dug_in_and_its_ground_waits() -> None:
    assert told(garden_of(), planting("rye", (1,), "2027-05-08", "2027-07-15")) == [
        ("2027-05-08", "sow green manure"),
        ("2027-07-15", "dig in"),
        ("2027-07-29", "ground free"),
    ]


@pytest.mark.parametrize(
    ("cover", "begin", "kinds"),
    [
        # Frosts half-way on 1 May and 1 October, spread 14 days: 1 year in 10 after 19 May, or before 13 September.
        ("fleece", "2027-05-08", ["sow", "cover", "uncover", "clear"]),
        ("fleece", "2027-05-19", ["sow", "cover", "uncover", "clear"]),
        ("fleece", "2027-05-20", ["sow", "clear"]),
        ("cold frame", "2027-05-08", ["sow", "cover", "open the cover", "clear"]),
        ("open ground", "2027-05-08", ["sow", "clear"]),
    ],
)
def test_covers_are_laid_on_and_taken_off(cover: str, begin: str, kinds: list[str]) -> None:
    garden = garden_of(beds=[bed(cover=cover)])
    found = told(garden, planting("carrot", (1,), begin, "2027-09-10"))
    assert [kind for _, kind in found if kind != "thin"] == kinds


def test_covers_go_on_again_before_the_first_frost() -> None:
    garden = garden_of(beds=[bed(cover="fleece")])
    found = told(garden, planting("carrot", (1,), "2027-06-08", "2028-06-10"))
    assert [kind for _, kind in found] == ["sow", "thin", "cover", "uncover", "clear"]


def test_chosen_jobs_by_days_beds_and_crops() -> None:
    garden = garden_of()
    jobs = jobs_of(garden, blank_plan(garden.scenario, (pepper(), planting("rye", (2,), "2027-05-08", "2027-07-15"))))
    may = chosen(jobs, day("2027-05-05"), day("2027-05-15"))
    assert [job.kind for job in may] == ["harden off", "sow green manure", "set out"]
    assert {job.planting.crop for job in chosen(jobs, crops=["rye"])} == {"rye"}
    assert chosen(jobs, beds=["elsewhere"]) == ()
    assert chosen(jobs) == jobs


def test_seeds_are_divided_by_germination_with_a_fifth_to_spare() -> None:
    garden = garden_of()
    # 4 peppers: 4 x 1.2 = 4.8, so 5 pots; 5 / 0.5 = 10 seeds.
    need = need_of(garden, pepper())
    assert (need.pieces, need.raised, need.grams) == (10, 5, None)
    # 4 carrots: 4 x 1.2 x 3 / 0.55 = 26.2, so 27 seeds of 825 to the gram.
    need = need_of(garden, planting("carrot", (1,), "2027-05-08", "2027-07-31"))
    assert (need.pieces, need.raised) == (27, 0)
    assert need.grams == pytest.approx(27 / 825)
    # 4 potatoes are 4 tubers; rye on a strip of 0.6 x 1.2 m is 0.72 m2 x 16 g = 11.5 g.
    assert need_of(garden, planting("potato", (1,), "2027-05-01", "2027-08-31")).pieces == 4
    assert need_of(garden, planting("rye", (1,), "2027-05-08", "2027-07-15")).grams == 11.5


FEEDING_KINDS = ("lime", "spread compost")
START_KINDS = ("sow", "plant", "set out", "sow green manure")


def stage(job: Job) -> int:
    order = [
        "sow indoors",
        "pot on",
        "harden off",
        "start",
        "thin",
        "first harvest",
        "last harvest",
        "clear",
        "ground free",
    ]
    same = {"earth up": "thin", "dig in": "clear", **dict.fromkeys(START_KINDS, "start")}
    return order.index(same.get(job.kind, job.kind))


def holds_of_every_plan(garden: Garden, plan: Plan) -> None:
    jobs = jobs_of(garden, plan)
    assert jobs == jobs_of(garden, plan)
    assert [job.day for job in jobs] == sorted(job.day for job in jobs)
    for one in plan.plantings:
        mine = [job for job in jobs if job.planting == one]
        started = [one.start] if one.start >= garden.scenario.begins else []
        assert [job.day for job in mine if job.kind in START_KINDS] == started
        assert all(job.day <= one.start for job in mine if job.kind in FEEDING_KINDS)
        course = [job for job in mine if job.kind not in ("cover", "uncover", "open the cover", *FEEDING_KINDS)]
        assert [stage(job) for job in course] == sorted(stage(job) for job in course)
        need = need_of(garden, one)
        share = garden.crops[one.crop].germination
        if need.material == "seed" and need.pieces is not None:
            assert need.pieces * (1.0 if share is None else share.usual / 100) >= one.plants
    uids = [uid_of(job) for job in jobs]
    assert len(set(uids)) == len(uids)


@settings(max_examples=60, deadline=None)
@given(gardens_with_plans())
def test_jobs_of_drawn_plans(question: tuple[Garden, frozenset[int]]) -> None:
    garden, numbers = question
    holds_of_every_plan(garden, plan_of(garden, taken_of(garden, numbers)))


SHIPPED = load_catalogue()


@st.composite
def plantings(draw: st.DrawFn) -> Planting:
    """Draw a planting of any shipped crop, begun on any day, with the dates its figures give.

    What stays for years has jobs of its own kind: tests/relations/ground/test_standing.py.
    """
    one: Crop = draw(st.sampled_from([crop for crop in SHIPPED.crops if crop.stays is None]))
    way = draw(st.sampled_from(one.starts))
    begin = draw(st.dates(date(2027, 1, 1), date(2028, 12, 31)))
    ready = begin + timedelta(days=round(way.days_to_harvest.usual))
    last = ready + timedelta(days=draw(st.integers(0, 90)))
    indoors = None if way.weeks_indoors is None else begin - timedelta(days=round(way.weeks_indoors.usual * 7))
    strips = draw(st.sampled_from([(1,), (2,), (1, 2)]))
    return planting(
        one.name,
        strips,
        begin.isoformat(),
        (last + timedelta(days=draw(st.integers(0, 15)))).isoformat(),
        None if one.green_manure else ready.isoformat(),
        way=way.way,
        raise_from=None if draw(st.booleans()) else indoors,
        last_harvest=None if one.green_manure else last.isoformat(),
        plants=draw(st.integers(1, 400)),
    )


@settings(max_examples=80, deadline=None)
@given(
    st.lists(plantings(), max_size=6, unique_by=lambda p: (p.crop, p.strips, p.start)),
    st.sampled_from(["open ground", "fleece", "cold frame", "tunnel"]),
    st.sampled_from([50, -40]),
)
def test_jobs_of_shipped_crops_on_any_day(drawn: list[Planting], cover: str, latitude: float) -> None:
    written = scenario(beds=[bed(cover=cover)], years=3, latitude=latitude)
    garden = make_garden(written, SHIPPED)
    holds_of_every_plan(garden, blank_plan(written, tuple(drawn)))
