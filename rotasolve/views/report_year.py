"""One garden year of the report: the site, a sheet for each bed, the harvest, the jobs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.views.bed_year import Stay, panels_of, say_bed, say_missing, say_stand
from rotasolve.views.family_marks import family_marks
from rotasolve.views.harvest_rows import harvest_rows, of_year
from rotasolve.views.layout import Column
from rotasolve.views.planting_table import PLANTING_COLUMNS, planting_cells
from rotasolve.views.report_jobs import CommonNotes, JobWeek, job_weeks
from rotasolve.views.report_parts import PageTable, Told, page_table
from rotasolve.views.sheet_drawing import SheetDrawing, sheet_drawing
from rotasolve.views.site_drawing import site_drawing
from rotasolve.views.supply import SUM_COLUMNS, spell_lists, sum_cells
from rotasolve.views.wording import say_date, say_runs

if TYPE_CHECKING:
    from rotasolve.views.hatch_fields import SharedParts
    from rotasolve.views.svg import Drawing

_COLUMNS = (Column("No.", number=True), *PLANTING_COLUMNS)
_PLANTS = next(place for place, column in enumerate(PLANTING_COLUMNS) if column.heading == "Plants")
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
    drawing: SheetDrawing
    table: PageTable | None
    long: bool


@dataclass(frozen=True)
class YearPart:
    """One year of the report."""

    key: str
    said: str
    site: Drawing
    sheets: tuple[BedSheet, ...]
    harvest: SheetDrawing
    sums: PageTable | None
    spells: list[tuple[str, list[str]]]
    weeks: tuple[JobWeek, ...]


def year_part(told: Told, year: int, common: CommonNotes, parts: SharedParts) -> YearPart:
    """Return one garden year of the report; its drawings use ``parts``."""
    garden, said = told.garden, say_year(year, told.south)
    supplies = of_year(told.supplies, year, told.south)
    jobs = [job for job in told.jobs if told.year_of(job.day) == year]
    return YearPart(
        key=f"year-{year}",
        said=said,
        site=_site(told, year, parts),
        sheets=tuple(_sheet(told, bed, year, nth, parts) for nth, bed in enumerate(garden.beds, start=1)),
        harvest=harvest_rows(garden, supplies, year, parts),
        sums=page_table(f"Harvest and what is wanted, {said}", SUM_COLUMNS, sum_cells(supplies)),
        spells=[(title, sentences) for title, sentences in spell_lists(supplies) if sentences],
        weeks=job_weeks(jobs, garden, told.look, common),
    )


def _site(told: Told, year: int, parts: SharedParts) -> Drawing:
    drawing = site_drawing(told.garden, told.plan, year, told.look.inches)
    return replace(drawing, body=parts.with_fields(drawing.body, family_marks(told.garden.catalogue).values()))


def _sheet(told: Told, bed: str, year: int, nth: int, parts: SharedParts) -> BedSheet:
    garden, plan = told.garden, told.plan
    panels = panels_of(garden, plan, bed, year)
    stays = [each for panel in panels for each in panel.stays]
    title = f"{bed}, {say_year(year, told.south)}"
    return BedSheet(
        key=f"year-{year}-bed-{nth}",
        name=bed,
        title=title,
        about=say_bed(garden, bed, told.look),
        missing=say_missing(garden, plan, bed, told.look),
        drawing=sheet_drawing(garden, panels, bed, year, parts),
        table=page_table(f"What stands in {title}", _COLUMNS, [_cells(told, *each, year) for each in stays], head=1),
        long=len(stays) > MOST_ON_A_PAGE,
    )


def _cells(told: Told, number: int, stay: Stay, year: int) -> tuple[str, ...]:
    """Return the row of a planting, or of what is left from before the plan."""
    planting, look = stay.planting, told.look
    if planting is None:
        left = {"Crop": stay.crop, "Strips": say_runs(stay.strips, look), "Start": "before the plan"}
        left["Clear"] = say_date(stay.last, year, told.south)
        return (str(number), *(left.get(column.heading, "") for column in PLANTING_COLUMNS))
    cells = list(planting_cells(planting, year, told.south, look))
    cells[_PLANTS] = say_stand(told.garden, planting, look)
    return (str(number), *cells)
