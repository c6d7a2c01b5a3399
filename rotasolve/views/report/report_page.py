"""The whole report as one HTML page: no script, nothing from the network, made for screens and for paper."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_year
from rotasolve.views.drawings.hatch_fields import SharedParts
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.pages.calendar_page import ADVICE
from rotasolve.views.report.html_pages import html_page, markup
from rotasolve.views.report.report_front import figures, front
from rotasolve.views.report.report_jobs import common_notes
from rotasolve.views.report.report_year import year_part

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.views.report.report_parts import Paper, Told


def report_page(told: Told, paper: Paper = "A4", notes: tuple[str, ...] = ()) -> str:
    """Return the report as an HTML page, the same to the byte for the same input.

    Parameters
    ----------
    told
        What there is to tell.
    paper
        The paper its print style is made for.
    notes
        Warnings about the plan as a whole, such as that it was made for another scenario.
    """
    common = common_notes(told.jobs, told.garden, told.look)
    garden, parts = told.garden, SharedParts()
    shown = [year_part(told, year, common, parts) for year in told.years]
    return html_page(
        "page.html",
        paper,
        title=garden.scenario.title,
        place=garden.scenario.site.name,
        years=_say_years(told),
        made_by=told.plan.made_by,
        definitions=markup(parts.definitions()),
        front=front(told, notes),
        figures=figures(told),
        parts=shown,
        common=common,
        advice=ADVICE,
    )


def report_answer(
    html: str | None, pdf: str | None, paper: Paper, years: Sequence[int], *, scenario_matches: bool
) -> dict[str, Any]:
    """Return for programs what was written where; None stands for a file that was not asked for."""
    return {
        "schema_version": SCHEMA_VERSION,
        "html": html,
        "pdf": pdf,
        "paper": paper,
        "years": list(years),
        "scenario_matches": scenario_matches,
    }


def _say_years(told: Told) -> str:
    said = [say_year(year, told.south) for year in told.years]
    in_a_row = len(said) > 1 and told.years[-1] - told.years[0] == len(said) - 1
    return f"{said[0]} to {said[-1]}" if in_a_row else ", ".join(said)
