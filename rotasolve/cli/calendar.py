"""``rotasolve calendar``: what to do for a plan, and when; also as files for calendars and spreadsheets."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop, known_bed, may_write, read_day, write_and_say
from rotasolve.cli.options import AsJson, DiaryOption, Force, Inches, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn
from rotasolve.cli.told import diary_if_any
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.cli.case import PlanCase
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.done import Progress
    from rotasolve.relations.work.jobs import Job
    from rotasolve.views.pages.calendar_page import By

HELP = """Say what to do for a plan and when: sow, pot on, harden off, set out, cover, thin, harvest, clear.

Examples:

\b
  rotasolve calendar garden.yaml garden.plan.json --from 2027-04-01 --to 2027-05-31
  rotasolve calendar garden.yaml garden.plan.json --this-week
  rotasolve calendar garden.yaml garden.plan.json --bed "gate bed" --by day
  rotasolve calendar garden.yaml garden.plan.json --ics garden.ics --force

Without days it lists the next two weeks, or the first two with something to do; --details lists all, each job on its
day. Files and --json always hold all jobs of the days asked for. The list goes to stdout, to be printed and ticked off.
An iCalendar file that is written over an earlier one carries its events on: what has changed is updated, what is no
longer planned is cancelled. A diary beside the scenario (see 'rotasolve diary') ticks off what it says is done;
--this-week also says which jobs are overdue.
"""
_LARGEST_CALENDAR = 20_000_000


@guarded
def calendar(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    first: Annotated[str | None, typer.Option("--from", metavar="DAY", help="From this day on: 2027-05-12.")] = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Until this day, which is included.")] = None,
    bed: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="This bed only; may be given several times.")
    ] = None,
    crop: Annotated[
        list[str] | None, typer.Option(metavar="NAME", help="This crop only; may be given several times.")
    ] = None,
    this_week: Annotated[
        bool, typer.Option("--this-week", help="This week's jobs, and those overdue since the diary begins.")
    ] = False,
    today: Annotated[
        str | None, typer.Option(metavar="DAY", help="The day from which is counted; today if not given.")
    ] = None,
    diary: DiaryOption = None,
    by: Annotated[str, typer.Option(metavar="week|day", help="Listed by week or by day.")] = "week",
    ics: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write an iCalendar file (RFC 5545) as well.")
    ] = None,
    csv: Annotated[Path | None, typer.Option(metavar="FILE", help="Write a CSV file (RFC 4180) as well.")] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """List the jobs of a plan."""
    if by not in ("week", "day"):
        raise typer.BadParameter(f"'{by}' is neither week nor day", param_hint="--by")
    begin, end = _span(first, last, this_week, today)
    may_replace = {file: may_write(file, force, Path(scenario)) for file in (ics, csv) if file is not None}
    case = read_case(scenario, own_crops).with_plan(plan)

    from rotasolve.relations.work.jobs import chosen, jobs_of, next_jobs
    from rotasolve.views.exports.calendar_files import calendar_csv
    from rotasolve.views.exports.jobs_json import calendar_answer
    from rotasolve.views.pages.calendar_page import calendar_page

    beds = [known_bed(name, case.scenario) for name in bed or ()]
    crops = [find_crop(name, case.catalogue) for name in crop or ()]
    garden, jobs = case.garden, jobs_of(case.garden, case.plan)
    shown = chosen(jobs, begin, end, beds, crops)
    if ics is not None:
        _write_ics(ics, garden, shown, jobs, may_replace[ics])
    if csv is not None:
        write_and_say(calendar_csv(garden, shown), csv, may_replace[csv])
    progress = _progress(case, scenario, diary, chosen(jobs, beds=beds, crops=crops), begin if this_week else None)
    if json:
        answer_json(calendar_answer(garden, shown, scenario_matches=case.matches, progress=progress))
    else:
        look, every = look_of_terminal(inches=inches), len(shown)
        if begin is None and end is None and not details:
            shown = next_jobs(shown, read_day(today or "today", "--today"))
        way: By = "day" if by == "day" else "week"
        answer_page(calendar_page(garden, shown, look, way, progress, folded=not details, of=every), details)
    warn(case.warnings)
    return exit_codes.FINE


def _span(first: str | None, last: str | None, this_week: bool, today: str | None) -> tuple[date | None, date | None]:
    """Return the first and the last day asked for."""
    if today is not None and (first is not None or last is not None):
        raise typer.BadParameter("give either --today, or --from and --to")
    if this_week:
        if first is not None or last is not None:
            raise typer.BadParameter("give either --this-week, or --from and --to")
        from rotasolve.views.words.weeks import week_of

        monday = week_of(read_day(today or "today", "--today"))
        return monday, monday + timedelta(days=6)
    begin = None if first is None else read_day(first, "--from")
    end = None if last is None else read_day(last, "--to")
    if begin is not None and end is not None and end < begin:
        raise typer.BadParameter(f"{last} lies before {first}", param_hint="--to")
    return begin, end


def _progress(
    case: PlanCase, scenario: str, given: Path | None, jobs: Sequence[Job], before: date | None
) -> Progress | None:
    """Return what the diary, if there is one, says of jobs; those overdue ``before`` a day if one is given."""
    from rotasolve.relations.work.done import Progress, overdue, ticks_of

    read = diary_if_any(case, scenario, given)
    if read is None:
        return None
    ticks = ticks_of(jobs, read.diary)
    return Progress(ticks, () if before is None else overdue(jobs, ticks, read.diary, before))


def _write_ics(file: Path, garden: Garden, shown: Sequence[Job], jobs: Sequence[Job], replace: bool) -> None:
    from rotasolve.files.files import read_text
    from rotasolve.views.exports.calendar_files import calendar_ics

    before = read_text(file, largest=_LARGEST_CALENDAR).encode("utf-8") if file.exists() else None
    try:
        text = calendar_ics(garden, shown, jobs, before).decode("utf-8")
    except FileTrouble as trouble:
        raise FileTrouble(f"{file}: {trouble}") from None
    write_and_say(text, file, replace)
