"""The season of a site: its half months, and each crop's start windows with the reasons for their ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, say_year
from rotasolve.relations.season.frosts import frosts_of
from rotasolve.views.pages.crop_card import say_source
from rotasolve.views.pages.start_windows import reason_lines, season_lines, share_legend, window_table
from rotasolve.views.words.cover_heat import say_cover_heats
from rotasolve.views.words.estimates import say_estimate
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.start_shares import PARTS_LEGEND
from rotasolve.views.words.windows import say_judged
from rotasolve.views.words.wording import TIED, clean, say_crop, say_date, say_number, sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rotasolve.domain.catalogue import Catalogue, Cover
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.site import Frost, Site
    from rotasolve.relations.season.cover_heat import CoverHeat
    from rotasolve.relations.season.crop_seasons import DayJudged, StartSeason
    from rotasolve.relations.season.half_months import HalfMonth
    from rotasolve.relations.season.reasons import WindowReason
    from rotasolve.views.words.look import Look

_FROST = Column("Frost yet to come or come already", number=True)
_COLUMNS = (
    Column("From"),
    _FROST,
    Column("Nights with frost", number=True),
    Column("Night, degC", number=True),
    Column("Day, degC", number=True),
    Column("Soil, degC", number=True),
    Column("Warmth, degC days", number=True),
    Column("Thirst, mm a day", number=True),
    Column("Rain, mm a day", number=True),
)
_LEGEND = (
    "Frost yet to come (spring, in per cent of years after this day) or come already (autumn, by this day), from the "
    "frost dates."
)
_WEATHER_LEGEND = (
    "Night and day: mean lowest and highest air temperature. Soil: daily mean at 10 cm, estimated from the air, up to "
    "2.9 degC wrong. Warmth: degree days above 10 degC in half a month. Thirst: evapotranspiration of short grass, "
    "right to about a fifth."
)


def season_page(
    scenario: Scenario,
    year: int,
    rows: Sequence[HalfMonth],
    seasons: Sequence[StartSeason],
    covers: Sequence[Cover],
    heats: Sequence[CoverHeat],
    look: Look,
) -> str:
    """Return the site's half months, and the windows of some crops as a table."""
    lines = [*_head(scenario, year, look), "", *heading("Month by month", look, "-")]
    lines += [*_half_months(scenario.site, year, rows, look), ""]
    for legend in (_LEGEND, *([_WEATHER_LEGEND] if scenario.site.climate is not None else ())):
        lines += wrap(legend, look.text_width)
    if seasons:
        lines += ["", *heading("When to start what", look, "-")]
        lines += window_table(seasons, year, scenario.site.south, look)
    lines += _notes(say_cover_heats(covers, heats), look)
    return "\n".join(lines) + "\n"


def crop_season_page(
    scenario: Scenario,
    catalogue: Catalogue,
    year: int,
    seasons: Sequence[StartSeason],
    covers: Sequence[Cover],
    heats: Sequence[CoverHeat],
    look: Look,
) -> str:
    """Return the windows of some crops in full: by way of starting and cover, with the reasons for both ends."""
    lines = _head(scenario, year, look)
    for crop in dict.fromkeys(season.crop for season in seasons):
        lines += ["", *heading(clean(say_crop(crop, scenario.words)), look, "-")]
        for season in (season for season in seasons if season.crop == crop):
            lines += season_lines(season, year, scenario.site.south, look)
    lines += share_legend(seasons, look)
    lines += _notes([*_cautions(covers), *say_cover_heats(covers, heats)], look)
    lines += _sources([*_reasons_in(seasons), *heats], catalogue, look)
    return "\n".join(lines) + "\n"


def _reasons_in(seasons: Iterable[StartSeason]) -> Iterator[WindowReason]:
    for season in seasons:
        if season.closed is not None:
            yield season.closed
        for opened in season.windows:
            yield from (*opened.window.opens, *opened.window.closes, *opened.window.notes)
            if opened.warning is not None:
                yield opened.warning


def _sources(reasons: Iterable[WindowReason | CoverHeat], catalogue: Catalogue, look: Look) -> list[str]:
    lines: list[str] = []
    for key in sorted({key for reason in reasons for key in reason.sources}):
        mark = f"[{key}] " if look.codes else "- "
        lines += wrap(f"{mark}{say_source(key, catalogue.sources.get(key))}", look.text_width, "", "    ")
    return ["", *heading("Sources", look), *lines] if lines else []


def day_page(
    scenario: Scenario,
    catalogue: Catalogue,
    year: int,
    judged: Sequence[DayJudged],
    covers: Sequence[Cover],
    heats: Sequence[CoverHeat],
    look: Look,
) -> str:
    """Return whether crops may be started on a day."""
    lines = [*_head(scenario, year, look), ""]
    for one in judged:
        place = one.cover if one.cover == "open ground" else f"under {one.cover}"
        verdict = "yes" if one.open else "no"
        lines += wrap(f"{one.crop}, {one.way}, {place}: {verdict}, {say_judged(one, look)}", look.text_width, "", "  ")
        lines += reason_lines("beware", () if one.warning is None else (one.warning,), look)
    if any(one.share is not None for one in judged):
        lines += ["", *wrap(PARTS_LEGEND, look.text_width)]
    told = (one.warning for one in judged if one.warning is not None)
    lines += _notes([*_cautions(covers), *say_cover_heats(covers, heats)], look)
    lines += _sources([*told, *heats], catalogue, look)
    return "\n".join(lines) + "\n"


def _cautions(covers: Iterable[Cover]) -> list[str]:
    return [f"{cover.name}: {sentence(cover.caution)}" for cover in covers if cover.caution]


def _notes(texts: Sequence[str], look: Look) -> list[str]:
    """Return what must be told under a heading, nothing if there is nothing."""
    lines = [line for text in texts for line in wrap(f"- {text}", look.text_width, "", "  ")]
    return ["", *heading("Please note", look), *lines] if lines else []


def _head(scenario: Scenario, year: int, look: Look) -> list[str]:
    site = scenario.site
    last, first = frosts_of(site)
    given = "" if site.last_frost and site.first_frost else "; what you did not give is worked out from the mean nights"
    text = f"Last frost {_say_frost(last)}, first frost {_say_frost(first)}, each in one year of two{given}"
    risk = f"risk: {site.risk}"
    head = heading(f"{clean(site.name or scenario.title)}, season {say_year(year, site.south)}", look, "=")
    lines = [*head, *wrap(f"{text}; {risk}.", look.text_width, "", "  ")]
    return (
        lines + wrap(f"Climate: {estimate}.", look.text_width, "", "  ") if (estimate := say_estimate(site)) else lines
    )


def _say_frost(frost: Frost) -> str:
    month, day = frost.half
    return f"{day}{TIED}{MONTHS[month - 1]}"


def _half_months(site: Site, year: int, rows: Sequence[HalfMonth], look: Look) -> list[str]:
    cells = []
    for row in rows:
        weather = row.weather
        cell = [say_date(row.first, year, site.south), f"{say_number(100 * row.frost_chance, 0)}{TIED}%"]
        if weather is None:
            cell += [""] * 7
        else:
            cell += [
                f"{say_number(100 * weather.frosty_nights, 0)}{TIED}%",
                say_number(weather.night_c),
                say_number(weather.day_c),
                say_number(weather.soil_c),
                say_number(weather.degree_days, 0),
                say_number(weather.reference_mm),
                "" if weather.rain_mm is None else say_number(weather.rain_mm),
            ]
        cells.append(cell)
    return table(_COLUMNS, cells, look)
