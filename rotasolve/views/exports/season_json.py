"""The season and the water of a garden as answers for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.season.estimated_climate import DAYS_ERROR_C, NIGHTS_ERROR_C, is_estimated
from rotasolve.relations.season.frosts import frosts_of
from rotasolve.views.exports.as_json import SCHEMA_VERSION, Answer, sources_in
from rotasolve.views.words.look import Look
from rotasolve.views.words.windows import say, say_judged
from rotasolve.views.words.wording import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.catalogue import Catalogue, Cover
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.season.cover_heat import CoverHeat
    from rotasolve.relations.season.crop_seasons import DayJudged, StartSeason
    from rotasolve.relations.season.half_months import HalfMonth
    from rotasolve.relations.season.reasons import WindowReason
    from rotasolve.relations.season.water_need import WeekOfBed


def season_answer(
    scenario: Scenario,
    catalogue: Catalogue,
    year: int,
    rows: Iterable[HalfMonth],
    seasons: Iterable[StartSeason],
    days: Iterable[DayJudged],
    covers: Iterable[Cover],
    heats: Iterable[CoverHeat],
) -> Answer:
    """Return half months, windows with reasons, and days judged; temperatures in degrees C, water in mm a day."""
    last, first = frosts_of(scenario.site)
    crops = [_season(season) for season in seasons]
    judged = [
        {
            "crop": one.crop,
            "way": one.way,
            "cover": one.cover,
            "open": one.open,
            "percent_of_full_crop": one.share.percent if one.share is not None else None,
            "reason": say_judged(one, Look()),
            "warning": _reason(one.warning),
        }
        for one in days
    ]
    hot = [_heat(heat) for heat in heats]
    named = sorted({key for told in (crops, judged, hot) for key in sources_in(told, "sources")})
    return {
        "schema_version": SCHEMA_VERSION,
        "year": year,
        "risk": scenario.site.risk,
        "last_frost": last.model_dump(mode="json"),
        "first_frost": first.model_dump(mode="json"),
        "frost_given": scenario.site.last_frost is not None and scenario.site.first_frost is not None,
        "climate_estimated": is_estimated(scenario.site),
        "estimate_error_c": {"nights": NIGHTS_ERROR_C, "days": DAYS_ERROR_C} if is_estimated(scenario.site) else None,
        "half_months": [_half_month(row) for row in rows],
        "windows": crops,
        "days": judged,
        "cautions": {cover.name: cover.caution for cover in covers if cover.caution},
        "heat_under_covers": hot,
        "sources": {key: catalogue.sources[key].model_dump() for key in named if key in catalogue.sources},
    }


def water_answer(
    weeks: Sequence[WeekOfBed], *, rain_known: bool, scenario_matches: bool, notes: Sequence[str]
) -> Answer:
    """Return litres by bed and week."""
    return {
        "schema_version": SCHEMA_VERSION,
        "scenario_matches": scenario_matches,
        "rain_known": rain_known,
        "litres": round(sum(week.litres for week in weeks), 1),
        "weeks": [
            {
                "bed": week.bed,
                "monday": week.monday.isoformat(),
                "litres": round(week.litres, 1),
                "by_crop": {crop: round(litres, 1) for crop, litres in week.by_crop},
                "unknown": list(week.unknown),
            }
            for week in weeks
        ],
        "notes": list(notes),
    }


def _half_month(row: HalfMonth) -> Answer:
    weather = row.weather
    found: Answer = {
        "first_day": row.first.isoformat(),
        "chance_of_frost_after" if row.spring else "chance_of_frost_before": round(row.frost_chance, 4),
    }
    if weather is not None:
        found |= {
            "night_c": round(weather.night_c, 2),
            "day_c": round(weather.day_c, 2),
            "soil_10_cm_c": round(weather.soil_c, 2),
            "share_of_frosty_nights": round(weather.frosty_nights, 4),
            "degree_days_above_10_c": round(weather.degree_days, 1),
            "reference_evapotranspiration_mm": round(weather.reference_mm, 2),
            "rain_mm": None if weather.rain_mm is None else round(weather.rain_mm, 2),
        }
    return found


def _season(season: StartSeason) -> Answer:
    return {
        "crop": season.crop,
        "way": season.way,
        "cover": season.cover,
        "windows": [
            {
                "earliest": opened.window.earliest.isoformat(),
                "latest": opened.window.latest.isoformat(),
                "first_picking": opened.first_picking.isoformat(),
                "last_start_picking": opened.last_start_picking.isoformat(),
                "parts": [
                    {"part": one.part, "first": one.first.isoformat(), "last": one.last.isoformat()}
                    for one in opened.parts
                ],
                "shares": [
                    {"start": one.first.isoformat(), "percent_of_full_crop": one.percent, "part": one.part}
                    for one in opened.shares
                ],
                "opens": [_reason(reason) for reason in opened.window.opens],
                "closes": [_reason(reason) for reason in opened.window.closes],
                "notes": [_reason(reason) for reason in opened.window.notes],
                "warning": _reason(opened.warning),
            }
            for opened in season.windows
        ],
        "closed": _reason(season.closed),
        "quick_kinds_days": season.quick_days,
    }


def _heat(heat: CoverHeat) -> Answer:
    return {
        "cover": heat.cover,
        "crops": list(heat.crops),
        "bears_c": heat.bears_c,
        "first": heat.first.isoformat(),
        "last": heat.last.isoformat(),
        "hottest_usual_afternoon_c": round(heat.most_c, 2),
        "sources": list(heat.sources),
    }


def _reason(reason: WindowReason | None) -> Answer | None:
    if reason is None:
        return None
    return {
        "kind": reason.kind,
        "sentence": plain(say(reason, Look())),
        "day": None if reason.day is None else reason.day.isoformat(),
        "degrees_c": reason.degrees_c,
        "sources": list(reason.sources),
    }
