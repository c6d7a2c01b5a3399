"""One garden year of the report: the site, a sheet for each bed, the harvest, the jobs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.views.drawings.bed_drawing import bed_ground
from rotasolve.views.drawings.harvest_drawing import harvest_rows, of_year
from rotasolve.views.drawings.season_drawing import season_rows
from rotasolve.views.drawings.site_drawing import how_to_read, say_obstacle, site_map
from rotasolve.views.drawings.svg import Drawing
from rotasolve.views.pages.planting_table import PLANTING_COLUMNS, planting_cells
from rotasolve.views.pages.supply import SUM_COLUMNS, gap_lists, spell_lists, sum_cells
from rotasolve.views.report.report_jobs import CommonNotes, JobWeek, job_weeks
from rotasolve.views.report.report_parts import PageTable, Told, page_table
from rotasolve.views.words.bed_year import Panel, Stand, Stay, panels_of, say_bed, say_crops, say_missing, stand_of
from rotasolve.views.words.layout import Column
from rotasolve.views.words.wording import say_count, say_date, say_length, say_number, say_runs

if TYPE_CHECKING:
    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.views.drawings.hatch_fields import SharedParts
    from rotasolve.views.words.look import Look

_START, _PLANTS = (
    next(place for place, column in enumerate(PLANTING_COLUMNS) if column.heading == heading)
    for heading in ("Start", "Plants")
)
_WAYS = ("set out", "sown in place")
_COLUMNS = (
    Column("No.", number=True),
    *PLANTING_COLUMNS[:_START],
    *(Column(way.capitalize()) for way in _WAYS),
    *PLANTING_COLUMNS[_START + 1 : _PLANTS + 1],
    Column("Apart (in a row x between)"),
    *PLANTING_COLUMNS[_PLANTS + 1 :],
)
MOST_ON_A_PAGE = 14
"""A sheet with more plantings runs on to a second page of paper; with fewer, its drawings shrink to fit on one."""


@dataclass(frozen=True)
class BedSheet:
    """A bed in one year. ``table`` says in words all that is drawn; None if nothing stands."""

    key: str
    name: str
    title: str
    about: str
    missing: str
    drawing: Drawing
    table: PageTable | None
    crops: str
    long: bool


@dataclass(frozen=True)
class YearPart:
    """One year of the report."""

    key: str
    said: str
    site: Drawing
    how: str
    obstacles: tuple[str, ...]
    sheets: tuple[BedSheet, ...]
    harvest: Drawing
    sums: PageTable | None
    spells: list[tuple[str, list[str]]]
    weeks: tuple[JobWeek, ...]


def year_part(told: Told, year: int, common: CommonNotes, parts: SharedParts) -> YearPart:
    """Return one garden year of the report; its drawings use ``parts``."""
    garden, said = told.garden, say_year(year, told.south)
    supplies = of_year(told.supplies, year, told.south)
    gaps = gap_lists([spring for spring in told.springs if spring.year == year], told.south, told.look)
    jobs = [job for job in told.jobs if told.year_of(job.day) == year]
    return YearPart(
        key=f"year-{year}",
        said=said,
        site=site_map(garden, told.plan, year, told.look.inches, families_of(told), parts),
        how=how_to_read(garden),
        obstacles=tuple(say_obstacle(one, told.look) for one in _beside(garden)),
        sheets=tuple(_sheet(told, bed, year, nth, parts) for nth, bed in enumerate(garden.beds, start=1)),
        harvest=harvest_rows(garden, supplies, year, parts),
        sums=page_table(f"Harvest and what is wanted, {said}", SUM_COLUMNS, sum_cells(supplies, garden.scenario.words)),
        spells=[*gaps, *((title, sentences) for title, sentences in spell_lists(supplies)[:1] if sentences)],
        weeks=job_weeks(jobs, garden, told.look, common),
    )


def _beside(garden: Garden) -> tuple[Obstacle, ...]:
    """Return the obstacles that are drawn: without a bed that has a place none has."""
    return garden.scenario.obstacles if any(bed.is_placed for bed in garden.beds.values()) else ()


def families_of(told: Told) -> set[str]:
    """Return all families of the report: of what stands, of what stood before the plan, of what is wished."""
    garden = told.garden
    families = {garden.crops[planting.crop].family for planting in told.plan.plantings}
    families |= {garden.crops[past.crop].family for past in garden.scenario.history if past.crop in garden.crops}
    return families | {garden.crops[supply.crop].family for supply in told.supplies}


def _sheet(told: Told, bed: str, year: int, nth: int, parts: SharedParts) -> BedSheet:
    garden, plan = told.garden, told.plan
    panels = panels_of(garden, plan, bed, year)
    stays = [each for panel in panels for each in panel.stays]
    title = f"{bed}, {say_year(year, told.south)}"
    return BedSheet(
        key=f"{year}-{nth}",
        name=bed,
        title=title,
        about=say_bed(garden, bed, told.look),
        missing=say_missing(garden, plan, bed, told.look),
        drawing=bed_sheet(garden, panels, bed, year, parts),
        table=page_table("Plantings", _COLUMNS, [_cells(told, *each, year) for each in stays], head=1),
        crops=say_crops(stay for _, stay in stays),
        long=len(stays) > MOST_ON_A_PAGE,
    )


def bed_sheet(garden: Garden, panels: tuple[Panel, ...], bed: str, year: int, parts: SharedParts) -> Drawing:
    """Return a bed's ground with its season below it in one picture, so that a sheet fits on one page of paper."""
    ground = bed_ground(garden, panels, bed, parts)
    season, foot = season_rows(garden, panels, bed, year, round(ground.height), parts)
    return Drawing("Ground and season", ground.width, foot, ground.body + season)


def _say_rows(stand: Stand, plants: int) -> str:
    if stand.broadcast:
        return ", broadcast"
    return f" in {say_count(stand.rows, 'row')}" if plants > 1 else ""


def _say_apart(stand: Stand, look: Look) -> str:
    """Say distances in a row and between rows: ``15 x 30 cm``, ``15 cm``, ``rows 30 cm``."""
    apart, between = stand.apart_cm, stand.between_cm
    if apart and between:
        # The unit is said once where both are centimetres.
        small = not look.inches and max(apart, between) < 100
        return f"{say_number(apart) if small else say_length(apart, look)} x {say_length(between, look)}"
    return say_length(apart, look) if apart else f"rows {say_length(between, look)}" if between else ""


def _cells(told: Told, number: int, stay: Stay, year: int) -> tuple[str, ...]:
    """Return the row of a planting, or of what is left from before the plan."""
    planting, look = stay.planting, told.look
    if planting is None:
        left = {"Crop": stay.crop, "Strips": say_runs(stay.strips, look), "Sown in place": "before the plan"}
        left["Clear"] = say_date(stay.last, year, told.south)
        return (str(number), *(left.get(column.heading, "") for column in _COLUMNS[1:]))
    cells = planting_cells(planting, told.shares.get(planting), year, told.south, look)
    stand = stand_of(told.garden, planting)
    start = say_date(planting.start, year, told.south)
    return (
        str(number),
        *cells[:_START],
        *(start if planting.way == way else "" for way in _WAYS),
        *cells[_START + 1 : _PLANTS],
        f"{planting.plants:,}{_say_rows(stand, planting.plants)}",
        _say_apart(stand, look),
        *cells[_PLANTS + 1 :],
    )
