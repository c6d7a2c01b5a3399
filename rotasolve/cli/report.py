"""``rotasolve report``: a plan as one HTML page, and as PDF through a browser that is installed already."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import known_years, may_write, write_and_say
from rotasolve.cli.options import AsJson, Force, Inches, OwnCrops, PlanArgument, ScenarioArgument
from rotasolve.cli.terminal import answer_file, answer_json, talk, warn

if TYPE_CHECKING:
    from rotasolve.cli.case import PlanCase
    from rotasolve.views.report.report_parts import Paper

HELP = """Write a plan as one HTML page to read on a screen or to print: a sheet for each bed, harvests, jobs, cautions.

Examples:

\b
  rotasolve report garden.yaml garden.plan.json -o garden.html
  rotasolve report garden.yaml garden.plan.json -o garden.html --pdf garden.pdf --paper Letter
  rotasolve report garden.yaml garden.plan.json --pdf garden.pdf --year 2027
  rotasolve report garden.yaml garden.plan.json -o - > garden.html

The page needs no other file, no script and no network. Printed, each bed takes a page of its own, in black and white
as well. A PDF is printed by a browser of the Chromium family that is installed here; --browser or ROTASOLVE_BROWSER
names one that is not found by itself.
"""


@guarded
def report(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    output: Annotated[
        str | None, typer.Option("--output", "-o", metavar="FILE", help="The HTML file; - is stdout.")
    ] = None,
    pdf: Annotated[Path | None, typer.Option("--pdf", metavar="FILE", help="Print it to a PDF file as well.")] = None,
    year: Annotated[
        list[int] | None, typer.Option(metavar="YEAR", help="This year only; may be given several times.")
    ] = None,
    paper: Annotated[str, typer.Option(metavar="A4|Letter", help="The paper it is printed on.")] = "A4",
    browser: Annotated[
        str | None,
        typer.Option(metavar="PROGRAM", envvar="ROTASOLVE_BROWSER", help="The browser that prints the PDF."),
    ] = None,
    own_crops: OwnCrops = None,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Write a report."""
    sheet = _paper(paper)
    if output is None and pdf is None:
        raise typer.BadParameter("name the file with -o garden.html, or - for stdout", param_hint="--output")
    if json and output == "-":
        raise typer.BadParameter("the page and --json cannot both go to stdout", param_hint="--output")
    html = None if output in (None, "-") else Path(output)
    if html is not None and pdf is not None and html.absolute() == pdf.absolute():
        raise typer.BadParameter(f"{pdf} cannot be both the HTML and the PDF file", param_hint="--pdf")
    program = None
    if pdf is not None:
        from rotasolve.printing import find_browser

        program = find_browser(browser)
    may_replace = {file: may_write(file, force, Path(scenario)) for file in (html, pdf) if file is not None}
    case = read_case(scenario, own_crops).with_plan(plan)
    years = known_years(year or (), case.plan)
    page = _page(case, years, sheet, inches)
    if html is not None:
        write_and_say(page, html, may_replace[html])
    if pdf is not None and program is not None:
        from rotasolve.printing import print_page

        print_page(program, page, pdf, overwrite=may_replace[pdf])
        talk(f"Written: {pdf}")
    if json:
        _answer_json(html, pdf, sheet, years, case.matches)
    elif output == "-":
        answer_file(page)
    warn(case.warnings)
    return exit_codes.FINE


def _paper(word: str) -> Paper:
    papers: dict[str, Paper] = {"a4": "A4", "letter": "Letter"}
    if word.casefold() in papers:
        return papers[word.casefold()]
    raise typer.BadParameter(f"'{word}' is neither A4 nor Letter", param_hint="--paper")


def _page(case: PlanCase, years: tuple[int, ...], paper: Paper, inches: bool) -> str:
    from rotasolve.tasks.reporting import findings_of_plan
    from rotasolve.views.report.report_page import report_page
    from rotasolve.views.report.report_parts import Told
    from rotasolve.views.words.look import Look

    found = findings_of_plan(case.garden, case.plan)
    told = Told(found.garden, found.plan, found.jobs, found.supplies, years, Look(inches=inches), found.missed)
    return report_page(told, paper, case.warnings)


def _answer_json(html: Path | None, pdf: Path | None, paper: Paper, years: tuple[int, ...], matches: bool) -> None:
    from rotasolve.views.report.report_page import report_answer

    page, printed = (None if file is None else str(file) for file in (html, pdf))
    answer_json(report_answer(page, printed, paper, years, scenario_matches=matches))
