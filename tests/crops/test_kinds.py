"""Kinds within a crop: picked when published, and one with their crop where rest and neighbours are concerned."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.site import Site
from rotasolve.recount.families import known_orders, named_by
from rotasolve.relations.ground.families import FamilyGraph
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.windows import windows_of_year

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]

# Which months pickings begin in for starts of a whole window, in the south of England, and where it is published:
# E01 Sutton 1921; E02 and E03 British sowing charts; E06 Crocus (RHS plants); E09 Garden Organic; E12, E13 leek pages
# of a nursery and an Irish shop; E14 a growing guide; E16 a Scottish magazine; E17 Eastern Daily Press; E19 two
# allotment columns; E21 to E23 Irish and British sprouting broccoli pages; E35 a Dutch allotment society;
# TEAGASC_RADISH the Irish advisory service. "memory": not looked up.
PUBLISHED = [
    ("first early potato", 0, "Jun", "Jul", "E06: June to early July, from plantings up to the end of April"),
    ("second early potato", 0, "Jul", "Aug", "E06: mid July to August"),
    ("maincrop potato", 0, "Aug", "Oct", "E06: late August to October"),
    ("early carrot", 0, "Jun", "Oct", "E01, E02: June, from late sowings October"),
    ("maincrop carrot", 0, "Aug", "Nov", "memory: July to November"),
    ("spring cabbage", 0, "Apr", "Jun", "E01, E14: April to June"),
    ("summer cabbage", 0, "Jul", "Nov", "E01: July to November"),
    ("winter cabbage", 0, "Sep", "Dec", "E02, E03: from October"),
    ("savoy cabbage", 0, "Oct", "Mar", "E01, E09: October to March"),
    ("purple sprouting broccoli", 0, "Feb", "Apr", "E21, E22, E23: February to May"),
    ("winter cauliflower", 0, "Mar", "May", "E03: December to May"),
    ("autumn-planted onion", 0, "Jun", "Aug", "E17, E19: June and July"),
    ("seed onion", 0, "Aug", "Sep", "E02: August to October"),
    ("spring onion", 0, "Jun", "Nov", "E02: June to November"),
    ("spring onion", 1, "Mar", "May", "memory: March to May"),
    ("early leek", 0, "Aug", "Sep", "E12, E13: September"),
    ("winter leek", 0, "Nov", "Jan", "E12: December; E13: January"),
    ("early pea", 0, "Jun", "Jul", "E01: May and June in a warm border"),
    ("early pea", 1, "May", "Jun", "E02: sown in November for May"),
    ("mangetout", 0, "Jun", "Aug", "E35: June to the end of July; E02: to September"),
    ("winter lettuce", 0, "Mar", "May", "E01: early summer"),
    ("winter radish", 0, "Aug", "Nov", "TEAGASC_RADISH: 8 to 10 weeks from sowings in July and August"),
]


@pytest.fixture(scope="module")
def kinds(catalogue: Catalogue) -> dict[str, str]:
    return {crop.name: crop.kind_of for crop in catalogue.crops if crop.kind_of is not None}


def pickings(catalogue: Catalogue, name: str, number: int) -> list[date]:
    """Return the first picking of a start on the first and on the last day of its window, planted for 2027."""
    crop = catalogue.crop(name)
    climate = next(one.climate for one in catalogue.reference_climates if one.name == "southern England")
    site, bare, start = Site(latitude=52.2, climate=climate), catalogue.cover("open ground"), crop.starts[number]
    windows = windows_of_year(crop, start, bare, site, 2027)
    last = windows[-1].latest
    if name == "first early potato":
        last = date(2027, 4, 30)  # the source speaks of plantings up to then
    grown = growing(crop, start, bare, site)
    return [grown.ready_on(day) for day in (windows[0].earliest, last)]


@pytest.mark.parametrize(("name", "number", "first", "last", "where"), PUBLISHED)
def test_a_kind_is_picked_when_published(
    catalogue: Catalogue, name: str, number: int, first: str, last: str, where: str
) -> None:
    begin, end = MONTHS.index(first), MONTHS.index(last)
    allowed = {(begin + step) % 12 + 1 for step in range((end - begin) % 12 + 1)}
    assert {day.month for day in pickings(catalogue, name, number)} <= allowed, where


def test_every_start_of_every_kind_is_checked(catalogue: Catalogue, kinds: dict[str, str]) -> None:
    starts = {(name, number) for name in kinds for number in range(len(catalogue.crop(name).starts))}
    assert starts == {(name, number) for name, number, *_ in PUBLISHED}


@pytest.mark.parametrize(
    ("early", "late", "weeks"),
    [
        # E06: first earlies after 10 to 12 weeks, maincrops after 15 to 20; E12: leeks after 30 and after 40 weeks.
        ("first early potato", "maincrop potato", 5),
        ("early leek", "winter leek", 6),
        ("early carrot", "maincrop carrot", 5),
        ("summer cabbage", "winter cabbage", 8),
    ],
)
def test_early_and_late_kinds_spread_the_harvest(catalogue: Catalogue, early: str, late: str, weeks: int) -> None:
    (first, _), (then, _) = pickings(catalogue, early, 0), pickings(catalogue, late, 0)
    assert (then - first).days >= 7 * weeks


def test_a_kind_shares_family_rest_and_hosts_with_its_crop(catalogue: Catalogue, kinds: dict[str, str]) -> None:
    graph, bare = FamilyGraph(catalogue), {"family", "counts_for_rest", "rotation_group", "feeder"}
    for name, base in kinds.items():
        one, other = catalogue.crop(name), catalogue.crop(base)
        assert one.model_dump(include=bare) == other.model_dump(include=bare)
        # Nobody publishes hosts of kinds: both hands must follow the crop.
        assert {name, base} <= set(graph.crops_meant(base)) == named_by(catalogue, [base])
        assert graph.crops_meant(name) == (name,)
    for disease in {pathogen.name for pathogen in catalogue.pathogens}:
        hosts = graph.disease_group(disease).crops
        assert all(name in hosts for name, base in kinds.items() if base in hosts)
    orders = known_orders(catalogue)
    for before, after in list(orders):
        for name, base in kinds.items():
            assert base != before or (name, after) in orders
            assert base != after or (before, name) in orders


def test_what_a_kind_does_not_say_is_its_crop_s(catalogue: Catalogue) -> None:
    early, carrot = catalogue.crop("early carrot"), catalogue.crop("carrot")
    assert early.spacing_in_row == carrot.spacing_in_row
    assert early.germination == carrot.germination
    assert early.starts != carrot.starts
    assert early.also == ()
    assert catalogue.crop("spring onion").stored_per_person is None


def test_the_days_of_potatoes_are_those_published(catalogue: Catalogue) -> None:
    # E06: 10 to 12, 13 to 14 and 15 to 20 weeks.
    weeks = {
        name: catalogue.crop(name).starts[0].days_to_harvest.usual / 7
        for name in ("first early potato", "second early potato", "maincrop potato")
    }
    assert 10 <= weeks["first early potato"] <= 12
    assert 13 <= weeks["second early potato"] <= 14
    assert 15 <= weeks["maincrop potato"] <= 20
