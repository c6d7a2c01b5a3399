"""Season window, by hand: the first and last open day of a start, moved by risk and cover."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from rotasolve.domain.crop import Crop
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.rules.season_window import SeasonWindow, WindowClaim
from tests.helpers.agree import accepted, found_by, number_of, posted
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, crop, planting, scenario, site, start
from tests.helpers.words import said

KEY = "season-window"


def open_days(record: Crop, cover: str = "open ground", way: str = "sown in place", **frost: object) -> tuple[str, str]:
    """Return the first and last day of 2027 on which the referee lets the crop be started."""
    place = {**site(), **frost}
    garden = make_garden(
        scenario([record.name], [bed(cover=cover)], site=place)
        if frost
        else scenario([record.name], [bed(cover=cover)]),
        catalogue([record]),
    )
    days = [date(2027, 1, 1) + timedelta(days=number) for number in range(365)]
    allowed = [
        day
        for day in days
        if not found_by(
            garden,
            KEY,
            blank_plan(garden.scenario, (planting(record.name, (1,), str(day), str(day), way=way),)),
        )
    ]
    assert allowed == [day for day in days if allowed[0] <= day <= allowed[-1]], "the window has a hole"
    return f"{allowed[0]:%m-%d}", f"{allowed[-1]:%m-%d}"


def sown(level: str = "hardy", earliest: float = -2, latest: float = 2, days: float = 60) -> Crop:
    return crop(
        "beet", "goosefoots", starts=[start(earliest, days, latest)], hardiness={"level": level, "source": SOURCE}
    )


def test_weeks_are_counted_from_the_last_frost() -> None:
    # 1 May - 14 days = 17 April; 1 May + 14 days = 15 May. Both ends are open.
    assert open_days(sown()) == ("04-17", "05-15")


def test_weeks_are_counted_back_from_the_first_frost() -> None:
    # 1 October - 8 x 7 days = 6 August.
    late = start(-2, 60, 8)
    late["latest"]["unit"] = "weeks before first frost"
    assert open_days(crop("beet", "goosefoots", starts=[late])) == ("04-17", "08-06")


@pytest.mark.parametrize(
    ("risk", "first"),
    [
        ("usual", "05-15"),  # 1 May + 14 days
        # safe = 13 May is 12 days after half: 9 years in 10 are frost-free after 13 May + 14 days.
        ("cautious", "05-27"),
        # The curve is even: 12 days before half, 19 April + 14 days.
        ("early", "05-03"),
    ],
)
def test_tender_crops_follow_the_risk(risk: str, first: str) -> None:
    frost = {"half": "1 May", "safe": "13 May"}
    tender = sown("tender", earliest=2, latest=6)
    assert open_days(tender, risk=risk, last_frost=frost)[0] == first
    # Hardy crops count from the half-way date whatever the risk.
    assert open_days(sown(), risk=risk, last_frost=frost)[0] == "04-17"


def test_tender_crops_must_ripen_before_the_frost() -> None:
    # Frost ends them on 1 October; 100 days to ripen and 7 of picking: 1 October - 107 days = 16 June.
    assert open_days(sown("tender", earliest=2, latest=20, days=100)) == ("05-15", "06-16")
    # Half-hardy ones stand 21 days longer: 22 October - 107 days = 7 July.
    assert open_days(sown("half-hardy", earliest=2, latest=20, days=100)) == ("05-15", "07-07")


def test_a_cover_opens_the_window_sooner() -> None:
    # The tunnel of the tiny catalogue: 21 days earlier in spring; a spring end does not move.
    assert open_days(sown(), cover="tunnel") == ("03-27", "05-15")
    # Frost ends a tender crop 28 days later: 16 June + 28 days = 14 July.
    assert open_days(sown("tender", earliest=2, latest=20, days=100), cover="tunnel") == ("04-24", "07-14")


def test_each_way_has_its_own_window() -> None:
    both = crop("beet", "goosefoots", starts=[start(1, 60), start(3, 50, way="set out")])
    assert open_days(both) == ("05-08", "05-08")
    assert open_days(both, way="set out") == ("05-22", "05-22")


@pytest.mark.parametrize(
    ("start_day", "open_then"), [("2027-05-07", False), ("2027-05-08", True), ("2027-05-09", False)]
)
def test_model_refuses_a_pin_out_of_season(start_day: str, open_then: bool) -> None:
    # Lettuce is open on 8 May alone.
    pin = {"bed": "bed", "crop": "lettuce", "start": start_day}
    garden = make_garden(scenario(pinned=[pin]), CATALOGUE)
    assert (posted(garden, KEY) == set()) is open_then
    pinned = [n for n, c in enumerate(garden.choices) if c.sowing.pinned and [cell.strip for cell in c.cells] == [1]]
    assert accepted(garden, pinned) is open_then


def test_southern_windows_lie_in_southern_springs() -> None:
    # Last frost 1 November: lettuce a week later, on 8 November.
    garden = make_garden(scenario(["lettuce"], latitude=-50), CATALOGUE)
    choice = garden.choices[number_of(garden, "lettuce", 2027)]
    assert choice.sowing.start == date(2027, 11, 8)
    assert accepted(garden, [number_of(garden, "lettuce", 2027)])


def test_says_what_it_asks() -> None:
    assert said(WindowClaim("sweet pepper", "frame")) == "sweet pepper in frame is started in its season"


def test_says_what_it_found() -> None:
    garden = make_garden(scenario(["lettuce"]), CATALOGUE)
    early = planting("lettuce", (1,), "2027-05-07", "2027-07-31")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (early,))) == [
        "lettuce in bed is started in its season, but lettuce sown in place on 7 May 2027, "
        "open from 8 May 2027 to 8 May 2027"
    ]
    raised = planting("lettuce", (1,), "2027-05-08", "2027-07-31", way="set out")
    assert found_by(garden, KEY, blank_plan(garden.scenario, (raised,))) == [
        "lettuce in bed is started in its season, but lettuce set out on 8 May 2027, never open here"
    ]


def test_the_claim_names_crop_and_bed() -> None:
    assert str(WindowClaim("kale", "bed")) == "season-window(kale, bed)"


def test_the_window_told_is_the_nearest_one() -> None:
    # Open on 8 May (1 week after the last frost) and on 25 September (21 weeks): 1 September is nearer to this.
    twice = crop("spinach", "goosefoots", starts=[start(1, 40), start(21, 40)])
    garden = make_garden(scenario(["spinach"]), catalogue([twice]))
    asked = planting("spinach", (1,), "2027-09-01", "2027-10-31")
    (found,) = SeasonWindow().hinders(garden, blank_plan(garden.scenario, ()), asked)
    assert "spinach is sown in place on 25 September 2027 in open ground" in said(found)
