"""The whole report as one HTML page: no script, nothing from the network, made for screens and for paper.

The page's templates and its style are the files in ``report_files``. Text becomes part of the page in the templates
only, where every value is cleaned and escaped unless it is a drawing, which has escaped its own texts
(``views/svg.py``).
"""

from __future__ import annotations

import hashlib
import re
from base64 import b64encode
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_year
from rotasolve.views.as_json import SCHEMA_VERSION
from rotasolve.views.calendar_page import ADVICE
from rotasolve.views.family_marks import family_marks, mark_definitions
from rotasolve.views.hatch_fields import SharedParts
from rotasolve.views.report_front import front
from rotasolve.views.report_jobs import common_notes
from rotasolve.views.report_year import year_part
from rotasolve.views.wording import TIED, clean

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jinja2 import Environment

    from rotasolve.views.report_parts import Paper, Told
    from rotasolve.views.sheet_drawing import SheetDrawing

_FILES = "report_files"
_QUOTED = re.compile(r'="([\w#.%()-]+)"(/>)?')
_LINES = re.compile(r"\s*\n\s*(?=\n|</?(?:d[dlt]|div|li|ol|p|svg|t[dhr]|table|tbody|thead|ul)\b)")
"""Ends of lines that no reader of the file needs: it stays one of short paragraphs."""
_SIZES: dict[Paper, tuple[str, str]] = {"A4": ("A4", "297mm"), "Letter": ("Letter", "279mm")}
"""The name of a paper in CSS, and its height."""


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
    style = _style(paper)
    common = common_notes(told.jobs, told.garden, told.look)
    garden, parts = told.garden, SharedParts()
    shown = [year_part(told, year, common, parts) for year in told.years]
    marks = family_marks(garden.catalogue).values()
    # Turned beds keep their patterns.
    patterns = [mark for mark in marks if any(mark.fill in part.site.body for part in shown)]
    page = (
        _environment()
        .get_template("page.html")
        .render(
            title=garden.scenario.title,
            place=garden.scenario.site.name,
            years=_say_years(told),
            made_by=told.plan.made_by,
            style=_safe(style),
            style_hash=b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii"),
            definitions=_safe(mark_definitions(patterns) + parts.definitions()),
            front=front(told, notes),
            parts=shown,
            common=common,
            advice=ADVICE,
        )
    )
    return _short(page) + "\n"


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


def _style(paper: Paper) -> str:
    size, height = _SIZES[paper]
    text = files("rotasolve.views").joinpath(_FILES, "report.css").read_text(encoding="utf-8")
    lines = (line.strip() for line in re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL).splitlines())
    text = "\n".join(line for line in lines if line)
    # The page's own style sheet names the paper in these two places, so that it stays a style sheet editors can read.
    return text.replace("size: A4", f"size: {size}").replace("--paper: 297mm", f"--paper: {height}")


def _safe(text: str) -> Any:
    """Mark text as HTML already: our own style, and drawings."""
    from markupsafe import Markup

    return Markup(text)


def _drawn(drawing: SheetDrawing) -> Any:
    return _safe(drawing.inline())


def _finished(value: Any) -> Any:
    """Take out of a text what no page can show, before it is escaped; lines are broken by the page's style."""
    return clean(value).replace(TIED, " ") if type(value) is str else value


def _short(page: str) -> str:
    """Leave out quotes that HTML does not ask for, and empty lines: quotes in texts are escaped."""
    return _LINES.sub("", _QUOTED.sub(lambda found: f"={found[1]} />" if found[2] else f"={found[1]}", page))


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("rotasolve.views", _FILES),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_finished,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters["drawn"] = _drawn
    return environment
