"""Dates in a scenario: frost dates in an order that makes sense, history before the plan, pins within it."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, garden_year, say_day, say_year, year_start
from rotasolve.errors import GardenFault
from rotasolve.relations.ground.sowings import pinned_sowing
from rotasolve.relations.season.frosts import frosts_of

if TYPE_CHECKING:
    from rotasolve.domain.site import Frost
    from rotasolve.files.scenario_checks import ScenarioCheck

SHORTEST_SEASON_DAYS = 30
_COMMON_YEAR = 2001
_DAYS = 365


def check_dates(check: ScenarioCheck) -> None:
    """Check frost dates, history, pinned plantings and things that must be had in a certain year."""
    site = check.scenario.site
    try:
        _season(check, *frosts_of(site))
    except GardenFault as refusal:
        check.refuse(("site", "climate"), refusal.what, refusal.mend)
    for name, frost, later in (("last_frost", site.last_frost, True), ("first_frost", site.first_frost, False)):
        if frost is not None:
            _frost_spread(check, name, frost, harm_is_later=later)
    _history(check)
    _within_plan(check)


def _number(day: tuple[int, int]) -> int:
    """Return the day's number in a common year, 1 to 365."""
    return date(_COMMON_YEAR, *day).timetuple().tm_yday


def _say(day: tuple[int, int]) -> str:
    return f"{day[1]} {MONTHS[day[0] - 1]}"


def _season(check: ScenarioCheck, last_frost: Frost, first_frost: Frost) -> None:
    site = check.scenario.site
    # Counted from the start of the garden year: 1 January in the north, 1 July in the south.
    offset = _number((7, 1)) if site.south else 1
    last = (_number(last_frost.half) - offset) % _DAYS
    first = (_number(first_frost.half) - offset) % _DAYS
    given = site.first_frost is not None
    path = ("site", "first_frost", "half") if given else ("site", "climate")
    if first <= last:
        half = "south: July to June" if site.south else "north: January to December"
        what = (
            f"the first frost of autumn, {_say(first_frost.half)}, comes before the last frost of spring, "
            f"{_say(last_frost.half)}, in one garden year ({half})"
        )
        check.refuse(path, what, "are the two exchanged, or is the sign of the latitude wrong?")
    elif first - last < SHORTEST_SEASON_DAYS:
        what = f"only {first - last} days lie between last and first frost; at least {SHORTEST_SEASON_DAYS} are needed"
        check.refuse(path, what, "check both dates")


def _frost_spread(check: ScenarioCheck, name: str, frost: Frost, *, harm_is_later: bool) -> None:
    for key, day, later in (("safe", frost.safe, harm_is_later), ("daring", frost.daring, not harm_is_later)):
        if day is None:
            continue
        days = (_number(day) - _number(frost.half) + _DAYS // 2) % _DAYS - _DAYS // 2
        if (days > 0) != later or days == 0:
            order = "later" if later else "earlier"
            what = f"the {key} date of {name} must be {order} than half, {_say(frost.half)}, not {_say(day)}"
            check.refuse(("site", name, key), what, f"write a date some days {order}")


def _history(check: ScenarioCheck) -> None:
    scenario, south = check.scenario, check.scenario.site.south
    first = say_year(scenario.first_year, south)
    for index, past in enumerate(scenario.history):
        path = ("history", index)
        if past.year > scenario.first_year:
            what = f"history is what grew before the plan begins in {first}, not in {say_year(past.year, south)}"
            check.refuse((*path, "year"), what, "correct the year, or make it a pinned planting")
        elif past.year == scenario.first_year and past.until is None:
            what = f"the plan itself begins in {first}"
            mend = "add 'until' with the day the ground is free if the crop still stands, or correct the year"
            check.refuse((*path, "year"), what, mend)
        if past.until is not None and past.until < year_start(past.year, south):
            what = f"until, {say_day(past.until)}, lies before the crop's year {say_year(past.year, south)}"
            check.refuse((*path, "until"), what, "write the day the ground is free")


def _stands_before(check: ScenarioCheck, index: int) -> None:
    """Refuse a pin started before the plan that is cleared before it too."""
    scenario, pin = check.scenario, check.scenario.pinned[index]
    name = check.canonical.get(("pinned", index, "crop"), pin.crop)
    crop = next((crop for crop in check.catalogue.crops if crop.name == name), None)
    bed = next((bed for bed in scenario.beds if bed.name == pin.bed), None)
    until = pin.until
    if until is None and crop is not None and bed is not None and not check.faults:
        until = pinned_sowing(pin, crop, check.catalogue.cover(bed.cover), scenario).course.clear
    if until is not None and until < scenario.begins:
        what = f"started on {say_day(pin.start)}, it is cleared on {say_day(until)}, before the plan begins"
        mend = "make it a line of 'history', or write the day its ground is free as 'until'"
        check.refuse(("pinned", index, "start"), what, mend)


def _within_plan(check: ScenarioCheck) -> None:
    scenario, south = check.scenario, check.scenario.site.south
    years = scenario.planned_years
    span = (
        say_year(years[0], south) if len(years) == 1 else f"{say_year(years[0], south)} to {say_year(years[-1], south)}"
    )
    for index, pin in enumerate(scenario.pinned):
        if pin.start < scenario.begins:
            _stands_before(check, index)
        elif garden_year(pin.start, south) not in years:
            what = f"{say_day(pin.start)} lies outside the planned years, {span}"
            check.refuse(("pinned", index, "start"), what, "write a day within them")
        if pin.until is not None and pin.until < pin.start:
            what = f"{say_day(pin.until)} lies before the start, {say_day(pin.start)}"
            check.refuse(("pinned", index, "until"), what, "write the last day on which its ground is taken")
    for index, closed in enumerate(scenario.closed):
        if closed.until is not None and closed.until < closed.since:
            what = f"{say_day(closed.until)} lies before {say_day(closed.since)}, when the bed is closed"
            check.refuse(("closed", index, "until"), what, "write the last day on which it is closed")
    for index, must in enumerate(scenario.household.must_have):
        if must.year is not None and must.year not in years:
            what = f"{say_year(must.year, south)} lies outside the planned years, {span}"
            check.refuse(("household", "must_have", index, "year"), what, "write one of them, or leave the year out")
