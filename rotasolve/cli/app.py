"""The command line's entry: it knows the commands and nothing of what they do."""

from __future__ import annotations

import io
import os
from typing import Annotated, Any

import typer

from rotasolve.cli import (
    begin,
    calendar,
    change,
    check,
    clash,
    compare,
    crops,
    diary,
    draw,
    exchange,
    exit_codes,
    history,
    next,
    plan,
    plots,
    referee,
    report,
    resow,
    scenarios,
    season,
    share,
    shopping,
    shortfall,
    show,
    spot,
    sun,
    supply,
    water,
    where,
    yields,
)
from rotasolve.cli.exit_codes import TABLE
from rotasolve.cli.guard import DEBUG_VARIABLE, status_of
from rotasolve.cli.plan_alone import PlanAlone
from rotasolve.cli.terminal import answer, prepare_streams, talk

HELP = f"""Decides what to grow where, when and in what number, over years.

Examples:

\b
  rotasolve plan family-garden          plan a worked example
  rotasolve begin garden.yaml           answer a few questions, get a first scenario
  rotasolve change garden.yaml "wish carrots 20 kg"
  rotasolve check garden.yaml           see whether it can be used
  rotasolve plan garden.yaml -o garden.plan.json

{TABLE}
"""

_WrongUse: Any = typer.BadParameter.__mro__[2]
"""The base of all that typer raises where a command is typed wrongly; it is found, for typer does not hand it out."""

app = typer.Typer(
    name="rotasolve",
    cls=PlanAlone,
    help=HELP,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)
# In the order in which a newcomer needs them.
app.command("begin", help=begin.HELP, short_help="Write a first scenario from a few answers.")(begin.begin)
app.command("check", help=check.HELP, short_help="Say what is wrong with a scenario, or what is in it.")(check.check)
app.command("change", help=change.HELP, short_help="Add or change a bed, a wish or what grew where.")(change.change)
app.command("history", help=history.HELP, short_help="Take over old records from a table.")(history.history)
app.command("plan", help=plan.HELP, short_help="Decide what to grow where, when and how many.")(plan.plan)
app.command("plots", help=plots.HELP, short_help="Plan the gardens of many plots in one go.")(plots.plots)
app.command("share", help=share.HELP, short_help="Sum what many plots order, lend and could swap.")(share.share)
app.command("next", help=next.HELP, short_help="Write the next year's scenario from a plan and its diary.")(
    next.next_year
)
app.command("show", help=show.HELP, short_help="Show a plan that was written to a file.")(show.show)
app.command("report", help=report.HELP, short_help="Write a plan as a page to read and to print.")(report.report)
app.command("calendar", help=calendar.HELP, short_help="Say what to do for a plan, and when.")(calendar.calendar)
app.command(
    "diary",
    help=diary.HELP,
    short_help="Enter what happened, or show what was entered.",
    context_settings={"ignore_unknown_options": True},  # -2 C is no option
)(diary.diary)
app.command("shopping", help=shopping.HELP, short_help="Say what to buy for a plan.")(shopping.shopping)
app.command("draw", help=draw.HELP, short_help="Draw a plan as SVG files.")(draw.draw)
app.command("referee", help=referee.HELP, short_help="Judge a plan by every rule.")(referee.referee)
app.command("where", help=where.HELP, short_help="Say where a crop can go, and why not elsewhere.")(where.where)
app.command("resow", help=resow.HELP, short_help="Say what may still be started in a bed.")(resow.resow)
app.command("yields", help=yields.HELP, short_help="Say what was weighed, and let it count.")(yields.yields)
app.command("clash", help=clash.HELP, short_help="Say which demands cannot all be met.")(clash.clash)
app.command("shortfall", help=shortfall.HELP, short_help="Say what holds missed targets back.")(shortfall.shortfall)
app.command("supply", help=supply.HELP, short_help="Show what a plan supplies over the year.")(supply.supply)
app.command("compare", help=compare.HELP, short_help="Set plans, scenarios or wishes side by side.")(compare.compare)
app.command("exchange", help=exchange.HELP, short_help="Show what more people, or more of a crop, cost.")(
    exchange.exchange
)
app.command("crops", help=crops.HELP, short_help="List the crops, or show one with its sources.")(crops.crops)
app.command("scenarios", help=scenarios.HELP, short_help="List or copy worked examples.")(scenarios.scenarios)
app.command("season", help=season.HELP, short_help="Show frost, climate and when crops may be started.")(season.season)
app.command("water", help=water.HELP, short_help="Say the litres for each bed and week of a plan.")(water.water)
app.command("sun", help=sun.HELP, short_help="Show the hours of sun on every strip, and what takes the rest.")(sun.sun)
app.command("spot", help=spot.HELP, short_help="Rank places and bearings for a new bed by their sun.")(spot.spot)


def say_versions() -> str:
    """Say the versions of rotasolve, Python and OR-Tools without loading OR-Tools."""
    import platform
    from importlib.metadata import PackageNotFoundError, version

    from rotasolve import __version__

    try:
        solver = version("ortools")
    except PackageNotFoundError:
        solver = "missing"
    return f"rotasolve {__version__}, Python {platform.python_version()}, OR-Tools {solver}"


def _show_version(wanted: bool) -> None:
    if wanted:
        answer(say_versions())
        raise typer.Exit


@app.callback()
def common(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Print versions and leave.")
    ] = False,
    debug: Annotated[bool, typer.Option("--debug", help="Show where in the program an error happened.")] = False,
) -> None:
    """Options of all commands."""
    if debug:
        os.environ[DEBUG_VARIABLE] = "1"


def main() -> None:
    """Run the command line."""
    if not prepare_streams():
        talk("Error: there is nowhere to write the answer, for standard output is closed; send it to a file or a pipe")
        raise SystemExit(exit_codes.COULD_NOT_RUN)
    # Guarded once more: what fails outside a command, in an option's callback say, is no finding (status 1) either.
    raise SystemExit(status_of(_run))


def _run() -> int:
    """Run the command that was typed; a wrong use is told here, so that its words are cleaned as all others."""
    try:
        return int(app(prog_name="rotasolve", standalone_mode=False) or 0)
    except _WrongUse as wrong:
        told = io.StringIO()
        wrong.show(told)
        talk(told.getvalue())
        return exit_codes.COULD_NOT_RUN
