"""``rotasolve season``: the climate of a garden by half months, and when its crops may be started, with reasons."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop
from rotasolve.cli.options import AsJson, OwnCrops, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal
from rotasolve.errors import GardenFault

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.cli.case import Case
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Scenario

HELP = """Show a garden's frost and climate through the year, and when crops may be started there.

Examples:

\b
  rotasolve season garden.yaml
  rotasolve season garden.yaml tomato "sweet pepper"
  rotasolve season garden.yaml cucumber --on "1 June"

With crops named, every way of starting them under every cover is shown, with the reasons why the window opens and
closes. With 12 monthly mean minima and maxima under site: climate: the windows follow soil and nights too.
"""


@guarded
def season(
    scenario: ScenarioArgument,
    crops: Annotated[list[str] | None, typer.Argument(metavar="[CROP]...", help="Crops to explain.")] = None,
    year: Annotated[
        int | None, typer.Option(metavar="YEAR", help="The garden year to show. Default: the first of the plan.")
    ] = None,
    on: Annotated[
        str | None, typer.Option("--on", metavar="DAY", help="Judge this day, such as 1 June, for the crops named.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Show the season."""
    from rotasolve.relations.season.cover_heat import cover_heats
    from rotasolve.relations.season.crop_seasons import judge_day, seasons_of
    from rotasolve.relations.season.half_months import half_months
    from rotasolve.views.exports.season_json import season_answer
    from rotasolve.views.pages.season_page import crop_season_page, day_page, season_page

    case = read_case(scenario, own_crops)
    place, catalogue, site = case.scenario, case.catalogue, case.scenario.site
    shown = place.first_year if year is None else year
    _refuse_odd_year(shown)
    named = _named(crops or (), case)
    day = _day_in(on, shown, site.south)
    if day is not None and not named:
        raise GardenFault("--on judges a day for crops: name one after the scenario, such as cucumber")
    used = [cover for cover in catalogue.covers if named or cover.name in {bed.cover for bed in place.beds}]
    rows = half_months(site, shown)
    listed = named or _wanted(place, catalogue)
    seasons = [one for crop in listed for one in seasons_of(crop, used, site, shown)]
    judged = [] if day is None else [one for crop in named for one in judge_day(crop, used, site, day)]
    heats = [heat for cover in used for heat in cover_heats(cover, listed, site, shown)]
    look = look_of_terminal(codes=details)
    if json:
        answer_json(season_answer(place, catalogue, shown, rows, seasons, judged, used, heats))
    elif day is not None:
        answer_page(day_page(place, catalogue, shown, judged, used, heats, look), details)
    elif named:
        answer_page(crop_season_page(place, catalogue, shown, seasons, used, heats, look), details)
    else:
        answer_page(season_page(place, shown, rows, seasons, used, heats, look), details)
    return exit_codes.FINE


def _refuse_odd_year(year: int) -> None:
    from rotasolve.domain.scenario import EARLIEST_FIRST_YEAR, LATEST_FIRST_YEAR

    if not EARLIEST_FIRST_YEAR <= year <= LATEST_FIRST_YEAR:
        raise GardenFault(f"the year must lie between {EARLIEST_FIRST_YEAR} and {LATEST_FIRST_YEAR}, not {year}")


def _named(said: Sequence[str], case: Case) -> list[Crop]:
    names = dict.fromkeys(find_crop(word, case.catalogue, case.scenario.words) for word in said)
    return [case.catalogue.crop(name) for name in names]


def _wanted(scenario: Scenario, catalogue: Catalogue) -> list[Crop]:
    from rotasolve.views.words.summary import crops_in_plan

    return [catalogue.crop(name) for name in sorted(crops_in_plan(scenario), key=str.casefold)]


def _day_in(text: str | None, year: int, south: bool) -> date | None:
    """Return the day of the garden year that was asked for."""
    if text is None:
        return None
    from datetime import date

    from rotasolve.domain.said_days import parse_said_day
    from rotasolve.domain.seasons import year_start, years_later

    begin = year_start(year, south)
    try:
        found = parse_said_day(text, date.today(), begin)
    except ValueError as error:
        raise GardenFault(f"--on: {error}") from None
    day = years_later(found, begin.year - found.year)
    return day if day >= begin else years_later(day, 1)
