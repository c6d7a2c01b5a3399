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
    help_pages,
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
from rotasolve.cli.help_groups import ASK, BEGIN, DRAWINGS, PLAN, READ, RECORDS, SEASON, GroupedCommands, GroupedOptions
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
  rotasolve help                        what there is to read

{TABLE}
"""

_WrongUse: Any = typer.BadParameter.__mro__[2]
"""The base of all that typer raises where a command is typed wrongly; it is found, for typer does not hand it out."""


class Commands(PlanAlone, GroupedCommands):
    """Commands in groups, of which those that take a plan find its scenario."""


app = typer.Typer(
    name="rotasolve",
    cls=Commands,
    help=HELP,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _add(name: str, module: Any, run: Any, group: str, short: str, **settings: Any) -> None:
    """Add a command to its group in the help."""
    add = app.command(
        name, cls=GroupedOptions, help=module.HELP, short_help=short, rich_help_panel=group, context_settings=settings
    )
    add(run)


# In the order in which a newcomer needs them.
_add("begin", begin, begin.begin, BEGIN, "Write a first scenario from a few answers.")
_add("check", check, check.check, BEGIN, "Say what is wrong with a scenario, or what is in it.")
_add("change", change, change.change, BEGIN, "Add or change a bed, a wish or what grew where.")
_add("scenarios", scenarios, scenarios.scenarios, BEGIN, "List or copy worked examples.")
_add("history", history, history.history, BEGIN, "Take over old records from a table.")
_add("plan", plan, plan.plan, PLAN, "Decide what to grow where, when and how many.")
_add("show", show, show.show, PLAN, "Show a year of a plan, or a bed on a map.")
_add("referee", referee, referee.referee, PLAN, "Judge a plan by every rule, also one changed by hand.")
_add("compare", compare, compare.compare, PLAN, "Set plans, scenarios or wishes side by side.")
_add("plots", plots, plots.plots, PLAN, "Plan the gardens of many plots in one go.")
_add("next", next, next.next_year, PLAN, "Write the next year's scenario from a plan and its diary.")
_add("where", where, where.where, ASK, "Say where a crop can go, and why not elsewhere.")
_add("clash", clash, clash.clash, ASK, "Say which demands cannot all be met.")
_add("shortfall", shortfall, shortfall.shortfall, ASK, "Say what holds missed wishes back.")
_add("exchange", exchange, exchange.exchange, ASK, "Show what more people, or more of a crop, cost.")
_add("share", share, share.share, ASK, "Sum what many plots order, lend and could swap.")
_add("supply", supply, supply.supply, ASK, "Show what is eaten fresh and kept over the year.")
_add("season", season, season.season, ASK, "Show frost, climate and when crops may be started.")
_add("crops", crops, crops.crops, ASK, "List the crops, or show one with its sources.")
_add("sun", sun, sun.sun, ASK, "Show the hours of sun on every strip, and what takes the rest.")
_add("spot", spot, spot.spot, ASK, "Rank places and bearings for a new bed by their sun.")
_add("calendar", calendar, calendar.calendar, SEASON, "Say what to do for a plan, and when.")
_add("shopping", shopping, shopping.shopping, SEASON, "Say what to buy for a plan.")
_add("water", water, water.water, SEASON, "Say the litres for each bed and week of a plan.")
_add("resow", resow, resow.resow, SEASON, "Say what may still be started in a bed.")
# -2 C in a diary's line is no option.
_add("diary", diary, diary.diary, RECORDS, "Enter what happened, or show it.", ignore_unknown_options=True)
_add("yields", yields, yields.yields, RECORDS, "Say what was weighed, and let it count.")
_add("report", report, report.report, DRAWINGS, "Write a plan as a page to read and to print.")
_add("draw", draw, draw.draw, DRAWINGS, "Draw a plan as SVG files.")
_add("help", help_pages, help_pages.help_page, READ, "Read about a topic: the file, rules, goals, words.")


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
