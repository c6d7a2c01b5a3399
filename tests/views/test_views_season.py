"""The season and the water as a reader sees them, word for word."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.figure import Figure
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.cover_heat import cover_heats
from rotasolve.relations.season.crop_seasons import judge_day, seasons_of
from rotasolve.relations.season.frosts import Turns
from rotasolve.relations.season.half_months import half_months
from rotasolve.relations.season.reasons import PoorBeyond, ShutBeyond, Side, WindowReason, weeks_from
from rotasolve.relations.season.water_need import WeekOfBed
from rotasolve.views.pages.season_page import crop_season_page, day_page, season_page
from rotasolve.views.pages.water_page import water_page
from rotasolve.views.words.cautions import cautions_of
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from rotasolve.views.words.windows import say
from tests.helpers.climates import CAMBRIDGE
from tests.helpers.every import kinds_of_facts

Golden = Callable[[str, str], None]
SHIPPED = load_catalogue()
COVERS = [SHIPPED.cover("open ground"), SHIPPED.cover("cold frame")]
WIDTHS = (50, 80, 120)


@pytest.fixture(scope="module")
def mild(scenario: Scenario) -> Scenario:
    """Return the tests' garden with a climate, its frost dates kept."""
    site = scenario.site.model_validate({**scenario.site.model_dump(), "climate": CAMBRIDGE})
    return scenario.model_copy(update={"site": site})


def kept_within(text: str, width: int) -> str:
    assert all(columns_of(line) <= width for line in text.splitlines())
    return text


@pytest.mark.parametrize("width", WIDTHS)
def test_season_page(golden: Golden, mild: Scenario, width: int) -> None:
    rows = half_months(mild.site, 2027)
    seasons = seasons_of(SHIPPED.crop("kale"), COVERS, mild.site, 2027)
    golden(f"season_{width}", kept_within(season_page(mild, 2027, rows, seasons, COVERS, (), Look(width)), width))


def test_season_page_without_a_climate(golden: Golden, scenario: Scenario) -> None:
    rows = half_months(scenario.site, 2027)
    golden("season_frost_only", season_page(scenario, 2027, rows, (), (), (), Look(80)))


@pytest.mark.parametrize("width", WIDTHS)
def test_crop_season_page(golden: Golden, mild: Scenario, width: int) -> None:
    seasons = [
        one for name in ("bush bean", "sweet pepper") for one in seasons_of(SHIPPED.crop(name), COVERS, mild.site, 2027)
    ]
    beans = [SHIPPED.crop("bush bean"), SHIPPED.crop("pea")]
    heats = [heat for cover in COVERS for heat in cover_heats(cover, beans, mild.site, 2027)]
    page = crop_season_page(mild, SHIPPED, 2027, seasons, COVERS, heats, Look(width))
    golden(f"crop_season_{width}", kept_within(page, width))


def test_day_page(golden: Golden, mild: Scenario) -> None:
    judged = judge_day(SHIPPED.crop("cucumber"), COVERS, mild.site, date(2027, 5, 1))
    golden("day_80", day_page(mild, SHIPPED, 2027, judged, COVERS, (), Look(80)))


WEEKS = (
    WeekOfBed("long bed", date(2027, 5, 31), 71.6, (("kale", 71.6),)),
    WeekOfBed("long bed", date(2027, 6, 7), 0.0, (("kale", 0.0),)),
    WeekOfBed("frame", date(2027, 5, 31), 9.4, (("kale", 9.4),), ("wild",)),
)


@pytest.mark.parametrize("width", WIDTHS)
def test_water_page(golden: Golden, scenario: Scenario, width: int) -> None:
    golden(f"water_{width}", kept_within(water_page(scenario, "2027", WEEKS, Look(width)), width))


def test_a_plan_that_starts_tender_crops_early_says_so(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    tender = catalogue.crop("summer squash").model_copy(
        update={"hardiness": catalogue.crop("kale").hardiness.model_copy(update={"level": "tender"})}
    )
    crops = tuple(tender if crop.name == tender.name else crop for crop in catalogue.crops)
    known = catalogue.model_copy(update={"crops": crops})
    # Squash goes out on 16 May, after the last frost of 5 May; with that on 20 May it is too early.
    assert not [text for text in cautions_of(plan, known, scenario) if text.startswith("Started before")]
    site = scenario.site.model_validate({**scenario.site.model_dump(), "last_frost": {"half": (5, 20)}})
    late = scenario.model_copy(update={"site": site})
    (told,) = [text for text in cautions_of(plan, known, late) if text.startswith("Started before")]
    assert told == (
        "Started before the last frost of one year in two, and killed by frost: summer squash in long bed on "
        "16 May 2027. Watch the forecast, cover on clear nights, and keep spare plants."
    )


def test_every_kind_of_reason_has_words() -> None:
    kinds = [kind for kind in kinds_of_facts("rotasolve.relations.season.reasons") if kind is not WindowReason]
    assert len(kinds) >= 15
    assert {say.dispatch(kind).__module__ for kind in kinds} == {"rotasolve.views.words.windows"}


def test_the_depth_of_the_soil_is_said_in_the_growers_units() -> None:
    reason = ShutBeyond(kind="heat", side="after", cover="open ground", day=date(2027, 6, 20), degrees_c=16)
    assert say(reason, Look()) == "the soil at 10 cm is warmer than 16 degC after 20 June, too hot to germinate"
    assert say(reason, Look(inches=True)).startswith("the soil at 3.9 in is warmer than 16 degC")


@pytest.mark.parametrize(
    ("weeks", "said"),
    [(-3, "3 weeks before"), (0, "on"), (1, "1 week after"), (6.4, "6.4 weeks after")],
)
def test_weeks_from_the_longest_day_are_said_with_their_side(weeks: float, said: str) -> None:
    turns = Turns(date(2027, 5, 5), date(2027, 10, 15), date(2027, 6, 21), 0.5)
    figure = Figure(value=weeks, unit="weeks after longest day", source=("S01",))
    reason = weeks_from(figure, weeks, turns)
    assert (reason.kind, reason.day, reason.sources) == ("longest day", turns.day(figure, weeks), ("S01",))
    assert say(reason, Look()) == f"{said} the longest day, 21 June"


@pytest.mark.parametrize("side", ["before", "after"])
def test_poor_starts_beside_a_gap_are_said_with_their_side(side: Side) -> None:
    reason = PoorBeyond(side=side, day=date(2027, 7, 3), least_percent=25)
    assert say(reason, Look()) == f"starts {side} 3 July give less than 25 % of the best one, for warmth and light"
